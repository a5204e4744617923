"""The bench on the shop's network: its addresses, and what its window shows to pair by.

Addresses are found without sending anything: they are read from the system's own tables,
or from the choice of a route, which no packet leaves for.
"""

from __future__ import annotations

import ipaddress
import re
import socket
from collections.abc import Iterable
from pathlib import Path

ROUTES = Path("/proc/net/fib_trie")
DOCUMENTATION = ("192.0.2.1", 9)
"""An address kept for documentation (RFC 5737); a route to it is chosen, nothing is sent."""

_LOCAL = re.compile(r"\|-- (\d+\.\d+\.\d+\.\d+)\n\s*/32 host LOCAL")


def lan_addresses() -> tuple[str, ...]:
    """Addresses of this machine on its networks, the likeliest of a shop first.

    Returns
    -------
    tuple[str, ...]
        IPv4 addresses; none where the machine is on no network.
    """
    try:
        found = _LOCAL.findall(ROUTES.read_text(encoding="ascii"))
    except OSError:
        found = [*_of_route(), *_of_name()]
    return ordered(found)


def ordered(found: Iterable[str]) -> tuple[str, ...]:
    """Addresses that a device in the shop could open, each once, home networks first.

    Examples
    --------
    >>> ordered(["172.17.0.1", "127.0.0.1", "192.168.1.7", "169.254.3.4", "192.168.1.7"])
    ('192.168.1.7', '172.17.0.1')
    """
    usable = [
        one
        for one in dict.fromkeys(found)
        if not (address := ipaddress.ip_address(one)).is_loopback
        and not address.is_link_local
        and not address.is_unspecified
    ]
    places = ("192.168.", "10.", "172.")
    rank = {one: next((k for k, p in enumerate(places) if one.startswith(p)), 3) for one in usable}
    return tuple(sorted(usable, key=lambda one: rank[one]))


def spaced(code: str) -> str:
    """A code as it is read off a screen.

    Examples
    --------
    >>> spaced("048215")
    '048 215'
    """
    half = len(code) // 2
    return f"{code[:half]} {code[half:]}"


def lan_names() -> tuple[str, ...]:
    """Names and addresses that the bench answers to with ``--lan``, for the Host check."""
    name = socket.gethostname().lower()
    bare = name.partition(".")[0]
    names = (name, bare, f"{bare}.local") if bare and bare != "localhost" else ()
    return tuple(dict.fromkeys((*lan_addresses(), *names)))


def pairing_address(address: str, port: int, *, is_tls: bool = False) -> str:
    """Where a device in the shop opens the page that pairs it.

    Examples
    --------
    >>> pairing_address("localhost", 8175)
    'http://localhost:8175/pair'
    """
    scheme = "https" if is_tls else "http"
    host = f"[{address}]" if ":" in address else address
    return f"{scheme}://{host}:{port}/pair"


def pairing_words(addresses: Iterable[str], port: int, code: str, *, is_tls: bool = False) -> str:
    """What the window of the bench shows: where to go, and the code to key there."""
    places = [pairing_address(one, port, is_tls=is_tls) for one in addresses]
    if not places:
        return (
            "This machine is on no network, so no other device can reach the bench. "
            "Connect it, then start the bench again with --lan."
        )
    lines = [
        "A device of the shop is paired once. Open on it:",
        *(f"  {place}" for place in places),
        f"and key the code {spaced(code)}, good for ten minutes and one device.",
    ]
    return "\n".join(lines)


def qr_lines(address: str, *, encoding: str = "utf-8") -> tuple[str, ...]:
    """An address as a QR code for a terminal; nothing where its letters cannot draw one.

    Two modules stand above each other in one letter, dark on light, with the quiet zone of
    four modules that readers need (ISO/IEC 18004, from memory).
    """
    letters = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
    try:
        "".join(letters.values()).encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return ()
    rows = qr_modules(address)
    if len(rows) % 2:
        rows = (*rows, (0,) * len(rows[0]))
    return tuple(
        "".join(letters[pair] for pair in zip(upper, lower, strict=True))
        for upper, lower in zip(rows[::2], rows[1::2], strict=True)
    )


def qr_modules(address: str) -> tuple[tuple[int, ...], ...]:
    """Rows of a QR code, 1 where dark, with its quiet zone."""
    import segno

    code = segno.make_qr(address, error="m")
    return tuple(tuple(row) for row in code.matrix_iter(scale=1, border=4))


def _of_route() -> list[str]:
    """The address that a packet would leave from."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(DOCUMENTATION)
        except OSError:
            return []
        return [str(asked.getsockname()[0])]


def _of_name() -> list[str]:
    """What a system without such tables knows itself by; Windows looks no further than itself."""
    import os

    if os.name != "nt":
        return []
    try:
        return socket.gethostbyname_ex(socket.gethostname())[2]
    except OSError:
        return []
