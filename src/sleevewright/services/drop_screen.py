"""Use case: what the drop screen shows: the planner's figures and the last gauging, no more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in
from sleevewright.planning.recovery import branches
from sleevewright.planning.recovery_cases import Branch
from sleevewright.planning.shown import ShownNumber, shown_answer
from sleevewright.services.cut_told import CutTold
from sleevewright.services.oven_heats import newest_slip
from sleevewright.services.oven_watch import oven_watch
from sleevewright.units import shown

SECONDS = {"s": 1.0, "min": 60.0}
"""What a shown time is in seconds."""

FROSTY = 5.0
"""A sleeve so much colder than the room is a chilled one. [K]"""

OWN_CELLS = ("drop.went", "drop.clock_off")
"""Cells that the screen tells afterwards."""


@dataclass(frozen=True)
class DryRun:
    """One line that is gone through before the drop."""

    key: str
    words: str
    detail: str = ""


@dataclass(frozen=True)
class DropScreen:
    """Everything that the screen needs before the link may go."""

    line_up: float | None  # seconds as they are shown, rounded down; five at most
    expected: float | None
    latest: float | None
    why_not: str  # why there are no seconds, in words; empty where there are
    casting: str
    sleeve: str
    unit: str  # of both temperatures
    has_ports: bool
    dry_run: tuple[DryRun, ...]
    slip: str  # as gauged at the body, with its unit; empty where it was not
    slip_age: float | None  # seconds since it was gauged
    slip_wanted: str
    stand: str  # go or not, in the word that the page at the oven says at this moment
    out_age: float | None  # seconds since it came out of the oven; nothing while it is in
    carry: str  # what the plan counts on for the carry, in words
    branches: tuple[Branch, ...]
    heads: Mapping[str, tuple[str, ...]]  # ids that a new value of a cell replaces


def drop_screen(plan: Plan | None, told: CutTold, *, now: datetime) -> DropScreen:
    """What is shown of a cylinder's drop.

    Parameters
    ----------
    plan : Plan | None
        The plan with the answers beside it; nothing where the job is not known well enough.
    told : CutTold
        The job and its records.
    now : datetime
        The moment of the look, with its zone.

    Returns
    -------
    DropScreen
        Figures as they are rounded everywhere; nothing where the plan has none.
    """
    casting, sleeve = _shown(plan, "heat.drop_at"), _shown(plan, "heat.sleeve")
    line_up = _seconds(plan, "drop.line_up")
    has_ports = bool(told.job.ports)
    watch = oven_watch(plan, told, now=now)
    gauged = newest_slip(told, watch.heat, "body")
    wanted = _shown(plan, "heat.needle") or _shown(plan, "heat.slip")
    return DropScreen(
        line_up=line_up,
        expected=_seconds(plan, "drop.expected"),
        latest=_seconds(plan, "drop.until"),
        why_not="" if line_up is not None else _lacking(plan),
        casting="" if casting is None else casting.figure,
        sleeve="" if sleeve is None else sleeve.figure,
        unit="" if casting is None else casting.unit,
        has_ports=has_ports,
        dry_run=_dry_run(plan, has_ports=has_ports),
        slip="" if gauged is None else gauged[1],
        slip_age=None if gauged is None else max(0.0, (now - gauged[0]).total_seconds()),
        slip_wanted="" if wanted is None else f"{wanted.figure} {wanted.unit}",
        stand=watch.stand,
        out_age=_out_age(told, now),
        carry=_carry(plan),
        branches=() if plan is None else branches(plan),
        heads={
            cell: tuple(one.id for one in told.folded.heads(cell, cylinder=told.cylinder))
            for cell in OWN_CELLS
        },
    )


def _shown(plan: Plan | None, identity: str) -> ShownNumber | None:
    """An answer as it is printed; nothing where it is not known."""
    known = None if plan is None else known_in(plan, identity)
    if plan is None or known is None or known.value is None:
        return None
    return shown_answer(known, system=plan.units)


def _seconds(plan: Plan | None, identity: str) -> float | None:
    """A time in seconds as it is shown, so that dial and plan say the same."""
    figures = _shown(plan, identity)
    if figures is None or figures.unit not in SECONDS:
        return None
    try:
        return float(figures.figure) * SECONDS[figures.unit]
    except ValueError:
        return None


def _lacking(plan: Plan | None) -> str:
    """Why there are no seconds."""
    if plan is None:
        return "the job is not known well enough"
    needs = next((one.needs for one in plan.answers() if one.id == "drop.line_up"), ())
    return ", ".join(needs) or "the plan has none"


def _moment(said: str) -> datetime:
    """A moment that a record tells, with its zone."""
    told = datetime.fromisoformat(said)
    return told if told.tzinfo is not None else told.replace(tzinfo=UTC)


def _number(plan: Plan | None, identity: str) -> float | None:
    """An answer that is a number."""
    known = None if plan is None else known_in(plan, identity)
    return known.value if known is not None and isinstance(known.value, float) else None


def _is_chilled(plan: Plan | None) -> bool:
    """Whether the sleeve comes colder than the room, so that frost grows on it."""
    sleeve, room = _number(plan, "heat.sleeve"), _number(plan, "heat.room")
    return sleeve is not None and room is not None and sleeve < room - FROSTY


def _out_age(told: CutTold, now: datetime) -> float | None:
    """Seconds since the casting came out of the oven, if it did not go in again."""
    moments = sorted(
        (_moment(str(record.body.get("at") or record.received)), str(record.body.get("what")))
        for record in told.folded.events
        if record.body.get("cylinder") in (0, told.cylinder)
    )
    last = None
    for at, what in moments:  # by when it was, not by when it came
        if what in ("oven-in", "back-in", "in"):
            last = None
        elif what in ("out", "taken-out"):
            last = at
    return None if last is None else max(0.0, (now - last).total_seconds())


def _carry(plan: Plan | None) -> str:
    """What the plan counts on for the carry, and what more of it costs, in words."""
    time, lost = _number(plan, "heat.carry"), _number(plan, "heat.carry_loss")
    if plan is None or not time or lost is None:
        return ""
    per_ten = shown(lost / time * 10.0, quantity="fine deviation", system=plan.units)
    counted = shown(time, quantity="time", system=plan.units, given=True)
    return (
        f"The plan counts on {counted.words} from oven to entry; every ten seconds more cost "
        f"about {per_ten.words} of slip, diametral."
    )


def _dry_run(plan: Plan | None, *, has_ports: bool) -> tuple[DryRun, ...]:
    """What is gone through before anything is hot in the hand."""
    clocking = ""
    if plan is not None and has_ports:
        found = known_in(plan, "clock.said")
        clocking = "" if found is None or found.value is None else str(found.value)
    lines = [DryRun("dummy", "Whole drop gone through cold")]
    if has_ports:
        unknown = "Not known: the marks of make ready hold"
        lines.append(DryRun("marks", "Marks on flange and deck can be seen", clocking or unknown))
    is_chilled = _is_chilled(plan)
    lines += [
        DryRun("plate", "Flat plate and hold-down in reach"),
        DryRun("gloves", "Gloves on both hands, face shield down"),
        DryRun("path", "Path from the oven clear, nobody in it"),
        DryRun("level", "Casting level, room for the skirt below it"),
        DryRun(
            "dry",
            "Sleeve dry, out of its bag last" if is_chilled else "Sleeve dry and wiped",
        ),
    ]
    return tuple(lines)
