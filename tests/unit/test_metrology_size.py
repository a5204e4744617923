"""The budget of a mean size: what is shared, what averages out, what a mean misses."""

import math
from functools import partial

import numpy as np
import pytest

from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.grid import GridReadings, SizeGrid, mean_size, sizes_at_reference
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.size import (
    GaugeDoubt,
    SizeInputs,
    TemperatureDoubt,
    form_missed,
    size_inputs,
    size_of,
)
from sleevewright.core.uncertainty.inputs import InputQuantity, draw
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.core.uncertainty.sampled import summarise
from sleevewright.errors import InputError

THOU = 25.4e-6
MASTER = InputQuantity("mic: setting", 0.0, 0.2 * THOU)
TRANSFER = InputQuantity("bore gauge: transfer", 0.0, 0.1 * THOU)
ROOM = InputQuantity("room: temperature", 0.0, 2.0)
STEEL, ALUMINIUM, IRON = 11.5e-6, 20.7e-6, 10.7e-6


def inputs_of(
    feature: str,
    mean: float,
    alpha: float,
    settings: tuple[InputQuantity, ...] = (MASTER,),
    resolution: float = 0.1 * THOU,
) -> SizeInputs:
    """Three stations by four directions, read at 25 degC, everything at one room temperature."""
    pattern = np.array([[0.0, 0.1, 0.1, 0.0], [0.1, 0.1, 0.2, 0.1], [0.2, 0.2, 0.3, 0.1]])
    readings = GridReadings(
        np.array([10e-3, 40e-3, 70e-3]),
        np.radians([0.0, 45.0, 90.0, 135.0]),
        mean + pattern * THOU,
        298.15,
        298.15,
    )
    sizes = sizes_at_reference(readings, part_expansion=alpha, gauge_expansion=STEEL)
    return size_inputs(
        readings,
        sizes,
        feature=feature,
        gauge=GaugeDoubt(settings, resolution, Repeatability(0.1 * THOU, 8.0)),
        temperature=TemperatureDoubt(ROOM, ROOM),
        part_expansion=alpha,
        gauge_expansion=STEEL,
    )


SLEEVE = inputs_of("sleeve", 63.0e-3, IRON)
BORE = inputs_of("bore", 62.92e-3, ALUMINIUM, (MASTER, TRANSFER))


def test_closed_form_gives_the_mean_size_back_exactly() -> None:
    """At the central inputs the budget's value is the mean of the corrected readings."""
    value = size_of(SLEEVE, of=lambda one: one.value, part_expansion=IRON, gauge_expansion=STEEL)
    at_reference = 63.0e-3 * (1.0 + STEEL * 5.0) / (1.0 + IRON * 5.0)
    assert value == pytest.approx(at_reference + 0.125 * THOU, abs=1e-9)


def test_shared_setting_cancels_in_the_fit_sampled() -> None:
    """The micrometer's setting is a contributor of each size and none of the interference."""
    sleeve = size_of(SLEEVE, of=draw, part_expansion=IRON, gauge_expansion=STEEL)
    bore = size_of(BORE, of=draw, part_expansion=ALUMINIUM, gauge_expansion=STEEL)
    named = (*SLEEVE.quantities(), *BORE.quantities())
    alone = {one.name for one in summarise(np.asarray(sleeve), quantities=named).contributors}
    fit = summarise(np.asarray(sleeve - bore), quantities=named)
    assert MASTER.name in alone
    assert MASTER.name not in {one.name for one in fit.contributors}
    assert TRANSFER.name in {one.name for one in fit.contributors}


def test_shared_setting_cancels_in_the_fit_linear() -> None:
    """The same with uncertain numbers: below a thousandth of its own size is left."""
    of = LinearBudget().uncertain
    sleeve = size_of(SLEEVE, of=of, part_expansion=IRON, gauge_expansion=STEEL)
    bore = size_of(BORE, of=of, part_expansion=ALUMINIUM, gauge_expansion=STEEL)
    single = {one.name: one.standard for one in budget(sleeve).contributors}
    fit = {one.name: one.standard for one in budget(sleeve - bore).contributors}
    assert single[MASTER.name] == pytest.approx(0.2 * THOU, rel=1e-3)
    assert fit[MASTER.name] < 1e-3 * single[MASTER.name]


def test_unshared_setting_does_not_cancel() -> None:
    """With two micrometers the doubt of the fit is that of both."""
    other = InputQuantity("another mic: setting", 0.0, 0.2 * THOU)
    bore = inputs_of("bore", 62.92e-3, ALUMINIUM, (other,))
    of = LinearBudget().uncertain
    fit = budget(
        size_of(SLEEVE, of=of, part_expansion=IRON, gauge_expansion=STEEL)
        - size_of(bore, of=of, part_expansion=ALUMINIUM, gauge_expansion=STEEL)
    )
    parts = {one.name: one.standard for one in fit.contributors}
    assert parts[MASTER.name] == pytest.approx(0.2 * THOU, rel=1e-3)
    assert parts[other.name] == pytest.approx(0.2 * THOU, rel=1e-3)


