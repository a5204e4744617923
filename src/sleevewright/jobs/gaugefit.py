"""Which gauge a feature is read with: the kinds that fit it, and those that cannot read it.

Source of both lists: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sleevewright.errors import InputError, clipped

SWEEPS = ("sweep-top", "sweep-bottom", "sweep-base", "found-wear")
"""Features that an indicator reads around a nought while it goes round."""

_BORE = ("dial-bore-gauge", "three-point-gauge", "telescoping-gauge", "caliper")
_OUTSIDE = ("micrometer", "caliper")
_DEEP = ("depth-micrometer", "depth-caliper")
_FITS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(SWEEPS, ("indicator",)),
    "parent-bore": _BORE,
    "parent-pass": _BORE,
    "counterbore": _BORE,
    "as-found-bore": _BORE,
    "sleeve-id": _BORE,
    "cooled-bore": _BORE,
    "finish-bore": _BORE,
    "sleeve-od": _OUTSIDE,
    "sleeve-od-again": _OUTSIDE,
    "flange-od": _OUTSIDE,
    "flange-thickness": _OUTSIDE,
    "counterbore-depth": _DEEP,
    "stand-out": ("depth-micrometer", "indicator", "depth-caliper"),
    "feeler": ("feeler",),
}
_NO_SWEEP = (
    "micrometer",
    "three-point-gauge",
    "telescoping-gauge",
    "caliper",
    "depth-micrometer",
    "depth-caliper",
    "setting-ring",
    "gauge-block",
)
"""They read a size or are one: nothing swings as they go round."""


def can_read(feature: str, kind: str) -> bool:
    """Whether such a gauge can read a feature at all; one of an unknown kind is believed.

    Examples
    --------
    >>> can_read("sweep-top", "micrometer"), can_read("sleeve-od", "micrometer")
    (False, True)
    """
    return feature not in SWEEPS or kind not in _NO_SWEEP


def usual_gauge(feature: str, listed: Sequence[tuple[str, str]], used: Iterable[str]) -> str:
    """The gauge that a new set starts from: the one used last, else the first that fits.

    Parameters
    ----------
    feature : str
        What is gauged.
    listed : Sequence[tuple[str, str]]
        Name and kind of each gauge of the shop.
    used : Iterable[str]
        Names of those that this feature was read with in the job, the last one first.

    Returns
    -------
    str
        Its name; where none fits, the first that can read the feature; empty without one.

    Examples
    --------
    >>> shop = [("mic 0-1", "micrometer"), ("lever", "indicator"), ("dial", "indicator")]
    >>> usual_gauge("sweep-top", shop, []), usual_gauge("sweep-top", shop, ["sold", "dial"])
    ('lever', 'dial')
    """
    able = {name: kind for name, kind in listed if can_read(feature, kind)}
    for name in used:
        if name in able:
            return name
    for fitting in _FITS.get(feature, ()):
        for name, kind in able.items():
            if kind == fitting:
                return name
    return next(iter(able), "")


def refuse_gauge(feature: str, body: Mapping[str, Any]) -> None:
    """Refuse a gauge that cannot read the feature.

    Raises
    ------
    InputError
        If a sweep is begun with a gauge that reads a size.
    """
    name = body.get("instrument")
    kinds = (one.get("kind", "") for one in body.get("instruments", ()) if one.get("name") == name)
    kind = next(kinds, "")
    if not can_read(feature, kind):
        shown = f"{name}, a {kind.replace('-', ' ')}"
        hint = "Choose an indicator for a sweep, or enter one in the shop's list of gauges first."
        allowed = "an indicator: it swings around its nought as it goes round"
        raise InputError("instrument", clipped(shown), "", allowed, hint)
