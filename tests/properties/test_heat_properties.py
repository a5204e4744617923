"""What must hold for every heat and every drop, whatever the numbers."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import heat_examples as shop
from heat_examples import THOU
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.drop import clearance_history, grip_times
from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature
from sleevewright.core.heat.gap import leaning_cell_conductance, leaning_conductance
from sleevewright.core.heat.joining import casting_temperature_for_slip, oven_setting, slip
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.core.heat.ranks import rank_correlation
from sleevewright.core.heat.soak import soak_time

METALS = st.sampled_from(["aluminium", "iron"])
FITS = st.floats(1.0, 4.0)
SLIPS = st.floats(2.0, 7.0)
FORMS = st.floats(0.2, 2.5)
LEANS = st.floats(0.0, 1.0)
FEW = settings(max_examples=25, deadline=None)


def seconds(casting: str, **changed: float) -> float:
    """Grip time of one drop; fit, slip and form in thou."""
    fit, wanted = changed.pop("fit"), changed.pop("slip")
    form = changed.pop("form") * THOU
    cooler = changed.pop("cooler", 0.0)
    temperature = shop.hot(casting, interference=fit, slip=wanted)
    inputs = shop.drop(
        casting, interference=fit, temperature=temperature - cooler, form=form, **changed
    )
    return float(grip_times(inputs).seconds[0])


def grips_on_its_way(casting: str, *, fit: float, wanted: float, form: float) -> bool:
    """Whether the parts grip before they are equally warm, by a wide margin.

    Near or past that point the cooling of the whole decides, and less gap may mean a later
    grip: the casting then keeps its heat in the sleeve.
    """
    hot = shop.hot(casting, interference=fit, slip=wanted)
    radius = {"aluminium": 52e-3, "iron": 46e-3}[casting]
    met = equal_temperature(
        casting_capacity=shop.capacity(casting, radius),
        casting_temperature=hot,
        sleeve_capacity=shop.sleeve_capacity(),
        sleeve_temperature=shop.ROOM,
    )
    left = slip_at_equal_temperature(
        diameter=shop.DIAMETER,
        interference=fit * THOU,
        casting_law={"aluminium": shop.ALUMINIUM, "iron": shop.IRON}[casting],
        sleeve_law=shop.IRON,
        temperature=met,
    )
    return float(left) <= (form - 1.0) * THOU


def later_or_equal(found: float, base: float) -> bool:
    """Later within the tolerance of a grip time, or both beyond the horizon."""
    return found >= base - 0.04


@FEW
@given(METALS, FITS, SLIPS, FORMS, LEANS)
def test_more_room_keeps_it_free_longer(
    casting: str, fit: float, wanted: float, form: float, lean: float
) -> None:
    """More slip, more stand-off, a thicker wall, more metal: never an earlier grip."""
    assume(grips_on_its_way(casting, fit=fit, wanted=wanted + 0.5, form=form))
    given_now = {"fit": fit, "slip": wanted, "form": form, "eccentricity": lean}
    base = seconds(casting, **given_now)
    for better in (
        {**given_now, "slip": wanted + 0.5},
        {**given_now, "stand_off": 12e-6},
        {**given_now, "wall": 1.2 * shop.WALL},
        {**given_now, "thermal_radius": 60e-3},
    ):
        assert later_or_equal(seconds(casting, **better), base)


@FEW
@given(METALS, FITS, SLIPS, FORMS, st.floats(0.0, 0.8))
def test_what_uses_room_up_makes_it_grip_sooner(
    casting: str, fit: float, wanted: float, form: float, lean: float
) -> None:
    """More form, lean, oil, a cooler casting, more interference at one slip: never later."""
    assume(grips_on_its_way(casting, fit=fit, wanted=wanted, form=form))
    given_now = {"fit": fit, "slip": wanted, "form": form, "eccentricity": lean}
    base = seconds(casting, **given_now)
    for worse in (
        {**given_now, "form": form + 0.3},
        {**given_now, "eccentricity": lean + 0.2},
        {**given_now, "fluid_factor": 4.0},
        {**given_now, "cooler": 10.0},
        {**given_now, "fit": fit + 0.4},
    ):
        assert later_or_equal(base, seconds(casting, **worse))


@FEW
@given(METALS, FITS, SLIPS, LEANS)
def test_chilling_at_the_same_casting_buys_time(
    casting: str, fit: float, wanted: float, lean: float
) -> None:
    """A colder sleeve in the same casting has more slip and is free longer."""
    assume(grips_on_its_way(casting, fit=fit, wanted=wanted, form=1.0))
    temperature = shop.hot(casting, interference=fit, slip=wanted)
    times = [
        float(
            grip_times(
                shop.drop(
                    casting,
                    interference=fit,
                    temperature=temperature,
                    eccentricity=lean,
                    sleeve_temperature=sleeve,
                    bending=0.0,
                )
            ).seconds[0]
        )
        for sleeve in (shop.ROOM, 255.15)
    ]
    assert later_or_equal(times[1], times[0])


@FEW
@given(METALS, FITS, SLIPS, LEANS)
def test_temperatures_stay_between_those_at_the_start(
    casting: str, fit: float, wanted: float, lean: float
) -> None:
    """Nothing gets hotter than the casting was or colder than the sleeve was."""
    temperature = shop.hot(casting, interference=fit, slip=wanted)
    inputs = shop.drop(casting, interference=fit, temperature=temperature, eccentricity=lean)
    history = clearance_history(inputs, times=np.array([0.5, 2.0, 8.0, 30.0]))
    for found in (history.sleeve, history.casting):
        assert (found >= shop.ROOM - 1e-9).all()
        assert (found <= temperature + 1e-9).all()
    assert (np.diff(history.casting[:, 0]) <= 0.0).all()


@FEW
@given(METALS, FITS, SLIPS, FORMS, LEANS)
def test_grip_is_where_the_clearance_is_used_up(
    casting: str, fit: float, wanted: float, form: float, lean: float
) -> None:
    """At the grip time the clearance equals what the shapes use, to a hundredth of a thou."""
    temperature = shop.hot(casting, interference=fit, slip=wanted)
    inputs = shop.drop(
        casting, interference=fit, temperature=temperature, form=form * THOU, eccentricity=lean
    )
    found = float(grip_times(inputs).seconds[0])
    if 0.0 < found < 60.0:
        history = clearance_history(inputs, times=np.array([found]))
        assert abs(history.clearance[0, 0] - history.used_up[0, 0]) <= 0.01 * THOU


@FEW
@given(st.integers(2, 40), st.integers(0, 1000))
def test_samples_do_not_know_of_each_other(count: int, seed: int) -> None:
    """A drop has the same time alone as among many others, to a microsecond."""
    random = np.random.default_rng(seed)
    form = THOU * np.exp(0.6 * random.standard_normal(count))
    lean = random.random(count)
    hot = shop.TRIALS["F1"][2]
    many = grip_times(
        shop.drop("iron", interference=2.2, temperature=hot, form=form, eccentricity=lean)
    ).seconds
    at = seed % count
    alone = grip_times(
        shop.drop(
            "iron", interference=2.2, temperature=hot, form=float(form[at]),
            eccentricity=float(lean[at]),
        )
    ).seconds  # fmt: skip
    assert alone[0] == pytest.approx(many[at], abs=1e-6)


@given(
    st.floats(0.04, 0.2),
    st.floats(0.0, 300e-6),
    st.floats(0.0, 400e-6),
    st.floats(80.0, 300.0),
    st.floats(15e-6, 25e-6),
)
def test_temperature_for_a_slip_gives_the_slip(
    diameter: float, interference: float, wanted: float, sleeve: float, reference: float
) -> None:
    """There and back: the casting temperature for a slip gives that slip."""
    known = {
        "diameter": diameter,
        "interference": interference,
        "casting_law": ExpansionLaw(reference, 8e-9),
        "sleeve_law": shop.IRON,
        "sleeve_temperature": sleeve,
    }
    hot = casting_temperature_for_slip(**known, slip=wanted)
    assert slip(**known, casting_temperature=hot) == pytest.approx(wanted, abs=1e-12)


@given(st.floats(100.0, 600.0), st.floats(0.0, 100.0), st.floats(300.0, 600.0))
def test_oven_is_never_above_the_limit(target: float, margin: float, limit: float) -> None:
    """No target and no margin brings the setting above the part's limit."""
    assert oven_setting(target=target, margin=margin, limit=limit) <= limit


