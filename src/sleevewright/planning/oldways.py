"""How an old sleeve comes out of its casting, what does not work, and how hot it lets go.

A cast-in sleeve is keyed outside and can only be bored.  Heat frees a shrunk one, and only in a
casting that grows more than iron; iron in iron grows alike and never comes free by heat.
"""

from __future__ import annotations

from sleevewright.core.fits.running import grip_temperature
from sleevewright.core.fits.webs import neighbour_spare
from sleevewright.core.materials import material
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity, Verdict
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facts import assumed, enter_metal
from sleevewright.planning.fit_presets import family_of
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.oldtold import CAST_IN, PLATED, PRESSED, SHRUNK, OldTold

Q = Quantity
UNKNOWN = "unknown-aluminium"

WAY = Line("old.way", "How it comes out", Q.TEXT)
WAY_NOT = Line("old.way_not", "What does not work here", Q.TEXT)
SHELL = Line("old.shell", "Shell to leave, then collapse", Q.SIZE, "radial",
             of="of the old sleeve; common practice")  # fmt: skip
TIGHT = Line("old.tightness", "Old sleeve's fit", Q.DEVIATION, "diametral", is_detail=True)
OUTSIDE = Line("old.liner_outside", "Iron of the old sleeve ends at", Q.SIZE, "diametral",
               of="without keys")  # fmt: skip
BY_INCH = Line("old.fit_by_inch", "fit by the diameter of an old sleeve", Q.RATIO, is_detail=True)
FREES = Line(
    "old.frees_at",
    "Old sleeve lets go at",
    Q.TEMPERATURE,
    of="casting and old sleeve alike warm; it falls some way above",
    would_change="the fit that its maker states",
)
LIMIT = Line("old.heat_limit", "Casting limit", Q.TEMPERATURE, is_detail=True)
SPARE = Line(
    "old.neighbour",
    "A new sleeve beside it stays caught by",
    Q.TEMPERATURE_DIFFERENCE,
    of="of a neighbour already sleeved; negative: it comes loose too",
)

KEYED_WAY = (
    "Bore it out, all of it: it was cast in and is keyed outside. Where the cut goes through "
    "the keys, islands of iron stay in the wall until the bore is past their tips"
)
KEYED_NOT = "Heat and the press: the keys hold it, and the wall tears before they let go"
SHELL_WAY = (
    "Bore to a thin shell and collapse it inwards, or bore it right through; stop the spindle "
    "before the shell is touched"
)
HEAT_WAY = (
    "Heat the casting, base down, and let it fall out; else bore to a thin shell and collapse it"
)
PRESS_WAY = (
    "Press it out with a plate that fills the bore, where its flange and the block let it go; "
    "else bore to a thin shell and collapse it"
)
PLATED_WAY = "No sleeve to take out: the plating goes with the first cut, by a tool that stands it"
PLATED_NOT = "Heat, the press and a shell: the bore is the casting itself"
IRON_NOT = "Heat: iron in iron grows alike and never comes free by it"
SHRUNK_NOT = "Pushing it cold: it drags iron through the wall"
TOO_HOT_NOT = "Heat: it lets go only above what the casting may see"
NEIGHBOURS = (
    "Neighbours with sleeves of the same fit come free at the same heat: block each from below "
    "before the oven, and gauge them again when cold."
)


def enter_way(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter how the old sleeve comes out, why not otherwise, and how hot it lets go."""
    family = family_of(material(told.casting.material or UNKNOWN).family)
    ledger.fact(OUTSIDE, told_size(told.keyed.liner_outside, doubt=_caliper(ledger),
                                   need="outside of the old sleeve"))  # fmt: skip
    grows = family == "aluminium"
    if told.kind in (SHRUNK, PRESSED) and grows:
        _enter_heat(ledger, plan, told)
    way, way_not = _ways(ledger, told.kind, grows=grows)
    need = "" if way else "how the old sleeve sits: cast in, shrunk in, pressed in or plated"
    for line, words in ((WAY, way), (WAY_NOT, way_not)):
        ledger.fact(line, Given(words or None, Kind.COMPUTED, "practice", need=need))
    if told.kind in (SHRUNK, PRESSED):
        shell = ledger.default("shell")
        ledger.fact(SHELL, Given(shell.value, Kind.ASSUMED, shell.source, shell.stated))


def _caliper(ledger: Ledger) -> float:
    """What one reading across an old sleeve is worth, half-width."""
    return float(ledger.default("depth_micrometer_setting").value)


def _ways(ledger: Ledger, kind: str, *, grows: bool) -> tuple[str, str]:
    """What works and what does not; empty where nobody said how the sleeve sits."""
    if kind == CAST_IN:
        return KEYED_WAY, KEYED_NOT
    if kind == PLATED:
        return PLATED_WAY, PLATED_NOT
    if kind not in (SHRUNK, PRESSED):
        return "", ""
    if not grows:
        return (PRESS_WAY if kind == PRESSED else SHELL_WAY), IRON_NOT
    if _is_too_hot(ledger):
        return SHELL_WAY, f"{TOO_HOT_NOT}. {SHRUNK_NOT}"
    return HEAT_WAY, SHRUNK_NOT


def _is_too_hot(ledger: Ledger) -> bool:
    """Whether the heat that frees it is above the casting's limit, or not clear of it."""
    judged = ledger.entry(FREES.id).answer.judgement if ledger.has(FREES.id) else None
    return judged is not None and judged.verdict is Verdict.OUT


def _enter_heat(ledger: Ledger, plan: Plan, told: OldTold) -> None:
    """Enter the temperature that frees it, held against what the casting may see."""
    enter_metal(ledger, "casting", told.casting, fallback=UNKNOWN, name="casting")
    enter_metal(ledger, "old.sleeve", Part("grey-iron"), fallback="grey-iron", name="old sleeve")
    tight = ledger.default("old_sleeve_fit")
    outside = ledger.value(OUTSIDE.id)
    if told.tightness is not None:
        ledger.fact(TIGHT, told_size(told.tightness, doubt=2.54e-5, need="fit of the old sleeve"))
    elif outside is not None:
        note = f"{tight.stated}, nobody told it"
        ledger.fact(TIGHT, assumed(tight.value * outside, source=tight.source,
                                   standard=tight.doubt * outside, note=note))  # fmt: skip
    else:
        ledger.fact(TIGHT, Given(None, Kind.TYPED, need="outside of the old sleeve"))
    from_plan(ledger, plan, "heat.limit", need="what the casting may see")
    if not ledger.has("heat.limit"):
        limit = ledger.default("part_limit")
        ledger.fact(LIMIT, Given(limit.value, Kind.CHOSEN, limit.source, limit.stated))
    most = ledger.value("heat.limit") or ledger.value(LIMIT.id)
    remedy = "do not heat it out: bore to a thin shell and collapse it"
    ledger.compute(
        FREES,
        grip_temperature,
        How(judge=against_limit(most, "most", remedy=remedy)),
        diameter=OUTSIDE.id,
        interference=TIGHT.id,
        casting_law="casting.law",
        sleeve_law="old.sleeve.law",
    )
    if told.cylinders > 1:
        ledger.advise(NEIGHBOURS)
        from_plan(ledger, plan, "fit.grip", need="fit of the new sleeves")
        judge = against_limit(0.0, "least", remedy="block it from below, or bore to a shell")
        ledger.compute(SPARE, neighbour_spare, How(judge=judge), grip="fit.grip",
                       casting_temperature=FREES.id)  # fmt: skip
