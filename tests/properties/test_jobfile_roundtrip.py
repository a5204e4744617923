"""Reading what was written gives the same job, whatever was told."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.jobs.entries import KINDS
from sleevewright.jobs.field import Field, Sort, Span
from sleevewright.jobs.fields import TABLES, Table, fields_of
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.jobwriter import write_job
from sleevewright.jobs.model import (
    Choice,
    Engine,
    Entry,
    Heat,
    Instrument,
    Job,
    Part,
    Piston,
    Port,
    Running,
)

WORDS = st.text(
    st.characters(exclude_categories=("Cs", "Cc"), include_characters="\t\n"), max_size=20
)


def inside(span: Span) -> st.SearchStrategy[float]:
    """Values that are believed, clear of the ends."""
    room = 1e-6 * (span.high - span.low)
    return st.floats(span.low + room, span.high - room, allow_subnormal=False)


def entries(field: Field) -> st.SearchStrategy[Entry | None]:
    """Entries as a form would make them: the text alone does not say the value."""
    assert field.span is not None
    doubts = st.one_of(st.none(), st.floats(1e-6, 1.0))
    made = st.builds(Entry, inside(field.span), st.just("?"), st.sampled_from(KINDS), doubts)
    return st.one_of(st.none(), made)


def values(field: Field) -> st.SearchStrategy[Any]:
    """Anything that the key may hold."""
    if field.sort is Sort.QUANTITY:
        return entries(field)
    if field.sort is Sort.FLAG:
        return st.booleans()
    if field.sort is Sort.CHOICE:
        return st.sampled_from(field.allowed)
    return WORDS.filter(bool) if field.key == "name" else WORDS


def records(name: str, kind: type) -> st.SearchStrategy[Any]:
    """A record with any of its keys told."""
    return st.builds(kind, **{key: values(field) for key, field in fields_of(name).items()})


def in_full(entry: Any) -> Any:
    """An entry without its text, which is written anew where it says too little."""
    if isinstance(entry, Entry):
        return (entry.value, entry.kind, entry.doubt)
    return entry


def told(job: Job) -> list[Any]:
    """Everything that a job tells, table by table."""

    def row(table: Table, record: Any) -> list[Any]:
        return [in_full(getattr(record, key)) for key in fields_of(table.name)]

    found: list[Any] = []
    for table in TABLES:
        record = getattr(job, table.attribute) if table.attribute else job
        found.append([row(table, one) for one in record] if table.repeated else row(table, record))
    return found


JOBS = st.builds(
    Job,
    engine=records("engine", Engine).map(lambda one: Engine(one.description, one.kind)),
    casting=st.builds(Part, **{k: values(f) for k, f in fields_of("casting").items()
                               if k in ("material", "mass", "limit", "modulus", "poisson")}),
    choice=records("fit", Choice).map(lambda one: Choice(stand_out=one.stand_out, by=one.by)),
    running=records("running", Running),
    heat=records("heat", Heat),
    piston=records("piston", Piston),
    ports=st.lists(records("port", Port), max_size=2, unique_by=lambda one: one.name).map(
        lambda ports: tuple(Port(port.name, width=port.width) for port in ports)
    ),
    instruments=st.lists(
        records("instrument", Instrument), max_size=2, unique_by=lambda one: one.name
    ).map(
        lambda found: tuple(
            Instrument(one.name, one.kind, one.resolution, turn=one.turn) for one in found
        )
    ),
    number=st.from_regex(fields_of("job")["number"].pattern, fullmatch=True),
    title=WORDS, units=st.sampled_from(("inch", "metric")), invented=st.booleans(),
    cylinder=WORDS, note=WORDS,
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(JOBS)
def test_reading_what_was_written_gives_the_same_job(job: Job) -> None:
    """Values, kinds and doubts survive to the last bit."""
    assert told(read_job(write_job(job), name="t.toml")) == told(job)


@settings(max_examples=60, deadline=None)
@given(JOBS)
def test_writing_is_settled_after_once(job: Job) -> None:
    """A job that was read writes the same text again."""
    text = write_job(job)
    again = read_job(text, name="t.toml")
    assert write_job(again) == text
    assert read_job(write_job(again), name="t.toml") == again
