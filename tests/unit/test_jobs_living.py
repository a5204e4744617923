"""A cylinder out of the records of its job, and a job file's job as records."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.living import drafts_of_job, living_job
from sleevewright.jobs.model import Grid, Job
from sleevewright.jobs.records import JOB, Record
from told_jobs import GAUGE, MIC, Teller

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
ROWS = [["+0.8", "+0.7"], ["+0.9", "-"]]
SHAPE: dict[str, Any] = {"nominal": "2.6360 in", "unit": "thou", "stations": ["0.4 in", "1.3 in"],
                         "directions": ["0 deg", "90 deg"]}  # fmt: skip


def folded_from(job: Job) -> Folded:
    """A job's records, opened as an import opens them."""
    opening = {"title": job.title, "units": job.units, "engine_kind": job.engine.kind,
               "cooling": job.engine.cooling, "invented": job.invented, "cylinders": 1}  # fmt: skip
    told = [(JOB, opening), *drafts_of_job(job)]
    return Folded(
        Record(job.number, number, f"{number:032x}", "bench", number, "2026-11-24T09:00:00.000Z",
               kind, 1, body)
        for number, (kind, body) in enumerate(told, start=1)
    )  # fmt: skip


def grid_of(job: Job, feature: str) -> Grid:
    """The grid of a feature, which is there."""
    found = job.grid(feature)
    assert found is not None
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_job_file_goes_through_the_records_unchanged(path: Path) -> None:
    """Every entry, kind, doubt and text of the examples comes back as it was."""
    job = read_job(path.read_text("utf-8"), name=path.name)
    living = living_job(folded_from(job))
    assert living.job == job
    assert living.problems == ()


def test_values_from_a_file_say_so_and_keep_whole_numbers() -> None:
    """Where a value came from stands in its record, and its nanometres beside it."""
    job = read_job(EXAMPLES[0].read_text("utf-8"), name="t")
    bodies = [body for kind, body in drafts_of_job(job) if kind == "value"]
    assert {body["source"] for body in bodies} == {"file"}
    stroke = next(body for body in bodies if body["cell"] == "engine.stroke")
    assert (stroke["cylinder"], stroke["text"], stroke["nm"]) == (0, "2.360 in", 59_944_000)
    readings = [body for body in bodies if body["cell"].startswith("set/")]
    assert readings
    assert all(isinstance(body["nm"], int) for body in readings)


def test_a_job_is_read_as_it_was_opened_and_told() -> None:
    """Opening words, cells of the whole job and of the cylinder, ports and instruments."""
    job = Teller("four-stroke", units="metric", cooling="water")
    job.value("casting.material", "aluminium-356", cylinder=0)
    job.value("casting.mass", "2,6 kg", cylinder=0)
    job.value("fit.wanted", "90 µm")
    job.value("instrument/mic 50-75/kind", "micrometer")
    living = living_job(job.folded)
    assert (living.job.number, living.job.units, living.job.invented) == ("J-1", "metric", True)
    assert (living.job.engine.kind, living.job.engine.cooling) == ("four-stroke", "water")
    assert living.job.casting.mass is not None
    assert living.job.casting.mass.value == pytest.approx(2.6)
    assert living.job.casting.mass.text == "2,6 kg"
    assert living.job.choice.wanted is not None
    assert living.job.choice.wanted.kind == "chosen"
    assert living.job.instruments[0].name == "mic 50-75"
    assert living.problems == ()


def test_a_title_can_be_put_right() -> None:
    """What was told since the job was opened goes before its first words."""
    job = Teller()
    job.value("job.title", "the other barrel", cylinder=0)
    assert living_job(job.folded).job.title == "the other barrel"


def test_each_cylinder_has_its_own_values_and_the_job_s() -> None:
    """What is told of the whole job holds for each cylinder that was told nothing else."""
    job = Teller(cylinders=2)
    job.value("casting.mass", "3.2 lb", cylinder=0)
    job.value("piston.diameter", "2.3992 in", cylinder=1)
    job.value("piston.diameter", "2.3996 in", cylinder=2)
    for cylinder, text in ((1, "2.3992 in"), (2, "2.3996 in")):
        found = living_job(job.folded, cylinder).job
        assert found.piston.diameter is not None
        assert found.piston.diameter.text == text
        assert found.casting.mass is not None


