"""The cookie by which a paired device is known: signed, unreadable to scripts, long-lived.

It never expires for the bench; browsers keep a cookie for 400 days at most (RFC 6265bis
draft, from memory), so it is written anew every month that the device comes by.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from itsdangerous import BadData, URLSafeTimedSerializer
from starlette.responses import Response

from sleevewright.services.keys import secret_of

COOKIE = "sleevewright_device"
KEPT = timedelta(days=400)
RENEWED_AFTER = timedelta(days=30)


@dataclass(frozen=True)
class Shown:
    """What a device shows: its key, its secret, whether the cookie is to be written anew."""

    device: str
    secret: str
    is_old: bool


class DeviceCookies:
    """Cookies of one data folder, signed by its key."""

    def __init__(self, folder: Path) -> None:
        self._signer = URLSafeTimedSerializer(
            secret_of(folder, "cookies"),
            salt="device",
            signer_kwargs={"digest_method": hashlib.sha256},
        )

    def text(self, device: str, secret: str) -> str:
        """The cookie of a device."""
        signed = self._signer.dumps([device, secret])
        return signed if isinstance(signed, str) else signed.decode()

    def read(self, text: str) -> Shown | None:
        """What a cookie says; nothing where it is not ours or was changed."""
        try:
            told, signed_at = self._signer.loads(text, return_timestamp=True)
            device, secret = told
        except (BadData, TypeError, ValueError):
            return None
        if not isinstance(device, str) or not isinstance(secret, str):
            return None
        return Shown(device, secret, abs(datetime.now(UTC) - signed_at) > RENEWED_AFTER)

    def put(self, answer: Response, device: str, secret: str, *, is_tls: bool) -> None:
        """Write the cookie into an answer."""
        answer.set_cookie(
            COOKIE,
            self.text(device, secret),
            max_age=int(KEPT.total_seconds()),
            path="/",
            secure=is_tls,
            httponly=True,
            samesite="strict",
        )
