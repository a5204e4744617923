"""The extra packages that reading a scan needs, asked for only when a scan is read."""

from __future__ import annotations

from types import ModuleType

from sleevewright.errors import SleevewrightError

HOW_TO_ADD = "pip install 'sleevewright[scan]'"
"""What adds the extra to an installed tool."""


class ScanExtraMissing(SleevewrightError):
    """The packages that read a scan are not installed."""

    def __init__(self) -> None:
        super().__init__(
            "Reading a scanned rubbing needs the extra 'scan', which is not installed here. "
            f"Add it with: {HOW_TO_ADD}. Widths and heights can be typed without it."
        )


def picture_tools() -> ModuleType:
    """The package that finds contours.

    Returns
    -------
    ModuleType
        The package with what is needed of it. [record]

    Raises
    ------
    ScanExtraMissing
        If the extra is not installed.
    """
    try:
        import skimage
        import skimage.filters
        import skimage.measure
    except ImportError as missing:
        raise ScanExtraMissing from missing
    tools: ModuleType = skimage
    return tools
