"""The quick topic on stacks: pieces, document, and what it refuses with what would serve."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document, quick_lines


def test_a_height_from_a_usual_set() -> None:
    """4.20 mm of the set of 47 is 3 and 1.2; the set is told to be from memory."""
    answer = quick("stack", ("height=4.20mm", "set=metric-47"))
    found = quick_document(answer)
    assert found["stacks"][0] == ["3.00", "1.20"]
    assert found["height_mm"] == 4.2
    assert found["off_um"] == 0.0
    assert found["doubt_um"] == pytest.approx(0.3948, abs=0.0006)
    assert found["marked_in"] == "mm"
    said = "\n".join(quick_lines(answer))
    assert "stack: 3.00 + 1.20 = 4.20 mm" in said
    assert "or: " in said
    assert "count your own" in said


def test_own_pins_in_inches_and_millimetres() -> None:
    """Own pins stack exactly, in either unit, also mixed; one alone is said so."""
    for words, stack in (
        (("height=3.05mm", "pins=1.00,1.05,2.00mm"), ["2.00", "1.05"]),
        (("height=0.150in", "pins=0.100,0.050,0.200in"), ["0.100", "0.050"]),
        (("height=2.254mm", "pins=10 thou,2 mm"), ["2.00", "0.254"]),
    ):
        assert quick_document(quick("stack", words))["stacks"][0] == stack
    alone = "\n".join(quick_lines(quick("stack", ("height=2mm", "pins=1.00,2.00mm"))))
    assert "stack: 2.00 mm alone" in alone
    assert "count your own" not in alone


def test_a_height_that_no_pieces_make_names_the_nearest() -> None:
    """The refusal says which heights the set makes just below and above; a wider band takes one."""
    with pytest.raises(InputError, match=r"makes 4\.20 or 4\.22 mm"):
        quick("stack", ("height=4.21mm", "set=pins-metric"))
    found = quick_document(quick("stack", ("height=4.21mm", "set=pins-metric", "off_by=10um")))
    assert abs(found["off_um"]) == 10.0


@pytest.mark.parametrize(
    ("words", "match"),
    [
        (("height=0mm", "set=metric-47"), "height: 0mm"),
        (("height=2m", "set=metric-47"), "height: 2m"),
        (("height=4mm", "set=metric-47", "off_by=-1um"), "off_by: -1um"),
        (("height=4mm", "set=metric-48"), "one of metric-87, metric-47"),
        (("height=4mm", "set=metric-47", "pins=1mm"), "not both"),
        (("height=4mm", "pins=1,,2mm"), "sizes with a comma"),
        (("height=4mm", "pins=-1mm"), "pins"),
        (("height=4mm", "pins=1.00001mm"), "steps of 0.1"),
    ],
)
def test_what_cannot_be_is_refused_by_its_name(words: tuple[str, ...], match: str) -> None:
    """Each refusal names the input and what may stand there."""
    with pytest.raises(InputError, match=match):
        quick("stack", words)


def test_a_tenth_of_a_micron_is_no_nought() -> None:
    """The doubt of 0.39 um, and 0.10 um that a stack is low, stand as figures."""
    lines = quick_lines(quick("stack", ("height=4.2001mm", "set=metric-47")))
    assert "\N{MINUS SIGN}0.10 µm" in next(one for one in lines if one.startswith("Off"))
    assert "0.39 µm  axial" in next(one for one in lines if one.startswith("Doubt"))


def test_a_set_that_nobody_named_is_told_as_assumed() -> None:
    """Without a set or pins the usual 47 blocks stand in, and the answer says so."""
    assert quick_document(quick("stack", ("height=4mm",)))["assumed"]["set"] == "metric-47"
    own = quick_document(quick("stack", ("height=2mm", "pins=2.00mm")))
    assert "set" not in own["assumed"]
