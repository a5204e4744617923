"""What sources say for a pairing, the presets and the shop's least: plain sums beside each."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sleevewright.core.materials import default
from sleevewright.errors import InputError, NotFound
from sleevewright.planning.fit_advice import (
    Pairing,
    Stand,
    advice_for,
    figure,
    said_figures,
    span_of,
)
from sleevewright.planning.fit_disagreements import ChosenFit, Disagreement, asking, disagreements
from sleevewright.planning.fit_presets import (
    by_diameter,
    preset_for,
    presets,
    ratio_said,
    reason_said,
)
from sleevewright.planning.fit_statements import statements
from sleevewright.planning.shop import THE_SHOP, ShopDefault

THOU = 25.4e-6
THREE = 3.0 * 0.0254
AIR = Pairing("aluminium", "air", THREE)
IRON = Pairing("iron", "water", THREE)
WATER = Pairing("aluminium", "water", THREE)


def named(pairing: Pairing) -> list[str]:
    """Names of what is said for a pairing."""
    return [one.statement.id for one in advice_for(pairing)]


def chosen(pairing: Pairing, wanted: float, least: float | None = None) -> ChosenFit:
    """A choice in thou, with the preset of the tool."""
    preset = preset_for(pairing.casting, pairing.cooling)
    at = preset.least_at(pairing.diameter) if least is None else least * THOU
    return ChosenFit(pairing, preset, wanted * THOU, at, least is not None, "inch")


def keys(found: tuple[Disagreement, ...]) -> set[str]:
    """Keys of the disagreements that ask for a reason."""
    return {one.key for one in found if one.asks}


def test_sources_are_those_of_the_pairing_and_its_own_metal_comes_first() -> None:
    """Air, water and iron each have their own; what is rejected is never among them."""
    assert named(AIR)[:3] == ["factory-twin", "owners-muff", "practice-air"]
    assert "feature-first" in named(WATER)
    assert "sheet-to-5-1-8" in named(IRON)
    for pairing in (AIR, WATER, IRON):
        found = advice_for(pairing)
        assert [one.is_own for one in found] == sorted((one.is_own for one in found), reverse=True)
        assert not {one.id for one in statements() if not one.counts} & set(named(pairing))


def test_flange_and_size_choose_among_the_sources() -> None:
    """What is said of flangeless sleeves goes with a flange; a bore picks its row of the sheet."""
    flanged = replace(WATER, is_flanged=True)
    assert "feature-flanged" in named(flanged)
    assert "feature-first" not in named(flanged)
    assert "feature-flanged" not in named(WATER)
    assert "sheet-to-6-1-2" in named(replace(IRON, diameter=6.0 * 0.0254))
    assert not [one for one in named(replace(IRON, diameter=1.5 * 0.0254)) if "sheet" in one]


def test_by_the_inch_follows_the_diameter_and_a_flat_fit_does_not() -> None:
    """1.3 to 2.0 thou an inch are 3.9 to 6.0 thou on 3 in; 6 thou stay 6 thou."""
    found = {one.statement.id: one for one in advice_for(AIR)}
    practice, muff = found["practice-air"], found["owners-muff"]
    assert (practice.low, practice.high) == pytest.approx((3.9 * THOU, 6.0 * THOU))
    assert said_figures(practice, system="inch") == "3.9 to 6.0 thou"
    assert said_figures(muff, system="inch") == "about 6.0 thou"
    assert said_figures(muff, system="metric") == "about 152 µm"


@pytest.mark.parametrize(
    ("fit", "stands"),
    [
        (1.4, Stand.BELOW),
        (1.6, Stand.WITHIN),
        (4.0, Stand.WITHIN),
        (6.4, Stand.WITHIN),
        (6.6, Stand.ABOVE),
    ],
)
def test_fit_stands_below_within_or_above_all_of_them(fit: float, stands: Stand) -> None:
    """Two figures that are told in whole thou leave half a thou open at either end."""
    span = span_of(advice_for(AIR))
    assert span is not None
    assert (span.low, span.high) == pytest.approx((2.0 * THOU, 6.0 * THOU))
    assert span.stand(fit * THOU) is stands


def test_limits_make_no_span_and_general_words_only_where_no_other_stands() -> None:
    """A most alone advises nothing; without the metal's own, the general ranges count."""
    limits = [one for one in statements() if one.bound in ("most", "least")]
    assert span_of(advice_for(IRON, said=limits)) is None
    general = [one for one in statements() if one.casting == "any"]
    span = span_of(advice_for(AIR, said=general))
    assert span is not None
    assert span.highest.statement.id == "sellers-page"
    assert span_of(()) is None


def test_pairing_that_is_not_known_is_refused() -> None:
    """The refusal names what is wrong and what there is."""
    with pytest.raises(InputError, match="cooling"):
        advice_for(replace(AIR, cooling="steam"))
    with pytest.raises(InputError, match="casting"):
        advice_for(replace(AIR, casting="wood"))
    with pytest.raises(InputError, match="diameter"):
        advice_for(replace(AIR, diameter=0.0))
    with pytest.raises(NotFound):
        preset_for("wood", "air")


