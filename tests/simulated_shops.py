"""Shops that do not exist: parts whose truth is known, gauged with errors as budgets state them.

A part has a size, a taper, a barrel, an oval and lobes; a gauge has a setting, a transfer, a
scatter and a step; thermometers and coefficients are off.  Whatever a budget states is drawn
from the distribution that the budget states, so that its intervals can be held to their
word: 95 of 100.  Diametral, metres and kelvin.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.metrology.form import FormDoubt, Range, form_doubt
from sleevewright.core.metrology.grid import (
    GridReadings,
    SizeGrid,
    mean_size,
    out_of_round,
    sizes_at_reference,
    taper,
)
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.size import (
    GaugeDoubt,
    SizeInputs,
    TemperatureDoubt,
    size_inputs,
    size_of,
)
from sleevewright.core.uncertainty.inputs import InputQuantity, draw

Array = NDArray[np.float64]

COUNT = 20_000
"""Samples behind each interval: its ends are then known to a fiftieth of u."""


@dataclass(frozen=True)
class Form:
    """How a part differs from a cylinder, as diameters; each is drawn up to its limit."""

    taper: float = 4e-6  # over the length
    barrel: float = 2e-6
    oval: float = 4e-6  # largest less smallest diameter
    four_lobes: float = 0.5e-6
    ledge: float = 0.0  # between any two stations, anywhere


USUAL = Repeatability(2.54e-6, 8.0)


@dataclass(frozen=True)
class Gauge:
    """What a budget knows of a gauge."""

    settings: tuple[InputQuantity, ...]
    resolution: float = 2.54e-6
    reading: Repeatability = USUAL

    def doubt(self) -> GaugeDoubt:
        """The same as the core takes it."""
        return GaugeDoubt(self.settings, self.resolution, self.reading)


MIC = InputQuantity("mic.setting", 0.0, 2.54e-6)
TRANSFER = InputQuantity("bore-gauge.setting", 0.0, 3.8e-6)
STEEL = InputQuantity("gauge.expansion", 11.5e-6, 0.5e-6)


@dataclass(frozen=True)
class Feature:
    """One thing that is gauged, and all that its budget is told."""

    name: str
    nominal: float
    gauge: Gauge
    expansion: InputQuantity
    stations: tuple[float, ...] = (0.0111, 0.0333, 0.0555, 0.0777)
    directions: int = 4
    length: float = 0.0888
    form: Form = field(default_factory=Form)
    warm: float = 3.0  # the part is read up to so many kelvin from 20 degC
    probe: float = 0.5  # standard uncertainty of a temperature that was read
    shares_room: bool = False  # nothing was said of temperatures: all are the room's

    def temperature(self) -> TemperatureDoubt:
        """The errors of its temperatures."""
        if self.shares_room:
            room = InputQuantity("room.temperature", 0.0, 2.0)
            return TemperatureDoubt(room, room)
        return TemperatureDoubt(
            InputQuantity(f"{self.name}.part_temperature", 0.0, self.probe),
            InputQuantity(f"{self.name}.gauge_temperature", 0.0, self.probe),
        )

    def angles(self) -> Array:
        """Its directions, even over half a turn."""
        return np.arange(self.directions) * math.pi / self.directions


SLEEVE = Feature(
    "sleeve.od", 67.06e-3, Gauge((MIC,)), InputQuantity("sleeve.expansion", 10.7e-6, 0.32e-6)
)
BORE = Feature(
    "bore.size",
    66.97e-3,
    Gauge((TRANSFER, MIC)),
    InputQuantity("casting.expansion", 20.7e-6, 0.52e-6),
)


@dataclass(frozen=True, eq=False)
class Gauged:
    """One feature as it was read, and what it truly is."""

    feature: Feature
    readings: GridReadings
    true_size: float  # mean over length and round, at 20 degC
    true: Array  # diameters where it was read, at 20 degC

    def reckoned(self, count: int = COUNT) -> Reckoned:
        """What is said of it, by the very functions that the plan calls."""
        one = self.feature
        growth = {"part_expansion": one.expansion.value, "gauge_expansion": STEEL.value}
        sizes = sizes_at_reference(self.readings, **growth)
        inputs = size_inputs(
            self.readings,
            sizes,
            feature=one.name,
            gauge=one.gauge.doubt(),
            temperature=one.temperature(),
            **growth,
        )

        def take(quantity: InputQuantity) -> Array:
            return draw(quantity, count=count)

        samples = size_of(
            inputs, of=take, part_expansion=take(one.expansion), gauge_expansion=take(STEEL)
        )
        return Reckoned(self, sizes, inputs, mean_size(sizes), np.asarray(samples))


@dataclass(frozen=True, eq=False)
class Reckoned:
    """What is said of one feature: its size with samples, its form with bounds."""

    gauged: Gauged
    sizes: SizeGrid
    inputs: SizeInputs
    size: float
    samples: Array

    def bounds(self, kind: Range) -> FormDoubt:
        """What is said of its taper or out-of-round."""
        is_taper = kind is Range.TAPER
        seen = taper(self.sizes).spread if is_taper else out_of_round(self.sizes).spread
        stations, directions = self.sizes.sizes.shape
        return form_doubt(
            seen, kind=kind, stations=stations, directions=directions, reading=self.inputs.reading
        )

    def true_form(self, kind: Range) -> float:
        """Largest less smallest of the true part, where it was read."""
        true = self.gauged.true
        if kind is Range.TAPER:
            return float(np.ptp(true.mean(axis=1)))
        return float(np.ptp(true, axis=1).max())


class Shop:
    """Draws the truth: one error for each name, so that what is shared is shared."""

    def __init__(self, seed: int) -> None:
        self._random = np.random.default_rng(seed)
        self._errors: dict[str, float] = {}

    def new_job(self) -> None:
        """Forget the errors of the last job."""
        self._errors.clear()

    def error(self, quantity: InputQuantity) -> float:
        """What an input truly is: drawn once for a job from what is stated of it."""
        if quantity.name not in self._errors:
            deviate = self._random.standard_normal()
            self._errors[quantity.name] = quantity.value + quantity.standard * deviate
        return self._errors[quantity.name]

    def gauge(self, feature: Feature) -> Gauged:
        """Make a part, and read it."""
        random, form = self._random, feature.form
        size = feature.nominal + random.uniform(-5e-6, 5e-6)
        taper, barrel = random.uniform(-1.0, 1.0, 2) * (form.taper, form.barrel)
        oval, lobes = 0.5 * random.uniform(0.0, 1.0, 2) * (form.oval, form.four_lobes)
        turn, other = random.uniform(0.0, 2.0 * math.pi, 2)
        place = np.array(feature.stations) / feature.length - 0.5
        # The parabola of a barrel has no mean over the length.
        along = size + taper * place + barrel * (1.0 / 12.0 - place**2) * 4.0
        along, size = self._with_ledges(feature, along, size)
        angles = feature.angles()
        around = oval * np.cos(2.0 * angles - turn) + lobes * np.cos(4.0 * angles - other)
        true = along[:, None] + around[None, :]
        read = self._read(feature, true)
        return Gauged(feature, read, size, true)

    def _with_ledges(self, feature: Feature, along: Array, size: float) -> tuple[Array, float]:
        """A ledge somewhere in each gap: all stations below it, and the mean, change by it."""
        if not feature.form.ledge:
            return along, size
        stations = np.array(feature.stations)
        steps = self._random.uniform(-1.0, 1.0, stations.size - 1) * feature.form.ledge
        places = self._random.uniform(stations[:-1], stations[1:])
        below = (1.0 - places / feature.length) @ steps
        return along + np.concatenate([[0.0], np.cumsum(steps)]), size + float(below)

    def _read(self, feature: Feature, true: Array) -> GridReadings:
        """What the gauge shows of the part, to whole steps of it."""
        random, gauge, doubt = self._random, feature.gauge, feature.temperature()
        part_said, gauge_said = random.uniform(-1.0, 1.0, 2) * (feature.warm, 3.0)
        if feature.shares_room:
            part_said = gauge_said = 0.0
        part_true = part_said + self.error(doubt.part)
        gauge_true = gauge_said + self.error(doubt.gauge)
        grown = true * (1.0 + self.error(feature.expansion) * part_true)
        seen = grown / (1.0 + self.error(STEEL) * gauge_true)
        seen -= sum(self.error(one) for one in gauge.settings)
        seen = seen + self._scatter(gauge.reading) * random.standard_normal(true.shape)
        if gauge.resolution:
            seen = np.round(seen / gauge.resolution) * gauge.resolution
        return GridReadings(
            np.array(feature.stations),
            feature.angles(),
            seen,
            REFERENCE_TEMPERATURE + part_said,
            REFERENCE_TEMPERATURE + gauge_said,
        )

    def _scatter(self, known: Repeatability) -> float:
        """A true standard deviation, as likely as its stated value leaves it."""
        if math.isinf(known.degrees_of_freedom):
            return known.standard
        half = 0.5 * known.degrees_of_freedom
        return float(known.standard * math.sqrt(half / self._random.standard_gamma(half)))


@dataclass(frozen=True)
class Coverage:
    """How often an interval held the truth, and how far off on average its middle was."""

    jobs: int
    share: float
    bias: float
    bias_error: float  # one standard error of the bias
    stated: float  # mean standard uncertainty
    found: float  # root mean square of the errors

    @property
    def share_error(self) -> float:
        """One standard error of the share, were it 95 %."""
        return math.sqrt(0.95 * 0.05 / self.jobs)

    def __str__(self) -> str:
        """One line of a report, micrometres."""
        return (
            f"{100.0 * self.share:6.2f} %   bias {self.bias / self.bias_error:+5.2f} s.e.   "
            f"u stated {1e6 * self.stated:.3f} found {1e6 * self.found:.3f}"
        )


def coverage_of(errors: Array, low: Array, high: Array, standard: Array) -> Coverage:
    """Coverage from ``estimate - truth`` and the ends of the interval about the estimate."""
    inside = (errors + low <= 0.0) & (errors + high >= 0.0)
    return Coverage(
        errors.size,
        float(inside.mean()),
        float(errors.mean()),
        float(errors.std(ddof=1) / math.sqrt(errors.size)),
        float(standard.mean()),
        float(np.sqrt(np.mean(errors**2))),
    )


def job_pairs(
    pair: tuple[Feature, Feature], jobs: int, seed: int
) -> Iterator[tuple[Reckoned, Reckoned]]:
    """So many jobs of one kind of shop: sleeve and parent bore, gauged and reckoned."""
    shop = Shop(seed)
    for _ in range(jobs):
        shop.new_job()
        yield shop.gauge(pair[0]).reckoned(), shop.gauge(pair[1]).reckoned()


def size_coverage(pair: tuple[Feature, Feature], jobs: int, seed: int) -> dict[str, Coverage]:
    """Coverage of sleeve, bore and fit over so many jobs of one kind of shop."""
    kept: dict[str, list[tuple[float, float, float, float]]] = {
        name: [] for name in ("sleeve", "bore", "fit")
    }
    tail = int(0.025 * COUNT)
    for sleeve, bore in job_pairs(pair, jobs, seed):
        true = sleeve.gauged.true_size, bore.gauged.true_size
        for name, samples, size, truth in (
            ("sleeve", sleeve.samples, sleeve.size, true[0]),
            ("bore", bore.samples, bore.size, true[1]),
            ("fit", sleeve.samples - bore.samples, sleeve.size - bore.size, true[0] - true[1]),
        ):
            ordered = np.partition(samples, (tail, COUNT - tail))
            low, high = ordered[tail] - size, ordered[COUNT - tail] - size
            kept[name].append((size - truth, low, high, float(samples.std())))
    return {name: coverage_of(*np.array(rows).T) for name, rows in kept.items()}


def form_coverage(pair: tuple[Feature, Feature], jobs: int, seed: int) -> dict[Range, float]:
    """How often the true taper and out-of-round stay below their upper bounds."""
    below: dict[Range, list[bool]] = {kind: [] for kind in Range}
    for both in job_pairs(pair, jobs, seed):
        for one in both:
            for kind, held in below.items():
                held.append(one.true_form(kind) <= one.bounds(kind).high)
    return {kind: float(np.mean(held)) for kind, held in below.items()}


def _pair(gauge: Gauge | None = None, **told: Any) -> tuple[Feature, Feature]:
    """Sleeve and bore of a shop that differs from the usual one in what is told."""
    if gauge is None:
        return replace(SLEEVE, **told), replace(BORE, **told)
    return replace(SLEEVE, gauge=gauge, **told), replace(BORE, gauge=gauge, **told)


def _ring(setting: float, step: float, scatter: float) -> Gauge:
    """One gauge for both, set from one ring."""
    return Gauge((InputQuantity("ring.setting", 0.0, setting),), step, Repeatability(scatter, 8.0))


_RING, _QUIET = _ring(1.27e-6, 1.27e-6, 1.27e-6), _ring(1e-7, 1.27e-6, 1.27e-6)

USUAL_SHOPS = {
    "micrometer and bore gauge": _pair(),
    "nothing said of the room": _pair(shares_room=True),
    "one ring for both": _pair(_RING),
    "one ring, casting up to 30 K warm": _pair(_RING, warm=30.0),
}
"""Shops as they are: what they state is what the defaults and the examples state."""

HARD_SHOPS = {
    "good ring, coarse dial": _pair(_ring(3e-7, 2.54e-6, 3e-7)),
    "scatter alone": _pair(_QUIET, probe=0.05),
    "scatter alone, perfect part": _pair(_QUIET, probe=0.05, form=Form(0.0, 0.0, 0.0, 0.0)),
    "ledges between stations, fine dial": _pair(
        _ring(1e-7, 2.5e-7, 3e-7), probe=0.05, form=Form(0.0, 0.0, 4e-6, 0.0, 3e-6)
    ),
    "ledges and scatter": _pair(_QUIET, probe=0.05, form=Form(0.0, 0.0, 4e-6, 0.0, 3e-6)),
    "coarse dial alone": _pair(_ring(1e-7, 2.54e-6, 3e-7), probe=0.05),
    "coarse dial alone, round part": _pair(
        _ring(1e-7, 2.54e-6, 3e-7), probe=0.05, form=Form(2e-7, 1e-7, 2e-7, 0.0)
    ),
    "straight taper, fine dial": _pair(
        _ring(1e-7, 2.5e-7, 3e-7), probe=0.05, form=Form(1e-5, 5e-6, 4e-6, 0.0)
    ),
}
"""Shops in which one cause rules alone, so that nothing else hides what it does."""
