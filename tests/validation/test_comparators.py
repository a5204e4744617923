"""Gauges that compare, against standards and simulated shops.

ISO 1:2016 for the reference temperature; JCGM 100:2008 H.1 for a length with temperatures and
F.1.2.3 for what two sizes share; GTC and plain draws as two further roads to the same doubt.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from GTC import ureal
from numpy.typing import NDArray
from scipy import stats

from comparator_examples import INSIDE, NOMINAL, ON_SLEEVE, THOU, job_of
from sleevewright.core.materials import default, material
from sleevewright.core.metrology.comparator import fit_from_dial, size_over_master
from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.core.metrology.repeatability import (
    Repeatability,
    pooled_repeatability,
    repeatability,
)
from sleevewright.core.metrology.size import size_with_errors
from sleevewright.planning.fit import fit_stage
from sleevewright.planning.ledger import Entry
from sleevewright.planning.parent import parent_stage
from sleevewright.planning.records import records_of
from sleevewright.planning.shop import Shop
from sleevewright.planning.sleeve import sleeve_stage

Array = NDArray[np.float64]

SIZE = float(NOMINAL.split()[0]) * 0.0254
STEEL = default("gauge_expansion").value
NOTHING = {"setting_error": 0.0, "resolution_error": 0.0, "repeat_error": 0.0, "form_error": 0.0}
MIC, TRANSFER, ZEROED = 0.2 * THOU / 1.96, 0.3 * THOU / 1.96, 0.3 * THOU / 1.96
PROBE = default("probe_temperature").doubt or 0.0
SCATTER, STEP = 0.1 * THOU, default("gauge_resolution").value
WARM = 1.111  # 70 F above 20 degC [K]


def cold_fit(setting: str = "", **more: str) -> Mapping[str, Entry]:
    """Sizes and fit of the job with its bore gauge set so."""
    told = records_of(job_of(setting, **more), Shop())
    sleeve = sleeve_stage(told.sleeve)
    parent = parent_stage(told.parent, sleeve)
    fit = fit_stage(told.fit, sleeve, parent)
    return {one.answer.id: one for stage in (sleeve, parent, fit) for one in stage.entries}


def doubt_of(entry: Entry) -> float:
    """Standard uncertainty of an answer; nought where it is in no doubt."""
    return 0.0 if entry.answer.doubt is None else entry.answer.doubt.standard


@pytest.fixture(scope="module")
def by_micrometer() -> Mapping[str, Entry]:
    """The bore gauge set from the micrometer that measured the sleeve."""
    return cold_fit()


@pytest.fixture(scope="module")
def by_dial() -> Mapping[str, Entry]:
    """The bore gauge zeroed on the sleeve itself."""
    return cold_fit(ON_SLEEVE)


def test_steel_of_a_hundred_millimetres_at_thirty_degrees() -> None:
    """ISO 1: 100 mm of steel, 11.5e-6/K, is 11.5 um longer at 30 degC; a master shows it."""
    at = size_over_master(
        master_size=0.1, on_dial=0.0, **NOTHING, part_expansion=0.0, part_rise=0.0,
        gauge_expansion=STEEL, gauge_rise=10.0, master_expansion=11.5e-6, master_rise=10.0,
    )  # fmt: skip
    assert (at - 0.1) * 1e6 == pytest.approx(11.5, abs=1e-3)


def test_aluminium_bore_against_a_steel_gauge() -> None:
    """ISO 1: 58 mm of aluminium, 23e-6/K, and a steel gauge, both at 28 degC: 5.336 um apart.

    Measured as the gauge shows it over the size at 20 degC, first order in both strains.
    """
    size = size_over_master(
        master_size=0.058, on_dial=0.0, **NOTHING, part_expansion=23e-6, part_rise=8.0,
        gauge_expansion=STEEL, gauge_rise=8.0, master_expansion=STEEL, master_rise=8.0,
    )  # fmt: skip
    assert (0.058 - size) * 1e6 == pytest.approx(5.336, abs=1.5e-3)


def test_a_master_of_the_gauge_s_own_steel_is_the_plain_correction() -> None:
    """JCGM 100 H.1: gauge and master alike, the model is that of a scale of its own."""
    at = {"part_expansion": 21e-6, "part_rise": 7.0, "gauge_expansion": STEEL, "gauge_rise": 3.0}
    plain = size_with_errors(mean=0.067, **NOTHING, **at)
    over = size_over_master(
        master_size=0.067, on_dial=0.0, **NOTHING, **at, master_expansion=STEEL, master_rise=-2.0
    )
    assert over == pytest.approx(float(plain), abs=1e-15)


def test_shared_micrometer_takes_no_part_in_the_fit(by_micrometer: Mapping[str, Entry]) -> None:
    """JCGM 100 F.1.2.3: the fit is less in doubt than from two sizes that share nothing."""
    sizes = math.hypot(doubt_of(by_micrometer["sleeve.od"]), doubt_of(by_micrometer["bore.size"]))
    assert doubt_of(by_micrometer["fit.cold"]) < 0.9 * sizes
    apart = cold_fit(set_from="ring")
    alone = math.hypot(doubt_of(apart["sleeve.od"]), doubt_of(apart["bore.size"]))
    assert doubt_of(apart["fit.cold"]) == pytest.approx(alone, rel=0.02)


def of_gtc(entries: Mapping[str, Entry], *, on_sleeve: bool) -> float:
    """Standard uncertainty of the fit by GTC, from the errors alone, the model written anew."""

    def error(name: str, standard: float | None = None) -> Any:
        return ureal(0.0, doubt_of(entries[name]) if standard is None else standard)

    mic, transfer = error("mic", MIC), error("transfer", ZEROED if on_sleeve else TRANSFER)
    sleeve = mic + sum((error(f"sleeve.od.{one}") for one in ("resolution", "repeat", "form")),
                       ureal(0.0, 0.0))  # fmt: skip
    bore = transfer + sum((error(f"bore.size.{one}") for one in ("resolution", "repeat", "form")),
                          ureal(0.0, 0.0))  # fmt: skip
    warm = [ureal(WARM, PROBE) for _ in range(4)]
    iron = float(material("grey-iron").expansion.reference)
    aluminium = float(material("aluminium-356").expansion.reference)
    od = (SIZE + sleeve) * (1.0 + STEEL * warm[0]) / (1.0 + iron * warm[1])
    if not on_sleeve:
        read = SIZE - 3.5 * THOU + mic + bore
        size = read * (1.0 + STEEL * warm[2]) / (1.0 + aluminium * warm[3])
        return float((od - size).u)
    place = error("bore.size.place")
    grown = od * (1.0 + iron * warm[2]) - 3.5 * THOU + bore + place
    return float((od - grown / (1.0 + aluminium * warm[3])).u)


def test_doubt_of_the_fit_by_gtc(
    by_micrometer: Mapping[str, Entry], by_dial: Mapping[str, Entry]
) -> None:
    """Uncertain numbers that know what they share give the plan's doubt, both ways of setting."""
    for entries, on_sleeve in ((by_micrometer, False), (by_dial, True)):
        expected = of_gtc(entries, on_sleeve=on_sleeve)
        assert doubt_of(entries["fit.cold"]) == pytest.approx(expected, rel=0.015)


