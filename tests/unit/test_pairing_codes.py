"""Codes of the pairing desk: how long and how often they are good, and what is kept of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select

from sleevewright.errors import InputError, NotFound
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.devices import LIFETIME, PairingDesk
from sleevewright.services.tries import TooManyTries
from sleevewright.store.tables import device as device_table


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
def clock() -> Clock:
    """The clock of the desk."""
    return Clock()


@pytest.fixture
def desk(bench: Bench, clock: Clock) -> PairingDesk:
    """The desk of a bench on a network."""
    return PairingDesk(bench, clock=clock)


def test_a_code_is_good_for_one_device(desk: PairingDesk) -> None:
    """The second device needs the next code."""
    code = desk.code()
    desk.pair(code)
    with pytest.raises(InputError, match=r"code: \d+ cannot be used.*one device"):
        desk.pair(code)
    assert desk.code() != code


def test_a_code_is_good_for_ten_minutes(desk: PairingDesk, clock: Clock) -> None:
    """An old one is refused with what to do; the screen shows a fresh one by then."""
    code = desk.code()
    clock.now += LIFETIME - 1.0
    assert desk.code() == code
    assert desk.seconds_left() == pytest.approx(1.0)
    clock.now += 1.0
    with pytest.raises(InputError, match="key the one shown now"):
        desk.pair(code)
    assert desk.seconds_left() == pytest.approx(LIFETIME)


def test_a_code_may_be_keyed_with_its_gap(desk: PairingDesk) -> None:
    """As it is read off the screen."""
    code = desk.code()
    assert re.fullmatch(r"\d{6}", code)
    assert desk.pair(f" {code[:3]} {code[3:]} ").device.is_paired


def test_no_code_pairs_before_one_was_shown(desk: PairingDesk) -> None:
    """An empty code is never the code."""
    for code in ("", "      ", "000000"):
        with pytest.raises(InputError, match="allowed is the code on the bench"):
            desk.pair(code)


def test_guessing_from_many_addresses_ends(desk: PairingDesk) -> None:
    """Thirty wrong codes an hour over all: of a million codes that is 0.003 %."""
    desk.code()
    for number in range(30):
        with pytest.raises(InputError):
            desk.pair("nonsense", asker=f"192.168.7.{number}")
    with pytest.raises(TooManyTries, match="in 60 minutes"):
        desk.pair(desk.code(), asker="192.168.7.99")


def test_a_key_that_is_not_a_devices_is_not_taken(desk: PairingDesk) -> None:
    """Nobody pairs as the bench itself, and an unusable key is made up anew."""
    for told in ("bench", "a/b", "x" * 65, ""):
        found = desk.pair(desk.code(), device=told).device
        assert re.fullmatch(r"[0-9a-f]{16}", found.id), told
    with pytest.raises(NotFound):
        desk.unpair("bench")


def test_no_secret_is_kept_as_it_is(bench: Bench, desk: PairingDesk) -> None:
    """Who reads the database cannot come in as a device."""
    paired = desk.pair(desk.code(), device="d-1")
    query = select(device_table.c.secret)
    kept = bench.store.read(lambda connection: connection.execute(query).scalar_one())
    assert kept != paired.secret
    assert desk.known("d-1", paired.secret) == "tablet 1"
    assert desk.known("d-1", kept) is None
    assert desk.known("d-2", paired.secret) is None
    assert desk.known("d-1", "") is None
