"""The maps of the ports as they were told: sizes and outlines, port by port."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.catalog import port_names
from sleevewright.jobs.catalog_maps import (
    BY_CHORD,
    CLOCKWISE,
    DECK,
    INSIDE,
    TRANSFER,
    kind_of_name,
)
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO
from sleevewright.jobs.model import Entry


@dataclass(frozen=True)
class ToldPort:
    """One port of one map, as far as it was told; lengths and angle in SI."""

    name: str
    roof: Entry | None = None
    floor: Entry | None = None
    width: Entry | None = None  # at the roof: chord or arc, as the map says
    bottom: Entry | None = None  # at the floor
    radius: Entry | None = None
    arch: Entry | None = None
    angle: Entry | None = None
    outline: str = ""
    kind: str = TRANSFER  # one of PORT_KINDS
    group: str = ""  # the bridged port that it is a part of
    lowered: float = 0.0  # how much deeper its outline lies than it is told, from another deck

    @property
    def is_told(self) -> bool:
        """Whether anything was told of it."""
        return bool(self.outline) or any(
            one is not None
            for one in (self.roof, self.floor, self.width, self.bottom, self.radius, self.angle)
        )


@dataclass(frozen=True)
class ToldMap:
    """One map: its ports and how they were measured."""

    key: str
    ports: tuple[ToldPort, ...] = ()
    on: Entry | None = None  # diameter of the measured wall
    widths: str = BY_CHORD
    round: str = CLOCKWISE
    is_round_told: bool = False  # whether somebody said which way the angles count
    view: str = INSIDE
    datum: str = DECK
    roof_doubt: Entry | None = None  # half-width of about 95 %
    side_doubt: Entry | None = None

    def port(self, name: str) -> ToldPort | None:
        """The port of this name; nothing where the map was told nothing of it."""
        return next((port for port in self.ports if port.name == name), None)


SIZES = ("roof", "floor", "width", "bottom", "radius", "arch", "angle")


def told_map(folded: Folded, key: str, *, cylinder: int = 1) -> ToldMap:
    """One map of a cylinder; ports of which it was told nothing are not in it.

    Parameters
    ----------
    folded : Folded
        The records of the job. [record]
    key : str
        One of ``MAPS``: ``found``, ``target``, ``supplied``, ``cast``, ``left``.
    cylinder : int
        Which cylinder. [1]
    """
    return folded.once(("map", key, cylinder), lambda: _told_map(folded, key, cylinder))


def _told_map(folded: Folded, key: str, cylinder: int) -> ToldMap:
    """The same, read from the cells."""
    ports = []
    for name in port_names(folded, cylinder=cylinder):
        own = f"port/{name.replace('%', '%25').replace('/', '%2F')}"
        sizes = {size: entry_of(folded, f"{own}/{key}.{size}", cylinder) for size in SIZES}
        port = ToldPort(
            name,
            outline=folded.text(f"{own}/{key}.outline", cylinder=cylinder),
            kind=folded.text(f"{own}/kind", cylinder=cylinder) or kind_of_name(name),
            group=folded.text(f"{own}/group", cylinder=cylinder),
            lowered=0.0,
            **sizes,
        )
        if port.is_told:
            ports.append(port)
    words = {
        what: folded.text(f"ports.{key}.{what}", cylinder=cylinder)
        for what in ("widths", "round", "view", "datum")
    }
    return ToldMap(
        key,
        tuple(ports),
        on=entry_of(folded, f"ports.{key}.on", cylinder),
        roof_doubt=entry_of(folded, f"ports.{key}.roof_doubt", cylinder),
        side_doubt=entry_of(folded, f"ports.{key}.side_doubt", cylinder),
        is_round_told=bool(words["round"]),
        **{what: said for what, said in words.items() if said},
    )


def entry_of(folded: Folded, cell: str, cylinder: int) -> Entry | None:
    """A length or an angle of a cell in SI; nothing where none stands."""
    told = folded.value(cell, cylinder=cylinder)
    if told is None:
        return None
    nm, si = told.body.get("nm"), told.body.get("si")
    if isinstance(nm, int):
        return Entry(nm * NANO, told.text, told.kind)
    return Entry(float(si), told.text, told.kind) if isinstance(si, int | float) else None
