"""From SI to the figures that a shop reads: unit, digits and doubt, the same on every surface.

Digits follow the quantity, never finer than what sampling has settled.  A doubt has at
most two significant digits, is not rounded down by more than a twentieth, and is never
shown as zero when it is not.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Context, Decimal

from sleevewright.errors import InputError
from sleevewright.units.scale import unit_named
from sleevewright.units.styles import chosen, dimension_of, order


@dataclass(frozen=True)
class Shown:
    """Figures of a value: no unit and no sign of doubt inside them; minus is a true minus."""

    figure: str
    doubt: str
    unit: str

    @property
    def words(self) -> str:
        """Figure and unit, as they stand in a sentence."""
        return f"{self.figure} {self.unit}"


_FINE_TIME = 9.5  # rounds to 9 s; from 10 s on steps of five
_MINUTES_FROM = 120.0
_WHOLE_MINUTES_FROM = 600.0
_ROOMY = Context(prec=400)  # any float with any digits fits
_DOUBT_SHORTFALL = Decimal("1.05")
_EXACT_DIGITS = 12


def shown(  # noqa: PLR0913 - all but the value are named at the call
    value: float,
    *,
    quantity: str,
    system: str,
    doubt: float | None = None,
    sampling_error: float | None = None,
    given: bool = False,
) -> Shown:
    """Figures of an SI value in the job's units.

    Parameters
    ----------
    value : float
        SI value; temperatures in kelvin.
    quantity : str
        What it is, a name of the plan's list of quantities.
    system : str
        ``inch`` or ``metric``.
    doubt : float | None
        Half-width that is not known, in SI; of a temperature a difference.
    sampling_error : float | None
        Standard error that a finite number of samples leaves, in SI.
    given : bool
        Whether a person stated the value: a stated time is not rounded to steps.

    Returns
    -------
    Shown
        Figure, doubt (empty where none) and unit.

    Examples
    --------
    >>> shown(8.9e-5, quantity="deviation", system="inch", doubt=9.1e-6)
    Shown(figure='3.5', doubt='0.4', unit='thou')
    """
    symbol, digits = chosen(quantity, system)
    dimension = dimension_of(quantity)
    if not math.isfinite(value):
        raise InputError(quantity, value, "", "a finite number")
    if quantity == "probability":
        return _probability(value, sampling_error)
    unit = unit_named(symbol, dimension)
    number = value / unit.factor - unit.zero
    decimals, step = digits(number), 0.0
    if quantity in ("time at least", "time at most"):
        return _bound(value, is_upper=quantity == "time at most")
    if quantity == "time":
        symbol, step, decimals = _time(value, given=given)
        unit = unit_named(symbol, dimension)
        number = value / unit.factor
    if sampling_error:
        decimals = min(decimals, -_order_up(sampling_error / unit.factor))
    if doubt and decimals == 0:
        # Large figures end where their doubt has its second digit.
        decimals = min(decimals, 1 - math.floor(math.log10(abs(doubt) / unit.factor)))
    figure = _rounded(_nearest(number, step), decimals)
    if quantity == "dial reading" and number > 0.0 and float(figure):
        figure = f"+{figure}"  # a needle stands on one side of its zero or on the other
    half = "" if not doubt else _doubt(abs(doubt) / unit.factor, decimals)
    return Shown(figure, half, "" if symbol == "1" else symbol)


def _time(value: float, *, given: bool) -> tuple[str, float, int]:
    """Unit, step and decimals of a time: no model knows a tenth of a second."""
    if given:
        return ("min", 0.0, 0) if value >= _MINUTES_FROM and value % 60.0 == 0.0 else ("s", 0.0, 0)
    if value < _FINE_TIME:
        return "s", 1.0, 0
    if value < _MINUTES_FROM:
        return "s", 5.0, 0
    return ("min", 0.5, 1) if value < _WHOLE_MINUTES_FROM else ("min", 1.0, 0)


def _bound(seconds: float, *, is_upper: bool) -> Shown:
    """A time promised at least is rounded down, one at most up: rounding promises nothing."""
    step = 1.0 if seconds < 10.0 else 5.0
    whole = (math.ceil if is_upper else math.floor)(seconds / step) * step
    return Shown(f"{whole:.0f}" if whole >= 1.0 else "< 1", "", "s")


def _probability(value: float, sampling_error: float | None) -> Shown:
    """Per cent with digits where they matter: near nothing and near certainty."""
    percent = 100.0 * value
    rest = min(percent, 100.0 - percent)
    decimals = 1 if rest < 10.0 else 0
    if sampling_error:
        decimals = min(decimals, -_order_up(100.0 * sampling_error))
    least = 10.0**-decimals
    if percent <= least / 2.0:  # a half would be rounded to an even nought
        return Shown(f"< {_rounded(least, decimals)}", "", "%")
    if 100.0 - percent <= least / 2.0:
        return Shown(f"> {_rounded(100.0 - least, decimals)}", "", "%")
    return Shown(_rounded(percent, decimals), "", "%")


def _order_up(number: float) -> int:
    """Power of ten that is at least as large as the number."""
    return math.ceil(math.log10(abs(number)) - 1e-9)


def _exact(number: float) -> Decimal:
    """The decimal that a float stands for, without the noise of its last bits."""
    return Decimal(f"{number:.{_EXACT_DIGITS - 1}e}")


def _rounded(number: float, decimals: int) -> str:
    """Figures with so many decimals, a true minus, and no negative zero."""
    figure = _exact(number).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN, _ROOMY)
    return _written(figure, decimals)


def _nearest(number: float, step: float) -> float:
    """The nearest whole step; the number itself where there is no step."""
    return round(number / step) * step if step else number


def _written(figure: Decimal, decimals: int) -> str:
    text = f"{abs(figure):.{max(decimals, 0)}f}"
    return text if figure >= 0 or not figure else f"\N{MINUS SIGN}{text}"


def _doubt(half: float, decimals: int) -> str:
    """The doubt beside a figure: at most two digits, rounded up unless it is close."""
    places = min(decimals, 1 - order(half))
    if half < 0.5 * 10.0**-places:
        places += 1  # one more digit rather than a zero
    step = Decimal(1).scaleb(-places)
    exact = _exact(half)
    near = exact.quantize(step, ROUND_HALF_EVEN, _ROOMY)
    if near * _DOUBT_SHORTFALL < exact or not near:
        near = exact.quantize(step, ROUND_CEILING, _ROOMY)
    return _written(near, places)
