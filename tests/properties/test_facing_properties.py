"""What always holds of a cut: the deck leaves the timing, a gasket undoes the base, volumes add."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.engine.facing import (
    deck_clearance_after,
    duration_change,
    roof_after,
    squish_change,
    volume_after,
)
from sleevewright.core.engine.squish import squish_clearance
from sleevewright.jobs.living import living_job
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.face_told import face_part
from sleevewright.services.plans import plan_job
from told_jobs import Teller

CUTS = st.floats(0.0, 2e-3)
DECKS = st.floats(-1e-3, 2e-3)
ROOFS = st.floats(0.35, 0.75)


def change(stroke: float, share: float, deck: float, cuts: tuple[float, float, float]) -> float:
    """Change of the duration of a port with its roof at a share of the stroke."""
    deck_cut, base_cut, thicker = cuts
    roof = deck + share * stroke
    return float(
        duration_change(
            roof_depth=roof,
            deck_clearance=deck,
            new_roof=roof_after(roof_depth=roof, deck_cut=deck_cut, sunk=0.0),
            new_clearance=deck_clearance_after(
                deck_clearance=deck, deck_cut=deck_cut, base_cut=base_cut, base_thicker=thicker
            ),
            stroke=stroke,
            rod=2.05 * stroke,
        )
    )


@settings(max_examples=60, deadline=None)
@given(stroke=st.floats(0.03, 0.1), share=ROOFS, deck=DECKS, cut=CUTS)
def test_a_deck_cut_leaves_the_timing(stroke: float, share: float, deck: float, cut: float) -> None:
    """Whatever comes off the deck, no port opens earlier or later."""
    assert change(stroke, share, deck, (cut, 0.0, 0.0)) == pytest.approx(0.0, abs=1e-10)


@settings(max_examples=60, deadline=None)
@given(stroke=st.floats(0.03, 0.1), share=ROOFS, deck=DECKS, cut=CUTS)
def test_a_thicker_base_gasket_undoes_a_base_cut(
    stroke: float, share: float, deck: float, cut: float
) -> None:
    """Cut x off the base, fit x more gasket: timing, squish and volume are as they were."""
    assert change(stroke, share, deck, (0.0, cut, cut)) == pytest.approx(0.0, abs=1e-10)
    both = {"deck_cut": 0.0, "base_cut": cut, "base_thicker": cut, "head_thicker": 0.0}
    assert squish_change(**both) == pytest.approx(0.0, abs=1e-15)
    assert volume_after(volume=20e-6, bore=0.06, gasket_hole=0.061, **both) == pytest.approx(20e-6)


@settings(max_examples=60, deadline=None)
@given(share=ROOFS, deck=DECKS, one=CUTS, more=st.floats(1e-5, 1e-3))
def test_the_more_comes_off_the_base_the_shorter_every_port(
    share: float, deck: float, one: float, more: float
) -> None:
    """Duration falls with every cut off the base, without an exception."""
    assert change(0.058, share, deck, (0.0, one + more, 0.0)) < change(
        0.058, share, deck, (0.0, one, 0.0)
    )


@settings(max_examples=60, deadline=None)
@given(bore=st.floats(0.03, 0.12), deck=st.floats(0.5e-3, 2e-3), cut=CUTS)
def test_a_cut_takes_a_disc_and_its_height_of_squish(bore: float, deck: float, cut: float) -> None:
    """pi/4 B^2 h of volume and h of squish, off the deck or off the base."""
    for key in ("deck_cut", "base_cut"):
        cuts = {"deck_cut": 0.0, "base_cut": 0.0, "base_thicker": 0.0, key: cut}
        left = volume_after(volume=50e-6, bore=bore, gasket_hole=bore, head_thicker=0.0, **cuts)
        assert 50e-6 - left == pytest.approx(math.pi / 4.0 * bore**2 * cut, abs=1e-15)
        before, after = (
            squish_clearance(deck_clearance=one, head_gasket=2e-3, head_step=0.0)
            for one in (deck, deck_clearance_after(deck_clearance=deck, **cuts))
        )
        assert after - before == pytest.approx(squish_change(head_thicker=0.0, **cuts), abs=1e-15)


TELLABLE = {
    "engine.bore": ("62 mm",), "engine.stroke": ("58 mm",), "engine.rod": ("120 mm",),
    "engine.deck": ("0.5 mm", "-1.5 mm"), "found.squish": ("1.3 mm", "0.02 mm"),
    "found.squish_other": ("1.34 mm",), "found.head_gasket": ("0.8 mm", "0 mm"),
    "found.gasket": ("0.5 mm",), "found.chamber": ("12.4 cc", "1 cc"),
    "found.volume": ("16 cc", "400 cc"), "found.crown": ("2 cc", "60 cc"),
    "found.dish": ("2 cc",),
    "found.crown_rise": ("3 mm", "-3 mm"), "found.head_step": ("0.2 mm", "-20 mm"),
    "found.bowl": ("42 mm", "80 mm"), "found.gasket_hole": ("63 mm",),
    "port/exhaust/found.roof": ("28 mm", "58.4 mm", "1 mm"),
    "face.done": ("faced", "left as it is"), "face.cut": ("0.25 mm", "2.9 mm"),
    "face.base_cut": ("0.1 mm", "2.9 mm"), "face.asked": ("0.2 mm",),
    "face.base_gasket": ("0.8 mm",), "face.head_gasket": ("1.0 mm", "0 mm"),
    "face.base_gaskets": ("0.3, 0.5 mm", "many"), "face.head_gaskets": ("0.8; 1,0 mm",),
    "face.gasket_kind": ("fibre", "copper"), "face.flat": ("0.03 mm",),
    "face.stand_out": ("0.01 mm",), "face.roughness": ("4 um",), "face.squish": ("1.0 mm",),
}  # fmt: skip
"""Cells that Face reads, with texts that are usual and some that cannot be together."""


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from(sorted(TELLABLE)), unique=True, min_size=1),
    st.randoms(use_true_random=False),
)
def test_whatever_is_told_is_answered_or_asked_for(cells: list[str], chance: random.Random) -> None:
    """Any part of what can be told: no error, and each figure is there or says what it needs."""
    teller = Teller(units="metric")
    for cell in cells:
        teller.value(cell, chance.choice(TELLABLE[cell]))
    job = living_job(teller.folded, 1).job
    stage = face_part(plan_job(job), CutTold(job, teller.folded, 1, Shop()))
    if stage is None:
        assert not any(one.startswith("face.") for one in cells)
        return
    for one in stage.answers:
        assert one.value is not None or one.needs, one.id
        if isinstance(one.value, float) and one.id not in ("face.gasket_base", "face.gasket_head"):
            assert math.isfinite(one.value), one.id
    squish = next(one for one in stage.answers if one.id == "face.squish_after")
    assert squish.value is None or float(str(squish.value)) > 0.0
