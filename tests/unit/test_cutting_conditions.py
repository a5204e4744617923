"""Speed, feed and what the bar gives, beside the plan of a job and as a quick answer."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.core.cutting.cutting_tables import (
    CUT_METALS,
    WORKS,
    bar_metal,
    cut_metal_of,
    cutting_range,
    cutting_ranges,
    force_law,
)
from sleevewright.core.cutting.finish_roughness import mean_roughness, ridge_height
from sleevewright.core.cutting.interrupted import Window, most_open
from sleevewright.core.cutting.taken import depth_taken
from sleevewright.errors import InputError, NotConverged, NotFound, SleevewrightError
from sleevewright.planning.answers import Answer, Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.cut_lines import cut_rows
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.plans import load_job, plan_job
from sleevewright.services.quick import quick, quick_document, quick_lines
from sleevewright.services.speeds_told import old_speeds, parent_speeds, piston_speeds
from told_jobs import Teller

OLD = {
    "old.tool": "carbide", "old.feed_per_turn": "4 thou", "old.asked": "40 thou",
    "old.iron": "grey iron", "old.liner_outside": "2.60 in", "old.key_depth": "30 thou",
    "old.speed": "300",
}  # fmt: skip
PARENT = {
    "parent.tool": "carbide", "parent.feed_per_turn": "3 thou", "parent.pass/1/asked": "20 thou",
    "parent.pass/2/asked": "4 thou", "parent.overhang": "5.0 in",
}  # fmt: skip
EXAMPLE = ("diameter=3.000in", "metal=grey iron", "tool=carbide", "feed=4thou", "nose=0.4mm",
           "depth=10thou", "bar=1in", "overhang=4in", "bar_metal=steel",
           "length=3.5in")  # fmt: skip


@pytest.fixture(scope="module")
def ground(root: Path) -> tuple[CutTold, Plan]:
    """The worked water-cooled job with nothing told of its cuts, and its plan."""
    job = load_job(root / "examples" / "demo-water.toml")
    return CutTold(job, Teller().folded, 1, Shop()), plan_job(job)


def told(base: CutTold, cells: dict[str, str]) -> CutTold:
    """The job with these cells told."""
    teller = Teller()
    for cell, text in cells.items():
        teller.value(cell, text)
    return replace(base, folded=teller.folded)


def said(stage: StageAnswers | None, identity: str) -> Answer:
    """The answer of a stage with this id."""
    assert stage is not None
    return next(one for one in stage.answers if one.id == identity)


def test_nothing_is_answered_where_nothing_was_told(ground: tuple[CutTold, Plan]) -> None:
    """A job without a word on its cuts has no answers on them, and its plan is as it was."""
    base, plan = ground
    assert [part(plan, base) for part in (old_speeds, parent_speeds, piston_speeds)] == [None] * 3


def test_a_tool_alone_gives_its_range(ground: tuple[CutTold, Plan]) -> None:
    """Turns come from speed and target; what rests on feed and ask says so."""
    base, plan = ground
    stage = parent_speeds(plan, told(base, {"parent.tool": "carbide"}))
    bore = plan.answer("bore.target").value
    assert isinstance(bore, float)
    low = said(stage, "cut.turns_low").value
    assert low == pytest.approx(500.0 * 0.3048 / 60.0 / (3.141592653589793 * bore), rel=1e-4)
    assert said(stage, "cut.turns").value == low
    assert said(stage, "cut.feed_speed").needs == ("feed by the turn",)
    assert set(said(stage, "cut.share").needs) == {
        "feed by the turn", "what a pass is asked to take",
    }  # fmt: skip


def test_the_newest_ask_is_the_one_that_counts(ground: tuple[CutTold, Plan]) -> None:
    """Of two passes the second is reckoned; a share of it is taken, and the doubt says so."""
    base, plan = ground
    stage = parent_speeds(plan, told(base, PARENT))
    assert said(stage, "cut.asked").value == pytest.approx(4 * 25.4e-6)
    share = said(stage, "cut.share")
    assert isinstance(share.value, float)
    assert 0.9 < share.value < 1.0
    assert share.doubt is not None
    assert any(one.input == "cut.holder_give" for one in share.doubt.contributors)
    assert "thin-chip" in [one.code for one in said(stage, "cut.force").cautions]


def test_a_bar_that_stands_out_too_far_is_out(ground: tuple[CutTold, Plan]) -> None:
    """Five times its diameter is out for steel and good for carbide."""
    base, plan = ground
    for metal, verdict in (("steel", Verdict.OUT), ("carbide", Verdict.GOOD)):
        cells = PARENT | {"parent.bar_metal": metal, "parent.bar": "1.0 in"}
        ratio = said(parent_speeds(plan, told(base, cells)), "cut.ratio")
        assert ratio.value == pytest.approx(5.0)
        assert ratio.judgement is not None
        assert ratio.judgement.verdict is verdict


def test_a_free_length_that_nobody_told_has_no_verdict(ground: tuple[CutTold, Plan]) -> None:
    """Without bar and free length, or with one of them alone, both are asked for."""
    base, plan = ground
    for cells in (PARENT, {"parent.tool": "carbide"}, {"parent.bar": "1.0 in"}):
        ratio = said(parent_speeds(plan, told(base, cells)), "cut.ratio")
        assert ratio.value is None
        assert ratio.judgement is None
        assert "the bar's diameter and its free length, as set" in ratio.needs


def test_the_iron_ends_where_its_keys_do(ground: tuple[CutTold, Plan]) -> None:
    """From 2.60 in on, force falls and the cut jumps larger; where it is gone stands once."""
    base, plan = ground
    stage = old_speeds(plan, told(base, OLD))
    assert said(stage, "oldcut.breaks_at").value == pytest.approx(2.60 * 0.0254)
    assert stage is not None
    assert not [one for one in stage.answers if one.label.startswith("Last iron gone")]
    ratio, jump = said(stage, "oldcut.force_ratio").value, said(stage, "oldcut.jump").value
    assert isinstance(ratio, float)
    assert isinstance(jump, float)
    assert 0.3 < ratio < 0.9
    assert jump > 0.0
    force, soft = said(stage, "oldcut.force").value, said(stage, "oldcut.soft_force").value
    assert isinstance(force, float)
    assert isinstance(soft, float)
    assert soft / force == pytest.approx(ratio, rel=1e-9)
    words = said(stage, "oldcut.says_break").value
    assert isinstance(words, str)
    assert "bright curls" in words
    assert "iron and aluminium by turns" in words


def test_an_iron_casting_has_no_step_of_metal(ground: tuple[CutTold, Plan]) -> None:
    """Iron behind iron is one metal: nothing is said of breaking through."""
    base, plan = ground
    iron = replace(base.job, casting=replace(base.job.casting, material="grey-iron"))
    stage = old_speeds(plan, told(replace(base, job=iron), OLD))
    assert stage is not None
    assert not [one for one in stage.answers if one.id == "oldcut.jump"]


def test_ports_in_the_way_are_counted(ground: tuple[CutTold, Plan]) -> None:
    """Blows are windows times turns; without ports nothing is said of them."""
    base, plan = ground
    stage = parent_speeds(plan, told(base, PARENT | {"parent.speed": "300"}))
    blows = said(stage, "cut.shocks").value
    assert blows == pytest.approx(said(stage, "cut.window_count").value * 300.0 / 60.0)
    bare = replace(base, job=replace(base.job, ports=()))
    quiet = parent_speeds(plan, told(bare, PARENT))
    assert quiet is not None
    assert not [one for one in quiet.answers if one.id == "cut.says_ports"]


def test_a_port_that_cannot_be_is_told_and_the_rest_stands(ground: tuple[CutTold, Plan]) -> None:
    """A width over the bore is a caution of the stage, not the end of its answers."""
    base, plan = ground
    wide = tuple(
        replace(one, width=replace(one.width, value=0.2)) if one.width else one
        for one in base.job.ports
    )
    stage = parent_speeds(plan, told(replace(base, job=replace(base.job, ports=wide)), PARENT))
    assert stage is not None
    assert [one.code for one in stage.cautions] == ["ports-cannot-be"]
    assert said(stage, "cut.share").value is not None


def test_a_feed_past_the_nose_has_no_roughness(ground: tuple[CutTold, Plan]) -> None:
    """The arc does not hold there; the need says what would."""
    base, plan = ground
    stage = parent_speeds(plan, told(base, PARENT | {"parent.feed_per_turn": "20 thou"}))
    rough = said(stage, "cut.ra")
    assert rough.value is None
    assert "slower feed" in rough.needs[0]
    assert said(stage, "cut.share").value is not None


def test_a_tool_that_does_not_suit_says_which_do(ground: tuple[CutTold, Plan]) -> None:
    """Boron nitride has no range for aluminium: no turns, and the tools that have one."""
    base, plan = ground
    stage = parent_speeds(plan, told(base, PARENT | {"parent.tool": "boron nitride"}))
    assert stage is not None
    assert said(stage, "cut.turns_low").needs == ("a tool for this metal",)
    assert any("diamond" in one for one in stage.advice)


def test_a_speed_outside_its_range_is_told(ground: tuple[CutTold, Plan]) -> None:
    """Far above and far below the range, each in its words; within it nothing."""
    base, plan = ground
    for speed, word in (("3000", "Above"), ("100", "Below")):
        stage = parent_speeds(plan, told(base, PARENT | {"parent.speed": speed}))
        assert str(said(stage, "cut.says_speed").value).startswith(word)
    within = parent_speeds(plan, told(base, PARENT | {"parent.speed": "1000"}))
    assert within is not None
    assert not [one for one in within.answers if one.id == "cut.says_speed"]


def test_noughts_are_as_good_as_not_told(ground: tuple[CutTold, Plan]) -> None:
    """A nose, an ask or a speed of nought ends nothing: the default or a need stands for it."""
    base, plan = ground
    cells = {"parent.tool": "carbide", "parent.nose": "0 thou", "parent.speed": "0",
             "parent.pass/1/asked": "0 thou", "parent.overhang": "0 in"}  # fmt: skip
    stage = parent_speeds(plan, told(base, cells))
    assert said(stage, "cut.nose").value == pytest.approx(4e-4)
    assert said(stage, "cut.asked").needs


def test_every_row_of_a_page_is_an_answer(ground: tuple[CutTold, Plan]) -> None:
    """Names that the page shows are names that the stage of the old sleeve gives."""
    base, plan = ground
    stage = old_speeds(plan, told(base, OLD | {"old.speed": "3000"}))
    assert stage is not None
    assert set(cut_rows("old")) <= {one.id for one in stage.answers}
    assert with_stage(plan, stage).answer("oldcut.share").value is not None


def test_the_answers_are_kept_while_nothing_changes(ground: tuple[CutTold, Plan]) -> None:
    """A second look at the same cut is handed what the first was told."""
    base, plan = ground
    cells = told(base, PARENT | {"parent.bar": "0.913 in"})
    once = parent_speeds(plan, cells)
    assert parent_speeds(plan, cells) is once
    assert parent_speeds(plan, told(base, PARENT | {"parent.bar": "0.914 in"})) is not once


def test_every_metal_has_a_force_and_a_range_and_each_row_its_source(root: Path) -> None:
    """No pair is a single value, and every key of a source is in the list of sources."""
    listed = "".join(one.read_text("utf-8") for one in (root / "docs" / "sources").glob("*.md"))
    for row in cutting_ranges().values():
        assert row.speed_low < row.speed_high
        assert row.source in ("practice", "from-memory") or f"## {row.source}\n" in listed
    for metal in CUT_METALS:
        assert f"## {force_law(metal).source}\n" in listed
        for work in WORKS:
            assert cutting_range("carbide", metal, work).depth_low > 0.0


def test_metals_are_taken_as_a_tool_meets_them() -> None:
    """Names of the project's metals and of the table are read; steel is refused."""
    pairs = {"grey-iron-300": "grey-iron", "aluminium-356": "aluminium", "Hard iron": "hard-iron",
             "unknown-aluminium": "aluminium", "aluminium-390": "aluminium-silicon"}  # fmt: skip
    assert {one: cut_metal_of(one) for one in pairs} == pairs
    with pytest.raises(InputError, match="steel cannot be used"):
        cut_metal_of("steel")
    for ask in (lambda: cut_metal_of("cheese"), lambda: bar_metal("wood"),
                lambda: force_law("steel")):  # fmt: skip
        with pytest.raises(NotFound):
            ask()


