"""What a solid model says of the close-up, station by station, looked up by the parts it is of.

Plain rings close the bore alike at every depth.  Near a flange, at ports and at the ends the
real part does not; a solid model of it gives the ratio of close-up to fit at each depth.  Its
results lie in the shop by a key of sizes and metals, so that a changed part finds none.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError
from sleevewright.jobs.model import Job
from sleevewright.planning.shop import Shop

Array = NDArray[np.float64]
KIND = "close-up"


@dataclass(frozen=True)
class StationFactors:
    """Close-up over fit at each depth, without friction, and its relative doubt.

    Parameters
    ----------
    depths : tuple[float, ...]
        Below the deck, rising. [m]
    ratios : tuple[float, ...]
        Close-up over effective interference there. [1]
    standard : float
        Relative standard uncertainty, one for all depths. [1]
    """

    depths: tuple[float, ...]
    ratios: tuple[float, ...]
    standard: float

    def __post_init__(self) -> None:
        """Refuse what cannot be looked up."""
        if len(self.depths) != len(self.ratios) or not self.depths:
            raise InputError("station factors", len(self.ratios), "", "one ratio for each depth")
        if np.any(np.diff(self.depths) <= 0.0):
            raise InputError("station factors", "depths", "", "depths that rise from the deck")
        if not all(0.0 < one < 1.5 for one in self.ratios) or not 0.0 <= self.standard < 1.0:
            raise InputError("station factors", "ratios", "", "ratios from 0 to 1.5, doubt below 1")

    def at(self, depths: Array) -> Array:
        """The ratio at other depths: straight between, the outermost beyond."""
        found: Array = np.interp(depths, self.depths, self.ratios)
        return found


def solid_key(job: Job) -> str:
    """What a solid result of this cylinder is filed under: its sizes, metals and ports."""
    told = (job.casting, job.sleeve, job.choice.wanted, job.choice.flange_wanted, job.ports)
    return f"{KIND}:{hashlib.sha256(repr(told).encode()).hexdigest()}"


def station_factors(shop: Shop, job: Job) -> StationFactors | None:
    """The solid model's station factors of this cylinder; nothing where there are none.

    A result is JSON: ``depths_m``, ``ratios`` and ``standard``.
    """
    text = dict(shop.solid_results).get(solid_key(job))
    if text is None:
        return None
    said = json.loads(text)
    return StationFactors(
        tuple(map(float, said["depths_m"])),
        tuple(map(float, said["ratios"])),
        float(said["standard"]),
    )