def test_room_temperature_moves_both_parts_together() -> None:
    """One kelvin moves the fit by D (alpha_c - alpha_s), 0.0249 thou per K on 62.992 mm."""
    of = LinearBudget().uncertain
    fit = budget(
        size_of(SLEEVE, of=of, part_expansion=IRON, gauge_expansion=STEEL)
        - size_of(BORE, of=of, part_expansion=ALUMINIUM, gauge_expansion=STEEL)
    )
    part = {one.name: one.standard for one in fit.contributors}[ROOM.name]
    assert part / 2.0 == pytest.approx(63.0e-3 * (ALUMINIUM - IRON), rel=5e-3)


def test_sampled_and_linear_budgets_agree() -> None:
    """Doubt within two per cent and value within a hundredth of the doubt."""
    sampled = summarise(
        np.asarray(size_of(BORE, of=draw, part_expansion=ALUMINIUM, gauge_expansion=STEEL))
    )
    of = LinearBudget().uncertain
    linear = budget(size_of(BORE, of=of, part_expansion=ALUMINIUM, gauge_expansion=STEEL))
    assert sampled.standard == pytest.approx(linear.standard, rel=0.02)
    assert abs(sampled.mean - linear.value) < 0.01 * linear.standard
    assert sampled.high - sampled.low == pytest.approx(linear.high - linear.low, rel=0.03)


def test_repeatability_averages_out_with_the_readings() -> None:
    """Twelve readings: the doubt of the mean is that of one over the root of twelve."""
    assert SLEEVE.repeat.standard == pytest.approx(SLEEVE.reading.standard / math.sqrt(12.0))
    assert SLEEVE.repeat.degrees_of_freedom == SLEEVE.reading.degrees_of_freedom == 15.0


def test_coarse_steps_do_not_average_out() -> None:
    """Readings that all fall on one step are all rounded the same way."""
    coarse = inputs_of("bore", 62.92e-3, ALUMINIUM, resolution=10.0 * THOU)
    assert coarse.resolution.standard == pytest.approx(10.0 * THOU / math.sqrt(12.0), rel=0.01)
    assert coarse.rounding < 0.15 * 10.0 * THOU


def test_rounding_to_fine_steps_is_part_of_the_scatter() -> None:
    """Nothing of it is shared, and each reading has the whole step for itself."""
    assert SLEEVE.resolution.standard == 0.0
    assert SLEEVE.rounding == pytest.approx(0.1 * THOU)
    assert SLEEVE.reading.together < 1e-6 * THOU


def straight(rows: list[float], depths: list[float]) -> SizeGrid:
    """A part with one mean a station, two directions."""
    sizes = np.repeat(np.array(rows)[:, None], 2, axis=1)
    return SizeGrid(np.array(depths), np.array([0.0, math.pi / 2.0]), sizes)


@pytest.mark.parametrize("power", [1, 2, 3])
@pytest.mark.parametrize("count", [2, 3, 5])
def test_mean_over_stations_misses_no_more_than_is_said(power: int, count: int) -> None:
    """For x, x^2 and x^3 on evenly spread stations the true mean lies within one doubt."""
    places = (np.arange(count) + 0.5) / count
    grid = straight((places**power).tolist(), places.tolist())
    error = abs(mean_size(grid) - 1.0 / (power + 1))
    assert error <= form_missed(grid, length=1.0) + 1e-15
    assert form_missed(grid) == pytest.approx(form_missed(grid, length=1.0))


def test_stations_at_one_end_miss_more() -> None:
    """Three stations in the upper third leave the rest unknown."""
    rows = [0.0, 1.0e-6, 2.0e-6]
    spread = form_missed(straight(rows, [0.2, 0.5, 0.8]), length=1.0)
    bunched = form_missed(straight(rows, [0.0, 0.1, 0.2]), length=1.0)
    assert bunched > 2.5 * spread


def test_scatter_between_stations_is_no_form() -> None:
    """Stations that differ by no more than scatter makes them hide nothing."""
    grid = straight([0.0, 1.0e-6, 0.0], [0.2, 0.5, 0.8])
    without = form_missed(grid, length=1.0)
    assert form_missed(grid, noise=0.3e-6, length=1.0) < without
    assert form_missed(grid, noise=1.0e-6, length=1.0) == 0.0


