"""Where a job stands on its route, and the one thing to do next.

Nothing keeps a state of its own: the stage in hand is the first whose hold is neither met
nor lifted, or whose work is not done.  A stage is open while every hold before it is past.
Only whether something is told is looked at, no number is read.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from sleevewright.jobs.evidence import Asked
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import (
    NOT_MET,
    Hold,
    evidence_of,
    hold_of,
    is_past,
    lift_of,
    verdicts_for,
)
from sleevewright.jobs.life import AFTER, LIFE, life_of
from sleevewright.jobs.sets import state_of
from sleevewright.jobs.stageholds import BORE_ON

__all__ = [
    "LIFE",
    "LifeStep",
    "NextAction",
    "is_open",
    "may_go_on",
    "next_action",
    "steps",
    "words_since",
]

YOURS, HEAT, PEOPLE = "yours", "heat", "people"
DONE, NOW, AHEAD = "done", "now", "ahead"


@dataclass(frozen=True)
class LifeStep:
    """One stage of a cylinder: behind it, in hand or ahead, with its hold."""

    stage: str
    title: str
    state: str  # "done", "now" or "ahead"
    hold: Hold


@dataclass(frozen=True)
class NextAction:
    """The one thing to do next."""

    stage: str
    words: str
    waits_for: str = ""
    since: str = ""  # ISO 8601, when the waiting began
    turn: str = YOURS  # whose turn it is: "yours", "heat" or "people"


@dataclass(frozen=True)
class _Waiting:
    """Something that has to come before the work goes on."""

    what: str
    since: str
    turn: str = PEOPLE
    words: str = ""  # where it is more than waiting


def steps(
    folded: Folded, *, cylinder: int = 1, verdicts: Mapping[str, str] | None = None
) -> tuple[LifeStep, ...]:
    """The route of a cylinder: each stage with its state and its hold."""
    now = _in_hand(folded, cylinder, verdicts or {})
    found: list[LifeStep] = []
    state = DONE
    for stage in life_of(folded):
        is_now = stage.key == now
        hold = hold_of(stage.key, folded, cylinder=cylinder, verdicts=verdicts)
        found.append(LifeStep(stage.key, stage.title, NOW if is_now else state, hold))
        state = AHEAD if is_now else state
    return tuple(found)


def is_open(
    stage: str,
    folded: Folded,
    *,
    cylinder: int = 1,
    verdicts: Mapping[str, str] | None = None,
) -> bool:
    """Whether a stage may be worked at: every hold before it is met or lifted."""
    for one in life_of(folded):
        if one.key == stage:
            return True
        if not is_past(hold_of(one.key, folded, cylinder=cylinder, verdicts=verdicts)):
            return False
    return False


def may_go_on(
    stage: str,
    folded: Folded,
    *,
    cylinder: int = 1,
    verdicts: Mapping[str, str] | None = None,
) -> bool:
    """Whether a job may go on past a stage: its hold is met or lifted, and all before it."""
    return is_open(stage, folded, cylinder=cylinder, verdicts=verdicts) and is_past(
        hold_of(stage, folded, cylinder=cylinder, verdicts=verdicts)
    )


def next_action(
    folded: Folded, *, cylinder: int = 1, verdicts: Mapping[str, str] | None = None
) -> NextAction:
    """The one thing to do next for a cylinder, in the words of the bench.

    Parameters
    ----------
    folded : Folded
        The job.
    cylinder : int
        Which cylinder, from 1.
    verdicts : Mapping[str, str] | None
        Verdicts of the plan, as for :func:`sleevewright.jobs.holds.hold_of`.

    Returns
    -------
    NextAction
        Stage in hand, one sentence, and what is waited for.
    """
    stage = _in_hand(folded, cylinder, verdicts or {})
    asked = Asked(folded, cylinder, verdicts_for(verdicts or {}, cylinder))
    told = folded.value("waits.for", cylinder=cylinder)
    if told is not None and stage != AFTER:
        return _waiting(stage, _Waiting(told.text.strip(), told.received))
    hold = hold_of(stage, folded, cylinder=cylinder, verdicts=verdicts)
    if hold.state != NOT_MET:
        waiting = _HELD_BY_HEAT[stage](asked) if stage in _HELD_BY_HEAT else None
        if waiting:
            return _waiting(stage, waiting)
        turn = PEOPLE if stage == AFTER else YOURS
        return NextAction(stage, _work(stage, asked), turn=turn)
    waiting = _wait(stage, asked)
    if waiting is not None and not folded.missing():
        return _waiting(stage, waiting)
    return NextAction(stage, _wanted(stage, asked) or hold.lacks[0].cure)


def _waiting(stage: str, waiting: _Waiting) -> NextAction:
    words = waiting.words or f"Waiting for {waiting.what}"
    return NextAction(stage, words, waiting.what, waiting.since, waiting.turn)


def _in_hand(folded: Folded, cylinder: int, verdicts: Mapping[str, str]) -> str:
    """The first stage that is not finished."""
    asked = Asked(folded, cylinder, verdicts_for(verdicts, cylinder))
    for stage in life_of(folded):
        if stage.key == AFTER:
            break
        is_lifted = lift_of(stage.key, folded, cylinder=cylinder) is not None
        if stage.key == "release":
            lacks = not is_past(hold_of(stage.key, folded, cylinder=cylinder, verdicts=verdicts))
        else:
            lacks = not is_lifted and bool(evidence_of(stage.key, asked))
        if lacks or _work(stage.key, asked):
            return stage.key
    return AFTER


# What is to be done at a stage besides its hold: words while it is not done.


def _drop_work(asked: Asked) -> str:
    is_down = asked.text("drop.went") or asked.events("seated", "gripped")
    return "" if is_down or _is_later("drop", asked) else "Drop the sleeve"


def _face_work(asked: Asked) -> str:
    is_done = asked.text("face.done") or asked.text("face.cut") or _is_later("face", asked)
    return "" if is_done else "Face the deck, or note that it stays as it is"


def _piston_work(asked: Asked) -> str:
    if asked.is_ticked("piston.bored") or _is_later("face", asked):
        return ""
    is_on = asked.goes_on("finish.next_ask", "piston.pass/", "finish-bore", stage="piston")
    return BORE_ON if is_on else "Bore to the piston"


def _rings_work(asked: Asked) -> str:
    is_done = asked.text("rings.top_gap") or asked.text("release.washed")
    return "" if is_done or _is_later("rings", asked) else "Measure the gap of the rings"


def _release_work(asked: Asked) -> str:
    is_out = any(one.cylinder in (0, asked.cylinder) for one in asked.folded.releases)
    if is_out:
        return ""
    if not asked.is_ticked("release.washed"):
        return "Wash the cylinder, until a white cloth stays white"
    return "Sign the release"


def _after_work(asked: Asked) -> str:
    if asked.text("after.outcome"):
        return "Nothing more to do; it is on record"
    return "Note how it runs, when it is heard of"


_WORK: Mapping[str, Callable[[Asked], str]] = {
    "drop": _drop_work,
    "face": _face_work,
    "piston": _piston_work,
    "rings": _rings_work,
    "release": _release_work,
    AFTER: _after_work,
}


def _work(stage: str, asked: Asked) -> str:
    """What is still to be done at a stage whose hold is past; empty where nothing is."""
    return _WORK[stage](asked) if stage in _WORK else ""


def _is_later(stage: str, asked: Asked) -> bool:
    """Whether readings, events or a release of a later stage are there."""
    order = [one.key for one in LIFE]
    later = set(order[order.index(stage) + 1 :])
    folded, own = asked.folded, (0, asked.cylinder)
    happened = any(one.body.get("stage") in later and one.cylinder in own for one in folded.events)
    return (
        happened
        or any(one.cylinder in own for one in folded.releases)
        or any(
            one.body.get("stage") in later and one.cylinder in own and state_of(folded, one).read
            for one in folded.sets.values()
        )
    )


# What is best told while a stage is in hand, though its hold does not ask for it.

_WANTED: Mapping[str, tuple[tuple[str, str], ...]] = {
    "intake": (("casting.material", "Say what the casting is made of"),),
}


def _wanted(stage: str, asked: Asked) -> str:
    """The first of what is best told now."""
    for cell, words in _WANTED.get(stage, ()):
        if not asked.text(cell):
            return words
    if stage == "ready":
        return _wash(asked)
    return _old_bore(asked) if stage == "found" else ""


def _old_bore(asked: Asked) -> str:
    """The bore as found, gauged while it is there: once cracks were looked for."""
    if not asked.text("found.cracks") or asked.is_begun("as-found-bore"):
        return ""
    return "Gauge the bore as found"


def _wash(asked: Asked) -> str:
    """The wash that is not ended by a clean wipe."""
    happened = asked.events("wash", "wipe", "clean")
    if not happened:
        return ""
    last = happened[-1].body
    if last.get("what") == "wash":
        return "Wipe with a white cloth"
    if last.get("what") == "wipe" and str(last.get("result", "")).lower() != "clean":
        return "Wash again, the wipe was not clean"
    return ""


# What is waited for without anybody having said so.


def _wait(stage: str, asked: Asked) -> _Waiting | None:
    """What a stage whose hold is not met waits for, as far as the records tell."""
    if stage in _HELD_BY_HEAT:
        return _HELD_BY_HEAT[stage](asked)
    for at, cell, said, what in _AWAITED:
        told = asked.folded.value(cell, cylinder=asked.cylinder)
        if at == stage and told is not None and said in ("", told.text.strip()):
            return _Waiting(what, told.received)
    return None


_AWAITED = (
    ("choice", "choice.offered", "", "the customer's word"),
    ("sleeve", "choice.sleeve", "ordered", "the sleeve"),
    ("piston", "intake.piston", "to come", "the piston"),
)


def _oven(asked: Asked) -> _Waiting | None:
    happened = asked.events("oven-in", "out")
    if not happened or happened[-1].body.get("what") != "oven-in":
        return None
    since = str(happened[-1].body.get("at") or happened[-1].received)
    return _Waiting("the oven", since, HEAT, "In the oven: gauge the slip when it is soaked")


def _cooling(asked: Asked) -> _Waiting | None:
    happened = asked.events("in", "seated", "gripped", "unclamped", "measured")
    if not happened or happened[-1].body.get("what") == "measured":
        return None
    last = happened[-1].body
    since = str(last.get("at") or happened[-1].received)
    if last.get("what") == "unclamped":
        words = "Cooling: gauge it when it is as warm as the bench"
    else:
        words = "Keep it down until the casting is near 60 °C (140 °F)"
    return _Waiting("the cooling", since, HEAT, words)


_HELD_BY_HEAT: Mapping[str, Callable[[Asked], _Waiting | None]] = {
    "heat": _oven,
    "cool": _cooling,
}

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def words_since(since: str, now: str) -> str:
    """Since when something waits, as it is said; both moments in ISO 8601.

    The day is that of the place whose time ``now`` is told in.

    Examples
    --------
    >>> words_since("2026-11-24T09:00:00Z", "2026-11-26T10:00:00Z")
    'since Tuesday'
    """
    if not since:
        return ""
    then, here = _moment(since), _moment(now)
    then = then.astimezone(here.tzinfo)
    days = (here.date() - then.date()).days
    if days <= 0:
        return f"since {then:%H:%M}"
    if days == 1:
        return "since yesterday"
    if days < 7:
        return f"since {_DAYS[then.weekday()]}"
    day = f"since {then.day} {_MONTHS[then.month - 1]}"
    return day if then.year == here.year else f"{day} {then.year}"


def _moment(text: str) -> datetime:
    """A moment; one without a zone is taken as UTC."""
    return datetime.fromisoformat(text if _has_zone(text) else f"{text}+00:00")


def _has_zone(text: str) -> bool:
    return datetime.fromisoformat(text).tzinfo is not None
