"""Facing and squish against other roads: integrals, bisection, brute force, figures by hand.

Slider-crank: J. B. Heywood, Internal Combustion Engine Fundamentals, 1988, chapter 2.
Cap and cone: I. N. Bronshtein and others, Handbook of Mathematics, 6th edition, 2015.
Figures of a 2.756 in by 2.700 in cylinder are worked by hand from those relations.
"""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from sleevewright.core.engine.chamber import (
    believed_volume,
    clearance_volume,
    disc_volume,
    dome_volume,
)
from sleevewright.core.engine.crank import duration_per_height
from sleevewright.core.engine.facing import (
    deck_clearance_after,
    duration_change,
    flattening_cut,
    roof_after,
    volume_after,
)
from sleevewright.core.engine.gaskets import (
    Barrel,
    GasketLimits,
    GasketPair,
    best_base,
    best_head,
    ranked_gaskets,
    squish_to_correct,
)
from sleevewright.core.engine.squish import (
    band_area,
    band_volume,
    least_squish,
    running_squish_loss,
    solder_squish,
    solder_tilt,
    squish_after,
    squish_clearance,
)
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.errors import InputError

IN, THOU = 0.0254, 25.4e-6
BORE, STROKE, ROD = 2.756 * IN, 2.700 * IN, 5.500 * IN
LIMITS = GasketLimits(squish_least=1.0e-3, squish_most=1.5e-3, trapped_most=8.0, ratio_most=14.0)


def opens_by_bisection(drop: float) -> float:
    """Angle at which the piston has dropped so far, from the place of the pin alone."""

    def place(angle: float) -> float:
        """How far the piston is below that drop."""
        pin = 0.5 * STROKE * complex(math.cos(angle), math.sin(angle))
        top = 0.5 * STROKE + ROD
        return top - pin.real - math.sqrt(ROD**2 - pin.imag**2) - drop

    return float(brentq(place, 0.0, math.pi, xtol=1e-14))


@pytest.mark.parametrize(("across", "rise"), [(0.062, 0.003), (0.062, -0.004), (0.05, 0.025)])
def test_a_dome_is_the_integral_of_its_discs(across: float, rise: float) -> None:
    """Discs of a sphere, added up from the foot of the cap to its top."""
    height, a = abs(rise), 0.5 * across
    radius = (a * a + height * height) / (2.0 * height)

    def disc(z: float) -> float:
        """Area of the sphere at a height above the foot of the cap."""
        return math.pi * (radius**2 - (radius - height + z) ** 2)

    exact, _ = quad(disc, 0.0, height, epsabs=0.0, epsrel=1e-12)
    found = dome_volume(across=across, bulge=rise)
    assert found == pytest.approx(math.copysign(exact, rise), rel=1e-10)


def test_crowns_too_steep_to_be_crowns_are_refused() -> None:
    """A cap higher than half its width, either way."""
    for rise in (0.032, -0.032):
        with pytest.raises(InputError, match="height of the crown"):
            dome_volume(across=0.062, bulge=rise)


def test_the_175_by_its_parts_gives_its_printed_ratios() -> None:
    """62 by 58 mm and 14.2 cc in parts: swept 175.106 cc, 13.331 and 6.953 at 28 mm."""
    bore = 62e-3
    gasket = disc_volume(across=bore, height=0.8e-3)
    deck = disc_volume(across=bore, height=-0.3e-3)
    crown = dome_volume(across=bore, bulge=1.0e-3)
    volume = clearance_volume(
        chamber=14.2e-6 - gasket - deck + crown,
        gasket_volume=gasket,
        deck_volume=deck,
        step_volume=0.0,
        crown_volume=crown,
    )
    swept = swept_volume(bore=bore, stroke=58e-3)
    trapped = swept_volume(bore=bore, stroke=28e-3)
    assert swept * 1e6 == pytest.approx(175.106, abs=5e-4)
    assert compression_ratio(swept=swept, clearance_volume=volume) == pytest.approx(
        13.331, abs=5e-4
    )
    assert compression_ratio(swept=trapped, clearance_volume=volume) == pytest.approx(
        6.953, abs=5e-4
    )


def test_ten_thou_off_the_deck_by_hand() -> None:
    """0.98 cc, from 13.0 to 13.6 with 22 cc above the piston; the timing stays."""
    left = volume_after(
        volume=22e-6, bore=BORE, deck_cut=10 * THOU, base_cut=0.0, base_thicker=0.0,
        gasket_hole=BORE, head_thicker=0.0,
    )  # fmt: skip
    swept = swept_volume(bore=BORE, stroke=STROKE)
    assert (22e-6 - left) * 1e6 == pytest.approx(0.98, abs=0.005)
    before, after = (compression_ratio(swept=swept, clearance_volume=v) for v in (22e-6, left))
    assert (round(float(before), 1), round(float(after), 1)) == (13.0, 13.6)
    roof = roof_after(roof_depth=1.450 * IN, deck_cut=10 * THOU, sunk=0.0)
    deck = deck_clearance_after(
        deck_clearance=0.0, deck_cut=10 * THOU, base_cut=0.0, base_thicker=0.0
    )
    change = duration_change(
        roof_depth=1.450 * IN, deck_clearance=0.0, new_roof=roof, new_clearance=deck,
        stroke=STROKE, rod=ROD,
    )  # fmt: skip
    assert change == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("roof", "degrees"), [(1.450, -0.84), (1.920, -0.97)])
