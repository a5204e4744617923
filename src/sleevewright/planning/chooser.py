"""The numbers behind one picture while the interference moves: everything that a fit decides.

For each interference the same answers as in the plan, by the same functions on the same
samples, with the fit in their place moved: the doubt at each point is what the cut and the
readings may miss by, with the material and the geometry.  Interferences are diametral, at
20 degC.  Nothing here chooses; that is for the person who signs the fit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.chooser import Bands, bands, chances_out
from sleevewright.core.uncertainty.decision import decide
from sleevewright.core.uncertainty.sampled import probability_below
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Answer, Quantity, Verdict
from sleevewright.planning.chooser_curves import BEHIND, CHANCE, CURVES, MARKED, Drawn, Limit
from sleevewright.planning.chooser_ground import (
    FIT_MOVED,
    Ground,
    assumptions_of,
    carried,
    fits_to_draw,
    ground,
    wall_caution,
)
from sleevewright.planning.chooser_records import Chooser, Curve, Mark
from sleevewright.planning.hazards import HOT_METAL
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import SHALLOW
from sleevewright.planning.moving import Moved
from sleevewright.planning.plan import Runner, call_stage
from sleevewright.planning.shop import Shop, default_in
from sleevewright.units import shown

__all__ = ["Chooser", "Curve", "Mark", "chooser", "draw"]

Array = NDArray[np.float64]

SAMPLES = 4_000
"""Samples behind each band: 19 times in 20 its ends are known to about 2 % of its width."""

LEAST_SAMPLES = 200
"""Fewer leave the ends of a band, which 5 in 100 lie beyond, to a handful of them."""

RESTS_ON = ("sleeve.od", "fit.wanted", "fit.least", "fit.cold")
"""Without these nothing can be drawn."""

_ONE_SIDED_95 = 1.645


@dataclass(frozen=True)
class _Picture:
    """What every curve is made from."""

    ground: Ground
    shop: Shop
    fits: Array
    spread: Moved  # rows of fits by columns of samples
    central: Moved  # at central inputs, one value by fit
    count: int


def chooser(
    job: Job,
    shop: Shop,
    *,
    interferences: tuple[float, ...] | None = None,
    samples: int = SAMPLES,
    run: Runner = call_stage,
) -> Chooser:
    """Everything that the interference decides, over a range of interferences.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.
    interferences : tuple of float, optional
        Diametral interferences, rising [m]; round steps from nothing to beyond the larger
        of twice the wanted fit and the fit at the limit where none are given.
    samples : int
        Samples behind each band, at most what the plan itself draws for an answer.
    run : Runner
        How a stage is called; a cache may stand here.

    Returns
    -------
    Chooser
        Curves with their limits, and what is missing for the others.

    Raises
    ------
    InputError
        If an interference is negative or above half a per cent of the diameter, or
        something told cannot be right.
    """
    base = ground(job, shop, run)
    if not all(base.standing.has(one) for one in RESTS_ON):
        needs = _needs(base, RESTS_ON)
        return Chooser((), (), math.nan, math.nan, math.nan, 0, (), needs)
    return draw(base, shop, fits_to_draw(base, interferences), samples=samples)


def draw(base: Ground, shop: Shop, fits: Array, *, samples: int) -> Chooser:
    """The picture of stages that were run already, at the given fits."""
    if samples < LEAST_SAMPLES:
        raise InputError("samples", samples, "", f"{LEAST_SAMPLES} or more")
    count = min(samples, shop.settings.budget_samples, SHALLOW)
    standing = Moved(base.results, {}, count=count)
    spread = Moved(base.results, carried(base, standing, fits[:, np.newaxis]), count=count)
    central = Moved(base.results, carried(base, base.standing, fits), count=0)
    picture = _Picture(base, shop, fits, spread, central, count)
    drawn = [one for one in CURVES if spread.has(one.id)]
    curves = [_curve(picture, one) for one in drawn if not _never(picture, one)]
    return Chooser(
        interferences=_plain(fits),
        curves=tuple(curves),
        chosen=float(base.standing.value("fit.cold")),
        least=float(base.standing.value("fit.least")),
        diameter=float(base.standing.value("sleeve.od")),
        samples=count,
        cautions=_cautions(picture),
        needs=(*_needs(base, BEHIND), *_loose(picture)),
        marks=_marks(base),
    )


def _curve(picture: _Picture, drawn: Drawn) -> Curve:
    """One answer over the interference, held against its limit."""
    answer = picture.spread.entry(drawn.id).answer
    bare = Curve(
        answer.id,
        answer.label,
        answer.quantity,
        answer.sense,
        answer.of,
        (),
        (),
        (),
        (),
        basis=(answer.basis,) if answer.basis is not None else (),
        assumptions=assumptions_of(picture.ground, drawn.id),
    )
    if drawn.id == CHANCE:
        return _chance_curve(picture, bare)
    values = _rows(picture, picture.spread.value(drawn.id))
    if drawn.is_root:
        values = _rooted(picture, values)
    three: Bands = bands(values)
    central = _central(picture, drawn.id)
    told = replace(
        bare,
        low=_plain(three.low),
        middle=_plain(three.middle),
        high=_plain(three.high),
        central=_plain(central),
    )
    limit = drawn.limit
    if limit is None or not (limit.of is None or picture.spread.has(limit.source)):
        return told  # a metal whose strength nobody printed: the needs name it
    return _judged(picture, told, limit, values)


def _chance_curve(picture: _Picture, bare: Curve) -> Curve:
    """The chance of less than the least over the interference, with what counting leaves open."""
    least = float(picture.ground.standing.value("fit.least"))
    fits = _rows(picture, picture.spread.value(FIT_MOVED))
    shares = [probability_below(row, least) for row in fits]
    most = picture.shop.settings.least_chance_most
    judge = against_chance(most, 1.0 - most, remedy="")
    chances = tuple(one.value for one in shares)
    half = [_ONE_SIDED_95 * one.sampling_error for one in shares]
    source = default_in(picture.shop.chosen, "least_chance_most").source
    return replace(
        bare,
        low=tuple(max(p - h, 0.0) for p, h in zip(chances, half, strict=True)),
        middle=chances,
        high=tuple(min(p + h, 1.0) for p, h in zip(chances, half, strict=True)),
        central=chances,
        limit=most,
        side="most",
        limit_source=source,
        limit_words="chance of less than the least that the shop still accepts before the heat",
        chance_out=chances,
        verdicts=tuple(judge(p, None, 0.0).verdict for p in chances),
    )


def _judged(picture: _Picture, curve: Curve, limit: Limit, values: Array) -> Curve:
    """The curve against its limit, by the shop's guard rule, with the chance of being out."""
    chosen = picture.shop.chosen
    if limit.of is None:
        found = default_in(chosen, limit.source)
        spread: Any = found.value
        central, source = found.value, found.source
    else:
        central = limit.of(picture.central)
        spread = limit.of(picture.spread) if limit.is_spread else central
        source = picture.spread.entry(limit.source).answer.source or "derived"
    sign = 1.0 if limit.side == "least" else -1.0
    left = sign * (values - spread)
    standards = left.std(axis=1)
    guard = default_in(chosen, "guard_factor").value
    at = np.broadcast_to(central, picture.fits.shape)
    verdicts = tuple(
        Verdict(decide(value, standard=u, limit=edge, side=limit.side, guard=guard).value)
        for value, u, edge in zip(curve.central, _plain(standards), _plain(at), strict=True)
    )
    return replace(
        curve,
        limit=_now(picture, at),
        side=limit.side,
        limit_source=source,
        limit_words=limit.words,
        chance_out=_plain(chances_out(left)),
        verdicts=verdicts,
    )


