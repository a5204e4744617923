"""A quick question about the proof: does the close-up say that the fit was obtained."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.closeratio import close_up_ratio, expected_close_up, opening_default
from sleevewright.core.fits.closeups import StationCloseUps, mean_close_up
from sleevewright.core.fits.interference import effective_interference
from sleevewright.core.fits.posterior import (
    FitPosterior,
    Prior,
    chance_proved_below,
    fit_by_close_ups,
    mean_proved_fit,
    proved_fit,
)
from sleevewright.core.fits.proof import fit_surprise
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.materials import default
from sleevewright.core.metals import Default
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, draw
from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_fit import (
    BARE,
    METALS,
    OVERRIDDEN,
    SIZES,
    interference_line,
    read_interference,
    ring_pair,
)
from sleevewright.services.quick_inputs import (
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)

PROOF_INPUTS = (
    *SIZES,
    *needed("cooled_bore"),
    *METALS,
    *optional("casting_low", "casting_high", "least"),
    by_default("fit_doubt", "quick_fit_doubt"),
    by_default("close_up_doubt", "quick_close_up_doubt"),
    *BARE[1:],
    *OVERRIDDEN,
)
SAMPLES = 4000
STATED = 1.96  # a half-width of 95 % in standard uncertainties

Array = NDArray[np.float64]


def quick_proof(words: Iterable[str]) -> QuickAnswer:
    """The fit by its measurement and its close-up, its chance, and the surprise."""
    typed = read_words("proof", PROOF_INPUTS, words)
    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    pair = ring_pair(typed, casting, sleeve)
    prior = _prior(typed)
    stations = _stations(typed)
    grows = [float(one.expansion.reference) for one in (casting, sleeve)]
    opening = default(opening_default(casting=grows[0], sleeve=grows[1]))
    typed.assume("taken off by friction", opening.stated)
    samples = _ratios(typed, pair, opening)
    ratio = float(samples.mean())
    found = proved_fit(samples=samples, prior=prior, stations=stations)
    alone = fit_by_close_ups(samples=samples, prior=prior, stations=stations)
    relative = float(samples.std()) / ratio
    surprise = fit_surprise(prior=prior, stations=stations, ratio=ratio, ratio_standard=relative)
    lines = (
        interference_line(prior.interference),
        Line("closed_um", "Bore closed by", mean_close_up(stations=stations), "deviation",
             mean_close_up, "diametral"),
        Line("expected_um", "Should have closed by", _expected(prior, ratio), "deviation",
             expected_close_up, "diametral"),
        Line("ratio_1", "Close-up, of the fit", ratio, "ratio", close_up_ratio),
        Line("surprise_1", "Surprise", surprise, "ratio", fit_surprise,
             note="in standard uncertainties; far below zero it was not obtained"),
        *_proved(typed, found, alone.mean),
    )  # fmt: skip
    cautions, is_out = _said(surprise)
    return QuickAnswer("proof", typed, lines, cautions, is_out=is_out)


def _prior(typed: Typed) -> Prior:
    """The fit as measured."""
    tight = read_interference(typed)
    left = effective_interference(
        interference=tight,
        sleeve_roughness=typed.value("sleeve_roughness"),
        casting_roughness=typed.value("casting_roughness"),
    )
    shared = typed.value("close_up_doubt") / STATED
    if typed.value("fit_doubt") <= 0.0:
        hint = "A fit is measured to some tenths of a thou at best."
        raise InputError("fit_doubt", typed.text("fit_doubt"), "", "more than nothing", hint)
    return Prior(tight, typed.value("fit_doubt") / STATED, tight - float(left), shared)


def _expected(prior: Prior, ratio: float) -> float:
    """The close-up that the fit as measured gives."""
    told = expected_close_up(
        ratio=ratio, interference=prior.interference, roughness_loss=prior.roughness_loss
    )
    return float(told)


def _stations(typed: Typed) -> StationCloseUps:
    """One station, of means before and after."""
    before, after = typed.value("sleeve_id"), typed.value("cooled_bore")
    most = typed.value("sleeve_od") - typed.value("parent_bore")
    if not -most < before - after < 2.0 * most:
        allowed = f"near the bore before the drop, {typed.text('sleeve_id')}, mostly smaller"
        hint = "Were before and after swapped, or is one of them mistyped?"
        raise InputError("cooled_bore", typed.text("cooled_bore"), "", allowed, hint)
    return StationCloseUps(
        np.zeros(1), np.zeros(1), np.array([[before - after]]), np.zeros(1), np.ones(1)
    )


def _ratios(typed: Typed, pair: RingPair, opening: Default) -> Array:
    """Samples of the close-up by the fit: of the casting's outside and of friction."""
    outside = _outside(typed, pair)
    doubt = opening.doubt or 0.0
    friction = InputQuantity("opening", opening.value, doubt, shape=Shape.RECTANGULAR)
    rings = replace(pair, outside_diameter=draw(outside, count=SAMPLES))
    found = close_up_ratio(pair=rings, opening=draw(friction, count=SAMPLES))
    return np.asarray(found, dtype=np.float64)


