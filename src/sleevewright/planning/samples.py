"""Samples that are drawn only as far as they are needed, and cut to one length.

A shorter draw of an input is the start of a longer one, so an answer on few samples and
one on many still share what they rest on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.grid import GridReadings, SizeGrid
from sleevewright.core.uncertainty.inputs import InputQuantity, draw

_WHOLE = (GridReadings, SizeGrid)  # arrays in these are readings, not samples


@dataclass(frozen=True)
class Pending:
    """Samples of a named input that nobody has asked for yet."""

    root: InputQuantity
    seed: int

    def take(self, count: int) -> NDArray[np.float64]:
        """The first ``count`` samples."""
        return draw(self.root, count=count, seed=self.seed)


def resolved(samples: Any, count: int) -> Any:
    """Samples as arrays; what is not in doubt stays the value that it is."""
    return samples.take(count) if isinstance(samples, Pending) else samples


def alike(held: Mapping[str, Any], count: int) -> dict[str, Any]:
    """Samples of all inputs of a function, of the same length, at most ``count``."""
    shortest = min((_length(samples, count) for samples in held.values()), default=count)
    return {parameter: _cut(samples, shortest) for parameter, samples in held.items()}


def _members(record: Any) -> dict[str, Any]:
    """Fields of a record that its maker takes."""
    return {f.name: getattr(record, f.name) for f in fields(record) if f.init}


def _is_record(samples: Any) -> bool:
    return (
        is_dataclass(samples)
        and not isinstance(samples, type)
        and not isinstance(samples, (*_WHOLE, Pending))
    )


def _length(samples: Any, most: int) -> int:
    """How many samples there are, or ``most`` where there can be as many as wanted."""
    if isinstance(samples, np.ndarray) and samples.ndim == 1:
        return min(most, samples.size)
    if _is_record(samples):
        return min((_length(one, most) for one in _members(samples).values()), default=most)
    return most


def _cut(samples: Any, count: int) -> Any:
    """The first ``count`` samples, in records field by field."""
    if isinstance(samples, Pending):
        return samples.take(count)
    if isinstance(samples, np.ndarray) and samples.ndim == 1:
        return samples[:count]
    if _is_record(samples):
        cut = {name: _cut(one, count) for name, one in _members(samples).items()}
        return replace(samples, **cut)
    return samples
