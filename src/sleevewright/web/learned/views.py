"""What the page of what was learned shows, as records of figures and words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from markupsafe import Markup

from sleevewright.jobs.pastjobs import BACK, DAY, WELL, PastJob, pairing_words
from sleevewright.planning.answers import Plan, Quantity
from sleevewright.planning.habit_said import bound_plan, fine, habit_plan, half_width
from sleevewright.planning.learning import (
    LEAST_JOBS,
    Counts,
    Lasting,
    Learned,
    counted,
    fit_range,
    lasting,
    lasting_by_fit,
    learned_from,
    own_fit,
    that_count,
)
from sleevewright.services.bench import Bench
from sleevewright.services.learned import Acceptance, acceptances, all_past_jobs
from sleevewright.services.people import Person, asks_pin, name_of, people
from sleevewright.services.settings import units_of
from sleevewright.web.learned.drop_views import DropsView, drops_view
from sleevewright.web.learned.pictures import PER_UNIT, fits_picture, lasting_picture, left_out
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import AnswerView, BasisView

HERE = "/learned"
MOST_LISTED = 200
THOUSAND = 1000.0


@dataclass(frozen=True)
class Asked:
    """What the address asks for: a pairing, and the job that it is asked beside."""

    pairing: str = ""
    number: str = ""
    cylinder: int = 1
    plan: Plan | None = None


@dataclass(frozen=True)
class PairingLine:
    """One pairing to choose, with its counts."""

    words: str
    counts: Counts
    href: str
    is_shown: bool


@dataclass(frozen=True)
class PastLine:
    """One past cylinder in figures."""

    name: str
    title: str
    href: str
    released: str
    per_unit: str
    fit: str
    proved: str
    outcome: str
    ran: str
    symptom: str
    cause: str
    is_back: bool


@dataclass(frozen=True)
class StepLine:
    """One step of a curve."""

    day: str
    at_risk: str
    failures: str
    share: str
    band: str


@dataclass(frozen=True)
class LastingView:
    """One curve with its figures, or the bound in its place."""

    title: str
    words: str
    picture: Markup | None
    steps: tuple[StepLine, ...]
    answers: tuple[AnswerView, ...]
    bases: tuple[BasisView, ...]


@dataclass(frozen=True)
class HabitView:
    """The shop's habit in the chosen pairing."""

    words: str
    answers: tuple[AnswerView, ...]
    bases: tuple[BasisView, ...]
    advice: tuple[str, ...]
    jobs: str
    digest: str
    can_accept: bool


@dataclass(frozen=True)
class AcceptedView:
    """Something that was accepted."""

    number: str
    words: str
    value: str
    doubt: str
    by: str
    day: str
    jobs: str
    is_standing: bool
    ended: str


@dataclass(frozen=True)
class LearnedPage:
    """Everything that the page shows."""

    words: str
    beside: str  # job that it is asked beside
    back: str  # address to go back to
    pairing: str
    shown: str  # words of the pairing
    counts: Counts
    pairings: tuple[PairingLine, ...]
    unit: str
    picture: Markup | None
    left_out: int
    ranges: str
    lasting: tuple[LastingView, ...]
    habit: HabitView | None
    accepted: tuple[AcceptedView, ...]
    backs: tuple[PastLine, ...]  # of every pairing
    jobs: tuple[PastLine, ...]
    unlisted: int
    people: tuple[Person, ...]
    asks_pin: bool
    drops: DropsView


def learned_page(bench: Bench, asked: Asked) -> LearnedPage:
    """What the shop's jobs say of a pairing, or of all of them."""
    units, everything = units_of(bench), all_past_jobs(bench)
    counting = that_count(everything)
    mine = [one for one in counting if asked.pairing in ("", one.pairing.key)]
    newest = tuple(reversed(mine))
    return LearnedPage(
        words=_words(everything, counting),
        beside=asked.number,
        back=f"/jobs/{asked.number}/{asked.cylinder}/fit" if asked.number else "/",
        pairing=asked.pairing,
        shown=pairing_words(asked.pairing) if asked.pairing else "",
        counts=counted(mine),
        pairings=_pairings(counting, asked),
        unit=PER_UNIT[units],
        picture=fits_picture(mine, units, asked.plan),
        left_out=left_out(mine),
        ranges=_ranges(mine, units, asked.plan),
        lasting=_lastings(mine, units),
        habit=_habit(everything, asked.pairing, units) if asked.pairing else None,
        accepted=tuple(_accepted(bench, one, units) for one in acceptances(bench)),
        backs=tuple(_line(one, units) for one in reversed(counting) if one.outcome == BACK),
        jobs=tuple(_line(one, units) for one in newest[:MOST_LISTED]),
        unlisted=max(0, len(newest) - MOST_LISTED),
        people=people(bench),
        asks_pin=asks_pin(bench),
        drops=drops_view(bench, units),
    )


