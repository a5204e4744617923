"""Where the fit is soft, and what that mostly means: words for what the close-ups show.

A close-up that is short all along, at one end, in one direction, or larger than it should
be: each is told, and none is averaged away.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from scipy.special import ndtr

from sleevewright.core.fits.closeups import StationCloseUps, by_direction, uneven_close_up
from sleevewright.core.fits.proof import StationFit
from sleevewright.planning.answers import Kind, Plan, Quantity, Verdict
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity
WORTH_SAYING = 0.10
"""A station or direction is told as soft where it lacks this share of the close-up."""

SOFT = Line("cool.soft", "Where it is soft", Q.TEXT, of="by station and direction")
SOFT_PLACES = "cool.soft_places"
LEFT_OUT = Line(
    "cool.left_out", "Depths that the proof leaves out", Q.TEXT,
    of="gauged only once, in too few directions, or beside the flange without a solid model",
)  # fmt: skip
PLACES = Line(SOFT_PLACES, "stations that are soft", Q.RECORD, is_detail=True)
UNEVEN = Line(
    "cool.uneven", "Closed unevenly round the bore", Q.DEVIATION, "diametral",
    of="largest less smallest direction", is_detail=True,
)  # fmt: skip

ALL_OVER = (
    "Soft all over: roughness that flattened, dirt in the fit, a parent bore that is larger than "
    "it was read, or a casting that gives way more than was assumed. Gauge both bores again; "
    "tell the casting's outside, or let a solid model say."
)
TIGHTER = (
    "Tighter than thought: a sleeve or a bore that was read wrong, a casting that is stiffer than "
    "was assumed, or a bore that closed out of round. Look at the stress before it is passed."
)
AT_TOP = (
    "Soft at the top: a flange that was held off, a counterbore that was tight or a chip on the "
    "ledge. Try the feeler, and gauge the stand-out."
)
AT_BOTTOM = (
    "Soft at the bottom: a bell-mouthed parent bore, a lead-in that is too long, or a step that "
    "held the sleeve up. Compare the parent bore at that depth."
)
BETWEEN = (
    "Soft in between: a waist or a scar in the parent bore, or ports and windows there. Compare "
    "the parent bore at that depth."
)
ONE_WAY = (
    "Closed less in one direction: ports, windows or a thin side of the casting there, or a "
    "parent bore that is oval."
)
ALIKE = "Nowhere that the gauge can tell: alike at every depth and in every direction."
ONE_STATION = "Only one depth counts, so that top and bottom are not told apart."


def enter_softness(ledger: Ledger, plan: Plan, least_chance_most: float) -> None:
    """Enter where the fit is soft, in words, and let no soft place pass unseen."""
    ledger.compute(UNEVEN, uneven_close_up, CENTRALLY, stations="cool.stations")
    if not (ledger.has("cool.by_station") and ledger.has("cool.proof")):
        needs = ledger.entry("cool.proof").answer.needs
        need = needs[0] if needs else "both gaugings of the bore"
        ledger.fact(SOFT, Given(None, Kind.COMPUTED, need=need))
        return
    _enter_left_out(ledger, plan)
    said = (*_whole(ledger), *_stations(ledger), *_directions(ledger))
    for words in said:
        ledger.advise(words)
    few = () if ledger.value("cool.stations").depths.size > 1 else (ONE_STATION,)
    heads = tuple(f"{words.partition(':')[0]}." for words in said)
    told = " ".join((*heads, *few) if heads or few else (ALIKE,))
    ledger.fact(SOFT, Given(told, Kind.COMPUTED, "derived"))
    places = tuple(float(at) for at in soft_stations(ledger))
    ledger.fact(PLACES, Given(places, Kind.COMPUTED, "derived"))
    _hold_soft_places(ledger, least_chance_most)


def _enter_left_out(ledger: Ledger, plan: Plan) -> None:
    """Enter the depths that do not count, where there are any."""
    gone = sorted(set(ledger.value("cool.stations").left_out))
    if not gone:
        return
    figures = [shown(one, quantity=Q.SIZE.value, system=plan.units) for one in gone]
    told = ", ".join(f"{one.figure} {one.unit}" for one in figures)
    ledger.fact(LEFT_OUT, Given(told, Kind.COMPUTED, "the readings"))


def _whole(ledger: Ledger) -> tuple[str, ...]:
    """Soft or tight over the whole length."""
    close, surprise = ledger.default("surprise_close").value, float(ledger.value("cool.proof"))
    if surprise < -close:
        # Where some stations closed as they should, the places tell more than the whole.
        return () if soft_stations(ledger) else (ALL_OVER,)
    return (TIGHTER,) if surprise > close else ()


def soft_stations(ledger: Ledger) -> tuple[int, ...]:
    """Stations that lie clearly below their neighbours: beyond scatter, and worth saying."""
    fits: tuple[StationFit, ...] = ledger.value("cool.by_station")
    out = ledger.default("surprise_out").value
    return tuple(
        at
        for at, one in enumerate(fits)
        if one.surprise < -out and -one.off > WORTH_SAYING * abs(one.fit - one.off)
    )


def _stations(ledger: Ledger) -> tuple[str, ...]:
    """Words for each end that is soft."""
    last = len(ledger.value("cool.by_station")) - 1
    places = {0: AT_TOP, last: AT_BOTTOM}
    return tuple(dict.fromkeys(places.get(at, BETWEEN) for at in soft_stations(ledger)))


def _directions(ledger: Ledger) -> tuple[str, ...]:
    """Words where the bore closed less in one direction than in another."""
    stations: StationCloseUps = ledger.value("cool.stations")
    means = by_direction(stations)
    known = np.isfinite(means)
    if known.sum() < len(("one", "another")):
        return ()
    count = np.isfinite(stations.closed).sum(axis=1)
    one = float(np.sqrt(np.mean(stations.standards**2 * count) / stations.depths.size))
    spread = float(ledger.value("cool.uneven"))
    out = ledger.default("surprise_out").value
    is_clear = spread > out * math.sqrt(2.0) * one
    if not (is_clear and spread > WORTH_SAYING * abs(float(stations.means.mean()))):
        return ()
    least = math.degrees(float(stations.directions[known][int(np.argmin(means[known]))]))
    head, _, tail = ONE_WAY.partition(":")
    return (f"{head}, across {least:.0f} degrees:{tail}",)


def _hold_soft_places(ledger: Ledger, most: float) -> None:
    """A chance that is good over the whole is not called good with a soft place in it."""
    judged = ledger.entry("cool.proved_below_least").answer.judgement
    if judged is None or judged.verdict is not Verdict.GOOD:
        return
    fits, least = ledger.value("cool.by_station"), float(ledger.value("fit.least"))
    for at in soft_stations(ledger):
        chance = float(ndtr((least - fits[at].fit) / fits[at].standard))
        if chance > most:
            remedy = (
                "good over the whole length, and soft at one depth: see where it is soft, and "
                "gauge the bore at more depths"
            )
            ledger.amend(
                "cool.proved_below_least",
                judgement=replace(judged, verdict=Verdict.TOO_CLOSE, remedy=remedy),
            )
            return
