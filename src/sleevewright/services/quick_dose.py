"""A quick question at the oven: how much a time at a temperature ages an aluminium casting."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.heat.overage import ageing_speed, dose_share, held_dose
from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.planning.hazards import HOT_METAL, OVEN_VAPOUR
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import needed, read_words
from sleevewright.units import Dimension, parse

DOSE_INPUTS = needed("temperature", "time")
_LONGEST = 1000.0 * 3600.0
_COLDEST, _HOTTEST = 293.15, 773.15
_RANGE = (393.15, 573.15)


def quick_dose(words: Iterable[str]) -> QuickAnswer:
    """The time at 200 degC that ages as much, and its share of what the shop allows."""
    typed = read_words("dose", DOSE_INPUTS, words)
    heat = parse(typed.text("temperature"), field="temperature", dimension=Dimension.TEMPERATURE)
    time = parse(typed.text("time"), field="time", dimension=Dimension.TIME)
    if not _COLDEST <= heat.value <= _HOTTEST:
        raise InputError("temperature", typed.text("temperature"), "", "20 C to 500 C")
    if not 0.0 <= time.value <= _LONGEST:
        raise InputError("time", typed.text("time"), "", "0 to 1000 h")
    energy, most = default("ageing_activation"), default("dose_most")
    typed.assume("activation energy over the gas constant", energy.stated)
    typed.assume("most ageing by ovens, at 200 °C", most.stated)
    told = {"temperature": heat.value, "activation": energy.value}
    dose = float(held_dose(duration=time.value, **told))
    share = float(dose_share(dose=dose, most=most.value))
    lines = (
        Line("speed_1", "One minute counts for", float(ageing_speed(**told)), "ratio",
             ageing_speed, note="minutes at 200 °C"),
        Line("dose_s", "Ages as much as", dose, "time", held_dose, note="at 200 °C"),
        Line("share_1", "Share of what ovens may add", share, "ratio", dose_share),
    )  # fmt: skip
    is_out = share > 1.0
    remedies = ("a cooler or a shorter heat; chill the sleeve; less slip",) if is_out else ()
    cautions = [HOT_METAL, OVEN_VAPOUR]
    if not _RANGE[0] <= heat.value <= _RANGE[1]:
        text = (
            "One energy of diffusion is good from about 120 to 300 °C; beyond that it is a guess."
        )
        cautions.insert(0, Caution("dose-range", text, "smithells-2004"))
    return QuickAnswer("dose", typed, lines, tuple(cautions), remedies, is_out=is_out)
