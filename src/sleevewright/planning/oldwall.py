"""The wall that the planned bore leaves of the casting: least, where, and whether it stops the job.

From walls that were read round and down the bore, else from the least that was told, else from
the outside with what cores usually shift.  Walls are radial; angles as the set-up counts them.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.allowances import larger
from sleevewright.core.cutting.shiftedwall import chance_of_shifted_wall, shifted_wall
from sleevewright.core.cutting.wallleast import bore_by_wall, wall_after
from sleevewright.core.cutting.walls import least_wall
from sleevewright.core.materials import material
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.fit_presets import family_of
from sleevewright.planning.judges import Judge
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.oldislands import enter_islands
from sleevewright.planning.oldmap import LEAST, LOW, THIN, enter_map
from sleevewright.planning.oldtold import OldTold
from sleevewright.planning.oldways import UNKNOWN, enter_way

Q = Quantity

LIMIT = Line("old.wall_limit", "Wall at least", Q.SIZE, "radial", of="by metal of the casting")
PLANNED = Line("old.bored", "Bore that the wall is reckoned for", Q.SIZE, "diametral",
               of="target, or the clean-out where that is larger")  # fmt: skip
ALLOWS = Line("old.wall_allows", "Largest bore the wall allows", Q.SIZE, "diametral",
              of="on the planned axis, 19 times in 20")  # fmt: skip
AT_IRON = Line("old.wall_at_iron", "Wall where the iron ends", Q.SIZE, "radial",
               of="at its thinnest, 19 times in 20, as the cut leaves the old sleeve")  # fmt: skip
TOLD = Line("old.wall_told", "Least wall, as told", Q.SIZE, "radial", of="in the clean-out",
            is_detail=True)  # fmt: skip
OUTSIDE = Line("old.outside_least", "Casting outside, at its least", Q.SIZE, "diametral",
               is_detail=True)  # fmt: skip
EVEN = Line("old.even_wall", "wall if it were even", Q.SIZE, "radial", is_detail=True)
EVEN_DOUBT = Line("old.even_doubt", "doubt of the even wall", Q.DEVIATION, is_detail=True)
NOTHING = Line("old.nothing", "no shift", Q.DEVIATION, "radial", is_detail=True)
SHIFT = Line("old.core_spread", "Core shift, nobody read it", Q.DEVIATION, "radial",
             of="along each of two axes; common practice", is_detail=True)  # fmt: skip
HALF = Line("old.one_in_two", "as likely less as more", Q.PROBABILITY, is_detail=True)
RARE = Line("old.one_in_twenty", "one in twenty", Q.PROBABILITY, is_detail=True)

SMALLER = (
    "The clean-out is smaller than the bore as found: nothing would have been cut. One of the two "
    "is wrong; a radius told for a diameter looks like this."
)
NEED_WALL = "the wall read round the bore, or the casting's outside"
REMEDY = (
    "stop before the cut: a smaller sleeve, a bore moved in writing, or another casting; where it "
    "is close, read the wall at more places first"
)
GUESSED = (
    "The wall rests on the outside and on what cores usually shift. Read it round the bore at two "
    "depths or more before the cut: core shift comes off one side."
)
NO_WALL = (
    "No wall. The bore is as large as the casting outside: one of the two is wrong. Gauge the "
    "casting across, between fins, and the clean-out again."
)
TOO_THIN = "Stop. The planned bore leaves too little of the casting at its thinnest place."
TOO_CLOSE = "The wall that the planned bore leaves is too close to its limit to go on."
EFFECTIVE = (
    "The casting's outside is a ring that is as stiff as the casting, not its wall: it may be "
    "thinner between fins and at the transfers. What it gives is a guide, and no verdict."
)
NEED_OUTSIDE = (
    "the wall read round the bore, or the casting's own outside: the ring of its stiffness is no "
    "wall"
)


def old_wall(plan: Plan, told: OldTold) -> StageAnswers:
    """How the old sleeve comes out, its islands, and the wall that the planned bore leaves."""
    ledger = ledger_of(plan)
    from_plan(ledger, plan, "old.clean_out", need="clean-out diameter")
    enter_way(ledger, plan, told)
    enter_islands(ledger, plan, told)
    _enter_limit(ledger, told)
    _enter_planned(ledger)
    _check_clean_out(ledger, plan)
    if ledger.has(PLANNED.id):
        _enter_least(ledger, plan, told)
    _enter_rest(ledger)
    _say(ledger)
    return beside(plan, "old", "Old sleeve and wall", ledger.result())


def _enter_least(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter the least wall by the best that was told: a map, a least wall, the outside."""
    if enter_map(ledger, plan, told.wall, judge=chance_judge) or _enter_told(ledger, told):
        return
    _enter_guess(ledger, plan, told)


