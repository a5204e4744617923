"""The quick question of timing: one roof as ever, several roofs, pin offset, areas and speed."""

from __future__ import annotations

import math
from typing import Any

import pytest

from sleevewright.errors import InputError, MissingInput
from sleevewright.services.quick import quick, quick_document

CRANK = ("stroke=72mm", "rod=125mm", "deck=0mm")
WINDOW = ("width=42mm", "floor=72mm", "bore=66.4mm")


def asked(*words: str) -> dict[str, Any]:
    """The numbers of an answer."""
    return quick_document(quick("timing", (*CRANK, *words)))


def test_one_roof_answers_as_ever() -> None:
    """A depth alone gives opening and duration under the keys that they always had."""
    found = asked("depth=37.5mm")
    assert found["opens_deg"] == pytest.approx(84.0403, abs=1e-3)
    assert found["duration_deg"] == pytest.approx(191.9194, abs=1e-3)
    assert not [key for key in found if key.startswith(("exhaust", "transfer", "blow", "sta"))]


def test_exhaust_stands_for_the_depth() -> None:
    """The exhaust's roof said by its own name answers the same."""
    by_name, by_depth = asked("exhaust=37.5mm"), asked("depth=37.5mm")
    for key in ("opens_deg", "duration_deg"):
        assert by_name[key] == by_depth[key]


def test_blowdown_ends_at_the_first_of_several_transfers() -> None:
    """31.9 degrees to the higher roof, whichever is typed first; each has its own line."""
    found = asked("exhaust=37.5mm", "transfer=58.2mm,56mm")
    assert found["blowdown_deg"] == pytest.approx(31.87, abs=0.01)
    assert found["transfer_1_opens_deg"] == pytest.approx(120.54, abs=0.01)
    assert found["transfer_2_duration_deg"] == pytest.approx(128.17, abs=0.01)


def test_pin_offset_opens_later_and_closes_sooner() -> None:
    """A millimetre: 84.149 after and 83.933 before top dead centre, and it says its worth."""
    found = asked("depth=37.5mm", "offset=1mm")
    assert found["opens_deg"] == pytest.approx(84.1492, abs=1e-3)
    assert found["closes_deg"] == pytest.approx(83.9331, abs=1e-3)
    assert found["offset_deg"] == pytest.approx(0.1089, abs=1e-3)


def test_window_and_speed_give_areas_with_their_volume() -> None:
    """A square window of 42 mm by caliper: area by hand, time-area by the swept volume."""
    answer = quick("timing", (*CRANK, "exhaust=37.5mm", "transfer=56mm", *WINDOW, "rpm=8000rpm"))
    found = quick_document(answer)
    arc = 66.4 * math.asin(42.0 / 66.4)
    assert found["open_mm2"] == pytest.approx(arc * 34.5, rel=1e-9)
    swept = math.pi / 4.0 * 66.4**2 * 72.0 * 1e-9
    by_hand = found["angle_area_mm2deg"] * 1e-6 / (6.0 * 8000.0) / swept
    assert found["sta_spm"] == pytest.approx(by_hand, rel=1e-9)
    assert found["blowdown_sta_spm"] < found["sta_spm"] / 10.0
    notes = [line.note for line in answer.lines if line.key == "sta_spm"]
    assert notes == ["by the swept volume of one cylinder"]


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (("exhaust=37.5mm", "transfer=75mm"), "transfer"),
        (("depth=37.5mm", "offset=40mm"), "offset"),
        (("depth=37.5mm", "rpm=8000rpm"), "rpm"),
        (("depth=37.5mm", "width=42mm"), "floor"),
        (("depth=37.5mm", "width=42mm", "floor=72mm"), "bore"),
        (("depth=37.5mm", "width=70mm", "floor=72mm", "bore=66.4mm"), "width"),
        (("depth=37.5mm", "width=42mm", "floor=30mm", "bore=66.4mm"), "floor"),
        (("depth=37.5mm", *WINDOW, "rpm=8rpm"), "rpm"),
        (("depth=37.5mm", f"transfer={','.join(['56mm'] * 13)}"), "transfer"),
        (("depth=37.5mm", "transfer=fifty"), "transfer"),
    ],
)
def test_what_cannot_be_is_refused_by_name(words: tuple[str, ...], names: str) -> None:
    """The refusal begins with the input that is wrong and says what is allowed."""
    with pytest.raises(InputError) as refused:
        asked(*words)
    assert str(refused.value).startswith(f"{names}:")
    assert "allowed is" in str(refused.value)


def test_transfer_alone_asks_for_the_exhaust() -> None:
    """Without a depth or an exhaust the question is not answered."""
    with pytest.raises(MissingInput):
        asked("transfer=56mm")
