"""Use case: whose job it is.  Names and addresses stand outside of the chain of records.

So that a person can be forgotten without a gap in what was measured: the contact of a job is
a row that is changed and removed, and no record ever carries it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from sqlalchemy import Connection, delete, insert, select

from sleevewright.errors import InputError, clipped
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import folded_job
from sleevewright.store.tables import contact as contact_table

FIELDS = ("name", "address", "telephone", "email", "note")
LONGEST = 400


@dataclass(frozen=True)
class Contact:
    """Whose job it is, and how to reach them."""

    name: str = ""
    address: str = ""
    telephone: str = ""
    email: str = ""
    note: str = ""


def contact_of(bench: Bench, number: str) -> Contact:
    """The contact of a job; empty where none was told or it was forgotten."""
    return bench.store.read(partial(_contact, number=number))


def keep_contact(bench: Bench, number: str, told: Mapping[str, str]) -> Contact:
    """Write the contact of a job; all empty is the same as forgetting it.

    Raises
    ------
    NotFound
        If there is no such job.
    InputError
        If a field is too long or cannot be printed.
    """
    folded_job(bench, number)
    kept = Contact(**{key: _checked(key, str(told.get(key, ""))) for key in FIELDS})
    bench.store.write(partial(_write, number=number, kept=kept))
    return kept


def forget_contact(bench: Bench, number: str) -> None:
    """Remove the contact of a job; what was measured stays as it is."""
    folded_job(bench, number)
    bench.store.write(partial(_write, number=number, kept=Contact()))


def _checked(key: str, text: str) -> str:
    words = "\n".join(line.strip() for line in text.strip().splitlines())
    if len(words) > LONGEST:
        raise InputError(key, f"{len(words)} letters", "", f"at most {LONGEST}")
    if not all(letter.isprintable() or letter == "\n" for letter in words):
        raise InputError(key, clipped(repr(words)), "", "letters that can be printed")
    return words


def _contact(connection: Connection, number: str) -> Contact:
    row = connection.execute(select(contact_table).where(contact_table.c.job == number)).first()
    return Contact() if row is None else Contact(*(getattr(row, key) for key in FIELDS))


def _write(connection: Connection, number: str, kept: Contact) -> None:
    connection.execute(delete(contact_table).where(contact_table.c.job == number))
    if kept != Contact():
        values = {key: getattr(kept, key) for key in FIELDS}
        connection.execute(insert(contact_table).values(job=number, **values))
