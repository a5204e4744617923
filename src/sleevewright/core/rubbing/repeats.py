"""What a rubbing is worth: from a second one of the same wall, never from the fit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.rubbing.records import LEAST_ROOF_DOUBT, LEAST_WIDTH_DOUBT, Rubbing
from sleevewright.errors import InputError


@dataclass(frozen=True)
class RubbingDoubt:
    """Standard uncertainties of a rubbed roof and a rubbed width.

    Attributes
    ----------
    roof, width : float
        Of the depth of a roof, of the width of a window. [m]
    compared : int
        Windows that two rubbings had in common; none where there is one rubbing. [1]
    """

    roof: float = LEAST_ROOF_DOUBT
    width: float = LEAST_WIDTH_DOUBT
    compared: int = 0

    @property
    def side(self) -> float:
        """Of one side: a width is the distance of two, in metres."""
        return self.width / math.sqrt(2.0)


@formula(
    name="doubt of a rubbing from a second one",
    expression="s = sqrt(mean(d^2)/2), at least 0.10 mm roof and 0.20 mm width",
    sources=("jcgm-100", "practice"),
    validity="two rubbings made independently of the same wall",
    unit="record",
)
def doubt_of_two(first: Rubbing, second: Rubbing) -> RubbingDoubt:
    """Standard uncertainties from two rubbings of the same wall.

    The covariance of a fit is no measure here: errors along an edge go together, and it comes
    out several times too small.

    Parameters
    ----------
    first, second : Rubbing
        The two, read one by one. [record]

    Returns
    -------
    RubbingDoubt
        Pooled over all windows of the same name, never below what paper and pencil allow.
        [record]

    Raises
    ------
    InputError
        If the two have no window of the same name.

    Notes
    -----
    Half the mean square of differences is the variance of one of two independent readings.
    Source: ``jcgm-100``; the least values are ``practice``.
    """
    others = {port.name: port for port in second.ports if port.name}
    pairs = [(port, others[port.name]) for port in first.ports if port.name in others]
    if not pairs:
        raise InputError(
            "second rubbing", 0, "ports in common", "the same ports as the first",
            "Were the windows named on both?",
        )  # fmt: skip
    roofs = np.array([one.shape.roof - two.shape.roof for one, two in pairs])
    widths = np.array([np.ptp(one.flat[:, 0]) - np.ptp(two.flat[:, 0]) for one, two in pairs])
    return RubbingDoubt(
        max(LEAST_ROOF_DOUBT, float(np.sqrt(np.mean(roofs**2) / 2.0))),
        max(LEAST_WIDTH_DOUBT, float(np.sqrt(np.mean(widths**2) / 2.0))),
        len(pairs),
    )


@formula(
    name="edge correction from a slot of known size",
    expression="e = mean((known - rubbed)/2)",
    sources=("derived",),
    validity="the same pencil, paper and hand as the ports",
    unit="m",
)
def edge_correction(*, rubbed: tuple[float, ...], known: tuple[float, ...]) -> float:
    """How much further out every edge lies than it is rubbed.

    Parameters
    ----------
    rubbed : tuple[float, ...]
        Sizes of a slot as they were rubbed. [m]
    known : tuple[float, ...]
        The same sizes as they are. [m]

    Returns
    -------
    float
        Correction of each edge. [m]

    Raises
    ------
    InputError
        If the sizes do not go in pairs, or are so far apart that they are not of one slot.

    Notes
    -----
    Each size has two edges. Source: ``derived``.

    Examples
    --------
    >>> round(edge_correction(rubbed=(9.92e-3, 19.92e-3), known=(10.0e-3, 20.0e-3)), 8)
    4e-05
    """
    if len(rubbed) != len(known) or not known:
        raise InputError("slot", len(rubbed), "sizes", f"as many as are known, {len(known)}")
    off = [(true - read) / 2.0 for read, true in zip(rubbed, known, strict=True)]
    mean = sum(off) / len(off)
    if abs(mean) > 0.5e-3:
        raise InputError(
            "slot", mean, "m a side", "at most 0.5 mm",
            "Are the known sizes of the slot that was rubbed?",
        )  # fmt: skip
    return mean
