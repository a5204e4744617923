"""Rerun the published checks, beside what they gave at the last release."""

from __future__ import annotations

import csv
import importlib
import pkgutil
from dataclasses import dataclass
from importlib import resources

from sleevewright import planning
from sleevewright.evidence.report import EvidenceReport, Kept, report

LAST_RELEASE = "evidence_last_release.csv"
ENDURANCE = "endurance.csv"
LONG_RUN = ("run", "script", "made", "machine", "figure", "note")
COLUMNS = ("release", "formula", "case", "computed", "unit")


def evidence_report() -> EvidenceReport:
    """Every formula with its published checks run again."""
    # A stage may declare a relation too: all of them are loaded, whoever asks.
    for found in pkgutil.iter_modules(planning.__path__, f"{planning.__name__}."):
        importlib.import_module(found.name)
    return report(kept=kept_results())


@dataclass(frozen=True)
class LongRun:
    """The last figures of a run that no everyday check has the time for."""

    run: str
    script: str
    made: str
    machine: str
    figure: str
    note: str


def long_runs() -> tuple[LongRun, ...]:
    """What the long runs came to the last time; none before the first."""
    path = resources.files("sleevewright.data").joinpath(ENDURANCE)
    lines = path.read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return tuple(LongRun(**{name: row[name] for name in LONG_RUN}) for row in rows)


def kept_results() -> tuple[Kept, ...]:
    """What each check gave at the last release; none before the first."""
    path = resources.files("sleevewright.data").joinpath(LAST_RELEASE)
    lines = path.read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return tuple(
        Kept(row["release"], row["formula"], row["case"], float(row["computed"]), row["unit"])
        for row in rows
    )


def results_to_keep(told: EvidenceReport, *, release: str) -> str:
    """The file that a release leaves behind, for the next one to compare with."""
    lines = [
        "# What each published check gave at the last release, in the unit of its source.",
        "# Written by tools/keep_evidence.py at a release; only its header before the first.",
        ",".join(COLUMNS),
    ]
    lines += [
        f"{release},{outcome.case.formula},{outcome.case.id},{outcome.computed!r},"
        f'"{outcome.case.unit}"'
        for outcome in told.outcomes
    ]
    return "\n".join(lines) + "\n"
