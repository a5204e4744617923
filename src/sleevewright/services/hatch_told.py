"""Use case: crosshatch and roughness at the two stages that hone, from what was told there."""

from __future__ import annotations

from sleevewright.jobs.catalog_hatch import CRANK, EVEN
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.crosshatch import Hatch, HonedWall, PortWindow, crosshatch_stage
from sleevewright.planning.surface import WALL_OF, Surface
from sleevewright.services.cut_told import CutTold
from sleevewright.units import from_unit

BY_THE_MINUTE = "/min"
BORES = {"hone": ("finish.size", "finish.bore"), "honefit": ("bore.size", "bore.target")}
"""Answers that give the bore at each stage that hones, the best known first."""

LENGTHS = {"Ra": "ra", "Rz": "roughness", "Rk": "rk", "Rpk": "rpk", "Rvk": "rvk"}
SHARES = {"Mr1": "mr1", "Mr2": "mr2"}


def hone_hatch(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Crosshatch and roughness of the finished bore."""
    wall = WALL_OF.get(told.text("hone.rings"), "any")
    return _stage(plan, told, Hatch("hone", "Hone to piston", "hatch", BORES["hone"]), wall)


def fit_hatch(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Crosshatch and roughness of the parent bore."""
    hatch = Hatch("honefit", "Hone to fit", "fithatch", BORES["honefit"])
    return _stage(plan, told, hatch, "parent")


def _stage(plan: Plan, told: CutTold, asked: Hatch, wall: str) -> StageAnswers | None:
    """The answers of one stage; nothing where nothing of it was told."""
    stage = asked.stage
    read = _read(told, stage)
    turns, cycles = (_rate(told.number(f"{stage}.{name}")) for name in ("speed", "cycles"))
    stroke = told.length(f"{stage}.stroke")
    wanted, measured = (told.number(f"{stage}.{one}") for one in ("angle_wanted", "angle"))
    if not read and all(one is None for one in (turns, cycles, stroke, wanted, measured)):
        return None
    drive = told.text(f"{stage}.drive") or CRANK
    return crosshatch_stage(
        plan,
        Hatch(
            stage=stage,
            title=asked.title,
            prefix=asked.prefix,
            bores=asked.bores,
            turns=turns,
            cycles=cycles,
            stroke=stroke,
            drive=drive,
            wall=_wall(told, drive),
            wanted=wanted,
            measured=measured,
            surface=Surface(asked.prefix.replace("hatch", "rough"), wall, read),
        ),
    )


def _wall(told: CutTold, drive: str) -> HonedWall:
    """The wall as the job tells it; a port of which an edge is not told is not drawn."""
    length = told.job.sleeve.length
    windows = tuple(
        PortWindow(one.name, one.roof.value, one.floor.value, one.width.value)
        for one in told.job.ports
        if one.roof is not None and one.floor is not None and one.width is not None
    )
    return HonedWall(None if length is None else length.value, drive == EVEN, windows)


def _rate(by_the_minute: float | None) -> float | None:
    """What was told by the minute, by the second."""
    return None if by_the_minute is None else from_unit(by_the_minute, BY_THE_MINUTE)


def _read(told: CutTold, stage: str) -> dict[str, float]:
    """Readings of a tester by parameter, as far as they were told."""
    found: dict[str, float] = {}
    for parameter, key in LENGTHS.items():
        entry = told.length(f"{stage}.{key}")
        if entry is not None:
            found[parameter] = entry.value
    for parameter, key in SHARES.items():
        share = told.number(f"{stage}.{key}")
        if share is not None:
            found[parameter] = share
    return found