def test_bad_figures_are_refused_by_name() -> None:
    """A feed past its nose, a port upside down, ports that leave no wall, a force without end."""
    for measure in (ridge_height, mean_roughness):
        with pytest.raises(InputError, match="feed"):
            measure(feed=9e-4, nose=4e-4, end_angle=0.26)
    with pytest.raises(InputError, match="port"):
        most_open(port_windows=(Window(0.05, 0.04, 0.02),), diameter=0.06)
    with pytest.raises(InputError, match="some wall"):
        most_open(port_windows=(Window(0.04, 0.05, 0.055),) * 3, diameter=0.06)
    with pytest.raises(NotConverged, match="No number is given"):
        depth_taken(depth=1e-4, edge_give=1.0, radial_force=lambda depth: 1e4 * depth**4 / 1e-16)


def test_the_quick_example_answers_every_line() -> None:
    """By hand: 28.3 N x ... the numbers of the example, each by plain arithmetic."""
    document = quick_document(quick("speeds", EXAMPLE))
    bore = 3.0 * 25.4
    assert document["turns_low_rpm"] == pytest.approx(200 * 304.8 / (3.14159265 * bore), rel=1e-6)
    assert document["feed_mmpm"] == pytest.approx(0.1016 * document["turns_rpm"], rel=1e-6)
    assert document["time_s"] == pytest.approx(60 * (88.9 + 6.0) / document["feed_mmpm"], rel=1e-6)
    give = 101.6**3 / (3 * 206000 * 3.14159265 * 25.4**4 / 64)
    assert document["bar_um"] == pytest.approx(1e3 * give * document["push_n"], rel=1e-3)
    assert document["taken_um"] < document["asked_um"] == pytest.approx(508.0)
    assert document["share_1"] == pytest.approx(
        document["taken_um"] / document["asked_um"], rel=1e-5
    )
    assert document["rz_um"] == pytest.approx(101.6**2 / 8 / 400, rel=5e-3)
    assert document["ra_um"] == pytest.approx(101.6**2 / 31.177 / 400, rel=6e-3)
    assert document["torque_nm"] == pytest.approx(
        document["force_n"] * (bore - document["taken_um"] / 2e3) / 2e3, rel=1e-5
    )
    assert not document["is_out"]
    text = "\n".join(quick_lines(quick("speeds", EXAMPLE)))
    assert "rpm" in text
    assert "in/min" in text
    assert "A range to start from" in text
    assert "µin" in text
    assert "Strings of aluminium" not in text


