"""JCGM 100:2008 beyond single numbers: factors of table G.2, and a calibration line (H.3)."""

import math

import numpy as np
import pytest

from sleevewright.core.uncertainty.contributions import coverage_factor
from sleevewright.core.uncertainty.inputs import InputQuantity, draw
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.core.uncertainty.sampled import summarise


@pytest.mark.parametrize(
    ("freedom", "at_95", "at_99"),
    [
        (1, 12.71, 63.66),
        (2, 4.30, 9.92),
        (5, 2.57, 4.03),
        (10, 2.23, 3.17),
        (16, 2.12, 2.92),
        (20, 2.09, 2.85),
        (50, 2.01, 2.68),
        (math.inf, 1.960, 2.576),
    ],
)
def test_table_g_2(freedom: float, at_95: float, at_99: float) -> None:
    """JCGM 100:2008 table G.2, t factors at 95 % and 99 % (from memory), printed to 0.01."""
    assert coverage_factor(degrees_of_freedom=freedom) == pytest.approx(at_95, abs=0.0051)
    found = coverage_factor(degrees_of_freedom=freedom, coverage=0.99)
    assert found == pytest.approx(at_99, abs=0.0051)


def test_degrees_of_freedom_that_are_not_whole_go_down() -> None:
    """JCGM 100:2008 G.6.4: the next whole number below is one of the two ways."""
    assert coverage_factor(degrees_of_freedom=16.9) == coverage_factor(degrees_of_freedom=16.0)


def test_h_3_correction_at_30_degrees_from_the_line() -> None:
    """JCGM 100:2008 H.3: b(30) = -0.1494 degC, u 0.0041 degC, from 11 readings (read).

    Intercept and slope correlate at -0.930; about the mean temperature they do not, so the
    line is carried as two independent named inputs there.
    """
    t = np.array(
        [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
    )
    b = -1e-3 * np.array([171.0, 169, 166, 159, 164, 165, 156, 157, 159, 161, 160])
    away = t - t.mean()
    slope = float(away @ b / (away @ away))
    left = b - b.mean() - slope * away
    s = math.sqrt(float(left @ left) / 9.0)
    assert s == pytest.approx(0.0035, abs=5e-5)
    centre = InputQuantity("centre", float(b.mean()), s / math.sqrt(11.0), 9.0)
    tilt = InputQuantity("slope", slope, s / math.sqrt(float(away @ away)), 9.0)
    held = LinearBudget()

    def at(temperature: float, of):  # noqa: ANN001, ANN202 - samples or uncertain numbers
        return of(centre) + of(tilt) * (temperature - float(t.mean()))

    linear = budget(at(30.0, held.uncertain))
    assert linear.value == pytest.approx(-0.1494, abs=5e-5)
    assert linear.standard == pytest.approx(0.0041, abs=5e-5)
    intercept = budget(at(20.0, held.uncertain))
    assert intercept.value == pytest.approx(-0.1712, abs=5e-5)
    assert intercept.standard == pytest.approx(0.0029, abs=5e-5)
    assert slope == pytest.approx(0.00218, abs=5e-6)
    assert tilt.standard == pytest.approx(0.00067, abs=5e-6)
    # Samples follow t with 9 degrees of freedom, so they spread by (9 / 7)^(1/2) more.
    sampled = summarise(at(30.0, draw))
    assert sampled.standard == pytest.approx(0.0041 * math.sqrt(9.0 / 7.0), rel=0.02)