def _now(picture: _Picture, limits: Array) -> float:
    """The limit where the fit stands now; most limits are the same for every fit."""
    chosen = picture.ground.standing.value("fit.cold")
    return float(np.interp(chosen, picture.fits, limits))


def _rows(picture: _Picture, values: Any) -> Array:
    """Answers as rows of fits by columns of samples, also where nothing is in doubt."""
    shape = (picture.fits.size, max(picture.count, 2))
    given = np.asarray(values, dtype=np.float64)
    return given if given.shape == shape else np.array(np.broadcast_to(given, shape))


def _rooted(picture: _Picture, values: Array) -> Array:
    """Temperatures without a root as what they mean: loose already, or never loose."""
    none = np.isnan(values)
    if none.any():
        loose = _rows(picture, picture.spread.value("fit.effective")) <= 0.0
        values[none] = np.where(loose[none], -np.inf, np.inf)
    return values


def _never(picture: _Picture, drawn: Drawn) -> bool:
    """Whether an answer has no value at any fit, as the grip of iron in iron."""
    if not (drawn.is_root and picture.spread.has(drawn.id)):
        return False
    tight = picture.fits > 0.0
    return bool(tight.any() and np.isnan(_central(picture, drawn.id)[tight]).all())


def _loose(picture: _Picture) -> tuple[str, ...]:
    """What is missing where the parts are loose as they stand: the plan opens nothing then."""
    names = ("fit.grip", "fit.opens")
    grips, opens = (picture.spread.has(name) for name in names)
    if opens or not grips or _never(picture, Drawn(names[0], is_root=True)):
        return ()
    return ("a fit that is tight, for where it opens in the running engine",)


