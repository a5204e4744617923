"""The checks count what ran, and nothing that did not run passes."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

import checks
import needs
from project_files import ROOT, text_of

FAILING = "def test_x():\n    assert 1 == 2\n\n\ndef test_y():\n    pass\n"
PASSING = "def test_x():\n    pass\n"
CRASHING = "import os\n\n\ndef test_x():\n    os._exit(9)\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project of its own for the checks, with no settings but the mark."""
    ini = "[pytest]\nmarkers =\n    slow: the slow set\n"
    (tmp_path / "pytest.ini").write_text(ini, encoding="utf-8")
    (tmp_path / "tests").mkdir()
    monkeypatch.setattr(checks, "HERE", tmp_path)
    return tmp_path


def outcome_of(folder: Path, code: str, group: checks.Group | None = None) -> checks.Outcome:
    """What the checks make of one test file."""
    (folder / "tests" / "test_it.py").write_text(code, encoding="utf-8")
    return checks.run(group or checks.Group("it", tests=("tests",)), dict(os.environ), folder)


@pytest.mark.parametrize(
    ("code", "passed", "failed"),
    [
        (PASSING, 1, 0),
        (FAILING, 1, 1),
        (CRASHING, 0, 1),
        ("x = 1\n", 0, 1),
        ("raise RuntimeError\n", 0, 1),
    ],
    ids=["passing", "failing", "crashing", "empty", "broken"],
)
def test_outcome_is_counted(folder: Path, code: str, passed: int, failed: int) -> None:
    """A failure, a crash, a broken file and a group without a test all count as failed."""
    outcome = outcome_of(folder, code)
    assert (outcome.passed, outcome.failed) == (passed, failed)
    assert bool(outcome.printed) is bool(failed)


def test_empty_slow_set_is_said_and_passes(folder: Path) -> None:
    """A slow set without a test is no failure, and is told in words."""
    slow = checks.Group("slow", tests=("-m", "slow", "tests"))
    outcome = outcome_of(folder, PASSING, slow)
    assert (outcome.passed, outcome.failed) == (0, 0)
    assert "No test is marked slow" in outcome.printed


def test_broken_file_fails_the_slow_set(folder: Path) -> None:
    """A slow set that could not be collected is not an empty one."""
    slow = checks.Group("slow", tests=("-m", "slow", "tests"))
    assert outcome_of(folder, "raise RuntimeError\n", slow).failed == 1


def test_failing_command_shows_its_words(folder: Path) -> None:
    """A tool that leaves with an error counts once, and what it said is kept."""
    group = checks.Group("tool", (("-c", "raise SystemExit('no')"), ("-c", "pass")))
    outcome = checks.run(group, dict(os.environ), folder)
    assert (outcome.passed, outcome.failed) == (1, 1)
    assert "no" in outcome.printed


def test_counts_close_the_run(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The last line holds the counts, the tally keeps them, one failure fails the run."""
    tally = folder / "tally"
    monkeypatch.setenv("CHECKS_TALLY", str(tally))
    outcome = outcome_of(folder, FAILING)
    assert checks.close([outcome], 1.0) == 1
    assert capsys.readouterr().out.splitlines()[-1] == "1 passed, 1 failed, 0 skipped"
    assert tally.read_text(encoding="utf-8") == "1 1 0\n"


def test_unknown_group_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """A name that is no group gets the names that are."""
    assert checks.main(["units"]) == 2
    assert "unit, validation" in capsys.readouterr().out


def test_every_test_folder_belongs_to_a_group() -> None:
    """No folder of tests is left out of the run."""
    folders = {f"tests/{path.parent.name}" for path in (ROOT / "tests").glob("*/test_*.py")}
    run = {word for group in checks.GROUPS for word in group.tests}
    assert folders <= run


def test_named_browser_that_does_not_start_is_no_browser(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A wrong path in the setting is not passed over in favour of another browser."""
    monkeypatch.setenv("SHOP_BROWSER", str(tmp_path / "absent"))
    assert needs.find_browser() == ""


def test_no_browser_fails_the_check_that_needs_one(folder: Path) -> None:
    """A test of a page fails without a browser; it is not skipped."""
    shutil.copy(ROOT / "tests" / "conftest.py", folder / "tests" / "conftest.py")
    ini = f"[pytest]\npythonpath = {ROOT / 'tools'}\n"
    (folder / "pytest.ini").write_text(ini, encoding="utf-8")
    code = "def test_page(browser_path):\n    assert browser_path\n"
    (folder / "tests" / "test_it.py").write_text(code, encoding="utf-8")
    group = checks.Group("browser", tests=("tests",))
    nowhere = {**os.environ, "SHOP_BROWSER": str(folder / "absent")}
    outcome = checks.run(group, nowhere, folder)
    assert (outcome.passed, outcome.failed, outcome.skipped) == (0, 1, 0)
    assert "no browser" in outcome.printed


@pytest.mark.skipif(os.name == "nt", reason="the build machine's script is for a Unix shell")
@pytest.mark.parametrize(
    ("code", "expected", "closing"),
    [
        ("pass", 0, "6 passed, 0 failed, 2 skipped"),
        ("sys.exit('slow' in sys.argv)", 1, "6 passed, 1 failed, 2 skipped"),
        ("time.sleep(30)", 1, "3 passed, 1 failed, 1 skipped"),
    ],
    ids=["passing", "failing", "too long"],
)
def test_build_script_tells_how_both_sets_ended(
    tmp_path: Path, code: str, expected: int, closing: str
) -> None:
    """One tally closes the run; a failed set and a passed deadline both fail it."""
    (tmp_path / ".ci").mkdir()
    script = text_of(ROOT / ".ci" / "run").replace("deadline=3600", "deadline=2")
    (tmp_path / ".ci" / "run").write_text(script, encoding="utf-8")
    body = f"""import os, sys, time
with open(os.environ["CHECKS_TALLY"], "a", encoding="utf-8") as tally:
    tally.write("3 0 1\\n")
{code}
"""
    (tmp_path / "run.py").write_text(body, encoding="utf-8")
    done = subprocess.run(
        ["bash", ".ci/run"],
        cwd=tmp_path,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == expected
    assert done.stdout.splitlines()[-1] == closing
