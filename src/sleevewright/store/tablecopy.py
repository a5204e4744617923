"""The tables of a database as lines of JSON, for a database that no file can be copied of.

One file for each table that the migrations make; tables that are reckoned from the records
are left out and reckoned anew.  What is read back goes into tables of the same revision.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, func, inspect, select

from sleevewright.store.errors import StoreDamaged
from sleevewright.store.queries import in_lots
from sleevewright.store.tables import metadata
from sleevewright.store.wholefile import write_whole

FOLDER = "tables"


def copy_tables(connection: Connection, data: Path) -> None:
    """Write every table into ``data``, as one moment has them."""
    (data / FOLDER).mkdir(parents=True, exist_ok=True)
    for table in metadata.sorted_tables:
        write_whole(data / FOLDER / f"{table.name}.jsonl", _lines(connection, table))


def fill_tables(connection: Connection, data: Path) -> None:
    """Read every table back into an empty database of the same revision.

    A table that a later release added is not there yet and has nothing to be read.

    Raises
    ------
    StoreDamaged
        If there is something in the database already, or a line cannot be read.
    """
    there = inspect(connection).get_table_names()
    for table in (one for one in metadata.sorted_tables if one.name in there):
        place = data / FOLDER / f"{table.name}.jsonl"
        if connection.execute(select(func.count()).select_from(table)).scalar():
            raise StoreDamaged(f"table {table.name} is not empty, so nothing is restored into it")
        for lot in in_lots(_rows(place, table)):
            connection.execute(table.insert(), lot)


def _lines(connection: Connection, table: Table) -> Iterator[bytes]:
    query = select(table).order_by(*table.primary_key.columns)
    with connection.execution_options(yield_per=1000).execute(query) as rows:
        for row in rows:
            text = json.dumps(row._asdict(), ensure_ascii=False, separators=(",", ":"))
            yield f"{text}\n".encode()


def _rows(place: Path, table: Table) -> Iterator[dict[str, Any]]:
    columns = {column.name for column in table.columns}
    with place.open("rb") as file:
        for number, line in enumerate(file, start=1):
            try:
                row = json.loads(line)
            except ValueError as error:
                raise StoreDamaged(f"line {number} of {place.name} cannot be read") from error
            if set(row) != columns:
                raise StoreDamaged(f"line {number} of {place.name} has other columns")
            yield row
