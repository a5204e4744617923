"""How a page's tries are counted: by the device it comes from, with the wait in its answer."""

from __future__ import annotations

import ipaddress
import math

from fastapi import Request
from fastapi.responses import JSONResponse
from starlette.types import Scope

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


def is_from_here(scope: Scope) -> bool:
    """Whether a request comes from the machine that the bench runs on.

    It does where it comes from a loopback address, and where it comes from the very address
    that it was sent to: a bench that listens at one address of the network is called so by
    its own machine, and no other device has that address.

    Examples
    --------
    >>> is_from_here({"client": ("192.168.1.7", 50000), "server": ("192.168.1.7", 8175)})
    True
    >>> is_from_here({"client": ("192.168.1.9", 50000), "server": ("192.168.1.7", 8175)})
    False
    """
    client, server = scope.get("client"), scope.get("server")
    host = str(client[0]) if client else ""
    if is_loopback(host):
        return True
    return server is not None and _is_address(host) and host == server[0]


def _is_address(host: str) -> bool:
    try:
        return not ipaddress.ip_address(host).is_unspecified
    except ValueError:
        return False


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
