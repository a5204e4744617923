"""Speed, feed and what the bar gives: a boring cut at the stages that bore.

Turns and feeds to start from stand as ranges of a table.  Where the cut is told (edge, feed,
what was asked), its force, what the bar gives way, what is taken of the ask, time, power and
roughness follow.  The share that is taken is what bar and holder explain alone: dial, dull
edge and heat come on top, so that it is where a closed loop begins and not where it ends.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cutting_tables import (
    CUT_METALS,
    TOOLS,
    BarMetal,
    bar_metal,
    cutting_range,
    force_law,
)
from sleevewright.core.cutting.deflection import bar_give, overhang_ratio
from sleevewright.core.cutting.finish_roughness import (
    largest_nose_feed,
    mean_roughness,
    ridge_height,
    ridge_height_brammertz_1961,
    roughness_to_expect,
)
from sleevewright.core.cutting.force import (
    THINNEST_FITTED,
    CutEdge,
    chip_thickness,
    edge_force,
    edge_specific_force,
    radial_force,
)
from sleevewright.core.cutting.interrupted import Window
from sleevewright.core.cutting.speeds import (
    cut_power,
    cut_torque,
    feed_speed,
    pass_time,
    removal_rate,
    spindle_turns,
    time_of_passes,
    wall_speed,
)
from sleevewright.core.cutting.taken import cut_taken, half_of_ask, share_of_ask
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan
from sleevewright.planning.cut_lines import CutLines
from sleevewright.planning.cut_words import GIVES_WAY, MOST_FINISH, MOST_GIVE, NEAR, THIN_CHIP
from sleevewright.planning.facts import assumed, enter_default, given
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger

Q = Quantity


@dataclass(frozen=True)
class Cut:
    """What is told of a boring cut at one stage."""

    stage: str
    metal: str  # as a tool tells metals apart
    is_metal_told: bool
    diameter: Entry | None  # of the wall, where it is told
    diameter_of: str  # answer of the plan that stands for it
    tool: str = ""  # name of the table; empty where it was not told
    turns: Entry | None = None  # by the second
    feed: Entry | None = None
    asked: Entry | None = None  # diametral
    nose: Entry | None = None
    bar: Entry | None = None
    overhang: Entry | None = None
    bar_of: str = ""
    run_out: Entry | None = None
    behind: str = ""  # metal behind the old liner
    liner_outside: Entry | None = None
    key_depth: Entry | None = None
    windows: tuple[Window, ...] = ()
    passes: int = 0  # that are planned still; nought where that is not known

    @property
    def work(self) -> str:
        """Kind of cut by what was asked."""
        is_rough = self.asked is not None and self.asked.value > MOST_FINISH
        return "rough boring" if is_rough or self.stage == "old" else "finish boring"


def enter_cut(ledger: Ledger, plan: Plan, cut: Cut) -> CutLines:
    """Enter everything about a cut that follows from what was told."""
    at = CutLines(cut.stage)
    diameter = _enter_wall(ledger, plan, cut, at)
    _enter_speeds(ledger, cut, at, diameter)
    _enter_time(ledger, plan, cut, at)
    _enter_bar(ledger, cut, at)
    _enter_edge(ledger, cut, at)
    _enter_taken(ledger, at, diameter)
    _enter_roughness(ledger, at)
    return at


def _enter_wall(ledger: Ledger, plan: Plan, cut: Cut, at: CutLines) -> str:
    """Enter the diameter that is cut; gives the name of its answer."""
    if cut.diameter is not None:
        ledger.fact(at.diameter, given(cut.diameter, need="diameter of the bore"))
        return at.diameter.id
    from_plan(ledger, plan, cut.diameter_of, need="diameter of the bore")
    return cut.diameter_of


def _enter_speeds(ledger: Ledger, cut: Cut, at: CutLines, diameter: str) -> None:
    """Enter the range of the table, the turns it comes to, and the turns that are taken."""
    told = Kind.CHOSEN if cut.tool else Kind.ASSUMED
    tool = cut.tool or "carbide"
    ledger.fact(at.tool, Given(TOOLS[tool], told, source="practice"))
    metal = Kind.CHOSEN if cut.is_metal_told else Kind.ASSUMED
    ledger.fact(at.metal, Given(CUT_METALS[cut.metal], metal, source="practice"))
    try:
        row = cutting_range(tool, cut.metal, cut.work)
    except InputError as refused:
        ledger.advise(f"{refused.allowed.capitalize()}. {refused.hint}")
        for line in (*at.speeds, *at.usual):
            ledger.fact(line, Given(None, Kind.ASSUMED, need="a tool for this metal"))
    else:
        note = f"{row.stated}; {row.note}"
        values = (row.speed_low, row.speed_high, row.feed_low, row.feed_high,
                  2.0 * row.depth_low, 2.0 * row.depth_high)  # fmt: skip
        for line, value in zip((*at.speeds, *at.usual), values, strict=True):
            source = row.source if line in at.speeds else "practice"
            ledger.fact(line, assumed(value, source=source, note=note))
    for line, speed in zip(at.turns_range, at.speeds, strict=True):
        ledger.compute(line, spindle_turns, CENTRALLY, cutting_speed=speed.id, diameter=diameter)
    if cut.turns is not None:
        ledger.fact(at.turns, given(cut.turns, need="turns of the spindle"))
    else:
        slow = ledger.value(at.turns_range[0].id)
        need = "turns of the spindle"
        ledger.fact(at.turns, Given(slow, Kind.ASSUMED, "the slower end of the range", need=need))
    ledger.compute(at.speed, wall_speed, CENTRALLY, diameter=diameter, turns=at.turns.id)
    _enter_speed_words(ledger, at)


def _enter_speed_words(ledger: Ledger, at: CutLines) -> None:
    """Say where a speed lies outside the range that is a start."""
    speed = ledger.value(at.speed.id)
    low, high = (ledger.value(line.id) for line in at.speeds)
    if None in (speed, low, high):
        return
    if speed > high * NEAR:
        said = "Above the range: the edge wears sooner. Slower, or another edge."
    elif speed < low / NEAR:
        said = (
            "Below the range: rough, and aluminium welds to the edge. Faster, if the bar lets it."
        )
    else:
        return
    ledger.fact(at.says_speed, Given(said, Kind.COMPUTED, source="practice"))


def _enter_time(ledger: Ledger, plan: Plan, cut: Cut, at: CutLines) -> None:
    """Enter the feed, how fast it goes and how long a pass takes."""
    ledger.fact(at.feed, given(cut.feed, need="feed by the turn"))
    ledger.compute(at.feed_speed, feed_speed, CENTRALLY, feed=at.feed.id, turns=at.turns.id)
    enter_default(ledger, at.run_out, cut.run_out, "boring_run_out")
    from_plan(ledger, plan, "sleeve.length", need="length that is bored")
    names = {"run_out": at.run_out.id, "feed": at.feed.id, "turns": at.turns.id}
    ledger.compute(at.time, pass_time, CENTRALLY, length="sleeve.length", **names)
    if cut.passes and cut.feed is not None and cut.turns is not None:
        _enter_passes(ledger, cut.passes, at)


def _enter_passes(ledger: Ledger, passes: int, at: CutLines) -> None:
    """Enter how long the passes to come take, under feed alone and with what lies between."""
    ledger.fact(at.passes_left, Given(float(passes), Kind.COMPUTED, source="passes planned"))
    enter_default(ledger, at.between, None, "setting_time")
    ledger.fact(at.none_between, Given(0.0, Kind.CHOSEN, source="derived"))
    for line, between in ((at.passes_time, at.none_between), (at.passes_whole, at.between)):
        told = {"passes_planned": at.passes_left.id, "one_pass": at.time.id}
        ledger.compute(line, time_of_passes, CENTRALLY, pass_between=between.id, **told)
    minutes = float(ledger.value(at.between.id)) / 60.0
    ledger.amend(at.passes_whole.id, of=f"{minutes:g} min a pass assumed")
    ledger.amend(at.passes_time.id, of=f"{passes} planned, under feed alone")


def _enter_bar(ledger: Ledger, cut: Cut, at: CutLines) -> None:
    """Enter the bar, what it gives way, and whether it stands out too far."""
    metal = bar_metal(cut.bar_of or "steel")
    enter_default(ledger, at.bar, cut.bar, "boring_bar")
    enter_default(ledger, at.overhang, cut.overhang, "boring_overhang")
    kind = Kind.CHOSEN if cut.bar_of else Kind.ASSUMED
    ledger.fact(at.bar_metal, Given(metal.title, kind, source=metal.source, typed=metal.note))
    standard = metal.doubt * metal.modulus
    ledger.fact(at.bar_modulus, assumed(metal.modulus, source=metal.source, standard=standard))
    pair = {"overhang": at.overhang.id, "bar": at.bar.id}
    if cut.bar is None or cut.overhang is None:  # a verdict on what nobody told is none
        need = "the bar's diameter and its free length, as set"
        ledger.fact(at.ratio, Given(None, Kind.COMPUTED, need=need))
    else:
        ledger.compute(at.ratio, overhang_ratio, _overhang(metal), **pair)
    ledger.compute(at.own_give, bar_give, bar_modulus=at.bar_modulus.id, **pair)
    enter_default(ledger, at.holder_give, None, "boring_holder_give")


def _overhang(metal: BarMetal) -> How:
    """The judge of a free length: beyond it a plain bar of this metal chatters."""
    remedy = (
        "it will chatter: a shorter or thicker bar, heavy metal or carbide, a smaller nose, "
        "slower and with more feed"
    )
    return How(against_limit(metal.overhang_most, "most", remedy=remedy), is_sampled=False)


def _enter_edge(ledger: Ledger, cut: Cut, at: CutLines) -> None:
    """Enter the edge and what the metal presses with."""
    law = force_law(cut.metal)
    enter_default(ledger, at.nose, cut.nose, "boring_nose")
    enter_default(ledger, at.lead, None, "boring_lead")
    enter_default(ledger, at.end_angle, None, "boring_end_angle")
    enter_default(ledger, at.thrust, None, "boring_thrust_share")
    ledger.fact(
        at.kc11,
        Given(law.kc11, Kind.ASSUMED, law.source, law.note, law.scatter, shape=Shape.LOGNORMAL),
    )
    ledger.fact(at.mc, assumed(law.mc, source=law.source, note=law.note))
    ledger.compute(
        at.edge, CutEdge, feed=at.feed.id, nose=at.nose.id, lead=at.lead.id, kc11=at.kc11.id,
        mc=at.mc.id, thrust_share=at.thrust.id,
    )  # fmt: skip
    ledger.fact(at.asked, given(cut.asked, need="what a pass is asked to take"))
    ledger.compute(at.depth, half_of_ask, CENTRALLY, ask=at.asked.id)
    shape = {"feed": at.feed.id, "nose": at.nose.id, "lead": at.lead.id}
    ledger.compute(at.chip, chip_thickness, CENTRALLY, depth=at.depth.id, **shape)


def _enter_taken(ledger: Ledger, at: CutLines, diameter: str) -> None:
    """Enter force, what is taken of the ask, power and torque."""
    cut = {"depth": at.depth.id, "edge": at.edge.id}
    ledger.compute(at.main_force, edge_force, **cut)
    ledger.compute(at.force, radial_force, **cut)
    chip = ledger.value(at.chip.id)
    if chip is not None and chip < THINNEST_FITTED:
        for line in (at.main_force, at.force):
            ledger.amend(line.id, cautions=(THIN_CHIP,))
    give = {"own_give": at.own_give.id, "holder_give": at.holder_give.id}
    ledger.compute(at.taken, cut_taken, ask=at.asked.id, edge=at.edge.id, **give)
    ledger.compute(at.lost, rest_of, whole=at.asked.id, part=at.taken.id)
    ledger.compute(at.share, share_of_ask, taken=at.taken.id, ask=at.asked.id)
    share = ledger.value(at.share.id)
    if share is not None and share < MOST_GIVE:
        ledger.amend(at.share.id, cautions=(GIVES_WAY,))
    ledger.compute(at.specific, edge_specific_force, **cut)
    ledger.compute(
        at.removal, removal_rate, CENTRALLY, mean_diameter=diameter, depth=at.depth.id,
        feed=at.feed.id, turns=at.turns.id,
    )  # fmt: skip
    ledger.compute(at.power, cut_power, specific_energy=at.specific.id, removal=at.removal.id)
    ledger.compute(at.torque, cut_torque, CENTRALLY, power=at.power.id, turns=at.turns.id)


def _enter_roughness(ledger: Ledger, at: CutLines) -> None:
    """Enter the roughness by geometry and what practice makes of it."""
    corner = {"nose": at.nose.id, "end_angle": at.end_angle.id}
    ledger.compute(at.largest_feed, largest_nose_feed, CENTRALLY, **corner)
    feed, most = ledger.value(at.feed.id), ledger.value(at.largest_feed.id)
    if feed is not None and feed > most:
        need = "a slower feed or a larger nose: the edge behind the nose cuts ridges of its own"
        for line in (at.rz, at.rz_thin, at.ra, at.ra_expected):
            ledger.fact(line, Given(None, Kind.COMPUTED, need=need))
        return
    told = {"feed": at.feed.id, **corner}
    ledger.compute(at.rz, ridge_height, CENTRALLY, **told)
    enter_default(ledger, at.least_chip, None, "boring_least_chip")
    ledger.compute(
        at.rz_thin, ridge_height_brammertz_1961, geometric=at.rz.id, nose=at.nose.id,
        feed=at.feed.id, least_chip=at.least_chip.id,
    )  # fmt: skip
    ledger.compute(at.ra, mean_roughness, CENTRALLY, **told)
    enter_default(ledger, at.factor, None, "boring_rough_factor")
    ledger.compute(at.ra_expected, roughness_to_expect, geometric=at.ra.id, factor=at.factor.id)
