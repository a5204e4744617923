"""A silent moving picture of two grey frames, built here byte by byte.

A browser that plays it keeps its screen on where it may not be asked to: over plain http.
"""

from __future__ import annotations

import base64
import functools
import struct

EDGE = 16
"""Width and height. [px]"""

LASTS = 4000.0
"""From the start to the end. [ms]"""

SECOND = 2000
"""When the second frame comes. [ms]"""

_FRAME = base64.b64decode("UAEAnQEqEAAQAALATCWkAAR0AADkQAAA")
"""One grey key frame as a browser coded it."""

_SIZES = 8


@functools.cache
def awake_file() -> bytes:
    """The picture as a WebM file (RFC 8794 and 9559: elements of an id, a size, a content)."""
    head = _made(
        0x1A45DFA3,
        _whole(0x4286, 1), _whole(0x42F7, 1), _whole(0x42F2, 4), _whole(0x42F3, 8),
        _text(0x4282, "webm"), _whole(0x4287, 2), _whole(0x4285, 2),
    )  # fmt: skip
    info = _made(
        0x1549A966,
        _whole(0x2AD7B1, 1_000_000),
        _made(0x4489, struct.pack(">d", LASTS)),
        _text(0x4D80, "sleevewright"),
        _text(0x5741, "sleevewright"),
    )
    video = _made(0xE0, _whole(0xB0, EDGE), _whole(0xBA, EDGE))
    track = _made(
        0xAE, _whole(0xD7, 1), _whole(0x73C5, 1), _whole(0x83, 1), _text(0x86, "V_VP8"), video
    )
    blocks = [_made(0xA3, b"\x81" + struct.pack(">h", at) + b"\x80" + _FRAME) for at in (0, SECOND)]
    cluster = _made(0x1F43B675, _whole(0xE7, 0), *blocks)
    return head + _made(0x18538067, info, _made(0x1654AE6B, track), cluster)


def _made(name: int, *contents: bytes) -> bytes:
    """One element: its id, the size of what it holds on eight bytes, what it holds."""
    content = b"".join(contents)
    size = (1 << (7 * _SIZES)) | len(content)
    return name.to_bytes((name.bit_length() + 7) // 8, "big") + size.to_bytes(8, "big") + content


def _whole(name: int, value: int) -> bytes:
    """An element that holds a whole number."""
    return _made(name, value.to_bytes(max(1, (value.bit_length() + 7) // 8), "big"))


def _text(name: int, text: str) -> bytes:
    """An element that holds words."""
    return _made(name, text.encode("ascii"))
