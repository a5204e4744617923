"""The demonstration jobs: written by their script, honest about themselves, and of one piece."""

from __future__ import annotations

import importlib.util
import json
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest

from sleevewright.core.engine.volumes import swept_volume
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Job

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
NAMES = ("demo-air-175", "demo-water", "demo-thin-iron")


def demo(name: str) -> Job:
    """One demonstration job."""
    return read_job((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), name=name)


def truth(name: str) -> dict[str, object]:
    """What really is, beside it."""
    text = (EXAMPLES / f"{name}.truth.json").read_text(encoding="utf-8")
    facts: dict[str, object] = json.loads(text)
    return facts


def generator() -> ModuleType:
    """The script that writes the examples."""
    spec = importlib.util.spec_from_file_location("make_demo", ROOT / "tools" / "make_demo.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["make_demo"] = module
    spec.loader.exec_module(module)
    return module


def test_the_script_writes_what_is_kept(tmp_path: Path) -> None:
    """The examples and their truths come out of the script to the letter."""
    generator().main(tmp_path)
    written = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert len(written) == 6
    for name, content in written.items():
        assert (EXAMPLES / name).read_bytes() == content, name


@pytest.mark.parametrize("name", NAMES)
def test_bore_stroke_and_displacement_agree(name: str) -> None:
    """The displacement in the description is that of bore and stroke, within half a cc."""
    engine = demo(name).engine
    assert engine.bore is not None
    assert engine.stroke is not None
    named = re.search(r"(\d+) cc", engine.description)
    assert named is not None
    cc = swept_volume(bore=engine.bore.value, stroke=engine.stroke.value) * 1e6
    assert cc == pytest.approx(float(named[1]), abs=0.5)


@pytest.mark.parametrize("name", NAMES)
def test_a_demonstration_says_that_it_is_invented(name: str) -> None:
    """Job and truth are both marked."""
    job = demo(name)
    assert job.invented
    assert job.note.startswith("Invented.")
    assert truth(name)["invented"] is True


@pytest.mark.parametrize("name", NAMES)
def test_the_bias_of_each_gauge_lies_within_its_stated_doubt(name: str) -> None:
    """A gauge set from another carries both doubts; no truth lies outside of them."""
    job = demo(name)
    stated = {one.name: one for one in job.instruments}
    gauges = truth(name)["gauges"]
    assert isinstance(gauges, dict)
    for gauge, facts in gauges.items():
        instrument = stated[gauge]
        assert instrument.setting is not None
        doubt = instrument.setting.value
        if instrument.set_from:
            master = stated[instrument.set_from].setting
            assert master is not None
            doubt = (doubt**2 + master.value**2) ** 0.5
        assert abs(facts["bias_um"]) * 1e-6 < doubt


def test_only_the_air_cooled_job_has_mistakes_of_both_sorts() -> None:
    """One whole turn of the dial and one warm casting, in the parent bore."""
    mistakes = truth("demo-air-175")["mistakes"]
    assert isinstance(mistakes, list)
    assert [slip["what"] for slip in mistakes] == [
        "whole turn of the dial",
        "casting was warm",
    ]
    assert {slip["feature"] for slip in mistakes} == {"parent-bore"}
    for name in NAMES[1:]:
        assert truth(name)["mistakes"] == []


def test_the_grids_are_full_enough_to_judge() -> None:
    """Sleeve and parent bore have at least three stations by four directions."""
    for name in NAMES:
        for feature in ("sleeve-od", "parent-bore"):
            grid = demo(name).grid(feature)
            if grid is None:
                assert (name, feature) == ("demo-water", "parent-bore")
                continue
            assert len(grid.stations) >= 3
            assert len(grid.directions) >= 4


def test_inch_readings_show_tenths_as_the_gauge_does() -> None:
    """Every reading of the inch jobs is a whole number of ten-thousandths of an inch."""
    for name in ("demo-air-175", "demo-thin-iron"):
        for grid in demo(name).grids:
            for cell in (cell for row in grid.readings for cell in row if cell is not None):
                tenths = cell.value / 0.0254e-4
                assert tenths == pytest.approx(round(tenths), abs=1e-6)
