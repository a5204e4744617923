"""Drawings whose file names another unit than they are drawn in."""

from __future__ import annotations

import io

import ezdxf
import pytest

from sleevewright.errors import InputError
from sleevewright.services.outlines_in import Asked, outlines_of


@pytest.mark.parametrize(("unit", "millimetres"), [(1, 25.4), (2, 304.8), (6, 1000.0)])
def test_figures_in_mm_under_another_unit_ask_for_the_unit(unit: int, millimetres: float) -> None:
    """A window from 30 to 46 mm whose file says inches, feet or metres (DXF: $INSUNITS)."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = unit
    window = [(-10, -30), (-10, -46), (10, -46), (10, -30)]
    document.modelspace().add_lwpolyline(window, close=True)
    out = io.StringIO()
    document.write(out)
    asked = Asked(view="inside", diameter=66.4e-3)
    with pytest.raises(InputError) as refused:
        outlines_of("a.dxf", out.getvalue().encode(), asked)
    assert f"depth of a window: {46 * millimetres:.6g} mm cannot be used" in str(refused.value)
    assert "up to 400 mm" in str(refused.value)
    assert "Is the unit another one than the file says?" in str(refused.value)
