"""How a page's tries are counted: by the device it comes from, with the wait in its answer."""

from __future__ import annotations

import ipaddress
import math

from fastapi import Request
from fastapi.responses import JSONResponse

from sleevewright.errors import InputError
from sleevewright.services.tries import TooManyTries


def is_loopback(host: str) -> bool:
    """Whether an address is that of this machine itself.

    Examples
    --------
    >>> is_loopback("127.0.0.1"), is_loopback("::ffff:127.0.0.1"), is_loopback("192.168.1.7")
    (True, True, False)
    """
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)
    return bool((mapped or address).is_loopback)


def asker(request: Request) -> str:
    """Who tries: the paired device, else the address that the request came from."""
    device = getattr(request.state, "device", "")
    if device:
        return str(device)
    return request.client.host if request.client else "unknown"


def is_own_screen(request: Request) -> bool:
    """Whether this comes from the machine that the bench runs on."""
    return bool(getattr(request.state, "is_own_screen", True))


def refuse_elsewhere(request: Request, page: str) -> None:
    """Refuse what only the bench's own screen may change.

    Raises
    ------
    InputError
        If it comes from a device of the network.
    """
    if not is_own_screen(request):
        allowed = "the bench's own screen"
        hint = f"Open the page {page} on the machine that the bench runs on."
        raise InputError("this device", "a device of the network", "", allowed, hint)


def wait_answer(refused: TooManyTries) -> JSONResponse:
    """The answer to a try that came too early; it tells when the next is taken."""
    seconds = max(1, math.ceil(refused.seconds))
    told = {"text": str(refused), "error": str(refused), "seconds": seconds}
    return JSONResponse(told, status_code=429, headers={"Retry-After": str(seconds)})
