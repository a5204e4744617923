"""A ring's gap left hot where nothing of the job is known: the relation of stage Rings.

Warmth, metals and close-up stand as what is usual, each with its doubt, so that the verdict
is that of the stage where the job tells no better.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.engine.ring_gap import hot_ring_gap
from sleevewright.core.engine.warmclearance import grown, sleeved_bore_growth
from sleevewright.core.engine.warmup import share_of_rise
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, mean_expansion
from sleevewright.core.materials import default
from sleevewright.core.metals import Default, Material
from sleevewright.planning.answers import Answer, Kind, Quantity
from sleevewright.planning.beside import SAMPLES
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, enter_default
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.shop import DEFAULT_SEED

Q = Quantity
REMEDY = "file it: ends that butt break ring and piston"
PARTS = ("sleeve", "casting")
RING = {
    "ring_growth": ("ring grows by", Q.EXPANSION),
    "ring_over_sleeve": ("ring over the sleeve", Q.TEMPERATURE_DIFFERENCE),
    "skirt_wall_share": ("wall about it, of the sleeve's warmth", Q.RATIO),
    "close_up_share": ("close-up of the bore, of the fit", Q.RATIO),
}
"""What is assumed of any ring, by the names of the defaults."""


@dataclass(frozen=True)
class HotRing:
    """A ring in a bore, cold; both metals and the cooling."""

    bore: float
    gap: float
    sleeve: Material
    casting: Material
    cooling: str

    def assumed(self) -> tuple[tuple[str, Default], ...]:
        """Words and default of everything that stands for what was not told."""
        warm = ((f"{one}, running", default(f"running_{one}_{self.cooling}")) for one in PARTS)
        fit = ("fit, by the inch", default(f"wanted_{self.family}_{self.cooling}"))
        return (*warm, fit, *((words, default(name)) for name, (words, _) in RING.items()))

    @property
    def family(self) -> str:
        """Aluminium or iron, as the fits that are usual are told apart."""
        return "aluminium" if self.casting.family == "aluminium" else "iron"


def gap_left_hot(ring: HotRing) -> Answer:
    """The gap that is left hot with its doubt, judged against the least."""
    ledger = Ledger(count=SAMPLES, seed=DEFAULT_SEED)
    for name, (words, quantity) in RING.items():
        enter_default(ledger, Line(name, words, quantity), None, name)
    _told(ledger, "start", REFERENCE_TEMPERATURE, Q.TEMPERATURE)
    for part in PARTS:
        _enter_warm(ledger, ring, part)
    _enter_growth(ledger, ring)
    _told(ledger, "bore", ring.bore, Q.SIZE)
    feeler = default("gap_feeler").value / STATED_COVERAGE_FACTOR
    ledger.fact(Line("gap", "gap", Q.DEVIATION), Given(ring.gap, Kind.TYPED, standard=feeler))
    line = Line("ring", "ring, running", Q.TEMPERATURE)
    ledger.compute(line, sum_of, wanted="running_sleeve", allowance="ring_over_sleeve")
    judge = against_limit(default("ring_hot_least").value, "least", remedy=REMEDY)
    hot = ledger.compute(
        Line("hot", "gap left hot", Q.DEVIATION), hot_ring_gap, How(judge=judge),
        gap="gap", bore="bore", bore_strain="strain", ring_growth="ring_growth",
        ring_temperature="ring",
    )  # fmt: skip
    return hot.answer


def _told(ledger: Ledger, name: str, value: float, quantity: Quantity) -> None:
    """Enter a figure that is not in doubt here."""
    ledger.fact(Line(name, name, quantity), Given(value, Kind.TYPED))


def _enter_warm(ledger: Ledger, ring: HotRing, part: str) -> None:
    """Enter the warmth of a part about the ring, and how its metal grows to there."""
    warm = Line(f"running_{part}", part, Q.TEMPERATURE)
    enter_default(ledger, warm, None, f"running_{part}_{ring.cooling}")
    over = Line(f"{part}_over", part, Q.TEMPERATURE_DIFFERENCE)
    ledger.compute(over, rest_of, whole=warm.id, part="start")
    rise = Line(f"{part}_rise", part, Q.TEMPERATURE_DIFFERENCE)
    ledger.compute(rise, share_of_rise, rise=f"{part}_over", share="skirt_wall_share")
    metal = ring.sleeve if part == "sleeve" else ring.casting
    ledger.fact(Line(f"{part}_law", part, Q.RECORD), Given(metal.expansion, Kind.ASSUMED))
    at = Line(f"{part}_at", part, Q.TEMPERATURE)
    ledger.compute(at, sum_of, wanted="start", allowance=rise.id)
    mean = Line(f"{part}_mean", part, Q.EXPANSION)
    ledger.compute(mean, mean_expansion, law=f"{part}_law", temperature=at.id)


def _enter_growth(ledger: Ledger, ring: HotRing) -> None:
    """Enter how the bore of a sleeve in its casting has grown when warm."""
    fit, share = default(f"wanted_{ring.family}_{ring.cooling}"), default("close_up_share")
    closed = Given(fit.value * share.value, Kind.ASSUMED, standard=fit.value * share.doubt)
    ledger.fact(Line("closed", "close-up by the diameter", Q.RATIO), closed)
    ledger.compute(
        Line("growth", "growth of the bore", Q.EXPANSION),
        sleeved_bore_growth,
        sleeve_expansion="sleeve_mean",
        casting_expansion="casting_mean",
        sleeve_rise="sleeve_rise",
        casting_rise="casting_rise",
        share="close_up_share",
        closed="closed",
    )
    strain = Line("strain", "growth of the bore by the diameter", Q.RATIO)
    ledger.compute(strain, grown, growth="growth", rise="sleeve_rise")
