"""Chances of both ends of a drop, and what is said of them."""

import pytest

import heat_examples as shop
from heat_examples import THOU
from sleevewright.core.heat.flange_drop import FlangeEnd
from sleevewright.errors import InputError, MissingInput
from sleevewright.planning.drop_ends import Ends, end_words, ends_of
from sleevewright.services.quick_drop import quick_drop

INCH = 25.4e-3
ALUMINIUM = shop.case("aluminium", interference=3.2, slip=5.4)


def ends(interference: float) -> Ends:
    """Chances with a flange so tight, in thou."""
    end = FlangeEnd(2.640 * INCH, interference * THOU, 3.0e-3)
    return ends_of(ALUMINIUM, end, count=200, seed=5)


def test_tight_flange_is_first_and_holds_proud() -> None:
    """With 8 thou at the flange it is first nearly always, and before it is seated often."""
    loose, tight = ends(1.5), ends(8.0)
    assert tight.flange_first > 0.9 > loose.flange_first
    assert tight.holds_proud
    assert not loose.holds_proud
    assert any("proud" in text for text in end_words(tight))
    assert not any("proud" in text for text in end_words(loose))


def test_equal_chances_claim_no_difference() -> None:
    """One drop more in two hundred is within the counting error: no warning."""
    assert not Ends(0.1, 0.5, 0.015, 0.010, 200).holds_proud
    assert Ends(0.1, 0.5, 0.10, 0.01, 200).holds_proud


@pytest.mark.parametrize(("chance", "said"), [(0.0, "0 drops"), (0.004, "less than 1 drop"),
                                              (0.25, "25 drops")])  # fmt: skip
def test_small_chances_are_not_rounded_to_none(chance: float, said: str) -> None:
    """A chance that is not nothing is never shown as nothing."""
    assert f"in {said} in 100" in end_words(Ends(chance, 0.5, 0.0, 0.0, 400))[1]


TYPED = (
    "sleeve_od=2.480in", "sleeve_id=2.200in", "parent_bore=2.4768in", "casting_od=4.1in",
    "length=3.74in", "slip=5.4thou", "casting=aluminium-356", "sleeve=grey-iron",
)  # fmt: skip
SEAT = ("counterbore=2.637in", "flange_thickness=0.118in")


def test_quick_question_takes_a_flange_whole_or_not_at_all() -> None:
    """With its three sizes the ends are said; a part of them names what is missing."""
    plain = quick_drop(TYPED)
    assert not any("counterbore" in text for text in plain.said)
    assert plain.said[0].startswith("Both parts meet at")
    flanged = quick_drop((*TYPED, "flange_od=2.640in", *SEAT))
    assert any("counterbore" in text for text in flanged.said)
    with pytest.raises(MissingInput, match="counterbore"):
        quick_drop((*TYPED, "flange_od=2.640in"))
    with pytest.raises(InputError, match=r"flange_od: 2\.40in cannot be used"):
        quick_drop((*TYPED, "flange_od=2.40in", *SEAT))
