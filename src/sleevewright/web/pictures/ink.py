"""Strokes for the pictures: a small writer of SVG and the scale that places a value.

All coordinates are units of the drawing's own box, x to the right and y downwards.  What
a stroke looks like is its class in ``pictures.css``; nothing here knows a colour.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from markupsafe import Markup, escape

HATCHINGS = {
    "loose": ('width="8" height="8" patternTransform="rotate(45)"', "M0 0v8"),
    "solid": ('width="5" height="5" patternTransform="rotate(-45)"', "M0 0v5"),
    "crossed": ('width="6" height="6" patternTransform="rotate(45)"', "M0 0v6M0 0h6"),
    "forecast": ('width="6" height="6" patternTransform="rotate(45)"', "M0 0v6"),
}


def figure_width(text: str, size: float) -> float:
    """Room that a figure in our own lettering takes; digits share one width."""
    narrow = sum(letter in ".,: " for letter in text)
    return size * (0.21 * narrow + 0.546 * (len(text) - narrow))


def words_width(text: str, size: float) -> float:
    """Room to leave for words, in the widest of the system faces."""
    return size * 0.6 * len(text)


def nice_step(span: float, count: int) -> float:
    """A step of 1, 2 or 5 times a power of ten that cuts ``span`` into about ``count``."""
    rough = span / count
    power: float = 10.0 ** math.floor(math.log10(rough))
    for factor in (1.0, 2.0, 5.0):
        if factor * power >= rough:
            return factor * power
    return 10.0 * power


def plain(value: float, *, signed: bool = False) -> str:
    """A tick's figure: no digits that the step does not need, a true minus sign."""
    text = f"{value:.10g}" if value else "0"
    if signed and value > 0:
        text = f"+{text}"
    return text.replace("-", "\N{MINUS SIGN}")


@dataclass(frozen=True)
class Scale:
    """Where a value lies between two ends of a line."""

    low: float
    high: float
    start: float
    stop: float

    def at(self, value: float) -> float:
        """Coordinate of a value; beyond the ends where the value is."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.stop - self.start)

    def kept(self, value: float) -> float:
        """Coordinate of a value, kept within the ends."""
        return self.at(min(max(value, self.low), self.high))

    def ticks(self, step: float) -> tuple[float, ...]:
        """Multiples of the step within the ends."""
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        return tuple(k * step for k in range(first, last + 1))


@dataclass
class Drawing:
    """One picture while it is drawn."""

    name: str
    width: float
    height: float
    says: str  # the text alternative: what the picture answers
    broad: bool = True  # for wide screens and paper; the other is for a phone
    _parts: list[str] = field(default_factory=list)

    def path(self, shape: str, kind: str) -> None:
        """A stroke or an area, by the class of its look."""
        self._parts.append(f'<path class="{kind}" d="{shape}"/>')

    def rect(self, corner: tuple[float, float], size: tuple[float, float], kind: str) -> None:
        """An upright rectangle from its top left corner."""
        self._parts.append(
            f'<rect class="{kind}" x="{corner[0]:.1f}" y="{corner[1]:.1f}" '
            f'width="{max(size[0], 0.0):.1f}" height="{max(size[1], 0.0):.1f}"/>'
        )

    def hatch(self, shape: str, pattern: str) -> None:
        """An area in one of the hatchings."""
        self._parts.append(
            f'<path fill="url(#{self._pattern(pattern)})" d="{shape}" stroke="none"/>'
        )

    def circle(self, centre: tuple[float, float], radius: float, kind: str) -> None:
        """A round point."""
        self._parts.append(
            f'<circle class="{kind}" cx="{centre[0]:.1f}" cy="{centre[1]:.1f}" r="{radius:g}"/>'
        )

    def text(self, at: tuple[float, float], words: str, kind: str = "") -> None:
        """Words; ``f`` among the classes sets them in our own figures."""
        self._parts.append(
            f'<text class="{kind}" x="{at[0]:.1f}" y="{at[1]:.1f}">{escape(words)}</text>'
        )

    def svg(self) -> Markup:
        """The finished picture."""
        shown = "broad" if self.broad else "slim"
        body = "".join(self._parts)
        patterns = "".join(
            f'<pattern id="{self._pattern(name)}" patternUnits="userSpaceOnUse" {form}>'
            f'<path class="{name}" d="{line}"/></pattern>'
            for name, (form, line) in HATCHINGS.items()
            if self._pattern(name) in body
        )
        return Markup(  # noqa: S704 - every word put in was escaped above
            f'<svg class="drawing {shown}" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'role="img" aria-label="{escape(self.says)}">'
            f"<defs>{patterns}</defs>{body}</svg>"
        )

    def _pattern(self, pattern: str) -> str:
        """A hatching's name: of this picture alone, since a hidden picture's do not draw."""
        return f"{self.name}-{'broad' if self.broad else 'slim'}-{pattern}"


def polyline(points: list[tuple[float, float]]) -> str:
    """A path through points."""
    return "M" + " L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def around(middle: tuple[float, float], angle: float, radius: float) -> tuple[float, float]:
    """A place by its angle, counter-clockwise from the right, and its distance from a middle."""
    return middle[0] + radius * math.cos(angle), middle[1] - radius * math.sin(angle)
