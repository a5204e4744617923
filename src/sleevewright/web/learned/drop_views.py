"""What the page says of the seconds of the drop: the drops, before and after, what counts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.core.materials import default
from sleevewright.planning.drop_learned import BeforeAfter
from sleevewright.planning.habit_said import fine
from sleevewright.services.bench import Bench
from sleevewright.services.own_drops import (
    LEAST_DROPS,
    DropAcceptance,
    drop_acceptances,
    own_drops,
)
from sleevewright.services.people import name_of
from sleevewright.units import shown
from sleevewright.web.pictures.form_before_after import FormPicture, form_before_after

UNITS = {"inch": ("thou", 25.4e-6), "metric": ("µm", 1e-6)}
PERCENT = 100.0


@dataclass(frozen=True)
class DropLine:
    """One past drop in words."""

    name: str
    href: str
    released: str
    said: str
    slip: str
    note: str


@dataclass(frozen=True)
class ChangeLine:
    """One figure as judged and as the drops say."""

    label: str
    judged: str
    learned: str


@dataclass(frozen=True)
class DropAcceptedView:
    """What was accepted of drops."""

    number: str
    words: str
    made: str
    is_standing: bool
    ended: str


@dataclass(frozen=True)
class DropsView:
    """The section of the page."""

    words: str
    drops: tuple[DropLine, ...]
    changes: tuple[ChangeLine, ...]
    picture: Markup | None
    digest: str
    can_accept: bool
    is_invented: bool
    pair: str
    accepted: tuple[DropAcceptedView, ...]


def drops_view(bench: Bench, units: str) -> DropsView:
    """Drops, what they say beside what is judged, and what was accepted."""
    seen = own_drops(bench)
    found, change = seen.found, seen.change
    changes: tuple[ChangeLine, ...] = ()
    picture: Markup | None = None
    if found is not None and change is not None:
        judged = default("form_allowance").value, default("lean_share").value
        changes = (
            ChangeLine("Slip that shape uses up, half of the jobs less",
                       fine(judged[0], units), fine(found.form, units)),
            ChangeLine("Leans against one side", _share(judged[1]),
                       f"{_share(found.lean)} ± {_share(found.lean_standard)}"),
            *_seconds(change),
        )  # fmt: skip
        picture = form_before_after(_picture(change, units))
    return DropsView(
        words=_words(seen.usable, len(seen.drops)),
        drops=tuple(
            DropLine(
                one.name, f"/jobs/{one.job}/{one.cylinder}/drop", one.released, one.said,
                "" if one.seen is None else fine(float(one.seen.case.slip), units), one.why_not,
            )
            for one in seen.drops
        ),
        changes=changes,
        picture=picture,
        digest=seen.digest,
        can_accept=found is not None and not seen.is_invented,
        is_invented=seen.is_invented,
        pair=seen.pair,
        accepted=tuple(_accepted(bench, one, units) for one in drop_acceptances(bench)),
    )  # fmt: skip


def _words(usable: int, count: int) -> str:
    """How many of them say something, and what is still wanted."""
    if usable >= LEAST_DROPS:
        return f"{usable} of {count} drops tell of their seconds; one that was still loose counts."
    return (
        f"{usable} of {LEAST_DROPS} drops that are wanted. Gauge the slip before each drop, and "
        "tell when it gripped or how long it was still loose."
    )


def _seconds(change: BeforeAfter) -> tuple[ChangeLine, ...]:
    """The seconds of the pair at 5, 50 and 95 in 100."""
    labels = ("19 in 20 stay free at least", "Grips, expected", "May stay loose until")
    kinds = ("time at least", "time at least", "time at most")
    return tuple(
        ChangeLine(label, _time(one, kind), _time(other, kind))
        for label, kind, one, other in zip(
            labels, kinds, change.seconds_judged, change.seconds_learned, strict=True
        )
    )


def _time(seconds: float, kind: str) -> str:
    if not math.isfinite(seconds):
        return "minutes"
    told = shown(seconds, quantity=kind, system="metric")
    return f"{told.figure} {told.unit}"


def _share(value: float) -> str:
    return f"{PERCENT * value:.0f} %"


def _picture(change: BeforeAfter, units: str) -> FormPicture:
    unit, size = UNITS[units]
    return FormPicture(
        tuple(float(one) / size for one in change.forms),
        tuple(float(one) for one in change.judged),
        tuple(float(one) for one in change.learned),
        unit,
        "How likely each form allowance is: as judged, and as the drops of this shop say.",
    )


def _accepted(bench: Bench, one: DropAcceptance, units: str) -> DropAcceptedView:
    said = (
        f"shape uses up {fine(one.form, units)}, diametral; leans {_share(one.lean)}, "
        f"u {_share(one.lean_standard)}; "
        f"from {', '.join(one.from_jobs)}"
    )
    made = f"{one.made[:10]}, {name_of(bench, one.person)}"
    ended = f"{one.ended[:10]} {one.reason}".strip()
    return DropAcceptedView(one.number, said, made, one.is_standing, ended)
