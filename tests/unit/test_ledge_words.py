"""What is said of a ledge at depth, and of one that may rock: only what is beyond doubt."""

from __future__ import annotations

import pytest
from test_counterbore_stage import LEVEL, THOU, counterbored, said, stage_of


def test_a_pair_within_the_doubt_is_not_said_to_rock() -> None:
    """Alternately 0.3 thou high, less than two readings are doubted by: no word of rocking."""
    stage = stage_of(counterbored("0.1525 in", "0.1528 in", "0.1525 in", "0.1528 in"))
    assert not any("rocks on them" in text for text in stage.advice)


def test_a_ledge_at_depth_that_is_not_square_is_squared_to_its_deepest() -> None:
    """1.9 thou uneven with its deepest place at depth: no more depth, the high places alone."""
    stage = stage_of(counterbored("0.1552 in", "0.1533 in", "0.1545 in", "0.1540 in"))
    assert said(stage, "next_feed").value == 0.0
    texts = [text for text in stage.advice if "no more depth" in text]
    assert len(texts) == 1
    assert "high places down to the deepest" in texts[0]
    assert not any("cut no more" in text for text in stage.advice)
    level = stage_of(counterbored(*["0.1552 in"] * 4))
    assert any("cut no more" in text for text in level.advice)


def test_a_chip_is_no_plane_and_a_high_pair_rocks() -> None:
    """Two opposite places 3 thou high: no plane, and the flange rocks on them."""
    stage = stage_of(counterbored("0.1515 in", "0.1545 in", "0.1515 in", "0.1545 in"))
    assert "no plane" in str(said(stage, "lies").value)
    assert said(stage, "touches").value == "at 0°, 180°"
    assert said(stage, "rocks").value == pytest.approx(6.0 * THOU, abs=1e-8)
    assert any("rocks on them" in text for text in stage.advice)


def test_depths_at_one_angle_tell_no_plane() -> None:
    """Four depths in one place: what is to go is told, the ledge's lie is not, with the reason."""
    stage = stage_of(counterbored(*LEVEL, angles=["0 deg", "1 deg", "2 deg", "3 deg"]))
    assert said(stage, "to_go").value == pytest.approx(2.0 * THOU, abs=1e-6)
    assert said(stage, "lies").value is None
    assert any("all to one side" in one.text for one in stage.cautions)
