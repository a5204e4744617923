"""Sweeps of invented set-ups whose truth is known: moves and leans without bias.

Each reading is the distance from the spindle to the wall of a real circle with an oval and
lobes, with scatter and steps of the indicator; so the second road is geometry, not the
harmonics that are fitted.  All seeds are fixed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from sleevewright.core.metrology.sweep import Mount, Sweep, sweep_offset

Array = NDArray[np.float64]

RADIUS, APART, STEP, SCATTER = 33.0e-3, 60.0e-3, 1.0e-6, 1.5e-6
READING = math.hypot(SCATTER, STEP / math.sqrt(12.0))


def read(random: np.random.Generator, centre: Array, angles: Array) -> Array:
    """What an indicator on the spindle shows of a bore whose centre stands off it."""
    across = centre[0] * np.cos(angles) + centre[1] * np.sin(angles)
    aside = centre[0] * np.sin(angles) - centre[1] * np.cos(angles)
    wall = across + np.sqrt(RADIUS**2 - aside**2)
    turn, other = random.uniform(0.0, 2.0 * math.pi, 2)
    wall += 2e-6 * np.cos(2.0 * angles - turn) + 1e-6 * np.cos(3.0 * angles - other)
    shown = RADIUS - wall + SCATTER * random.standard_normal(angles.size)
    return np.asarray(np.round(shown / STEP) * STEP)


def swept(random: np.random.Generator, centre: Array, count: int) -> Sweep:
    """A sweep at so many directions round the bore, from anywhere on."""
    angles = random.uniform(0.0, 1.0) + np.arange(count) * 2.0 * math.pi / count
    readings = read(random, centre, angles)
    return sweep_offset(angles, readings, mount=Mount.SPINDLE, reading_standard=READING)


def jobs(count: int, directions: int, seed: int) -> dict[str, Array]:
    """Errors of moves and leans along both axes, and the doubt that was said of the moves."""
    random = np.random.default_rng(seed)
    found: dict[str, list[tuple[float, float]]] = {"move": [], "lean": []}
    doubts = []
    for _ in range(count):
        upper, lower = random.uniform(-80e-6, 80e-6, (2, 2))
        above, below = (swept(random, one, directions) for one in (upper, lower))
        found["move"].append((above.move_x + upper[0], above.move_y + upper[1]))
        true = (upper - lower) / APART
        leans = above.move_x - below.move_x, above.move_y - below.move_y
        found["lean"].append((leans[0] / APART + true[0], leans[1] / APART + true[1]))
        doubts.append((above.move_doubt, below.move_doubt))
    return {name: np.array(rows) for name, rows in found.items()} | {"doubt": np.array(doubts)}


@pytest.fixture(scope="module", params=[8, 12])
def several(request: pytest.FixtureRequest) -> dict[str, Array]:
    """400 set-ups, swept at 8 or 12 directions."""
    return jobs(400, request.param, seed=31)


def test_moves_and_leans_have_no_bias(several: dict[str, Array]) -> None:
    """Along each axis the mean error is within three standard errors of nought."""
    for name in ("move", "lean"):
        errors = several[name]
        limit = 3.0 * errors.std(axis=0) / math.sqrt(len(errors))
        assert (np.abs(errors.mean(axis=0)) <= limit).all(), name


def test_moves_hold_as_often_as_they_say(several: dict[str, Array]) -> None:
    """Two doubts about a move hold it, along each axis, 19 times in 20 at least."""
    inside = np.abs(several["move"]) <= 1.96 * several["doubt"][:, :1]
    assert inside.mean() >= 0.95 - 3.0 * math.sqrt(0.95 * 0.05 / inside.size)


def test_leans_hold_as_often_as_they_say(several: dict[str, Array]) -> None:
    """The doubt of a lean is that of both sweeps by the distance between them."""
    doubt = np.hypot(*several["doubt"].T) / APART
    inside = np.abs(several["lean"]) <= 1.96 * doubt[:, None]
    assert inside.mean() >= 0.95 - 3.0 * math.sqrt(0.95 * 0.05 / inside.size)


def test_a_small_offset_looks_larger_than_it_is() -> None:
    """The length of an offset cannot be negative: at nought it shows (pi / 2)^(1/2) u.

    Mean of the Rayleigh distribution, Rayleigh 1880; so a centred bore shows no nought.
    """
    random = np.random.default_rng(32)
    shown = [swept(random, np.zeros(2), 8).offset for _ in range(400)]
    u = READING * math.sqrt(2.0 / 8.0)
    wanted, error = math.sqrt(0.5 * math.pi) * u, np.std(shown) / math.sqrt(len(shown))
    assert np.mean(shown) == pytest.approx(wanted, abs=3.0 * error)
