"""Choosing a fit as a use case: kept pictures, documents, and rows in the terminal."""

from __future__ import annotations

import json
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from benches import EXAMPLES, bench_in
from sleevewright.cli.job import job as job_command
from sleevewright.cli.shell import Shell
from sleevewright.errors import NotFound
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.bench import open_bench
from sleevewright.services.fitting import (
    choose_fit,
    fits_of_job,
    seconds_left,
    seconds_of_job,
)
from sleevewright.services.jobfiles import load_job
from sleevewright.services.jobs import open_job, plan_of
from sleevewright.units import to_unit

AIR = EXAMPLES / "demo-air-175.toml"
THOU = 25.4e-6
QUICK = Shop(Settings(budget_samples=4_000, drop_samples=400))
COMMAND = Shell("sleevewright", commands={"job": job_command})


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the demonstration and a job that told nothing yet."""
    path = tmp_path_factory.mktemp("fits")
    with closing(bench_in(path, [AIR])) as bench:
        open_job(bench, "J-7", {"title": "bare"})
    return path


@pytest.fixture(scope="module")
def documents(folder: Path) -> tuple[Any, Any]:
    """Picture and seconds of the demonstration on a bench."""
    with closing(open_bench(folder)) as bench:
        return fits_of_job(bench, "D-175"), seconds_of_job(bench, "D-175")


def test_a_picture_is_kept() -> None:
    """Asked twice, it is reckoned once; other units are another picture."""
    told = load_job(AIR)
    one = choose_fit(told, QUICK)
    assert choose_fit(told, QUICK) is one
    metric = choose_fit(told, QUICK, units="metric")
    assert metric.interferences[1] == pytest.approx(5e-6, rel=1e-9)
    assert seconds_left(told, QUICK) is seconds_left(told, QUICK)


def test_a_document_is_json_in_the_units_of_the_job(documents: tuple[Any, Any]) -> None:
    """Thou, psi and degrees Fahrenheit; numbers and figures say the same."""
    picture = json.loads(json.dumps(documents[0], allow_nan=False))
    curves = {one["id"]: one for one in picture["curves"]}
    units = {key: curves[key]["middle"]["unit"] for key in ("fit.hard", "fit.pressure", "fit.grip")}
    assert units == {"fit.hard": "thou", "fit.pressure": "psi", "fit.grip": "°F"}
    assert picture["interferences"]["figures"][:3] == ["0.0", "0.2", "0.4"]
    assert picture["chosen"]["figure"] == "3.5"
    for curve in curves.values():
        for name in ("low", "middle", "high"):
            assert len(curve[name]["values"]) == len(curve[name]["figures"]) == 41
    limit = curves["heat.casting"]["limit"]
    assert (limit["figure"], limit["unit"]) == ("446", "°F")
    assert limit["value"] == pytest.approx(446.0)


def test_a_document_tells_what_the_plan_tells(folder: Path) -> None:
    """Between its two neighbours in the document lies the plan's own running fit."""
    with closing(open_bench(folder)) as bench:
        whole = plan_of(bench, "D-175")
        picture = fits_of_job(bench, "D-175")
    curve = next(one for one in picture["curves"] if one["id"] == "fit.running")
    at = sum(value <= picture["chosen"]["value"] for value in picture["interferences"]["values"])
    value = whole.answer("fit.running").value
    assert isinstance(value, float)
    low, high = curve["middle"]["values"][at - 1], curve["middle"]["values"][at]
    assert low - 0.05 <= to_unit(value, "thou") <= high + 0.05


def test_seconds_run_down_and_are_never_rounded_up(documents: tuple[Any, Any]) -> None:
    """The low line shows no more seconds than it has."""
    low = documents[1]["low"]
    for value, figure in zip(low["values"], low["figures"], strict=True):
        if value is not None:
            assert float(figure) <= value + 1e-9
    assert documents[1]["heat"].startswith("The heat follows the fit")


def test_a_job_that_told_nothing_yet_says_what_is_missing(folder: Path) -> None:
    """No picture, no nought: the sleeve is asked for, in both documents."""
    with closing(open_bench(folder)) as bench:
        picture, seconds = fits_of_job(bench, "J-7"), seconds_of_job(bench, "J-7")
        with pytest.raises(NotFound):
            fits_of_job(bench, "J-8")
    assert picture["curves"] == []
    assert picture["chosen"] == {"unit": "thou", "value": None, "figure": "–"}
    assert picture["needs"]
    assert seconds["low"]["figures"] == []


def said(folder: Path, *words: str) -> str:
    """What the command prints."""
    done = CliRunner().invoke(COMMAND, ["job", "fits", *words, "--data", str(folder)])
    assert done.exit_code == 0, done.output
    return done.stdout


def test_rows_in_the_terminal(folder: Path) -> None:
    """One row for each fit, its verdicts marked, the fit of today pointed at."""
    lines = said(folder, "D-175").splitlines()
    rows = [line for line in lines if line[2:].strip()[:1].isdigit() and "." in line[:8]]
    assert len(rows) == 41
    assert [row[:8].split() for row in rows if row.startswith(">")] == [[">", "3.6"]]
    assert "−2.4!" in rows[0]
    assert any("good against every limit: 4.8, 5.0, 5.2, 5.4, 5.6 thou" in line for line in lines)
    assert any("at least 1.0 thou: the least that is to be left hot" in line for line in lines)
    assert any(line.strip().startswith("caution: A casting from the oven") for line in lines)
    told = json.loads(said(folder, "D-175", "--json", "--held"))
    assert told["seconds"]["heat"].startswith("The casting is held")
    assert len(told["picture"]["curves"]) == 17


def test_a_terminal_that_has_nothing_to_draw(folder: Path) -> None:
    """A bare job prints what it needs."""
    assert "needs:" in said(folder, "J-7")


def test_a_narrow_terminal_spares_columns(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No row is wider than the terminal; what is left running and the heat stay."""
    monkeypatch.setenv("COLUMNS", "70")
    lines = said(folder, "D-175").splitlines()
    heads = next(at for at, line in enumerate(lines) if line.split()[:1] == ["the"])
    assert max(len(line) for line in lines[heads : heads + 44]) <= 70
    assert "running" in lines[heads + 1]
    assert "heat" in lines[heads]
    assert "pressure" not in lines[heads + 1]
