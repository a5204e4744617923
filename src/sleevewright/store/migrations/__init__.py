"""Steps that bring a database of an earlier release to this one; data of Alembic."""
