"""What is said of a ledge at depth, and of one that may rock: only what is beyond doubt."""

from __future__ import annotations

from test_counterbore_stage import counterbored, said, stage_of


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
