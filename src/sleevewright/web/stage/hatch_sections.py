"""Crosshatch and roughness of the two stages that hone: which answers stand in their section."""

from __future__ import annotations

from sleevewright.web.stage.fit_sections import Section

_ANGLES = (
    "middle",
    "included",
    "line",
    "axis",
    "share",
    "wanted",
    "cycles_for",
    "cycles_mean",
    "turns_for",
    "ratio",
    "read",
    "off",
    "off_wanted",
)
_HEIGHTS = ("ra", "rz", "rz_least", "rz_most", "rk", "rpk", "rvk", "mr1", "mr2")


def _section(hatch: str, rough: str) -> Section:
    """The section of one stage, behind one press."""
    rows = (*(f"{hatch}.{one}" for one in _ANGLES), *(f"{rough}.{one}" for one in _HEIGHTS))
    return Section("Crosshatch and roughness", rows, is_open=False)


HATCH_SECTION = _section("hatch", "rough")
FIT_HATCH_SECTION = _section("fithatch", "fitrough")
