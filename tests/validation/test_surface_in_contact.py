"""What touches and what it rubs with: windows counted by points, friction as printed."""

import math

import numpy as np
import pytest

from sleevewright.core.fits.contact import contact_fraction
from sleevewright.core.fits.friction import friction_band, friction_rows
from sleevewright.core.fits.hold import FRICTION_BAND
from sleevewright.core.materials import default
from sleevewright.errors import InputError

WINDOWS = ((0.030, 0.020), (0.022, 0.012), (0.022, 0.012))


def test_share_equals_a_count_of_points_on_the_unrolled_surface() -> None:
    """Points of the fitted surface in no window, each as wide as its chord in the bore."""
    bore, fit, length = 0.056, 0.062, 0.090
    turned, depth = np.meshgrid(
        np.linspace(-math.pi, math.pi, 4000, endpoint=False), np.linspace(0, length, 900)
    )
    covered = np.zeros(turned.shape, dtype=bool)
    for number, (width, height) in enumerate(WINDOWS):
        middle = -2.0 + 2.0 * number
        # A point of the bore is in the window where its distance from the port's plane of
        # symmetry is less than half the chord; the fit is cut along the same radii.
        off = bore / 2.0 * np.abs(np.sin(turned - middle))
        ahead = np.cos(turned - middle) > 0.0
        covered |= (off < width / 2.0) & ahead & (depth > 0.03) & (depth < 0.03 + height)
    told = contact_fraction(windows=WINDOWS, width_diameter=bore, diameter=fit, length=length)
    assert told == pytest.approx(1.0 - covered.mean(), abs=5e-4)


def test_windows_that_leave_nothing_are_refused() -> None:
    """A window wider than the bore, one without height and too many are refused by name."""
    told = {"width_diameter": 0.056, "diameter": 0.062, "length": 0.090}
    with pytest.raises(InputError, match="width of port 1"):
        contact_fraction(windows=((0.060, 0.020),), **told)
    with pytest.raises(InputError, match="height of port 1"):
        contact_fraction(windows=((0.030, 0.0),), **told)
    with pytest.raises(InputError, match="windows of the ports"):
        contact_fraction(windows=((0.055, 0.080),) * 4, **told)


def test_band_that_is_shown_is_that_of_the_printed_rows() -> None:
    """DIN 7190-1 as quoted and two remembered hubs: 0.07 to 0.20, of the default as well."""
    band = friction_band(friction_rows())
    assert band == FRICTION_BAND == (default("friction").low, default("friction").high)


def test_every_row_names_a_source_of_the_list_and_no_row_is_iron_in_aluminium() -> None:
    """The table keeps its word: each row has a source, and the pairing in use is in none."""
    for row in friction_rows():
        assert row.source in {"din-7190-1", "from-memory"}
        assert not ("iron" in row.pairing and "alumin" in row.pairing)


def test_band_of_no_row_is_refused() -> None:
    """Nothing printed gives no band."""
    with pytest.raises(InputError, match="one or more"):
        friction_band(())
