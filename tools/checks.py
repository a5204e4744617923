"""The checks of the project, the same here and on the build machine.

``python3 run.py test`` runs every group but the slow set, ``python3 run.py test slow`` the
slow set alone, ``python3 run.py test unit quality`` the groups named.  Two groups run side
by side where there are two cores.  A group stops after a few failures, the others go on.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET  # reads only what the test runner wrote a moment ago
from concurrent.futures import Future, ThreadPoolExecutor, as_completed
from dataclasses import dataclass
from pathlib import Path

from needs import provide

HERE = Path(__file__).resolve().parent.parent
ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
NOTHING_COLLECTED = 5
STOP_AFTER = "5"
SLOW_LIMIT = "600"
NEEDY = ("unit", "browser", "faults", "documentation", "slow")
"""Groups that need more than Python: a browser, a reader of PDF pages, a database."""
IMPORT_CONTRACTS = "from importlinter.cli import lint_imports_command as lint; lint()"


@dataclass(frozen=True)
class Group:
    """One group of checks: commands for this Python, or folders of tests."""

    name: str
    commands: tuple[tuple[str, ...], ...] = ()
    tests: tuple[str, ...] = ()


@dataclass(frozen=True)
class Outcome:
    """What a group came to."""

    group: Group
    passed: int
    failed: int
    skipped: int
    seconds: float
    printed: str
    times: tuple[tuple[float, str], ...] = ()


GROUPS = (
    Group("lint", (("-m", "ruff", "check", "."), ("-m", "ruff", "format", "--check", "."))),
    Group("types", (("-m", "mypy"),)),
    Group("contracts", (("-c", IMPORT_CONTRACTS),)),
    Group("unit", tests=("tests/unit",)),
    Group("validation", tests=("tests/validation",)),
    Group("property", tests=("tests/properties",)),
    Group("quality", tests=("tests/quality",)),
    Group("browser", tests=("tests/browser",)),
    Group("documentation", tests=("--doctest-modules", "src/sleevewright", "tests/docs")),
    Group("faults", tests=("tests/faults",)),
    Group("wheel", tests=("tests/wheel",)),
)
SLOW = Group("slow", tests=("-m", "slow", "--timeout", SLOW_LIMIT, "tests"))


def main(words: list[str]) -> int:
    """Run the groups asked for, print what each took, and close with the counts."""
    names = [group.name for group in GROUPS]
    unknown = [word for word in words if word not in (*names, SLOW.name)]
    if unknown:
        print(f"There is no group named {unknown[0]}; groups are: {', '.join(names)}, slow.")
        return 2
    asked = [group for group in (*GROUPS, SLOW) if group.name in (words or names)]
    began = time.monotonic()
    environment = {**os.environ, **ONE_THREAD}
    if any(group.name in NEEDY for group in asked):
        environment["SHOP_BROWSER"] = provide()
    outcomes = run_all(asked, environment)
    return close(outcomes, time.monotonic() - began)


def run_all(groups: list[Group], environment: dict[str, str]) -> list[Outcome]:
    """Outcomes in the order of the groups; each is printed as soon as it is there."""
    with (
        tempfile.TemporaryDirectory() as folder,
        ThreadPoolExecutor(min(2, os.cpu_count() or 1)) as lanes,
    ):
        waiting: dict[Future[Outcome], Group] = {
            lanes.submit(run, group, environment, Path(folder)): group for group in groups
        }
        done = [show(future.result()) for future in as_completed(waiting)]
    return sorted(done, key=lambda outcome: groups.index(outcome.group))


def run(group: Group, environment: dict[str, str], folder: Path) -> Outcome:
    """One group, start to end."""
    began = time.monotonic()
    if group.tests:
        return run_tests(group, environment, folder / f"{group.name}.xml", began)
    results = [python(command, environment) for command in group.commands]
    failed = [result for result in results if result.returncode]
    printed = "".join(result.stdout for result in failed)
    passed = len(results) - len(failed)
    return Outcome(group, passed, len(failed), 0, time.monotonic() - began, printed)


def run_tests(group: Group, environment: dict[str, str], report: Path, began: float) -> Outcome:
    """One run of the test runner, counted from its report rather than from its words."""
    options = ("-q", "--maxfail", STOP_AFTER, f"--junit-xml={report}")
    result = python(("-m", "pytest", *options, *group.tests), environment)
    seconds = time.monotonic() - began
    if result.returncode == NOTHING_COLLECTED and group.name == SLOW.name:
        return Outcome(group, 0, 0, 0, seconds, "No test is marked slow.\n")
    suite = ET.parse(report).getroot().find("testsuite") if report.exists() else None  # noqa: S314 - written by our own runner
    said = f"{result.stdout}The test runner left with code {result.returncode}.\n"
    if suite is None:
        return Outcome(group, 0, 1, 0, seconds, said)
    total, failures, errors, skipped = (
        int(suite.get(name, "0")) for name in ("tests", "failures", "errors", "skipped")
    )
    failed = failures + errors
    if result.returncode and not failed:  # a crash, an interrupt, or nothing to run
        failed = 1
    times = tuple(
        (float(case.get("time", "0")), f"{case.get('classname')}::{case.get('name')}")
        for case in suite.iter("testcase")
    )
    passed = max(total - failures - errors - skipped, 0)
    printed = said if failed else ""
    return Outcome(group, passed, failed, skipped, seconds, printed, times)


def python(
    arguments: tuple[str, ...], environment: dict[str, str]
) -> subprocess.CompletedProcess[str]:
    """Run this Python in the project's folder; both outputs come back as one text."""
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=HERE,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        encoding="utf-8",
        errors="replace",
        check=False,
    )


def show(outcome: Outcome) -> Outcome:
    """Print one line of a group, below what it said if it said something."""
    if outcome.printed:
        print(f"---- {outcome.group.name}\n{outcome.printed.rstrip()}\n----")
    print(
        f"{outcome.group.name:<14}{outcome.passed:>6} passed {outcome.failed:>4} failed "
        f"{outcome.skipped:>4} skipped {outcome.seconds:>7.1f} s",
        flush=True,
    )
    return outcome


def close(outcomes: list[Outcome], wall: float) -> int:
    """Shares, slowest tests, counts; the exit code says whether all passed."""
    work = sum(outcome.seconds for outcome in outcomes) or 1.0
    print("\nShare of the work")
    for outcome in outcomes:
        share = outcome.seconds / work
        print(f"  {outcome.group.name:<14}{outcome.seconds:>7.1f} s {share:>6.1%}")
    print(f"  {'all':<14}{work:>7.1f} s, done in {wall:.1f} s")
    print("\nTen slowest tests")
    times = sorted((time for outcome in outcomes for time in outcome.times), reverse=True)
    for seconds, name in times[:10]:
        print(f"  {seconds:>7.2f} s  {name}")
    counts = [
        sum(getattr(outcome, name) for outcome in outcomes)
        for name in ("passed", "failed", "skipped")
    ]
    tally = os.environ.get("CHECKS_TALLY")
    if tally:
        with Path(tally).open("a", encoding="utf-8") as file:
            file.write(" ".join(map(str, counts)) + "\n")
    print("\n{} passed, {} failed, {} skipped".format(*counts), flush=True)
    return 1 if counts[1] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
