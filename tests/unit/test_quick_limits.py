"""The quick topic on limits: lines, document, and what it refuses.

Figures are those of ISO 286 (63 mm H7/s6, 50 mm H7/g6) and of Machinery's Handbook, 27th ed.,
Table 11 (FN2 at 2.5 in).
"""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document, quick_lines


def test_a_metric_fit_has_the_limits_of_both_parts() -> None:
    """63 H7/s6: hole +30/0, shaft +72/+53, 23 to 72 um of interference."""
    found = quick_document(quick("limits", ("size=63mm", "fit=H7/s6")))
    assert found["hole_smallest_mm"] == 63.0
    assert found["hole_largest_mm"] == 63.03
    assert found["shaft_smallest_mm"] == 63.053
    assert found["shaft_largest_mm"] == 63.072
    assert found["least_interference_um"] == 23.0
    assert found["greatest_interference_um"] == 72.0
    assert found["sources"]["shaft_largest_mm"] == ["iso-286-1"]
    assert "iron sleeve in aluminium" in found["cautions"][0]


def test_an_inch_fit_answers_in_inches() -> None:
    """FN2 at 2.5 in: hole +1.2, shaft +2.7/+2.0, 0.8 to 2.7 thou."""
    said = "\n".join(quick_lines(quick("limits", ("size=2.5in", "fit=fn2"))))
    for words in ("2.5012 in", "2.5020 in", "2.5027 in", "0.8 thou", "2.7 thou", "machinerys-27"):
        assert words in said
    assert "from memory" not in said
    remembered = "\n".join(quick_lines(quick("limits", ("size=4.3in", "fit=FN2"))))
    assert "This row of the inch table is from memory" in remembered


def test_clearance_is_told_as_negative_interference() -> None:
    """50 H7/g6 clears by 9 to 50 um; there is no caution about a tight fit."""
    answer = quick("limits", ("size=50mm", "fit=g6/H7"))
    found = quick_document(answer)
    assert (found["least_interference_um"], found["greatest_interference_um"]) == (-50.0, -9.0)
    assert found["cautions"] == []
    assert "negative is clearance" in "\n".join(quick_lines(answer))


def test_one_class_alone_has_its_limits_only() -> None:
    """A hole or a shaft by itself makes no fit."""
    found = quick_document(quick("limits", ("size=50mm", "fit=H7")))
    assert "least_interference_um" not in found
    assert found["hole_largest_mm"] == 50.025


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("size=50mm", "fit=H7/K7"), "one class, or a hole and a shaft"),
        (("size=50mm", "fit=H7/s6/k6"), "one class, or a hole and a shaft"),
        (("size=50mm", "fit=ZZ9"), "classes of ISO 286"),
        (("size=50mm", "fit=RC4"), "FN1, FN2"),
        (("size=50mm", "fit="), "nothing cannot be used"),
        (("size=20mm", "fit=t6"), "t above 24 mm"),
        (("size=0.5in", "fit=FN3"), r"over 0\.95"),
        (("size=700mm", "fit=H7"), "size: 700mm"),
    ],
)
def test_what_is_no_class_is_refused_with_what_is(words: tuple[str, ...], message: str) -> None:
    """The refusal names the input as it was typed and what may stand there."""
    with pytest.raises(InputError, match=message):
        quick("limits", words)
