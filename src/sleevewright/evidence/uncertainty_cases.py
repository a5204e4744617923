"""Published checks of budgets, sampling and the rule of decision."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from sleevewright.core.uncertainty.contributions import (
    coverage_factor,
    effective_degrees_of_freedom,
)
from sleevewright.core.uncertainty.decision import conformance_probability, guard_band
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, draw
from sleevewright.core.uncertainty.linear import Budget, LinearBudget, budget
from sleevewright.core.uncertainty.sampled import Sampled, summarise
from sleevewright.evidence.case import published

_NM = 1e-9
_LONG = 1_000_000  # the draws of the published examples

# JCGM 100:2008, H.1: everything in metres and kelvin.
_STANDARD = InputQuantity("length of the standard", 50.000623e-3, 25e-9, 18)
_MEAN = InputQuantity("mean of five differences", 215e-9, 5.8e-9, 24)
_RANDOM = InputQuantity("comparator, random", 0.0, 3.9e-9, 5)
_SYSTEMATIC = InputQuantity("comparator, systematic", 0.0, 6.7e-9, 8)
_ALPHA = InputQuantity("expansion of the standard", 11.5e-6, 1.2e-6, shape=Shape.RECTANGULAR)
_THETA = InputQuantity("temperature of the bed", -0.1, 0.41)
_DELTA_ALPHA = InputQuantity("difference of expansions", 0.0, 0.58e-6, 50, Shape.RECTANGULAR)
_DELTA_THETA = InputQuantity("difference of temperatures", 0.0, 0.029, 2, Shape.RECTANGULAR)
_END_GAUGE = (
    _STANDARD,
    _MEAN,
    _RANDOM,
    _SYSTEMATIC,
    _ALPHA,
    _THETA,
    _DELTA_ALPHA,
    _DELTA_THETA,
)


def _end_gauge(values: Sequence[Any]) -> Any:
    """Length of the end gauge, equation H.3, of samples or of uncertain numbers."""
    standard, mean, random, systematic, alpha, theta, delta_alpha, delta_theta = values
    difference = mean + random + systematic
    return standard + difference - standard * (delta_alpha * theta + alpha * delta_theta)


@lru_cache(maxsize=1)
def _end_gauge_budget() -> Budget:
    """The linear budget of the end gauge at 99 %."""
    held = LinearBudget()
    return budget(_end_gauge([held.uncertain(one) for one in _END_GAUGE]), coverage=0.99)


def _part(name: str) -> float:
    """One contribution to the end gauge, in nanometres."""
    parts = {one.name: one.standard for one in _end_gauge_budget().contributors}
    return parts[name] / _NM


@published(
    named="U1-value",
    formula=budget,
    source="jcgm-100",
    place="H.1, end gauge, estimate",
    published=50.000838,
    unit="mm",
    tolerance=5e-7,
    reading="read",
)
def end_gauge_value() -> float:
    """End gauge: its length at 20 degC."""
    return _end_gauge_budget().value * 1e3


@published(
    named="U1-standard",
    formula=budget,
    source="jcgm-100",
    place="H.1.4, combined standard uncertainty",
    published=32.0,
    unit="nm",
    tolerance=0.5,
    reading="read",
)
def end_gauge_standard() -> float:
    """End gauge: combined standard uncertainty."""
    return _end_gauge_budget().standard / _NM


@published(
    named="U1-expansion",
    formula=budget,
    source="jcgm-100",
    place="Table H.1, difference of expansions",
    published=2.9,
    unit="nm",
    tolerance=0.05,
    reading="read",
)
def end_gauge_expansion() -> float:
    """End gauge: what the difference of the expansions brings."""
    return _part(_DELTA_ALPHA.name)


@published(
    named="U1-temperature",
    formula=budget,
    source="jcgm-100",
    place="Table H.1, difference of temperatures",
    published=16.6,
    unit="nm",
    tolerance=0.08,
    reading="read",
    because="0.029 K is printed as the input, 0.0289 K gives the printed result",
)
def end_gauge_temperature() -> float:
    """End gauge: what the difference of the temperatures brings."""
    return _part(_DELTA_THETA.name)


@published(
    named="U1-difference",
    formula=budget,
    source="jcgm-100",
    place="Table H.1, measured difference, three parts together",
    published=9.7,
    unit="nm",
    tolerance=0.05,
    reading="read",
)
def end_gauge_difference() -> float:
    """End gauge: what the comparison brings, three parts together."""
    return math.hypot(*(_part(one.name) for one in (_MEAN, _RANDOM, _SYSTEMATIC)))


@published(
    named="U1-freedom",
    formula=budget,
    source="jcgm-100",
    place="H.1.6, effective degrees of freedom",
    published=16.7,
    unit="1",
    tolerance=0.06,
    reading="read",
    because="the source computes it from contributions that it has rounded",
)
def end_gauge_freedom() -> float:
    """End gauge: effective degrees of freedom."""
    return _end_gauge_budget().degrees_of_freedom


@published(
    named="U1-expanded",
    formula=budget,
    source="jcgm-100",
    place="H.1.6, expanded uncertainty at 99 %; printed from 32 nm",
    published=93.0,
    unit="nm",
    tolerance=0.5,
    reading="read",
)
def end_gauge_expanded() -> float:
    """End gauge: expanded uncertainty at 99 %."""
    found = _end_gauge_budget()
    return (found.high - found.value) / _NM


@published(
    named="U2",
    formula=summarise,
    source="jcgm-100",
    place="H.1.7, combined standard uncertainty with the second-order terms",
    published=34.0,
    unit="nm",
    tolerance=0.5,
    reading="memory",
)
def end_gauge_second_order() -> float:
    """End gauge: samples see the products that a linear budget misses."""
    # H.1.7 combines variances, so the inputs are drawn without their degrees of freedom.
    inputs = [InputQuantity(one.name, one.value, one.standard) for one in _END_GAUGE]
    values = [draw(one, count=_LONG) for one in inputs]
    return summarise(_end_gauge(values)).standard / _NM


# JCGM 100:2008, G.4.1: a product of three inputs, relative uncertainties in per cent.
_PRODUCT = ((0.25, 9.0), (0.57, 4.0), (0.82, 14.0))


def _product_budget() -> Budget:
    """The budget of the product."""
    held = LinearBudget()
    product = 1.0
    for index, (relative, freedom) in enumerate(_PRODUCT):
        product = product * held.uncertain(
            InputQuantity(f"X{index + 1}", 1.0, 0.01 * relative, freedom)
        )
    return budget(product)


@published(
    named="U3-standard",
    formula=budget,
    source="jcgm-100",
    place="G.4.1, example",
    published=1.03,
    unit="%",
    tolerance=0.005,
    reading="memory",
)
def product_standard() -> float:
    """Product of three inputs: combined relative uncertainty."""
    return 100.0 * _product_budget().standard


@published(
    named="U3-freedom",
    formula=effective_degrees_of_freedom,
    source="jcgm-100",
    place="G.4.1, example",
    published=19.0,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def product_freedom() -> float:
    """Product of three inputs: effective degrees of freedom."""
    return effective_degrees_of_freedom(_PRODUCT)


@published(
    named="U3-factor",
    formula=coverage_factor,
    source="jcgm-100",
    place="G.4.1 and table G.2, 19 degrees of freedom, 95 %",
    published=2.09,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def product_factor() -> float:
    """Product of three inputs: coverage factor."""
    return coverage_factor(degrees_of_freedom=19.0, coverage=0.95)


@published(
    named="U3-expanded",
    formula=budget,
    source="jcgm-100",
    place="G.4.1, example, expanded uncertainty",
    published=2.2,
    unit="%",
    tolerance=0.05,
    reading="memory",
)
def product_expanded() -> float:
    """Product of three inputs: expanded uncertainty at 95 %."""
    found = _product_budget()
    return 100.0 * (found.high - found.value)


@lru_cache(maxsize=4)
def _sum_of_four(shape: Shape, fourth: float) -> Sampled:
    """Sum of four inputs of unit standard uncertainty, the fourth one of another."""
    scales = (1.0, 1.0, 1.0, fourth)
    inputs = [
        InputQuantity(f"X{index + 1}", 0.0, scale, shape=shape)
        for index, scale in enumerate(scales)
    ]
    return summarise(np.sum([draw(one, count=_LONG) for one in inputs], axis=0))


def _half_width(found: Sampled) -> float:
    """Half of the coverage interval."""
    return 0.5 * (found.high - found.low)


@published(
    named="U5-normal",
    formula=summarise,
    source="jcgm-101",
    place="9.2.2, sum of four normal inputs",
    published=3.92,
    unit="1",
    tolerance=5e-3,
    reading="memory",
)
def sum_of_normals() -> float:
    """Four normal inputs: half-width of the 95 % interval."""
    return _half_width(_sum_of_four(Shape.NORMAL, 1.0))


@published(
    named="U5-rectangular",
    formula=summarise,
    source="jcgm-101",
    place="9.2.3, sum of four rectangular inputs",
    published=3.88,
    unit="1",
    tolerance=5e-3,
    reading="memory",
)
def sum_of_rectangles() -> float:
    """Four rectangular inputs: half-width of the 95 % interval."""
    return _half_width(_sum_of_four(Shape.RECTANGULAR, 1.0))


@published(
    named="U6-standard",
    formula=summarise,
    source="jcgm-101",
    place="9.2.4, one wide rectangular input among four",
    published=10.1,
    unit="1",
    tolerance=0.06,
    reading="memory",
    because="exactly it is 10.149, at the edge of the printed digit, and samples scatter by 0.01",
)
def wide_rectangle_standard() -> float:
    """One wide rectangular input: standard uncertainty."""
    return _sum_of_four(Shape.RECTANGULAR, 10.0).standard


@published(
    named="U6-sampled",
    formula=summarise,
    source="jcgm-101",
    place="9.2.4, one wide rectangular input among four",
    published=17.0,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def wide_rectangle_sampled() -> float:
    """One wide rectangular input: half-width from samples, below what is linear."""
    return _half_width(_sum_of_four(Shape.RECTANGULAR, 10.0))


@published(
    named="U6-linear",
    formula=budget,
    source="jcgm-101",
    place="9.2.4, the same by a linear budget",
    published=19.9,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def wide_rectangle_linear() -> float:
    """One wide rectangular input: half-width of the linear budget, too wide."""
    held = LinearBudget()
    total = 0.0
    for index, scale in enumerate((1.0, 1.0, 1.0, 10.0)):
        quantity = InputQuantity(f"X{index + 1}", 0.0, scale, shape=Shape.RECTANGULAR)
        total = total + held.uncertain(quantity)
    return budget(total).high


@published(
    named="U7",
    formula=conformance_probability,
    source="jcgm-106",
    place="clause 7, breakdown voltage of a diode against an upper limit",
    published=0.92,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def diode_conformance() -> float:
    """Breakdown voltage of a diode: conformance probability."""
    return conformance_probability(-5.47, standard=0.05, most=-5.40)


@published(
    named="U8",
    formula=guard_band,
    source="iso-14253-1",
    place="default guard band for 95 %, as quoted by calibration procedures that follow it",
    published=1.65,
    unit="1",
    tolerance=0.0055,
    reading="read",
    because="the source rounds 1.645 up",
)
def one_sided_guard() -> float:
    """Guard band of a one-sided limit, in standard uncertainties."""
    return guard_band(standard=1.0)