def test_dial_and_sizes_are_one_fit(by_dial: Mapping[str, Entry]) -> None:
    """Off the dial and as sleeve less bore: the same number, the same doubt; two roads."""
    fit = by_dial["fit.cold"]
    sizes = by_dial["sleeve.od"].point - by_dial["bore.size"].point
    assert fit.point == pytest.approx(sizes, abs=1e-15)
    assert fit.point == pytest.approx(3.5 * THOU, abs=0.06 * THOU)
    names = {one.input for one in fit.answer.doubt.contributors} if fit.answer.doubt else set()
    assert "gauge.mic-2-3.setting" not in names
    assert doubt_of(fit) < doubt_of(by_dial["fit.by_sizes"])


DEPTHS: Array = np.array([0.0, 0.02, 0.04])
ROUND: Array = np.linspace(0.0, 0.75 * math.pi, 4)
READ = DEPTHS.size * ROUND.size


def pooled(readings: Array) -> tuple[Array, float]:
    """Scatter of one reading of each shop and its freedom, by the core's rule for all at once."""
    levels = np.repeat(np.eye(DEPTHS.size), ROUND.size, axis=0)
    turned = np.tile(ROUND, DEPTHS.size)
    design = np.column_stack([levels, np.cos(2.0 * turned), np.sin(2.0 * turned)])
    left = readings - readings @ (design @ np.linalg.pinv(design))
    own = READ - design.shape[1]
    stated = default("reading_repeatability").value
    freedom = own + 8.0
    return np.sqrt(((left**2).sum(axis=1) + 8.0 * stated**2) / freedom), freedom


def test_the_shops_are_judged_by_the_core_s_own_rule() -> None:
    """The scatter of all shops at once is what the core finds for one."""
    read = SIZE + np.random.default_rng(3).normal(0.0, SCATTER, (4, READ))
    found, freedom = pooled(read)
    for shop in range(4):
        grid = SizeGrid(DEPTHS, ROUND, read[shop].reshape(DEPTHS.size, ROUND.size))
        stated = Repeatability(default("reading_repeatability").value, 8.0)
        expected = pooled_repeatability(repeatability(grid), stated)
        assert found[shop] == pytest.approx(expected.standard, rel=1e-7)
        assert freedom == expected.degrees_of_freedom


def gauged(true: Array, chance: np.random.Generator) -> Array:
    """Readings of a size, read to whole steps, as offsets that keep their last digits."""
    read = true[:, None] + chance.normal(0.0, SCATTER, (true.size, READ))
    whole: Array = np.round((read - SIZE) / STEP) * STEP
    return whole


