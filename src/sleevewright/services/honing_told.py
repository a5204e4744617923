"""Use case: what the two stages that hone were told, handed to the planner.

Passes, readings and sets are told in any order; which came after which is told by the numbers
of their records.  What was honed after the bore was gauged last counts as taken since.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from sleevewright.jobs.model import Entry, Port
from sleevewright.jobs.sets import newest, places_of, reading_cell
from sleevewright.jobs.stagefield import YES
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.hone_passes import honing
from sleevewright.planning.hone_told import FIT, PISTON, HonePass, HoneTold, TallestPort
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.records import is_ported
from sleevewright.services.cut_told import CutTold

FEATURES = {FIT: "parent-bore", PISTON: "finish-bore"}
LEAST_GRIT, MOST_GRIT = 40.0, 1200.0
"""Between these lie the grits that cylinders are honed with. Practice."""
BEFORE = {FIT: "parent", PISTON: "piston"}
"""The stage at which a bore is gauged before it is honed."""


def honed_to_fit(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Hone to fit; nothing where nothing of it was told, or the sleeve is in its way since."""
    if newest(told.folded, "cooled-bore", cylinder=told.cylinder) is not None:
        return None
    return _honed(plan, told, FIT)


def honed_to_piston(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Hone to piston; nothing where nothing of it was told."""
    return _honed(plan, told, PISTON)


def _honed(plan: Plan, told: CutTold, key: str) -> StageAnswers | None:
    found = hone_told(told, key)
    return honing(plan, found) if found.is_told else None


def hone_told(told: CutTold, key: str) -> HoneTold:
    """What was told of honing at one stage."""
    job, feature = told.job, FEATURES[key]
    passes = tuple(_pass(told, key, row) for row in told.rows(f"{key}.pass/"))
    gauged_at = _gauged_at(told, feature)
    read_at = _number(told, (f"{key}.now",))
    roughness = "parent.roughness" if key == FIT else "hone.bored_roughness"
    at = max(gauged_at, read_at)
    since = tuple(one for one in passes if 0 < at < _told_at(told, key, one))
    return HoneTold(
        key,
        casting=job.casting,
        sleeve=job.sleeve,
        passes=passes,
        since=tuple(one for one in since if one.is_whole),
        ungauged=tuple(one.name for one in since if one.strokes and one.taken is None),
        is_stale=_is_stale(told, key),
        now=told.length(f"{key}.now") if read_at > gauged_at else None,
        part_at=_temperature(told, f"{key}.temperature", since=gauged_at),
        gauge_at=_temperature(told, f"{key}.gauge_temperature"),
        gauged=Gauged() if _is_bored_last(told, feature, key) else told.gauged(feature, key),
        as_bored=told.gauged(feature, BEFORE[key]),
        stone=told.length(f"{key}.stone_length"),
        overrun=told.length(f"{key}.overrun"),
        room_below=told.length(f"{key}.room_below"),
        roughness=told.length(roughness),
        rings=told.text("hone.rings") if key == PISTON else "",
        stones_grit=_stones_grit(told.text(f"{key}.stones")),
        port=_tallest(job.ports),
        unchamfered=_unchamfered(told) if key == PISTON and is_ported(job) else (),
    )


def _stones_grit(text: str) -> float | None:
    """The first number in what was told of the stones that can be a grit; a length is none."""
    for found in re.finditer(r"(?<![\d.])(\d+)(?![\d.]|\s*(?:mm|cm|in\b|thou|um|µm|\"))", text):
        if LEAST_GRIT <= float(found.group(1)) <= MOST_GRIT:
            return float(found.group(1))
    return None


def _told_at(told: CutTold, key: str, one: HonePass) -> int:
    """The number of the record that began to tell a pass: a correction moves nothing in time."""
    return _first(told, (f"{key}.pass/{one.name}/{end}" for end in ("strokes", "taken")))


def _first(told: CutTold, cells: Iterable[str]) -> int:
    """The number of the record that first told one of these cells; 0 where none did."""
    histories = (told.folded.history(one, cylinder=told.cylinder) for one in cells)
    return min((one.number for history in histories for one in history), default=0)


def _is_stale(told: CutTold, key: str) -> bool:
    """Whether a second reading was told and no temperature since the first."""
    readings = told.folded.history(f"{key}.now", cylinder=told.cylinder)
    warm = _number(told, (f"{key}.temperature",))
    return len(readings) > 1 and 0 < warm < readings[-2].number


def _pass(told: CutTold, key: str, row: str) -> HonePass:
    """One pass as it was told."""
    cell = f"{key}.pass/{row}"
    count = told.number(f"{cell}/strokes")
    text = told.text(f"{cell}/strokes")
    strokes = None if count is None else Entry(count, text, "measured")
    return HonePass(row, strokes, told.length(f"{cell}/taken"), told.number(f"{cell}/grit"))


def _number(told: CutTold, cells: Iterable[str]) -> int:
    """The number of the newest record that told one of these cells; 0 where none did."""
    values = (told.folded.value(one, cylinder=told.cylinder) for one in cells)
    return max((one.number for one in values if one is not None), default=0)


def _gauged_at(told: CutTold, feature: str) -> int:
    """The number of the record that first told the newest reading of the newest set."""
    state = newest(told.folded, feature, cylinder=told.cylinder)
    if state is None:
        return 0
    name = str(state.record.body["set"])
    cells = (reading_cell(name, *place) for place in places_of(state.record.body))
    return max((_first(told, (one,)) for one in cells), default=0)


def _is_bored_last(told: CutTold, feature: str, key: str) -> bool:
    """Whether the newest set is one from before the hone, as after it was bored once more."""
    state = newest(told.folded, feature, cylinder=told.cylinder)
    return state is not None and state.record.body.get("stage") == BEFORE[key]


def _temperature(told: CutTold, cell: str, *, since: int = 0) -> Entry | None:
    """A temperature as it was told; nothing where the bore was gauged in full after it."""
    value = told.number(cell)
    if value is None or _number(told, (cell,)) < since:
        return None
    return Entry(value, told.text(cell), "measured")


def _tallest(ports: tuple[Port, ...]) -> TallestPort | None:
    """The tallest port of which roof and floor are known."""
    known = [
        TallestPort(one.name, one.floor.value - one.roof.value)
        for one in ports
        if one.roof is not None and one.floor is not None and one.floor.value > one.roof.value
    ]
    return max(known, key=lambda one: one.height, default=None)


def _unchamfered(told: CutTold) -> tuple[str, ...]:
    """Names of the ports whose chamfers were not ticked."""
    return tuple(
        one.name
        for one in told.job.ports
        if told.text(f"port/{one.name.replace('%', '%25').replace('/', '%2F')}/left.chamfer") != YES
    )
