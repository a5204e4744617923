"""Targets of a job: what is mixed, what is refused, what a pair gets, what papers say."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

import pytest

from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.port_target import PortTarget
from sleevewright.planning.port_target_said import MATCHED
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.plans import plan_job
from sleevewright.services.port_maps import target_of
from sleevewright.services.signs_told import signs_part
from sleevewright.services.target_told import (
    matched_words,
    target_part,
    target_title,
    targets_of,
)
from told_jobs import Teller

ENGINE = {
    "engine.bore": "66.40 mm",
    "engine.stroke": "72.0 mm",
    "engine.rod": "125 mm",
    "engine.deck": "0.00 mm",
}
PORTS = {
    "exhaust": ("37.50", "72.00", "42.00", "0"),
    "rear left": ("56.00", "71.60", "18.00", "-112"),
    "rear right": ("56.00", "71.60", "18.00", "112"),
}


def cells_of(ports: Mapping[str, tuple[str, ...]] = PORTS) -> dict[str, str]:
    """The cells of a map as found."""
    cells = dict(ENGINE)
    for name, (roof, floor, width, angle) in ports.items():
        cells |= {
            f"port/{name}/found.roof": f"{roof} mm",
            f"port/{name}/found.floor": f"{floor} mm",
            f"port/{name}/found.width": f"{width} mm",
            f"port/{name}/found.radius": "6 mm",
            f"port/{name}/found.angle": f"{angle} deg",
        }
    return cells


def told(more: Mapping[str, str], **opened: object) -> tuple[Plan, CutTold]:
    """The plan of such a job and what its parts may read; ``@2`` after a cell is cylinder 2."""
    teller = Teller(units="metric", **opened)  # type: ignore[arg-type] # passed on
    for cell, text in {**cells_of(), **more}.items():
        name, _, cylinder = cell.partition("@")
        teller.value(name, text, cylinder=int(cylinder or 1))
    job = living_job(teller.folded, 1).job
    return plan_job(job), CutTold(job, teller.folded, 1, Shop())


def target(more: Mapping[str, str], port: str = "rear left", **opened: object) -> PortTarget:
    """The target of one port."""
    found = targets_of(*told(more, **opened))
    assert found is not None
    return next(one for one in found.ports if one.name == port)


STOCK_PAIR = {"port/rear left/target": "stock", "port/rear right/target": "stock"}
TOUCHED_LEFT = {
    **STOCK_PAIR,
    "port/rear left/found.roof": "55.30 mm",
    "port/rear left/touched": "yes",
    "port/rear right/touched": "no",
}


def test_untold_choice_is_as_found_and_says_so() -> None:
    """Without a choice each port stays as found, and papers say the one sentence."""
    plan, records = told({})
    made = target_of(plan, records)
    assert made is not None
    assert made.ports[0].roof == pytest.approx(37.50e-3, abs=1e-9)
    assert matched_words(plan, records) == MATCHED
    assert target_title(plan, records) == "as found, the target"


def test_papers_of_a_job_matched_to_itself_have_no_word_for_more() -> None:
    """Beside the sentence itself no answer speaks of stock, factory, standard or original."""
    plan, records = told({"choice.manual_transfer": "116 deg"})
    said = target_part(plan, records)
    assert said is not None
    texts = [one.label + one.of + str(one.value) for one in said.answers]
    texts += [*said.advice, target_title(plan, records)]
    shown = " ".join(texts).replace(MATCHED, "")
    assert not re.search(r"\b(stock|factory|standard|original)\b", shown, re.IGNORECASE)


def test_sources_that_agree_are_mixed_for_the_pair() -> None:
    """Mirror and manual agree: one roof for both, between them, worth more than either."""
    more = {**TOUCHED_LEFT, "choice.manual_transfer": "116 deg"}
    left, right = target(more), target(more, "rear right")
    assert left.edges["roof"].place == right.edges["roof"].place
    assert 56.00e-3 < left.edges["roof"].place < 56.042e-3
    assert left.edges["roof"].standard < min(worth for _, _, worth in left.edges["roof"].taken)
    assert left.port.doubt.roof == left.edges["roof"].standard
    assert left.is_decided


def test_one_reading_is_not_counted_twice() -> None:
    """The untouched side and its mirror image are one source: alone, no doubt is lessened."""
    left = target(TOUCHED_LEFT)
    assert len(left.edges["roof"].taken) == 1
    assert left.edges["roof"].standard == pytest.approx(
        2**0.5 * target({}, "rear right").edges["roof"].standard, rel=1e-9
    )


def test_sources_that_disagree_are_not_averaged() -> None:
    """A manual of 112 degrees is 2 mm off the mirror: both are shown, the deeper roof is drawn."""
    more = {**TOUCHED_LEFT, "choice.manual_transfer": "112 deg"}
    left = target(more)
    roof = left.edges["roof"]
    assert not roof.is_decided
    assert not left.is_decided
    assert roof.place == max(place for _, place, _ in roof.taken)
    said = target_part(*told(more))
    assert said is not None
    text = next(one.text for one in said.cautions if one.code == "target.rear-left.roof")
    assert "no mean is taken" in text
    assert "manual 54.0" in text
    assert "mirror port 56.000" in text
    assert "roof not decided" in matched_words(*told(more)).lower()


def test_person_picks_one_of_them() -> None:
    """With a source picked, that one alone is taken, and its reason stands beside it."""
    more = {
        **TOUCHED_LEFT,
        "choice.manual_transfer": "112 deg",
        "port/rear left/target_from": "mirror port",
        "port/rear left/target_reason": "the manual is of another year",
        "port/rear right/target_from": "as found",
    }
    left = target(more)
    assert left.edges["roof"].place == pytest.approx(56.00e-3, abs=1e-9)
    assert left.wish.reason == "the manual is of another year"
    assert left.is_decided


def test_two_kinds_of_source_for_a_pair_that_disagree_are_refused() -> None:
    """The left from the manual, the right from itself, 2 mm apart: both say so."""
    more = {
        **TOUCHED_LEFT,
        "choice.manual_transfer": "112 deg",
        "port/rear left/target_from": "manual",
    }
    for name in ("rear left", "rear right"):
        found = target(more, name)
        assert not found.is_decided
    problems = target(more).problems + target(more, "rear right").problems
    assert any("one kind of source for the pair" in one for one in problems)


def test_mirror_is_taken_only_of_an_untouched_side() -> None:
    """Where nobody says that the right was never touched, it is no source for the left."""
    more = {**TOUCHED_LEFT}
    del more["port/rear right/touched"]
    left = target(more)
    assert left.edges["roof"].kinds == ("as found",)
    assert any("no source of its roof" in one for one in left.needs)


def test_mirror_goes_about_the_exhaust_of_the_casting() -> None:
    """A casting whose exhaust lies at 2 degrees mirrors 112 to -108, not to -112."""
    cast = {
        "port/exhaust/cast.roof": "37 mm",
        "port/exhaust/cast.floor": "73 mm",
        "port/exhaust/cast.width": "44 mm",
        "port/exhaust/cast.angle": "2 deg",
        "ports.cast.on": "66.40 mm",
    }
    left = target({**TOUCHED_LEFT, **cast})
    assert left.port.middle == pytest.approx(math.radians(-108.0), abs=1e-6)


def test_casting_gives_sides_and_never_a_roof() -> None:
    """The window of the casting is a source of both sides alone."""
    cast = {
        "port/rear left/cast.roof": "50 mm",
        "port/rear left/cast.floor": "75 mm",
        "port/rear left/cast.width": "20 mm",
        "port/rear left/cast.angle": "-112 deg",
        "ports.cast.on": "66.40 mm",
        "port/rear left/target": "stock",
        "port/rear left/target_from": "casting window",
    }
    left = target(cast)
    assert left.edges["left"].kinds == ("casting window",)
    assert left.edges["roof"].kinds == ("as found",)


def test_another_cylinder_is_referred_to_the_crown() -> None:
    """Its deck lies 0.25 mm higher over the crown: its roofs come 0.25 mm less deep here."""
    second = {f"{cell}@2": text for cell, text in cells_of().items() if cell.startswith("port/")}
    more = {
        **second,
        "engine.deck@2": "0.25 mm",
        "engine.bore@2": "66.40 mm",
        "port/rear left/target": "stock",
        "port/rear left/target_from": "another cylinder",
    }
    left = target(more, cylinders=2)
    assert left.edges["roof"].kinds == ("another cylinder",)
    assert left.edges["roof"].place == pytest.approx(55.75e-3, abs=1e-9)


def test_lopsided_other_cylinder_is_no_source() -> None:
    """A cylinder whose own left and right roofs differ may be ported too."""
    second = {f"{cell}@2": text for cell, text in cells_of().items() if cell.startswith("port/")}
    more = {
        **second,
        "engine.deck@2": "0 mm",
        "engine.bore@2": "66.40 mm",
        "port/rear right/found.roof@2": "55.20 mm",
        "port/rear left/target": "stock",
        "port/rear left/target_from": "another cylinder",
    }
    left = target(more, cylinders=2)
    assert any("is at hand" in one for one in left.needs)


def test_width_is_held_to_what_the_rings_allow() -> None:
    """A stock exhaust is never made wider than 70 % of the bore, whatever was found."""
    more = {
        "port/exhaust/target": "stock",
        "port/exhaust/touched": "no",
        "port/exhaust/found.width": "50 mm",
    }
    found = target(more, "exhaust")
    chord = 66.40e-3 * math.sin(found.port.span / 2.0)
    assert chord == pytest.approx(0.70 * 66.40e-3, rel=1e-6)
    assert any("wider than the rings allow" in one for one in found.problems)


def test_two_values_of_a_choice_are_said() -> None:
    """Where two devices told two wishes, the port is not decided on either."""
    teller = Teller(units="metric")
    for cell, text in {**cells_of(), "port/rear left/target": "stock"}.items():
        teller.value(cell, text)
    teller.value("port/rear left/target", "as found")
    job = living_job(teller.folded, 1).job
    found = targets_of(plan_job(job), CutTold(job, teller.folded, 1, Shop()))
    assert found is not None
    left = next(one for one in found.ports if one.name == "rear left")
    assert any("two values stand" in one for one in left.needs)


def signs(more: Mapping[str, str]) -> StageAnswers:
    """The signs of such a job."""
    found = signs_part(*told(more))
    assert found is not None
    return found


def test_signs_of_hand_work_carry_their_figures() -> None:
    """A roof 0.7 mm over its twin, 1.5 degrees before the manual, is a sign with both figures."""
    more = {**TOUCHED_LEFT, "choice.manual_transfer": "116 deg",
            "port/rear left/bright": "roof, right half"}  # fmt: skip
    found = {one.id: one.value for one in signs(more).answers}
    assert found["signs.ports"] == "rear left"
    assert found["signs.rear-left.twin"] == pytest.approx(-0.70e-3, abs=1e-9)
    assert found["signs.rear-left.manual"] == pytest.approx(-0.0261, abs=2e-4)
    assert found["signs.rear-left.bright"] == "roof, right half"


def test_manual_that_counts_at_a_lift_is_held_against_its_first_light() -> None:
    """116 degrees at 1 mm of lift is a roof of 55.04 mm, which opens 2 degrees sooner: a sign."""
    lift = {"choice.manual_at": "at a set lift", "choice.manual_lift": "1 mm"}
    found = {one.id: one.value for one in signs({"choice.manual_transfer": "116 deg"}).answers}
    assert "signs.rear-left.manual" not in found
    found = {
        one.id: one.value for one in signs({"choice.manual_transfer": "116 deg", **lift}).answers
    }
    assert math.degrees(float(found["signs.rear-left.manual"])) == pytest.approx(2.0, abs=0.2)


def test_untouched_cylinder_shows_no_sign() -> None:
    """A map in order has none, and says that the edges are to be looked at all the same."""
    found = {one.id: one.value for one in signs({"choice.manual_transfer": "116 deg"}).answers}
    assert str(found["signs.ports"]).startswith("none by the figures")


def test_window_beyond_the_casting_is_a_sign() -> None:
    """An old window 2 mm wider a side than the casting's behind it was opened in the sleeve."""
    cast = {
        "port/rear left/cast.roof": "55 mm",
        "port/rear left/cast.floor": "73 mm",
        "port/rear left/cast.width": "14 mm",
        "port/rear left/cast.angle": "-112 deg",
        "ports.cast.on": "66.40 mm",
    }
    found = {one.id: one.value for one in signs(cast).answers}
    assert found["signs.rear-left.beyond"] == pytest.approx(2.0e-3, abs=0.1e-3)


def test_drawn_roof_that_falls_is_a_sign() -> None:
    """An outline whose roof falls 0.8 mm to the right is not parallel to the deck."""
    outline = "-20.00 30.00, 20.00 30.80, 20.00 50.00, -20.00 50.00"
    found = {one.id: one.value for one in signs({"port/boost/found.outline": outline}).answers}
    assert found["signs.boost.fall"] == pytest.approx(0.8e-3, rel=1e-3)


def test_half_typed_target_counts_for_its_edges() -> None:
    """A roof that was typed at Choice is the target's roof; the rest stays as found."""
    left = target({"port/rear left/target.roof": "55.50 mm"})
    assert left.edges["roof"].place == pytest.approx(55.50e-3, abs=1e-9)
    assert left.edges["floor"].kinds == ("as found",)
    assert "size that was typed" in matched_words(*told({"port/rear left/target.roof": "55.50 mm"}))
