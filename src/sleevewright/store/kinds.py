"""Column types that SQLite's STRICT tables take, with their like on PostgreSQL.

STRICT knows INTEGER, REAL, TEXT and BLOB only and refuses VARCHAR, BIGINT or BOOLEAN.
Text is ordered and compared by its bytes on both.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import BigInteger, Dialect, Double
from sqlalchemy.types import INTEGER, REAL, TEXT, TypeDecorator

Text = TEXT().with_variant(TEXT(collation="C"), "postgresql")
"""Any text; ``TEXT`` on both."""

Integer = BigInteger().with_variant(INTEGER(), "sqlite")
"""A whole number of 64 bits: ``INTEGER`` on SQLite, ``BIGINT`` on PostgreSQL."""

Real: Double[float] = Double().with_variant(REAL(), "sqlite")
"""A double: ``REAL`` on SQLite, ``DOUBLE PRECISION`` on PostgreSQL."""


class _Flag(TypeDecorator[bool]):
    """Yes or no, kept as 1 or 0."""

    impl = BigInteger().with_variant(INTEGER(), "sqlite")
    cache_ok = True

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> Any:
        """As it is kept."""
        del dialect
        return None if value is None else int(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> bool | None:
        """As it is used."""
        del dialect
        return None if value is None else bool(value)


Flag = _Flag()
"""Yes or no: 1 or 0 in a whole number, as STRICT has no such type."""
