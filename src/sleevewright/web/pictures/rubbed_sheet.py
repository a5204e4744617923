"""A scanned rubbing with the outlines that were read from it, each with its number."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup, escape

from sleevewright.core.ports.outline import Points

WIDE = 1000.0
"""Width of the drawing's own box."""


@dataclass(frozen=True)
class RubbedWindow:
    """One outline in the scan: its number from the left, its name, its points in pixels."""

    number: int
    name: str
    points: Points


def rubbed_sheet(href: str, size: tuple[int, int], windows: tuple[RubbedWindow, ...]) -> Markup:
    """The scan as it was handed in, with the outlines over it.

    ``size`` is the width and height of the scan in pixels; the picture at ``href`` may be
    smaller.
    """
    share = WIDE / size[0]
    high = share * size[1]
    said = ", ".join(f"{one.number} {one.name or 'without a name'}" for one in windows)
    label = f"The scan with the outlines that were read: {escape(said)}"
    box = f"0 0 {WIDE:.0f} {high:.1f}"
    drawn = [
        f'<svg class="drawing rubbed" viewBox="{box}" role="img" aria-label="{label}">',
        f'<image href="{escape(href)}" width="{WIDE:.0f}" height="{high:.1f}"/>',
    ]
    for one in windows:
        points = share * (one.points + 0.5)
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points.tolist()) + "Z"
        across, down = (float(value) for value in points.mean(axis=0))
        drawn += [
            f'<path class="under" d="{path}"/><path class="read" d="{path}"/>',
            f'<text class="f mid t34" x="{across:.0f}" y="{down + 12:.0f}">{one.number}</text>',
        ]
        low = float(points[:, 1].max())
        drawn += [
            f'<text class="mid t20 named" x="{across:.0f}" y="{low + 24 + 22 * line:.0f}">'
            f"{escape(word)}</text>"
            for line, word in enumerate(one.name.split())
        ]
    return Markup("").join(Markup(part) for part in (*drawn, "</svg>"))  # noqa: S704 - escaped above
