"""People: who signs, with which PIN, how often it may be tried, and how one is forgotten."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select

from sleevewright.errors import InputError, NotFound
from sleevewright.services import people as service
from sleevewright.services.asker import asked_by, asked_no_more
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.people import (
    FORGOTTEN,
    add_person,
    asks_pin,
    clear_pin,
    confirm,
    forget_person,
    name_of,
    people,
    rename_person,
    set_pin,
)
from sleevewright.services.pins import MEMORY_KIB, PASSES, hash_pin, is_right
from sleevewright.services.tries import Rate, TooManyTries, Tries
from sleevewright.store.tables import person as person_table


class Clock:
    """Seconds that a test sets forward."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        """The second that it is."""
        return self.now


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = open_bench(tmp_path / "data")
    yield opened
    opened.close()


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """PINs hashed at once, for tests that are not about hashing."""
    monkeypatch.setattr(service, "hash_pin", lambda _folder, key, pin: f"{key}:{pin}")
    monkeypatch.setattr(service, "is_right", lambda _folder, key, pin, kept: kept == f"{key}:{pin}")


def tries_of(clock: Clock) -> Tries:
    """Three wrong PINs in a minute from a device, eight an hour from all."""
    return Tries("PIN", each=Rate(3, 60.0), all_together=Rate(8, 3600.0), clock=clock)


def two_people(bench: Bench) -> tuple[str, str]:
    """Keys of two who work here, each with a PIN."""
    return add_person(bench, "Ann Example", "4711").key, add_person(bench, "Bo", "246810").key


def test_who_works_alone_signs_without_a_pin(bench: Bench) -> None:
    """With one person no PIN is asked, whatever is told, and the name may be left out."""
    ann = add_person(bench, "  Ann   Example ")
    assert (ann.key, ann.name, ann.has_pin) == ("p1", "Ann Example", False)
    assert not asks_pin(bench)
    for told in ("", "p1", "ann example", "P1"):
        assert confirm(bench, told) == "p1"
    set_pin(bench, "p1", "4711")
    assert confirm(bench, "p1", "") == "p1"


def test_nobody_is_entered_and_nobody_can_sign(bench: Bench) -> None:
    """The refusal says where people are entered."""
    with pytest.raises(InputError, match=r"person: nobody cannot be used.*page People"):
        confirm(bench, "", "")


@pytest.mark.usefixtures("quick")
def test_from_the_second_person_on_a_pin_is_asked(bench: Bench) -> None:
    """The right PIN of the right person signs; another's does not."""
    ann, bo = two_people(bench)
    assert asks_pin(bench)
    tries = tries_of(Clock())
    assert confirm(bench, ann, "4711", tries=tries) == ann
    assert confirm(bench, "bo", "246810", tries=tries) == bo
    with pytest.raises(InputError, match=r"PIN: .* allowed is the PIN of Ann Example") as caught:
        confirm(bench, ann, "246810", tries=tries)
    assert "246810" not in str(caught.value)
    with pytest.raises(InputError, match="PIN: none cannot be used"):
        confirm(bench, ann, "", tries=tries)


def test_a_person_without_a_pin_is_told_to_set_one(bench: Bench) -> None:
    """Who was alone before has no PIN; the text says where it is set."""
    add_person(bench, "Ann")
    add_person(bench, "Bo", "4711")
    with pytest.raises(InputError, match=r"PIN: none that is set .* of Ann.*page People"):
        confirm(bench, "Ann", "1234")


@pytest.mark.usefixtures("quick")
def test_who_is_not_known_is_told_who_is(bench: Bench) -> None:
    """The names of the shop stand in the refusal; nothing is guessed when several work here."""
    two_people(bench)
    for told in ("Cy", "p9", ""):
        with pytest.raises(InputError, match="one of Ann Example, Bo"):
            confirm(bench, told, "4711")


@pytest.mark.usefixtures("quick")
def test_wrong_pins_lock_a_device_out_for_a_while(bench: Bench) -> None:
    """After three wrong ones even the right one waits, from this device and for this person."""
    ann, bo = two_people(bench)
    clock = Clock()
    tries = tries_of(clock)
    for _ in range(3):
        with pytest.raises(InputError):
            confirm(bench, ann, "0000", tries=tries)
    with pytest.raises(TooManyTries, match="next try is taken in 60 seconds"):
        confirm(bench, ann, "4711", tries=tries)
    assert confirm(bench, bo, "246810", tries=tries) == bo
    asked = asked_by("tablet 2")
    try:
        assert confirm(bench, ann, "4711", tries=tries) == ann
    finally:
        asked_no_more(asked)
    clock.now += 60.0
    assert confirm(bench, ann, "4711", tries=tries) == ann


@pytest.mark.usefixtures("quick")
def test_guessing_from_many_devices_ends_too(bench: Bench) -> None:
    """Eight wrong ones over all devices, and nobody may try for the rest of the hour."""
    ann, _ = two_people(bench)
    tries = tries_of(Clock())
    for number in range(8):
        asked = asked_by(f"device {number}")
        try:
            with pytest.raises(InputError):
                confirm(bench, ann, f"{number:04d}", tries=tries)
        finally:
            asked_no_more(asked)
    with pytest.raises(TooManyTries, match="in 60 minutes"):
        confirm(bench, ann, "4711", tries=tries)


