"""The quick answer about points of a circle: numbers by a second road, refusals, words."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import t as student

from sleevewright.errors import MissingInput, SleevewrightError
from sleevewright.services.quick import quick, quick_document, quick_lines

TURN = np.arange(8) * math.pi / 4.0
WALL = 30.0 + 0.004 * np.cos(3.0 * TURN) + 0.001 * np.cos(2.0 * TURN)
X, Y = np.round(5.0 + WALL * np.cos(TURN), 4), np.round(-2.0 + WALL * np.sin(TURN), 4)


def typed(x: np.ndarray, y: np.ndarray, between: str = "/", unit: str = "mm") -> str:
    """Points as they are typed."""
    return "points=" + between.join(
        f"{a:.4f}{unit},{b:.4f}{unit}" for a, b in zip(x, y, strict=True)
    )


def number(document: dict[str, object], key: str) -> float:
    """One number of a document."""
    return float(str(document[key]))


def test_circle_is_that_of_a_general_solver() -> None:
    """Centre and diameter as scipy's least_squares; doubts from its slopes and Student's t."""
    found = quick_document(quick("circle", (typed(X, Y),)))
    known = least_squares(lambda p: np.hypot(X - p[0], Y - p[1]) - p[2], (5.0, -2.0, 30.0),
                          xtol=1e-15, ftol=1e-15, gtol=1e-15)  # fmt: skip
    assert number(found, "centre_x_um") == pytest.approx(1e3 * known.x[0], abs=1e-2)
    assert number(found, "centre_y_um") == pytest.approx(1e3 * known.x[1], abs=1e-2)
    assert number(found, "diameter_um") == pytest.approx(2e3 * known.x[2], abs=1e-2)
    spread = np.linalg.inv(known.jac.T @ known.jac) * (2.0 * known.cost / 5.0)
    factor = 1e3 * float(student.ppf(0.975, 5))
    radius = 2.0 * factor * math.sqrt(spread[2, 2])
    assert number(found, "diameter_doubt_um") == pytest.approx(radius, rel=1e-3)
    centre = factor * math.sqrt(max(spread[0, 0], spread[1, 1]))
    assert number(found, "centre_doubt_um") == pytest.approx(centre, rel=1e-3)
    assert number(found, "reach_deg") == pytest.approx(315.0, abs=0.05)


def test_form_plug_and_ring_are_those_of_the_points() -> None:
    """The zone is no wider than the form, and from the ring's centre no point lies outside."""
    answer = quick("circle", (typed(X, Y),))
    found = quick_document(answer)
    assert 0.0 < number(found, "zone_um") <= number(found, "form_um") < 12.0
    assert number(found, "plug_um") < number(found, "diameter_um") < number(found, "ring_um")
    touching = [*found["zone_outer_points"], *found["zone_inner_points"]]
    assert len(touching) == 4
    assert set(touching) <= set(range(1, 9))
    told = "\n".join(quick_lines(answer))
    assert "outer circle at points" in told
    assert "touches points" in told


@pytest.mark.parametrize("between", ["/", ";", " ", "; ", "  /  "])
def test_points_may_be_parted_in_several_ways(between: str) -> None:
    """Slashes, semicolons and blanks are the same."""
    assert quick_document(quick("circle", (typed(X, Y, between),)))["sources"]
    plain = quick_document(quick("circle", (typed(X, Y),)))
    other = quick_document(quick("circle", (typed(X, Y, between),)))
    assert other["diameter_um"] == plain["diameter_um"]


def test_unit_may_be_said_once_and_commas_may_be_decimal() -> None:
    """``unit=mm`` for all; with a colon between x and y the comma is a decimal one."""
    plain = quick_document(quick("circle", (typed(X, Y),)))
    once = quick_document(quick("circle", (typed(X, Y, unit=""), "unit=mm")))
    commas = typed(X, Y).replace(",", ":").replace(".", ",")
    assert once["diameter_um"] == plain["diameter_um"]
    assert quick_document(quick("circle", (commas,)))["diameter_um"] == plain["diameter_um"]


def test_inches_are_answered_in_inches() -> None:
    """The unit that was typed is the unit of the answer."""
    told = "\n".join(quick_lines(quick("circle", (typed(X / 25.4, Y / 25.4, unit="in"),))))
    assert "2.3622 in" in told
    assert "thou" in told


def test_a_short_arc_is_answered_with_a_caution_and_no_plug() -> None:
    """Less than half round: least squares and the zone, a caution, neither plug nor ring."""
    turn = np.linspace(0.0, math.radians(60.0), 8)
    answer = quick("circle", (typed(WALL * np.cos(turn), WALL * np.sin(turn)),))
    found = quick_document(answer)
    assert found["plug_um"] is None
    assert found["ring_um"] is None
    assert number(found, "diameter_doubt_um") > 100.0
    assert [one.code for one in answer.cautions] == ["short-arc"]
    assert "60 degrees round; it takes more than half a turn" in "\n".join(quick_lines(answer))


def test_three_points_have_a_circle_and_nothing_to_judge_it_by() -> None:
    """Neither doubt nor form is made up."""
    answer = quick("circle", (typed(X[[0, 3, 6]], Y[[0, 3, 6]]),))
    found = quick_document(answer)
    assert number(found, "diameter_um") == pytest.approx(60e3, abs=20.0)
    for key in ("centre_doubt_um", "diameter_doubt_um", "form_um", "zone_um"):
        assert found[key] is None
    assert [one.code for one in answer.cautions] == ["three-points"]


def test_four_points_that_lie_on_a_circle_show_no_form() -> None:
    """Exact points leave one degree of freedom: nothing scatters, and it is not three points."""
    answer = quick("circle", ("points=30mm,0mm/0mm,30mm/-30mm,0mm/0mm,-30mm",))
    found = quick_document(answer)
    for key in ("centre_doubt_um", "diameter_doubt_um", "form_um", "zone_um"):
        assert found[key] == 0.0
    told = "\n".join(quick_lines(answer))
    assert "no scatter shows" in told
    assert "no form shows" in told
    assert "three points" not in told
    assert "zone_outer_points" not in found


REFUSED = [
    (("points=30mm,0mm/0mm",), "pairs of x and y"),
    (("points=30,01mm,0mm/0mm,30mm",), "a comma between"),
    (("points=30,0/0,30/-30,0",), "No unit was given"),
    (("points=30,0/0,30/-30,0", "unit=furlong"), "mm or in"),
    (("points=30mm,0mm/0mm,30mm",), "Give 1 more"),
    (("points=1mm,1mm/2mm,2mm/3mm,3mm",), "in a line"),
    (("points=1mm,1mm/1mm,1mm/1mm,1mm",), "one place"),
    (("points=",), "pairs of x and y"),
]


@pytest.mark.parametrize(("words", "told"), REFUSED)
def test_bad_points_are_refused_with_what_is_wanted(words: tuple[str, ...], told: str) -> None:
    """Each says what is wrong and how points are written."""
    with pytest.raises(SleevewrightError) as caught:
        quick("circle", words)
    assert told in str(caught.value)


def test_points_are_asked_for_with_an_example() -> None:
    """Without points the message shows some."""
    with pytest.raises(MissingInput, match="points="):
        quick("circle", ())
