"""Named inputs with doubt, and the random numbers that stand for them.

An input is known by its name.  Two results that name the same input share its samples,
so that what they have in common cancels where they are subtracted.  Each name has a
random stream of its own, seeded by a fixed seed and the name's hash: adding an input, or
typing one more digit, changes no number of any other input.  A shorter draw is the start
of a longer one.
"""

from __future__ import annotations

import hashlib
import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

DEFAULT_SEED = 71_083
"""Fixed, so that the same job gives the same numbers tomorrow. [1]"""

BUDGET_COUNT = 100_000
"""Samples of a budget. [1]"""

_LARGEST_KEPT = 200_000  # longer draws are for validation; keeping them would fill the memory
_SPREAD, _SCALE = 0, 1  # the two streams of a name: its deviates, and the scale of a t deviate


class Shape(StrEnum):
    """The distribution that stands for what is known of an input."""

    NORMAL = "normal"  # Student's t where the degrees of freedom are finite
    RECTANGULAR = "rectangular"
    LOGNORMAL = "lognormal"


@dataclass(frozen=True)
class InputQuantity:
    """One input of a budget: what it is called, its value and its doubt.

    The name is the identity: it picks the random stream and the uncertain number, so one
    name must mean one physical thing everywhere.

    Parameters
    ----------
    name : str
        What the input is called. [text]
    value : float
        Best estimate; the median where the shape is lognormal. [own unit]
    standard : float
        Standard uncertainty; where lognormal, that of the natural logarithm. [own unit]
    degrees_of_freedom : float
        How well ``standard`` is known. A rectangular input carries it into linear
        budgets only. [1]
    shape : Shape
        The distribution that is drawn from. [text]
    """

    name: str
    value: float
    standard: float
    degrees_of_freedom: float = math.inf
    shape: Shape = Shape.NORMAL

    def __post_init__(self) -> None:
        """Refuse what cannot be an input, by the name of the input."""
        if not self.name:
            raise InputError("name of an input", self.name, "", "a name that is not empty")
        if not math.isfinite(self.value):
            raise InputError(self.name, self.value, "", "a finite value")
        if not (self.standard >= 0.0 and math.isfinite(self.standard)):
            raise InputError(f"doubt of {self.name}", self.standard, "", "zero or more, and finite")
        if not self.degrees_of_freedom > 0.0:
            allowed = "degrees of freedom above zero"
            raise InputError(self.name, self.degrees_of_freedom, "", allowed)
        if self.shape is Shape.LOGNORMAL:
            self._check_lognormal()

    def _check_lognormal(self) -> None:
        """A logarithm needs a positive median; exp of a t deviate would have no mean."""
        if not self.value > 0.0:
            raise InputError(self.name, self.value, "", "a median above zero")
        if math.isfinite(self.degrees_of_freedom):
            allowed = "no degrees of freedom with a lognormal shape"
            raise InputError(self.name, self.degrees_of_freedom, "", allowed)


@formula(
    name="samples of an input",
    expression="value + standard z; z normal, t or rectangular of unit scale; "
    "value exp(standard z) where lognormal",
    sources=("jcgm-101",),
    validity="independent inputs; t where the degrees of freedom are finite",
    unit="own unit",
)
def draw(
    quantity: InputQuantity, *, count: int = BUDGET_COUNT, seed: int = DEFAULT_SEED
) -> NDArray[np.float64]:
    """Samples of a named input; the same name always gives the same deviates.

    Parameters
    ----------
    quantity : InputQuantity
        The input. [own unit]
    count : int
        How many samples. [1]
    seed : int
        Seed that all streams share. [1]

    Returns
    -------
    NDArray[np.float64]
        Samples, shape (count,). [own unit]

    Raises
    ------
    InputError
        If ``count`` is below one.

    Notes
    -----
    A finite number of degrees of freedom v gives a scaled and shifted t, whose standard
    deviation is standard (v / (v - 2))^(1/2). Source: ``jcgm-101`` 6.4.2, 6.4.7, 6.4.9.

    Examples
    --------
    >>> ring = InputQuantity("ring", 0.0625, 1.0e-6)
    >>> bool((draw(ring, count=8)[:4] == draw(ring, count=4)).all())
    True
    """
    if count < 1:
        raise InputError("count of samples", count, "", "one or more")
    if quantity.standard == 0.0:
        return np.full(count, quantity.value)
    deviates = standard_deviates(quantity, count=count, seed=seed)
    return _about_value(quantity, deviates)