@given(
    st.floats(50.0, 5000.0), st.floats(300.0, 600.0), st.floats(50.0, 500.0),
    st.floats(100.0, 320.0),
)  # fmt: skip
def test_equal_temperature_lies_between(
    casting: float, hot: float, sleeve: float, cold: float
) -> None:
    """Two parts meet between their temperatures, nearer to the heavier one."""
    met = equal_temperature(
        casting_capacity=casting,
        casting_temperature=hot,
        sleeve_capacity=sleeve,
        sleeve_temperature=cold,
    )
    assert min(hot, cold) - 1e-9 <= met <= max(hot, cold) + 1e-9
    if casting > sleeve:
        assert abs(met - hot) <= abs(met - cold) + 1e-9


@given(st.floats(300.0, 500.0), st.floats(0.5, 5.0))
def test_iron_in_iron_has_no_slip_at_any_common_heat(temperature: float, fit: float) -> None:
    """One law for both: common heat frees nothing, it tightens a little."""
    left = slip_at_equal_temperature(
        diameter=shop.DIAMETER,
        interference=fit * THOU,
        casting_law=shop.IRON,
        sleeve_law=shop.IRON,
        temperature=temperature,
    )
    assert left <= -fit * THOU * (1.0 - 1e-9)


@given(st.floats(5e-6, 200e-6), st.floats(1e-6, 30e-6), st.floats(0.0, 1.0))
def test_cells_add_up_to_the_whole_way_round(gap: float, stand_off: float, lean: float) -> None:
    """The mean of the cells is the mean of the leaning gap."""
    edges = np.linspace(0.0, np.pi, 9)
    known = {
        "gap": gap,
        "stand_off": stand_off,
        "eccentricity": lean,
        "conductivity": 0.034,
    }
    parts = [
        float(leaning_cell_conductance(**known, start=float(a), end=float(b)))
        for a, b in pairwise(edges)
    ]
    assert np.mean(parts) == pytest.approx(float(leaning_conductance(**known)), rel=1e-6)
    assert (np.diff(parts) <= 1e-9 * parts[0]).all()


