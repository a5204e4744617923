"""Published checks of gauges that compare, and of parts that are let lie to the room."""

from __future__ import annotations

from sleevewright.core.heat.levelling import levelling_time
from sleevewright.core.metrology.comparator import size_over_master
from sleevewright.evidence.case import published

_STEEL = 11.5e-6
_NO_ERRORS = {"setting_error": 0.0, "resolution_error": 0.0, "repeat_error": 0.0, "form_error": 0.0}


@published(
    named="U9-master",
    formula=size_over_master,
    source="iso-1",
    place="reference temperature; 100 mm of steel, 11.5e-6/K, 10 K warm, to first order",
    published=11.5,
    unit="um",
    tolerance=0.05,
    reading="derived",
)
def warm_master() -> float:
    """A steel master of 100 mm at 30 degC: what its dial at nought is larger by."""
    size = size_over_master(
        master_size=0.1,
        on_dial=0.0,
        **_NO_ERRORS,
        part_expansion=0.0,
        part_rise=0.0,
        gauge_expansion=_STEEL,
        gauge_rise=10.0,
        master_expansion=_STEEL,
        master_rise=10.0,
    )
    return float(size - 0.1) * 1e6


@published(
    named="U9-dial",
    formula=size_over_master,
    source="iso-1",
    place="reference temperature; 58 mm aluminium, steel gauge, both 8 K warm, first order",
    published=5.336,
    unit="um",
    tolerance=1e-3,
    reading="derived",
    because="the number is of first order; the core divides by the whole growth",
)
def warm_bore_on_the_dial() -> float:
    """Dial at nought in an aluminium bore, gauge and master of steel, all at 28 degC."""
    size = size_over_master(
        master_size=0.058,
        on_dial=0.0,
        **_NO_ERRORS,
        part_expansion=23e-6,
        part_rise=8.0,
        gauge_expansion=_STEEL,
        gauge_rise=8.0,
        master_expansion=_STEEL,
        master_rise=8.0,
    )
    return float(0.058 - size) * 1e6


@published(
    named="T3-near",
    formula=levelling_time,
    source="incropera-2007",
    place="Example 5.1, time from 25 degC to within a kelvin of gas at 200 degC, tau 1 s",
    published=5.2,
    unit="s",
    tolerance=0.05,
    reading="inputs-read",
)
def bead_near_its_gas() -> float:
    """A bead with a time constant of a second: time until it is within a kelvin of its gas."""
    return float(
        levelling_time(part_temperature=298.15, room=473.15, within=1.0, time_constant=1.0)
    )
