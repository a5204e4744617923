"""Use case: the shop's own maps of ports, engine by engine, and those of one job's engine.

The maps are those that were measured as the cylinders came.  Ports that were worked on by hand
are left out where a target is taken from them; an invented job counts only beside another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.errors import InputError, NotFound, SleevewrightError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import facts_of
from sleevewright.planning.answers import Plan
from sleevewright.planning.port_sources import OtherMap
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import cylinder_of, folded_job
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.target_told import other_map
from sleevewright.store.portlibrary import MappedCylinder, mapped_cylinders

MOST_MAPS = 60
"""Maps of one engine that are read at a time, the newest."""


@dataclass(frozen=True)
class EngineMaps:
    """One engine and the cylinders of it that were mapped."""

    engine: str
    key: str
    cylinders: tuple[MappedCylinder, ...]


def engines_mapped(bench: Bench) -> tuple[EngineMaps, ...]:
    """Every engine of which the shop has a map, by its name."""
    found: dict[str, list[MappedCylinder]] = {}
    for one in bench.store.read(mapped_cylinders):
        found.setdefault(one.engine_key, []).append(one)
    made = [EngineMaps(own[0].engine, key, tuple(own)) for key, own in found.items()]
    return tuple(sorted(made, key=lambda one: one.key))


def maps_of_engine(bench: Bench, plan: Plan, folded: Folded, cylinder: int) -> tuple[OtherMap, ...]:
    """Maps of other jobs with this job's engine, the newest first."""
    key = facts_of(folded, cylinder).engine_key
    if not key:
        return ()
    rows = bench.store.read(lambda connection: mapped_cylinders(connection, key))
    is_invented = bool(folded.opened.get("invented"))
    wanted = [one for one in rows if one.job != folded.job and one.is_invented == is_invented]
    return _read(bench, plan, wanted[:MOST_MAPS])


def _read(bench: Bench, plan: Plan, rows: Sequence[MappedCylinder]) -> tuple[OtherMap, ...]:
    """The maps themselves; one that cannot be read is left out, as its own page says."""
    made = (_map_of(bench, plan, one.job, one.cylinder) for one in rows)
    return tuple(one for one in made if one is not None)


def _map_of(bench: Bench, plan: Plan, number: str, cylinder: int) -> OtherMap | None:
    """The map of one cylinder as it came."""
    try:
        job = cylinder_of(bench, number, cylinder).job
        told = CutTold(job, bench.store.folded(number), cylinder, shop_of_bench(bench))
        return other_map(plan, told, f"{number}/{cylinder}")
    except SleevewrightError:
        return None


def named_map(bench: Bench, plan: Plan, text: str) -> OtherMap:
    """The map of the cylinder that is named as ``D-100/1``.

    Raises
    ------
    InputError
        If it names no cylinder, or one that has no map.
    NotFound
        If there is no such job.
    """
    number, _, cylinder = text.strip().rpartition("/")
    if not (number and cylinder.isdigit()):
        raise InputError(
            "map of another cylinder", clipped(text), "", "job and cylinder, as D-100/1"
        )
    folded = folded_job(bench, number)
    if not 1 <= int(cylinder) <= folded.cylinders:
        known = tuple(str(one + 1) for one in range(folded.cylinders))
        raise NotFound("cylinder of that job", cylinder, known)
    found = _map_of(bench, plan, number, int(cylinder))
    if found is None:
        hint = "Tell its roofs, floors and widths at As found first."
        raise InputError("map of another cylinder", clipped(text), "", "one with a map", hint)
    return found