def test_a_bar_that_gives_way_is_reckoned_at_the_depth_it_takes() -> None:
    """Asked 5 mm an 8 mm bar of 200 mm gives no 9.6 mm: ask less what it gives is what is taken."""
    told = ("depth=5mm", "bar=8mm", "overhang=200mm", "feed=0.1mm", "diameter=76.2mm")
    words = (*told, "metal=aluminium-356", "tool=carbide", "nose=0.4mm", "bar_metal=steel")
    document = quick_document(quick("speeds", words))
    assert document["bar_um"] < 0.5 * (document["asked_um"] - document["taken_um"]) + 1.0
    text = "\n".join(quick_lines(quick("speeds", words)))
    assert "more than a tenth of what it is asked" in text
    assert "Strings of aluminium" in text


@pytest.mark.parametrize(
    ("change", "told_back"),
    [
        ("feed=20thou", "with this nose"),
        ("bar=4in", "less than the bore"),
        ("depth=1.5in", "depth: 1.5in cannot be used"),
        ("depth=0.39in", "half of what it adds"),
        ("tool=chisel", "no tool named"),
        ("metal=steel", "iron or aluminium"),
        ("turns=90000rpm", "60 000 rpm"),
        ("work=milling", "boring or facing"),
        ("bar_metal=wood", "no metal of a bar"),
    ],
)
def test_a_quick_question_is_refused_in_words(change: str, told_back: str) -> None:
    """Each refusal names the input, the value and what is allowed."""
    name = change.partition("=")[0]
    diameter = ("diameter=1.5in",) if change == "depth=0.39in" else ()
    kept = [
        one
        for one in EXAMPLE
        if one.partition("=")[0] not in {name, *(("diameter",) if diameter else ())}
    ]
    with pytest.raises(SleevewrightError, match=told_back.replace("(", r"\(")):
        quick("speeds", (*kept, *diameter, change))


def test_facing_is_answered_without_a_bar() -> None:
    """Speeds and roughness of a face, from the rows of facing; nothing on the bar."""
    answer = quick("speeds", (*EXAMPLE, "work=facing"))
    keys = [line.key for line in answer.lines]
    assert "turns_low_rpm" in keys
    assert "ra_um" in keys
    assert "share_1" not in keys
    assert "facing" in answer.cautions[0].text
    assert "deep, axial" in answer.cautions[0].text
    assert "radial" not in answer.cautions[0].text


def test_a_long_thin_bar_is_out_with_what_to_do() -> None:
    """Eight times its diameter of steel is out; the remedy is a shorter or thicker bar."""
    answer = quick("speeds", (*EXAMPLE[:6], "bar=0.5in", *EXAMPLE[7:]))
    assert answer.is_out
    assert "shorter or thicker" in answer.remedies[0]
