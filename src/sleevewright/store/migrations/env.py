"""Run by Alembic: takes the steps on the connection that was handed in, then puts the guards."""

from __future__ import annotations

from alembic import context

from sleevewright.store.guards import put_guards
from sleevewright.store.tables import metadata


def _run() -> None:
    connection = context.config.attributes["connection"]
    context.configure(
        connection=connection, target_metadata=metadata, render_as_batch=True,
        transactional_ddl=True, compare_type=True,
    )  # fmt: skip
    context.run_migrations()
    put_guards(connection)


if hasattr(context, "config"):  # nothing to do where somebody only looks at the module
    _run()
