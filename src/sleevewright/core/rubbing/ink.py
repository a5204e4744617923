"""Where a sheet was rubbed: level of the paper, density of the graphite, band and windows."""

from __future__ import annotations

from dataclasses import dataclass
from types import ModuleType

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.core.rubbing.extra import picture_tools
from sleevewright.core.rubbing.records import Image, Mask, RubbingRefused

FAINT, SURE = 0.10, 0.25
"""Density of graphite that may belong to the band, and that surely does."""

BLUR = 3.4e-4
"""Blur before the density is judged, m: four pixels at 300 to the inch."""

GAP = 6.0e-4
"""Half the width of a gap in the graphite that is closed, m."""

LEAST_WINDOW = 6.0e-5
"""Area from which a hole in the band is a port and no bare spot, m^2: 60 mm^2."""

LEAST_BAND = 0.04
"""Share of the sheet that must be rubbed."""

FINE = 4.0e3
"""Pixels a metre at which band and windows are looked for."""


@dataclass(frozen=True)
class Band:
    """The rubbed band, and the holes that are windows.

    Attributes
    ----------
    mask : Mask
        The band with its bare spots closed, in reduced pixels.
    contours : tuple[Points, ...]
        Rough outline of each window, column and row in pixels of the scan. [px]
    step : int
        Pixels of the scan in a reduced pixel. [1]
    """

    mask: Mask
    contours: tuple[Points, ...]
    step: int

    @property
    def centre(self) -> Points:
        """Middle of the band in the scan, column and row."""
        rows, columns = np.nonzero(self.mask)
        return _full(np.array([columns.mean(), rows.mean()]), self.step)


def _full(reduced: Points, step: int) -> Points:
    """Pixels of the scan, of reduced ones."""
    made: Points = reduced * step + (step - 1) / 2.0
    return made


@formula(
    name="grey level of bare paper",
    expression="the mode of the grey levels from 100 upwards",
    sources=("practice",),
    validity="a sheet of which a good part is bare",
    unit="1",
)
def paper_level(image: Image) -> float:
    """Grey level of bare paper: the commonest of the sheet, from its lighter half.

    Parameters
    ----------
    image : Image
        The scan, 0 black to 255 white. [1]

    Returns
    -------
    float
        Level. [1]

    Notes
    -----
    Source: ``practice``.
    """
    counts, _ = np.histogram(image[::3, ::3], bins=256, range=(0.0, 256.0))
    smooth = np.convolve(counts, np.ones(7) / 7.0, mode="same")
    smooth[:100] = 0.0
    return float(np.argmax(smooth)) + 0.5


def reduced(image: Image, step: int) -> Image:
    """The scan with each square of ``step`` pixels averaged into one.

    Parameters
    ----------
    image : Image
        The scan. [1]
    step : int
        Pixels on a side of the square. [1]

    Returns
    -------
    Image
        The smaller picture. [1]
    """
    rows, columns = image.shape[0] // step * step, image.shape[1] // step * step
    cut = image[:rows, :columns].reshape(rows // step, step, columns // step, step)
    made: Image = cut.mean(axis=(1, 3), dtype=np.float32)
    return made


def find_band(image: Image, bare: float, pixel: float) -> Band:
    """The rubbed band of a sheet and its windows.

    Parameters
    ----------
    image : Image
        The scan, 0 black to 255 white. [1]
    bare : float
        Grey level of bare paper. [1]
    pixel : float
        Size of a pixel. [m]

    Returns
    -------
    Band
        The largest rubbed patch and the holes in it that are large enough. [record]

    Raises
    ------
    RubbingRefused
        If too little of the sheet is rubbed.
    """
    from scipy import ndimage

    tools = picture_tools()
    step = max(1, round(1.0 / (FINE * pixel)))
    size = pixel * step
    density = 1.0 - ndimage.gaussian_filter(reduced(image, step), BLUR / size) / bare
    inked = tools.filters.apply_hysteresis_threshold(density, FAINT, SURE)
    band = _largest(_opened(_closed(inked, GAP / size), GAP / size))
    if band.mean() < LEAST_BAND:
        raise RubbingRefused(
            f"Only {100.0 * band.mean():.1f} % of the sheet is rubbed evenly; at least "
            f"{100.0 * LEAST_BAND:.0f} % is wanted. Rub once more with a softer pencil, "
            "lightly and everywhere."
        )
    holes, count = ndimage.label(~np.pad(band, 1, constant_values=False))
    areas = np.bincount(holes.ravel(), minlength=count + 1) * size**2
    within = [n for n in range(1, count + 1) if n != holes[0, 0]]
    windows = [n for n in within if areas[n] >= LEAST_WINDOW]
    spots = [n for n in within if n not in windows]
    filled = band | np.isin(holes, spots)[1:-1, 1:-1]
    contours = tuple(_full(_contour(holes == n, tools) - 1.0, step) for n in windows)
    return Band(filled, contours, step)


def _largest(mask: Mask) -> Mask:
    """The largest connected patch."""
    from scipy import ndimage

    labels, count = ndimage.label(mask)
    if count == 0:
        return mask
    areas = np.bincount(labels.ravel())
    areas[0] = 0
    made: Mask = labels == int(np.argmax(areas))
    return made


def _closed(mask: Mask, radius: float) -> Mask:
    """Gaps narrower than twice the radius filled."""
    return _shrunk(_grown(mask, radius), radius)


def _opened(mask: Mask, radius: float) -> Mask:
    """Specks narrower than twice the radius removed."""
    return _grown(_shrunk(mask, radius), radius)


def _grown(mask: Mask, radius: float) -> Mask:
    """Everything within a distance of the patch."""
    from scipy import ndimage

    made: Mask = ndimage.distance_transform_edt(~mask) <= radius
    return made


def _shrunk(mask: Mask, radius: float) -> Mask:
    """What is further within the patch than a distance."""
    from scipy import ndimage

    made: Mask = ndimage.distance_transform_edt(mask) > radius
    return made


def _contour(hole: Mask, tools: ModuleType) -> Points:
    """The longest contour of a hole, column and row in reduced pixels."""
    from scipy import ndimage

    rows, columns = (
        slice(max(0, s.start - 4), s.stop + 4)
        for s in ndimage.find_objects(hole.astype(np.int8))[0]
    )
    cut = ndimage.gaussian_filter(hole[rows, columns].astype(np.float32), 1.0)
    found = tools.measure.find_contours(cut, 0.5)
    longest = max(found, key=len)[:-1]
    made: Points = longest[:, ::-1] + np.array([columns.start, rows.start])
    return made
