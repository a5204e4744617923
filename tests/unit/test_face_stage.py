"""Face beside the plan: told and asked cuts, what is missing, verdicts, maps and gaskets."""

import math
from collections.abc import Mapping
from typing import Any

import pytest

from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.jobs.living import living_job
from sleevewright.jobs.model import Entry, Grid
from sleevewright.planning.answers import (
    Answer,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)
from sleevewright.planning.beside import with_stage
from sleevewright.planning.gauges import readings_of
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import with_cuts
from sleevewright.services.face_told import face_part, thicknesses
from sleevewright.services.plans import plan_job
from told_jobs import Teller

THOU = 25.4e-6
ENGINE = {
    "engine.bore": "2.756 in",
    "engine.stroke": "2.700 in",
    "engine.rod": "5.500 in",
    "engine.deck": "0 in",
}
PORTS = {
    "port/exhaust/name": "exhaust",
    "port/exhaust/found.roof": "1.450 in",
    "port/transfer/name": "transfer",
    "port/transfer/found.roof": "1.920 in",
}
WHOLE = {**ENGINE, **PORTS, "found.volume": "22 cc", "found.squish": "50 thou",
         "found.head_gasket": "30 thou", "found.gasket": "20 thou"}  # fmt: skip


def told(cells: Mapping[str, str], **opened: Any) -> tuple[Plan, CutTold]:
    """The plan of a job in which these cells were told, and what the parts may read."""
    teller = Teller(**opened)
    for cell, text in cells.items():
        teller.value(cell, text)
    job = living_job(teller.folded, 1).job
    return plan_job(job), CutTold(job, teller.folded, 1, Shop())


def stage(
    cells: Mapping[str, str], *, stand_out: tuple[float, ...] = (), **opened: Any
) -> StageAnswers:
    """The answers of Face; ``stand_out`` is what was read in thou after the cooling."""
    plan, records = told(cells, **opened)
    if stand_out:
        grid = Grid("stand-out", readings=(tuple(Entry(one * THOU, "") for one in stand_out),))
        read = Answer("cool.stand_out_read", "", readings_of(grid), Quantity.RECORD, Kind.MEASURED)
        stages = (StageAnswers("cool", "Cool", (read,), (), (), (), is_beside=True),)
        plan = with_stage(plan, stages[0])
    found = face_part(plan, records)
    assert found is not None
    return found


def said(found: StageAnswers, identity: str) -> Any:
    """The answer of this id."""
    return next(one for one in found.answers if one.id == identity)


def value(found: StageAnswers, identity: str) -> float:
    """The value of this id."""
    return float(said(found, identity).value)


def test_nothing_is_said_where_nothing_was_told() -> None:
    """A job that never came to its squish or its deck has no answers here."""
    assert face_part(*told(ENGINE)) is None


def test_ten_thou_off_the_deck_of_a_told_job() -> None:
    """0.98 cc and 0.6 of compression, 10 thou of squish, no timing, a datum that moved."""
    found = stage({**WHOLE, "face.cut": "10 thou"})
    assert value(found, "face.volume_change") * 1e6 == pytest.approx(-0.98, abs=0.005)
    assert value(found, "face.ratio_before") == pytest.approx(13.0, abs=0.05)
    assert value(found, "face.ratio_after") == pytest.approx(13.6, abs=0.05)
    assert value(found, "face.squish_after") == pytest.approx(40 * THOU, abs=1e-9)
    assert value(found, "face.datum") == pytest.approx(10 * THOU, abs=1e-12)
    for port in ("exhaust", "transfer"):
        assert value(found, f"face.port.{port}.change") == pytest.approx(0.0, abs=1e-12)
        assert said(found, f"face.port.{port}.change").doubt is None
    assert any("leaves the timing" in text for text in found.advice)