def _central(picture: _Picture, identity: str) -> Array:
    """An answer at central inputs, one value for each fit."""
    return np.broadcast_to(picture.central.value(identity), picture.fits.shape)


def _cautions(picture: _Picture) -> tuple[Caution, ...]:
    """What is to be watched: thin walls, metals that never let go, hot metal."""
    found = list(wall_caution(picture.ground, picture.shop))
    standing = picture.ground.standing
    if _never(picture, Drawn("fit.grip", is_root=True)):
        text = (
            "There is no temperature at which a common heat frees this pair: no curve of where it "
            "lets go. It is pressed or bored out."
        )
        found.append(Caution("never-lets-go", text, "derived"))
    least, system = standing.entry("fit.least").answer, picture.ground.job.units
    if least.kind.value == "computed":
        ratio = standing.entry("fit.least_ratio").answer
        by_inch, here = (
            shown(standing.value(name), quantity=quantity.value, system=system)
            for name, quantity in (
                ("fit.least_per_inch", Quantity.SLOPE),
                ("fit.least", Quantity.DEVIATION),
            )
        )
        text = (
            f"No least was set for this job: the default is used, {by_inch.figure} {by_inch.unit}, "
            f"{here.figure} {here.unit} here ({ratio.source})."
        )
        found.append(Caution("default-least", text, ratio.source))
    found.append(HOT_METAL)
    return tuple(found)


def _marks(base: Ground) -> tuple[Mark, ...]:
    """Interferences of the plan that the picture is read by, as far as they are known."""
    answers = (base.standing.entry(one).answer for one in MARKED if base.standing.has(one))
    return tuple(
        Mark(one.id, one.label, float(base.standing.value(one.id)), one.kind, _source(one))
        for one in answers
    )


def _source(answer: Answer) -> str:
    """Who says an answer, or what it was computed by."""
    return answer.source or (", ".join(answer.basis.sources) if answer.basis else "")


def _needs(base: Ground, identities: tuple[str, ...]) -> tuple[str, ...]:
    """What is to be told for the answers that cannot be drawn, by name, each once."""
    entries = [e for result in base.results for e in result.entries if e.answer.id in identities]
    return tuple(dict.fromkeys(need for e in entries if e.is_missing for need in e.answer.needs))


def _plain(values: Any) -> tuple[float, ...]:
    """An array as plain floats, nan where there is no value."""
    given = np.asarray(values, dtype=np.float64)
    return tuple(np.where(np.isfinite(given), given, np.nan).tolist())