def test_the_newest_set_that_counts_is_the_grid() -> None:
    """A later set supersedes; one that was voided, or holds no reading, does not."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE)
    assert grid_of(living_job(job.folded).job, "parent-bore").readings[0][0] is not None
    job.begin("bbbbbb", "parent-bore", "parent", **SHAPE)
    first = grid_of(living_job(job.folded).job, "parent-bore").readings
    assert [[cell is None for cell in row] for row in first] == [[False, False], [False, True]]
    job.value("set/bbbbbb/0/0", "+1.8")
    second = grid_of(living_job(job.folded).job, "parent-bore").readings
    assert second[0][0] is not None
    assert second[0][0].text == "+1.8"
    job.value("set/bbbbbb/void", "gauge was loose")
    assert grid_of(living_job(job.folded).job, "parent-bore").readings == first


@pytest.mark.parametrize(("end", "counts"), [("+0.2", True), ("-0.2", True), ("+0.3", False)])
def test_a_zero_that_moved_more_than_two_tenths_voids_the_set(end: str, counts: bool) -> None:
    """Drift within the limit leaves the readings; beyond it they do not count, and it is told."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE)
    job.value("set/aaaaaa/zero-start", "0")
    job.value("set/aaaaaa/zero-end", end)
    living = living_job(job.folded)
    assert (living.job.grid("parent-bore") is not None) == counts
    assert any("the zero moved" in text for _, text in living.problems) != counts


def test_an_instrument_may_have_a_limit_of_its_own() -> None:
    """A gauge that is allowed to drift by half a thou keeps its set."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS,
             **SHAPE, instruments=[{**GAUGE, "drift": "0.5 thou"}, MIC])  # fmt: skip
    job.value("set/aaaaaa/zero-start", "0")
    job.value("set/aaaaaa/zero-end", "+0.4")
    assert living_job(job.folded).job.grid("parent-bore") is not None


def test_two_different_values_are_left_out_and_told() -> None:
    """Neither of two devices is believed; once one is replaced, the other stands."""
    job = Teller()
    first = job.value("piston.clearance", "2.8 thou", device="tablet")
    second = job.value("piston.clearance", "3.8 thou", device="phone")
    living = living_job(job.folded)
    assert living.job.piston.clearance is None
    assert any(cell == "piston.clearance" and "2.8 thou and 3.8 thou" in text
               for cell, text in living.problems)  # fmt: skip
    job.value("piston.clearance", "2.8 thou", replaces=[first.id, second.id])
    living = living_job(job.folded)
    assert living.job.piston.clearance is not None
    assert living.problems == ()


def test_what_cannot_be_beside_the_rest_is_left_out_and_told() -> None:
    """A sleeve inside of its bore, a least fit above the wanted: the rest still stands."""
    job = Teller("four-stroke")
    job.value("fit.wanted", "3 thou")
    job.value("fit.least", "4 thou")
    job.value("sleeve.outside_diameter", "2.6402 in")
    job.value("sleeve.inside_diameter", "2.700 in")
    living = living_job(job.folded)
    assert {cell for cell, _ in living.problems} == {"fit.least", "sleeve.outside_diameter"}
    assert living.job.choice.wanted is not None
    assert living.job.choice.least is None


def test_odd_records_never_break_a_job() -> None:
    """Values that no reader takes, as from an older bench, are told cell by cell."""
    job = Teller()
    odd = {"engine.stroke": "long", "casting.material": "cheese", "heat.dry": "maybe",
           "port/exhaust/found.roof": "up", "instrument/x/turn": "often"}  # fmt: skip
    for cell, text in odd.items():
        job.tell("value", {"cylinder": 1, "cell": cell, "text": text})
    job.begin("aaaaaa", "parent-bore", "parent", **SHAPE)
    job.tell("value", {"cylinder": 1, "cell": "set/aaaaaa/0/0", "text": "wide"})
    job.value("set/aaaaaa/0/1", "+0.8")
    living = living_job(job.folded)
    told = {cell for cell, _ in living.problems}
    assert told >= {"engine.stroke", "casting.material", "port/exhaust/found.roof",
                    "instrument/x/turn", "set/aaaaaa/0/0"}  # fmt: skip
    assert living.job.ports[0].name == "exhaust"
    assert grid_of(living.job, "parent-bore").readings[0][1] is not None


def test_dictated_and_shaped_texts_reach_the_plan_as_numbers() -> None:
    """Words, full-width digits and last digits are read as the entry read them."""
    job = Teller()
    job.value("fit.wanted", "three and a half thou")
    job.begin("aaaaaa", "sleeve-od", "sleeve", **{**SHAPE, "entry": "last-digits"})
    job.value("set/aaaaaa/0/0", "72")
    job.value("set/aaaaaa/0/1", "73")
    found = living_job(job.folded)
    assert found.job.choice.wanted is not None
    assert found.job.choice.wanted.value == pytest.approx(88.9e-6)
    grid = grid_of(found.job, "sleeve-od")
    assert grid.readings[0][0] is not None
    assert grid.readings[0][0].value == pytest.approx(2.6372 * 0.0254, abs=1e-12)
    assert found.problems == ()


def test_a_metric_gauge_in_an_inch_job_keeps_its_unit() -> None:
    """Bare readings of a set in µm are no thou."""
    job = Teller("two-stroke", units="inch")
    job.begin("aaaaaa", "sleeve-od", "sleeve", **{**SHAPE, "unit": "µm", "nominal": "67.00 mm"})
    job.value("set/aaaaaa/0/0", "+12")
    job.value("set/aaaaaa/0/1", "67.011")
    grid = grid_of(living_job(job.folded).job, "sleeve-od")
    values = [cell.value for cell in grid.readings[0] if cell is not None]
    assert values == pytest.approx([0.067012, 0.067011], abs=1e-12)


def test_one_reading_a_pass_stands_until_the_full_grid() -> None:
    """While boring the last pass is the bore; a full set begun later replaces it."""
    job = Teller()
    job.begin("passes", "parent-pass", "parent", nominal="2.6360 in", unit="thou",
              stations=["1", "2", "3"], directions=[])  # fmt: skip
    job.value("set/passes/0/0", "-20")
    job.value("set/passes/1/0", "-6")
    grid = grid_of(living_job(job.folded).job, "parent-bore")
    assert len(grid.readings) == 1
    assert grid.readings[0][0] is not None
    assert grid.readings[0][0].text == "-6"
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE)
    assert len(grid_of(living_job(job.folded).job, "parent-bore").readings) == 2


def test_dry_and_drained_are_as_ticked() -> None:
    """Both ticks make a dry job; a file's word holds only until they are set."""
    job = Teller()
    job.value("heat.dry", "no", cylinder=1)
    assert living_job(job.folded).job.heat.dry is False
    job.value("ready.dry", "yes")
    assert living_job(job.folded).job.heat.dry is False
    job.value("ready.drained", "yes")
    assert living_job(job.folded).job.heat.dry is True