def _words(everything: Sequence[PastJob], counting: Sequence[PastJob]) -> str:
    """From how many jobs all this is, and which do not count."""
    if not everything:
        return "No cylinder was released yet. What was measured, proved and heard of stands here."
    unit = "cylinder" if len(counting) == 1 else "cylinders"
    if counting[0].is_invented:
        return f"From {len(counting)} released {unit}, every one invented: this shows how it looks."
    invented = len(everything) - len(counting)
    said = f"From {len(counting)} released {unit}."
    return f"{said} {invented} invented left out." if invented else said


def _ranges(jobs: Sequence[PastJob], units: str, plan: Plan | None) -> str:
    """The fits of those that run well and of those that came back, beside this job's."""
    told = []
    for outcome, words in ((WELL, "those that run well"), (BACK, "those that came back")):
        ends = fit_range(jobs, outcome)
        if ends is not None:
            low, high = (f"{THOUSAND * one:.2f}" for one in ends)
            told.append(f"{words} had {low if low == high else f'{low} to {high}'}")
    own = None if plan is None else own_fit(plan)
    if told and own is not None:
        told.append(f"this one {THOUSAND * own.ratio:.2f}")
    said = ", ".join(told)
    return f"{said[:1].upper()}{said[1:]} {PER_UNIT[units]}." if told else ""


def _pairings(jobs: Sequence[PastJob], asked: Asked) -> tuple[PairingLine, ...]:
    found: dict[str, list[PastJob]] = {}
    for one in jobs:
        found.setdefault(one.pairing.key, []).append(one)
    ranked = sorted(found.items(), key=lambda item: (-len(item[1]), item[0]))
    return tuple(
        PairingLine(own[0].pairing.words, counted(own), _address(asked, key), key == asked.pairing)
        for key, own in ranked
    )


def _address(asked: Asked, pairing: str) -> str:
    told = {"pairing": pairing}
    if asked.number:
        told |= {"job": asked.number, "cylinder": str(asked.cylinder)}
    return f"{HERE}?{urlencode(told)}"


def _lastings(jobs: Sequence[PastJob], units: str) -> tuple[LastingView, ...]:
    """The curve of all, and of less and more fit where both sides have enough."""
    whole = lasting(jobs)
    told = (whole, *lasting_by_fit(jobs))
    return tuple(_lasting(one, place, units) for place, one in enumerate(told))


def _lasting(one: Lasting, place: int, units: str) -> LastingView:
    counts = one.counts
    heard = counts.well + counts.back
    words = f"{heard} heard of, {counts.back} came back; followed for {one.longest:.0f} days."
    if counts.unheard:
        words += (
            f" {counts.unheard} not heard of count for nothing here; those that run well are "
            "told of more seldom than those that come back, so the share is likely higher."
        )
    if not heard:
        words = "None of them was heard of yet: ask how they run."
    plan = bound_plan(one, units=units)
    answers, bases = _shown(plan, units)
    return LastingView(one.title, words, lasting_picture(one, place), _steps(one), answers, bases)


def _steps(one: Lasting) -> tuple[StepLine, ...]:
    curve = one.curve
    if curve is None:
        return ()
    return tuple(
        StepLine(
            f"{time / DAY:.0f}",
            f"{at_risk:.0f}",
            f"{failures:.0f}",
            f"{100.0 * share:.0f}",
            f"{100.0 * low:.0f} to {100.0 * high:.0f}",
        )
        for time, at_risk, failures, share, low, high in zip(
            curve.times, curve.at_risk, curve.failures, curve.share, curve.low, curve.high,
            strict=True,
        )
    )  # fmt: skip


