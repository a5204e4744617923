"""The tables of the store, for SQLAlchemy Core: what the migrations make and nothing else.

``record``, ``seal`` and ``study`` are only ever added to (see :mod:`sleevewright.store.guards`).
Everything that can be reckoned from the records is a projection and has its tables beside
its code.  People, devices, settings, instruments, contacts, quotes and the logs of backups
and drills stand outside of the chain; a customer's name can therefore be forgotten.
"""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, ForeignKey, Index, MetaData, Table, UniqueConstraint

from sleevewright.store.kinds import Flag, Integer, Real, Text

SCHEMA = "0002"
"""The revision that these tables are; the newest of the migrations."""

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)

record = Table(
    "record",
    metadata,
    Column("job", Text, primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
    Column("device", Text, nullable=False),
    Column("device_number", Integer, nullable=False),
    Column("received", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("body", Text, nullable=False),
    Column("previous", Text, nullable=False),
    Column("hash", Text, nullable=False),
    UniqueConstraint("id"),
    UniqueConstraint("job", "device", "device_number"),
    CheckConstraint("number >= 1", name="number"),
    CheckConstraint("device_number >= 1", name="device_number"),
    sqlite_strict=True,
)

seal = Table(
    "seal",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("made", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("job", Text, nullable=False),
    Column("last", Integer, nullable=False),
    Column("head", Text, nullable=False),
    Column("previous", Text, nullable=False),
    Column("hash", Text, nullable=False),
    Index(None, "job", "number"),
    sqlite_strict=True,
)

unsealed = Table(
    "unsealed",
    metadata,
    Column("job", Text, primary_key=True),
    sqlite_strict=True,
)

meta = Table(
    "meta",
    metadata,
    Column("key", Text, primary_key=True),
    Column("value", Text, nullable=False),
    sqlite_strict=True,
)

person = Table(
    "person",
    metadata,
    Column("key", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("pin", Text),
    Column("is_active", Flag, nullable=False),
    Column("since", Text, nullable=False),
    sqlite_strict=True,
)

device = Table(
    "device",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("secret", Text, nullable=False),
    Column("paired", Text, nullable=False),
    Column("last_seen", Text, nullable=False),
    sqlite_strict=True,
)

setting = Table(
    "setting",
    metadata,
    Column("key", Text, primary_key=True),
    Column("value", Text, nullable=False),
    Column("said", Text, nullable=False),
    Column("person", Text, ForeignKey("person.key")),
    sqlite_strict=True,
)

instrument = Table(
    "instrument",
    metadata,
    Column("name", Text, primary_key=True),
    Column("body", Text, nullable=False),
    Column("last_check", Text),
    Column("is_active", Flag, nullable=False),
    sqlite_strict=True,
)

study = Table(
    "study",
    metadata,
    Column("study", Text, primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("made", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("previous", Text, nullable=False),
    Column("hash", Text, nullable=False),
    CheckConstraint("number >= 1", name="number"),
    sqlite_strict=True,
)

contact = Table(
    "contact",
    metadata,
    Column("job", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("address", Text, nullable=False, server_default=""),
    Column("telephone", Text, nullable=False, server_default=""),
    Column("email", Text, nullable=False, server_default=""),
    Column("note", Text, nullable=False, server_default=""),
    sqlite_strict=True,
)

quote = Table(
    "quote",
    metadata,
    Column("id", Text, primary_key=True),
    Column("job", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("made", Text, nullable=False),
    Column("state", Text, nullable=False),
    Index(None, "job"),
    sqlite_strict=True,
)

attachment = Table(
    "attachment",
    metadata,
    Column("sha256", Text, primary_key=True),
    Column("size", Integer, nullable=False),
    Column("type", Text, nullable=False),
    Column("received", Text, nullable=False),
    sqlite_strict=True,
)

backup = Table(
    "backup",
    metadata,
    Column("id", Text, primary_key=True),
    Column("made", Text, nullable=False),
    Column("path", Text, nullable=False),
    Column("size", Integer, nullable=False),
    Column("seconds", Real, nullable=False),
    Column("state", Text, nullable=False),
    Column("text", Text, nullable=False, server_default=""),
    sqlite_strict=True,
)

drill = Table(
    "drill",
    metadata,
    Column("id", Text, primary_key=True),
    Column("made", Text, nullable=False),
    Column("seconds", Real, nullable=False),
    Column("state", Text, nullable=False),
    Column("text", Text, nullable=False, server_default=""),
    sqlite_strict=True,
)
