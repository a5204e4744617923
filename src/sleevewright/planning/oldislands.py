"""Islands of old iron: at which bore they are gone, how much is left, and what they cost."""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cleanout import next_blank
from sleevewright.core.cutting.islands import (
    gone_at,
    iron_share,
    island_depth,
    island_draws_back,
    islands_arc,
    islands_area,
    islands_share,
)
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.fits.interference import interference
from sleevewright.core.fits.targets import parent_bore_target
from sleevewright.errors import InputError
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facts import assumed
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.oldtold import PLATED, PRESSED, SHRUNK, OldTold

Q = Quantity

KEY_DEPTH = Line("old.key_depth", "Keys stand out", Q.DEVIATION, "radial", is_detail=True)
OFF = Line("old.off_liner", "Cut off the old sleeve", Q.DEVIATION, "radial", is_detail=True,
           of="as the set-up left it, else what centring leaves")  # fmt: skip
GONE = Line(
    "old.gone_at",
    "Last island gone at",
    Q.SIZE,
    "diametral",
    of="tips of the keys, and the offset of the cut twice",
    would_change="gauge the old sleeve over its keys where it shows",
)
PAST = Line(
    "old.past_keys",
    "Target goes past the keys by",
    Q.DEVIATION,
    "diametral",
    of="negative: islands stay at the target",
)
KEYS = Line("old.keys", "Keys round it", Q.RATIO, is_detail=True)
KEY_WIDTH = Line("old.key_width", "Width of a key", Q.SIZE, is_detail=True)
SHARE_AT = Line("old.iron_share", "Wall that is still iron at the target", Q.PROBABILITY,
                of="round a depth where keys are")  # fmt: skip
TOLD = Line("old.islands", "Islands as told", Q.RECORD, is_detail=True)
AREA = Line("old.islands_area", "area of the islands, m2", Q.RATIO, is_detail=True)
ARC = Line("old.islands_arc", "Way round with an island", Q.ANGLE, of="at whatever depth")
SHARE = Line("old.islands_share", "Fit that lies on islands", Q.PROBABILITY,
             of="of the fit's surface")  # fmt: skip
RISE = Line("old.running_rise", "casting running, above 20 °C", Q.TEMPERATURE_DIFFERENCE,
            is_detail=True)  # fmt: skip
BACK = Line("old.island_back", "An island draws back hot by", Q.DEVIATION, "radial",
            of="where it is deepest; the fit loses it there, running")  # fmt: skip
LEFT = Line("old.island_deep", "Iron behind an island's face", Q.DEVIATION, "radial",
            is_detail=True, of="what the keys leave beyond the bore")  # fmt: skip
AGAINST = (
    "Islands were told, though by the keys as told none can be left at this bore: measure the old "
    "sleeve over its keys, and the offset of the cut, again. The islands are what counts."
)
STEP = Line("old.blank_step", "Step of sleeves' outsides", Q.DEVIATION, "diametral",
            is_detail=True)  # fmt: skip
BLANK = Line("old.next_blank", "Next outside that is had", Q.SIZE, "diametral",
             of="by the shop's step from the sleeve in hand")  # fmt: skip
BLANK_FIT = Line("old.next_fit", "Fit that it gives in the clean-out", Q.DEVIATION, "diametral",
                 of="if nothing more is bored")  # fmt: skip
BLANK_BORE = Line("old.next_bore", "Bore for it", Q.SIZE, "diametral",
                  of="for the fit that was chosen")  # fmt: skip

COST = (
    "An island is harder than the wall: a light cut, a sharp tool, and a reading beside each "
    "one, because the bar springs off it. It grows less than the casting, and a key that was cut "
    "loose falls out and leaves a hole."
)
STAY = (
    "An island may stay where it is sound all round, far from the ledge, a port and the ends, "
    "and its share is small; say so in writing. Else bore past it, or take the next sleeve."
)


