"""``sleevewright plan``: table, document and ticket of one plan, equal to the digit."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from sleevewright.cli.main import main
from sleevewright.cli.plan_table import LEGEND, MARKS, plan_lines
from sleevewright.planning.answers import Kind, Plan
from sleevewright.planning.shown import shown_answer
from sleevewright.services.plans import plan_file

EXAMPLES = Path(__file__).parents[2] / "examples"
AIR, WATER, IRON = (EXAMPLES / f"demo-{name}.toml" for name in ("air-175", "water", "thin-iron"))


def run(*words: str, stdin: bytes | None = None) -> Result:
    """Run the command in this process."""
    return CliRunner().invoke(main, ("plan", *words), input=stdin)


@pytest.fixture(scope="module")
def air() -> Plan:
    """The plan of the air-cooled demonstration."""
    return plan_file(AIR)


@pytest.fixture(scope="module")
def table() -> Result:
    """What the terminal shows of it."""
    return run(str(AIR))


def test_the_table_shows_every_answer_with_its_kind_and_figures(air: Plan, table: Result) -> None:
    """Each shown answer stands in the table with mark, figure, doubt, unit, label, verdict."""
    for answer in air.answers():
        if answer.is_detail or answer.quantity.value == "record":
            continue
        shown = shown_answer(answer, system="inch")
        rows = [line for line in table.stdout.splitlines() if f"  {answer.label}" in line]
        parts = [f"  {MARKS[answer.kind]} ", shown.figure, shown.unit, shown.sense, answer.of]
        parts += [f"±{shown.doubt}"] if shown.doubt else []
        parts += [f"[{answer.judgement.verdict.value}]"] if answer.judgement else []
        assert any(all(part in row for part in parts) for row in rows) or len(shown.figure) > 12, (
            answer.id
        )


def test_the_table_opens_with_what_to_do(air: Plan, table: Result) -> None:
    """Job, that it is invented, the next move, the orders, then the headlines."""
    lines = table.stdout.splitlines()
    assert lines[0].startswith("D-175 ")
    assert "invented" in lines[1]
    assert lines[2] == f"next: {air.next_move}"
    assert lines.index("To cut and do") < lines.index("Headlines") < lines.index("Fit")
    assert lines[-1] == LEGEND


def test_the_table_holds_every_hazard_and_caution(air: Plan, table: Result) -> None:
    """No caution of the plan is lost in the terminal."""
    told = " ".join(table.stdout.split())
    for stage in air.stages:
        for caution in (*stage.hazards, *air.cautions):
            assert " ".join(caution.text.split()) in told


def test_the_document_agrees_with_the_table(air: Plan) -> None:
    """The same figures, and the same exit code."""
    done = run(str(AIR), "--json")
    assert done.exit_code in (0, 1)
    leaves = {
        leaf["id"]: leaf for stage in json.loads(done.stdout)["stages"] for leaf in stage["answers"]
    }
    assert set(leaves) == {answer.id for answer in air.answers()}
    for answer in air.answers():
        shown = shown_answer(answer, system="inch")
        assert leaves[answer.id]["shown"] == {
            "figure": shown.figure, "doubt": shown.doubt, "unit": shown.unit,
        }  # fmt: skip


def test_the_ticket_agrees_with_the_table(air: Plan, tmp_path: Path) -> None:
    """Figures of the orders stand on the paper as they stand in the terminal."""
    out = tmp_path / "ticket.pdf"
    done = run(str(AIR), "--pdf", str(out))
    assert str(out) in done.stderr
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(out.read_bytes())).pages)
    for name in ("bore.target", "counterbore.diameter", "counterbore.depth", "heat.oven"):
        figure = shown_answer(air.answer(name), system="inch").figure
        assert figure in text, name
        assert figure in done.stdout, name


@pytest.mark.parametrize(("path", "code"), [(WATER, 0), (IRON, 1)], ids=lambda one: str(one)[-14:])
def test_the_exit_code_says_whether_a_verdict_is_out(path: Path, code: int) -> None:
    """The thin iron casting cannot be made hot enough; the water-cooled one can."""
    done = run(str(path))
    assert done.exit_code == code
    assert ("[out]" in done.stdout) is (code == 1)


def test_the_thin_iron_job_says_what_to_do_instead() -> None:
    """Less slip, cold, or a lighter fit: the plan does not stop at no."""
    told = run(str(IRON)).stdout
    row = next(line for line in told.splitlines() if "Reaches the slip" in line)
    assert re.search(r"\bno\b", row)
    assert "freezer" in told
    assert "slip that the limit gives" in " ".join(told.split())


def test_units_may_be_asked_for() -> None:
    """The metric plan of an inch job, and only the words change."""
    metric, inch = run(str(AIR), "--units", "metric"), run(str(AIR))
    assert metric.exit_code == inch.exit_code
    assert " thou " not in "\n".join(
        line for line in metric.stdout.splitlines() if re.match(r"  [|_#?=] ", line)
    )
    assert "µm" in metric.stdout
    document = json.loads(run(str(AIR), "--units", "metric", "--json").stdout)
    assert document["units"] == "metric"


def test_standard_input_is_read() -> None:
    """A dash stands for standard input, and gives the same table."""
    piped = run("-", stdin=WATER.read_bytes())
    assert piped.exit_code == 0
    assert piped.stdout == run(str(WATER)).stdout


def test_all_shows_the_inputs_behind(air: Plan) -> None:
    """The inputs that are hidden otherwise stand in the long table."""
    hidden = [answer for answer in air.answers() if answer.is_detail]
    long, short = ("\n".join(plan_lines(air, show_all=one)) for one in (True, False))
    assert hidden
    assert len(long.splitlines()) > len(short.splitlines())


def test_every_kind_has_its_own_mark() -> None:
    """The marks are told apart and explained."""
    assert set(MARKS) == set(Kind)
    assert len(set(MARKS.values())) == len(MARKS)
    assert all(f"{mark} {kind.value}" in LEGEND for kind, mark in MARKS.items())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (b"[fit]\nwantd = '3 thou'\n", "standard input: line 2: fit has no 'wantd'"),
        (b"[fit]\nwanted = 3 thou\n", "stands in quotes"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"[casting]\nlimit = '-500 F'\nmass = '3'\n", "line 3: casting.mass"),
    ],
)
def test_bad_input_is_told_and_nothing_is_planned(text: bytes, told: str) -> None:
    """Each fault is a line on the error stream; the exit code is 2."""
    done = run("-", stdin=text)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert told in done.stderr
    assert all(line.startswith("sleevewright: ") for line in done.stderr.splitlines())


def test_a_ticket_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A folder that is not there is named, without a traceback."""
    done = run(str(WATER), "--pdf", str(tmp_path / "no" / "ticket.pdf"))
    assert done.exit_code == 2
    assert "a file that can be written" in done.stderr


def test_nothing_is_styled_where_it_is_not_a_terminal(table: Result) -> None:
    """What goes into a pipe carries no escapes."""
    assert "\x1b" not in table.stdout
