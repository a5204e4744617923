"""Use case: what was told of a casting while it cools, handed to the planner."""

from __future__ import annotations

from datetime import UTC, datetime

from sleevewright.core.heat.cooling_fit import CoolingReading
from sleevewright.jobs.serieslog import told_series
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.cooling import cooling_stage
from sleevewright.planning.cooling_told import CoolingTold, HeldDown
from sleevewright.planning.shop import default_in
from sleevewright.services.cut_told import CutTold

STAGES = ("drop", "cool")
BEGINS = ("seated", "in", "gripped")
"""What starts the clock, the best first."""


FIRST_OF_ALL = datetime.min.replace(tzinfo=UTC)


def cooling_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The answers of the cooling."""
    return cooling_stage(plan, cooling_told(told))


def cooling_told(told: CutTold) -> CoolingTold:
    """Readings, happenings, and how it stands and is held."""
    happened = _since_entry(told)
    bore = told.gauged("cooled-bore").grid
    readings = _readings(told, _logger_late(happened))
    at = None if bore is None or bore.part_temperature is None else bore.part_temperature.value
    return CoolingTold(
        casting=told.job.casting,
        sleeve=told.job.sleeve,
        readings=readings,
        sleeve_last=_sleeve_beside(told, readings),
        begun=_begun(happened),
        happened=tuple(what for what, _ in happened),
        stands_on=told.text("cool.stands_on"),
        air=told.text("cool.air"),
        is_pressed=told.text("cool.flange_pressed") == "yes",
        has_flange=told.text("sleeve.flange") != "plain",
        held=HeldDown(
            told.text("cool.hold_with"),
            told.text("cool.stud"),
            told.number("cool.studs"),
            told.length("cool.stud_free"),
            told.length("cool.stud_engaged"),
            told.number("cool.stud_torque"),
        ),
        unclamped_at=told.number("cool.unclamped_at"),
        bore_at=at,
    )


def _since_entry(told: CutTold) -> list[tuple[str, str]]:
    """What happened since the newest sleeve went in, in order: what, and when."""
    own = (0, told.cylinder)
    every = [
        (str(one.body.get("what", "")), str(one.body.get("at") or one.received))
        for one in told.folded.events
        if one.cylinder in own and one.body.get("stage") in STAGES
    ]
    every.sort(key=lambda one: (_moment(one[1]) or FIRST_OF_ALL, one[0] != "in"))
    kept: list[tuple[str, str]] = []
    for what, at in every:
        if what in {"in", "pulled-out"}:  # what was told of an earlier try is not of this one
            kept = []
        if what != "pulled-out":
            kept.append((what, at))
    return kept


def _moment(text: str) -> datetime | None:
    """A moment in the time of this machine; nothing where it cannot be read."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    known = moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)
    return known.astimezone()


def _begun(happened: list[tuple[str, str]]) -> datetime | None:
    """When the newest drop was seated."""
    for wanted in BEGINS:
        found = [at for what, at in happened if what == wanted]
        if found:
            return _moment(found[-1])
    return None


def _logger_late(happened: list[tuple[str, str]]) -> float:
    """How long after the clock's start the sleeve gripped, from which a logger's seconds count."""
    begun = _begun(happened)
    grips = [_moment(at) for what, at in happened if what == "gripped"]
    gripped = next((one for one in grips if one is not None), None)
    if begun is None or gripped is None:
        return 0.0
    return max((gripped - begun).total_seconds(), 0.0)


def _sleeve_beside(told: CutTold, readings: tuple[CoolingReading, ...]) -> float | None:
    """The sleeve as it was read beside the newest reading of the casting."""
    newest = max((one.time for one in readings), default=None)
    for row in told.rows("cool.log/"):
        if newest is not None and told.number(f"cool.log/{row}/minutes") == newest:
            return told.number(f"cool.log/{row}/sleeve")
    return None


def _readings(told: CutTold, late: float) -> tuple[CoolingReading, ...]:
    """The log as it was keyed, and a logger's series beside it, so much later."""
    standard = default_in(told.shop.chosen, "probe_temperature").doubt
    found = []
    for row in told.rows("cool.log/"):
        time = told.number(f"cool.log/{row}/minutes")
        casting = told.number(f"cool.log/{row}/casting")
        if time is not None and casting is not None:
            found.append(CoolingReading(time, casting, standard))
    series = told_series(told.folded, "cool", cylinder=told.cylinder)
    if series is not None:
        spread = max(standard, series.within)
        found += [
            CoolingReading(float(time) + late, float(kelvin), spread)
            for time, kelvin in zip(series.seconds, series.kelvin, strict=True)
            if time >= 0.0
        ]
    return tuple(found)