def _outside(typed: Typed, pair: RingPair) -> InputQuantity:
    """What the casting gives way as: between both ends that were told, else the usual doubt."""
    middle = float(pair.outside_diameter)
    low, high = typed.given("casting_low"), typed.given("casting_high")
    if (low is None) is not (high is None):
        told, other = ("casting_low", "casting_high")[:: 1 if high is None else -1]
        hint = f"Give {other} too, or leave both out: then the usual doubt of casting_od stands."
        raise InputError(told, typed.text(told), "", f"one of two: {other} is missing", hint)
    if low is not None and high is not None:
        if not pair.interface_diameter < low < high:
            allowed = f"more than the sleeve, {typed.text('sleeve_od')}, and less than casting_high"
            raise InputError("casting_low", typed.text("casting_low"), "", allowed)
        half, middle = 0.5 * (high - low), 0.5 * (high + low)
    else:
        usual = default("casting_radius_doubt").value
        typed.assume("casting_od within", f"{100.0 * usual:g} %, one standard uncertainty")
        wall = middle - float(pair.interface_diameter)
        half = min(math.sqrt(3.0) * usual * middle, 0.5 * wall)
    standard = half / math.sqrt(3.0)
    return InputQuantity("casting outside", middle, standard, shape=Shape.RECTANGULAR)


def _proved(typed: Typed, found: FitPosterior, alone: float) -> tuple[Line, ...]:
    """The fit by both, its interval, and its chance where a least was told."""
    low, high = (found.quantile(share) for share in (0.025, 0.975))
    lines = [
        _fit("proved_um", "How tight, proved", found.mean, "as measured and as the bore closed"),
        _fit("proved_low_um", "at least, 39 times in 40", low),
        _fit("proved_high_um", "at most, 39 times in 40", high),
        _fit("alone_um", "By the close-up alone", alone, "whatever was measured"),
    ]
    least = typed.given("least")
    if least is not None:
        chance = chance_proved_below(posterior=found, limit=least)
        words = "Chance of less than the least"
        lines.append(Line("below_least_1", words, chance, "probability", chance_proved_below))
    return tuple(lines)


def _fit(key: str, label: str, value: float, note: str = "") -> Line:
    """A fit as a line."""
    return Line(key, label, value, "deviation", mean_proved_fit, "diametral", note)


def _said(surprise: float) -> tuple[tuple[Caution, ...], bool]:
    """What a close-up means that is not what the fit gives."""
    close, out = default("surprise_close").value, default("surprise_out").value
    if surprise < -close:
        text = (
            "The bore closed less than the fit gives: dirt, roughness that flattened, a bore that "
            "is larger than it was read, or a casting that gives way more. Measurement and "
            "close-up contradict each other: gauge both again before their mean is trusted."
        )
        return (Caution("soft-fit", text, "derived"),), surprise < -out
    if surprise > close:
        text = (
            "The bore closed more than the fit gives: a size that was read wrong, a stiffer "
            "casting, or a bore that closed out of round. Look at the stress."
        )
        return (Caution("tight-fit", text, "derived"),), False
    return (), False