def test_preset_is_the_default_of_its_name_until_the_shop_sets_its_own() -> None:
    """Wanted and least by the inch, each with its source; the shop's figure takes its place."""
    usual = preset_for("aluminium", "water")
    assert usual.wanted == default("wanted_aluminium_water")
    assert usual.wanted_at(THREE) == pytest.approx(1.15e-3 * THREE)
    assert not usual.is_own
    own = (ShopDefault("wanted_aluminium_water", 0.0009, "0.9 thou/in"),)
    set_here = preset_for("aluminium", "water", own)
    assert set_here.is_own
    assert set_here.wanted.source == THE_SHOP
    assert set_here.wanted_at(THREE) == pytest.approx(0.9e-3 * THREE)
    assert len(list(presets())) == 8


@pytest.mark.parametrize(("flat", "least"), [(0.0, 3.0), (2.0, 3.0), (4.5, 4.5), (9.0, 9.0)])
def test_least_is_the_larger_of_both_and_may_be_above_every_book(flat: float, least: float) -> None:
    """1.0 thou an inch are 3 thou on 3 in; a least as a fit counts where it is larger."""
    own = (ShopDefault("least_fit", flat * THOU, f"{flat} thou"),)
    preset = preset_for("aluminium", "air", own)
    assert preset.least_at(THREE) == pytest.approx(least * THOU)


def test_usual_choice_asks_for_no_reason() -> None:
    """The preset itself goes against nothing, for any kind of casting at a usual diameter."""
    for preset in presets():
        kind = preset.reason
        pairing = Pairing(kind.casting, kind.cooling, THREE)
        wanted = preset.wanted_at(THREE)
        choice = ChosenFit(pairing, preset, wanted, preset.least_at(THREE), False, "inch")
        assert asking(disagreements(choice)) == "", kind


def test_choice_below_its_least_names_both_figures() -> None:
    """2 thou on an air-cooled barrel of 3 in: the least says 3.0, and one source says 6."""
    found = disagreements(chosen(AIR, 2.0))
    assert keys(found) == {"least", "preset"}
    assert "2.0 thou wanted: the least says 3.0 thou" in asking(found)
    others = [one.words for one in found if not one.asks]
    assert "2.0 thou wanted: owners' club, air-cooled says about 6.0 thou" in others


def test_choice_beyond_all_sources_and_past_a_most_names_who_says_so() -> None:
    """4 thou in iron: above all that is said of iron, and past the sheet's 3 thou."""
    found = disagreements(chosen(IRON, 4.0))
    assert keys(found) == {"preset", "sources-wanted", "limit-sheet-to-5-1-8"}
    assert "at most 3.0 thou" in asking(found)
    assert "above every range" in asking(found)


def test_told_least_is_held_against_the_shops_own_and_the_highest_source() -> None:
    """A lower least asks; a higher one is taken, and asks only above every source."""
    assert "least-lowered" in keys(disagreements(chosen(AIR, 4.0, 2.5)))
    assert not keys(disagreements(chosen(AIR, 4.5, 4.0)))
    assert "sources-least" in keys(disagreements(chosen(AIR, 8.0, 7.5)))


def test_shops_own_preset_widens_the_band_that_needs_no_reason() -> None:
    """Who sets a preset of its own is not asked why at every job."""
    own = (ShopDefault("wanted_aluminium_air", 0.0011, "1.1 thou/in"),
           ShopDefault("least_aluminium_air", 0.0009, "0.9 thou/in"))  # fmt: skip
    preset = preset_for("aluminium", "air", own)
    choice = ChosenFit(AIR, preset, 3.3 * THOU, preset.least_at(THREE), False, "inch")
    assert not keys(disagreements(choice))
    assert "preset" in keys(disagreements(chosen(AIR, 3.3)))


def test_tools_reason_is_named_as_that_of_its_own_figure() -> None:
    """1.1 thou/in of the shop: named as its own, and the tool's reason as one for 1.3 thou/in."""
    usual = preset_for("aluminium", "air")
    assert reason_said(usual, THREE, system="inch") == usual.reason.said(THREE, system="inch")
    assert "own" not in ratio_said(usual, "inch")
    own = preset_for("aluminium", "air", (ShopDefault("wanted_aluminium_air", 0.0011, "1.1"),))
    said = reason_said(own, THREE, system="inch")
    assert said.startswith("The tool's reason for its own 1.3 thou/in was: The barrel grows")
    assert ratio_said(own, "inch") == "1.1 thou/in wanted (the shop's own), 1 thou/in least"
    least = preset_for("aluminium", "air", (ShopDefault("least_aluminium_air", 0.0012, "1.2"),))
    assert "its own least of 1 µm/mm was" in reason_said(least, THREE, system="metric")
    assert by_diameter(0.00115, "metric") == "1.15 µm/mm"


def test_figures_are_in_the_units_of_the_job() -> None:
    """Tenths of a thou, or whole micrometres."""
    assert figure(3.4 * THOU, system="inch") == "3.4 thou"
    assert figure(86.4e-6, system="metric") == "86 µm"