def covered(shops: int, *, on_sleeve: bool, shares: bool = True) -> float:
    """Share of simulated shops whose 95 % interval of the fit holds the true fit.

    ``shares`` says whether the interval knows that the micrometer is common to both sizes.
    """
    chance = np.random.default_rng(20261130)
    iron, aluminium = (material(one).expansion for one in ("grey-iron", "aluminium-356"))
    scale = {one: chance.normal(1.0, material(one).expansion_doubt, shops)
             for one in ("grey-iron", "aluminium-356")}  # fmt: skip
    mic = chance.normal(0.0, MIC, shops)
    setting = chance.normal(0.0, ZEROED if on_sleeve else TRANSFER, shops)
    warm = WARM + chance.normal(0.0, PROBE, (4, shops))
    steel = chance.normal(STEEL, default("gauge_expansion").doubt or 0.0, shops)
    a_s, a_c = iron.reference * scale["grey-iron"], aluminium.reference * scale["aluminium-356"]
    tight = chance.uniform(2.5, 4.5, shops) * THOU
    outside = SIZE + chance.uniform(-0.3, 0.3, shops) * THOU
    shown = outside * (1.0 + a_s * warm[1]) / (1.0 + steel * warm[0]) - mic
    od_read = gauged(shown, chance)
    hot = (outside - tight) * (1.0 + a_c * warm[3])
    if on_sleeve:
        bore = SIZE + hot - outside * (1.0 + a_s * warm[2]) - setting
    else:
        bore = hot / (1.0 + steel * warm[2]) - mic - setting
    bore_read = gauged(bore, chance)
    at = {"part_expansion": float(aluminium.reference), "part_rise": WARM,
          "gauge_expansion": STEEL, "gauge_rise": WARM}  # fmt: skip
    od = size_with_errors(
        mean=SIZE + od_read.mean(axis=1), **NOTHING, part_expansion=float(iron.reference),
        part_rise=WARM, gauge_expansion=STEEL, gauge_rise=WARM,
    )  # fmt: skip
    over = bore_read.mean(axis=1)
    if on_sleeve:
        found = fit_from_dial(diameter=SIZE, on_dial=over, **NOTHING, **at,
                              master_expansion=float(iron.reference), master_rise=WARM)  # fmt: skip
    else:
        found = od - size_with_errors(mean=SIZE + over, **NOTHING, **at)
    half = _half(od_read, bore_read, on_sleeve=on_sleeve, shares=shares)
    return float(np.mean(np.abs(found - tight) <= half))


def _half(od_read: Array, bore_read: Array, *, on_sleeve: bool, shares: bool) -> Array:
    """Half of the 95 % interval of the fit of each shop, by JCGM 100 G.4."""
    iron, aluminium = (material(one).expansion.reference for one in ("grey-iron", "aluminium-356"))
    (od_scatter, freedom), (bore_scatter, _) = pooled(od_read), pooled(bore_read)
    coarse = (STEP**2 / 12.0) / READ
    warmth = SIZE * PROBE * np.array([STEEL, iron, iron if on_sleeve else STEEL, aluminium])
    fixed = (ZEROED if on_sleeve else TRANSFER) ** 2 + coarse + (warmth[2:] ** 2).sum()
    repeats = [bore_scatter**2 / READ]
    if not on_sleeve:
        fixed += coarse + (warmth[:2] ** 2).sum()
        repeats.append(od_scatter**2 / READ)
    if not shares:
        fixed += 2.0 * MIC**2
    whole = fixed + sum(repeats)
    nu = whole**2 / sum(one**2 / freedom for one in repeats)
    half: Array = stats.t.ppf(0.975, nu) * np.sqrt(whole)
    return half


@pytest.mark.parametrize("on_sleeve", [False, True])
def test_intervals_of_the_fit_hold_the_truth_as_often_as_they_say(*, on_sleeve: bool) -> None:
    """JCGM 100 G: of 10,000 simulated shops 94 to 96 % have the true fit in their interval."""
    assert 0.94 <= covered(10_000, on_sleeve=on_sleeve) <= 0.96


def test_a_budget_that_forgets_what_is_shared_is_found_out() -> None:
    """The same shops hold the truth too often where the micrometer is counted twice."""
    assert covered(10_000, on_sleeve=False, shares=False) > 0.97


def test_plan_s_doubt_is_that_of_the_shops(
    by_micrometer: Mapping[str, Entry],
) -> None:
    """The budget that the shops were judged by is the plan's own, form between stations apart."""
    od = np.zeros((1, READ))
    bore = np.array(INSIDE).reshape(1, READ) * THOU
    parts = [doubt_of(by_micrometer[f"{one}.form"]) for one in ("sleeve.od", "bore.size")]
    own = math.sqrt(doubt_of(by_micrometer["fit.cold"]) ** 2 - parts[0] ** 2 - parts[1] ** 2)
    half = float(_half(od, bore, on_sleeve=False, shares=True)[0])
    assert own * 1.96 == pytest.approx(half, rel=0.04)
