"""What crank, ports and volumes refuse, and that samples pass through them."""

import math

import numpy as np
import pytest

from sleevewright.core.engine.crank import (
    chord_to_arc,
    crank_angle_at,
    duration_per_height,
    piston_drop,
    port_duration,
    port_opens,
)
from sleevewright.core.engine.ring_gap import bore_change_from_gap, ring_gap
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.errors import InputError

CRANK = {"stroke": 58e-3, "rod": 120e-3}


def test_rod_that_cannot_pass_the_crank_is_refused() -> None:
    """A rod not longer than half the stroke asks what length it is."""
    with pytest.raises(InputError, match=r"rod: 0.025 m .* between the centres"):
        piston_drop(crank_angle=1.0, stroke=58e-3, rod=25e-3)


def test_roof_above_the_piston_is_refused() -> None:
    """A roof above top dead centre would never close."""
    with pytest.raises(InputError, match="the port would never close"):
        port_opens(roof_depth=0.4e-3, deck_clearance=0.5e-3, **CRANK)


def test_roof_below_the_piston_is_refused() -> None:
    """A roof below bottom dead centre would never open."""
    with pytest.raises(InputError, match=r"less than 0\.0585 m.*would never open"):
        port_opens(roof_depth=59e-3, deck_clearance=0.5e-3, **CRANK)


def test_roofs_at_the_dead_centres_have_no_finite_slope_and_are_refused() -> None:
    """At a dead centre the degrees per height have no limit: refused like a roof beyond it."""
    for depth in (0.0, 58e-3):
        with pytest.raises(InputError, match="roof depth"):
            duration_per_height(roof_depth=depth, deck_clearance=0.0, **CRANK)


def test_one_sample_beyond_the_stroke_is_enough_to_refuse() -> None:
    """Samples of a roof are refused by their worst."""
    with pytest.raises(InputError, match="roof depth"):
        port_opens(roof_depth=np.array([28e-3, 60e-3]), deck_clearance=0.0, **CRANK)


def test_drop_beyond_the_stroke_is_refused() -> None:
    """The piston does not come above top nor below bottom dead centre."""
    with pytest.raises(InputError, match=r"drop: -0\.001 m"):
        crank_angle_at(drop=-1e-3, **CRANK)
    with pytest.raises(InputError, match=r"drop: 0\.06 m"):
        crank_angle_at(drop=60e-3, **CRANK)


def test_impossible_openings_are_refused() -> None:
    """A duration wants an opening between the dead centres."""
    with pytest.raises(InputError, match="0 to pi rad"):
        port_duration(4.0)


def test_port_wider_than_the_bore_is_refused() -> None:
    """A chord is no wider than the bore."""
    with pytest.raises(InputError, match="chord"):
        chord_to_arc(chord=70e-3, bore=62e-3)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: swept_volume(bore=0.0, stroke=58e-3), "bore"),
        (lambda: swept_volume(bore=62e-3, stroke=-1.0), "stroke"),
        (lambda: compression_ratio(swept=1e-4, clearance_volume=0.0), "clearance volume"),
        (lambda: ring_gap(bore=62e-3, share=-0.1), "share"),
        (lambda: bore_change_from_gap(gap=math.inf, former_gap=0.0), "gap"),
    ],
)
def test_impossible_sizes_are_refused_by_name(call: object, field: str) -> None:
    """Each refusal names its field."""
    assert callable(call)
    with pytest.raises(InputError) as refused:
        call()
    assert refused.value.field == field


def test_samples_give_what_single_values_give() -> None:
    """Arrays of roofs are the same numbers as one call each."""
    roofs = np.array([24e-3, 28e-3, 40e-3])
    together = port_opens(roof_depth=roofs, deck_clearance=0.0, **CRANK)
    slopes = duration_per_height(roof_depth=roofs, deck_clearance=0.0, **CRANK)
    for index, roof in enumerate(roofs):
        alone = port_opens(roof_depth=float(roof), deck_clearance=0.0, **CRANK)
        slope = duration_per_height(roof_depth=float(roof), deck_clearance=0.0, **CRANK)
        assert together[index] == pytest.approx(alone, rel=1e-14)
        assert slopes[index] == pytest.approx(slope, rel=1e-14)
