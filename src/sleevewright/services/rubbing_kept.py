"""Use case: outlines of a rubbing become cells of a map, each a record that replaces its own."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sleevewright.core.rubbing.evened import evened_outline
from sleevewright.core.rubbing.records import RubbedPort
from sleevewright.core.rubbing.simpler import simpler_outline
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import (
    BY_ARC,
    CAST_MAP,
    DECK,
    FLANGE_TOP,
    FOUND_MAP,
    LEFT_MAP,
    MAPS,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.outlinetext import MOST_CORNERS, outline_text
from sleevewright.jobs.portmaps import told_map
from sleevewright.jobs.records import VALUE
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import LONGEST_WORDS, body_of
from sleevewright.services.jobs import server_draft
from sleevewright.services.rubbing_order import refuse_other_than_told, refuse_wrong_way_round
from sleevewright.services.rubbings import ReadScan

MAPS_OF_STAGE = {
    "found": (FOUND_MAP, CAST_MAP),
    "sleeve": (SUPPLIED_MAP,),
    "ready": (SUPPLIED_MAP, CAST_MAP),
    "ports": (LEFT_MAP,),
}
"""Maps that a rubbing of a stage may become, the usual one first."""

COVERAGE = 2.0
"""Half-width of about 95 % for one standard uncertainty, as the cells ask for it."""


@dataclass(frozen=True)
class Keeping:
    """Where outlines are kept: job, cylinder, map, and what each window is called."""

    job: str
    cylinder: int
    key: str
    names: tuple[str, ...]
    person: str = ""
    sha256: str = ""


def keep_outlines(bench: Bench, read: ReadScan, keeping: Keeping) -> tuple[int, ...]:
    """Write the outlines of a rubbing into a map; returns the numbers of the records.

    Raises
    ------
    InputError
        If the rubbing is refused, windows have no or the same names, or the map holds sizes
        from another datum.
    """
    folded = bench.store.folded(keeping.job)
    _refuse(read, keeping)
    named = zip(keeping.names, read.rubbing.ports, strict=True)
    angles = {name: port.angle for name, port in named}
    if _has_angles(read):
        refuse_other_than_told(angles, read.told)
    else:
        refuse_wrong_way_round(angles, folded, cylinder=keeping.cylinder)
    cells = _cells(read, keeping, folded)
    drafts = []
    for cell, text in cells.items():
        said = {
            "cylinder": keeping.cylinder,
            "cell": cell,
            "text": text,
            "kind": "measured",
            "source": "file",
            "replaces": [one.id for one in folded.heads(cell, cylinder=keeping.cylinder)],
            "note": f"read from the rubbing {keeping.sha256[:12]}".strip(),
        }
        if keeping.person:
            said["person"] = keeping.person
        drafts.append(server_draft(keeping.job, VALUE, body_of(VALUE, said, folded)))
    return tuple(one.number for one in bench.store.append(drafts))


def _refuse(read: ReadScan, keeping: Keeping) -> None:
    """Refuse what must not become a map."""
    if keeping.key not in MAPS or keeping.key == TARGET_MAP:
        allowed = ", ".join(one for one in MAPS if one != TARGET_MAP)
        raise InputError("map", keeping.key, "", allowed, "A target is chosen, not rubbed.")
    if read.rubbing.refused:
        raise InputError(
            "rubbing", read.rubbing.refused[0], "", "a rubbing that nothing speaks against"
        )
    names, expected = keeping.names, read.told.names
    if sorted(names) != sorted(expected):
        raise InputError(
            "names", ", ".join(names), "", f"each of {', '.join(expected)} once",
            "Say of each window which port it is.",
        )  # fmt: skip
    order = [expected.index(name) for name in names]
    start = order.index(0)
    if _has_angles(read):
        return
    if order[start:] + order[:start] != list(range(len(order))):
        raise InputError(
            "names", ", ".join(names), "", "the order of the list, to the right seen from inside",
            "Was the list typed the other way round? Read the sheet again with the right list.",
        )  # fmt: skip


def _has_angles(read: ReadScan) -> bool:
    """Whether a person said of every port where it lies."""
    return bool(read.told.angles) and all(one is not None for one in read.told.angles)


def _cells(read: ReadScan, keeping: Keeping, folded: Folded) -> Mapping[str, str]:
    """Texts of every cell that the rubbing tells."""
    key, ports = keeping.key, read.rubbing.ports
    cells = {
        f"port/{_path(name)}/{key}.outline": kept_text(port, shift)
        for name, port, shift in zip(
            keeping.names, ports, _shifts(read, keeping.names), strict=True
        )
    }
    told = told_map(folded, key, cylinder=keeping.cylinder)
    others = [one.name for one in told.ports if one.name not in keeping.names]
    datum = FLANGE_TOP if key == SUPPLIED_MAP else DECK
    if others and told.datum != datum:
        raise InputError(
            f"ports.{key}.datum", told.datum, "", datum,
            f"A rubbing counts from the upper end; {others[0]} was told from elsewhere. "
            "Rub it too, or tell it from there.",
        )  # fmt: skip
    if key == SUPPLIED_MAP:
        cells[f"ports.{key}.datum"] = datum
    if not others:
        cells[f"ports.{key}.widths"] = BY_ARC
        cells[f"ports.{key}.on"] = f"{read.told.bore * 1e3:.3f} mm"
    for what, own, said in (
        ("roof_doubt", read.doubt.roof, told.roof_doubt),
        ("side_doubt", read.doubt.side, told.side_doubt),
    ):
        # One doubt stands for the whole map: with ports from elsewhere in it, the larger one.
        if not others or said is None or said.value < COVERAGE * own:
            cells[f"ports.{key}.{what}"] = f"{COVERAGE * own * 1e3:.3f} mm"
    return cells


def _path(name: str) -> str:
    """A port's name as a part of a cell."""
    return re.sub("/", "%2F", re.sub("%", "%25", name))


def _shifts(read: ReadScan, names: Sequence[str]) -> list[float]:
    """What is added to each angle so that the first port of the list lies where it was told."""
    ports = read.rubbing.ports
    first = ports[list(names).index(read.told.names[0])]
    by = read.told.zero - first.angle
    turns = [np.round((port.angle + by) / (2.0 * np.pi)) * 2.0 * np.pi for port in ports]
    return [float(by - turn) for turn in turns]


def kept_text(port: RubbedPort, shift: float = 0.0) -> str:
    """The text of an outline: as many corners as a cell takes, its roof where it was read."""
    half = float(np.ptp(port.flat[:, 0]) / np.ptp(port.points[:, 0]))
    points = evened_outline(port.flat, shape=port.shape)
    most = MOST_CORNERS
    while True:
        fewer = simpler_outline(points, most=most)
        text = outline_text([(x / half + shift, depth) for x, depth in fewer.tolist()])
        if len(text) <= LONGEST_WORDS:
            return text
        most -= 10
