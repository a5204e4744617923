"""Limits by the name of a class, against rows of ISO 286 and ANSI B4.1 as they are printed.

Rows of holes: ISO 286-2, tables of limit deviations (its corrigendum of 2006 for E8 and R10),
read in a maker's tables.  Shafts: JIS B 0401.  Inch fits: Machinery's Handbook, 27th edition,
Table 11, and 31st edition, Table 12.
"""

import csv
import itertools
from pathlib import Path

import pytest

from sleevewright.core.fits.ansi_b41 import ansi_classes, inch_fit, nearest_inch_class
from sleevewright.core.fits.grades import (
    fundamental_deviation,
    least_interference,
    standard_tolerance,
    tolerance_factor,
)
from sleevewright.core.fits.iso286 import (
    HOLES,
    SHAFTS,
    interference_range,
    nearest_iso_class,
    tabulated_tolerance,
    tolerance_zone,
)
from sleevewright.core.materials import table_text
from sleevewright.core.tables import rows_of
from sleevewright.errors import InputError

DATA = Path(__file__).parent / "data"
MICRON, THOU, INCH, MM = 1e-6, 25.4e-6, 25.4e-3, 1e-3
Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """Rows of a table of this folder."""
    with (DATA / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


HOLE_ROWS = rows("iso_286_holes_um.csv")
SHAFT_ROWS = rows("iso_286_shafts_um.csv")
INCH_ROWS = rows("ansi_b41_force_fits_thou.csv") + rows("ansi_b41_more_rows_thou.csv")
INCH_TABLE = rows_of(table_text("ansi_b41.csv"), name="ansi_b41.csv")


def ends(row: Row) -> tuple[float, float]:
    """Two sizes of a step: just above its lower end, and its upper end."""
    return (float(row["over_mm"]) + 0.001) * MM, float(row["up_to_mm"]) * MM


@pytest.mark.parametrize("row", HOLE_ROWS, ids=lambda row: f"{row['hole']} {row['over_mm']}")
def test_holes_are_those_that_are_printed(row: Row) -> None:
    """Both deviations, at both ends of the step: the lower end belongs to the step before."""
    for size in ends(row):
        zone = tolerance_zone(size=size, designation=row["hole"])
        assert zone.is_hole
        assert zone.low / MICRON == pytest.approx(float(row["lower_um"]), abs=1e-6)
        assert zone.high / MICRON == pytest.approx(float(row["upper_um"]), abs=1e-6)


@pytest.mark.parametrize("row", SHAFT_ROWS, ids=lambda row: f"{row['shaft']} {row['over_mm']}")
def test_shafts_are_those_that_are_printed(row: Row) -> None:
    """Both deviations of p6, r6, s6, t6 and u6, at both ends of the step."""
    for size in ends(row):
        zone = tolerance_zone(size=size, designation=row["shaft"])
        assert zone.low / MICRON == pytest.approx(float(row["lower_um"]), abs=1e-6)
        assert zone.high / MICRON == pytest.approx(float(row["upper_um"]), abs=1e-6)


@pytest.mark.parametrize("row", INCH_ROWS, ids=lambda row: f"{row['class']} {row['over_in']}")
def test_inch_fits_are_those_that_are_printed(row: Row) -> None:
    """Limits of both parts and the fit that they make, in thousandths of an inch."""
    for size in (float(row["over_in"]) + 0.001, float(row["up_to_in"])):
        fit = inch_fit(size=size * INCH, designation=row["class"])
        found = (fit.hole_high, fit.shaft_low, fit.shaft_high, fit.least, fit.most)
        cells = ("hole_upper", "shaft_lower", "shaft_upper", "least", "most")
        for value, cell in zip(found, cells, strict=True):
            assert value / THOU == pytest.approx(float(row[cell]), abs=1e-9), cell


def test_every_row_of_the_inch_table_agrees_with_itself() -> None:
    """Least and greatest as printed are what the printed limits of both parts make."""
    for row in INCH_TABLE:
        least = least_interference(
            shaft_low=row.number("shaft_low"), hole_high=row.number("hole_high")
        )
        assert row.number("least") == pytest.approx(float(least), abs=1e-9), row.place
        assert row.number("most") == row.number("shaft_high"), row.place
        assert row.number("shaft_low") < row.number("shaft_high"), row.place


def test_steps_of_the_inch_table_follow_one_another() -> None:
    """Within a class each step begins where the one before ends."""
    for name in ansi_classes():
        own = [row for row in INCH_TABLE if row.text("class") == name]
        for before, after in itertools.pairwise(own):
            assert after.number("over_in") == before.number("up_to_in"), after.place


def test_inch_and_metric_drive_fits_lie_together() -> None:
    """FN2 is H7/s6 by the heading of its table: both tables differ by 0.3 thou at most.

    American-British-Canadian agreement: Machinery's Handbook, 27th ed., Table 11, headings.
    """
    for size in (1.0, 1.7, 2.2, 3.0, 3.6, 4.5, 5.0, 6.0, 7.0):
        inch = inch_fit(size=size * INCH, designation="FN2")
        least, most = interference_range(size=size * INCH, hole="H7", shaft="s6")
        assert inch.least / THOU == pytest.approx(least / THOU, abs=0.3)
        assert inch.most / THOU == pytest.approx(most / THOU, abs=0.3)


def test_formula_reproduces_the_grades_where_the_standard_rounds_plainly() -> None:
    """Factor i = 0.45 D^(1/3) + 0.001 D times 7, 10 and 16 gives IT5 to IT7, 18 mm to 315 mm.

    ISO 286-1, basis of the standard tolerances.
    """
    steps = [(18, 30), (30, 50), (50, 80), (80, 120), (120, 180), (180, 250), (250, 315)]
    for over, up_to in steps:
        for grade in (5, 6, 7):
            by_formula = standard_tolerance(over=over * MM, up_to=up_to * MM, grade=grade)
            printed = tabulated_tolerance(size=up_to * MM, grade=grade)
            assert printed == pytest.approx(by_formula, abs=1e-12), (over, grade)


def test_coarse_grades_stay_near_the_formula() -> None:
    """25 i to 1000 i give IT8 to IT13 within 5 %: there the table rounds in its own way."""
    multiples = {8: 25, 9: 40, 10: 64, 11: 100, 12: 160, 13: 250}
    for over, up_to in ((18, 30), (50, 80), (120, 180), (400, 500)):
        factor = tolerance_factor(over=over * MM, up_to=up_to * MM)
        for grade, multiple in multiples.items():
            printed = tabulated_tolerance(size=up_to * MM, grade=grade)
            assert printed == pytest.approx(multiple * factor, rel=0.05)


NARROW = [
    (50, 65, 50, 80), (65, 80, 50, 80), (80, 100, 80, 120), (100, 120, 80, 120),
    (120, 140, 120, 180), (140, 160, 120, 180), (160, 180, 120, 180), (180, 200, 180, 250),
    (200, 225, 180, 250), (225, 250, 180, 250), (250, 280, 250, 315), (280, 315, 250, 315),
]  # fmt: skip


@pytest.mark.parametrize("step", NARROW)
@pytest.mark.parametrize("letter", ["s", "t", "u"])
def test_tight_shafts_follow_their_formula(letter: str, step: tuple[int, ...]) -> None:
    """s, t, u: IT7 plus 0.4 D, 0.63 D, D; the table rounds larger ones to 2, 5 or 10 um."""
    over, up_to, wide_over, wide_up_to = (end * MM for end in step)
    by_formula = fundamental_deviation(
        letter=letter, over=over, up_to=up_to, step_over=wide_over, step_up_to=wide_up_to
    )
    printed = tolerance_zone(size=up_to, designation=f"{letter}6").low
    assert printed == pytest.approx(by_formula, abs=2.5 * MICRON)


@pytest.mark.parametrize("step", NARROW)
def test_the_tightest_shaft_follows_its_formula(step: tuple[int, ...]) -> None:
    """x: IT7 + 1.6 D within 1 %, of ISO 286-1, basis of the deviations (from memory)."""
    over, up_to = (end for end in step[:2])
    mean = (over * up_to) ** 0.5
    width = tabulated_tolerance(size=up_to * MM, grade=7) / MICRON
    printed = tolerance_zone(size=up_to * MM, designation="x6").low / MICRON
    assert printed == pytest.approx(width + 1.6 * mean, rel=0.012)


def test_deltas_are_steps_between_grades() -> None:
    """Delta of a grade is its IT less that of the finer one (ISO 286-1); none up to 3 mm."""
    for row in rows_of(table_text("iso286_holes.csv"), name="iso286_holes.csv"):
        size = row.number("up_to_mm") * MM
        for grade in (5, 6, 7, 8):
            wide = tabulated_tolerance(size=size, grade=grade)
            fine = tabulated_tolerance(size=size, grade=grade - 1)
            step = 0.0 if size <= 3 * MM else round((wide - fine) / MICRON)
            assert row.number(f"delta{grade}") == step, row.place


@pytest.mark.parametrize("size", [5.0, 15.0, 25.0, 63.0, 130.0, 300.0, 500.0])
@pytest.mark.parametrize("letter", [*"defgh", *"prsux"])
def test_the_same_fit_on_hole_basis_and_on_shaft_basis(letter: str, size: float) -> None:
    """H7/p6 and P7/h6 are one fit, and so on: what the delta is for (ISO 286-1).

    It holds for p to x in grade 7 over 3 mm, and for d to h in every grade.
    """
    by_hole = interference_range(size=size * MM, hole="H7", shaft=f"{letter}6")
    by_shaft = interference_range(size=size * MM, hole=f"{letter.upper()}7", shaft="h6")
    assert by_hole == pytest.approx(by_shaft, abs=1e-12)


def test_letters_lie_in_order_and_zones_are_as_wide_as_their_grade() -> None:
    """From d to x shafts become larger, holes smaller; each zone is IT wide."""
    for size in (25.0, 63.0, 130.0, 400.0):
        width = tabulated_tolerance(size=size * MM, grade=7)
        for letters, sign in ((SHAFTS, 1.0), (HOLES, -1.0)):
            zones = [tolerance_zone(size=size * MM, designation=f"{one}7") for one in letters]
            middles = [sign * (zone.low + zone.high) for zone in zones]
            assert middles == sorted(middles)
            assert all(zone.high - zone.low == pytest.approx(width) for zone in zones)


def test_a_fit_is_placed_among_the_book_classes() -> None:
    """At a class at its middle, between two off it, beyond the last one outside."""
    least, most = interference_range(size=0.063, hole="H7", shaft="s6")
    middle = 0.5 * (least + most)
    assert nearest_iso_class(interference=middle, diameter=0.063) == "at H7/s6"
    assert nearest_iso_class(interference=70e-6, diameter=0.063) == "between H7/t6 and H7/u6"
    assert nearest_iso_class(interference=0.3e-3, diameter=0.063) == "tighter than H7/x6"
    assert nearest_iso_class(interference=1e-6, diameter=0.063) == "lighter than H7/p6"
    assert nearest_iso_class(interference=34e-6, diameter=0.020) == "between H7/s6 and H7/u6"
    # Table 11: 1.97 to 2.56 in, FN3 1.3 to 3.2, FN4 2.3 to 4.2 thou.
    assert nearest_inch_class(interference=2.25 * THOU, diameter=0.063) == "at FN3"
    assert nearest_inch_class(interference=2.8 * THOU, diameter=0.063) == "between FN3 and FN4"


@pytest.mark.parametrize(
    ("size", "name", "words"),
    [
        (0.6, "H7", "500 mm"),
        (-0.01, "H7", "more than zero"),
        (0.05, "q7", "a letter of d e f"),
        (0.05, "H", "a letter of d e f"),
        (0.05, "H14", "grades 5 to 13"),
        (0.02, "t6", "t above 24 mm"),
        (0.05, "K9", "grades up to 8"),
    ],
)
def test_what_the_tables_do_not_hold_is_refused(size: float, name: str, words: str) -> None:
    """Sizes, letters and grades outside the tables are named, with what is allowed."""
    with pytest.raises(InputError, match=words):
        tolerance_zone(size=size, designation=name)


@pytest.mark.parametrize(
    ("size", "name", "words"),
    [(9.0, "FN2", "7.88 in"), (0.5, "FN3", "over 0.95"), (2.0, "RC4", "FN1, FN2")],
)
def test_inch_fits_that_are_not_held_are_refused(size: float, name: str, words: str) -> None:
    """Sizes and classes outside the inch table are named, with what is allowed."""
    with pytest.raises(InputError, match=words):
        inch_fit(size=size * INCH, designation=name)
    with pytest.raises(InputError):
        nearest_inch_class(interference=1e-5, diameter=9.0 * INCH)
