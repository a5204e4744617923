"""What sources say of a fit: the data, read here by other means and held against the print.

Each row of ``PRINTED`` is what stands in the source that ``docs/sources/fits.md`` describes
under the key of the row: a trade column of 2010 and a copy of it, a repair-sleeve maker's
fitting sheet, a trade feature that asks two suppliers, an owners' forum and an owners' club,
two diesel manuals, a car manual of 1973.  Rows of common practice carry the figures that a
shop states by the inch.  The data are read with the csv module and the printed figures with
the parser of what is said at a bench, so that a slip in a power of ten cannot hide.
"""

import csv
import re
from dataclasses import replace

import pytest

from project_files import ROOT, assert_nothing, text_of
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.running import running_interference
from sleevewright.core.materials import default, material
from sleevewright.core.tables import rows_of
from sleevewright.errors import InputError
from sleevewright.planning.fit_advice import is_believable
from sleevewright.planning.fit_presets import reasons
from sleevewright.planning.fit_statements import (
    BOUNDS,
    FILE,
    NORMALISED,
    REJECTED,
    STANDS,
    Statement,
    statement_of,
    statements,
)
from sleevewright.units import Dimension, parse

DATA = ROOT / "src" / "sleevewright" / "data" / FILE
THREE_INCHES = 3 * 0.0254

PRINTED = {
    "iron-block": ("sleeve-column", ".0015in", ".002in", NORMALISED),
    "aluminium-block": ("sleeve-column", ".003in", ".004in", NORMALISED),
    "iron-block-percent": ("sleeve-column-copy", ".0015in", ".002in", REJECTED),
    "aluminium-block-percent": ("sleeve-column-copy", ".003in", ".004in", REJECTED),
    "sheet-to-5-1-8": ("sleeve-sheet", "", ".003in", STANDS),
    "sheet-to-6-1-2": ("sleeve-sheet", "", ".004in", STANDS),
    "sheet-to-8-1-2": ("sleeve-sheet", "", ".005in", STANDS),
    "feature-first": ("sleeve-feature", ".003in", ".004in", STANDS),
    "feature-flanged": ("sleeve-feature", "0in", "", STANDS),
    "feature-second": ("sleeve-feature", ".0015in", ".003in", STANDS),
    "feature-distorts": ("sleeve-feature", "", ".004in", STANDS),
    "factory-twin": ("twin-forum", "2thou", "2thou", STANDS),
    "owners-muff": ("club-thread", "6thou", "6thou", STANDS),
    "sellers-page": ("sellers-page", "3thou", "6thou", STANDS),
    "diesel-clearance": ("diesel-manual", "0.08mm", "0.145mm", NORMALISED),
    "diesel-interference": ("diesel-manual-sister", "0.08mm", "0.145mm", STANDS),
    "car-tenfold": ("car-manual", "0.8mm", "0.9mm", REJECTED),
    "practice-water": ("practice", "0.8thou/in", "1.3thou/in", STANDS),
    "practice-air": ("practice", "1.3thou/in", "2.0thou/in", STANDS),
    "practice-fan": ("practice", "1.0thou/in", "1.6thou/in", STANDS),
    "practice-iron": ("practice", "0.4thou/in", "0.9thou/in", STANDS),
}


def plain_rows() -> dict[str, dict[str, str]]:
    """Rows of the file as plain words, by name."""
    lines = [one for one in text_of(DATA).splitlines() if not one.startswith("#")]
    return {row["id"]: row for row in csv.DictReader(lines)}


ROWS = plain_rows()


def said(text: str, unit: str) -> float:
    """SI value of a printed figure."""
    kind = Dimension.LENGTH if unit == "m" else Dimension.RATIO
    return parse(text, field="printed", dimension=kind).value


def test_nothing_is_said_that_is_not_held_against_its_print() -> None:
    """Every row of the data has its printed figures here, and no name is there twice."""
    assert set(ROWS) == set(PRINTED)
    assert [one.id for one in statements()] == list(ROWS)


@pytest.mark.parametrize("name", PRINTED)
def test_statement_is_that_of_its_source(name: str) -> None:
    """Key, ends and standing are those of the print."""
    source, low, high, standing = PRINTED[name]
    row = ROWS[name]
    assert (row["source"], row["standing"]) == (source, standing)
    for key, text in (("low", low), ("high", high)):
        assert bool(row[key]) is bool(text), key
        if text:
            assert float(row[key]) == pytest.approx(said(text, row["unit"]), abs=1e-12), key


def test_sizes_of_the_sheet_are_those_of_its_table() -> None:
    """Cylinder bores of 2 to 5 1/8, to 6 1/2 and to 8 1/2 inches, one after the other."""
    ends = [2.0, 5.125, 6.5, 8.5]
    found = [one for one in statements() if one.source == "sleeve-sheet"]
    for one, low, high in zip(found, ends[:-1], ends[1:], strict=True):
        assert (one.size_low / 0.0254, one.size_high / 0.0254) == pytest.approx((low, high))


@pytest.mark.parametrize("one", statements(), ids=lambda one: one.id)
def test_statement_says_what_it_means_and_is_a_fit(one: Statement) -> None:
    """What counts lies within half a hundredth of any usual diameter; its source is listed."""
    known = re.findall(r"^## (\S+)", text_of(ROOT / "docs" / "sources" / "fits.md"), re.MULTILINE)
    assert one.source in {*known, "practice"}
    assert one.bound in BOUNDS
    assert one.means
    if one.counts:
        assert is_believable(one, 0.050)
    else:
        assert "meant" in one.reason


