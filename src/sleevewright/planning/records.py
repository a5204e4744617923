"""What each stage of a plan is told of a job: one small record each, and nothing more.

A stage is cached by its record, so a record holds only what its stage uses.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.model import Grid, Job
from sleevewright.jobs.pastjobs import pairing_of
from sleevewright.planning.counterbore import CounterboreRecord
from sleevewright.planning.drop import DropRecord
from sleevewright.planning.drop_habit import DROP_FORM_LEARNED, DROP_LEAN_LEARNED
from sleevewright.planning.finish import FinishRecord
from sleevewright.planning.fit_sides import FitRecord
from sleevewright.planning.habit import HABIT
from sleevewright.planning.heat import HeatRecord
from sleevewright.planning.parent import ParentRecord
from sleevewright.planning.ports import PortsRecord
from sleevewright.planning.running import RunningRecord
from sleevewright.planning.shop import Shop
from sleevewright.planning.sleeve import SleeveRecord

SLEEVE_FEATURES = ("sleeve-od", "sleeve-id", "flange-od", "flange-thickness")
PARENT_FEATURES = ("parent-bore", "counterbore", "counterbore-depth")


@dataclass(frozen=True)
class Records:
    """The records of all stages."""

    sleeve: SleeveRecord
    parent: ParentRecord
    fit: FitRecord
    running: RunningRecord
    counterbore: CounterboreRecord
    heat: HeatRecord
    drop: DropRecord
    finish: FinishRecord
    ports: PortsRecord


def records_of(job: Job, shop: Shop) -> Records:
    """What the stages are told of this job in this shop."""
    count, seed = shop.settings.budget_samples, shop.settings.seed
    most = shop.settings.least_chance_most
    own = shop.chosen
    known = job.instruments + shop.instruments
    cooling, units, ported = job.engine.cooling, job.units, is_ported(job)
    sleeve_grids, parent_grids = _grids(job, SLEEVE_FEATURES), _grids(job, PARENT_FEATURES)
    casting, sleeve, choice, heat = job.casting, job.sleeve, job.choice, job.heat
    return Records(
        sleeve=SleeveRecord(sleeve, sleeve_grids, known, units, count, seed),
        parent=ParentRecord(
            casting, choice, cooling, parent_grids, known, units, count, seed, own, job.ports
        ),
        fit=FitRecord(
            casting,
            sleeve,
            choice,
            heat,
            ported,
            most,
            units,
            count,
            seed,
            own,
            shop.learned(HABIT, pairing_of(casting.material, sleeve.material, cooling).key),
            _windows(job),
        ),
        running=RunningRecord(job.running, cooling, count, seed, own),
        counterbore=CounterboreRecord(choice, count, seed, own),
        heat=HeatRecord(heat, casting, sleeve, count, seed, own),
        drop=_drop(job, shop),
        finish=FinishRecord(
            job.piston,
            job.engine.bore,
            count,
            seed,
            own,
            has_neighbour=casting.web is not None or casting.centres is not None,
        ),
        ports=PortsRecord(job.engine, job.ports if ported else (), count, seed),
    )


def _drop(job: Job, shop: Shop) -> DropRecord:
    """What the drop is told, with what was accepted of this shop's own drops."""
    return DropRecord(
        job.heat,
        job.casting,
        job.sleeve,
        shop.settings.drop_samples,
        shop.settings.budget_samples,
        shop.settings.seed,
        shop.chosen,
        form=shop.learned(DROP_FORM_LEARNED, ""),
        lean=shop.learned(DROP_LEAN_LEARNED, ""),
    )


def is_ported(job: Job) -> bool:
    """Whether the cylinder has ports that are timed."""
    return job.engine.kind == "two-stroke"


def _windows(job: Job) -> tuple[tuple[float, float], ...]:
    """Width and height of every port; nothing where one of them is not told in full."""
    found = []
    for port in job.ports:
        if port.roof is None or port.floor is None or port.width is None:
            return ()
        found.append((port.width.value, port.floor.value - port.roof.value))
    return tuple(found)


def _grids(job: Job, features: tuple[str, ...]) -> tuple[Grid, ...]:
    """The last grid of each feature, so that a stage is told only what it uses."""
    return tuple(grid for grid in map(job.grid, features) if grid is not None)
