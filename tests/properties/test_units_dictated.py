"""Number words go there and back; whatever is dictated is right or left alone."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.errors import InputError
from sleevewright.units.dictation import decimal_of, number_words, written
from sleevewright.units.exact import NM, nanometres
from sleevewright.units.gaugetext import strip_gauge
from sleevewright.units.keyed import keyed

WHOLE = st.integers(0, 20).map(Fraction)
PARTS = st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1, 4)])
NUMBERS = st.one_of(
    st.builds(lambda whole, part: whole + part, WHOLE, PARTS),
    st.integers(0, 20_999).map(lambda count: Fraction(count, 1000)),
)
SIGNS = st.sampled_from([("", "{}"), ("+", "plus {}"), ("+", "{} over"), ("-", "minus {}"),
                         ("-", "{} under"), ("-", "{} below")])  # fmt: skip
UNITS = st.sampled_from(
    [
        ("", ""),
        ("tenths", "tenths"),
        ("thou", "thou"),
        ("µm", "microns"),
        ("thou", "thousandths"),
        ("in", "inches"),
        ("mm", "millimetres"),
    ]
)


@settings(max_examples=400, deadline=None)
@given(NUMBERS, SIGNS, UNITS)
def test_number_words_go_there_and_back(
    number: Fraction, sign: tuple[str, str], unit: tuple[str, str]
) -> None:
    """A number said in words is written as its digits, with its sign and unit."""
    said = sign[1].format(f"{number_words(number)} {unit[1]}".strip())
    assert written(said) == f"{sign[0]}{decimal_of(number)} {unit[0]}".strip()


@settings(max_examples=400, deadline=None)
@given(NUMBERS, st.sampled_from(["+", "-"]), st.sampled_from(["tenths", "thou", "µm"]))
def test_a_dictated_deviation_counts_exactly(number: Fraction, sign: str, unit: str) -> None:
    """Two tenths over is the nominal and 5,080 nm, whatever the words."""
    words = {"+": "over", "-": "under"}[sign]
    said = f"{number_words(number)} {unit} {words}"
    nominal = 66_954_400
    off = number * NM[unit] * (1 if sign == "+" else -1)
    assert nanometres(written(said), "thou", nominal) == round(nominal + off)


@settings(max_examples=400, deadline=None)
@given(st.text(max_size=40))
def test_any_text_is_written_or_left_alone(text: str) -> None:
    """No text breaks the reader, and what is not understood comes back as it was."""
    plain = written(text)
    assert isinstance(plain, str)
    assert written(plain) in (plain, written(plain))
    assert keyed(keyed(text)) == keyed(text)


@settings(max_examples=300, deadline=None)
@given(st.text(st.sampled_from("01A+-.,MI m\N{MINUS SIGN}Be"), max_size=14))
def test_what_a_gauge_types_is_a_number_or_refused(text: str) -> None:
    """Whatever comes through is one number that the text holds, with its digits in order."""
    try:
        number = strip_gauge(text)
    except InputError:
        return
    digits = [letter for letter in number if letter.isdigit()]
    held = [letter for letter in keyed(text) if letter.isdigit()]
    assert digits == held[len(held) - len(digits) :] or digits[1:] == held[-len(digits) + 1 :]
