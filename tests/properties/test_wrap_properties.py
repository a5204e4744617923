"""Wraps of any map: the seam cuts no port, the tiles cover the strip, places come back."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.ports.mapped import PlacedShape, PortMap, map_of_shapes
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.seams import refuse_cut_port, widest_seam
from sleevewright.core.ports.wrap import TURN, Wrap, on_paper, on_wall, tiles_of

BORES = st.floats(0.03, 0.13)


@st.composite
def maps(draw: st.DrawFn) -> PortMap:
    """One to eight windows anywhere round a bore, some behind the datum, some overlapping."""
    bore = draw(BORES)
    count = draw(st.integers(1, 8))
    shapes = {}
    for index in range(count):
        width = draw(st.floats(0.04, 0.11)) * math.pi * bore
        shape = PortShape(0.03, 0.05, width, width)
        shapes[f"port {index}"] = PlacedShape(shape, draw(st.floats(-10.0, 10.0)))
    return map_of_shapes(shapes, diameter=bore)


@settings(max_examples=60, deadline=None)
@given(ports=maps(), is_outside=st.booleans())
def test_the_seam_cuts_no_port(ports: PortMap, is_outside: bool) -> None:
    """Each outline lies in one piece between the butt lines, and comes back to its place."""
    seam = widest_seam(ports)
    refuse_cut_port(ports, seam=seam)
    wrap = Wrap(ports.diameter, 0.1e-3, seam, is_outside)
    for port in ports.ports:
        placed = on_paper(wrap, port.points)
        assert placed[:, 0].min() > 0.0
        assert placed[:, 0].max() < wrap.length
        back = on_wall(wrap, placed)
        turns = (back[:, 0] - port.points[:, 0]) / TURN
        assert np.abs(turns - np.round(turns)).max() < 1e-12


@settings(max_examples=80, deadline=None)
@given(length=st.floats(0.01, 3.0), width=st.floats(0.05, 0.6))
def test_tiles_cover_the_strip(length: float, width: float) -> None:
    """From end to end without a gap; neighbours share 12 mm, no tile is wider than the paper."""
    tiles = tiles_of(length=length, width=width, overlap=0.012)
    assert tiles[0].start == 0.0
    assert tiles[-1].stop == pytest.approx(length, abs=1e-12)
    for one in tiles:
        assert 0.0 < one.stop - one.start <= width + 1e-12
    for one, other in itertools.pairwise(tiles):
        assert one.stop - other.start == pytest.approx(0.012, abs=1e-12)
