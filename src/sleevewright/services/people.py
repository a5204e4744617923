"""People: who signs a release or lifts a hold, by name and, among several, by PIN.

As long as one person works here no PIN is asked.  A person can be forgotten: the name is
removed, the key that records carry stays.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, insert, select, update

from sleevewright.errors import InputError, NotFound
from sleevewright.services.asker import asking_device
from sleevewright.services.bench import Bench
from sleevewright.services.pins import PIN_WORDS, hash_pin, is_pin, is_right
from sleevewright.services.tries import Rate, Tries
from sleevewright.store.tables import person as person_table

FORGOTTEN = "someone who was removed"
LONGEST_NAME = 60

PIN_TRIES = Tries("PIN", each=Rate(5, 600.0), all_together=Rate(30, 3600.0))
"""Wrong PINs of this process: five in ten minutes from a device for a person, thirty an hour."""

_KEY = re.compile(r"p[1-9]\d{0,9}")


@dataclass(frozen=True)
class Person:
    """One who works here: the key that records carry, the name, whether a PIN is set."""

    key: str
    name: str
    has_pin: bool
    is_active: bool
    since: str

    @property
    def shown(self) -> str:
        """The name, or that it was removed."""
        return self.name or FORGOTTEN


def people(bench: Bench, *, with_removed: bool = False) -> tuple[Person, ...]:
    """Everybody who works here, in the order in which they came."""
    found = bench.store.read(_all)
    return tuple(one for one in found if one.is_active or with_removed)


def name_of(bench: Bench, key: str) -> str:
    """The name that a key stands for; of a person who was removed, that it is so."""
    found = next((one for one in people(bench, with_removed=True) if one.key == key), None)
    return FORGOTTEN if found is None else found.shown


def asks_pin(bench: Bench) -> bool:
    """Whether a signature needs a PIN: as soon as there are two to tell apart."""
    return len(people(bench)) > 1


def add_person(bench: Bench, name: str, pin: str = "") -> Person:
    """Enter a person.

    Raises
    ------
    InputError
        If the name says nothing or is taken, or the PIN is none.
    """
    words, new_pin = _told_name(name), _told_pin(pin) if pin else ""

    def work(connection: Connection) -> str:
        known = _all(connection)
        _refuse_taken(words, (one for one in known if one.is_active))
        key = f"p{1 + max((int(one.key[1:]) for one in known), default=0)}"
        hashed = hash_pin(bench.folder, key, new_pin) if new_pin else None
        row = {"key": key, "name": words, "pin": hashed, "is_active": True, "since": bench.now()}
        connection.execute(insert(person_table).values(row))
        return key

    return _person(bench, bench.store.write(work))


def rename_person(bench: Bench, key: str, name: str) -> Person:
    """Write a person's name otherwise."""
    words = _told_name(name)
    _active(bench, key)

    def work(connection: Connection) -> None:
        others = (one for one in _all(connection) if one.is_active and one.key != key)
        _refuse_taken(words, others)
        _change(connection, key, name=words)

    bench.store.write(work)
    return _person(bench, key)


def set_pin(
    bench: Bench, key: str, pin: str, *, old: str = "", tries: Tries | None = None
) -> Person:
    """Set or change a person's PIN; the one that is set has to be told.

    Raises
    ------
    InputError
        If the new PIN is none, or the old one is not right.
    TooManyTries
        If the old one was told wrongly too often.
    """
    found = _active(bench, key)
    new_pin = _told_pin(pin)
    if found.has_pin:
        _check_pin(bench, found, old, tries or PIN_TRIES)
    hashed = hash_pin(bench.folder, key, new_pin)
    bench.store.write(lambda connection: _change(connection, key, pin=hashed))
    return _person(bench, key)


def refuse_first_pin(bench: Bench, key: str) -> None:
    """Refuse a first PIN from a device of the network.

    It is set where it is seen who sets it.  On a tablet, whoever holds that could sign by
    the name of a person who has none yet.

    Raises
    ------
    InputError
        If the person has no PIN.
    """
    found = _active(bench, key)
    if not found.has_pin:
        allowed = f"a first PIN of {found.name} on the bench's own screen"
        hint = "Open the page People on the machine that the bench runs on."
        raise InputError("PIN", "set from a device of the network", "", allowed, hint)


