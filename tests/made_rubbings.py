"""Scans of rubbings made from known windows: skew, unequal scale, uneven graphite, noise.

Nothing here uses the reader's own geometry but the outline of a window; a pencil's band is
drawn on a sheet in millimetres, put into the scan by a matrix, and then spoilt.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy import ndimage
from skimage.draw import polygon

from sleevewright.core.ports.outline import PortShape, port_outline

FINE = 4
PAPER = 236.0


@dataclass(frozen=True)
class Sheet:
    """What is drawn, in mm on the flat sheet; the band begins at (left, top)."""

    shapes: dict[str, PortShape]  # centre: flat mm from the band's left end, in metres
    bore: float = 66.4e-3
    paper: float = 0.1e-3
    wide: float = 0.0  # mm of the band; once round where nothing is said
    high: float = 62.0
    left: float = 14.0
    top: float = 24.0
    size: tuple[float, float] = (238.0, 92.0)  # mm, wide and high
    across: float = 100.0
    down: float = 50.0
    mark: int = 1  # 1 beyond the right end, -1 beyond the left, 0 none
    has_down: bool = True


@dataclass(frozen=True)
class Spoilt:
    """How the scan is spoilt."""

    dpi: float = 150.0
    skew: float = 2.0  # degrees
    unequal: tuple[float, float] = (0.004, -0.002)
    noise: float = 14.0
    wavy: float = 0.10  # mm, root mean square, of the hand
    blotchy: float = 0.35
    grain: float = 0.35
    dense: float = 0.45
    seed: int = 1
    matrix: np.ndarray = field(init=False, compare=False)

    def __post_init__(self) -> None:
        """Pixels of the scan for a millimetre of the sheet."""
        px = self.dpi / 25.4
        angle = np.radians(self.skew)
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        object.__setattr__(self, "matrix", np.diag([px * (1 + one) for one in self.unequal]) @ turn)


def known_shapes() -> dict[str, PortShape]:
    """Five windows of an invented 66.4 mm bore, exhaust first, along the flat sheet."""
    mm = 1e-3
    rows = {
        "exhaust": (18.0, 44.0, 40.0, 30.0, 6.0, 5.0, 1.5, 50.0),
        "main right": (28.0, 43.0, 25.0, 24.0, 3.5, 3.0, 0.0, 95.0),
        "rear right": (28.4, 43.0, 20.0, 20.0, 3.0, 3.0, 0.0, 127.0),
        "rear left": (30.2, 43.0, 20.0, 20.0, 3.0, 3.0, 0.0, 156.0),
        "main left": (28.0, 43.0, 25.0, 24.0, 3.5, 3.0, 0.0, 187.0),
    }
    return {
        name: PortShape(a * mm, b * mm, c * mm, d * mm, (r * mm, r * mm, f * mm, f * mm),
                        h * mm, 0.0, s * mm)
        for name, (a, b, c, d, r, f, h, s) in rows.items()
    }  # fmt: skip


class _Scan:
    """A scan while it is drawn: coverage of graphite and of pen, pixel by pixel."""

    def __init__(self, sheet: Sheet, spoilt: Spoilt) -> None:
        """An empty sheet in a scan that is large enough for it."""
        corners = np.array([(0, 0), (1, 0), (1, 1), (0, 1)]) * np.array(sheet.size)
        placed = corners @ spoilt.matrix.T
        self.matrix, self.shift = spoilt.matrix, -placed.min(axis=0)
        wide, high = np.ceil(np.ptp(placed, axis=0)).astype(int)
        self.shape = (int(high), int(wide))

    def pixels(self, points: np.ndarray) -> np.ndarray:
        """Points of the sheet, mm, in the scan: column and row of pixel centres."""
        return points @ self.matrix.T + self.shift - 0.5

    def cover_box(self, points: np.ndarray) -> np.ndarray:
        """Share of each pixel within a rectangle of the sheet, by its distance from each side."""
        placed = self.pixels(points)
        covered = np.zeros(self.shape, dtype=np.float32)
        low = np.maximum(np.floor(placed.min(axis=0)).astype(int) - 1, 0)
        high = np.minimum(np.ceil(placed.max(axis=0)).astype(int) + 2, self.shape[::-1])
        rows, columns = np.ogrid[low[1] : high[1], low[0] : high[0]]
        share = np.ones((high[1] - low[1], high[0] - low[0]), dtype=np.float32)
        for start, end in zip(placed, np.roll(placed, -1, axis=0), strict=True):
            way = (end - start) / np.hypot(*(end - start))
            inward = (rows - start[1]) * way[0] - (columns - start[0]) * way[1]
            share *= np.clip(inward + 0.5, 0.0, 1.0)
        covered[low[1] : high[1], low[0] : high[0]] = share
        return covered

    def cover(self, points: np.ndarray) -> np.ndarray:
        """Share of each pixel within a closed outline of the sheet."""
        placed = self.pixels(points)
        covered = np.zeros(self.shape, dtype=np.float32)
        low = np.maximum(np.floor(placed.min(axis=0)).astype(int) - 1, 0)
        high = np.minimum(np.ceil(placed.max(axis=0)).astype(int) + 2, self.shape[::-1])
        wide, tall = (high - low) * FINE
        fine = np.zeros((tall, wide), dtype=np.float32)
        inside = (placed - low + 0.5) * FINE - 0.5
        rows, columns = polygon(inside[:, 1], inside[:, 0], fine.shape)
        fine[rows, columns] = 1.0
        whole = fine.reshape(tall // FINE, FINE, wide // FINE, FINE).mean(axis=(1, 3))
        covered[low[1] : high[1], low[0] : high[0]] = whole
        return covered


def _box(left: float, top: float, wide: float, high: float) -> np.ndarray:
    """A rectangle of the sheet."""
    return np.array([(0, 0), (1, 0), (1, 1), (0, 1)]) * (wide, high) + (left, top)


def _wavy(points: np.ndarray, spread: float, random: np.random.Generator) -> np.ndarray:
    """An outline as a hand rubs it: off by a smooth wave along its normals."""
    closed = np.vstack([points, points[:1]])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    at = np.linspace(0.0, run[-1], int(run[-1] / 0.15), endpoint=False)
    even = np.column_stack([np.interp(at, run, closed[:, axis]) for axis in (0, 1)])
    on = np.roll(even, -1, axis=0) - np.roll(even, 1, axis=0)
    normal = np.column_stack([on[:, 1], -on[:, 0]]) / np.hypot(*on.T)[:, None]
    wave = ndimage.gaussian_filter1d(random.normal(size=len(even)), 2.0 / 0.15, mode="wrap")
    return even + normal * (wave / wave.std() * spread)[:, None]


def _noise(shape: tuple[int, int], sigma: object, random: np.random.Generator) -> np.ndarray:
    """Smooth noise of unit scatter."""
    made = ndimage.gaussian_filter(random.normal(size=shape).astype(np.float32), sigma)
    return made / made.std()


def made_rubbing(sheet: Sheet, spoilt: Spoilt) -> np.ndarray:
    """The grey scan of a sheet, 0 black to 255 white."""
    random = np.random.default_rng(spoilt.seed)
    scan, px = _Scan(sheet, spoilt), spoilt.dpi / 25.4
    wide = sheet.wide or np.pi * (sheet.bore - sheet.paper) * 1e3
    rubbed = scan.cover_box(_box(sheet.left, sheet.top, wide, sheet.high))
    for shape in sheet.shapes.values():
        points = port_outline(shape) * 1e3 + (sheet.left, sheet.top)
        rubbed *= 1.0 - scan.cover(_wavy(points, spoilt.wavy, random) if spoilt.wavy else points)
    rubbed = ndimage.gaussian_filter(rubbed, 0.06 * px)
    edge = ndimage.distance_transform_edt(rubbed > 0.5) / px
    dense = spoilt.dense * (1.0 + spoilt.blotchy * _blotches(scan.shape, px, random))
    dense *= 1.0 + spoilt.grain * _noise(scan.shape, 0.7, random)
    dense += 0.15 * np.exp(-((edge / 0.3) ** 2))
    dense *= _dropped(scan.shape, px, random)
    ink = np.clip(rubbed * np.clip(dense, 0.12, 0.9), 0.0, 0.95)
    ink = np.maximum(ink, 0.8 * _pen(scan, sheet))
    grey = PAPER * (1.0 - ink) + spoilt.noise * random.normal(size=scan.shape)
    return np.clip(grey, 0.0, 255.0).astype(np.float32)


def _blotches(shape: tuple[int, int], px: float, random: np.random.Generator) -> np.ndarray:
    """Uneven pressure and streaks of the strokes, made coarse and drawn out to the scan."""
    step = 4
    small = (shape[0] // step + 2, shape[1] // step + 2)
    made = 0.8 * _noise(small, 3.0 * px / step, random)
    made += 0.6 * _noise(small, (0.25 * px / step, 6.0 * px / step), random)
    return np.repeat(np.repeat(made, step, 0), step, 1)[: shape[0], : shape[1]]


def _dropped(shape: tuple[int, int], px: float, random: np.random.Generator) -> np.ndarray:
    """Bare spots of 0.4 to 1 mm, one for each 3 cm^2."""
    kept = np.ones(shape, dtype=np.float32)
    rows, columns = np.ogrid[: shape[0], : shape[1]]
    for _ in range(int(shape[0] * shape[1] / px**2 / 300.0)):
        row, column = random.uniform(0, shape[0]), random.uniform(0, shape[1])
        radius = random.uniform(0.4, 1.0) * px
        near = (slice(max(0, int(row - radius)), int(row + radius) + 2),
                slice(max(0, int(column - radius)), int(column + radius) + 2))  # fmt: skip
        disc = (rows[near[0]] - row) ** 2 + (columns[:, near[1]] - column) ** 2 < radius**2
        kept[near] = np.where(disc, 0.2, kept[near])
    return kept


def _pen(scan: _Scan, sheet: Sheet) -> np.ndarray:
    """Bars with their ticks, and the mark."""
    left, top, thick, tick = sheet.left + 15.0, 9.0, 0.4, 5.0
    drawn = [
        _box(left, top - thick / 2, sheet.across, thick),
        _box(left - thick / 2, top - tick / 2, thick, tick),
        _box(left + sheet.across - thick / 2, top - tick / 2, thick, tick),
    ]
    if sheet.has_down:
        wide = sheet.wide or np.pi * (sheet.bore - sheet.paper) * 1e3
        at, begin = sheet.left + wide + 8.0, sheet.top
        drawn += [
            _box(at - thick / 2, begin, thick, sheet.down),
            _box(at - tick / 2, begin - thick / 2, tick, thick),
            _box(at - tick / 2, begin + sheet.down - thick / 2, tick, thick),
        ]
    if sheet.mark:
        place = left + sheet.across + 10.0 if sheet.mark > 0 else left - 10.0
        drawn.append(_box(place - 2.5, top - 2.5, 5.0, 5.0))
    covered = np.zeros(scan.shape, dtype=np.float32)
    for points in drawn:
        covered = np.maximum(covered, scan.cover_box(points))
    return covered


def small_shapes() -> dict[str, PortShape]:
    """Three windows of an invented 44 mm bore, exhaust first, along the flat sheet."""
    mm = 1e-3
    rows = {
        "exhaust": (14.0, 34.0, 27.0, 22.0, 4.0, 3.5, 1.0, 30.0),
        "transfer right": (22.0, 33.0, 19.0, 18.0, 2.5, 2.5, 0.0, 70.0),
        "transfer left": (23.4, 33.0, 18.0, 18.0, 2.5, 2.5, 0.0, 110.0),
    }
    return {
        name: PortShape(a * mm, b * mm, c * mm, d * mm, (r * mm, r * mm, f * mm, f * mm),
                        h * mm, 0.0, s * mm)
        for name, (a, b, c, d, r, f, h, s) in rows.items()
    }  # fmt: skip


def small_sheet(**changed: object) -> Sheet:
    """A small sheet: one bar across, one of 50 mm down, the band once round 44 mm."""
    told = {"bore": 44.0e-3, "high": 46.0, "top": 22.0, "left": 10.0, "size": (170.0, 78.0)}
    return Sheet(small_shapes(), **{**told, **changed})
