"""Stage Face, what is called good: both limits count, and what contradicts itself is said."""

from __future__ import annotations

import math

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


def test_a_pair_that_is_too_close_to_call_is_not_named_as_sure() -> None:
    """39.5 thou against 39.37 at least: said, and a head gasket that is surely thick goes first."""
    cut = {**WHOLE, "face.cut": "10 thou", "face.base_gaskets": "20 thou"}
    close = stage({**cut, "face.head_gaskets": "29.5 thou"})
    assert said(close, "face.gasket_head").value == pytest.approx(29.5 * THOU)
    assert "too close to call" in said(close, "face.gasket_head").of
    assert any("Lay solder" in one for one in close.advice)
    sure = stage({**cut, "face.head_gaskets": "29.5, 32, 40 thou"})
    found = said(sure, "face.gasket_head")
    doubt = said(sure, "face.squish_after").doubt
    assert found.value == pytest.approx(40 * THOU)
    assert 40 * THOU + 10 * THOU - 1.645 * doubt.standard > 39.37 * THOU
    assert "too close" not in found.of


@pytest.mark.parametrize(("solder", "step", "is_said"), [
    ("50 thou", "0 thou", True), ("31 thou", "0 thou", False), ("50 thou", "20 thou", False),
])  # fmt: skip
def test_solder_that_contradicts_the_parts_is_said(solder: str, step: str, is_said: bool) -> None:
    """Parts of 30 thou and solder of 50, known to 2: beyond both doubts, before the cut."""
    found = stage({**WHOLE, "found.squish": solder, "found.head_step": step})
    codes = {one.code for one in found.cautions}
    assert ("face.apart:face.squish_apart" in codes) is is_said


def test_solder_after_the_cut_is_held_against_what_was_worked_out() -> None:
    """40 thou expected: 41 agrees, 50 is said."""
    for solder, is_said in (("41 thou", False), ("50 thou", True)):
        found = stage({**WHOLE, "face.cut": "10 thou", "face.squish": solder})
        codes = {one.code for one in found.cautions}
        assert ("face.apart:face.squish_unlike" in codes) is is_said


def test_timing_after_the_cut_carries_the_doubt_of_the_roof() -> None:
    """A roof to 3.5 thou: by the slider crank's own slope some 0.15 deg of duration, standard."""
    found = stage({**WHOLE, "face.cut": "10 thou"})
    lasts, roof = (said(found, f"face.port.exhaust.{one}") for one in ("lasts", "roof_now"))
    angle = said(found, "face.port.exhaust.opens").value
    sine = math.sin(angle)
    radius, rod = 1.35, 5.5
    travel = radius * sine * (1.0 + radius * math.cos(angle) / math.hypot(rod, 0.0) / math.sqrt(
        1.0 - (radius * sine / rod) ** 2))  # fmt: skip
    drop = math.hypot(roof.doubt.standard, said(found, "face.deck_after").doubt.standard)
    assert lasts.doubt.standard == pytest.approx(2.0 * drop / (travel * 25.4e-3), rel=0.06)