def clear_pin(bench: Bench, key: str) -> Person:
    """Take a forgotten PIN away; only the bench's own screen offers this."""
    _active(bench, key)
    bench.store.write(lambda connection: _change(connection, key, pin=None))
    return _person(bench, key)


def forget_person(bench: Bench, key: str) -> Person:
    """Remove a person's name and PIN; what they signed stays signed by their key."""
    _active(bench, key)
    bench.store.write(
        lambda connection: _change(connection, key, name="", pin=None, is_active=False)
    )
    return _person(bench, key)


def confirm(bench: Bench, person: str, pin: str = "", *, tries: Tries | None = None) -> str:
    """The key of who signs, once it is certain that it is they.

    Parameters
    ----------
    bench : Bench
        The open bench.
    person : str
        Key or name; nothing where one person works here alone.
    pin : str
        Looked at only where several people work here.
    tries : Tries | None
        Count of wrong tries, where it is not that of this process.

    Returns
    -------
    str
        The person's key.

    Raises
    ------
    InputError
        If nobody is entered, the person is not known, or the PIN is not set or not right.
    TooManyTries
        If the PIN was told wrongly too often; the text says when the next try is taken.
    """
    found = _signer(people(bench), person.strip())
    if not asks_pin(bench):
        return found.key
    if not found.has_pin:
        allowed = f"a PIN of {found.name}, because several people work here"
        hint = "Set it on the page People of the bench's own screen."
        raise InputError("PIN", "none that is set", "", allowed, hint)
    _check_pin(bench, found, pin, tries or PIN_TRIES)
    return found.key


def _signer(known: tuple[Person, ...], told: str) -> Person:
    if not known:
        hint = "Enter who works here on the page People, then sign."
        raise InputError("person", told or "nobody", "", "a person of this shop", hint)
    if not told and len(known) == 1:
        return known[0]
    for one in known:
        if told and told.casefold() in (one.key, one.name.casefold()):
            return one
    names = ", ".join(one.name for one in known)
    raise InputError("person", told or "nobody", "", f"one of {names}", "Say who signs.")


def _check_pin(bench: Bench, found: Person, pin: str, tries: Tries) -> None:
    """Refuse a PIN that is not this person's; nothing of it is ever shown."""
    who = f"{asking_device()}/{found.key}"
    if pin:
        began = tries.begin(who)
        query = select(person_table.c.pin).where(person_table.c.key == found.key)
        kept = bench.store.read(lambda connection: connection.execute(query).scalar_one())
        if is_right(bench.folder, found.key, pin, kept or ""):
            tries.passed(who, began)
            return
    said = "the one that was keyed" if pin else "none"
    hint = "Who forgot it has it taken away on the bench's own screen, on the page People."
    raise InputError("PIN", said, "", f"the PIN of {found.name}", hint)


def _told_name(name: str) -> str:
    words = " ".join(name.split())
    if not 1 <= len(words) <= LONGEST_NAME or not words.isprintable() or _KEY.fullmatch(words):
        allowed = f"a name of 1 to {LONGEST_NAME} letters"
        raise InputError("name", words or "nothing", "", allowed, "Write it as it is signed.")
    return words


def _told_pin(pin: str) -> str:
    if not is_pin(pin):
        raise InputError("PIN", f"{len(pin)} letters", "", PIN_WORDS, "Choose another.")
    return pin


def _refuse_taken(words: str, others: Iterable[Person]) -> None:
    if words.casefold() in {one.name.casefold() for one in others}:
        hint = "Add a letter, so that two people can be told apart on a release."
        raise InputError("name", words, "", "a name that nobody has here", hint)


def _active(bench: Bench, key: str) -> Person:
    found = _person(bench, key)
    if not found.is_active:
        raise NotFound("person", key, tuple(one.key for one in people(bench)))
    return found


def _person(bench: Bench, key: str) -> Person:
    known = people(bench, with_removed=True)
    found = next((one for one in known if one.key == key), None)
    if found is None:
        raise NotFound("person", key, tuple(one.key for one in known if one.is_active))
    return found


def _all(connection: Connection) -> list[Person]:
    rows = connection.execute(select(person_table)).all()
    found = [Person(r.key, r.name, r.pin is not None, r.is_active, r.since) for r in rows]
    return sorted(found, key=lambda one: int(one.key[1:]))


def _change(connection: Connection, key: str, **values: Any) -> None:
    connection.execute(update(person_table).where(person_table.c.key == key).values(values))
