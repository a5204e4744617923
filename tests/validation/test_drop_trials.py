"""Figures of our own earlier trial, not published: kept so that a change is seen.

Clearance over time by a full model, a reduced one and a bound; seconds to grip when one
input changes; quantiles of many drops with judged priors.  They prove nothing by
themselves; what proves the model stands in the tests beside this one.
"""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import heat_examples as shop
from heat_examples import THOU
from sleevewright.core.heat.chances import drop_chances
from sleevewright.core.heat.drop import clearance_history, grip_times
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.gap import (
    air_conductivity,
    leaning_conductance,
    molecular_gap,
    radiation_conductance,
)
from sleevewright.core.heat.joining import slip

TABLE_TIMES = np.array([0.0, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0, 30.0])
WITHIN = 0.105 * THOU
"""A tenth of a thou, and half of the last printed digit. [m]"""


@pytest.mark.parametrize("model", ["full", "reduced"])
@pytest.mark.parametrize("position", shop.POSITIONS)
@pytest.mark.parametrize("name", shop.TRIALS)
def test_pinned_clearances_of_an_earlier_trial(name: str, position: str, model: str) -> None:
    """Both printed tables of our own earlier trial, not published, within 0.1 thou."""
    kept = [
        float(row["clearance_thou"])
        for row in shop.rows("drop_regression.csv")
        if (row["case"], row["position"], row["model"]) == (name, position, model)
    ]
    assert len(kept) == TABLE_TIMES.size
    found = clearance_history(shop.trial(name, position), times=TABLE_TIMES).clearance[:, 0]
    assert np.abs(found - np.array(kept) * THOU).max() <= WITHIN


def even_sleeve(inputs: DropInputs) -> np.ndarray:
    """Clearance over time of a sleeve at one temperature: the mean of the leaning gap."""
    area = np.pi * float(inputs.diameter) * float(inputs.length)
    inner = area * (1.0 - 2.0 * float(inputs.wall) / float(inputs.diameter))
    walls = 0.35 * float(inputs.casting_depth) / float(inputs.casting_conductivity) + float(
        inputs.wall
    ) / (3.0 * float(inputs.sleeve_conductivity))
    outside = float(inputs.outside_loss) * float(inputs.length)

    def clearance(sleeve: float, casting: float) -> float:
        return float(
            slip(
                diameter=inputs.diameter,
                interference=inputs.interference,
                casting_law=inputs.casting_law,
                sleeve_law=inputs.sleeve_law,
                casting_temperature=casting,
                sleeve_temperature=sleeve,
            )
        )

    def rates(_: float, state: np.ndarray) -> list[float]:
        sleeve, casting = float(state[0]), float(state[1])
        between = 0.5 * (sleeve + casting)
        through = leaning_conductance(
            gap=0.5 * max(clearance(sleeve, casting), 0.0),
            stand_off=float(inputs.stand_off) + molecular_gap(temperature=between),
            eccentricity=1.0,
            conductivity=air_conductivity(temperature=between),
        )
        through += radiation_conductance(temperature=between, factor=0.3)
        flow = (casting - sleeve) * area / (1.0 / through + walls)
        lost = float(inputs.inside_coefficient) * inner * (sleeve - shop.ROOM)
        gone = outside * (casting - shop.ROOM)
        return [
            (flow - lost) / float(inputs.sleeve_capacity),
            -(flow + gone) / float(inputs.casting_capacity),
        ]

    first = [shop.ROOM, float(inputs.casting_temperature)]
    solved = solve_ivp(rates, (0.0, 30.0), first, t_eval=TABLE_TIMES, rtol=1e-8, atol=1e-6)
    return np.array([clearance(*pair) for pair in solved.y.T])


@pytest.mark.parametrize("name", shop.TRIALS)
def test_pinned_bound_of_an_earlier_trial(name: str) -> None:
    """A leaning sleeve at one temperature: the printed bound, and below the model it is.

    Once the gap is closed the touching side is no longer the quickest, so the bound is
    compared while at least a quarter of a thou is open.
    """
    inputs = shop.trial(name, "lean")
    kept = [
        float(row["clearance_thou"])
        for row in shop.rows("drop_regression.csv")
        if (row["case"], row["model"]) == (name, "bound")
    ]
    found = even_sleeve(inputs)
    assert np.abs(found - np.array(kept) * THOU).max() <= WITHIN
    resolved = clearance_history(inputs, times=TABLE_TIMES).clearance[:, 0]
    still_open = resolved > 0.25 * THOU
    assert (found[still_open] <= resolved[still_open] + 1e-12).all()