def _habit(jobs: Sequence[PastJob], pairing: str, units: str) -> HabitView:
    learned = learned_from(jobs, pairing)
    plan = habit_plan(learned, units=units)
    answers, bases = _shown(plan, units)
    proved = f"{learned.jobs} {'job' if learned.jobs == 1 else 'jobs'} proved by the close-up"
    if learned.missing:
        words = (
            f"{proved}; {LEAST_JOBS} are wanted at the least, {learned.missing} more. "
            "Gauge the sleeve's bore before the drop and after."
        )
    else:
        words = f"{proved}, {learned.own} of this pairing; come-backs count like any other."
    return HabitView(
        words,
        answers,
        bases,
        plan.stages[0].advice,
        ", ".join(learned.from_jobs),
        learned.digest,
        _can_accept(learned, jobs),
    )


def _can_accept(learned: Learned, jobs: Sequence[PastJob]) -> bool:
    """Whether a habit may count: of real jobs, for a pairing of which one was released."""
    is_known = any(one.pairing.key == learned.pairing for one in that_count(jobs))
    return is_known and learned.habit is not None and not learned.is_invented


def _shown(plan: Plan, units: str) -> tuple[tuple[AnswerView, ...], tuple[BasisView, ...]]:
    """Answers of such a plan in figures, each with what stands behind it."""
    viewer = Viewer(plan, units)
    ids = [
        one.id
        for one in plan.answers()
        if one.quantity is not Quantity.RECORD and not one.is_detail
    ]
    return tuple(_finely(viewer, one) for one in ids), tuple(
        viewer.basis((one,), lambda _: "") for one in ids
    )


def _finely(viewer: Viewer, identity: str) -> AnswerView:
    """A length of this page as a row: finer than a fit is shown, with its doubt."""
    view, answer = viewer.answer(identity), viewer.plan.answer(identity)
    if answer.quantity is not Quantity.DEVIATION or not isinstance(answer.value, float):
        return view
    figure = fine(answer.value, viewer.system).partition(" ")[0]
    doubt = answer.doubt
    half = "" if doubt is None else fine(half_width(doubt), viewer.system).partition(" ")[0]
    return replace(view, shown=replace(view.shown, figure=figure, doubt=half))


def _accepted(bench: Bench, one: Acceptance, units: str) -> AcceptedView:
    ended = ""
    if one.ended:
        ended = f"{one.ended[:10]}, {name_of(bench, one.ended_by)}: {one.reason}"
    return AcceptedView(
        number=one.number,
        words=pairing_words(one.pairing),
        value=fine(one.value, units),
        doubt=fine(one.standard, units),
        by=name_of(bench, one.person),
        day=one.made[:10],
        jobs=", ".join(one.from_jobs),
        is_standing=one.is_standing,
        ended=ended,
    )


def _line(one: PastJob, units: str) -> PastLine:
    return PastLine(
        name=one.job if one.cylinder == 1 else f"{one.job}, cylinder {one.cylinder}",
        title=one.title,
        href=f"/jobs/{one.job}/{one.cylinder}/after",
        released=one.released,
        per_unit="" if one.per_diameter is None else f"{THOUSAND * one.per_diameter:.2f}",
        fit=_with_doubt(one.fit, one.fit_standard, units),
        proved=_with_doubt(one.proved, one.proved_standard, units),
        outcome=one.outcome,
        ran=_ran(one),
        symptom=one.symptom,
        cause=one.cause,
        is_back=one.outcome == BACK,
    )


def _ran(one: PastJob) -> str:
    """How long it ran, in hours where they were told, and in days."""
    hours = "" if one.hours is None else f"{one.hours:g} h"
    days = f"{one.heard_after:.0f} days" if one.heard_after else ""
    return ", ".join(part for part in (hours, days) if part)


def _with_doubt(value: float | None, standard: float | None, units: str) -> str:
    if value is None:
        return ""
    return fine(value, units) + (f" (u {fine(standard, units)})" if standard else "")
