"""Use case: the next boring pass, from the passes that were told and where the bore stands.

A pass says what it was asked and what it took.  Where only a reading stands for it, what it
took is that reading less the one before.  The bore stands where its newest size says, and
passes that began to be told after that size have taken it further: a correction of a pass or of
a reading moves nothing in time.  A pass whose reading between passes exists is in that reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.cutting.pass_doubts import Pass
from sleevewright.core.materials import material
from sleevewright.errors import NotFound
from sleevewright.jobs.gauged import grid_of_set
from sleevewright.jobs.model import Part
from sleevewright.jobs.sets import newest, reading_cell, sets_of, shape_of
from sleevewright.jobs.stagefield import YES
from sleevewright.planning.answers import Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import known_in, ledger_of, with_stage
from sleevewright.planning.bored_out import BORED, bored_out
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.next_cut import PassesTold, next_cut_stage
from sleevewright.planning.proofing import Frame, Gauged, enter_bore
from sleevewright.planning.shop import default_in
from sleevewright.planning.sizes import Feature
from sleevewright.services.cut_told import CutTold

Q = Quantity
AS_BORED = Feature(
    "finish.as_bored", "Bore, as bored", "bored", of="at 20 °C", is_bore=True, has_form=False
)


WALL_HOLDS = ("old", "parent")
"""Stages whose hold asks for enough of the casting's wall."""


@dataclass(frozen=True)
class Stand:
    """Where a bore stands: size, its doubt, in words from what, and when that was told."""

    size: float | None = None
    standard: float = 0.0
    words: str = ""
    number: int = 0  # of the record; passes begun later have taken it further
    row: int = 0  # of the reading between passes that it is; that pass is in it


def parent_stock(plan: Plan, told: CutTold) -> StageAnswers | None:
    """What the parent bore is bored out to, with what the hone is left."""
    is_honed = _is_honed(told, "parent-bore", "honefit")
    return bored_out(plan, told.length("parent.hone_stock"), is_honed=is_honed)


