"""Use cases of what the shop has learned: looked at by anybody, counted once a person accepts it.

An acceptance says who, when, and from which jobs; it is never changed, only revoked, which
is kept beside it.  Without one that stands not a number of a plan rests on past jobs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import Connection

from sleevewright.core.uncertainty.habit import Habit
from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.jobs.pastjobs import OUTCOMES, PastJob
from sleevewright.jobs.studies import StudyEntry
from sleevewright.planning.habit import HABIT
from sleevewright.planning.learning import (
    Counts,
    Learned,
    counted,
    counts_of,
    digest_of,
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
SHORTEST_DIGEST = 12
"""Letters of a hash by which it is told from another."""


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


def acceptable(bench: Bench, pairing: str) -> tuple[Learned, Habit]:
    """What past jobs say of a pairing, to be looked at before it is accepted.

    Raises
    ------
    InputError
        If no cylinder of this pairing was released, too few jobs were proved, or they are
        invented.
    """
    jobs = all_past_jobs(bench)
    pairings = sorted({one.pairing.key for one in that_count(jobs)})
    if pairing not in pairings:
        allowed = ", ".join(pairings) or "one of which a cylinder was released"
        hint = "It is casting|sleeve|cooling, as sleevewright learned list shows it."
        raise InputError("pairing", clipped(pairing) or "nothing", "", allowed, hint)
    found = learned_from(jobs, pairing)
    if found.habit is None:
        said = f"{found.jobs} proved jobs"
        raise InputError("past jobs", said, "", f"{found.missing} more", "Prove more jobs first.")
    if found.is_invented:
        hint = "What is accepted would move the plans of real jobs."
        raise InputError("past jobs", "invented ones", "", "real jobs of this shop", hint)
    return found, found.habit


def accept_habit(
    bench: Bench, pairing: str, *, person: str, digest: str, pin: str = ""
) -> Acceptance:
    """Let the habit of a pairing count in plans from now on.

    Parameters
    ----------
    bench : Bench
        The open bench.
    pairing : str
        Key of the pairing; a cylinder of it was released.
    person : str
        Key or name of who accepts it; nothing where one person works here alone, who then
        stands for it, as for every signature.
    digest : str
        Hash of what was looked at, or how it begins, twelve letters or more; what has changed
        since is to be looked at first.
    pin : str
        Their PIN, where the shop asks for one.

    Raises
    ------
    InputError
        If it is not acceptable, nothing was looked at or it changed meanwhile, nobody works
        here, or of several nobody is named.
    """
    who = who_says(bench, person, pin)
    found, habit = acceptable(bench, pairing)
    refuse_unseen(digest, found.digest)
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
        refuse_unseen(digest, digest_of(past_jobs(connection)))  # told while this was asked
        outdate_verdicts(connection)
        return add_learned(connection, ACCEPTED, body, made=made)

    number = bench.store.write(work)
    bench.on_change()
    return next(one for one in acceptances(bench) if one.number == number)


def revoke_habit(
    bench: Bench, number: str, reason: str, *, person: str, pin: str = ""
) -> Acceptance:
    """Take an acceptance back; no habit counts for its pairing then.

    An older acceptance, in whose place it stood, does not count again.

    Raises
    ------
    InputError
        If it does not stand, the reason says nothing, nobody works here, or of several
        nobody is named.
    NotFound
        If there is none of this number.
    """
    who, why = who_says(bench, person, pin), " ".join(reason.split())
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


def refuse_unseen(digest: str, stands: str) -> None:
    """What is accepted is what was looked at: its hash says so."""
    if len(digest) < SHORTEST_DIGEST:
        allowed = f"the hash of what was looked at, {SHORTEST_DIGEST} letters of it or more"
        hint = "Look at the estimate; its hash stands with it."
        raise InputError("digest", clipped(digest) or "nothing", "", allowed, hint)
    if not stands.startswith(digest):
        hint = "Load the page anew, or ask the command anew, and look at it again."
        raise InputError("estimate", "an older one", "", "the one that stands now", hint)


def who_says(bench: Bench, person: str, pin: str) -> str:
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
    found, later = [], dict[str, Acceptance]()
    for entries in reversed(told.values()):
        one = _acceptance(entries)
        found.append(_unless_later(one, later.get(one.pairing)))
        later[one.pairing] = found[-1]
    return tuple(reversed(found))


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


def _unless_later(one: Acceptance, later: Acceptance | None) -> Acceptance:
    """An acceptance whose place the next one of its pairing has taken, for good."""
    if later is None or not one.is_standing:
        return one
    reason = f"{later.number} stands in its place"
    if not later.is_standing:
        reason = f"{later.number} took its place and ended too; this one does not count again"
    return replace(
        one, is_standing=False, ended=later.made, ended_by=later.person, reason=reason
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