def _check_clean_out(ledger: Ledger, plan: Plan) -> None:
    """Warn of a clean-out that is smaller than the bore was before anything was cut."""
    known = next((one for one in plan.answers() if one.id == "found.size"), None)
    clean = ledger.value("old.clean_out")
    if known is None or not isinstance(known.value, float) or clean is None:
        return
    if clean < known.value:
        ledger.caution("small-clean-out:old.clean_out", SMALLER, "derived")


def chance_judge(ledger: Ledger) -> Judge:
    """Judge a chance of too thin a wall by what the shop accepts."""
    most = ledger.default("thin_wall_chance").value
    return against_chance(most, 1.0 - most, remedy=REMEDY)


def _enter_limit(ledger: Ledger, told: OldTold) -> None:
    """Enter the least wall that the shop leaves of this metal."""
    family = family_of(material(told.casting.material or UNKNOWN).family)
    name = "least_wall_iron" if family == "iron" else "least_wall_aluminium"
    least = ledger.default(name)
    ledger.fact(LIMIT, Given(least.value, Kind.CHOSEN, least.source, least.stated))


def _enter_planned(ledger: Ledger) -> None:
    """Enter the bore that counts: a clean-out past the target has taken the wall already."""
    known = [one for one in ("bore.target", "old.clean_out") if ledger.has(one)]
    if len(known) == 2:
        ledger.compute(PLANNED, larger, one="bore.target", other="old.clean_out")
    elif known:
        only = ledger.entry(known[0]).answer
        standard = 0.0 if only.doubt is None else only.doubt.standard
        ledger.fact(PLANNED, Given(ledger.value(known[0]), only.kind, "the plan", only.typed,
                                   standard))  # fmt: skip
    else:
        ledger.fact(PLANNED, Given(None, Kind.COMPUTED, need="target of the parent bore"))
        ledger.fact(LEAST, Given(None, Kind.COMPUTED, need="target of the parent bore"))


def _enter_told(ledger: Ledger, told: OldTold) -> bool:
    """Enter what follows from a least wall that was told in the clean-out."""
    if told.wall.least is None or not ledger.has("old.clean_out"):
        return False
    if told.wall.least.value <= 0.0:
        _refuse(ledger, "A wall of nothing is a breakthrough: stop, and say it under Seen.")
        return True
    gauge = ledger.default("wall_gauge").value
    ledger.fact(TOLD, told_size(told.wall.least, doubt=gauge, need="least wall"))
    ledger.compute(EVEN, wall_after, wall=TOLD.id, bore="old.clean_out", planned_bore=PLANNED.id)
    ledger.fact(SHIFT, Given(0.0, Kind.CHOSEN, "derived", "told where it is least"))
    _enter_chances(ledger)
    return True


