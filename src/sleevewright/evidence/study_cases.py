"""Published checks of gauge studies: certified sums of squares and a printed example."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.study import GaugeStudy, gauge_study, squares
from sleevewright.evidence.case import published

_RESISTIVITY = """
196.3052 196.1240 196.1890 196.2569 196.3403 196.3042 196.3825 196.1669 196.3257 196.0422
196.1303 196.2005 196.2889 196.0343 196.1811 196.2795 196.1748 196.1494 196.1485 195.9885
196.2119 196.1051 196.1850 196.0052 196.2090
"""
_PARTS = """
21 20 20 20 19 21 24 23 24 24 23 24 20 21 19 21 20 22 27 27 28 26 27 28 19 18 19 18 18 21
23 21 24 21 23 22 22 21 22 24 22 20 19 17 18 20 19 18 24 23 25 23 24 24 25 23 26 25 24 25
21 20 20 20 21 20 18 19 17 19 18 19 23 25 25 25 25 25 24 24 23 25 24 25 29 30 30 28 31 30
26 26 25 26 25 27 20 20 19 20 20 20 19 21 19 19 21 23 25 26 25 24 25 25 19 19 18 17 19 17
"""


def _read(text: str, *shape: int) -> NDArray[np.float64]:
    return np.array(text.split(), dtype=np.float64).reshape(shape)


def _twenty_parts() -> GaugeStudy:
    """Twenty parts, three people, two repeats."""
    return gauge_study(_read(_PARTS, 20, 3, 2))


@published(
    named="GS1-between",
    formula=squares,
    source="nist-strd",
    place="set SiRstv, sum of squares between instruments",
    published=5.11462616e-02,
    unit="1",
    tolerance=5e-11,
    reading="memory",
)
def resistivity_between() -> float:
    """Five instruments, five readings each: squares between."""
    return squares(_read(_RESISTIVITY, 5, 1, 5))[0].squares


@published(
    named="GS1-within",
    formula=squares,
    source="nist-strd",
    place="set SiRstv, sum of squares within instruments",
    published=2.16636560e-01,
    unit="1",
    tolerance=5e-10,
    reading="memory",
)
def resistivity_within() -> float:
    """Five instruments, five readings each: squares within."""
    return squares(_read(_RESISTIVITY, 5, 1, 5))[1].squares


@published(
    named="GS2-repeat",
    formula=gauge_study,
    source="montgomery-2013",
    place="example 13.1, table 13.2, variance of the error",
    published=0.9917,
    unit="1",
    tolerance=5e-5,
    reading="read",
)
def twenty_parts_repeat() -> float:
    """Twenty parts, three people, two repeats: variance of the repeat."""
    return _twenty_parts().repeatability.variance


@published(
    named="GS2-person",
    formula=gauge_study,
    source="montgomery-2013",
    place="example 13.1, table 13.2, variance of the operators",
    published=0.0149,
    unit="1",
    tolerance=5e-5,
    reading="read",
)
def twenty_parts_person() -> float:
    """Twenty parts, three people, two repeats: variance between people."""
    part = _twenty_parts().person
    return float("nan") if part is None else part.variance


@published(
    named="GS2-both",
    formula=gauge_study,
    source="montgomery-2013",
    place="example 13.1, table 13.2, variance of parts by operators",
    published=-0.1399,
    unit="1",
    tolerance=5e-5,
    reading="read",
)
def twenty_parts_both() -> float:
    """Twenty parts, three people, two repeats: a part that comes out below zero."""
    part = _twenty_parts().both
    return float("nan") if part is None else part.variance


@published(
    named="GS2-high",
    formula=gauge_study,
    source="montgomery-2013",
    place="example 13.1, table 13.4, upper 95 % end of the residual variance",
    published=1.4697982,
    unit="1",
    tolerance=5e-8,
    reading="read",
)
def twenty_parts_high() -> float:
    """Twenty parts, three people, two repeats: upper end of the variance of the repeat."""
    return _twenty_parts().repeatability.high ** 2
