"""Areas of a square window for the quick question of timing: open, angle-area, time-area."""

from __future__ import annotations

import numpy as np

from sleevewright.core.engine.crank import chord_to_arc
from sleevewright.core.engine.volumes import swept_volume
from sleevewright.core.ports.breathing import SWEPT
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import passes_down
from sleevewright.core.ports.curves import curve_angle_area, port_curves
from sleevewright.core.ports.exposed import exposed_area, open_area, specific_time_area
from sleevewright.errors import InputError
from sleevewright.services.quick_answer import Line
from sleevewright.services.quick_inputs import Typed
from sleevewright.units import Dimension, parse


def area_lines(
    typed: Typed, crank: Crank, roof: float, *, speed: float | None, until: float | None
) -> list[Line]:
    """What a window of this width, roof and floor has open, without rounded corners."""
    told, bore = _window(typed, roof)
    arc = float(chord_to_arc(chord=told["width"], bore=bore))
    corners = np.array([[0.0, roof], [arc, roof], [arc, told["floor"]], [0.0, told["floor"]]])
    area = exposed_area(corners)
    curves = port_curves((("port", area),), crank=crank)
    over = float(curve_angle_area(curves.of("port"), angles=curves.angles))
    lowest = crank.deck_clearance + crank.stroke
    lines = [
        Line("open_mm2", "Open at bottom dead centre", float(open_area(area, depth=lowest)),
             "area", open_area, note="along the wall, square corners"),
        Line("angle_area_mm2deg", "Angle-area", over, "angle-area", curve_angle_area,
             note="over one turn, opening and closing"),
    ]  # fmt: skip
    blown = None
    if until is not None:
        first, last = (float(passes_down(edge_depth=one, **crank.parts)) for one in (roof, until))
        blown = float(
            curve_angle_area(curves.of("port"), angles=curves.angles, first=first, last=last)
        )
        lines.append(
            Line("blowdown_mm2deg", "Blowdown angle-area", blown, "angle-area", curve_angle_area,
                 note="until the first transfer opens")
        )  # fmt: skip
    if speed is not None:
        lines += _by_speed(over, blown, speed, float(swept_volume(bore=bore, stroke=crank.stroke)))
    return lines


def _by_speed(over: float, blown: float | None, speed: float, volume: float) -> list[Line]:
    """Specific time-areas, with their volume in words."""
    lines = []
    for key, label, area in (("sta", "Specific time-area", over),
                             ("blowdown_sta", "Blowdown, specific time-area", blown)):  # fmt: skip
        if area is None:
            continue
        worth = specific_time_area(angle_area=area, speed=speed, volume=volume)
        lines.append(
            Line(f"{key}_spm", label, worth, "time-area", specific_time_area,
                 note=f"by the {SWEPT}")
        )  # fmt: skip
    return lines


def _window(typed: Typed, roof: float) -> tuple[dict[str, float], float]:
    """Width and floor of the window, and the bore; each refused by its name."""
    told: dict[str, float] = {}
    for name in ("width", "floor"):
        if name not in typed.words:
            raise InputError(name, "nothing", "", "width= and floor= together", "Give both.")
        text = typed.words[name]
        told[name] = parse(text, field=name, dimension=Dimension.LENGTH).value
    bore = typed.given("bore")
    if bore is None:
        raise InputError("bore", "nothing", "", "the bore beside a width by caliper",
                         "A chord becomes a width along the wall only with the bore.")  # fmt: skip
    if not told["floor"] > roof:
        raise InputError("floor", typed.words["floor"], "", "deeper than the roof",
                         "Were roof and floor swapped?")  # fmt: skip
    if not 0.0 < told["width"] < bore:
        raise InputError("width", typed.words["width"], "", f"less than the bore, "
                         f"{typed.text('bore')}", "Is it the chord by caliper?")  # fmt: skip
    return told, bore
