"""What a boring cut meets: windows of ports, and the step from the old iron to aluminium.

The figures are the most that bar and holder can spring out by their own give; the words say
what is seen and heard, and what to do.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.allowances import sum_of
from sleevewright.core.cutting.cutting_tables import CUT_METALS, bar_metal, force_law
from sleevewright.core.cutting.deflection import bar_frequency
from sleevewright.core.cutting.force import CutEdge, edge_specific_force, radial_force
from sleevewright.core.cutting.interrupted import (
    MostOpen,
    force_ratio,
    mark_length,
    most_open,
    shocks,
    spring_out,
)
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import InputError
from sleevewright.planning.answers import Answer, Kind, Plan, StageAnswers
from sleevewright.planning.beside import beside
from sleevewright.planning.cut_lines import CutLines
from sleevewright.planning.cutting_conditions import Cut, enter_cut
from sleevewright.planning.facts import assumed, given
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.shop import Chosen
from sleevewright.units import shown

SAMPLES = 1000
"""Draws behind these doubts: they are known to some 3 %, and the forces to no better than 30 %."""

TITLES = {"old": "Old sleeve out", "parent": "Parent bore", "piston": "Bore to piston"}
HINTS = {
    "says_break": (
        "The chip turns from black dust or short crumbs to bright curls, and the sound from a dry "
        "hiss to a softer one. Stop short of it, then go on with the speed and feed for "
        "aluminium, a sharp positive edge and a light cut: the aluminium welds to a dull one."
    ),
    "says_keys": (
        "Between liner and last key the edge meets iron and aluminium by turns: as over ports, "
        "a light feed and a tough edge, and no gauge reading counts there."
    ),
    "says_ports": (
        "The edge springs out over a window and bites as it comes back, so that the wall beside it "
        "is bored large; a thin bridge gives way under the edge and springs back small. Gauge on "
        "the lands, away from the edges. Light last passes, a small nose, a tough edge."
    ),
}
"""What is seen and done, in words."""


def cutting_stage(plan: Plan, cut: Cut) -> StageAnswers:
    """The answers about the boring cut of one stage."""
    wanted = (cut.diameter_of, "sleeve.length")
    known = tuple(one for one in plan.answers() if one.id in wanted)
    return _stage(cut, Ground(plan.units, plan.seed, plan.chosen, known))


@dataclass(frozen=True)
class Ground:
    """All of a plan that a cut rests on; while it stays, so do the answers."""

    units: str
    seed: int
    chosen: Chosen
    known: tuple[Answer, ...]

    def as_plan(self) -> Plan:
        """A plan that holds no more than this."""
        stages = (StageAnswers("known", "", self.known),)
        return Plan(
            "", "", self.units, False, "", (), (), stages, seed=self.seed, chosen=self.chosen
        )


@lru_cache(maxsize=48)
def _stage(cut: Cut, ground: Ground) -> StageAnswers:
    """The answers of a cut on its ground, kept until either changes."""
    plan = ground.as_plan()
    ledger = Ledger(count=SAMPLES, seed=plan.seed, chosen=plan.chosen)
    at = enter_cut(ledger, plan, cut)
    diameter = at.diameter.id if cut.diameter is not None else cut.diameter_of
    _enter_springs(ledger, at)
    _enter_ports(ledger, cut, at, (diameter, plan.units))
    if cut.behind:
        _enter_break(ledger, cut, at, plan.units)
    return beside(plan, cut.stage, TITLES[cut.stage], ledger.result())


def _enter_springs(ledger: Ledger, at: CutLines) -> None:
    """Enter the give of bar and holder together, once for all that springs out."""
    give = Line(f"{at.prefix}.give", "give at the edge", at.own_give.quantity, "radial",
                is_detail=True)  # fmt: skip
    parts = {"wanted": at.own_give.id, "allowance": at.holder_give.id}
    ledger.compute(give, sum_of, **parts)


def _enter_ports(ledger: Ledger, cut: Cut, at: CutLines, told: tuple[str, str]) -> None:
    """Enter what the ports do to the cut; nothing where there are none in the way."""
    diameter, units = told
    if not cut.windows:
        return
    size = ledger.value(diameter)
    if size is None:
        return
    try:
        open_most = most_open(port_windows=cut.windows, diameter=size)
    except InputError as refused:
        ledger.caution("ports-cannot-be", str(refused), "derived")
        return
    _enter_open(ledger, at, open_most)
    bell = {
        "edge_give": f"{at.prefix}.give",
        "force_before": at.force.id,
        "force_after": at.nothing.id,
    }
    ledger.compute(at.edge_bell, spring_out, **bell)
    metal = bar_metal(cut.bar_of or "steel")
    density = Line(f"{at.prefix}.bar_density", "density of the bar", at.mc.quantity.DENSITY,
                   is_detail=True)  # fmt: skip
    ledger.fact(density, assumed(metal.density, source=metal.source))
    bar = {"overhang": at.overhang.id, "bar": at.bar.id, "bar_modulus": at.bar_modulus.id}
    ledger.compute(at.frequency, bar_frequency, CENTRALLY, bar_density=density.id, **bar)
    swing = {"cutting_speed": at.speed.id, "frequency": at.frequency.id}
    ledger.compute(at.mark, mark_length, CENTRALLY, **swing)
    larger = ledger.value(at.edge_bell.id)
    said = f"{open_most.count} windows at one depth. {HINTS['says_ports']}"
    if larger is not None:
        said = f"Up to {_length(larger, units)} larger beside a window. {said}"
    ledger.fact(at.says_ports, Given(said, Kind.COMPUTED, source="practice"))


def _enter_open(ledger: Ledger, at: CutLines, found: MostOpen) -> None:
    """Enter how much of the turn cuts, and the blows by the second."""
    ledger.fact(at.cut_share, Given(found.cutting_share, Kind.COMPUTED, source="ports as mapped"))
    count = Given(float(found.count), Kind.COMPUTED, source="ports as mapped")
    ledger.fact(at.window_count, count)
    ledger.fact(at.nothing, Given(0.0, Kind.ASSUMED, source="derived"))
    ledger.compute(at.shocks, shocks, CENTRALLY, window_count=at.window_count.id, turns=at.turns.id)


def _enter_break(ledger: Ledger, cut: Cut, at: CutLines, units: str) -> None:
    """Enter where the old iron ends, and what happens there."""
    soft = force_law(cut.behind)
    ledger.fact(at.behind, Given(CUT_METALS[cut.behind], Kind.ASSUMED, source="practice"))
    law = Given(soft.kc11, Kind.ASSUMED, soft.source, soft.note, soft.scatter,
                shape=Shape.LOGNORMAL)  # fmt: skip
    ledger.fact(at.soft_kc11, law)
    ledger.fact(at.soft_mc, assumed(soft.mc, source=soft.source, note=soft.note))
    ledger.compute(
        at.soft_edge, CutEdge, feed=at.feed.id, nose=at.nose.id, lead=at.lead.id,
        kc11=at.soft_kc11.id, mc=at.soft_mc.id, thrust_share=at.thrust.id,
    )  # fmt: skip
    cutting = {"depth": at.depth.id, "edge": at.soft_edge.id}
    ledger.compute(at.soft_specific, edge_specific_force, **cutting)
    ledger.compute(at.soft_force, radial_force, **cutting)
    pair = {"specific_before": at.specific.id, "specific_after": at.soft_specific.id}
    ledger.compute(at.force_ratio, force_ratio, **pair)
    forces = {"force_before": at.force.id, "force_after": at.soft_force.id}
    ledger.compute(at.jump, spring_out, edge_give=f"{at.prefix}.give", **forces)
    need = "outside of the old liner"
    ledger.fact(at.breaks_at, given(cut.liner_outside, need=need))
    ledger.fact(at.key_depth, given(cut.key_depth, need="height of its keys, 0 where it has none"))
    ledger.fact(
        at.says_break, Given(_break_words(ledger, at, units), Kind.COMPUTED, source="practice")
    )


def _break_words(ledger: Ledger, at: CutLines, units: str) -> str:
    """What is seen, heard and done where the iron ends, with its figures."""
    said = HINTS["says_break"]
    jump, ratio = ledger.value(at.jump.id), ledger.value(at.force_ratio.id)
    if jump is not None and jump > 0.0:
        fall = f"The force falls by about {100.0 * (1.0 - ratio):.0f} %"
        larger = f"the cut jumps up to {_length(jump, units)} larger on the diameter"
        said = f"{fall}; {larger}. {said}"
    keys = ledger.value(at.key_depth.id)
    return f"{said} {HINTS['says_keys']}" if keys else said


def _length(value: float, units: str) -> str:
    """A small length in the job's units."""
    return shown(value, quantity="fine deviation", system=units).words
