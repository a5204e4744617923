"""Which end grips first: the model along the sleeve against other roads.

The finite volumes are those that answer NAFEMS T3 and T4 (test_conduction_volumes.py).  No
measured drop is among these checks: none is known to us.
"""

from dataclasses import replace

import numpy as np
import pytest

import heat_examples as shop
from conduction_volumes import Film, Volumes, marched
from heat_examples import THOU
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.drop import grip_times
from sleevewright.core.heat.flange_drop import (
    PLACES,
    FlangeEnd,
    _column,
    _rates,
    end_times,
)
from sleevewright.errors import InputError

INCH = 25.4e-3
NO_SEAT = 0.0


def flange(interference: float, seat: float = 3000.0) -> FlangeEnd:
    """The flange of the shared pair: 2.640 in, 3 mm thick; interference in thou."""
    return FlangeEnd(2.640 * INCH, interference * THOU, 3.0e-3, seat)


@pytest.mark.parametrize("name", ["A1", "F1"])
def test_middle_of_a_centred_sleeve_grips_as_the_model_round_the_bore_says(name: str) -> None:
    """In at once, no seat, no bow: the middle grips within 2.5 % of the other reduced model."""
    inputs = shop.trial(name, "centred", form=THOU, bending=0.0)
    other = float(grip_times(inputs).seconds[0])
    found = end_times(inputs, flange(1.0, NO_SEAT), entry_time=0.0)
    assert float(found.middle[0]) == pytest.approx(other, rel=0.025)


def test_heat_through_the_seat_is_that_of_finite_volumes() -> None:
    """Sleeve and flange alone, the ledge hot, no gap: mean rise of the top within 6 %.

    A straight sleeve of the flange's own section along its length, fed at the end through
    the seat, in axisymmetric finite volumes of 0.25 mm; both see the same heat.
    """
    stiff, hot = ExpansionLaw(0.0, 0.0), 400.0
    inputs = shop.drop(
        "iron", interference=-400.0, temperature=hot, casting_law=stiff, sleeve_law=stiff,
        casting_capacity=1e12, fluid_factor=1e-9, radiation_factor=0.0, outside_loss=0.0,
        inside_coefficient=0.0, eccentricity=0.0,
    )  # fmt: skip
    end = FlangeEnd(shop.DIAMETER + 1e-9, -400.0 * THOU, 3.0e-3, 0.0)
    section = np.pi * (shop.DIAMETER - shop.WALL) * shop.WALL
    through = 3000.0 * section / (1.0 + 3000.0 * 1.5e-3 / 48.0)
    rows = replace(_column(inputs, end, np.zeros(1)), seat=np.array([through]))
    state = np.full((len(PLACES) + 2, 1), 0.0)
    state[:-1], state[-1] = shop.ROOM - 293.15, hot - 293.15
    for _ in range(400):
        first, _ = _rates(inputs, rows, state, 1.0)
        second, _ = _rates(inputs, rows, state + 0.025 * first, 1.0)
        state = state + 0.0125 * (first + second)
    sleeve = Volumes(
        np.array([0.5 * shop.DIAMETER - shop.WALL, 0.5 * shop.DIAMETER]),
        np.linspace(0.0, 98.0e-3, 393), 48.0, 7200.0 * 490.0,
        {"south": Film(hot, 3000.0)}, is_ring=True,
    )  # fmt: skip
    fine = marched(sleeve, np.full((1, 392), shop.ROOM), step=0.05, steps=200)[0]
    heights = sleeve.centres[1]
    edges = np.cumsum([0.0, 3.0e-3, *(np.array(PLACES) * shop.LENGTH)])
    for row in range(5):
        inside = (heights > edges[row]) & (heights < edges[row + 1])
        exact = fine[inside].mean() - shop.ROOM
        assert state[row, 0] + 293.15 - shop.ROOM == pytest.approx(exact, rel=0.06, abs=0.3)