@pytest.mark.usefixtures("quick")
def test_an_empty_pin_is_no_wrong_try(bench: Bench) -> None:
    """A page that first asks who signs does not lock anybody out."""
    ann, _ = two_people(bench)
    tries = tries_of(Clock())
    for _ in range(5):
        with pytest.raises(InputError):
            confirm(bench, ann, "", tries=tries)
    assert confirm(bench, ann, "4711", tries=tries) == ann


@pytest.mark.usefixtures("quick")
def test_a_pin_is_changed_by_who_knows_it(bench: Bench) -> None:
    """The old one is asked for, and wrong ones of it count as wrong tries."""
    ann, _ = two_people(bench)
    tries = tries_of(Clock())
    for _ in range(3):
        with pytest.raises(InputError, match="PIN of Ann Example"):
            set_pin(bench, ann, "99999", old="1111", tries=tries)
    with pytest.raises(TooManyTries):
        set_pin(bench, ann, "99999", old="4711", tries=tries)
    set_pin(bench, ann, "99999", old="4711", tries=tries_of(Clock()))
    assert confirm(bench, ann, "99999", tries=tries_of(Clock())) == ann


@pytest.mark.usefixtures("quick")
def test_a_forgotten_pin_is_taken_away_and_set_anew(bench: Bench) -> None:
    """Without its PIN the person cannot sign until a new one is set."""
    ann, _ = two_people(bench)
    assert not clear_pin(bench, ann).has_pin
    with pytest.raises(InputError, match="none that is set"):
        confirm(bench, ann, "4711")
    set_pin(bench, ann, "5822")
    assert confirm(bench, ann, "5822") == ann


@pytest.mark.parametrize("pin", ["123", "1234567890123", "12a4", "１２３４", " 1234", ""])
def test_what_is_no_pin_is_refused_without_showing_it(bench: Bench, pin: str) -> None:
    """Four to twelve plain digits; the refusal shows no part of what was told."""
    add_person(bench, "Ann")
    with pytest.raises(InputError, match=r"PIN: \d+ letters .* allowed is 4 to 12 digits"):
        set_pin(bench, "p1", pin)


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "Ann\x07", "p3"])
def test_a_name_that_says_nothing_is_refused(bench: Bench, name: str) -> None:
    """Nothing, too much, a control character, and what looks like a key."""
    with pytest.raises(InputError, match=r"name: .* allowed is a name of 1 to 60 letters"):
        add_person(bench, name)


def test_two_people_have_two_names(bench: Bench) -> None:
    """A second Ann is told to be told apart; oneself may be written otherwise."""
    add_person(bench, "Ann")
    add_person(bench, "Bo")
    with pytest.raises(InputError, match="a name that nobody has here"):
        add_person(bench, "ANN")
    with pytest.raises(InputError, match="a name that nobody has here"):
        rename_person(bench, "p2", "ann")
    assert rename_person(bench, "p1", "ANN").name == "ANN"


def test_a_person_is_forgotten_and_the_key_stays(bench: Bench) -> None:
    """The name is nowhere in the table any more; the key is never given again."""
    add_person(bench, "Ann Example", "4711")
    forget_person(bench, "p1")
    assert name_of(bench, "p1") == FORGOTTEN
    assert people(bench) == ()
    rows = bench.store.read(lambda connection: connection.execute(select(person_table)).all())
    assert [tuple(row)[:4] for row in rows] == [("p1", "", None, False)]
    assert add_person(bench, "Ann Example").key == "p2"
    assert confirm(bench, "", "") == "p2"
    with pytest.raises(NotFound):
        set_pin(bench, "p1", "4711")
    with pytest.raises(NotFound):
        forget_person(bench, "p1")


def test_an_unknown_key_is_someone_who_was_removed(bench: Bench) -> None:
    """A record of an imported job may name a key that this shop does not have."""
    assert name_of(bench, "p77") == FORGOTTEN


def test_a_pin_is_kept_slow_and_salted_and_bound(tmp_path: Path) -> None:
    """argon2id at the cost that OWASP asks for at least; another folder or person fails."""
    one, two = hash_pin(tmp_path, "p1", "4711"), hash_pin(tmp_path, "p1", "4711")
    assert one != two
    assert one.startswith(f"$argon2id$v=19$m={MEMORY_KIB},t={PASSES},p=1$")
    assert MEMORY_KIB >= 19 * 1024
    assert is_right(tmp_path, "p1", "4711", one)
    assert not is_right(tmp_path, "p1", "4712", one)
    assert not is_right(tmp_path, "p2", "4711", one)
    assert not is_right(tmp_path / "other", "p1", "4711", one)
    assert not is_right(tmp_path, "p1", "4711", "")
    assert "4711" not in one
