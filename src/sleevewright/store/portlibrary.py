"""The table of port maps as found, a projection: which cylinders of which engine were mapped.

A row says that there is a map, of how many ports, and how many of them were worked on by hand;
the map itself stays with its job and is read there when it is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Column, Connection, Index, MetaData, Table, delete, insert, select

from sleevewright.jobs.catalog import port_names
from sleevewright.jobs.catalog_targets import TOUCHED
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import facts_of
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.records import JOB, VALUE, Record
from sleevewright.store.kinds import Integer, Text

PORT_LIBRARY_VERSION = 1
MAPPED_BY = ("found.roof", "found.outline")
"""Cells of a port, one of which makes it mapped."""

metadata = MetaData()

port_map = Table(
    "port_map",
    metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("engine", Text, nullable=False),
    Column("engine_key", Text, nullable=False),
    Column("ports", Integer, nullable=False),
    Column("touched", Integer, nullable=False),
    Column("opened", Integer, nullable=False),
    Column("invented", Integer, nullable=False),
    Index("port_map_by_engine", "engine_key", "opened"),
    sqlite_strict=True,
)


@dataclass(frozen=True)
class MappedCylinder:
    """One cylinder of which a map was taken as it came."""

    job: str
    cylinder: int
    engine: str
    engine_key: str
    ports: int
    touched: int
    opened: int
    is_invented: bool


class PortLibraryProjection:
    """Writes which cylinders are mapped as records are kept."""

    name = "port-library"
    version = PORT_LIBRARY_VERSION
    tables = metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Write the rows of a job anew; a record that is no part of a map costs nothing."""
        if not any(_is_of_a_map(one) for one in records):
            return
        connection.execute(delete(port_map).where(port_map.c.job == folded.job))
        rows = [_row(folded, one + 1) for one in range(folded.cylinders)]
        mapped = [row for row in rows if row["ports"]]
        if mapped:
            connection.execute(insert(port_map), mapped)


def _is_of_a_map(record: Record) -> bool:
    """Whether a record may change what a row says."""
    if record.kind != VALUE:
        return record.kind == JOB
    cell = str(record.body["cell"])
    if cell.startswith("port/"):
        return cell.endswith((*MAPPED_BY, "/touched"))
    return cell in ("engine.description", "job.title")


def _row(folded: Folded, cylinder: int) -> dict[str, object]:
    """What is known of one cylinder's map."""
    names = port_names(folded, cylinder=cylinder)
    mapped = [
        name
        for name in names
        if any(folded.text(f"port/{escaped(name)}/{end}", cylinder=cylinder) for end in MAPPED_BY)
    ]
    touched = [
        name
        for name in mapped
        if folded.text(f"port/{escaped(name)}/touched", cylinder=cylinder) == TOUCHED
    ]
    facts = facts_of(folded, cylinder)
    return {
        "job": folded.job,
        "cylinder": cylinder,
        "engine": facts.engine,
        "engine_key": facts.engine_key,
        "ports": len(mapped),
        "touched": len(touched),
        "opened": facts.opened,
        "invented": int(bool(folded.opened.get("invented"))),
    }


def mapped_cylinders(connection: Connection, engine_key: str = "") -> tuple[MappedCylinder, ...]:
    """Every mapped cylinder, or those of one engine, the newest job first."""
    query = select(port_map).order_by(port_map.c.opened.desc(), port_map.c.job, port_map.c.cylinder)
    if engine_key:
        query = query.where(port_map.c.engine_key == engine_key)
    return tuple(
        MappedCylinder(
            row.job, row.cylinder, row.engine, row.engine_key, row.ports, row.touched,
            row.opened, bool(row.invented),
        )
        for row in connection.execute(query)
    )  # fmt: skip