def test_one_station_and_bunched_directions_are_cautioned() -> None:
    """What a small grid cannot say is said."""
    readings = GridReadings(np.array([0.0]), np.radians([0.0, 20.0]), np.full((1, 2), 63e-3))
    sizes = sizes_at_reference(readings, part_expansion=IRON, gauge_expansion=STEEL)
    found = size_inputs(
        readings,
        sizes,
        feature="flange",
        gauge=GaugeDoubt((), 0.1 * THOU, Repeatability(0.1 * THOU, 8.0)),
        temperature=TemperatureDoubt(ROOM, ROOM),
        part_expansion=IRON,
        gauge_expansion=STEEL,
    )
    assert {one.code for one in found.cautions} == {"one-station", "directions-bunched"}
    assert SLEEVE.cautions == ()
    assert size_of(
        found, of=lambda one: one.value, part_expansion=IRON, gauge_expansion=STEEL
    ) == pytest.approx(63e-3)


def test_intervals_of_few_readings_hold_the_truth_as_often_as_they_say() -> None:
    """Coverage: 400 invented parts, six readings, scatter unknown to the budget but for them."""
    stream = np.random.default_rng(31)
    true, scatter, held = 63.0e-3, 0.15 * THOU, 0
    for _ in range(400):
        noise = scatter * stream.standard_normal((3, 2))
        setting = MASTER.standard * stream.standard_normal()
        readings = GridReadings(
            np.array([10e-3, 40e-3, 70e-3]), np.radians([0.0, 90.0]), true + noise + setting
        )
        sizes = sizes_at_reference(readings, part_expansion=IRON, gauge_expansion=STEEL)
        found = size_inputs(
            readings,
            sizes,
            feature="part",
            gauge=GaugeDoubt((MASTER,), 0.0, Repeatability(scatter, 8.0)),
            temperature=TemperatureDoubt(*2 * (InputQuantity("exact", 0.0, 0.0),)),
            part_expansion=IRON,
            gauge_expansion=STEEL,
        )
        size = size_of(
            found, of=partial(draw, count=4_000), part_expansion=IRON, gauge_expansion=STEEL
        )
        interval = summarise(np.asarray(size))
        held += interval.low <= true <= interval.high
    # 95 % of 400 is 380; the form term makes the budget a little cautious.
    assert 374 <= held <= 400


def test_t_inputs_widen_the_interval_as_they_should() -> None:
    """One input with 4 degrees of freedom: 95 % reaches to t = 2.776."""
    found = summarise(draw(InputQuantity("five readings", 0.0, 1.0, 4.0)))
    assert found.high == pytest.approx(2.776, rel=0.02)
    assert found.low == pytest.approx(-2.776, rel=0.02)


def test_taper_of_station_means_is_quieter_than_single_readings() -> None:
    """Four directions halve the scatter of a station mean."""
    reading = Repeatability(1.0, math.inf)
    four = form_doubt(9.0, kind=Range.TAPER, stations=3, directions=4, reading=reading)
    one = form_doubt(9.0, kind=Range.TAPER, stations=3, directions=1, reading=reading)
    assert four.standard == pytest.approx(math.sqrt(2.0) / 2.0)
    assert one.noise_alone == pytest.approx(2.0 * four.noise_alone)


@pytest.mark.parametrize("lobe", [0.0, 1.0, 4.0])
def test_bounds_of_out_of_round_hold_for_round_and_for_oval_parts(lobe: float) -> None:
    """Of 1,000 noisy parts at least 95 % have the true out-of-round within the bounds."""
    stream = np.random.default_rng(8)
    angles = np.radians([0.0, 45.0, 90.0, 135.0])
    shape = 0.5 * lobe * np.cos(2.0 * angles)
    held = 0
    for _ in range(1_000):
        sizes = shape + stream.standard_normal((3, 4))
        spread = float(np.ptp(sizes, axis=1).max())
        bounds = form_doubt(
            spread,
            kind=Range.OUT_OF_ROUND,
            stations=3,
            directions=4,
            reading=Repeatability(1.0, math.inf),
        )
        held += bounds.low <= lobe <= bounds.high
    assert held >= 950


def test_form_refuses_what_cannot_be_compared() -> None:
    """One direction has no out-of-round, one station no taper."""
    reading = Repeatability(1.0, 5.0)
    with pytest.raises(InputError, match="out-of-round"):
        form_doubt(1.0, kind=Range.OUT_OF_ROUND, stations=3, directions=1, reading=reading)
    with pytest.raises(InputError, match="taper"):
        form_doubt(1.0, kind=Range.TAPER, stations=1, directions=4, reading=reading)
    with pytest.raises(InputError, match="coverage"):
        form_doubt(1.0, kind=Range.TAPER, stations=2, directions=4, reading=reading, coverage=0.0)
