"""What was told of the piston and the rings, handed to the planner."""

from __future__ import annotations

from sleevewright.jobs.catalog import port_names
from sleevewright.jobs.livingdoc import escaped
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.piston import PistonTold, piston_stage
from sleevewright.planning.ringgaps import Ring, RingsTold, rings_stage
from sleevewright.planning.ringports import Pegged, Window
from sleevewright.planning.warming import warming
from sleevewright.services.cut_told import CutTold


def piston_part(plan: Plan, told: CutTold) -> StageAnswers:
    """The piston at 20 degC, sizes with limits, and what sources say of its clearance."""
    return piston_stage(
        plan,
        told.job.engine,
        PistonTold(
            diameter=told.length("piston.diameter"),
            height=told.length("piston.height"),
            temperature=told.number("piston.temperature"),
            kind=told.text("piston.kind"),
            plate=told.text("piston.plate"),
            bored=told.gauged("finish-bore", "piston"),
        ),
    )


def warming_part(plan: Plan, told: CutTold) -> StageAnswers:
    """What a cold start leaves of the clearance, relative."""
    return warming(plan, told.job.engine.cooling, told.text("piston.kind"))


def rings_part(plan: Plan, told: CutTold) -> StageAnswers:
    """Gaps of the rings, the bore that they tell, pegs and ports."""
    rings = tuple(
        Ring(
            part,
            gap=told.length(f"rings.{part}_gap"),
            wanted=told.length(f"rings.{part}_wanted"),
            known_gap=told.length(f"rings.{part}_known_gap"),
            known_bore=told.length(f"rings.{part}_known_bore"),
        )
        for part in ("top", "second")
    )
    gaps = [one.gap.value for one in rings if one.gap is not None]
    pegs = ((one, told.number(f"rings.peg/{one}/angle")) for one in told.rows("rings.peg/"))
    pegged = Pegged(
        pegs=tuple((number, angle) for number, angle in pegs if angle is not None),
        windows=_windows(told),
        gap=max(gaps, default=0.0),
    )
    return rings_stage(plan, told.job.engine, RingsTold(rings, pegged, told.length("rings.skirt")))


def _windows(told: CutTold) -> tuple[Window, ...]:
    """The ports: width as left, else as found, and where the middle was found."""
    found = {port.name: port.width for port in told.job.ports}
    windows = []
    for name in port_names(told.folded, cylinder=told.cylinder):
        start = f"port/{escaped(name)}"
        words = told.text(f"{start}/name") or name
        width = told.length(f"{start}/left.width") or found.get(words)
        angle = told.number(f"{start}/found.angle")
        windows.append(Window(words, None if width is None else width.value, angle))
    return tuple(windows)
