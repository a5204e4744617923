"""The answer to a quick question on a boring cut, from its words as they were typed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.cutting.cutting_tables import (
    CUT_METALS,
    TOOLS,
    BarMetal,
    CuttingRange,
    ForceLaw,
    bar_metal,
    cut_metal_of,
    cutting_range,
    force_law,
)
from sleevewright.core.cutting.deflection import bar_give, overhang_ratio
from sleevewright.core.cutting.finish_roughness import (
    largest_nose_feed,
    mean_roughness,
    ridge_height,
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
from sleevewright.core.cutting.speeds import (
    cut_power,
    cut_torque,
    feed_speed,
    pass_time,
    removal_rate,
    spindle_turns,
    wall_speed,
)
from sleevewright.core.cutting.taken import cut_taken, share_of_ask
from sleevewright.core.materials import default
from sleevewright.core.metals import Default
from sleevewright.errors import Caution, InputError, NotFound
from sleevewright.planning.cut_words import GIVES_WAY, MOST_FINISH, MOST_GIVE, THIN_CHIP
from sleevewright.planning.hazards import CHIPS, DUST, SPINDLE
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import Typed
from sleevewright.units import Dimension, parse, shown

_SPANS = {
    "diameter": (0.010, 0.400, "0.4 in to 15.7 in (10 mm to 400 mm)"),
    "feed": (1e-6, 3e-3, "0.04 thou to 0.118 in (1 µm to 3 mm)"),
    "depth": (1e-6, 1e-2, "0.04 thou to 0.39 in (1 µm to 10 mm)"),
    "nose": (1e-5, 2e-2, "0.4 thou to 0.79 in (0.01 mm to 20 mm)"),
    "bar": (0.004, 0.120, "0.16 in to 4.7 in (4 mm to 120 mm)"),
    "overhang": (0.005, 0.600, "0.2 in to 23.6 in (5 mm to 600 mm)"),
    "length": (1e-3, 1.0, "0.04 in to 39 in (1 mm to 1 m)"),
}


@dataclass(frozen=True)
class _Asked:
    """What was asked, in SI, with its rows of the tables."""

    diameter: float
    depth: float
    edge: CutEdge
    bar: float
    overhang: float
    length: float | None
    turns: float
    row: CuttingRange
    law: ForceLaw
    metal: BarMetal

    @property
    def own_give(self) -> float:
        """Give of the bar."""
        return float(bar_give(overhang=self.overhang, bar=self.bar, bar_modulus=self.metal.modulus))

    def taken(self, holder: float, kc11: float, thrust: float) -> float:
        """What is taken of the ask with this holder, metal and edge."""
        one = self.edge
        edge = CutEdge(one.feed, one.nose, one.lead, kc11, one.mc, thrust)
        ask = 2.0 * self.depth
        return float(cut_taken(ask=ask, own_give=self.own_give, holder_give=holder, edge=edge))


def cut_answer(typed: Typed) -> QuickAnswer:
    """Turns, feed speed, time, force, what is taken, roughness and power."""
    asked = _asked(typed)
    is_facing = asked.row.work == "facing"
    force = () if is_facing else _force_lines(asked, typed.system)
    lines = (*_speed_lines(asked), *force, *_finish_lines(asked))
    is_out = not is_facing and asked.overhang / asked.bar > asked.metal.overhang_most * (1.0 + 1e-9)
    remedies = ("a shorter or thicker bar, heavy metal or carbide: it will chatter",)
    cautions = [SPINDLE, CHIPS if asked.row.metal.startswith("aluminium") else DUST]
    if any(line.key == "share_1" and (line.value or 1.0) < MOST_GIVE for line in force):
        cautions.insert(0, GIVES_WAY)
    shape = {"feed": asked.edge.feed, "nose": asked.edge.nose, "lead": asked.edge.lead}
    if float(chip_thickness(depth=asked.depth, **shape)) < THINNEST_FITTED:
        cautions.insert(0, THIN_CHIP)
    cautions.insert(0, Caution("cut-starts", _start(asked), asked.row.source))
    return QuickAnswer(
        "speeds", typed, lines, tuple(cautions), remedies if is_out else (), is_out=is_out
    )


def _start(asked: _Asked) -> str:
    """What the range is, and what it is not."""
    row = asked.row
    return (
        f"A range to start from, no limit: {TOOLS[row.tool]} in {CUT_METALS[row.metal]}, "
        f"{row.work}: {row.stated}. {row.note.capitalize()}."
    )


def _asked(typed: Typed) -> _Asked:
    """Everything that was typed, each value judged by its own span."""
    size = {one: _length(typed, one) for one in ("diameter", "feed", "depth")}
    size |= {
        one: _length(typed, one, default(f"boring_{one}")) for one in ("nose", "bar", "overhang")
    }
    length = _length(typed, "length") if "length" in typed.words else None
    _refuse_coarse(typed, size["feed"], size["nose"])
    metal = cut_metal_of(typed.text("metal"))
    tool = typed.text("tool").lower()
    if tool not in TOOLS:
        raise NotFound("tool", tool, tuple(TOOLS))
    if size["bar"] >= size["diameter"]:
        allowed = f"less than the bore, {typed.text('diameter')}"
        raise InputError("bar", typed.text("bar"), "", allowed)
    if size["depth"] > 0.25 * size["diameter"]:
        hint = "It is radial: half of what it adds to the diameter."
        raise InputError("depth", typed.text("depth"), "", "a quarter of the bore at most", hint)
    work = _work(typed, size["depth"])
    row, law = cutting_range(tool, metal, work), force_law(metal)
    lead, thrust = default("boring_lead"), default("boring_thrust_share")
    typed.assume("angle of the main edge", lead.stated)
    typed.assume("force square to the edge by main force", thrust.stated)
    typed.assume("give of head, quill and table", default("boring_holder_give").stated)
    return _Asked(
        size["diameter"], size["depth"],
        CutEdge(size["feed"], size["nose"], lead.value, law.kc11, law.mc, thrust.value),
        size["bar"], size["overhang"], length, _turns(typed, size["diameter"], row), row, law,
        bar_metal(typed.text("bar_metal")),
    )  # fmt: skip


def _work(typed: Typed, depth: float) -> str:
    """Kind of cut: facing where that was typed, else rough or fine by its depth."""
    said = typed.text("work").lower()
    if said not in ("boring", "facing"):
        raise InputError("work", said, "", "boring or facing")
    if said == "facing":
        return said
    return "rough boring" if 2.0 * depth > MOST_FINISH else "finish boring"


def _refuse_coarse(typed: Typed, feed: float, nose: float) -> None:
    """Refuse a feed that the edge behind the nose would shape as well."""
    angle = default("boring_end_angle")
    typed.assume("angle of the edge behind the nose", angle.stated)
    most = float(largest_nose_feed(nose=nose, end_angle=angle.value))
    if feed > most:
        figures = shown(most, quantity="fine deviation", system=typed.system)
        allowed = f"up to {figures.figure} {figures.unit} with this nose"
        hint = "Feed slower, or take a larger nose: past it the edge behind cuts ridges too."
        raise InputError("feed", typed.text("feed"), "", allowed, hint)


def _length(typed: Typed, name: str, without: Default | None = None) -> float:
    """A length in its own span, or the default that stands for it."""
    text = typed.text(name)
    if without is not None and name not in typed.words:
        return without.value
    said = parse(text, field=name, dimension=Dimension.LENGTH)
    typed.units = (*typed.units, said.unit)
    low, high, allowed = _SPANS[name]
    if not low <= said.value <= high:
        raise InputError(name, text, "", allowed, "Is the unit the one that was meant?")
    return said.value


def _turns(typed: Typed, diameter: float, row: CuttingRange) -> float:
    """Turns that were typed, else the slower end of the range."""
    if "turns" not in typed.words:
        typed.assume("turns", "the slower end of the range")
        return float(spindle_turns(cutting_speed=row.speed_low, diameter=diameter))
    said = parse(typed.text("turns"), field="turns", dimension=Dimension.TURNING)
    if not 0.0 < said.value <= 1000.0:
        raise InputError("turns", typed.text("turns"), "", "above nought, to 60 000 rpm")
    return said.value


def _speed_lines(asked: _Asked) -> tuple[Line, ...]:
    """Turns, speed at the wall, feed speed and time."""
    edge, turns = asked.edge, asked.turns
    ends = [
        spindle_turns(cutting_speed=one, diameter=asked.diameter)
        for one in (asked.row.speed_low, asked.row.speed_high)
    ]
    lines = [
        Line("turns_low_rpm", "Turns, slow end", float(ends[0]), "turning speed", spindle_turns),
        Line("turns_high_rpm", "Turns, fast end", float(ends[1]), "turning speed", spindle_turns),
        Line("turns_rpm", "Turns taken here", turns, "turning speed", spindle_turns),
        Line("speed_mpm", "Speed at the wall",
             float(wall_speed(diameter=asked.diameter, turns=turns)), "cutting speed", wall_speed),
        Line("feed_mmpm", "Feed speed", float(feed_speed(feed=edge.feed, turns=turns)),
             "feed speed", feed_speed),
    ]  # fmt: skip
    if asked.length is not None:
        run_out = default("boring_run_out").value
        time = pass_time(length=asked.length, run_out=run_out, feed=edge.feed, turns=turns)
        note = "under feed alone, with run-in and run-out"
        lines.append(Line("time_s", "Time of a pass", float(time), "time", pass_time, note=note))
    return tuple(lines)


def _force_lines(asked: _Asked, system: str) -> tuple[Line, ...]:
    """Force, what the bar gives and what is taken, power and torque."""
    edge, give = asked.edge, default("boring_holder_give")
    ask = 2.0 * asked.depth
    thrust = default("boring_thrust_share")
    taken = asked.taken(give.value, asked.law.kc11, thrust.value)
    most = asked.taken(give.low, asked.law.low, thrust.low)
    least = asked.taken(give.high, asked.law.high, thrust.high)
    depth = 0.5 * taken  # what the bar gives way by is not cut: force and power are those of this
    main = float(edge_force(depth=depth, edge=edge))
    radial = float(radial_force(depth=depth, edge=edge))
    wide = f"{_size(least, system)} to {_size(most, system)} as force and holder may be"
    ratio = float(overhang_ratio(overhang=asked.overhang, bar=asked.bar))
    specific = edge_specific_force(depth=depth, edge=edge)
    removal = removal_rate(
        mean_diameter=asked.diameter - depth, depth=depth, feed=edge.feed, turns=asked.turns
    )
    power = float(cut_power(specific_energy=specific, removal=removal))
    return (
        Line("overhang_1", "Free length by diameter", ratio, "ratio", overhang_ratio,
             note=f"{asked.metal.title}: {asked.metal.overhang_most:g} at most"),
        Line("force_n", "Force along the wall", main, "light force", edge_force,
             note="sharp edge, at the depth that is taken"),
        Line("push_n", "Force that pushes the bar off", radial, "light force", radial_force,
             "radial"),
        Line("bar_um", "The bar gives way", radial * asked.own_give, "fine deviation", bar_give,
             "radial", "the bar alone"),
        Line("asked_um", "Asked", ask, "deviation", cut_taken, "diametral", "twice the depth"),
        Line("taken_um", "Taken, by bar and holder alone", taken, "deviation", cut_taken,
             "diametral", wide),
        Line("share_1", "Share of the ask", taken / ask, "ratio", share_of_ask,
             note=f"from {least / ask:.2f} to {most / ask:.2f}; dial and dull edge on top"),
        Line("power_w", "Power at the edge", power, "power", cut_power),
        Line("torque_nm", "Torque of the cut", float(cut_torque(power=power, turns=asked.turns)),
             "light torque", cut_torque),
    )  # fmt: skip


def _finish_lines(asked: _Asked) -> tuple[Line, ...]:
    """Roughness by geometry, and what practice makes of it."""
    angle, factor = default("boring_end_angle"), default("boring_rough_factor")
    told = {"feed": asked.edge.feed, "nose": asked.edge.nose, "end_angle": angle.value}
    height, mean = float(ridge_height(**told)), float(mean_roughness(**told))
    expected = float(
        roughness_to_expect(geometric=mean, factor=math.sqrt(factor.low * factor.high))
    )
    note = f"{factor.low:g} to {factor.high:g} times the geometric one"
    return (
        Line("rz_um", "Rz by geometry", height, "roughness", ridge_height, "radial"),
        Line("ra_um", "Ra by geometry", mean, "roughness", mean_roughness, "radial"),
        Line("ra_expected_um", "Ra to expect", expected, "roughness", roughness_to_expect,
             "radial", note),
    )  # fmt: skip


def _size(value: float, system: str) -> str:
    """A small length in the units of the person who asked."""
    figures = shown(value, quantity="deviation", system=system)
    return f"{figures.figure} {figures.unit}"
