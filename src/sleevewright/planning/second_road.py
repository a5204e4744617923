"""The doubt of a size or a fit once more, on a road of its own, and whether both agree.

The plan samples a mean as one quantity.  Here every reading behind it is drawn by itself,
from the answers of a finished plan alone.  What comes out is held against what the plan
says by the rule for validating one budget by another.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.interference import interference
from sleevewright.core.formulas import formula_of
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.gridsamples import GridErrors, sample_grid
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.rounding import without_rounding
from sleevewright.core.metrology.size import size_with_errors
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, draw
from sleevewright.core.uncertainty.linear import Budget
from sleevewright.core.uncertainty.sampled import Interval, Sampled, summarise
from sleevewright.core.uncertainty.validated import Agreement, validated
from sleevewright.planning.answers import Answer, Plan, Road
from sleevewright.planning.document import resolve

READINGS_DRAWN = 600_000
"""So many readings are drawn for one look: a grid of thirty is drawn 20,000 times."""

MOST = 20_000
DIGITS = (2, 1)
"""Two digits of the doubt are asked for first; where too few samples tell, one."""


def as_sampled(answer: Answer) -> Sampled:
    """The sampled doubt of an answer as the core has it."""
    doubt = answer.doubt
    if doubt is None or not isinstance(answer.value, float):
        raise KeyError(answer.id)
    return Sampled(
        answer.value,
        doubt.standard,
        math.inf if doubt.degrees_of_freedom is None else doubt.degrees_of_freedom,
        doubt.coverage,
        Interval.SYMMETRIC,
        doubt.low,
        doubt.high,
        doubt.samples or 0,
        doubt.sampling_error,
        (),
    )


def held_against(name: str, source: str, other: Budget | Sampled, first: Sampled) -> Road:
    """Another road's doubt beside the first, with what comes of holding both together."""
    found = validated(other, first, digits=DIGITS[0])
    for digits in DIGITS[1:]:
        if found.agreement is Agreement.UNDECIDED:
            found = validated(other, first, digits=digits)
    return Road(
        name,
        source,
        other.standard,
        other.low,
        other.high,
        found.gap,
        found.tolerance,
        found.digits,
        found.agreement.value,
    )


def read_by_reading(plan: Plan, identity: str) -> Road | None:
    """The doubt of a size, or of the cold fit, with every reading drawn by itself.

    Nothing where the answer has no sampled doubt or does not rest on readings.
    """
    answer = plan.answer(identity)
    doubt = answer.doubt
    if doubt is None or not doubt.sampling_error:
        return None
    sizes = _sizes_behind(plan, answer)
    if not sizes:
        return None
    cells = sum(int(np.isfinite(_used(plan, one).readings).sum()) for one in sizes)
    drawn = _Drawn(plan, min(MOST, READINGS_DRAWN // cells))
    samples = [drawn.size(one) for one in sizes]
    whole = samples[0] if len(samples) == 1 else samples[0] - samples[1]
    return held_against("reading by reading", "jcgm-101", summarise(whole), as_sampled(answer))


def _sizes_behind(plan: Plan, answer: Answer) -> tuple[str, ...]:
    """The size itself, or both sizes of a fit, where all were read in grids."""
    if answer.basis is None:
        return ()
    if answer.basis.function == formula_of(size_with_errors).function:
        return (answer.id,)
    if answer.basis.function == formula_of(interference).function:
        given = dict(answer.basis.inputs)
        pair = (given["outside_diameter"], given["bore"])
        if all(_sizes_behind(plan, plan.answer(one)) for one in pair):
            return pair
    return ()


def _used(plan: Plan, identity: str) -> GridReadings:
    """The readings that count behind a size."""
    used = plan.answer(f"{identity}.used").value
    if not isinstance(used, GridReadings):
        raise KeyError(identity)
    return used


class _Drawn:
    """Samples of the answers of a plan, drawn again from the named inputs behind them."""

    def __init__(self, plan: Plan, count: int) -> None:
        self._plan = plan
        self._count = count
        self._known: dict[str, Any] = {}

    def size(self, identity: str) -> NDArray[np.float64]:
        """Samples of a size with every reading drawn by itself."""
        basis = self._plan.answer(identity).basis
        by = dict(basis.inputs) if basis is not None else {}
        readings = _used(self._plan, identity)
        count = int(np.isfinite(readings.readings).sum())
        repeat = self._plan.answer(by["repeat_error"]).doubt
        standard = 0.0 if repeat is None else repeat.standard * math.sqrt(count)
        freedom = None if repeat is None else repeat.degrees_of_freedom
        known = Repeatability(standard, math.inf if freedom is None else freedom)
        rounding = float(self._plain(f"{identity}.rounding"))
        errors = GridErrors(
            identity,
            readings,
            without_rounding(known, rounding=rounding),
            rounding,
            part_expansion=self._of(by["part_expansion"]),
            gauge_expansion=self._of(by["gauge_expansion"]),
            setting_error=self._of(by["setting_error"]) + self._of(by["resolution_error"]),
            form=self._of(by["form_error"]),
            part_temperature=self._off(by["part_rise"]),
            gauge_temperature=self._off(by["gauge_rise"]),
        )
        return sample_grid(errors, count=self._count, seed=self._plan.seed).size

    def _plain(self, identity: str) -> Any:
        return self._plan.answer(identity).value

    def _off(self, identity: str) -> Any:
        """Samples of an answer less its value."""
        return self._of(identity) - self._plain(identity)

    def _of(self, identity: str) -> Any:
        """Samples of an answer, or its value where nothing about it is in doubt."""
        if identity not in self._known:
            self._known[identity] = self._draw(self._plan.answer(identity))
        return self._known[identity]

    def _draw(self, answer: Answer) -> Any:
        if answer.basis is not None:
            function = resolve(answer.basis.function)
            return function(**{name: self._of(source) for name, source in answer.basis.inputs})
        doubt = answer.doubt
        if doubt is None or not isinstance(answer.value, float):
            return answer.value
        freedom = doubt.degrees_of_freedom
        root = InputQuantity(
            answer.id,
            answer.value,
            doubt.standard,
            degrees_of_freedom=math.inf if freedom is None else freedom,
            shape=Shape(doubt.shape),
        )
        return draw(root, count=self._count, seed=self._plan.seed)
