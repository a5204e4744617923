"""Scans as files: the grey picture in one, and a smaller one for a page."""

from __future__ import annotations

import io
from types import ModuleType
from typing import TYPE_CHECKING

import numpy as np

from sleevewright.core.rubbing.extra import ScanExtraMissing
from sleevewright.core.rubbing.records import Image
from sleevewright.errors import InputError

if TYPE_CHECKING:  # the extra may not be installed
    from PIL.Image import Image as Picture

MOST_PIXELS = 60_000_000
"""Pixels of a scan: A4 at 600 to the inch has 35 million."""

ALLOWED = "a scan as PNG, TIFF, JPEG or WebP"


def _pillow() -> ModuleType:
    """The package that opens pictures."""
    try:
        from PIL import Image as Pictures
    except ImportError as missing:
        raise ScanExtraMissing from missing
    tools: ModuleType = Pictures
    return tools


def grey_of(content: bytes) -> Image:
    """The grey levels of a scan, 0 black to 255 white.

    Raises
    ------
    InputError
        If it is no picture, or larger than any scan of a sheet.
    ScanExtraMissing
        If the packages that read a scan are not installed.
    """
    pillow = _pillow()
    opened = pillow.open
    try:
        with opened(io.BytesIO(content), formats=("PNG", "TIFF", "JPEG", "WEBP")) as picture:
            wide, high = picture.size
            if wide * high > MOST_PIXELS:
                allowed = f"at most {MOST_PIXELS / 1e6:.0f} million pixels"
                raise InputError("scan", f"{wide}x{high}", "pixels", allowed, "Scan at 300 dpi.")
            levels = np.asarray(_eight_bits(picture), dtype=np.float32)
    except (OSError, SyntaxError, ValueError, pillow.DecompressionBombError) as broken:
        raise InputError("scan", "a file that cannot be opened", "", ALLOWED) from broken
    return levels


def _eight_bits(picture: Picture) -> Picture | Image:
    """A picture in 8-bit grey; sixteen bits are scaled and not cut off."""
    if picture.mode.startswith("I"):
        deep: Image = np.clip(np.asarray(picture, dtype=np.float32) / 257.0, 0.0, 255.0)
        return deep
    if "A" in picture.mode or picture.mode == "P":
        return _on_white(picture)
    return picture.convert("L")


def _on_white(picture: Picture) -> Picture:
    """A picture with see-through parts laid on white paper."""
    pillow = _pillow()
    whole = picture.convert("RGBA")
    paper = pillow.new("RGBA", whole.size, "white")
    grey: Picture = pillow.alpha_composite(paper, whole).convert("L")
    return grey


def small_picture(image: Image, widest: int) -> tuple[bytes, float]:
    """A scan as a small JPEG for a page, and its pixels for one pixel of the scan."""
    pillow = _pillow()
    high, wide = image.shape
    share = min(1.0, widest / max(wide, high))
    size = (max(1, round(wide * share)), max(1, round(high * share)))
    whole = pillow.fromarray(np.clip(image, 0.0, 255.0).astype(np.uint8))
    made = io.BytesIO()
    whole.resize(size, reducing_gap=2.0).save(made, "JPEG", quality=72)
    return made.getvalue(), share
