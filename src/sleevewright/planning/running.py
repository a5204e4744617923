"""The fit in the running engine: what is left, where it opens, when it lets go."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.fits.running import running_interference, running_map
from sleevewright.jobs.model import Entry, Running
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.openings import enter_openings
from sleevewright.planning.shop import Chosen

Q = Quantity
MAP_FROM, MAP_TO, MAP_STEPS = 293.15, 553.15, 27


RUNNING_LEAST = Line("running.least", "The least, hot", Q.DEVIATION, "diametral", is_detail=True)
FIT_MAP = Line(
    "fit.map",
    "How tight over both temperatures",
    Q.RECORD,
    "diametral",
    of="rows casting, columns sleeve",
    is_detail=True,
)


@dataclass(frozen=True)
class RunningRecord:
    """What is told of the engine's temperatures."""

    running: Running
    cooling: str
    count: int
    seed: int
    chosen: Chosen = ()


def running_stage(
    record: RunningRecord, sleeve: StageResult, parent: StageResult, fit: StageResult
) -> StageResult:
    """Answers about the fit hot."""
    ledger = Ledger(sleeve, parent, fit, count=record.count, seed=record.seed, chosen=record.chosen)
    told = record.running
    _enter_temperatures(ledger, "running", told.casting, told.sleeve, record.cooling)
    _enter_temperatures(ledger, "hard", told.hard_casting, told.hard_sleeve, record.cooling)
    enter_default(ledger, RUNNING_LEAST, None, "least_hot")
    _enter_running(ledger)
    enter_openings(ledger)
    _enter_map(ledger)
    return ledger.result()


def _enter_running(ledger: Ledger) -> None:
    """Enter what is left of the fit in ordinary running and in a long hard pull."""
    least = ledger.value("running.least")
    judge = against_limit(
        least,
        "least",
        remedy="heat paint on the sleeve for one run would tell its temperature",
    )
    for key, label in (("running", "How tight, running"), ("hard", "How tight, hard pull")):
        ledger.compute(
            Line(
                f"fit.{key}",
                label,
                Q.DEVIATION,
                "diametral",
                of="at the running temperatures",
                would_change="heat paint on the sleeve for one run; a hot reading of the bore",
            ),
            running_interference,
            How(judge=judge),
            diameter="sleeve.od",
            interference="fit.effective",
            casting_law="casting.law",
            sleeve_law="sleeve.law",
            casting_temperature=f"running.{key}_casting",
            sleeve_temperature=f"running.{key}_sleeve",
        )


def _enter_temperatures(
    ledger: Ledger, key: str, casting: Entry | None, sleeve: Entry | None, cooling: str
) -> None:
    """Enter the two temperatures of a way of running; an assumption carries its doubt."""
    words = "running" if key == "running" else "pulled hard"
    for part, told in (("casting", casting), ("sleeve", sleeve)):
        enter_default(
            ledger,
            Line(
                f"running.{key}_{part}",
                f"{part.capitalize()}, {words}",
                Q.TEMPERATURE,
                of=f"{part}, {words}",
                would_change=f"a reading of the {part} in this engine",
            ),
            told,
            f"{key}_{part}_{cooling}",
        )


def _enter_map(ledger: Ledger) -> None:
    """Enter the map of what is left over casting and sleeve temperature."""
    step = (MAP_TO - MAP_FROM) / (MAP_STEPS - 1)
    axis = tuple(MAP_FROM + step * k for k in range(MAP_STEPS))
    for part in ("casting", "sleeve"):
        ledger.fact(
            Line(
                f"running.{part}_axis", f"{part} temperatures of the map", Q.RECORD, is_detail=True
            ),
            Given(axis, Kind.CHOSEN, source="practice"),
        )
    ledger.compute(
        FIT_MAP,
        running_map,
        CENTRALLY,
        diameter="sleeve.od",
        interference="fit.effective",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        casting_temperatures="running.casting_axis",
        sleeve_temperatures="running.sleeve_axis",
    )
