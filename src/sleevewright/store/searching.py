"""What is asked of the tables of the search: a bounded number of rows, however many jobs.

The rarest word of a question is read first, newest jobs first, and only so many of them;
the other words are looked up by their place.  Ranking is done by the caller on what comes
back.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Select, and_, exists, literal, select

from sleevewright.jobs.likeness import Facts
from sleevewright.jobs.searchwords import Asked, is_forgiven, near_words, variants
from sleevewright.store.queries import in_lots
from sleevewright.store.search import FACTS, box_of, fact, near, post, word

NEWEST = 400
"""Jobs of a word that are read, newest first."""

FEW = 80
"""Jobs that are taken on for a part of what was asked."""

OF_A_BOX = 30
"""Jobs of one box of a millimetre that are taken on, newest first."""

MOST_NEAR = 6
"""Words one slip away that are followed up for one word asked, the commonest."""

LOOSE_WORDS = 4
"""Words of a question by which jobs are taken on that hold only a part of it; the rarest."""


@dataclass(frozen=True)
class Heard:
    """One word that was asked for and the words of the vocabulary that it may be."""

    asked: str
    words: tuple[str, ...]  # itself first, where it is known
    jobs: int  # that hold the commonest of them


@dataclass(frozen=True)
class Candidate:
    """A cylinder that may be meant, and the words by which its job was found."""

    facts: Facts
    words: frozenset[str]


def heard_words(connection: Connection, asked: Sequence[str]) -> tuple[Heard, ...]:
    """The words of the vocabulary that each word asked for may be, one slip forgiven."""
    if not asked:
        return ()
    rows = connection.execute(select(word.c.word, word.c.jobs).where(word.c.word.in_(asked)))
    jobs = {row.word: row.jobs for row in rows}
    wanted = sorted({one for told in asked if is_forgiven(told) for one in variants(told)})
    for lot in in_lots(wanted):
        join = near.join(word, near.c.word == word.c.word)
        query = select(word.c.word, word.c.jobs).select_from(join).where(near.c.variant.in_(lot))
        jobs.update({row.word: row.jobs for row in connection.execute(query.limit(NEWEST))})
    heard = []
    for told in asked:
        found = near_words(told, jobs)
        others = sorted((one for one in found if one != told), key=lambda one: -jobs[one])
        kept = tuple(one for one in found if one == told) + tuple(others[:MOST_NEAR])
        heard.append(Heard(told, kept, max((jobs[one] for one in kept), default=0)))
    return tuple(heard)


def candidates(
    connection: Connection, asked: Asked, heard: Sequence[Heard], like: Facts | None
) -> tuple[Candidate, ...]:
    """Cylinders that may be meant: a bounded number, not ranked yet."""
    known = sorted((one for one in heard if one.words), key=lambda one: one.jobs)
    jobs: dict[str, None] = {}
    jobs.update(dict.fromkeys(_by_number(connection, asked.numbers)))
    jobs.update(dict.fromkeys(_with_all(connection, known)))
    for one in known[:LOOSE_WORDS]:
        for told in one.words:
            jobs.update(dict.fromkeys(connection.scalars(_newest(told, FEW))))
    for size in asked.sizes_nm:
        jobs.update(dict.fromkeys(_by_size(connection, size)))
    if like is not None:
        jobs.update(dict.fromkeys(_alike(connection, like)))
    words = sorted({told for one in known for told in one.words})
    held = _held(connection, jobs, words)
    return tuple(
        Candidate(one, frozenset(held.get(one.job, ()))) for one in _facts(connection, jobs)
    )


def facts_kept(connection: Connection, job: str) -> tuple[Facts, ...]:
    """What the cylinders of a job are remembered by."""
    return tuple(_facts(connection, [job]))


def _newest(told: str, count: int) -> Select[tuple[str]]:
    """The newest jobs that hold a word."""
    query = select(post.c.job).where(post.c.word == told)
    return query.order_by(post.c.opened.desc(), post.c.job.desc()).limit(count)


def _with_all(connection: Connection, known: Sequence[Heard]) -> list[str]:
    """The newest jobs of the rarest word that hold every other word too."""
    if len(known) < 2:
        return []
    rarest, others = known[0], known[1:]
    jobs: list[str] = []
    for told in rarest.words:
        newest = (
            select(post.c.job, post.c.opened)
            .where(post.c.word == told)
            .order_by(post.c.opened.desc(), post.c.job.desc())
            .limit(NEWEST)
            .subquery()
        )
        holds = [
            exists(
                select(literal(1)).where(
                    post.c.word.in_(one.words),
                    post.c.opened == newest.c.opened,
                    post.c.job == newest.c.job,
                )
            )
            for one in others
        ]
        query = select(newest.c.job).where(and_(*holds)).order_by(newest.c.opened.desc())
        jobs += connection.scalars(query.limit(FEW))
    return jobs


def _by_number(connection: Connection, keys: Sequence[str]) -> list[str]:
    """Jobs that are called so."""
    if not keys:
        return []
    query = select(fact.c.job).where(fact.c.number_key.in_(keys)).distinct().limit(FEW)
    return list(connection.scalars(query))


def _by_size(connection: Connection, size_nm: int) -> list[str]:
    """The newest jobs of about this bore: of the box of the size and of both beside it."""
    found: list[str] = []
    for box in range(box_of(size_nm) - 1, box_of(size_nm) + 2):
        query = select(fact.c.job).where(fact.c.bore_box == box)
        found += connection.scalars(query.order_by(fact.c.opened.desc()).limit(OF_A_BOX))
    return found


def _alike(connection: Connection, like: Facts) -> list[str]:
    """The newest jobs of the same engine, and of about the same bore."""
    found: list[str] = []
    if like.engine_key:
        query = select(fact.c.job).where(fact.c.engine_key == like.engine_key)
        found += connection.scalars(query.order_by(fact.c.opened.desc()).limit(FEW))
    if like.bore_nm is not None:
        found += _by_size(connection, like.bore_nm)
    return found


def _held(
    connection: Connection, jobs: Collection[str], words: Sequence[str]
) -> Mapping[str, set[str]]:
    """Which of the words each of the jobs holds."""
    held: dict[str, set[str]] = {}
    if not words:
        return held
    for lot in in_lots(jobs):
        query = select(post.c.job, post.c.word).where(post.c.job.in_(lot), post.c.word.in_(words))
        for row in connection.execute(query):
            held.setdefault(row.job, set()).add(row.word)
    return held


def _facts(connection: Connection, jobs: Collection[str]) -> list[Facts]:
    """What the cylinders of these jobs are remembered by."""
    found: list[Facts] = []
    for lot in in_lots(jobs):
        rows = connection.execute(select(*FACTS).where(fact.c.job.in_(lot)))
        found += [Facts(*row) for row in rows]
    return found