def enter_islands(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter the bore that is past the keys, the islands that were told, the next sleeve."""
    if told.kind != PLATED:
        _enter_gone(ledger, plan, told)
    _enter_told(ledger, plan, told)
    _enter_next(ledger, plan)


def _enter_gone(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter at which bore the last island is gone, and how far the target is past it."""
    keyed = told.keyed
    caliper = ledger.default("depth_micrometer_setting").value
    if keyed.key_depth is None and told.kind in (SHRUNK, PRESSED):
        ledger.fact(KEY_DEPTH, assumed(0.0, source="practice", note="such a sleeve has no keys"))
    else:
        need = "how far the keys stand out"
        ledger.fact(KEY_DEPTH, told_size(keyed.key_depth, doubt=2.0 * caliper, need=need))
    _enter_off(ledger, plan)
    ledger.compute(GONE, gone_at, liner_outside="old.liner_outside", key_depth=KEY_DEPTH.id,
                   off_centre=OFF.id)  # fmt: skip
    from_plan(ledger, plan, "bore.target", need="target of the parent bore")
    remedy = "bore to where the last island is gone and take the next sleeve, or accept in writing"
    judge = None if told.is_clean else against_limit(0.0, "least", remedy=remedy)
    ledger.compute(PAST, rest_of, How(judge=judge), whole="bore.target", part=GONE.id)
    _refuse_small(ledger)
    if keyed.keys is None or keyed.key_width is None:
        return
    ledger.fact(KEYS, Given(keyed.keys, Kind.TYPED, "the job"))
    ledger.fact(KEY_WIDTH, Given(keyed.key_width.value, Kind.MEASURED, "the job"))
    try:
        ledger.compute(SHARE_AT, iron_share, CENTRALLY, bore="bore.target",
                       liner_outside="old.liner_outside", key_depth=KEY_DEPTH.id, key_count=KEYS.id,
                       key_width=KEY_WIDTH.id, off_centre=OFF.id)  # fmt: skip
    except InputError as refused:
        ledger.caution("keys:old.iron_share", f"Share of iron not reckoned. {refused}", "derived")


def _enter_off(ledger: Ledger, plan: Plan) -> None:
    """Enter how far the cut lies off the old sleeve: as swept, else what a centring leaves."""
    known = next((one for one in plan.answers() if one.id == "setup.offset"), None)
    usual = ledger.default("recentring")
    if known is not None and isinstance(known.value, float):
        standard = 0.0 if known.doubt is None else known.doubt.standard
        ledger.fact(OFF, Given(known.value, known.kind, "the plan", standard=standard))
        return
    note = "nobody swept it: what centring leaves"
    ledger.fact(OFF, assumed(usual.value, source=usual.source, note=note))


def _refuse_small(ledger: Ledger) -> None:
    """Warn where the old iron ends within the bore: then it was not the old sleeve's outside."""
    outside, clean = ledger.value("old.liner_outside"), ledger.value("old.clean_out")
    if outside is not None and clean is not None and clean < outside:
        text = (
            "The clean-out is smaller than the old sleeve outside: its iron cannot be gone yet. "
            "One of the two is wrong, or a shell still stands."
        )
        ledger.caution("small-clean-out:old.clean_out", text, "derived")


def _enter_told(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter the islands that were told, the share of the fit on them, and what they cost."""
    if told.problem:
        ledger.caution("islands:old.islands", f"Islands not counted. {told.problem}", "derived")
        return
    if told.half_told:
        names = ", ".join(told.half_told)
        ledger.caution("islands:old.islands", f"Not counted, an edge is missing: island {names}.")
    if not told.islands:
        return
    ledger.fact(TOLD, Given(told.islands, Kind.MEASURED, "the job"))
    bore = "old.clean_out" if ledger.has("old.clean_out") else "bore.target"
    from_plan(ledger, plan, "sleeve.length", need="length of the fit")
    ledger.compute(AREA, islands_area, CENTRALLY, islands=TOLD.id, bore=bore)
    ledger.compute(ARC, islands_arc, CENTRALLY, islands=TOLD.id)
    most = ledger.default("island_share_most").value
    remedy = "bore the islands away, or accept them in writing"
    judge = against_limit(most, "most", remedy=remedy)
    ledger.compute(SHARE, islands_share, How(judge=judge, is_sampled=False), islands=TOLD.id,
                   bore=bore, length="sleeve.length")  # fmt: skip
    ledger.advise(COST)
    ledger.advise(STAY)
    if ledger.has(KEY_DEPTH.id):
        _enter_left(ledger, bore)
        _enter_back(ledger, plan)


def _enter_left(ledger: Ledger, bore: str) -> None:
    """Enter how much iron is behind an island; a whole key where the keys leave none, or unsaid."""
    key = ledger.value(KEY_DEPTH.id)
    whole = assumed(key, source="practice", note="a whole key")
    if not (ledger.has(GONE.id) and ledger.has(bore)):
        ledger.fact(LEFT, whole)
        return
    ledger.compute(LEFT, island_depth, CENTRALLY, key_depth=KEY_DEPTH.id, gone=GONE.id, bore=bore)
    if float(ledger.value(LEFT.id)) <= 0.0:
        ledger.advise(AGAINST)
        ledger.fact(LEFT, whole)


def _enter_back(ledger: Ledger, plan: Plan) -> None:
    """Enter how far an island's face falls behind the wall in the running engine."""
    for identity, need in (
        ("running.running_casting", "how hot the casting runs"),
        ("casting.expansion", "metal of the casting"),
        ("sleeve.expansion", "metal of the sleeve"),
    ):
        from_plan(ledger, plan, identity, need=need)
    hot = ledger.value("running.running_casting")
    rise = None if hot is None else hot - REFERENCE_TEMPERATURE
    ledger.fact(RISE, Given(rise, Kind.COMPUTED, "the plan", need="how hot the casting runs"))
    ledger.compute(BACK, island_draws_back, CENTRALLY, key_depth=LEFT.id,
                   casting_expansion="casting.expansion", iron_expansion="sleeve.expansion",
                   warmed_by=RISE.id)  # fmt: skip


def _enter_next(ledger: Ledger, plan: Plan) -> None:
    """Enter the next outside that is had, where the sleeve in hand does not serve."""
    from_plan(ledger, plan, "sleeve.od", need="outside of the sleeve in hand")
    from_plan(ledger, plan, "fit.wanted", need="fit that is wanted")
    if not (ledger.has("sleeve.od") and ledger.has("fit.wanted")):
        return
    clean = "old.clean_out" if ledger.has("old.clean_out") else GONE.id
    if not ledger.has(clean) or _serves(ledger, clean):
        return
    step = ledger.default("blank_step")
    ledger.fact(STEP, Given(step.value, Kind.CHOSEN, step.source, step.stated))
    ledger.compute(BLANK, next_blank, CENTRALLY, bore=clean, interference="fit.wanted",
                   outside_diameter="sleeve.od", step=STEP.id)  # fmt: skip
    ledger.compute(BLANK_FIT, interference, outside_diameter=BLANK.id, bore=clean)
    ledger.compute(BLANK_BORE, parent_bore_target, CENTRALLY, outside_diameter=BLANK.id,
                   interference="fit.wanted")  # fmt: skip


def _serves(ledger: Ledger, clean: str) -> bool:
    """Whether the sleeve in hand still gives the fit that was chosen."""
    left = float(ledger.value("sleeve.od")) - float(ledger.value(clean))
    return left >= float(ledger.value("fit.wanted")) - math.ulp(1.0)