def test_ten_thou_off_the_base_moves_every_port() -> None:
    """Exhaust 0.84 and transfer 0.97 degrees shorter, by the same cut of the squish."""
    found = stage({**WHOLE, "face.base_cut": "10 thou"})
    for port, roof in (("exhaust", 1.450), ("transfer", 1.920)):
        lasts = [
            port_duration(
                port_opens(roof_depth=roof * 0.0254, deck_clearance=deck,
                           stroke=2.7 * 0.0254, rod=5.5 * 0.0254)
            )
            for deck in (0.0, -10 * THOU)
        ]  # fmt: skip
        change = value(found, f"face.port.{port}.change")
        assert change == pytest.approx(lasts[1] - lasts[0], abs=1e-9)
        assert math.degrees(change) < -0.8
        assert said(found, f"face.port.{port}.change").doubt.standard > 0.0
    assert value(found, "face.squish_after") == pytest.approx(40 * THOU, abs=1e-9)
    assert value(found, "face.datum") == 0.0


def test_a_base_gasket_of_the_same_thickness_undoes_the_base_cut() -> None:
    """10 thou off the base and 10 thou more gasket leave squish and timing as they were."""
    found = stage({**WHOLE, "face.base_cut": "10 thou", "face.base_gasket": "30 thou"})
    assert value(found, "face.squish_change") == pytest.approx(0.0, abs=1e-12)
    assert value(found, "face.port.exhaust.change") == pytest.approx(0.0, abs=1e-9)
    assert value(found, "face.volume_change") == pytest.approx(0.0, abs=1e-15)


def test_a_question_is_answered_until_a_cut_is_told() -> None:
    """What if 10 thou; then 6 thou were cut, and the question is no longer answered."""
    asked = stage({**WHOLE, "face.asked": "10 thou"})
    assert value(asked, "face.squish_after") == pytest.approx(40 * THOU, abs=1e-9)
    assert any("Nothing is cut yet" in text for text in asked.advice)
    cut = stage({**WHOLE, "face.asked": "10 thou", "face.cut": "6 thou"})
    assert value(cut, "face.squish_after") == pytest.approx(44 * THOU, abs=1e-9)
    assert not any("Nothing is cut yet" in text for text in cut.advice)
    left = stage({**WHOLE, "face.asked": "10 thou", "face.done": "left as it is"})
    assert value(left, "face.squish_after") == pytest.approx(50 * THOU, abs=1e-9)


def test_a_cut_alone_says_what_it_can_and_asks_for_the_rest() -> None:
    """Of a cut and nothing else: the change of the squish, and what is missing for the rest."""
    found = stage({"face.cut": "10 thou"})
    assert value(found, "face.squish_change") == pytest.approx(-10 * THOU, abs=1e-12)
    assert said(found, "face.squish_after").value is None
    assert "thickness of the head gasket, pressed" in said(found, "face.squish_after").needs
    assert "the engine's bore" in said(found, "face.ratio_after").needs
    bore = stage({"face.cut": "10 thou", "engine.bore": "2.756 in"})
    assert value(bore, "face.cut_volume") * 1e6 == pytest.approx(0.978, abs=0.001)
    assert any("taken as level" in text for text in bore.advice)


@pytest.mark.parametrize(
    ("cooling", "squish", "verdict"),
    [
        ("air", "1.20 mm", Verdict.GOOD),
        ("air", "0.90 mm", Verdict.OUT),
        ("water", "0.90 mm", Verdict.GOOD),
        ("water", "0.82 mm", Verdict.TOO_CLOSE),
        ("air", "1.80 mm", Verdict.OUT),
    ],
)
def test_squish_is_judged_by_cooling_on_both_sides(
    cooling: str, squish: str, verdict: Verdict
) -> None:
    """1.0 mm with air, 0.8 mm with water at least; at most 1.5 mm (common practice)."""
    cells = {**ENGINE, "found.squish": squish, "found.squish_other": squish,
             "face.done": "left as it is"}  # fmt: skip
    found = stage(cells, units="metric", cooling=cooling)
    assert said(found, "face.squish_after").judgement.verdict is verdict


