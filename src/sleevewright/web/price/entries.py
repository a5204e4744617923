"""What the page of the price sends: a flat form, taken apart into options and their lines."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import BaseModel, Field, RootModel

from sleevewright.core.operations import OPTIONS
from sleevewright.errors import InputError, clipped
from sleevewright.services.quotes import MOST_PARTS, Wanted

MOST_FIELDS = 300
LONGEST_FIELD = 1000
PLAIN = r"^[ -~]*$"
"""Letters that keys of options, manners and people are written with."""


class OfferIn(RootModel[dict[str, str]]):
    """Fields of the form of the offer, by name.

    ``offer.<option>``, ``minutes.<option>.<operation>``, ``part.<option>.<n>.title`` and
    ``.amount``, ``until``, ``note``.
    """


class AgreeIn(BaseModel):
    """Which option was agreed, how, and who notes it."""

    option: str = Field(max_length=40, pattern=PLAIN)
    how: str = Field(max_length=40, pattern=PLAIN)
    person: str = Field(default="", max_length=64, pattern=PLAIN)


class InvoiceIn(RootModel[dict[str, str]]):
    """Fields of the form: ``change.<n>.title``, ``.amount``, ``.reason``, and ``paid``."""


def wanted_of(fields: Mapping[str, str]) -> tuple[Wanted, ...]:
    """The options that are to be offered, with what was typed.

    Raises
    ------
    InputError
        If there is more than the form has, or an option that there is not.
    """
    _check(fields)
    found = []
    for key in OPTIONS:
        if f"offer.{key}" not in fields:
            continue
        start = f"minutes.{key}."
        minutes = {
            name.removeprefix(start): text
            for name, text in fields.items()
            if name.startswith(start) and text.strip()
        }
        parts = [
            (
                fields.get(f"part.{key}.{place}.title", ""),
                fields.get(f"part.{key}.{place}.amount", ""),
            )
            for place in range(MOST_PARTS)
        ]
        told = [(title, text) for title, text in parts if title.strip() or text.strip()]
        found.append(Wanted(key, minutes, told))
    return tuple(found)


def changes_of(fields: Mapping[str, str]) -> tuple[tuple[str, str, str], ...]:
    """The changes of an invoice that were typed; rows left blank are none."""
    _check(fields)
    rows = [
        tuple(fields.get(f"change.{place}.{part}", "") for part in ("title", "amount", "reason"))
        for place in range(MOST_PARTS)
    ]
    return tuple((a, b, c) for a, b, c in rows if a.strip() or b.strip() or c.strip())


def _check(fields: Mapping[str, str]) -> None:
    """Refuse what no form of the page sends."""
    if len(fields) > MOST_FIELDS:
        raise InputError("fields", len(fields), "", f"at most {MOST_FIELDS}")
    for name, text in fields.items():
        if len(text) > LONGEST_FIELD or not (text.isprintable() and name.isprintable()):
            allowed = f"one line of at most {LONGEST_FIELD} letters that can be printed"
            raise InputError(clipped(ascii(name)), clipped(ascii(text)), "", allowed)
