"""Stage Face, what is called good: both limits count, and what contradicts itself is said."""

from __future__ import annotations

import pytest
from test_face_stage import THOU, WHOLE, said, stage

from sleevewright.core.uncertainty.risk import chance_out
from sleevewright.planning.answers import Verdict
from sleevewright.planning.judging import between


@pytest.mark.parametrize(
    ("text", "verdict"),
    [("0.5 thou", Verdict.GOOD), ("0.55 thou", Verdict.TOO_CLOSE), ("1.5 thou", Verdict.OUT)],
)
def test_a_stand_out_is_held_against_both_its_limits(text: str, verdict: Verdict) -> None:
    """Under steel layers 0 to 1 thou: half a thou lies out by 5 %, two and a half on each side."""
    cells = {**WHOLE, "face.cut": "1 thou", "face.gasket_kind": "steel layers",
             "face.stand_out": text}  # fmt: skip
    found = said(stage(cells), "face.stand_out")
    both = chance_out(found.value, standard=found.doubt.standard, least=0.0, most=THOU)
    assert found.judgement.verdict is verdict
    assert found.judgement.chance_out == pytest.approx(both, rel=1e-9)
    if verdict is Verdict.GOOD:
        assert both == pytest.approx(0.05, abs=1e-4)


def test_limits_on_both_sides_are_told_by_the_nearer_one() -> None:
    """The remedy is that of the side it lies on; beyond either end it is out."""
    for value, side, remedy in ((0.1, "least", "more"), (0.9, "most", "less")):
        judge = between((0.0, "more"), (1.0, "less"), value=value)
        judged = judge(value, None, 0.2)
        assert (judged.side, judged.remedy) == (side, remedy)
    assert between((0.0, "more"), (1.0, "less"), value=-1.0)(-1.0, None, 0.2).verdict is Verdict.OUT