def test_a_long_rod_asks_for_more_than_the_usual_least() -> None:
    """What rod, crown and play take is the floor below every setting."""
    found = stage({**WHOLE, "engine.rod": "600 mm"})
    loss = 0.6 * value(found, "face.rod_expansion") * 80.0
    loss += 0.03 * value(found, "face.crown_expansion") * 180.0 + 0.2e-3
    assert value(found, "face.squish_loss") == pytest.approx(loss, rel=1e-9)
    assert value(found, "face.squish_least") == pytest.approx(max(1e-3, loss), rel=1e-9)


def test_a_piston_that_would_meet_the_head_is_refused_in_words() -> None:
    """No squish, no verdict: the reason stands in the units of the job."""
    found = stage({**WHOLE, "face.cut": "60 thou"})
    assert said(found, "face.squish_after").value is None
    (text,) = [one.text for one in found.cautions if one.code.startswith("face.refused:face.sq")]
    assert "−0.0100 in" in text
    assert "meet the head" in text


def test_a_volume_that_is_none_is_refused_in_words() -> None:
    """More above the piston than it sweeps: no ratio, and the reason."""
    found = stage({**WHOLE, "found.volume": "300 cc", "face.cut": "10 thou"})
    assert said(found, "face.ratio_after").value is None
    assert any("less than the swept volume, 264 cc" in one.text for one in found.cautions)


def test_a_roof_below_bottom_dead_centre_is_refused_in_words() -> None:
    """A base cut that takes a roof below the piston: no timing of it, the others have theirs."""
    found = stage({**WHOLE, "port/transfer/found.roof": "2.695 in", "face.base_cut": "10 thou"})
    assert said(found, "face.port.transfer.change").value is None
    assert said(found, "face.port.exhaust.change").value is not None
    assert any("floor entered for the roof" in one.text for one in found.cautions)


def test_burette_and_parts_are_compared() -> None:
    """18 cc of head, 30 thou of gasket and a level piston are 20.9 cc; 22 cc do not agree."""
    parts = {**WHOLE, "found.chamber": "18 cc"}
    found = stage(parts)
    disc = math.pi / 4.0 * (2.756 * 2.54) ** 2 * 0.030 * 2.54
    assert value(found, "face.volume_sum") * 1e6 == pytest.approx(18.0 + disc, abs=1e-6)
    assert any(one.code.startswith("face.unlike") for one in found.cautions)
    alike = stage({**parts, "found.volume": f"{18.0 + disc:.1f} cc"})
    assert not any(one.code.startswith("face.unlike") for one in alike.cautions)


def test_a_dome_by_its_height_or_by_its_volume() -> None:
    """A measured volume goes before a height; either takes from what is above the piston."""
    base = {**ENGINE, "found.chamber": "22 cc", "found.head_gasket": "30 thou"}
    flat = value(stage(base), "face.volume_sum")
    high = stage({**base, "found.crown_rise": "0.10 in"})
    told_too = stage({**base, "found.crown_rise": "0.10 in", "found.crown": "2.0 cc"})
    dish = stage({**base, "found.dish": "1.5 cc"})
    assert (value(dish, "face.volume_sum") - flat) * 1e6 == pytest.approx(1.5, rel=1e-9)
    rise, half = 0.254, 2.756 * 2.54 / 2.0
    cap = math.pi / 6.0 * rise * (3.0 * half**2 + rise**2)
    assert (flat - value(high, "face.volume_sum")) * 1e6 == pytest.approx(cap, rel=1e-6)
    assert (flat - value(told_too, "face.volume_sum")) * 1e6 == pytest.approx(2.0, rel=1e-9)


def test_solder_through_the_plug_hole_is_told_and_doubted_more() -> None:
    """One reading through the hole: a caution, and five thou instead of two."""
    plain = stage(WHOLE)
    cocked = stage({**WHOLE, "found.solder": "through the plug hole"})
    assert any("cocks the piston" in one.text for one in cocked.cautions)
    widths = [said(one, "face.squish_before").doubt.standard for one in (plain, cocked)]
    assert widths[1] / widths[0] == pytest.approx(2.5, rel=0.05)
    both = stage({**WHOLE, "found.squish_other": "56 thou"})
    assert value(both, "face.squish_before") == pytest.approx(53 * THOU, abs=1e-9)
    assert any("both ends" in text for text in both.advice)