def parent_pass(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The next pass of the parent bore."""
    rows, readings = told.rows("parent.pass/"), _readings(told)
    stand = _parent_stand(plan, told)
    if (not rows and stand.size is None) or _is_honed(told, "parent-bore", "honefit"):
        return None
    if known_in(plan, BORED) is None and (stock := parent_stock(plan, told)) is not None:
        plan = with_stage(plan, stock)
    passes = _passes(told, "parent.pass/", rows, readings)
    again = _gauged_after(told, "parent.pass/", passes, stand)
    ungauged = _ungauged(told, "parent.pass/", rows, passes, stand)
    stand = _moved(told, "parent.pass/", passes, stand)
    return next_cut_stage(plan, PassesTold(
        "parent", "Parent bore", "bore", BORED, stand.size, stand.standard, stand.words,
        passes, _is_iron(told.job.casting), ungauged, _wall_stop(plan, told),
        again, "bore.target_high",
    ))  # fmt: skip


def piston_pass(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The next pass of the bore that is finished to the piston."""
    rows = told.rows("piston.pass/")
    stand = _piston_stand(plan, told)
    is_bored = told.text("piston.bored").strip().lower() == YES
    if (not rows and stand.size is None) or is_bored or _is_honed(told, "finish-bore", "hone"):
        return None
    passes = _passes(told, "piston.pass/", rows, ())
    again = _gauged_after(told, "piston.pass/", passes, stand)
    ungauged = _ungauged(told, "piston.pass/", rows, passes, stand)
    stand = _moved(told, "piston.pass/", passes, stand)
    return next_cut_stage(plan, PassesTold(
        "piston", "Bore to piston", "finish", "finish.bored", stand.size, stand.standard,
        stand.words, passes, is_iron=True, ungauged=ungauged, gauged_after=again,
    ))  # fmt: skip


def _wall_stop(plan: Plan, told: CutTold) -> str:
    """Why nothing more is bored: too thin a wall that nobody has accepted in writing."""
    thin = next((one for one in plan.answers() if one.id == "old.thin"), None)
    if thin is None or thin.judgement is None or thin.judgement.verdict is not Verdict.OUT:
        return ""
    if _is_wall_lifted(told):
        return ""
    return (
        "the wall: the planned bore leaves too little of the casting. Read the wall at more "
        "places, take a smaller sleeve or another casting, or lift the hold in writing; until "
        "then no cut is asked"
    )


def _is_wall_lifted(told: CutTold) -> bool:
    """Whether a hold that asks for the wall was lifted in writing after the wall was read.

    What is accepted at Old sleeve out are islands of old iron; it says nothing of the wall.
    """
    walls = newest(told.folded, "wall-left", cylinder=told.cylinder)
    numbers = [0 if walls is None else walls.record.number]
    numbers += [one.number for one in told.folded.heads("old.wall", cylinder=told.cylinder)]
    return any(
        one.number > max(numbers)
        and one.cylinder in (0, told.cylinder)
        and one.body.get("stage") in WALL_HOLDS
        and one.body.get("person")
        for one in told.folded.lifts
    )


def _gauged_after(
    told: CutTold, start: str, passes: tuple[Pass, ...], stand: Stand
) -> frozenset[str]:
    """Numbers of the passes after which the bore was gauged again, from the records.

    A pass that a reading between passes stands for is gauged again by a later reading.
    """
    found = set()
    for place, one in enumerate(passes):
        cell = told.folded.value(f"{start}{one.number}/got", cylinder=told.cylinder)
        is_read_later = place < len(passes) - 1 or _is_in_full(told)
        if is_read_later if cell is None else cell.number < stand.number:
            found.add(one.number)
    return frozenset(found)


def _is_in_full(told: CutTold) -> bool:
    """Whether the parent bore was gauged in full after the readings between passes."""
    full = newest(told.folded, "parent-bore", cylinder=told.cylinder)
    between = newest(told.folded, "parent-pass", cylinder=told.cylinder)
    if full is None or between is None:
        return False
    return full.record.number > between.record.number


def _is_honed(told: CutTold, feature: str, stage: str) -> bool:
    """Whether the hone has had the bore: then no pass of the bar comes next."""
    if told.rows(f"{stage}.pass/"):
        return True
    return newest(told.folded, feature, cylinder=told.cylinder, stage=stage) is not None


def _is_iron(casting: Part) -> bool:
    """Whether what is bored is iron, which is cut less deep than aluminium."""
    try:
        return material(casting.material or "unknown-aluminium").family == "iron"
    except NotFound:
        return False


def _readings(told: CutTold) -> tuple[float | None, ...]:
    """The sizes read between passes in the newest set, one a row."""
    state = newest(told.folded, "parent-pass", cylinder=told.cylinder)
    if state is None:
        return ()
    grid = grid_of_set(told.folded, state.record)
    first = [next((one for one in row if one is not None), None) for row in grid.readings]
    return tuple(None if one is None else one.value for one in first)


def _before(told: CutTold) -> float | None:
    """The bore before its first pass: the clean-out, where only one set was read since."""
    begun = sets_of(told.folded, "parent-pass", cylinder=told.cylinder)
    clean_out = told.length("old.diameter")
    return None if clean_out is None or len(begun) != 1 else clean_out.value


def _passes(
    told: CutTold, start: str, rows: tuple[str, ...], readings: tuple[float | None, ...]
) -> tuple[Pass, ...]:
    """The passes of which it is known what they were asked and what they took, in order."""
    found, sizes = [], (_before(told) if readings else None, *readings)
    for row in rows:
        asked, got = told.length(f"{start}{row}/asked"), told.length(f"{start}{row}/got")
        taken = None if got is None else got.value
        if taken is None and row.isdecimal():
            taken = _between(sizes, int(row))
        if asked is not None and taken is not None:
            found.append(Pass(row, asked.value, taken))
    return tuple(found)


def _between(readings: tuple[float | None, ...], place: int) -> float | None:
    """What a pass took, from the readings before and after it."""
    if not 1 <= place < len(readings):
        return None
    before, after = readings[place - 1], readings[place]
    return None if before is None or after is None else after - before


def _parent_stand(plan: Plan, told: CutTold) -> Stand:
    """Where the parent bore stands: as gauged, else as it was cleaned out."""
    states = [
        newest(told.folded, one, cylinder=told.cylinder) for one in ("parent-bore", "parent-pass")
    ]
    known = [one.record for one in states if one is not None]
    if known:
        record = max(known, key=lambda one: one.number)  # the plan takes the one begun last
        number = _last_told(told, str(record.body["set"]), shape_of(record.body))
        found = _from_answer(plan, "bore.size", "parent bore as gauged", number)
        if found.size is None and record.body.get("feature") == "parent-pass":
            # Far from its size the plan makes no fit of it; where it stands is known.
            found = _from_pass(plan, told, number)
        if record.body.get("feature") == "parent-pass":
            return replace(found, row=_last_row(told))
        return found
    typed = _from_answer(plan, "bore.size", "parent bore as typed", 0)
    if typed.size is not None:
        cell = told.folded.value("casting.inside_diameter", cylinder=told.cylinder)
        number = 0 if cell is None else cell.number
        return replace(typed, number=number)
    cell = told.folded.value("old.diameter", cylinder=told.cylinder)
    number = 0 if cell is None else cell.number
    return _from_answer(plan, "old.clean_out", "clean-out, as told at Old sleeve out", number)


def _from_pass(plan: Plan, told: CutTold, number: int) -> Stand:
    """Where the last reading between passes says that the bore stands, at 20 degC."""
    gauged = told.gauged("parent-pass")
    if gauged.grid is None:
        return Stand()
    read = [one for row in gauged.grid.readings for one in row if one is not None]
    last = replace(gauged.grid, readings=(tuple(read[-1:]),), stations=(), directions=())
    metal = (told.job.casting, "unknown-aluminium", "casting")
    gauged = replace(gauged, grid=last)
    return _gauged_stand(plan, gauged, metal, Stand(words="as read between passes", number=number))


def _gauged_stand(plan: Plan, gauged: Gauged, metal: tuple[Part, str, str], stand: Stand) -> Stand:
    """A stand from readings, corrected to 20 degC."""
    ledger: Ledger = ledger_of(plan)
    part, fallback, name = metal
    enter_metal(ledger, "bored", part, fallback=fallback, name=name)
    enter_bore(ledger, AS_BORED, gauged, Frame(plan, plan.chosen), need="the bore gauged")
    entry = ledger.entry(AS_BORED.id).answer
    if not isinstance(entry.value, float):
        return Stand()
    standard = 0.0 if entry.doubt is None else entry.doubt.standard
    return replace(stand, size=entry.value, standard=standard)


def _piston_stand(plan: Plan, told: CutTold) -> Stand:
    """Where the sleeve's bore stands: as bored, else as it was gauged when it had cooled."""
    state = newest(told.folded, "finish-bore", cylinder=told.cylinder, stage="piston")
    if state is None:
        other = newest(told.folded, "cooled-bore", cylinder=told.cylinder)
        number = 0
        if other is not None:
            record = other.record
            number = _last_told(told, str(record.body["set"]), shape_of(record.body))
        cold = any(one.id == "cool.corrected" for one in plan.answers())
        name = "cool.corrected" if cold else "cool.bore"  # gauged warm, without its fit's easing
        return _from_answer(plan, name, "sleeve's bore as it cooled", number)
    part = told.job.sleeve if told.job.sleeve.material else Part("grey-iron")
    record = state.record
    number = _last_told(told, str(record.body["set"]), shape_of(record.body))
    stand = Stand(words="as gauged when bored", number=number)
    gauged = told.gauged("finish-bore", "piston")
    return _gauged_stand(plan, gauged, (part, "grey-iron", "sleeve"), stand)


def _from_answer(plan: Plan, identity: str, words: str, number: int) -> Stand:
    """A stand from an answer of the plan; nothing where the plan lacks it."""
    known = next((one for one in plan.answers() if one.id == identity), None)
    if known is None or not isinstance(known.value, float):
        return Stand()
    standard = 0.0 if known.doubt is None else known.doubt.standard
    return Stand(known.value, standard, words, number)


def _last_row(told: CutTold) -> int:
    """The row, from 1, of the last reading between passes; 0 where there is none.

    Rows of one set are the passes; where a second set was begun nobody knows which they are.
    """
    if len(sets_of(told.folded, "parent-pass", cylinder=told.cylinder)) > 1:
        return 0
    readings = _readings(told)
    return max((row for row, one in enumerate(readings, start=1) if one is not None), default=0)


def _last_told(told: CutTold, name: str, shape: tuple[int, int]) -> int:
    """Number of the record that first told the newest reading of a set."""
    return max(
        (
            _first(told, reading_cell(name, row, column))
            for row in range(shape[0])
            for column in range(shape[1])
        ),
        default=0,
    )


def _first(told: CutTold, *cells: str) -> int:
    """Number of the record that first told one of these cells; 0 where none did."""
    numbers = [
        one.number for cell in cells for one in told.folded.history(cell, cylinder=told.cylinder)
    ]
    return min(numbers, default=0)


def _is_since(told: CutTold, start: str, row: str, stand: Stand) -> bool:
    """Whether a pass was begun after the size: not where a reading of it exists."""
    if stand.row and row.isdecimal():
        return int(row) > stand.row
    return _first(told, f"{start}{row}/asked", f"{start}{row}/got") > stand.number


def _ungauged(
    told: CutTold, start: str, rows: tuple[str, ...], passes: tuple[Pass, ...], stand: Stand
) -> tuple[str, ...]:
    """Passes that were asked after the size, of which nobody knows what they took."""
    known = {one.number for one in passes}
    return tuple(
        row
        for row in rows
        if row not in known
        and told.length(f"{start}{row}/asked") is not None
        and _is_since(told, start, row, stand)
    )


def _moved(told: CutTold, start: str, passes: tuple[Pass, ...], stand: Stand) -> Stand:
    """The stand, taken further by passes that were begun after it."""
    if stand.size is None:
        return stand
    gauge = default_in(told.shop.chosen, "pass_reading").value
    size, standard, count = stand.size, stand.standard, 0
    for one in passes:
        if one.taken > 0.0 and _is_since(told, start, one.number, stand):
            size, standard, count = size + one.taken, math.hypot(standard, gauge), count + 1
    if not count:
        return stand
    after = f"{count} pass{'es' if count > 1 else ''} told after it"
    return replace(stand, size=size, standard=standard, words=f"{stand.words}, and {after}")