def test_ten_thou_off_the_base_by_bisection(roof: float, degrees: float) -> None:
    """Exhaust 0.84 and transfer 0.97 degrees shorter, as two bisections of the crank say."""
    change = duration_change(
        roof_depth=roof * IN, deck_clearance=0.0, new_roof=roof * IN,
        new_clearance=-10 * THOU, stroke=STROKE, rod=ROD,
    )  # fmt: skip
    exact = 2.0 * (opens_by_bisection(roof * IN) - opens_by_bisection(roof * IN + 10 * THOU))
    assert change == pytest.approx(exact, abs=1e-10)
    assert math.degrees(float(change)) == pytest.approx(degrees, abs=0.006)


def test_a_small_base_cut_follows_the_slope() -> None:
    """Exact difference over a micrometre against the derivative of the duration."""
    crank = {"stroke": STROKE, "rod": ROD}
    slope = duration_per_height(roof_depth=1.45 * IN, deck_clearance=0.0, **crank)
    change = duration_change(
        roof_depth=1.45 * IN, deck_clearance=0.0, new_roof=1.45 * IN, new_clearance=-1e-6, **crank
    )
    assert change / -1e-6 == pytest.approx(slope, rel=1e-4)


def test_what_the_running_engine_takes_by_hand() -> None:
    """120 mm of steel at 80 K and 30 mm of aluminium at 180 K, and 0.2 mm of play."""
    loss = running_squish_loss(
        rod=0.120, rod_expansion=11.5e-6, rod_rise=80.0,
        crown_height=0.030, crown_expansion=21e-6, crown_rise=180.0, play=0.2e-3,
    )  # fmt: skip
    assert loss * 1e3 == pytest.approx(0.1104 + 0.1134 + 0.2, abs=1e-9)
    assert least_squish(usual_least=0.3e-3, running_loss=loss) == loss
    assert least_squish(usual_least=1.0e-3, running_loss=loss) == 1.0e-3


def test_the_band_is_what_the_bowl_leaves() -> None:
    """Area and volume of a ring, counted on a fine grid of squares."""
    bore, bowl, half = 0.062, 0.042, 0.031
    middles = (np.arange(2000) + 0.5) / 2000.0 * 2.0 * half - half
    far = np.hypot(middles[:, None], middles[None, :])
    counted = np.count_nonzero((far < half) & (far > 0.5 * bowl)) * (2.0 * half / 2000.0) ** 2
    assert band_area(bore=bore, bowl=bowl) == pytest.approx(counted, rel=1e-4)
    volume = band_volume(bore=bore, bowl=bowl, squish=1e-3)
    assert volume == pytest.approx(counted * 1e-3, rel=1e-4)


BARREL = Barrel(
    bore=0.062, deck=-0.3e-3, step=0.0, wanted_base=0.6e-3, gasket_hole=0.064,
    bare_volume=11e-6, stroke=0.058, rod=0.120, roof=0.028,
)  # fmt: skip


def by_hand(base: float, head: float) -> tuple[float, float, float]:
    """Squish, trapped ratio and change of the duration of one pair, one formula after another."""
    deck = BARREL.deck + base
    volume = 11e-6 + disc_volume(across=0.062, height=base) + disc_volume(across=0.064, height=head)
    trapped = compression_ratio(
        swept=swept_volume(bore=0.062, stroke=0.028 - deck), clearance_volume=volume
    )
    longer = duration_change(
        roof_depth=0.028, deck_clearance=BARREL.deck + 0.6e-3, new_roof=0.028, new_clearance=deck,
        stroke=0.058, rod=0.120,
    )  # fmt: skip
    squish = squish_clearance(deck_clearance=deck, head_gasket=head, head_step=0.0)
    return float(squish), float(trapped), float(longer)


def test_gaskets_are_ranked_as_a_search_by_hand_ranks_them() -> None:
    """Every pair one by one: its figures, and the best of them."""
    bases, heads = (0.3e-3, 0.5e-3, 0.8e-3), (0.5e-3, 0.8e-3, 1.0e-3)
    found = ranked_gaskets(
        barrel=BARREL, base_gaskets=np.array(bases), head_gaskets=np.array(heads), limits=LIMITS
    )
    assert len(found) == 9
    for one in found:
        squish, trapped, longer = by_hand(one.base, one.head)
        assert one.squish == pytest.approx(squish, abs=1e-12)
        assert one.trapped == pytest.approx(trapped, rel=1e-12)
        assert one.lasts_longer == pytest.approx(longer, abs=1e-12)
    good = [
        (round(abs(base - 0.6e-3), 9), abs(by_hand(base, head)[0] - 1.25e-3), base, head)
        for base, head in itertools.product(bases, heads)
        if 1.0e-3 - 1e-9 <= by_hand(base, head)[0] <= 1.5e-3 + 1e-9 and by_hand(base, head)[1] <= 8
    ]
    best = min(good)
    assert (found[0].base, found[0].head) == best[2:]
    assert (best_base(ranked_pairs=found), best_head(ranked_pairs=found)) == best[2:]
    assert sum(one.is_good for one in found) == len(good)


