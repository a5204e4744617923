"""What sources say of a fit, asked without a job: side by side, with what is not counted."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError, MissingInput
from sleevewright.services.quick import quick, quick_document, quick_lines

AIR = ("diameter=3.000in", "cooling=air", "casting=aluminium")
IRON = ("diameter=76.2mm", "cooling=water", "casting=grey-iron-200")


def test_sources_stand_side_by_side_with_the_preset_and_the_least() -> None:
    """1.3 and 1.0 thou an inch on 3 in, the sources from 2 to 6 thou, and why the preset is so."""
    document = quick_document(quick("advice", AIR))
    assert document["wanted_um"] == pytest.approx(3.9 * 25.4)
    assert document["least_um"] == pytest.approx(3.0 * 25.4)
    assert (document["lowest_um"], document["highest_um"]) == pytest.approx((50.8, 152.4))
    said = {one["id"]: (one["low_um"], one["high_um"]) for one in document["says"]}
    assert said["factory-twin"] == (50.8, 50.8)
    assert said["practice-air"] == (99.06, 152.4)
    text = "\n".join(quick_lines(quick("advice", AIR)))
    assert "says: about 6.0 thou" in text
    assert "preset: 1.3 thou/in wanted, 1 thou/in least" in text
    assert "lost warm" in text
    assert "goes against" not in text


def test_what_is_not_counted_is_told_with_its_reason() -> None:
    """Per cent signs and a lost decimal are shown as printed, and never make an end."""
    document = quick_document(quick("advice", IRON))
    reasons = [one["reason"] for one in document["not_counted"]]
    assert any("per cent" in one for one in reasons)
    assert any("decimal" in one for one in reasons)
    assert document["highest_um"] < 100.0
    text = "\n".join(quick_lines(quick("advice", IRON)))
    assert "“maximum press” is taken as interference on diameter, the most" in text
    assert "“clearance” is taken as a gap" in text
    assert "“crush”" not in text  # no source of these says it


def test_wanted_fit_is_held_against_all_of_it() -> None:
    """100 um in iron: past the sheet's 76 um, above every source, outside of the preset."""
    document = quick_document(quick("advice", (*IRON, "wanted=100um", "least=30um")))
    told = " ".join(document["goes_against"])
    assert "at most 76 µm" in told
    assert "above every range" in told
    assert "a least of 30 µm: the shop's preset says 38 µm" in told


def test_flange_changes_what_is_said() -> None:
    """With a flange one supplier needs no interference; without it he says 3 to 4 thou."""
    words = ("diameter=3.5in", "cooling=water", "casting=aluminium")
    plain, flanged = (
        {one["id"] for one in quick_document(quick("advice", (*words, more)))["says"]}
        for more in ("flanged=no", "flanged=yes")
    )
    assert plain - flanged == {"feature-first"}
    assert flanged - plain == {"feature-flanged"}


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ((*AIR[:1], "cooling=steam", AIR[2]), "air, fan, water, racing"),
        ((*AIR[:2], "casting=alumium"), "[Dd]id you mean aluminium"),
        ((*AIR, "flanged=perhaps"), "yes or no"),
        ((*AIR[:2], "casting=steel"), "no preset and no advice for a casting of steel"),
        (("diameter=3000in", *AIR[1:]), "diameter"),
    ],
)
def test_what_cannot_be_is_refused_by_name(words: tuple[str, ...], named: str) -> None:
    """The refusal says what is allowed."""
    with pytest.raises(InputError, match=named):
        quick("advice", words)


def test_missing_input_is_asked_for() -> None:
    """Without the cooling there is no pairing."""
    with pytest.raises(MissingInput, match=r"cooling: it is missing\. Give it as cooling="):
        quick("advice", (AIR[0], AIR[2]))
