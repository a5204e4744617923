"""How often a code or a PIN may be tried: per device and over all, with the wait in words.

Only wrong tries count.  A right one clears the count of whoever made it, never the count
over all, so that guessing cannot hide behind one's own code.
"""

from __future__ import annotations

import math
import threading
import time
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from sleevewright.errors import SleevewrightError

MOST_DEVICES = 1000
"""Devices whose wrong tries are remembered apart; the count over all goes on regardless."""


class TooManyTries(SleevewrightError):
    """No try is taken for a while."""

    def __init__(self, what: str, seconds: float) -> None:
        self.what = what
        self.seconds = seconds
        super().__init__(
            f"{what}: tried wrongly too often. The next try is taken {wait_in_words(seconds)}; "
            "until then none is looked at."
        )


@dataclass(frozen=True)
class Rate:
    """So many wrong tries in so many seconds."""

    tries: int
    seconds: float


def wait_in_words(seconds: float) -> str:
    """A wait as it is said, never less than it is.

    Examples
    --------
    >>> wait_in_words(0.2), wait_in_words(89.0), wait_in_words(125.0)
    ('in 1 second', 'in 89 seconds', 'in 3 minutes')
    """
    whole = max(1, math.ceil(seconds))
    if whole < 90:
        return f"in {whole} second{'s' if whole > 1 else ''}"
    return f"in {math.ceil(whole / 60)} minutes"


class Tries:
    """Wrong tries of one kind, remembered as long as they count.

    Parameters
    ----------
    what : str
        What is tried, for the refusal.
    each : Rate
        Wrong tries that one device may make.
    all_together : Rate
        Wrong tries that all devices may make.
    clock : Callable[[], float]
        Seconds that only ever grow.
    """

    def __init__(
        self,
        what: str,
        *,
        each: Rate,
        all_together: Rate,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._what = what
        self._each = each
        self._all = all_together
        self._clock = clock
        self._wrong: dict[str, deque[float]] = {}
        self._wrong_of_all: deque[float] = deque(maxlen=all_together.tries)
        self._lock = threading.Lock()

    def wait(self, device: str) -> float:
        """Seconds until this device may try; zero where it may now."""
        with self._lock:
            return self._wait_of(device, self._clock())

    def begin(self, device: str) -> float:
        """Count a try as wrong before it is looked at, or refuse it because it comes too early.

        Both are one step, so that tries made at once are no more than tries made in a row.

        Returns
        -------
        float
            The moment of the try, for :meth:`passed` or :meth:`undone`.

        Raises
        ------
        TooManyTries
            With the time until the next try.
        """
        with self._lock:
            now = self._clock()
            seconds = self._wait_of(device, now)
            if seconds > 0.0:
                raise TooManyTries(self._what, seconds)
            own = self._wrong.pop(device, None) or deque(maxlen=self._each.tries)
            own.append(now)
            self._wrong[device] = own  # the last one to fail is the last to be forgotten
            self._wrong_of_all.append(now)
            while len(self._wrong) > MOST_DEVICES:
                del self._wrong[next(iter(self._wrong))]
            return now

    def passed(self, device: str, began: float) -> None:
        """It was right: forget it, and the wrong tries of that device."""
        with self._lock:
            self._wrong.pop(device, None)
            _forget(self._wrong_of_all, began)

    def undone(self, device: str, began: float) -> None:
        """It was neither right nor wrong: forget it alone."""
        with self._lock:
            _forget(self._wrong.get(device, deque()), began)
            _forget(self._wrong_of_all, began)

    def _wait_of(self, device: str, now: float) -> float:
        """Seconds that a device has to wait; the lock is held."""
        own = _wait(self._wrong.get(device, deque()), self._each, now)
        return max(own, _wait(self._wrong_of_all, self._all, now))


def _forget(wrong: deque[float], began: float) -> None:
    """One try of that moment, if it still counts."""
    with suppress(ValueError):
        wrong.remove(began)


def _wait(wrong: deque[float], rate: Rate, now: float) -> float:
    """Seconds until the oldest wrong try that still counts is old enough."""
    if len(wrong) < rate.tries:
        return 0.0
    return max(0.0, wrong[0] + rate.seconds - now)
