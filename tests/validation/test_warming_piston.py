"""Two warming bodies against other roads: a stepped solution, matrix exponential, heat balance.

The analytic solution is set beside a general solver of differential equations and a matrix
exponential; limits (no coupling, equal bodies) have closed forms in the heat-transfer books:
a lone lump is Incropera and DeWitt, 6th ed., equation 5.6.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.linalg import expm
from scipy.optimize import minimize_scalar

from sleevewright.core.engine.warmclearance import (
    clearance_left,
    least_left,
    least_of_warm,
    least_when,
    sleeved_bore_growth,
    warm_left,
)
from sleevewright.core.engine.warmup import (
    TwoBodies,
    bodies_by_times,
    warm_temperatures,
    warming_time,
)
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.errors import InputError

BODIES = TwoBodies(
    piston_capacity=180.0,
    cylinder_capacity=3200.0,
    coupling=14.0,
    cylinder_loss=13.0,
    piston_heat=900.0,
    cylinder_heat=600.0,
    piston_loss=4.0,
)


def matrix(bodies: TwoBodies) -> np.ndarray:
    """The rates of both bodies as a matrix, written down afresh."""
    out = bodies.coupling
    return np.array(
        [
            [-(out + bodies.piston_loss), out],
            [out, -(out + bodies.cylinder_loss)],
        ]
    ) / np.array([[bodies.piston_capacity], [bodies.cylinder_capacity]])


def heats(bodies: TwoBodies) -> np.ndarray:
    """What the gas gives, by the capacities."""
    return np.array(
        [
            bodies.piston_heat / bodies.piston_capacity,
            bodies.cylinder_heat / bodies.cylinder_capacity,
        ]
    )


def test_temperatures_agree_with_a_stepped_solution() -> None:
    """A general solver at 1e-11 gives the same temperatures from the first second to an hour."""
    times = np.array([1.0, 10.0, 60.0, 300.0, 3600.0])
    stepped = solve_ivp(
        lambda _, y: matrix(BODIES) @ y + heats(BODIES),
        (0.0, 3600.0),
        [0.0, 0.0],
        t_eval=times,
        rtol=1e-11,
        atol=1e-11,
        method="DOP853",
    )
    piston, cylinder = warm_temperatures(BODIES, time=times)
    assert piston == pytest.approx(stepped.y[0], rel=1e-8)
    assert cylinder == pytest.approx(stepped.y[1], rel=1e-8)


@given(
    st.floats(1.0, 1e3),
    st.floats(1.0, 1e4),
    st.floats(0.0, 50.0),
    st.tuples(st.floats(0.1, 50.0), st.floats(0.1, 20.0)),
    st.floats(0.0, 2e3),
)
def test_temperatures_agree_with_a_matrix_exponential(
    first: float, second: float, coupling: float, losses: tuple[float, float], time: float
) -> None:
    """Any two bodies, also equal ones and such that are not joined."""
    bodies = TwoBodies(first, second, coupling, losses[0], 500.0, 300.0, losses[1])
    end = -np.linalg.solve(matrix(bodies), heats(bodies))
    expected = end - expm(matrix(bodies) * time) @ end
    assert warm_temperatures(bodies, time=time) == pytest.approx(expected, rel=1e-7, abs=1e-7)


def test_bodies_that_are_not_joined_warm_alone() -> None:
    """Without coupling each is the lone lump of the textbook."""
    alone = replace(BODIES, coupling=0.0)
    piston, cylinder = warm_temperatures(alone, time=77.0)
    for found, heat, loss, capacity in (
        (piston, 900.0, 4.0, 180.0),
        (cylinder, 600.0, 13.0, 3200.0),
    ):
        lone = lump_temperature(
            time=77.0, start=300.0, air=300.0 + heat / loss, time_constant=capacity / loss
        )
        assert found == pytest.approx(float(lone) - 300.0, rel=1e-12)


def test_equal_bodies_with_equal_heat_stay_together() -> None:
    """Nothing flows between two bodies that are alike, however they are joined."""
    for coupling in (0.0, 1e-9, 5.0, 1e4):
        alike = TwoBodies(500.0, 500.0, coupling, 8.0, 400.0, 400.0, 8.0)
        piston, cylinder = warm_temperatures(alike, time=40.0)
        assert piston == pytest.approx(50.0 * -math.expm1(-40.0 * 8.0 / 500.0), rel=1e-9)
        assert cylinder == pytest.approx(piston, rel=1e-9)


def test_heat_is_neither_made_nor_lost() -> None:
    """Heat given until a moment is stored in both bodies or has gone out of them."""
    until = 500.0
    piston, cylinder = warm_temperatures(BODIES, time=until)
    gone = quad(
        lambda time: (
            BODIES.piston_loss * warm_temperatures(BODIES, time=time)[0]
            + BODIES.cylinder_loss * warm_temperatures(BODIES, time=time)[1]
        ),
        0.0,
        until,
    )[0]
    stored = 180.0 * piston + 3200.0 * cylinder
    assert stored + gone == pytest.approx(1500.0 * until, rel=1e-9)


def test_bodies_by_times_end_where_they_are_said_to() -> None:
    """Both ends, both times and both shares come back out of the lumps."""
    made = bodies_by_times(
        piston_time=15.0, cylinder_time=240.0, share=0.4, to_wall=0.7, piston_rise=100.0,
        cylinder_rise=70.0,
    )  # fmt: skip
    piston, cylinder = warm_temperatures(made, time=1e6)
    assert (piston, cylinder) == pytest.approx((100.0, 70.0), rel=1e-9)
    assert made.piston_capacity / (made.coupling + made.piston_loss) == pytest.approx(15.0)
    to_wall = made.coupling * 30.0
    assert to_wall / made.piston_heat == pytest.approx(0.7)
    assert to_wall / (made.cylinder_loss * 70.0) == pytest.approx(0.4)


@pytest.mark.parametrize("bore", [12e-6, 18e-6, 21e-6, 24e-6])
def test_least_clearance_is_the_least_of_a_fine_search(bore: float) -> None:
    """The closed form of the turning point against a bounded search for it."""
    told = {"piston_growth": 21e-6, "bore_growth": bore, "looseness": 1.2e-3}
    searched = minimize_scalar(
        lambda log: float(clearance_left(BODIES, time=math.exp(log), **told)),
        bounds=(-5.0, 12.0),
        method="bounded",
        options={"xatol": 1e-10},
    )
    found = least_left(BODIES, **told)
    assert found == pytest.approx(min(searched.fun, warm_left(BODIES, **told)), abs=1e-7)
    when = least_when(BODIES, piston_growth=21e-6, bore_growth=bore)
    if math.isfinite(when):
        assert when == pytest.approx(math.exp(searched.x), rel=1e-3)
        assert found < warm_left(BODIES, **told)


def test_a_dip_is_there_only_where_the_bore_follows_the_piston() -> None:
    """A bore of free iron only closes; one that grows as the piston does is tightest on the way."""
    assert least_when(BODIES, piston_growth=21e-6, bore_growth=11e-6) == math.inf
    assert 5.0 < least_when(BODIES, piston_growth=21e-6, bore_growth=21e-6) < 600.0
    assert least_when(BODIES, piston_growth=1e-6, bore_growth=90e-6) < 120.0


def test_equal_rates_have_their_own_closed_form() -> None:
    """Two bodies of one rate: the turning point is found without a division by nothing."""
    twins = TwoBodies(100.0, 100.0, 0.0, 5.0, 800.0, 200.0, 5.0)
    told = {"piston_growth": 10e-6, "bore_growth": 30e-6}
    left = least_left(twins, looseness=1e-2, **told)
    assert left == pytest.approx(min(1.0, warm_left(twins, looseness=1e-2, **told)), abs=1e-12)


def test_more_growth_of_the_piston_leaves_less() -> None:
    """A forged piston leaves less than a cast one, and a wider cold clearance a larger share."""
    kept = [
        least_left(BODIES, piston_growth=grows, bore_growth=18e-6, looseness=loose)
        for grows, loose in ((22.5e-6, 2e-3), (20.5e-6, 2e-3), (20.5e-6, 4e-3))
    ]
    assert kept[0] < kept[1] < kept[2] < 1.0


def test_samples_pass_through_as_floats_do() -> None:
    """Arrays of inputs give what the single values give."""
    grows = np.array([20e-6, 21e-6, 23e-6])
    together = least_left(BODIES, piston_growth=grows, bore_growth=21e-6, looseness=1e-3)
    alone = [
        least_left(BODIES, piston_growth=float(one), bore_growth=21e-6, looseness=1e-3)
        for one in grows
    ]
    assert together == pytest.approx(alone, rel=1e-14)


def test_a_casting_gives_back_no_more_than_the_fit_closed() -> None:
    """The bore follows the casting by the share of the close-up, until the sleeve is free."""
    told = {
        "sleeve_expansion": 11e-6,
        "casting_expansion": 21e-6,
        "sleeve_rise": 100.0,
        "casting_rise": 100.0,
    }
    assert sleeved_bore_growth(share=0.0, closed=1.0, **told) == pytest.approx(11e-6)
    assert sleeved_bore_growth(share=1.0, closed=1.0, **told) == pytest.approx(21e-6)
    assert sleeved_bore_growth(share=0.6, closed=1.0, **told) == pytest.approx(17e-6)
    assert sleeved_bore_growth(share=0.6, closed=2e-4, **told) == pytest.approx(13e-6)


def test_time_to_warm_up_is_nineteen_twentieths_of_the_way() -> None:
    """After three times the slower time, the cylinder lacks about a twentieth."""
    _, cylinder = warm_temperatures(BODIES, time=warming_time(BODIES))
    _, end = warm_temperatures(BODIES, time=1e7)
    assert cylinder / end == pytest.approx(0.95, abs=0.02)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"piston_capacity": 0.0}, "piston capacity"),
        ({"coupling": -1.0}, "coupling"),
        ({"cylinder_loss": 0.0}, "cylinder loss"),
        ({"coupling": 0.0, "piston_loss": 0.0}, "way of heat out of the piston"),
    ],
)
def test_bodies_that_cannot_be_are_refused(changed: dict[str, float], field: str) -> None:
    """No capacity, a negative coupling, or heat without a way out."""
    with pytest.raises(InputError) as refused:
        replace(BODIES, **changed)
    assert refused.value.field == field


def test_a_piston_cooler_than_the_cylinder_is_refused() -> None:
    """The lumps by their times want the piston the warmer one."""
    with pytest.raises(InputError, match="piston rise"):
        bodies_by_times(
            piston_time=15.0, cylinder_time=240.0, share=0.4, to_wall=0.7, piston_rise=60.0,
            cylinder_rise=70.0,
        )  # fmt: skip


def test_no_share_is_told_of_nothing_left() -> None:
    """Where nothing is left when warm there is no share of it."""
    assert math.isnan(least_of_warm(least=-0.1, warm=-0.1))
    assert least_of_warm(least=-0.1, warm=0.2) == pytest.approx(-0.5)
