"""Use case: "what did I do on the last one of these?", asked of all jobs of the bench.

A question is words, a size, a job's number, or all of it.  Jobs that hold more and rarer
words of it come first; beside another job, those of the same engine, about the same bore
and the same metals.  An adverse outcome is told like any other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import (
    ENDED,
    NEAR_NM,
    OPEN,
    SIZE,
    Facts,
    facts_of,
    likeness,
    numbered,
    told_outcome,
)
from sleevewright.jobs.searchwords import Asked, read_query
from sleevewright.services.bench import Bench
from sleevewright.store.searching import Candidate, Heard, candidates, facts_kept, heard_words

NUMBER = 20.0
"""What a job weighs that is called as it was asked for: more than anything else."""

WORD, SLIPPED = 2.0, 0.7
"""Weight of a rare word that was found, and the share of it where a slip was forgiven."""

NAMED_SIMILAR = 6
"""Jobs that the piece *done before* shows."""


@dataclass(frozen=True)
class Found:
    """One cylinder that was found, and why."""

    number: str
    cylinder: int
    title: str
    why: tuple[str, ...]
    outcome: str
    score: float
    facts: Facts


def search(
    bench: Bench, query: str, *, like: tuple[str, int] | None = None, limit: int = 20
) -> tuple[Found, ...]:
    """The cylinders that a question is about, the likeliest first.

    Parameters
    ----------
    bench : Bench
        The open bench.
    query : str
        Words, a size with its unit, or a job's number.
    like : tuple[str, int] | None
        Number and cylinder of a job beside which others are looked for.
    limit : int
        How many at most.

    Returns
    -------
    tuple[Found, ...]
        One for each job, by its likeliest cylinder; none where nothing is asked.
    """
    asked = read_query(query)
    beside = None if like is None else _beside(bench, *like)
    return _found(bench, asked, beside, limit)


def similar(bench: Bench, folded: Folded, cylinder: int = 1) -> tuple[Found, ...]:
    """What was done before on cylinders like this one, for the piece *done before*."""
    return _found(bench, Asked(), facts_of(folded, cylinder), NAMED_SIMILAR)


def _beside(bench: Bench, number: str, cylinder: int) -> Facts | None:
    """What a job is remembered by; nothing where it is not known."""
    known = bench.store.read(lambda connection: facts_kept(connection, number))
    return next((one for one in known if one.cylinder == cylinder), None)


def _found(bench: Bench, asked: Asked, like: Facts | None, limit: int) -> tuple[Found, ...]:
    """Candidates of one moment of the store, ranked."""
    if asked.is_empty and like is None:
        return ()

    def ask(connection: Connection) -> tuple[tuple[Heard, ...], tuple[Candidate, ...]]:
        heard = heard_words(connection, asked.words)
        return heard, candidates(connection, asked, heard, like)

    heard, lot = bench.store.read(ask)
    ranked = [_ranked(one, asked, heard, like) for one in lot if not _is_same(one, like)]
    best: dict[str, Found] = {}
    for one in sorted(ranked, key=_order):
        if one.score > 0.0:
            best.setdefault(one.number, one)
    return tuple(best.values())[:limit]


def _is_same(one: Candidate, like: Facts | None) -> bool:
    """Whether a candidate belongs to the job that others are looked for beside."""
    return like is not None and one.facts.job == like.job


def _order(one: Found) -> tuple[float, int, str, int]:
    """Likeliest first, then newest."""
    return -one.score, -one.facts.opened, one.number, one.cylinder


def _ranked(one: Candidate, asked: Asked, heard: Sequence[Heard], like: Facts | None) -> Found:
    """How likely a candidate is meant, and why, in words."""
    facts, why = one.facts, []
    score = 0.0
    if numbered(facts) in asked.numbers:
        score += NUMBER
        why.append("called so")
    said = []
    for told in heard:
        share, word = _by_word(told, one.words)
        score += share
        said += [word] if word else []
    if said:
        why.append(f"says {', '.join(dict.fromkeys(said))}")
    sizes = [_by_size(size, facts) for size in asked.sizes_nm]
    score += sum(share for share, _ in sizes)
    why += [words for share, words in sizes if share]
    if like is not None:
        share, reasons = likeness(like, facts)
        score += share
        why += reasons
    if score and facts.outcome != OPEN:
        score += ENDED
    return Found(
        facts.job, facts.cylinder, facts.title or facts.engine, tuple(why),
        told_outcome(facts), round(score, 4), facts,
    )  # fmt: skip


def _by_word(told: Heard, held: frozenset[str]) -> tuple[float, str]:
    """Weight of a word that was asked for, rarer ones weighing more, and how it stands there."""
    found = [word for word in told.words if word in held]
    if not found:
        return 0.0, ""
    weight = WORD / (1.0 + math.log10(max(1, told.jobs)) / 2.0)
    return (weight if found[0] == told.asked else weight * SLIPPED), found[0]


def _by_size(size_nm: int, facts: Facts) -> tuple[float, str]:
    """Weight of a size that was asked for, by how near the bore is to it."""
    if facts.bore_nm is None or abs(facts.bore_nm - size_nm) > NEAR_NM:
        return 0.0, ""
    apart = abs(facts.bore_nm - size_nm)
    return SIZE * (1.0 - 0.5 * apart / NEAR_NM), f"bore {facts.bore_nm / 1e6:.2f} mm"
