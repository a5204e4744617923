"""Use cases of the shop's own drops: looked at by anybody, counted once a person accepts them.

As with the habit of fits: an acceptance says who, when and from which jobs, and is never
changed, only taken back.  A drop more asks for an acceptance anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import Connection

from sleevewright.core.heat.learned_drops import (
    DropPrior,
    LearnedDrops,
    SeenDrop,
    learned_drops,
    likelihoods,
)
from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.jobs.pastdrops import OwnDrop
from sleevewright.jobs.studies import StudyEntry
from sleevewright.planning.drop_habit import DROP_FORM_LEARNED, DROP_LEAN_LEARNED
from sleevewright.planning.drop_learned import BeforeAfter, before_after
from sleevewright.planning.shop import Posterior
from sleevewright.services.bench import Bench
from sleevewright.services.learned import (
    ACCEPTED,
    LONGEST_REASON,
    REVOKED,
    SHORTEST_REASON,
    refuse_unseen,
    who_says,
)
from sleevewright.services.shelf import outdate_verdicts
from sleevewright.store.dropmemory import past_drops
from sleevewright.store.studykeeping import add_study_entry, next_study, study_entries

LEAST_DROPS = 5
"""Usable drops below which nothing is estimated."""
MOST_FOLLOWED = 1_000
"""Drops whose likelihoods are kept, some 2 kB each, so that one drop more costs but itself."""
Array = NDArray[np.float64]
OF_DROPS = "D"
"""Letter of the numbers under which what drops say is accepted."""


@dataclass(frozen=True)
class OwnDrops:
    """The drops that count, and what they say; nothing found below five that are usable."""

    drops: tuple[OwnDrop, ...]
    usable: int
    digest: str
    is_invented: bool
    found: LearnedDrops | None
    change: BeforeAfter | None = None  # of a drop like the newest one
    pair: str = ""  # name of that one

    @property
    def from_jobs(self) -> tuple[str, ...]:
        """Names of the drops that the estimate is from."""
        return tuple(one.name for one in self.drops if one.seen is not None)


@dataclass(frozen=True)
class DropAcceptance:
    """What somebody let count of the drops, and whether it still does. SI."""

    number: str  # D-1 and so on
    form: float
    spread: float
    lean: float
    lean_standard: float
    person: str
    made: str
    from_jobs: tuple[str, ...]
    digest: str
    ended: str = ""
    reason: str = ""
    is_standing: bool = True

    @property
    def source(self) -> str:
        """Where its numbers are from, in words."""
        return f"{self.number}, accepted {self.made[:10]}, from {len(self.from_jobs)} drops"


def own_drops(bench: Bench) -> OwnDrops:
    """What this shop's drops say, as of this moment; kept as long as they are the same."""
    drops = bench.store.read(past_drops)
    return bench.kept.get("own drops", (drops,), lambda: from_drops(drops))


def from_drops(drops: Sequence[OwnDrop]) -> OwnDrops:
    """The same of these drops: invented ones count only where there is no other."""
    counting = _that_count(drops)
    usable = [one for one in counting if one.seen is not None]
    seen = [one.seen for one in usable if one.seen is not None]
    invented = any(one.is_invented for one in counting)
    basis = OwnDrops(counting, len(seen), _digest(counting), invented, None)
    if len(seen) < LEAST_DROPS:
        return basis
    found = learned_drops(drops=seen, follow=_follow)
    newest = max(range(len(usable)), key=lambda place: (usable[place].released, place))
    change = before_after(found, seen[newest].case, flange=seen[newest].flange)
    return replace(basis, found=found, change=change, pair=usable[newest].name)


def _follow(seen: SeenDrop, centres: Array, prior: DropPrior, *, draws: int) -> tuple[Array, Array]:
    """Likelihoods of a drop; followed once, as it never changes."""
    return _followed(seen, centres.tobytes(), prior, draws)


@lru_cache(maxsize=MOST_FOLLOWED)
def _followed(seen: SeenDrop, centres: bytes, prior: DropPrior, draws: int) -> tuple[Array, Array]:
    """The same, kept by what it rests on."""
    return likelihoods(seen, np.frombuffer(centres), prior, draws=draws)


def _that_count(drops: Sequence[OwnDrop]) -> tuple[OwnDrop, ...]:
    real = tuple(one for one in drops if not one.is_invented)
    return real or tuple(drops)