def changed_drop(row: dict[str, str], eccentricity: float) -> DropInputs:
    """The base drop of a casting with the one change that a row of the table names."""
    casting, to = row["casting"], float(row["to"])
    interference = 3.2 if casting == "aluminium" else 2.2
    temperature = shop.TRIALS["A1" if casting == "aluminium" else "F1"][2]
    kelvin = shop.ZERO_CELSIUS
    changes = {
        "form_thou": {"form": to * THOU},
        "wall_mm": {"wall": to * 1e-3},
        "stand_off_um": {"stand_off": to * 1e-6},
        "fluid_factor": {"fluid_factor": to},
        "thermal_radius_mm": {"thermal_radius": to * 1e-3},
        "length_mm": {"length": to * 1e-3},
        "outside_h": {"outside_loss": 2.0 * to},  # 2.0 m2 of surface by metre of length
        "sleeve_c": {"sleeve_temperature": to + kelvin},
        "cooler_k": {},
    }[row["changed"]]
    cooler = to if row["changed"] == "cooler_k" else 0.0
    return shop.drop(
        casting,
        interference=interference,
        temperature=temperature - cooler,
        eccentricity=eccentricity,
        **changes,
    )


@pytest.mark.parametrize(
    "row",
    list(shop.rows("drop_sensitivity.csv")),
    ids=lambda row: "-".join((row["casting"], row["changed"], row["to"])),
)
def test_pinned_seconds_of_an_earlier_trial(row: dict[str, str]) -> None:
    """Seconds to grip when one input changes: centred 2 %, leaning 6 % of the printed ones.

    The earlier trial conducted heat around the sleeve a little otherwise, hence the wider
    band of a sleeve that leans; both within the rounding of 0.05 s.
    """
    for column, eccentricity, share in (("centred_s", 0.0, 0.02), ("lean_s", 1.0, 0.06)):
        found = float(grip_times(changed_drop(row, eccentricity), horizon=200.0).seconds[0])
        assert found == pytest.approx(float(row[column]), rel=share, abs=0.051)


@pytest.mark.parametrize(
    "row",
    list(shop.rows("drop_chances.csv")),
    ids=lambda row: "-".join((row["casting"], row["interference_thou"], row["slip_thou"])),
)
def test_pinned_chances_of_an_earlier_trial(row: dict[str, str]) -> None:
    """Quantiles of an earlier trial, not published: median 8 %, tails 20 % and 0.25 s."""
    planned = shop.case(
        row["casting"],
        interference=float(row["interference_thou"]),
        slip=float(row["slip_thou"]),
    )
    found = drop_chances(planned)
    assert found.expected.value == pytest.approx(float(row["p50_s"]), rel=0.08)
    assert found.free_p05.value == pytest.approx(float(row["p05_s"]), rel=0.2, abs=0.25)
    assert found.free_p01.value == pytest.approx(float(row["p01_s"]), rel=0.25, abs=0.25)
    if row["p95_s"]:
        assert found.until is not None
        assert found.until.value == pytest.approx(float(row["p95_s"]), rel=0.1)
    else:
        assert found.until is None or found.until.value > 100.0
    early = 100.0 * found.before_seated.value
    assert early == pytest.approx(float(row["before_seated_percent"]), rel=0.35, abs=0.6)


@pytest.mark.parametrize("casting", ["aluminium", "iron"])
def test_pinned_seconds_by_slip_of_an_earlier_trial(casting: str) -> None:
    """Forty-eight pairs of an earlier trial, not published: centred 3.5 %, leaning 8 %.

    The leaning ones differ most where the gap closes slowly: heat goes round the sleeve a
    little otherwise here.
    """
    table = [row for row in shop.rows("drop_by_slip.csv") if row["casting"] == casting]
    fits = np.array([float(row["interference_thou"]) for row in table])
    hot = np.array([
        shop.hot(casting, interference=fit, slip=float(row["slip_thou"]))
        for fit, row in zip(fits, table, strict=True)
    ])  # fmt: skip
    for column, eccentricity, share in (("centred_s", 0.0, 0.035), ("lean_s", 1.0, 0.08)):
        drops = shop.drop(
            casting, interference=fits, temperature=hot, form=THOU, eccentricity=eccentricity
        )
        kept = [float(row[column]) for row in table]
        found = grip_times(drops, horizon=250.0).seconds
        assert found == pytest.approx(kept, rel=share, abs=0.06)
