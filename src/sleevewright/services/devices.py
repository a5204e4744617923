"""Devices of the shop: paired once by a code, known by a secret that does not expire.

The code is shown on the bench's own screen only.  It lives for minutes, is good for one
device, and wrong ones are counted.  A device that was unpaired keeps its name, because
records carry its key; what it still holds stays in its outbox until it is paired again.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets
import threading
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import Connection, insert, select, update

from sleevewright.errors import InputError, NotFound, SleevewrightError
from sleevewright.services.bench import SERVER, Bench
from sleevewright.services.tries import Rate, Tries
from sleevewright.store.tables import device as device_table

LIFETIME = 600.0
"""Seconds that a code is good for."""
DIGITS = 6
LONGEST_NAME = 40
SEEN_EVERY = timedelta(minutes=10)
"""How finely it is noted when a device was last here."""

_ID = re.compile(r"[A-Za-z0-9_.\-]{1,64}")
_NUMBERED = re.compile(r"tablet (\d{1,6})")


@dataclass(frozen=True)
class Device:
    """A device that is or was paired: key in records, name, since when, last here."""

    id: str
    name: str
    is_paired: bool
    paired: str
    last_seen: str


@dataclass(frozen=True)
class Paired:
    """A device that was just paired, with the secret that only its cookie carries."""

    device: Device
    secret: str


class PairingDesk:
    """Codes that are shown, devices that are known: one for each running bench.

    Parameters
    ----------
    bench : Bench
        The open bench.
    clock : Callable[[], float]
        Seconds that only ever grow.
    announce : Callable[[str], None] | None
        Told of a fresh code when a device in the shop asks for one, as a window shows it.
    places : tuple[str, ...]
        Addresses of the pairing page on the shop's networks, the likeliest first.
    """

    def __init__(
        self,
        bench: Bench,
        *,
        clock: Callable[[], float] = time.monotonic,
        announce: Callable[[str], None] | None = None,
        places: tuple[str, ...] = (),
    ) -> None:
        self.bench = bench
        self.places = places
        self.tries = Tries("code", each=Rate(5, 300.0), all_together=Rate(30, 3600.0), clock=clock)
        self._clock = clock
        self._announce = announce
        self._code = ""
        self._until = 0.0
        self._lock = threading.Lock()
        self._secrets: dict[str, tuple[str, str]] | None = None  # id: (hash of secret, name)
        self._seen: dict[str, float] = {}

    def code(self) -> str:
        """The code that is good now; a fresh one where the last was used or is too old."""
        with self._lock:
            return self._fresh()[0]

    def seconds_left(self) -> float:
        """How long the code is still good for."""
        with self._lock:
            self._fresh()
            return self._until - self._clock()

    def asked(self) -> None:
        """A device in the shop shows the page that asks for the code: let it be seen."""
        with self._lock:
            code, is_new = self._fresh()
        if is_new and self._announce is not None:
            self._announce(code)

    def pair(self, code: str, *, name: str = "", device: str = "", asker: str = "") -> Paired:
        """Pair a device by the code.

        Parameters
        ----------
        code : str
            As it was keyed; spaces do not count.
        name : str
            What the device is to be called; the next number where nothing was said.
        device : str
            Key that the device made for itself, if it did.
        asker : str
            Whose wrong tries are counted.

        Raises
        ------
        InputError
            If the code is not right or too old, or the name is taken.
        TooManyTries
            If wrong codes were tried too often.
        """
        began = self.tries.begin(asker)
        told = "".join(code.split())
        until = self._use(told)
        if until is None:
            hint = "A code is good for ten minutes and for one device; key the one shown now."
            raise InputError("code", told[:12] or "nothing", "", "the code on the bench", hint)
        try:
            paired = self._enter(name, device)
        except InputError:
            with self._lock:
                self._code, self._until = told, until  # the name was refused, not the code
            self.tries.undone(asker, began)
            raise
        self.tries.passed(asker, began)
        return paired

    def known(self, device: str, secret: str) -> str | None:
        """The name of the paired device that shows this secret; nothing for any other."""
        kept, name = self._known_secrets().get(device, ("", ""))
        if not kept or not hmac.compare_digest(_hashed(secret), kept):
            return None
        return name

    def is_device(self, key: str) -> bool:
        """Whether a key is that of a device that is or was paired here."""
        return key in self._known_secrets()

    def is_known_by_heart(self, device: str) -> bool:
        """Whether neither the store nor the note of the last visit is needed for this device."""
        return self._secrets is not None and not self._is_to_be_noted(device)

    def seen(self, device: str) -> None:
        """Note that a paired device was here, every ten minutes at most."""
        if not self._is_to_be_noted(device):
            return
        self._seen[device] = self._clock()
        with suppress(SleevewrightError):  # a full disk keeps nobody out
            self._write(device, last_seen=self.bench.now())

    def _is_to_be_noted(self, device: str) -> bool:
        last = self._seen.get(device)
        return last is None or self._clock() - last >= SEEN_EVERY.total_seconds()

    def devices(self) -> tuple[Device, ...]:
        """Every device that was ever paired, by name."""
        found = self.bench.store.read(_all)
        return tuple(sorted(found, key=lambda one: (not one.is_paired, one.name.casefold())))

    def rename(self, device: str, name: str) -> Device:
        """Call a device otherwise."""
        found = self._device(device)
        words = _told_name(name, [one.name for one in self.devices() if one.id != device])
        self._write(device, name=words)
        self._secrets = None
        return Device(found.id, words, found.is_paired, found.paired, found.last_seen)

    def unpair(self, device: str) -> Device:
        """Let a device go: it is asked for a code again, what it holds stays on it."""
        found = self._device(device)
        self._write(device, secret="")
        self._secrets = None
        return Device(found.id, found.name, False, found.paired, found.last_seen)

    def _use(self, told: str) -> float | None:
        """Use the code up, so that no second device comes in by it; nothing if it is not it."""
        with self._lock:
            until = self._until
            is_current = self._clock() < until
            if not is_current or not hmac.compare_digest(told.encode(), self._code.encode()):
                return None
            self._code, self._until = "", 0.0
            return until

    def _fresh(self) -> tuple[str, bool]:
        """The code, and whether it was just made; the lock is held."""
        if self._clock() < self._until:
            return self._code, False
        self._code = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"
        self._until = self._clock() + LIFETIME
        return self._code, True

    def _enter(self, name: str, device: str) -> Paired:
        secret = secrets.token_urlsafe(32)
        now = self.bench.now()

        def work(connection: Connection) -> str:
            known = {one.id: one for one in _all(connection)}
            own = device if _ID.fullmatch(device) and device != SERVER else secrets.token_hex(8)
            others = [one.name for one in known.values() if one.id != own]
            before = known[own].name if own in known else ""
            words = _told_name(name or before or _next_name(others), others)
            values = {"name": words, "secret": _hashed(secret), "paired": now, "last_seen": now}
            if own in known:
                connection.execute(
                    update(device_table).where(device_table.c.id == own).values(values)
                )
            else:
                connection.execute(insert(device_table).values({"id": own, **values}))
            return own

        own = self.bench.store.write(work)
        self._secrets = None
        return Paired(self._device(own), secret)

    def _known_secrets(self) -> dict[str, tuple[str, str]]:
        """Hashes of the secrets, read once after each change: every request asks for one."""
        found = self._secrets
        if found is None:
            query = select(device_table.c.id, device_table.c.secret, device_table.c.name)
            rows = self.bench.store.read(lambda connection: connection.execute(query).all())
            found = {row.id: (row.secret, row.name) for row in rows}
            self._secrets = found
        return found

    def _device(self, device: str) -> Device:
        known = self.devices()
        found = next((one for one in known if one.id == device), None)
        if found is None:
            raise NotFound("device", device, tuple(one.id for one in known))
        return found

    def _write(self, device: str, **values: str) -> None:
        changed = update(device_table).where(device_table.c.id == device).values(values)

        def work(connection: Connection) -> None:
            connection.execute(changed)

        self.bench.store.write(work)


def device_names(bench: Bench) -> dict[str, str]:
    """Key and name of every device that was paired; one that never was is named by its key."""
    return {one.id: one.name for one in bench.store.read(_all)}


def named_device(names: Mapping[str, str], device: str) -> str:
    """What a device is called; a browser that was not paired is told by the end of its key.

    Examples
    --------
    >>> named_device({"d-1": "tablet 2"}, "d-1"), named_device({}, "d-97gbkcyszw")
    ('tablet 2', 'a browser (cyszw)')
    """
    return names.get(device) or f"a browser ({device[-5:]})"


def _all(connection: Connection) -> list[Device]:
    rows = connection.execute(select(device_table)).all()
    return [Device(r.id, r.name, bool(r.secret), r.paired, r.last_seen) for r in rows]


def _hashed(secret: str) -> str:
    """A secret as it is kept: it is long and random, so one fast hash is enough."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _next_name(others: list[str]) -> str:
    taken = [int(found[1]) for one in others if (found := _NUMBERED.fullmatch(one))]
    return f"tablet {1 + max(taken, default=0)}"


def _told_name(name: str, others: list[str]) -> str:
    words = " ".join(name.split())
    if not 1 <= len(words) <= LONGEST_NAME or not words.isprintable():
        allowed = f"a name of 1 to {LONGEST_NAME} letters"
        raise InputError("name", words or "nothing", "", allowed, "As tablet 2, or mill.")
    if words.casefold() in {one.casefold() for one in others}:
        hint = "Records name the device; give this one another."
        raise InputError("name", words, "", "a name that no other device has", hint)
    return words