def _enter_guess(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter what follows from the outside and from what cores usually shift."""
    outside = _outside(ledger, plan, told)
    if outside is None:
        ledger.fact(LEAST, Given(None, Kind.COMPUTED, need=NEED_WALL))
        return
    ledger.fact(OUTSIDE, outside)
    if outside.value is None or outside.value <= ledger.value(PLANNED.id):
        _refuse(ledger, NO_WALL)
        return
    ledger.fact(NOTHING, Given(0.0, Kind.CHOSEN, "derived"))
    ledger.compute(EVEN, least_wall, outside_diameter=OUTSIDE.id, inside_diameter=PLANNED.id,
                   off_centre=NOTHING.id)  # fmt: skip
    shift = ledger.default("core_shift")
    ledger.fact(SHIFT, Given(shift.value, Kind.ASSUMED, shift.source, shift.stated))
    _enter_chances(ledger, is_guide=not _is_told(told))
    ledger.advise(GUESSED)


def _is_told(told: OldTold) -> bool:
    """Whether an outside of the casting was told that is a wall's."""
    grid = told.wall.outside.grid
    read = grid is not None and any(one is not None for row in grid.readings for one in row)
    return read or told.wall.thin_outside is not None


def _enter_chances(ledger: Ledger, *, is_guide: bool = False) -> None:
    """Enter the least wall, likely and 19 times in 20, and the chance that it is too thin.

    Of a guide no chance is told: the verdict needs a wall.
    """
    doubt = ledger.entry(EVEN.id).answer.doubt
    standard = 0.0 if doubt is None else doubt.standard
    ledger.fact(EVEN_DOUBT, Given(standard, Kind.COMPUTED, "derived"))
    ledger.fact(HALF, Given(0.5, Kind.CHOSEN, "derived"))
    ledger.fact(RARE, Given(0.05, Kind.CHOSEN, "practice"))
    known = {"even_wall": EVEN.id, "wall_standard": EVEN_DOUBT.id, "core_spread": SHIFT.id}
    for line, probability in ((LEAST, HALF), (LOW, RARE)):
        ledger.compute(line, shifted_wall, CENTRALLY, **known, probability=probability.id)
    low, high = (shifted_wall(**{key: ledger.value(one) for key, one in known.items()},
                              probability=one) for one in (0.025, 0.975))  # fmt: skip
    if high > low:
        half = (high - low) / (2.0 * STATED_COVERAGE_FACTOR)
        ledger.amend(LEAST.id, doubt=Doubt(half, low, high, 0.95, "linear"))
    if is_guide:
        ledger.fact(THIN, Given(None, Kind.COMPUTED, need=NEED_OUTSIDE))
        return
    how = How(judge=chance_judge(ledger), is_sampled=False)
    ledger.compute(THIN, chance_of_shifted_wall, how, **known, least_wall=LIMIT.id)


def _outside(ledger: Ledger, plan: Plan, told: OldTold) -> Given | None:
    """The least outside: as gauged across, else as told without fins, else the effective one."""
    caliper = ledger.default("depth_micrometer_setting").value
    grid = told.wall.outside.grid
    read = [] if grid is None else [one for row in grid.readings for one in row if one is not None]
    if read:
        return replace(
            told_size(min(read, key=lambda one: one.value), doubt=caliper, need=""),
            kind=Kind.MEASURED,
        )
    if told.wall.thin_outside is not None:
        return told_size(told.wall.thin_outside, doubt=caliper, need="")
    known = next((one for one in plan.answers() if one.id == "casting.outside_diameter"), None)
    if known is None or not isinstance(known.value, float):
        return None
    ledger.advise(EFFECTIVE)
    standard = 0.0 if known.doubt is None else known.doubt.standard
    return Given(known.value, known.kind, known.source or "the plan", known.typed, standard)


def _refuse(ledger: Ledger, text: str) -> None:
    """Say why nothing can be said of the wall; the hold stays open."""
    for line in (LEAST, THIN):
        ledger.fact(line, Given(None, Kind.COMPUTED, need=NEED_WALL))
    ledger.caution("wall:old.least_wall", text, "derived")


def _enter_rest(ledger: Ledger) -> None:
    """Enter what the wall allows, and what is left as the cut leaves the old iron."""
    if not ledger.has(LOW.id):
        return
    ledger.compute(ALLOWS, bore_by_wall, CENTRALLY, planned_bore=PLANNED.id, wall_kept=LOW.id,
                   least_wall=LIMIT.id)  # fmt: skip
    ends, planned = ledger.value("old.liner_outside"), ledger.value(PLANNED.id)
    if ends is not None and ledger.value(LOW.id) > 0.0 and ends <= planned + math.ulp(1.0):
        ledger.compute(AT_IRON, wall_after, CENTRALLY, wall=LOW.id, bore=PLANNED.id,
                       planned_bore="old.liner_outside")  # fmt: skip


def _say(ledger: Ledger) -> None:
    """Say what to do where the wall stops the job."""
    judged = ledger.entry(THIN.id).answer.judgement if ledger.has(THIN.id) else None
    if judged is not None and judged.verdict is not Verdict.GOOD:
        text = TOO_THIN if judged.verdict is Verdict.OUT else TOO_CLOSE
        ledger.caution("thin-wall:old.thin", text, "practice")