def _about_value(quantity: InputQuantity, deviates: NDArray[np.float64]) -> NDArray[np.float64]:
    """Samples of an input from deviates of unit scale."""
    if quantity.shape is Shape.LOGNORMAL:
        return quantity.value * np.exp(quantity.standard * deviates)
    return quantity.value + quantity.standard * deviates


@formula(
    name="deviates of an input",
    expression="normal, rectangular of unit standard deviation, or normal (v / chi^2_v)^(1/2)",
    sources=("jcgm-101",),
    validity="independent names",
    unit="1",
)
def standard_deviates(quantity: InputQuantity, *, count: int, seed: int) -> NDArray[np.float64]:
    """The deviates behind :func:`draw`, of unit scale.

    Parameters
    ----------
    quantity : InputQuantity
        The input; only its name, shape and degrees of freedom matter. [own unit]
    count : int
        How many. [1]
    seed : int
        Seed that all streams share. [1]

    Returns
    -------
    NDArray[np.float64]
        Deviates, read-only because they are shared, shape (count,). [1]

    Notes
    -----
    Source: ``jcgm-101`` 6.4.
    """
    freedom = quantity.degrees_of_freedom if quantity.shape is Shape.NORMAL else math.inf
    even = quantity.shape is Shape.RECTANGULAR
    make = _kept if count <= _LARGEST_KEPT else _make
    return make(quantity.name, even, freedom, count, seed)


def clear_draws() -> None:
    """Forget the kept deviates, so that a benchmark pays for its own."""
    _kept.cache_clear()


def _stream(name: str, part: int, seed: int) -> np.random.Generator:
    """The generator of one name; SFC64 was the quickest sound one when measured."""
    digest = hashlib.sha256(name.encode("utf-8")).digest()[:16]
    words = [int.from_bytes(digest[at : at + 4], "little") for at in range(0, 16, 4)]
    return np.random.Generator(np.random.SFC64(np.random.SeedSequence([seed, part, *words])))


def _make(name: str, even: bool, freedom: float, count: int, seed: int) -> NDArray[np.float64]:
    """Deviates of unit scale; a t deviate is the name's normal one over a drawn scale."""
    if math.isfinite(freedom):
        normal = standard_deviates(InputQuantity(name, 0.0, 1.0), count=count, seed=seed)
        half = _stream(name, _SCALE, seed).standard_gamma(0.5 * freedom, count)
        deviates = normal * (0.5 * freedom / half) ** 0.5
    elif even:
        deviates = (_stream(name, _SPREAD, seed).random(count) - 0.5) * 12.0**0.5
    else:
        deviates = _stream(name, _SPREAD, seed).standard_normal(count)
    deviates.setflags(write=False)
    return deviates


_kept = lru_cache(maxsize=96)(_make)


class Streams:
    """The streams of named inputs, read on block by block.

    A draw that would not fit the processor's cache is taken in blocks.  Each block goes on
    where the one before it ended, so that all of them together are the numbers that
    :func:`draw` gives at once.
    """

    def __init__(self, seed: int = DEFAULT_SEED) -> None:
        self._seed = seed
        self._open: dict[tuple[str, int], np.random.Generator] = {}

    def spread(self, name: str) -> np.random.Generator:
        """The generator of the deviates of a name, where it has come to."""
        return self._at(name, _SPREAD)

    def scale(self, name: str, degrees_of_freedom: float, count: int) -> NDArray[np.float64]:
        """The next factors (v / chi^2)^(1/2), by which a doubt may be wrong itself."""
        if not math.isfinite(degrees_of_freedom):
            return np.ones(count)
        half = self._at(name, _SCALE).standard_gamma(0.5 * degrees_of_freedom, count)
        factor: NDArray[np.float64] = (0.5 * degrees_of_freedom / half) ** 0.5
        return factor

    def take(self, quantity: InputQuantity, count: int) -> NDArray[np.float64]:
        """The next samples of an input."""
        if quantity.standard == 0.0:
            return np.full(count, quantity.value)
        if quantity.shape is Shape.RECTANGULAR:
            even = self.spread(quantity.name).random(count)
            return _about_value(quantity, (even - 0.5) * 12.0**0.5)
        normal = self.spread(quantity.name).standard_normal(count)
        scale = self.scale(quantity.name, quantity.degrees_of_freedom, count)
        return _about_value(quantity, normal * scale)

    def _at(self, name: str, part: int) -> np.random.Generator:
        if (name, part) not in self._open:
            self._open[name, part] = _stream(name, part, self._seed)
        return self._open[name, part]