@pytest.mark.parametrize("seat", [0.0, 3000.0])
def test_what_flange_and_sleeve_gain_the_casting_gives(seat: float) -> None:
    """With nothing lost to the room heat is kept to 1e-9 of what is exchanged."""
    inputs = shop.trial("A1", "lean", outside_loss=0.0, inside_coefficient=0.0)
    rows = _column(inputs, flange(3.0, seat), np.zeros(1))
    state = np.full((len(PLACES) + 2, 1), shop.ROOM - 293.15)
    state[-1] = float(inputs.casting_temperature) - 293.15
    state[3] += 20.0
    change, _ = _rates(inputs, rows, state, 1.0)
    gained = float((change[:-1] * rows.capacity).sum())
    assert gained == pytest.approx(-float(change[-1, 0]) * float(inputs.casting_capacity), rel=1e-9)


@pytest.mark.parametrize(("name", "fit"), [("A1", 3.0), ("F1", 2.0)])
def test_seat_decides_which_end_is_first(name: str, fit: float) -> None:
    """Seated, the top is before the middle; not touching, it is last of the body."""
    inputs = shop.trial(name, "lean", form=THOU)
    seated = end_times(inputs, flange(fit), entry_time=2.0)
    loose = end_times(inputs, flange(fit, NO_SEAT), entry_time=2.0)
    assert seated.top[0] < seated.middle[0]
    assert loose.top[0] > max(loose.middle[0], loose.bottom[0])
    assert seated.top[0] < loose.top[0]


def test_more_flange_fit_grips_sooner_and_hastens_nothing_else() -> None:
    """More thou at the flange: its own grip is sooner, monotone; it never grips before it is in."""
    inputs = shop.trial("A1", "lean", form=THOU)
    fits = (1.5, 3.0, 4.5, 9.5)
    found = [float(end_times(inputs, flange(one), entry_time=2.0).flange[0]) for one in fits]
    assert found == sorted(found, reverse=True)
    assert np.isinf(found[0])
    assert found[-1] == pytest.approx(2.0)


PINNED = {
    ("A1", 3.0, 3000.0): (15.7, 18.2, 18.2, 19.5),
    ("A1", 3.0, 0.0): (19.3, 18.4, 18.2, 23.6),
    ("F1", 2.0, 3000.0): (6.1, 7.2, 6.7, 6.5),
    ("F1", 2.0, 0.0): (7.9, 7.2, 6.7, 8.9),
}


@pytest.mark.parametrize("case", PINNED)
def test_pinned_ends_of_an_earlier_trial(case: tuple[str, float, float]) -> None:
    """Seconds of an earlier trial of our own, not published: top, middle, bottom, flange.

    That one resolved the casting along its length as well: within 1.4 s here.
    """
    name, fit, seat = case
    inputs = shop.drop(
        shop.TRIALS[name][0], interference=shop.TRIALS[name][1],
        temperature=shop.TRIALS[name][2], eccentricity=0.9, form=THOU,
    )  # fmt: skip
    found = end_times(inputs, flange(fit, seat), entry_time=2.0)
    reckoned = [float(one[0]) for one in (found.top, found.middle, found.bottom, found.flange)]
    assert reckoned == pytest.approx(PINNED[case], abs=1.4)


def test_samples_and_single_drops_agree() -> None:
    """Many drops at once are the same drops one by one."""
    forms = THOU * np.array([0.5, 1.0, 2.0])
    together = end_times(shop.trial("A1", "lean", form=forms), flange(3.0), entry_time=1.0)
    for at, form in enumerate(forms):
        alone = end_times(shop.trial("A1", "lean", form=float(form)), flange(3.0), entry_time=1.0)
        assert together.body[at] == pytest.approx(float(alone.body[0]), rel=1e-12)


def test_flange_no_wider_than_the_sleeve_is_refused() -> None:
    """A flange of the sleeve's own diameter is none."""
    end = FlangeEnd(shop.DIAMETER, 0.0, 3e-3)
    with pytest.raises(InputError, match="flange"):
        end_times(shop.trial("A1", "lean"), end, entry_time=1.0)