def test_solder_after_the_cut_is_set_beside_the_sum() -> None:
    """41 thou where 40 were worked out: one more, and the verdict is on what was read."""
    found = stage({**WHOLE, "face.cut": "10 thou", "face.squish": "41 thou"})
    assert value(found, "face.squish_unlike") == pytest.approx(THOU, abs=1e-9)
    assert said(found, "face.squish_read").judgement is not None


@pytest.mark.parametrize(
    ("kind", "stand_out", "verdict"),
    [
        ("steel layers", "3 thou", Verdict.OUT),
        ("fibre", "1.5 thou", Verdict.GOOD),
        ("copper", "-1 thou", Verdict.OUT),
        ("O-ring", "1 thou", Verdict.TOO_CLOSE),
    ],
)
def test_stand_out_is_judged_by_the_kind_of_gasket(
    kind: str, stand_out: str, verdict: Verdict
) -> None:
    """Each kind has its own range (common practice)."""
    found = stage({"face.gasket_kind": kind, "face.stand_out": stand_out})
    assert said(found, "face.stand_out").judgement.verdict is verdict
    assert value(found, "face.stand_out_low") < value(found, "face.stand_out_high")


def test_flatness_and_roughness_are_judged() -> None:
    """0.03 mm is good and 0.08 out of 0.05; 8 um are good for fibre, out for steel layers."""
    good, out = (
        stage({"face.flat": flat, "face.gasket_kind": kind, "face.roughness": "8 um"},
              units="metric")
        for flat, kind in (("0.03 mm", "fibre"), ("0.08 mm", "steel layers"))
    )  # fmt: skip
    for found, verdict in ((good, Verdict.GOOD), (out, Verdict.OUT)):
        assert said(found, "face.flat").judgement.verdict is verdict
        assert said(found, "face.roughness").judgement.verdict is verdict
    assert value(good, "face.flat_cut") == 0.0
    assert value(out, "face.flat_cut") == pytest.approx(0.08e-3, abs=1e-12)


def test_maps_are_told_apart_by_when_they_were_read() -> None:
    """As found counts from the old deck; as left from the new one if it came after the cut."""
    cells = {**WHOLE, "face.cut": "10 thou", "port/exhaust/left.roof": "1.44 in"}
    assert said(stage(cells), "face.maps").value == (
        "from the old deck: as found; from the new deck: as left"
    )
    early = {**WHOLE, "port/exhaust/left.roof": "1.45 in", "face.cut": "10 thou"}
    assert said(stage(early), "face.maps").value == "from the old deck: as found, as left"


def test_a_thicker_head_gasket_leaves_piston_and_deck() -> None:
    """It moves squish and volume alone: the piston stays where it is to the deck."""
    found = stage({**WHOLE, "face.head_gasket": "40 thou"})
    assert value(found, "face.squish_change") == pytest.approx(10 * THOU, abs=1e-9)
    assert value(found, "face.deck_change") == 0.0
    assert value(found, "face.port.exhaust.change") == pytest.approx(0.0, abs=1e-12)
    assert value(found, "face.volume_change") * 1e6 == pytest.approx(0.978, abs=0.001)


def test_a_ready_ported_sleeve_that_sits_deep_opens_later() -> None:
    """10 thou below its plan: as 10 thou off the base for its ports, and no squish is lost."""
    base = stage({**WHOLE, "face.base_cut": "10 thou"})
    cells = {**WHOLE, "face.done": "left as it is", "sleeve.ports": "ready",
             "fit.stand_out": "2 thou"}  # fmt: skip
    deep = stage(cells, stand_out=(-8.0, -7.0, -8.0, -9.0))
    assert value(deep, "face.port.exhaust.change") == pytest.approx(
        value(base, "face.port.exhaust.change"), abs=1e-9
    )
    assert value(deep, "face.squish_change") == 0.0
    proud = stage(cells, stand_out=(4.0, 4.0))
    assert value(proud, "face.port.exhaust.change") > 0.0
    bare = stage({**cells, "sleeve.ports": "none"}, stand_out=(-8.0, -8.0))
    assert value(bare, "face.port.exhaust.change") == pytest.approx(0.0, abs=1e-12)


