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


def cooling_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The answers of the cooling."""
    return cooling_stage(plan, cooling_told(told))


def cooling_told(told: CutTold) -> CoolingTold:
    """Readings, happenings, and how it stands and is held."""
    own = (0, told.cylinder)
    happened = [
        (str(one.body.get("what", "")), str(one.body.get("at") or one.received))
        for one in told.folded.events
        if one.cylinder in own and one.body.get("stage") in STAGES
    ]
    bore = told.gauged("cooled-bore").grid
    at = None if bore is None or bore.part_temperature is None else bore.part_temperature.value
    return CoolingTold(
        casting=told.job.casting,
        readings=_readings(told),
        begun=_begun(happened),
        happened=tuple(what for what, _ in happened),
        stands_on=told.text("cool.stands_on"),
        air=told.text("cool.air"),
        is_pressed=told.text("cool.flange_pressed") == "yes",
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


def _begun(happened: list[tuple[str, str]]) -> datetime | None:
    """When the newest drop was seated, in the time of this machine."""
    for wanted in BEGINS:
        found = [at for what, at in happened if what == wanted]
        if found:
            try:
                moment = datetime.fromisoformat(found[-1])
            except ValueError:
                return None
            known = moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)
            return known.astimezone()
    return None


def _readings(told: CutTold) -> tuple[CoolingReading, ...]:
    """The log as it was keyed, and a logger's series beside it."""
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
            CoolingReading(float(time), float(kelvin), spread)
            for time, kelvin in zip(series.seconds, series.kelvin, strict=True)
            if time >= 0.0
        ]
    return tuple(found)
