"""The one place where units are converted: what is said becomes SI, SI becomes figures.

Everything inside the tool is SI and kelvin.  Texts come in through :func:`parse`, figures
go out through :func:`shown`; nothing else converts.
"""

from sleevewright.units.figures import Shown, shown
from sleevewright.units.known import Dimension, Unit
from sleevewright.units.scale import from_unit, symbols, to_unit, unit_named
from sleevewright.units.slips import plausible
from sleevewright.units.speech import Spoken, parse
from sleevewright.units.styles import dimension_of, display_unit, unit_suffix

__all__ = [
    "Dimension",
    "Shown",
    "Spoken",
    "Unit",
    "dimension_of",
    "display_unit",
    "from_unit",
    "parse",
    "plausible",
    "shown",
    "symbols",
    "to_unit",
    "unit_named",
    "unit_suffix",
]
