"""Which device the use case at hand was asked from.

The guard of the pages sets it for the length of a request; a command of this machine
leaves it alone.  It is only used to count wrong tries by device.
"""

from __future__ import annotations

from contextvars import ContextVar, Token

OWN_SCREEN = "this machine"

_ASKING: ContextVar[str] = ContextVar("asking device", default=OWN_SCREEN)


def asking_device() -> str:
    """The device, or the network address of one that is not paired."""
    return _ASKING.get()


def asked_by(device: str) -> Token[str]:
    """Note the device; the token takes it back."""
    return _ASKING.set(device)


def asked_no_more(token: Token[str]) -> None:
    """Take it back."""
    _ASKING.reset(token)