@given(st.floats(0.0, 8000.0), st.floats(200.0, 600.0), st.floats(200.0, 600.0))
def test_a_lump_goes_towards_the_air(time: float, start: float, air: float) -> None:
    """A lump never leaves the range between its start and the air."""
    found = lump_temperature(time=time, start=start, air=air, time_constant=900.0)
    assert min(start, air) - 1e-9 <= found <= max(start, air) + 1e-9


@given(st.floats(300.0, 490.0), st.floats(100.0, 2000.0))
def test_soak_time_of_a_part_and_of_samples_agree(target: float, constant: float) -> None:
    """One part and an array of one give the same time."""
    one = soak_time(target=target, start=293.15, oven=493.15, time_constant=constant)
    many = soak_time(target=np.array([target]), start=293.15, oven=493.15, time_constant=constant)
    assert many[0] == pytest.approx(one, rel=1e-12)


@given(st.lists(st.floats(-1e3, 1e3), min_size=3, max_size=30, unique=True))
def test_rank_correlation_sees_order_only(values: list[float]) -> None:
    """Any rising map leaves it at one, any falling one at minus one."""
    one = np.array(values)
    ranks = np.argsort(np.argsort(one)).astype(float)
    assert rank_correlation(one, np.exp(0.3 * ranks)) == pytest.approx(1.0, abs=1e-12)
    assert rank_correlation(one, -(ranks**3)) == pytest.approx(-1.0, abs=1e-12)
