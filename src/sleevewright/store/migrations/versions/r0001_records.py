"""The first tables: the two chains, and what stands outside of them."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from sleevewright.store.kinds import Flag, Integer, Real, Text

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    _chains()
    _facts()
    _people()
    _shop()
    _papers()


def _chains() -> None:
    """The chain of each job and that of the seals."""
    op.create_table(
        "record",
        sa.Column("job", Text, primary_key=True),
        sa.Column("number", Integer, primary_key=True, autoincrement=False),
        sa.Column("id", Text, nullable=False),
        sa.Column("device", Text, nullable=False),
        sa.Column("device_number", Integer, nullable=False),
        sa.Column("received", Text, nullable=False),
        sa.Column("kind", Text, nullable=False),
        sa.Column("version", Integer, nullable=False),
        sa.Column("body", Text, nullable=False),
        sa.Column("previous", Text, nullable=False),
        sa.Column("hash", Text, nullable=False),
        sa.UniqueConstraint("id", name="uq_record_id"),
        sa.UniqueConstraint(
            "job", "device", "device_number", name="uq_record_job_device_device_number"
        ),
        sa.CheckConstraint("number >= 1", name="number"),
        sa.CheckConstraint("device_number >= 1", name="device_number"),
        sqlite_strict=True,
    )
    op.create_table(
        "seal",
        sa.Column("number", Integer, primary_key=True, autoincrement=False),
        sa.Column("made", Text, nullable=False),
        sa.Column("reason", Text, nullable=False),
        sa.Column("job", Text, nullable=False),
        sa.Column("last", Integer, nullable=False),
        sa.Column("head", Text, nullable=False),
        sa.Column("previous", Text, nullable=False),
        sa.Column("hash", Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("ix_seal_job_number", "seal", ["job", "number"])


def _facts() -> None:
    """What no seal covers yet, and facts about the store."""
    op.create_table(
        "unsealed",
        sa.Column("job", Text, primary_key=True),
        sqlite_strict=True,
    )
    op.create_table(
        "meta",
        sa.Column("key", Text, primary_key=True),
        sa.Column("value", Text, nullable=False),
        sqlite_strict=True,
    )


def _people() -> None:
    """Who works here and on which devices."""
    op.create_table(
        "person",
        sa.Column("key", Text, primary_key=True),
        sa.Column("name", Text, nullable=False),
        sa.Column("pin", Text),
        sa.Column("is_active", Flag, nullable=False),
        sa.Column("since", Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "device",
        sa.Column("id", Text, primary_key=True),
        sa.Column("name", Text, nullable=False),
        sa.Column("secret", Text, nullable=False),
        sa.Column("paired", Text, nullable=False),
        sa.Column("last_seen", Text, nullable=False),
        sqlite_strict=True,
    )


def _shop() -> None:
    """Settings, instruments, and whom the jobs belong to."""
    op.create_table(
        "setting",
        sa.Column("key", Text, primary_key=True),
        sa.Column("value", Text, nullable=False),
        sa.Column("said", Text, nullable=False),
        sa.Column("person", Text, sa.ForeignKey("person.key", name="fk_setting_person")),
        sqlite_strict=True,
    )
    op.create_table(
        "instrument",
        sa.Column("name", Text, primary_key=True),
        sa.Column("body", Text, nullable=False),
        sa.Column("last_check", Text),
        sa.Column("is_active", Flag, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "contact",
        sa.Column("job", Text, primary_key=True),
        sa.Column("name", Text, nullable=False),
        sa.Column("address", Text, nullable=False, server_default=""),
        sa.Column("telephone", Text, nullable=False, server_default=""),
        sa.Column("email", Text, nullable=False, server_default=""),
        sa.Column("note", Text, nullable=False, server_default=""),
        sqlite_strict=True,
    )


def _papers() -> None:
    """Quotes, attached files, and what was done for the keeping."""
    op.create_table(
        "quote",
        sa.Column("id", Text, primary_key=True),
        sa.Column("job", Text, nullable=False),
        sa.Column("body", Text, nullable=False),
        sa.Column("made", Text, nullable=False),
        sa.Column("state", Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_index("ix_quote_job", "quote", ["job"])
    op.create_table(
        "attachment",
        sa.Column("sha256", Text, primary_key=True),
        sa.Column("size", Integer, nullable=False),
        sa.Column("type", Text, nullable=False),
        sa.Column("received", Text, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "backup",
        sa.Column("id", Text, primary_key=True),
        sa.Column("made", Text, nullable=False),
        sa.Column("path", Text, nullable=False),
        sa.Column("size", Integer, nullable=False),
        sa.Column("seconds", Real, nullable=False),
        sa.Column("state", Text, nullable=False),
        sa.Column("text", Text, nullable=False, server_default=""),
        sqlite_strict=True,
    )
    op.create_table(
        "drill",
        sa.Column("id", Text, primary_key=True),
        sa.Column("made", Text, nullable=False),
        sa.Column("seconds", Real, nullable=False),
        sa.Column("state", Text, nullable=False),
        sa.Column("text", Text, nullable=False, server_default=""),
        sqlite_strict=True,
    )