def test_per_cent_is_no_thou() -> None:
    """Either reading of the printed sign is absurd, and the reason tells both as they are.

    0.003 % of 3 in is 0.09 thou, and 3 % of it 90 thou; 0.002 % is 0.06 and 2 % 60 thou.
    """
    for name, figure in (("aluminium-block-percent", 0.003), ("iron-block-percent", 0.002)):
        one = next(row for row in statements() if row.id == name)
        as_printed = figure / 100.0 * THREE_INCHES / 25.4e-6
        as_thou = 1000.0 * figure / 100.0 * THREE_INCHES / 25.4e-6
        assert f"{as_printed:.2f} thou" in one.reason
        assert f"{as_thou:.0f} thou" in one.reason
        assert "%" in one.as_said


def test_clearance_is_taken_as_the_interference_that_a_sister_manual_prints() -> None:
    """The manual that says clearance and the one that says interference have the same ends."""
    slip, sister = (
        next(one for one in statements() if one.id == name)
        for name in ("diesel-clearance", "diesel-interference")
    )
    assert "clearance" in slip.as_said
    assert "interference" in sister.as_said
    assert (slip.low, slip.high) == (sister.low, sister.high)
    assert slip.counts


def test_a_lost_decimal_is_not_believed() -> None:
    """0.8 mm on a liner of 77 mm is over a hundredth of it; a tenth of that could be a fit."""
    one = next(row for row in statements() if row.id == "car-tenfold")
    assert not is_believable(one, 0.077)
    assert is_believable(replace(one, low=0.08e-3, high=0.09e-3), 0.077)


GOOD = "x,practice,practice,a source,stands,iron,iron,air,block,any,,,fit,range,1e-5,2e-5,m,a,b,c,"


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ("range,1e-5,2e-5", "range,3e-5,2e-5", "low"),
        ("range,1e-5,2e-5", "about,1e-5,2e-5", "low"),
        ("range,1e-5,2e-5", "most,1e-5,2e-5", "low"),
        ("range,1e-5,2e-5", "least,1e-5,2e-5", "high"),
        ("range,1e-5,2e-5", "range,-1e-5,2e-5", "low"),
        ("2e-5,m", "2e-5,1", "unit"),
        (",stands,", ",rejected,", "reason"),
        (",air,", ",steam,", "cooling"),
        (",any,,,", ",any,2,1,", "size_low"),
        ("range,", "perhaps,", "bound"),
    ],
)
def test_row_that_cannot_be_right_is_refused(old: str, new: str, named: str) -> None:
    """A slip in the data is found when they are read, and the refusal names its place."""
    heading = next(one for one in text_of(DATA).splitlines() if one.startswith("id,"))
    whole = rows_of(f"{heading}\n{GOOD}\n", name="rows")
    assert statement_of(whole[0]).high == pytest.approx(2e-5)
    assert GOOD.count(old) == 1 or old == ",any,,,"
    broken = rows_of(f"{heading}\n{GOOD.replace(old, new, 1)}\n", name="rows")
    with pytest.raises(InputError, match=named):
        statement_of(broken[0])


def test_reasons_tell_what_the_running_fit_loses() -> None:
    """Each preset's loss is that of free growth at the temperatures assumed for its cooling.

    The second road is a plain sum: what the casting's bore grows over the sleeve's outside,
    each by its mean expansion from 20 degC.
    """
    sleeve = material("unknown-iron").expansion
    for one in reasons():
        casting = material(f"unknown-{one.casting}").expansion
        for way, lost in (("running", one.lost_warm), ("hard", one.lost_hard)):
            hot = [default(f"{way}_{part}_{one.cooling}").value for part in ("casting", "sleeve")]
            grown = [_grown(law, at) for law, at in zip((casting, sleeve), hot, strict=True)]
            assert lost == pytest.approx(THREE_INCHES * (grown[0] - grown[1]), rel=0.02, abs=2e-7)
            left = running_interference(
                diameter=THREE_INCHES, interference=0.0, casting_temperature=hot[0],
                sleeve_temperature=hot[1], casting_law=casting, sleeve_law=sleeve,
            )  # fmt: skip
            assert -float(left) == pytest.approx(lost, rel=0.02, abs=2e-7)
        if one.lost_warm > 0.0:
            for size in (1.0, 1.5):  # a loss goes with the diameter
                words = one.said(size * THREE_INCHES, system="inch")
                figures = [size * lost / 25.4e-6 for lost in (one.lost_warm, one.lost_hard)]
                assert_nothing([f for f in figures if f"{f:.1f} thou" not in words])


def _grown(law: ExpansionLaw, temperature: float) -> float:
    """Strain from 20 degC by the mean coefficient at a temperature."""
    rise = temperature - 293.15
    return float((law.reference + law.slope * rise) * rise)


def test_rejected_rows_are_kept_and_never_counted() -> None:
    """Nothing is dropped in silence: what cannot be put right stands in the data, with why."""
    rejected = {name for name, row in ROWS.items() if row["standing"] == REJECTED}
    assert rejected == {one.id for one in statements() if not one.counts}
    assert len(rejected) == 3
    assert_nothing([name for name in rejected if not ROWS[name]["reason"]])
