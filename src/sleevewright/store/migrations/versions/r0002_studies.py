"""Gauge studies: entries that are only ever added to."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from sleevewright.store.kinds import Integer, Text

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of studies."""
    op.create_table(
        "study",
        sa.Column("study", Text, primary_key=True),
        sa.Column("number", Integer, primary_key=True, autoincrement=False),
        sa.Column("made", Text, nullable=False),
        sa.Column("kind", Text, nullable=False),
        sa.Column("body", Text, nullable=False),
        sa.Column("previous", Text, nullable=False),
        sa.Column("hash", Text, nullable=False),
        sa.CheckConstraint("number >= 1", name="number"),
        sqlite_strict=True,
    )
