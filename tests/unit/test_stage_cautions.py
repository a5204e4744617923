"""Cautions of the stages that cut: each says what can hurt there, in words of its own."""

from __future__ import annotations

import pytest

from sleevewright.planning.hazards import STAGE_HAZARDS

SPINDLE, CHIPS, DUST = "no gloves", "cut like razors", "not in a lung"
MAGNESIUM, LIFT, HONE, GRIT = "magnesium", "by hoist", "hone can lock", "laps rings"
WORDS = {
    "old": (SPINDLE, CHIPS, DUST, MAGNESIUM, LIFT, "splinters"),
    "parent": (SPINDLE, CHIPS, DUST, MAGNESIUM),
    "counterbore": (SPINDLE, CHIPS, DUST, MAGNESIUM),
    "honefit": (SPINDLE, DUST, HONE, GRIT, LIFT),
    "face": (SPINDLE, CHIPS, DUST, MAGNESIUM, LIFT, "fly cutter"),
    "piston": (SPINDLE, CHIPS, DUST, LIFT),
    "ports": (DUST, "face shield", "ears covered", "thermite", "unmasked", "break every edge"),
    "hone": (SPINDLE, DUST, HONE, GRIT, LIFT),
    "rings": ("rings spring",),
}
"""Stage, and what its cautions must speak of, as it is said at the bench."""


@pytest.mark.parametrize("stage", WORDS)
def test_a_stage_that_cuts_warns_of_what_can_hurt_there(stage: str) -> None:
    """Spindle, chips, dust, grit and lifting stand where they belong, and who goes first."""
    said = " ".join(one.text for one in STAGE_HAZARDS[stage]).lower()
    missing = [word for word in WORDS[stage] if word.lower() not in said]
    assert not missing
    assert "go before this list" in said
