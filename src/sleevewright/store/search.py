"""The tables of the search, a projection: words by job, their variants, and facts by cylinder.

Plain tables and plain indexes, the same on both databases.  A word's jobs stand newest
first, so that a question reads the newest few of the rarest word however many jobs there
are.  ``search_near`` holds each word without one of its letters: two words one slip apart
share one of these.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from sqlalchemy import Column, Connection, Index, MetaData, Table, delete, insert, select, update

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import (
    Facts,
    adds_facts,
    adds_words,
    facts_of,
    job_words,
    numbered,
)
from sleevewright.jobs.records import Record
from sleevewright.jobs.searchwords import is_forgiven, variants
from sleevewright.store.kinds import Integer, Text
from sleevewright.store.queries import in_lots

SEARCH_VERSION = 2
BUCKET_NM = 1_000_000
"""Sizes stand in boxes of a millimetre, so that a size is looked for in three of them."""

metadata = MetaData()

fact = Table(
    "search_fact",
    metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("number_key", Text, nullable=False),
    Column("title", Text, nullable=False),
    Column("engine", Text, nullable=False),
    Column("engine_key", Text, nullable=False),
    Column("bore_nm", Integer),
    Column("bore_box", Integer),
    Column("sleeve_nm", Integer),
    Column("casting", Text, nullable=False),
    Column("sleeve", Text, nullable=False),
    Column("fit_nm", Integer),
    Column("outcome", Text, nullable=False),
    Column("ended", Text, nullable=False),
    Column("opened", Integer, nullable=False),
    Column("since", Text, nullable=False),
    Index("search_fact_by_number", "number_key"),
    Index("search_fact_by_engine", "engine_key", "opened"),
    Index("search_fact_by_bore", "bore_box", "opened"),
    sqlite_strict=True,
)

word = Table(
    "search_word",
    metadata,
    Column("word", Text, primary_key=True),
    Column("jobs", Integer, nullable=False),  # that hold it
    sqlite_strict=True,
)

near = Table(
    "search_near",
    metadata,
    Column("variant", Text, primary_key=True),
    Column("word", Text, primary_key=True),
    Index("search_near_by_word", "word"),
    sqlite_strict=True,
)

post = Table(
    "search_post",
    metadata,
    Column("word", Text, primary_key=True),
    Column("opened", Integer, primary_key=True, autoincrement=False),
    Column("job", Text, primary_key=True),
    Index("search_post_by_job", "job", "word"),
    sqlite_strict=True,
)

FACTS = tuple(
    fact.c[name]
    for name in (
        "job", "cylinder", "title", "engine", "bore_nm", "sleeve_nm", "casting", "sleeve",
        "fit_nm", "outcome", "ended", "opened", "since",
    )
)  # fmt: skip
"""Columns in the order of :class:`sleevewright.jobs.likeness.Facts`."""


class SearchProjection:
    """Writes the tables of the search as records are kept."""

    name = "search"
    version = SEARCH_VERSION
    tables = metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Take in what is new of one job; readings of a bore cost nothing."""
        wordy = any(adds_words(one) for one in records)
        if wordy or any(adds_facts(one, folded) for one in records):
            facts = [facts_of(folded, one + 1) for one in range(folded.cylinders)]
            write_facts(connection, folded.job, facts)
            if wordy:
                write_words(connection, folded.job, facts[0].opened, job_words(folded))


def box_of(size_nm: int) -> int:
    """The box in which a size stands."""
    return size_nm // BUCKET_NM


def write_facts(connection: Connection, job: str, facts: Sequence[Facts]) -> None:
    """What the cylinders of a job are remembered by, in the place of what was there."""
    connection.execute(delete(fact).where(fact.c.job == job))
    connection.execute(insert(fact), [_row(one) for one in facts])


def _row(facts: Facts) -> dict[str, object]:
    return {
        "job": facts.job,
        "cylinder": facts.cylinder,
        "number_key": numbered(facts),
        "title": facts.title,
        "engine": facts.engine,
        "engine_key": facts.engine_key,
        "bore_nm": facts.bore_nm,
        "bore_box": None if facts.bore_nm is None else box_of(facts.bore_nm),
        "sleeve_nm": facts.sleeve_nm,
        "casting": facts.casting,
        "sleeve": facts.sleeve,
        "fit_nm": facts.fit_nm,
        "outcome": facts.outcome,
        "ended": facts.ended,
        "opened": facts.opened,
        "since": facts.since,
    }


def write_words(connection: Connection, job: str, opened: int, words: Collection[str]) -> None:
    """The words of a job: what is new is put in, what is no longer said is taken out."""
    kept = set(connection.scalars(select(post.c.word).where(post.c.job == job)))
    new, gone = sorted(set(words) - kept), sorted(kept - set(words))
    if new:
        _count(connection, new, 1)
        rows = [{"word": one, "opened": opened, "job": job} for one in new]
        connection.execute(insert(post), rows)
    for lot in in_lots(gone):
        connection.execute(delete(post).where(post.c.job == job, post.c.word.in_(lot)))
    if gone:
        _count(connection, gone, -1)
        _forget(connection, gone)


def _count(connection: Connection, words: Iterable[str], change: int) -> None:
    """One job more or less of each of these words; a word that is new gets its variants."""
    for lot in in_lots(words):
        known = set(connection.scalars(select(word.c.word).where(word.c.word.in_(lot))))
        if known:
            counted = update(word).where(word.c.word.in_(sorted(known)))
            connection.execute(counted.values(jobs=word.c.jobs + change))
        fresh = [one for one in lot if one not in known]
        if fresh:
            connection.execute(insert(word), [{"word": one, "jobs": 1} for one in fresh])
        rows = [
            {"variant": variant, "word": one}
            for one in fresh
            if is_forgiven(one)
            for variant in variants(one)
        ]
        if rows:
            connection.execute(insert(near), rows)


def _forget(connection: Connection, words: Iterable[str]) -> None:
    """Words that no job holds any longer leave the vocabulary."""
    for lot in in_lots(words):
        unused = select(word.c.word).where(word.c.word.in_(lot), word.c.jobs <= 0)
        left = list(connection.scalars(unused))
        if left:
            connection.execute(delete(near).where(near.c.word.in_(left)))
            connection.execute(delete(word).where(word.c.word.in_(left)))
