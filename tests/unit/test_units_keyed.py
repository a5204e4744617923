"""Shapes of digits and signs, exact whole numbers, dictated words and gauges that type."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sleevewright.errors import InputError
from sleevewright.units.dictation import decimal_of, number_words, written
from sleevewright.units.exact import millikelvin, nanometres, number_of
from sleevewright.units.gaugetext import SHAPES, strip_gauge
from sleevewright.units.keyed import keyed

NOMINAL = 66_954_400  # 2.6360 in


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("\N{FULLWIDTH DIGIT SIX}\N{FULLWIDTH DIGIT THREE}\N{FULLWIDTH FULL STOP}5", "63.5"),
        ("\N{ARABIC-INDIC DIGIT SIX}\N{ARABIC DECIMAL SEPARATOR}\N{ARABIC-INDIC DIGIT FIVE}",
         "6.5"),
        ("\N{RIGHT-TO-LEFT MARK}\N{MINUS SIGN}2", "-2"),
        ("\N{FULLWIDTH PLUS SIGN}3,5\N{NARROW NO-BREAK SPACE}\N{FULLWIDTH LATIN SMALL LETTER M}m",
         "+3,5 mm"),
        ("90 °, 5 µm ± 1", "90 °, 5 µm ± 1"),
        ("  2.6368\tin ", "2.6368 in"),
    ],
)  # fmt: skip
def test_shapes_of_digits_and_signs_become_plain(text: str, plain: str) -> None:
    """What a browser may send for a digit, a sign or a space is one thing."""
    assert keyed(text) == plain


@pytest.mark.parametrize(
    ("text", "unit", "nominal", "nm"),
    [
        ("0.0001 in", None, None, 2_540),  # 1 in is 25.4 mm (NIST SP 811, appendix B)
        ("2.6368 in", None, None, 66_974_720),
        ("+0.8", "thou", NOMINAL, 66_974_720),
        ("-2 tenths", None, NOMINAL, 66_949_320),
        ("\N{MINUS SIGN}2 tenths", None, NOMINAL, 66_949_320),
        ("0", "thou", NOMINAL, NOMINAL),
        ("2.6368", "thou", NOMINAL, 66_974_720),
        ("63,50 mm", None, None, 63_500_000),
        ("+124", "µm", 66_000_000, 66_124_000),
        ("1e-3 m", None, None, 1_000_000),
        ("1.5 x 10^-3 m", None, None, 1_500_000),
        ("0.00001 in", None, None, 254),
        ("0.0000001 in", None, None, 3),
    ],
)
def test_lengths_are_counted_in_whole_nanometres(
    text: str, unit: str | None, nominal: int | None, nm: int
) -> None:
    """No float stands between the keyed digits and the count."""
    assert nanometres(text, unit, nominal) == nm


def test_every_tenth_of_a_thou_is_2540_nanometres_exactly() -> None:
    """A float of metres would be off in the last place; the count never is."""
    for tenths in range(0, 40_000, 7):
        assert nanometres(f"{tenths / 10_000:.4f} in") == tenths * 2_540


@pytest.mark.parametrize("text", ["", "abc", "1,234 thou", "1.2.3 mm", "3.5", "5 lb"])
def test_what_cannot_be_read_in_one_way_is_not_counted(text: str) -> None:
    """The exact count refuses what the reader of texts refuses."""
    with pytest.raises(InputError):
        nanometres(text)


def test_temperatures_are_counted_in_whole_millikelvin() -> None:
    """350 F is 449.8166... K; 20 C is 293.15 K (ISO 1)."""
    assert millikelvin("350 F") == 449_817
    assert millikelvin("20 C") == 293_150
    assert millikelvin("-40 F") == millikelvin("-40 C") == 233_150


def test_a_number_is_taken_from_the_start_of_a_text() -> None:
    """Only the number counts, in all its digits."""
    assert number_of("-0,125 mm") == Fraction(-1, 8)
    with pytest.raises(InputError):
        number_of("mm")
    with pytest.raises(InputError, match="power of ten"):
        number_of("1e99")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("two tenths over", "+2 tenths"),
        ("minus two tenths", "-2 tenths"),
        ("Two tenths under", "-2 tenths"),
        ("half a thou over", "+0.5 thou"),
        ("three and a half thou over", "+3.5 thou"),
        ("three-and-a-half over", "+3.5"),
        ("a tenth under", "-1 tenths"),
        ("plus four thousandths", "+4 thou"),
        ("three point two five", "3.25"),
        ("point five over", "+0.5"),
        ("three thou two tenths over", "+3.2 thou"),
        ("three thou and two tenths under", "-3.2 thou"),
        ("twelve microns over", "+12 µm"),
        ("3.5 over", "+3.5"),
        ("3,5 over", "+3.5"),
        ("zero", "0"),
        ("three thou and a half over", "+3.5 thou"),
        ("a thou and a half under", "-1.5 thou"),
        ("two tenths and a quarter", "2.25 tenths"),
        ("ten thousandths over", "ten thousandths over"),
        ("two ten-thousandths over", "two ten-thousandths over"),
        ("eleven thousandths over", "+11 thou"),
        ("one quarter thou", "one quarter thou"),
        ("two tens over", "two tens over"),
        ("minus two over", "minus two over"),
        ("minus -2", "minus -2"),
        ("over", "over"),
        ("two two tenths", "two two tenths"),
        ("+3.5 thou", "+3.5 thou"),
        ("2.6368 in", "2.6368 in"),
        ("two and", "two and"),
        ("point", "point"),
    ],
)
def test_dictated_words_are_written_as_they_would_be_keyed(text: str, plain: str) -> None:
    """What has no meaning here is left as it is, for the reader behind to refuse."""
    assert written(text) == plain


def test_a_hundredth_counts_only_where_it_has_one_meaning() -> None:
    """In a metric set a hundredth is 0.01 mm; elsewhere it is left to be refused."""
    assert written("two hundredths over", hundredth="mm") == "+0.02 mm"
    assert written("two hundredths over") == "two hundredths over"
    with pytest.raises(InputError):
        nanometres(written("two hundredths"))


def test_numbers_are_said_in_words() -> None:
    """Halves, quarters and digits behind the point."""
    assert number_words(Fraction(5, 2)) == "two and a half"
    assert number_words(Fraction(1, 4)) == "a quarter"
    assert number_words(Fraction("0.35")) == "zero point three five"
    assert decimal_of(Fraction(1, 8)) == "0.125"


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("01A+000.1234", "+0.1234"),
        ("01A-012.3450", "-12.3450"),
        ("01A+000.1234I", "+0.1234 in"),
        ("01A+002.340M", "+2.340 mm"),
        ("+12.345mm", "+12.345 mm"),
        ("12,345 mm", "12,345 mm"),
        ("CH2 = 0.0135 in", "0.0135 in"),
        ("X: -0.012", "-0.012"),
        ("2.6368\N{FULLWIDTH LATIN SMALL LETTER I}n", "2.6368 in"),
        ("0.1234;", "0.1234"),
        (".1234", "0.1234"),
        ("-00", "-0"),
    ],
)
def test_a_gauge_is_stripped_of_what_it_puts_around_its_number(text: str, number: str) -> None:
    """Prefix, suffix and filling zeros go; sign, digits and unit stay."""
    assert strip_gauge(text) == number


@pytest.mark.parametrize(
    "text", ["01B1", "01C", "ERROR", "Err 3", "LOW BATT", "---", "***", "OVER"]
)
def test_a_gauge_that_tells_an_error_is_refused(text: str) -> None:
    """A status is no number, whatever digits stand in it."""
    with pytest.raises(InputError, match="no number"):
        strip_gauge(text)


@pytest.mark.parametrize("text", ["", "12 34", "1A+0.1", "12.3.4 mm", "0.12 lb", "a12", "01A+0001"])
def test_writing_that_is_not_known_is_refused(text: str) -> None:
    """Nothing is taken out of the middle of a text."""
    with pytest.raises(InputError):
        strip_gauge(text)


def test_the_shapes_are_told_apart_by_name() -> None:
    """Each shape has a name of its own."""
    assert len({shape.name for shape in SHAPES}) == len(SHAPES)
