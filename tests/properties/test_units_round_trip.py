"""Units there and back: no text is misread, no value is lost between typing and showing."""

import math
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.errors import InputError
from sleevewright.planning.answers import Quantity
from sleevewright.units import (
    Dimension,
    dimension_of,
    from_unit,
    parse,
    shown,
    symbols,
    to_unit,
)

SHOWABLE = [one.value for one in Quantity if one not in (Quantity.RECORD, Quantity.TEXT)]
NUMBERS = st.floats(-1e6, 1e6, allow_nan=False)
MINUS = "\N{MINUS SIGN}"


@given(number=NUMBERS, data=st.data())
def test_to_unit_undoes_from_unit(number: float, data: st.DataObject) -> None:
    """A number in any unit survives its way through SI to within its last bits."""
    dimension = data.draw(st.sampled_from(Dimension))
    unit = data.draw(st.sampled_from(symbols(dimension) or ("1",)))
    back = to_unit(from_unit(number, unit, dimension=dimension), unit, dimension=dimension)
    scale = 1000.0 if dimension is Dimension.TEMPERATURE else 1e-300
    assert back == pytest.approx(number, rel=1e-13, abs=1e-13 * scale)


@given(
    cents=st.integers(0, 99_999_999),
    places=st.integers(0, 5),
    separator=st.sampled_from([".", ","]),
    sign=st.sampled_from(["", "+", "-", MINUS]),
    space=st.sampled_from(["", " ", "  ", "\N{THIN SPACE}", "\N{NO-BREAK SPACE}"]),
    unit=st.sampled_from(["mm", "in", "thou", "µm", "tenths"]),
)
def test_either_separator_is_read_right_or_refused(
    *, cents: int, places: int, separator: str, sign: str, space: str, unit: str
) -> None:
    """Every way of writing a decimal number gives that number, or is refused; never another."""
    digits = str(cents).rjust(places + 1, "0")
    whole, rest = (digits[:-places], digits[-places:]) if places else (digits, "")
    text = f"{sign}{whole}{separator if rest else ''}{rest}{space}{unit}"
    meant = cents / 10**places * (-1.0 if sign in ("-", MINUS) else 1.0)
    try:
        said = parse(text, field="size", dimension=Dimension.LENGTH)
    except InputError as refusal:
        assert "comma" in str(refusal)  # noqa: PT017 - the refusal is one of two right outcomes
        assert separator == ","
        return
    assert said.value == pytest.approx(from_unit(meant, unit), rel=1e-12)


@given(
    text=st.text(alphabet=string.printable + "±µ°²³·−–½\u2009\u00a0", max_size=24),
    dimension=st.sampled_from(Dimension),
    nominal=st.sampled_from([None, 0.0635]),
    unit=st.booleans(),
)
def test_any_text_is_read_or_refused(
    text: str, dimension: Dimension, nominal: float | None, unit: bool
) -> None:
    """No text whatever does anything but give a finite value or a refusal."""
    implied = (symbols(dimension) or ("1",))[0] if unit else None
    try:
        said = parse(text, field="x", dimension=dimension, nominal=nominal, unit=implied)
    except InputError:
        return
    assert math.isfinite(said.value)
    assert said.doubt is None or said.doubt >= 0.0


@given(value=st.floats(1e-9, 1e3), quantity=st.sampled_from(SHOWABLE), data=st.data())
def test_shown_figures_typed_again_are_the_same_figures(
    value: float, quantity: str, data: st.DataObject
) -> None:
    """What is shown can be typed back in, and is then shown as it was."""
    system = data.draw(st.sampled_from(["inch", "metric"]))
    first = shown(value, quantity=quantity, system=system, given=True)
    typed = f"{first.figure} {first.unit}".strip()
    try:
        said = parse(typed, field="x", dimension=dimension_of(quantity))
    except InputError:
        # Impossible values (a probability of 20, metals that grow 0.1/K) stay refused.
        # A time promised at least that is below a second is shown as "< 1".
        assert quantity in ("probability", "change", "expansion", "temperature", "time at least")
        return
    if quantity == "time":  # 180 s and 3 min are one time
        assert said.value == pytest.approx(value, abs=0.5)
        return
    again = shown(said.value, quantity=quantity, system=system, given=True)
    assert again == first


@given(value=st.floats(0.02, 0.5), system=st.sampled_from(["inch", "metric"]))
def test_shown_size_is_within_half_its_last_digit(value: float, system: str) -> None:
    """A size is shown to half a tenth of a thou or half a micrometre."""
    result = shown(value, quantity="size", system=system)
    back = from_unit(float(result.figure), result.unit)
    step = 2.54e-6 if system == "inch" else 1e-6
    assert abs(back - value) <= 0.500001 * step


@given(
    value=st.floats(-1e3, 1e3),
    doubt=st.floats(1e-12, 1e6),
    quantity=st.sampled_from(SHOWABLE),
    system=st.sampled_from(["inch", "metric"]),
)
def test_doubt_is_shown_at_most_a_twentieth_short(
    value: float, doubt: float, quantity: str, system: str
) -> None:
    """A shown doubt is never zero, has at most two significant digits and hides little."""
    result = shown(value, quantity=quantity, system=system, doubt=doubt)
    if quantity in ("probability", "time at least", "time at most"):
        assert result.doubt == ""
        return
    number = float(result.doubt)
    assert number > 0.0
    assert len(result.doubt.replace(".", "").strip("0")) <= 2
    dimension = dimension_of(quantity)
    kind = Dimension.TEMPERATURE_DIFFERENCE if dimension is Dimension.TEMPERATURE else dimension
    assert from_unit(number, result.unit or "1", dimension=kind) * 1.0501 >= doubt
    assert result.figure.strip(MINUS).strip("0.") or MINUS not in result.figure