def test_a_piston_measured_after_the_cut_is_told_of() -> None:
    """The stage takes it as it stood before, and says so."""
    late = {key: text for key, text in WHOLE.items() if key != "engine.deck"}
    found = stage({**late, "face.cut": "10 thou", "engine.deck": "-10 thou"})
    assert any("told after the cut" in text for text in found.advice)
    assert not any("told after the cut" in text for text in stage(WHOLE).advice)


def test_gaskets_put_a_base_cut_right() -> None:
    """10 thou off the base: the base gasket that is 10 thou thicker restores it."""
    lists = {"face.base_gaskets": "10, 20, 30 thou", "face.head_gaskets": "20; 30; 40 thou"}
    found = stage({**WHOLE, "face.base_cut": "10 thou", **lists})
    assert value(found, "face.gasket_base") == pytest.approx(30 * THOU, abs=1e-9)
    assert value(found, "face.gasket_head") == pytest.approx(30 * THOU, abs=1e-9)
    thin = stage({**WHOLE, "face.cut": "30 thou", "face.head_gaskets": "10, 20 thou"})
    assert not any(one.id == "face.gasket_base" for one in thin.answers)
    assert value(thin, "face.to_correct") < 0.0
    assert any("fit a shim" in text for text in thin.advice)


def test_a_list_that_cannot_be_read_is_told_of() -> None:
    """The list is left out, the rest is answered."""
    found = stage({**WHOLE, "face.cut": "10 thou", "face.head_gaskets": "thick, thin"})
    assert any("Head gaskets at hand" in one.text for one in found.cautions)
    assert value(found, "face.squish_after") == pytest.approx(40 * THOU, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "unit", "sizes"),
    [
        ("0.3, 0.5, 0.8 mm", "in", (0.3e-3, 0.5e-3, 0.8e-3)),
        ("0,3; 0,5; 0,8", "mm", (0.3e-3, 0.5e-3, 0.8e-3)),
        ("20, 30 thou", "in", (20 * THOU, 30 * THOU)),
        ("0.5 mm", "in", (0.5e-3,)),
        ("0.8 mm, 0.5 mm and 0.5 mm", "in", (0.5e-3, 0.8e-3)),
        ("0.020, 0.030", "in", (20 * THOU, 30 * THOU)),
    ],
)
def test_lists_of_gaskets_as_they_are_written(
    text: str, unit: str, sizes: tuple[float, ...]
) -> None:
    """Commas with a space, semicolons, decimal commas; one unit at the end for all."""
    assert thicknesses(text, field="gaskets", unit=unit) == pytest.approx(sizes, abs=1e-9)


@pytest.mark.parametrize("text", ["30 mm", "-0.5 mm", "0.3, x mm", ";"])
def test_lists_that_are_none(text: str) -> None:
    """A wrong unit, a minus, a word, nothing: refused with the name of the list."""
    with pytest.raises(Exception, match="gaskets"):
        thicknesses(text, field="gaskets", unit="mm")


def test_the_plan_takes_the_stage_and_keeps_its_own() -> None:
    """Put with the plan, its answers are found; the plan's timing stays what it was."""
    plan, records = told({**WHOLE, "face.base_cut": "10 thou"})
    wider = with_cuts(plan, records)
    assert wider.answer("face.squish_after").value is not None
    assert wider.answer("engine.deck") == plan.answer("engine.deck")
    assert wider.answer("ports.exhaust.duration") == plan.answer("ports.exhaust.duration")
