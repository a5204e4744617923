"""How well a gauge repeats in this shop: a study of features, people and repeats.

Every person reads every feature equally often.  The analysis of variance splits what the
readings differ by: the repeat of one hand, the people, what people do otherwise from
feature to feature, and the features themselves.  Readings in metres, or in any one unit.
A part of the variance that comes out below zero is told as zero, with what it came to.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED
from sleevewright.errors import InputError

Array = NDArray[np.float64]

COVERAGE = 0.95
_DRAWS = 20_000  # the share beyond an end of an interval is then right to 0.1 %


@dataclass(frozen=True)
class SquaresLine:
    """One line of the analysis of variance; ``source`` is feature, person, both or repeat."""

    source: str
    squares: float
    degrees_of_freedom: int

    @property
    def mean_square(self) -> float:
        """Squares for each degree of freedom."""
        return self.squares / self.degrees_of_freedom


@dataclass(frozen=True)
class Part:
    """One part of the doubt as a standard deviation, with its interval.

    ``variance`` is the unbiased estimate, which may come out negative; ``standard`` is then
    zero.  ``degrees_of_freedom`` are zero where the part was not found.
    """

    standard: float
    low: float
    high: float
    degrees_of_freedom: float
    variance: float

    @property
    def is_below_zero(self) -> bool:
        """Whether the estimate of the variance came out negative and is told as zero."""
        return self.variance < 0.0


@dataclass(frozen=True)
class GaugeStudy:
    """What a study says; the parts of people are ``None`` where one person read alone."""

    features: int
    people: int
    repeats: int
    mean: float
    lines: tuple[SquaresLine, ...]
    repeatability: Part
    feature: Part
    person: Part | None
    both: Part | None  # people differ otherwise from feature to feature
    reproducibility: Part | None  # people, and people from feature to feature, together

    def line(self, source: str) -> SquaresLine:
        """The line of the analysis of this source."""
        return next(one for one in self.lines if one.source == source)


@formula(
    name="analysis of variance of a gauge study",
    expression="SS_F = p n sum (m_i - m)^2, SS_P = f n sum (m_j - m)^2, "
    "SS_FP = n sum (m_ij - m_i - m_j + m)^2, SS_E = sum (y_ijk - m_ij)^2",
    sources=("montgomery-2013", "nist-strd"),
    validity="balanced: every person reads every feature equally often",
    unit="own unit",
)
def squares(readings: Array) -> tuple[SquaresLine, ...]:
    """Sums of squares and degrees of freedom of a balanced study.

    Parameters
    ----------
    readings : Array
        Readings, shape (n_features, n_people, n_repeats). [own unit]

    Returns
    -------
    tuple[SquaresLine, ...]
        Lines of feature, person, both and repeat; without person and both where one
        person read alone. [own unit]

    Raises
    ------
    InputError
        If a reading is missing, or there are fewer than two features or repeats.

    Notes
    -----
    The first reading is taken off before anything is summed, so that many equal leading
    digits cost none of those that differ. Source: ``montgomery-2013`` 13.2, ``nist-strd``
    for the difficulty.

    Examples
    --------
    >>> [line.squares for line in squares(np.array([[[1.0, 3.0]], [[5.0, 7.0]]]))]
    [16.0, 4.0]
    """
    _refuse_unbalanced(readings)
    features, people, repeats = readings.shape
    away = readings - readings[0, 0, 0]
    away = away - away.mean()
    cell = away.mean(axis=2)
    feature, person = cell.mean(axis=1), cell.mean(axis=0)
    left = away - cell[:, :, None]
    both = cell - feature[:, None] - person[None, :]
    lines = [SquaresLine("feature", _sum(feature) * people * repeats, features - 1)]
    if people > 1:
        lines += [
            SquaresLine("person", _sum(person) * features * repeats, people - 1),
            SquaresLine("both", _sum(both) * repeats, (features - 1) * (people - 1)),
        ]
    repeat = SquaresLine("repeat", _sum(left), features * people * (repeats - 1))
    return (*lines, repeat)


@formula(
    name="gauge study",
    expression="s_E^2 = MS_E, s_FP^2 = (MS_FP - MS_E) / n, s_P^2 = (MS_P - MS_FP) / (f n), "
    "s_F^2 = (MS_F - MS_FP) / (p n); s_E has a chi-square interval, the rest generalized ones",
    sources=("montgomery-2013", "hamada-2000", "jcgm-100"),
    validity="balanced; normal parts; people and features stand for others of their kind",
    unit="own unit",
)
def gauge_study(readings: Array, *, coverage: float = COVERAGE) -> GaugeStudy:
    """Repeatability and what people add to it, from a balanced study.

    Parameters
    ----------
    readings : Array
        Readings, shape (n_features, n_people, n_repeats). [own unit]
    coverage : float
        Probability that each interval is to hold. [1]

    Returns
    -------
    GaugeStudy
        Every part with interval and degrees of freedom. [own unit]

    Raises
    ------
    InputError
        If the study is not complete, or the coverage no probability.

    Notes
    -----
    Random model of two crossed factors. A negative estimate is told as zero and never
    pooled away. Degrees of freedom after Welch and Satterthwaite. Source:
    ``montgomery-2013`` 13.2 and table 13.2, ``hamada-2000`` for the intervals,
    ``jcgm-100`` G.4.1.

    Examples
    --------
    >>> found = gauge_study(np.array([[[1.0, 3.0]], [[5.0, 7.0]]]))
    >>> round(found.repeatability.standard, 3), found.repeatability.degrees_of_freedom
    (1.414, 2.0)
    """
    if not 0.0 < coverage < 1.0:
        raise InputError("coverage", coverage, "", "a probability between 0 and 1")
    lines = squares(readings)
    features, people, repeats = readings.shape
    alone = people == 1
    below = "repeat" if alone else "both"
    combinations: dict[str, Mapping[str, float]] = {
        "feature": {"feature": 1 / (people * repeats), below: -1 / (people * repeats)},
        "person": {"person": 1 / (features * repeats), "both": -1 / (features * repeats)},
        "both": {"both": 1 / repeats, "repeat": -1 / repeats},
        "people": {
            "person": 1 / (features * repeats),
            "both": (features - 1) / (features * repeats),
            "repeat": -1 / repeats,
        },
    }

    def part(name: str) -> Part:
        return _combined(lines, combinations[name], coverage)

    return GaugeStudy(
        features,
        people,
        repeats,
        float(readings[0, 0, 0] + (readings - readings[0, 0, 0]).mean()),
        lines,
        repeatability=_of_line(lines[-1], coverage),
        feature=part("feature"),
        person=None if alone else part("person"),
        both=None if alone else part("both"),
        reproducibility=None if alone else part("people"),
    )


def _refuse_unbalanced(readings: Array) -> None:
    """A study is whole, with two features and two repeats at the least."""
    if readings.ndim != 3 or readings.size == 0:
        allowed = "features by people by repeats"
        raise InputError("study", f"shape {readings.shape}", "", allowed)
    features, _, repeats = readings.shape
    if features < 2 or repeats < 2:
        said = f"{features} features and {repeats} repeats"
        raise InputError("study", said, "", "two features and two repeats at the least")
    missing = int((~np.isfinite(readings)).sum())
    if missing:
        allowed = "a reading at every place"
        hint = "Take the missing ones; half a study is not reckoned."
        raise InputError("study", f"readings missing: {missing}", "", allowed, hint)


def _sum(deviations: Array) -> float:
    """Exact sum of squares."""
    return math.fsum(float(one) ** 2 for one in deviations.ravel())


def _of_line(line: SquaresLine, coverage: float) -> Part:
    """The standard deviation behind one line, with its chi-square interval."""
    from scipy.special import chdtri

    variance, freedom = line.mean_square, line.degrees_of_freedom
    tails = (0.5 * (1.0 - coverage), 0.5 * (1.0 + coverage))  # chdtri takes the upper tail
    low, high = (math.sqrt(line.squares / float(chdtri(freedom, tail))) for tail in tails)
    return Part(math.sqrt(variance), low, high, float(freedom), variance)


def _combined(
    lines: tuple[SquaresLine, ...], weights: Mapping[str, float], coverage: float
) -> Part:
    """A part that is a combination of mean squares, with its generalized interval."""
    used = [(one, weights[one.source]) for one in lines if one.source in weights]
    variance = math.fsum(weight * one.mean_square for one, weight in used)
    drawn = np.zeros(_DRAWS)
    for place, (one, weight) in enumerate(used):
        drawn += weight * one.squares * _inverse_chi_squares(one.degrees_of_freedom, place)
    ends = np.quantile(drawn, [0.5 * (1.0 - coverage), 0.5 * (1.0 + coverage)])
    low, high = np.sqrt(np.maximum(ends, 0.0))
    if variance <= 0.0:
        return Part(0.0, float(low), float(high), 0.0, variance)
    sizes = [(abs(weight * one.mean_square), one.degrees_of_freedom) for one, weight in used]
    freedom = variance**2 / math.fsum(size**2 / count for size, count in sizes)
    return Part(math.sqrt(variance), float(low), float(high), freedom, variance)


@formula(
    name="repeatability taken from a study",
    expression="s = max(s_E, step / 12^(1/2)), v = f p (n - 1)",
    sources=("jcgm-100", "derived"),
    validity="the steps of the gauge hide a scatter that is smaller than they are",
    unit="m",
)
def adopted_repeatability(study: GaugeStudy, *, resolution: float) -> Repeatability:
    """What one reading repeats to by a study, never less than the gauge's steps can show.

    Parameters
    ----------
    study : GaugeStudy
        The study, of readings in metres. [record]
    resolution : float
        The step that readings are taken to. [m]

    Returns
    -------
    Repeatability
        Standard deviation of one reading and its degrees of freedom. [m]

    Raises
    ------
    InputError
        If ``resolution`` is negative or not finite.

    Notes
    -----
    Repeats that are all equal say that the scatter is below the step, not that there is
    none. Source: ``jcgm-100`` F.2.2.1 for what a step leaves open, the floor ``derived``.
    """
    step = not_negative("resolution", resolution, "m")
    found = study.repeatability
    return Repeatability(max(found.standard, step / math.sqrt(12.0)), found.degrees_of_freedom)


@lru_cache(maxsize=32)
def _inverse_chi_squares(degrees_of_freedom: int, stream: int) -> Array:
    """One over draws of chi-square, always the same for one stream."""
    source = np.random.Generator(np.random.SFC64([DEFAULT_SEED, stream]))
    drawn: Array = 0.5 / source.standard_gamma(0.5 * degrees_of_freedom, _DRAWS)
    drawn.setflags(write=False)
    return drawn