@pytest.mark.parametrize(
    ("before", "head"), [(1.45e-3, 1.0e-3), (1.05e-3, 0.6e-3), (2.0e-3, 0.8e-3)]
)
def test_what_is_restored_is_the_squish_that_was(before: float, head: float) -> None:
    """Nearest to the squish before the cut, or to the middle where that was out."""
    heads = np.array([0.6e-3, 0.8e-3, 1.0e-3])
    limits = replace(LIMITS, squish_before=before, trapped_most=20.0)
    base = np.array([1.25e-3 - BARREL.deck - BARREL.step - 0.8e-3])
    found = ranked_gaskets(barrel=BARREL, base_gaskets=base, head_gaskets=heads, limits=limits)
    assert found[0].squish == pytest.approx(1.25e-3 + head - 0.8e-3, abs=1e-9)


@pytest.mark.parametrize(("heads", "sign"), [((0.1e-3,), -1.0), ((3.0e-3,), 1.0)])
def test_where_no_pair_serves_the_rest_is_faced_or_shimmed(
    heads: tuple[float, ...], sign: float
) -> None:
    """What is missing to the middle of the limits: a shim where short, a cut where over."""
    bases = np.array([0.3e-3, 0.6e-3])
    found = ranked_gaskets(
        barrel=BARREL, base_gaskets=bases, head_gaskets=np.array(heads), limits=LIMITS
    )
    assert math.isnan(best_base(ranked_pairs=found))
    assert math.isnan(best_head(ranked_pairs=found))
    rest = squish_to_correct(ranked_pairs=found, limits=LIMITS)
    assert rest == pytest.approx(0.3e-3 + heads[0] - 1.25e-3, abs=1e-12)
    assert math.copysign(1.0, rest) == sign


def test_a_pair_by_which_the_piston_meets_the_head_stands_last() -> None:
    """Nearest in timing, and still last: it cannot be fitted."""
    found = ranked_gaskets(
        barrel=Barrel(bore=0.062, deck=-2.0e-3, step=0.0, wanted_base=0.5e-3, gasket_hole=0.062),
        base_gaskets=np.array([0.5e-3, 2.0e-3]),
        head_gaskets=np.array([1.0e-3]),
        limits=LIMITS,
    )
    assert [one.base for one in found] == [2.0e-3, 0.5e-3]
    assert isinstance(found[-1], GasketPair)
    assert found[-1].squish < 0.0
    assert found[0].ratio is None


def test_what_cannot_be_is_refused() -> None:
    """Piston into the head, volumes that are none, a cut to the port, empty lists."""
    with pytest.raises(InputError, match="squish"):
        squish_clearance(deck_clearance=-0.9e-3, head_gasket=0.8e-3, head_step=0.0)
    with pytest.raises(InputError, match="meet the head"):
        squish_after(squish=0.2e-3, change=-0.3e-3)
    with pytest.raises(InputError, match="crown"):
        clearance_volume(chamber=1e-6, gasket_volume=0.0, deck_volume=0.0, step_volume=0.0,
                         crown_volume=2e-6)  # fmt: skip
    with pytest.raises(InputError, match="top dead centre"):
        believed_volume(volume=200e-6, swept=175e-6)
    with pytest.raises(InputError, match="more than there is"):
        volume_after(volume=1e-6, bore=0.062, deck_cut=1e-3, base_cut=0.0, base_thicker=0.0,
                     gasket_hole=0.062, head_thicker=0.0)  # fmt: skip
    with pytest.raises(InputError, match="depth of the port"):
        roof_after(roof_depth=1e-3, deck_cut=2e-3, sunk=0.0)
    with pytest.raises(InputError, match="bowl"):
        band_area(bore=0.05, bowl=0.05)
    for ones in (np.array([]), np.full(13, 1e-3)):
        with pytest.raises(InputError, match="base gaskets"):
            ranked_gaskets(
                barrel=BARREL, base_gaskets=ones, head_gaskets=np.array([1e-3]), limits=LIMITS
            )


def test_solder_at_both_ends_gives_mean_and_tilt() -> None:
    """1.30 and 1.34 mm: 1.32 mm, and 0.04 mm out of parallel."""
    both = {"one_end": 1.30e-3, "other_end": 1.34e-3}
    assert solder_squish(**both) == pytest.approx(1.32e-3, abs=1e-15)
    assert solder_tilt(**both) == pytest.approx(-0.04e-3, abs=1e-15)


@pytest.mark.parametrize(("flat", "cut"), [(0.04e-3, 0.0), (0.08e-3, 0.08e-3)])
def test_a_deck_out_of_flat_is_cut_to_its_lowest_place(flat: float, cut: float) -> None:
    """Nothing where it is accepted, else as much as the gap."""
    assert flattening_cut(out_of_flat=flat, most=0.05e-3) == cut
