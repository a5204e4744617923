"""PINs: what one is, how it is kept, how it is told right from wrong.

A PIN is short, so it is hashed slowly (argon2id) together with a secret of the folder: who
has only the database cannot try them all.  Cost: 19 MiB and two passes, which is the least
that the OWASP password storage cheat sheet asks for (from memory) and what a small
single-board computer does in a fraction of a second.
"""

from __future__ import annotations

import functools
import hashlib
import hmac
from pathlib import Path
from typing import TYPE_CHECKING

from sleevewright.services.keys import secret_of

if TYPE_CHECKING:
    from argon2 import PasswordHasher

PASSES = 2
MEMORY_KIB = 19_456
PIN_WORDS = "4 to 12 digits"

_FEWEST, _MOST = 4, 12


def is_pin(pin: str) -> bool:
    """Whether a text can be a PIN.

    Examples
    --------
    >>> is_pin("4711"), is_pin("471"), is_pin("47a1")
    (True, False, False)
    """
    return pin.isascii() and pin.isdigit() and _FEWEST <= len(pin) <= _MOST


def hash_pin(folder: Path, person: str, pin: str) -> str:
    """A PIN as it is kept."""
    return _hasher().hash(_seasoned(folder, person, pin))


def is_right(folder: Path, person: str, pin: str, kept: str) -> bool:
    """Whether a PIN is the one that is kept for this person."""
    from argon2.exceptions import InvalidHashError, VerificationError

    try:
        return _hasher().verify(kept, _seasoned(folder, person, pin))
    except (VerificationError, InvalidHashError):
        return False


def _seasoned(folder: Path, person: str, pin: str) -> str:
    """The PIN bound to its person and to the secret of the folder."""
    told = f"{person}:{pin[: 4 * _MOST]}".encode()
    return hmac.new(secret_of(folder, "pin"), told, hashlib.sha256).hexdigest()


@functools.cache
def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher

    return PasswordHasher(time_cost=PASSES, memory_cost=MEMORY_KIB, parallelism=1)
