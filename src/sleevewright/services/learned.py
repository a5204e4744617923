"""Use cases of what the shop has learned: looked at by anybody, counted once a person accepts it.

An acceptance says who, when, and from which jobs; it is never changed, only revoked, which
is kept beside it.  Without one that stands not a number of a plan rests on past jobs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import Connection

from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.jobs.pastjobs import OUTCOMES, PastJob
from sleevewright.jobs.studies import StudyEntry
from sleevewright.planning.habit import HABIT
from sleevewright.planning.learning import (
    Counts,
    Learned,
    counted,
    counts_of,
    learned_from,
    that_count,
)
from sleevewright.planning.shop import Posterior
from sleevewright.services.bench import Bench
from sleevewright.services.people import confirm, people
from sleevewright.services.shelf import outdate_verdicts
from sleevewright.store.learnedkeeping import add_learned, learned_entries
from sleevewright.store.memory import outcomes, past_jobs
from sleevewright.store.studykeeping import add_study_entry

ACCEPTED, REVOKED = "accepted", "revoked"
SHORTEST_REASON, LONGEST_REASON = 4, 400


@dataclass(frozen=True)
class Acceptance:
    """What somebody let count, and whether it still does. SI."""

    number: str  # B-1 and so on
    pairing: str
    value: float
    standard: float
    person: str
    made: str
    from_jobs: tuple[str, ...]
    digest: str
    is_standing: bool = True
    ended: str = ""  # when
    ended_by: str = ""  # key of who ended it
    reason: str = ""

    @property
    def source(self) -> str:
        """Where its number is from, in words."""
        count = len(self.from_jobs)
        return f"{self.number}, accepted {self.made[:10]}, from {count} jobs"


def all_past_jobs(bench: Bench) -> tuple[PastJob, ...]:
    """Every released cylinder, the oldest first; none is left out for how it came out."""
    return bench.store.read(past_jobs)


def like_this(bench: Bench, pairing: str, *, invented: bool = False) -> Counts:
    """How those of a pairing came out: the real ones, for an invented job all of them."""
    found = bench.store.read(lambda connection: outcomes(connection, pairing))
    told = {
        outcome: found.get((False, outcome), 0) + (found.get((True, outcome), 0) if invented else 0)
        for outcome in OUTCOMES
    }
    return counts_of(told)


def acceptances(bench: Bench) -> tuple[Acceptance, ...]:
    """Everything that was ever accepted, the newest first."""
    return tuple(reversed(bench.store.read(_acceptances)))


def standing(bench: Bench) -> tuple[Posterior, ...]:
    """What counts now, as the planner takes it."""
    found = bench.store.read(_acceptances)
    return tuple(
        Posterior(HABIT, one.pairing, one.value, one.standard, one.source)
        for one in found
        if one.is_standing
    )


def learned(bench: Bench, pairing: str) -> Learned:
    """What past jobs say of the habit in a pairing, as of this moment."""
    return learned_from(all_past_jobs(bench), pairing)


def accept_habit(
    bench: Bench, pairing: str, *, person: str, pin: str = "", digest: str = ""
) -> Acceptance:
    """Let the habit of a pairing count in plans from now on.

    Parameters
    ----------
    bench : Bench
        The open bench.
    pairing : str
        Key of the pairing.
    person : str
        Key of who accepts it; somebody has to be named.
    pin : str
        Their PIN, where the shop asks for one.
    digest : str
        Hash of what the page showed; what has changed since is to be looked at first.

    Raises
    ------
    InputError
        If too few jobs were proved, they are invented or changed meanwhile, or nobody is named.
    """
    who = _named(bench, person, pin)
    found = learned(bench, pairing)
    habit = found.habit
    if habit is None:
        said = f"{found.jobs} proved jobs"
        raise InputError("past jobs", said, "", f"{found.missing} more", "Prove more jobs first.")
    if found.is_invented:
        hint = "What is accepted would move the plans of real jobs."
        raise InputError("past jobs", "invented ones", "", "real jobs of this shop", hint)
    if digest not in ("", found.digest):
        hint = "Load the page anew and look at it again."
        raise InputError("estimate", "an older one", "", "the one that stands now", hint)
    body = {
        "name": HABIT,
        "pairing": pairing,
        "value": habit.value,
        "standard": habit.next_standard,
        "person": who,
        "from_jobs": list(found.from_jobs),
        "digest": found.digest,
    }
    made = bench.now()

    def work(connection: Connection) -> str:
        outdate_verdicts(connection)
        return add_learned(connection, ACCEPTED, body, made=made)

    number = bench.store.write(work)
    bench.on_change()
    return next(one for one in acceptances(bench) if one.number == number)


def revoke_habit(
    bench: Bench, number: str, reason: str, *, person: str, pin: str = ""
) -> Acceptance:
    """Take an acceptance back; plans are from now on as if it had never been.

    Raises
    ------
    InputError
        If it does not stand, the reason says nothing, or nobody is named.
    NotFound
        If there is none of this number.
    """
    who, why = _named(bench, person, pin), " ".join(reason.split())
    if not SHORTEST_REASON <= len(why) <= LONGEST_REASON:
        allowed = f"a reason of {SHORTEST_REASON} to {LONGEST_REASON} letters"
        raise InputError("reason", clipped(why) or "nothing", "", allowed, "As new bore gauge.")

    def work(connection: Connection) -> None:
        known = {one.number: one for one in _acceptances(connection)}
        if number not in known:
            raise NotFound("acceptance", number, tuple(known)[-5:])
        if not known[number].is_standing:
            raise InputError("acceptance", f"{number}, ended", "", "one that stands")
        body = {"person": who, "reason": why}
        add_study_entry(connection, number, REVOKED, body, made=bench.now())
        outdate_verdicts(connection)

    bench.store.write(work)
    bench.on_change()
    return next(one for one in acceptances(bench) if one.number == number)


def _named(bench: Bench, person: str, pin: str) -> str:
    """Key of who answers for it; a name can be forgotten, so none is kept here."""
    if not people(bench):
        hint = "Enter yourself at People who work here."
        raise InputError("person", "nobody", "", "one who works here", hint)
    return confirm(bench, person, pin)


def _acceptances(connection: Connection) -> tuple[Acceptance, ...]:
    """Acceptances as their entries tell them; a later one of a pairing ends the one before."""
    told: dict[str, list[StudyEntry]] = {}
    for entry in learned_entries(connection):
        told.setdefault(entry.study, []).append(entry)
    found = [_acceptance(entries) for entries in told.values()]
    later: dict[str, Acceptance] = {}
    for one in reversed(found):
        later.setdefault(one.pairing, one)
    return tuple(_unless_later(one, later[one.pairing]) for one in found)


def _acceptance(entries: list[StudyEntry]) -> Acceptance:
    first, last = entries[0], entries[-1]
    body = first.body
    is_ended = last.kind == REVOKED
    return Acceptance(
        number=first.study,
        pairing=str(body["pairing"]),
        value=float(body["value"]),
        standard=float(body["standard"]),
        person=str(body["person"]),
        made=first.made,
        from_jobs=tuple(body["from_jobs"]),
        digest=str(body["digest"]),
        is_standing=not is_ended,
        ended=last.made if is_ended else "",
        ended_by=str(last.body.get("person", "")) if is_ended else "",
        reason=str(last.body.get("reason", "")) if is_ended else "",
    )


def _unless_later(one: Acceptance, latest: Acceptance) -> Acceptance:
    """An acceptance that a later one of its pairing has taken the place of."""
    if one is latest or not one.is_standing:
        return one
    return replace(
        one, is_standing=False, ended=latest.made, ended_by=latest.person,
        reason=f"{latest.number} stands in its place",
    )  # fmt: skip


@dataclass(frozen=True)
class Known:
    """One pairing: how its jobs came out, and what they say of the shop's habit."""

    pairing: str
    counts: Counts
    learned: Learned


def known(bench: Bench) -> tuple[Known, ...]:
    """Every pairing of which a cylinder was released, the most frequent first."""
    jobs = all_past_jobs(bench)
    counting = that_count(jobs)
    keys = sorted({one.pairing.key for one in counting})
    found = [
        Known(
            key,
            counted([one for one in counting if one.pairing.key == key]),
            learned_from(jobs, key),
        )
        for key in keys
    ]
    return tuple(sorted(found, key=lambda one: -one.counts.all))