def test_a_taken_back_value_is_not_there() -> None:
    """An empty text replaces what stood."""
    job = Teller()
    told = job.value("piston.clearance", "2.8 thou")
    job.value("piston.clearance", "", replaces=[told.id])
    assert living_job(job.folded).job.piston.clearance is None


FINE = {"name": "g", "kind": "dial-bore-gauge", "setting": "0.2 thou"}
POOR = {"name": "g", "kind": "dial-bore-gauge", "setting": "2 thou"}


def setting_of(job: Job, feature: str) -> tuple[str, str]:
    """Name and setting of the gauge that a grid was read with."""
    name = grid_of(job, feature).instrument
    gauge = next(one for one in job.instruments if one.name == name)
    assert gauge.setting is not None
    return name, gauge.setting.text


def test_each_set_keeps_the_gauge_that_it_was_begun_with() -> None:
    """The same name told with a better setting later judges nothing that was read before."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE, instrument="g", instruments=[POOR])
    assert setting_of(living_job(job.folded).job, "parent-bore") == ("g", "2 thou")
    job.grid("bbbbbb", "sleeve-id", "sleeve", [["2.3400 in"]], instrument="g", instruments=[FINE])
    living = living_job(job.folded)
    assert setting_of(living.job, "parent-bore") == ("g", "2 thou")
    assert setting_of(living.job, "sleeve-id") == ("g (2)", "0.2 thou")
    assert living.problems == ()


def test_equal_gauges_are_one_with_one_error_of_setting() -> None:
    """What was read with one gauge shares its name; one set from another master does not."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE)
    job.grid("bbbbbb", "counterbore", "counterbore", [["2.8445 in"]])
    job.grid("cccccc", "sleeve-id", "sleeve", [["2.3400 in"]],
             instruments=[GAUGE, {**MIC, "setting": "1 thou"}])  # fmt: skip
    found = living_job(job.folded).job
    names = [grid_of(found, one).instrument for one in ("parent-bore", "counterbore", "sleeve-id")]
    assert names == ["bore gauge", "bore gauge", "bore gauge (2)"]
    other = next(one for one in found.instruments if one.name == "bore gauge (2)")
    assert other.set_from == "mic 2-3 (2)"


def test_a_gauge_is_not_lent_to_a_set_that_does_not_describe_it() -> None:
    """A name alone takes nothing from what another set said of a gauge of this name."""
    job = Teller()
    job.grid("aaaaaa", "parent-bore", "parent", ROWS, **SHAPE, instrument="g", instruments=[])
    job.grid("bbbbbb", "sleeve-id", "sleeve", [["2.3400 in"]], instrument="g", instruments=[FINE])
    job.grid("cccccc", "sleeve-od", "sleeve", [["2.6402 in"]], instrument="G.",
             instruments=[{**POOR, "name": "G."}])  # fmt: skip
    found = living_job(job.folded)
    assert grid_of(found.job, "parent-bore").instrument == ""
    assert setting_of(found.job, "sleeve-id") == ("g (2)", "0.2 thou")
    assert setting_of(found.job, "sleeve-od")[1] == "2 thou"
    names = [one.name for one in found.job.instruments]
    assert names == ["g (2)", "G. (3)"], "names that answers cannot tell apart are numbered on"