def _digest(drops: Sequence[OwnDrop]) -> str:
    """Hash of everything that the estimate rests on, what is judged without drops too."""
    rows: list[tuple[str, SeenDrop]] = sorted(
        ((one.name, one.seen) for one in drops if one.seen is not None), key=lambda row: row[0]
    )
    return hashlib.sha256(repr((DropPrior(), rows)).encode()).hexdigest()


def drop_acceptances(bench: Bench) -> tuple[DropAcceptance, ...]:
    """Everything that was ever accepted of drops, the newest first."""
    return tuple(reversed(bench.store.read(_acceptances)))


def standing_drops(bench: Bench) -> tuple[Posterior, ...]:
    """What counts now, as the planner takes it; nothing where nothing was accepted."""
    standing = [one for one in bench.store.read(_acceptances) if one.is_standing]
    return tuple(
        posterior
        for one in standing
        for posterior in (
            Posterior(DROP_FORM_LEARNED, "", one.form, one.spread, one.source),
            Posterior(DROP_LEAN_LEARNED, "", one.lean, one.lean_standard, one.source),
        )
    )


def accept_drops(bench: Bench, *, person: str, digest: str, pin: str = "") -> DropAcceptance:
    """Let what the drops say count in plans from now on.

    Raises
    ------
    InputError
        If too few drops are usable, they are invented, nothing was looked at or it changed
        meanwhile, or nobody is named.
    """
    who, seen = who_says(bench, person, pin), own_drops(bench)
    if seen.found is None:
        hint = "Gauge the slip before each drop and tell when it gripped, or that it was loose."
        allowed = f"{LEAST_DROPS} usable drops"
        raise InputError("past drops", f"{seen.usable}", "usable", allowed, hint)
    if seen.is_invented:
        hint = "What is accepted would move the plans of real jobs."
        raise InputError("past drops", "invented ones", "", "real drops of this shop", hint)
    refuse_unseen(digest, seen.digest)
    found = seen.found
    body = {
        "form": found.form,
        "spread": found.spread,
        "lean": found.lean,
        "lean_standard": found.lean_standard,
        "person": who,
        "from_jobs": list(seen.from_jobs),
        "digest": seen.digest,
    }
    made = bench.now()

    def work(connection: Connection) -> str:
        refuse_unseen(digest, _digest(_that_count(past_drops(connection))))  # told meanwhile
        outdate_verdicts(connection)
        number = next_study(connection, OF_DROPS)
        add_study_entry(connection, number, ACCEPTED, body, made=made)
        return number

    number = bench.store.write(work)
    bench.on_change()
    return next(one for one in drop_acceptances(bench) if one.number == number)


def revoke_drops(
    bench: Bench, number: str, reason: str, *, person: str, pin: str = ""
) -> DropAcceptance:
    """Take an acceptance back; drops are planned with what is judged then.

    Raises
    ------
    InputError
        If it does not stand, the reason says nothing, or nobody is named.
    NotFound
        If there is none of this number.
    """
    who, why = who_says(bench, person, pin), " ".join(reason.split())
    if not SHORTEST_REASON <= len(why) <= LONGEST_REASON:
        allowed = f"a reason of {SHORTEST_REASON} to {LONGEST_REASON} letters"
        raise InputError("reason", clipped(why) or "nothing", "", allowed, "As new hone.")

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
    return next(one for one in drop_acceptances(bench) if one.number == number)


def _acceptances(connection: Connection) -> tuple[DropAcceptance, ...]:
    """Acceptances as their entries tell them; only the last one may stand."""
    told: dict[str, list[StudyEntry]] = {}
    for entry in study_entries(connection, OF_DROPS):
        told.setdefault(entry.study, []).append(entry)
    last = next(reversed(told), "")
    return tuple(_acceptance(entries, last) for entries in told.values())


def _acceptance(entries: list[StudyEntry], last: str) -> DropAcceptance:
    first, end = entries[0], entries[-1]
    body, is_ended = first.body, end.kind == REVOKED
    reason = str(end.body.get("reason", "")) if is_ended else ""
    if not is_ended and first.study != last:
        reason = "a later one took its place"
    return DropAcceptance(
        number=first.study,
        form=float(body["form"]),
        spread=float(body["spread"]),
        lean=float(body["lean"]),
        lean_standard=float(body["lean_standard"]),
        person=str(body["person"]),
        made=first.made,
        from_jobs=tuple(body["from_jobs"]),
        digest=str(body["digest"]),
        ended=end.made if is_ended else "",
        reason=reason,
        is_standing=not reason,
    )
