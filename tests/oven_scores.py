"""How well the forecast does on simulated ovens, many heats at once."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from simulated_ovens import LOOKS, OUT_SECONDS, OvenTrial, simulated_heats, strain
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.heating import DoorOpening, HeatedFit, Heating, OvenReading
from sleevewright.core.heat.oven_course import Openings, first_reached, openings
from sleevewright.core.heat.ready import draws
from sleevewright.core.heat.ready_fit import Fitted, Unknowns, fitted, seen

Rows = NDArray[np.float64]

THOU = 25.4e-6
DIAMETER, TIGHT, GO = 0.062992, 3.2 * THOU, 5.4 * THOU
ALLOY = ExpansionLaw(20.7e-6, 0.010e-6)
IRON = ExpansionLaw(10.6894e-6, 0.00597e-6)
ROOM = 294.15
SLEEVE = DIAMETER * (10.6894e-6 + 0.00597e-6 * 1.0) * 1.0


@dataclass(frozen=True)
class Score:
    """Errors of the ready time after so many readings [min], and what its band held."""

    heats: int
    bias: float
    median: float
    p90: float
    held: float
    below: float
    above: float


def heating(setting: float, time_constant: float = 900.0) -> Heating:
    """The reference pair in aluminium, in an oven set so hot."""
    return Heating(
        (("body", HeatedFit(DIAMETER, TIGHT, GO)),),
        ALLOY, IRON, ROOM, ROOM, ROOM, setting, 503.15, time_constant=time_constant,
    )  # fmt: skip


def target() -> float:
    """Casting at which the alloy of the book has the growth that is waited for."""
    wanted = (GO + TIGHT + SLEEVE) / (DIAMETER - TIGHT)
    low, high = 300.0, 700.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if strain(middle) >= wanted else (middle, high)
    return low


def trial(count: int, setting: float, seed: int, *, is_out: bool) -> OvenTrial:
    """Heats of the reference pair."""
    return simulated_heats(count, setting=setting, target=target(), seed=seed, is_out=is_out)


def slips_of(heats: OvenTrial) -> Rows:
    """Slip on the gauge at every look, without noise."""
    grown = heats.expansion[:, None] * np.asarray(strain(heats.castings))
    return np.asarray((DIAMETER - TIGHT) * grown - SLEEVE - TIGHT)


def told_of(heats: OvenTrial, seed: int) -> tuple[Rows, Rows, tuple[float, float]]:
    """Slips and probes with 0.2 thou and 3 K of noise, and those doubts."""
    rng, doubts = np.random.default_rng(seed), (0.2 * THOU, 3.0)
    slips = slips_of(heats)
    slips = slips + rng.normal(0.0, doubts[0], slips.shape)
    return slips, heats.castings + rng.normal(0.0, doubts[1], slips.shape), doubts


def scores(
    heats: OvenTrial, setting: float, seed: int, *, is_out: bool, draws_each: int = 300
) -> tuple[Score, ...]:
    """One row after each reading; only heats that were not ready at it are counted."""
    known = heating(setting)
    slips, probes, _ = told_of(heats, seed)
    doors = tuple(DoorOpening(one, OUT_SECONDS if is_out else 15.0, is_out=is_out) for one in LOOKS)
    plan = openings(doors, room=ROOM, air_time_constant=known.air_time_constant)
    rows = []
    for number in range(1, len(LOOKS) + 1):
        told = seen(known, tuple(OvenReading(one, 0.0, 0.0) for one in LOOKS[:number]))
        values = np.stack([slips[:, :number], probes[:, :number]], axis=-1).reshape(len(slips), -1)
        fit = fitted(known, plan, replace(told, values=values))
        rows.append(_score(known, plan, fit, heats.ready, (LOOKS[number - 1], draws_each)))
    return tuple(rows)


def _score(
    known: Heating, plan: Openings, fit: Fitted, ready: Rows, asked: tuple[float, int]
) -> Score:
    """Errors and bands at one look, of the heats that were not ready by then."""
    now, draws_each = asked
    unknowns = Unknowns(known, draws(fit, draws_each, 5))
    reached = np.sort(first_reached(unknowns.belief, plan, unknowns.target(0), now=now), axis=0)
    low, middle, high = (reached[int(share * draws_each)] for share in (0.05, 0.5, 0.95))
    is_open = ready > now + 30.0
    with np.errstate(invalid="ignore"):
        off = (middle - ready)[is_open] / 60.0
    off = np.where(np.isnan(off), 0.0, off)
    under = (ready < low)[is_open]
    over = (ready > high)[is_open]
    return Score(
        int(is_open.sum()), float(np.median(off)), float(np.median(np.abs(off))),
        float(np.quantile(np.abs(off), 0.9)), float(1.0 - under.mean() - over.mean()),
        float(under.mean()), float(over.mean()),
    )  # fmt: skip
