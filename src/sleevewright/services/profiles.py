"""Use case: a profile that a tester wrote, worked out into heights and the Rk family."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.cutting.profile_heights import (
    ProfileHeights,
    profile_heights,
    section_length,
)
from sleevewright.core.cutting.roughness_curve import RoughnessCurve, roughness_curve
from sleevewright.errors import InputError
from sleevewright.units import Dimension, from_unit, shown

LARGEST_FILE = 20_000_000
FEWEST = 1000
"""Heights below which peaks and valleys are a matter of chance. Practice."""
UNEVEN = 0.01
"""Share of the mean step by which steps along the wall may differ and count as even."""

_PARTS = re.compile(r"[;,\t ]+")


@dataclass(frozen=True)
class WorkedProfile:
    """What a profile gave; lengths in metres."""

    heights: ProfileHeights
    curve: RoughnessCurve
    count: int
    length: float | None  # evaluation length, where places along the wall were given
    section: float | None  # section length that stands by default for its Ra


def worked_profile(path: Path, unit: str, *, along: str = "") -> WorkedProfile:
    """Heights and curve of a file: one height a line, or place and height.

    Places along the wall have a unit of their own where it is told; else that of the heights.
    """
    if not path.is_file():
        raise InputError(str(path), "no such file", "", "a file with one height a line")
    if path.stat().st_size > LARGEST_FILE:
        raise InputError(str(path), "too large", "", f"at most {LARGEST_FILE // 1_000_000} MB")
    rows = _rows(path.read_text(encoding="utf-8", errors="replace"), str(path))
    scale = from_unit(1.0, unit, dimension=Dimension.LENGTH)
    heights = rows[:, -1] * scale
    found = profile_heights(heights)
    way = from_unit(1.0, along, dimension=Dimension.LENGTH) if along else scale
    length = None if rows.shape[1] == 1 else _length(rows[:, 0] * way, str(path))
    section = section_length(found.mean) if found.mean > 0.0 else None
    return WorkedProfile(found, roughness_curve(heights), heights.size, length, section)


def _rows(text: str, name: str) -> NDArray[np.float64]:
    """Numbers line by line; a heading is passed over, anything else that is none is refused."""
    found: list[list[float]] = []
    for number, line in enumerate(text.splitlines(), start=1):
        parts = [part for part in _PARTS.split(line.strip()) if part]
        if not parts or line.lstrip().startswith("#"):
            continue
        try:
            values = [float(part) for part in parts]
        except ValueError:
            if not found:
                continue
            raise InputError(
                f"{name} line {number}", line.strip(), "", "numbers with a point"
            ) from None
        if len(values) > 2 or (found and len(values) != len(found[0])):
            raise InputError(
                f"{name} line {number}", line.strip(), "", "one height, or place and height",
                "A comma parts two numbers here; the decimal sign is a point.",
            )  # fmt: skip
        found.append(values)
    if not found:
        raise InputError(name, "no numbers", "", "one height a line")
    return np.array(found)


def _length(places: NDArray[np.float64], name: str) -> float:
    """The way along the wall; refused where its steps are not even."""
    steps = np.diff(places)
    mean = float(steps.mean()) if steps.size else 0.0
    if not mean > 0.0 or float(np.abs(steps - mean).max()) > UNEVEN * mean:
        hint = "The first number of a line is the place along the wall, the second the height."
        raise InputError(name, "uneven places", "", "places that rise by even steps", hint)
    return mean * places.size


def profile_lines(found: WorkedProfile, system: str) -> tuple[str, ...]:
    """The parameters as lines of text, each in the units of the shop."""
    heights, curve = found.heights, found.curve
    rows = (
        ("Ra", heights.mean), ("Rq", heights.root_mean_square), ("Rz", heights.peak_to_valley),
        ("Rt", heights.highest), ("Rk", curve.core), ("Rpk", curve.peaks), ("Rvk", curve.valleys),
    )  # fmt: skip
    lines = [f"{name:<4} {_height(value, system)}" for name, value in rows]
    lines += [
        f"{name:<4} {100.0 * value:.1f} %"
        for name, value in (("Mr1", curve.peak_ratio), ("Mr2", curve.valley_ratio))
    ]
    return (*lines, *_over(found))


def _height(value: float, system: str) -> str:
    """A height of a profile as it is shown."""
    figures = shown(value, quantity="roughness", system=system)
    return f"{figures.figure:>6} {figures.unit}"


def _over(found: WorkedProfile) -> tuple[str, ...]:
    """Over which length, by which sections, and what was not done here."""
    length = "length not told" if found.length is None else f"{found.length * 1e3:.2f} mm"
    lines = [f"over {found.count} heights, {length}, in five sections (ISO 21920-2, ISO 13565-2)"]
    if found.section is not None:
        wanted = 5.0 * found.section
        words = f"usual for this Ra: sections of {found.section * 1e3:g} mm, {wanted * 1e3:g} mm"
        short = found.length is not None and not math.isclose(found.length, wanted, rel_tol=0.1)
        lines.append(f"{words}{'; this one is another, say so with the figures' if short else ''}")
    if found.count < FEWEST:
        lines.append(
            f"too few heights to go by: {found.count}, {found.count // 5} a section. Read five "
            f"sections with at least {FEWEST // 5} heights each; a tester takes one every 0.5 µm, "
            "so 8000 over 4 mm"
        )
    lines.append("the filter is the tester's: give a profile that was filtered by it")
    return tuple(lines)
