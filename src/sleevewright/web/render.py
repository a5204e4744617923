"""Templates of the bench: one environment, nothing undefined ever printed as nothing."""

from __future__ import annotations

import functools
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.responses import HTMLResponse

from sleevewright.web.formula import typeset
from sleevewright.web.statics import StaticFiles

ENGRAVED = frozenset(
    "0123456789+\N{MINUS SIGN}\N{PLUS-MINUS SIGN}=\N{MULTIPLICATION SIGN}"
    ".,:/-\N{EN DASH}()\N{MIDDLE DOT}\N{DEGREE SIGN} ABCDEFGHIJKLMNOPQRSTUVWXYZ"
)
"""Characters that the project's own lettering has; it has no lower case for the screen."""


def lettered(text: str) -> str:
    """The class of a figure: our own lettering where it has every character of it.

    Examples
    --------
    >>> lettered("J-31"), lettered("not yet")
    ('fig', 'said')
    """
    return "fig" if text and set(text) <= ENGRAVED else "said"


SPELLED = {"s": "seconds", "min": "minutes"}


def spelled(unit: str) -> str:
    """A unit as it is said at the bench, where its symbol is not what people say.

    Examples
    --------
    >>> spelled("s"), spelled("° per 10 thou"), spelled("thou")
    ('seconds', 'degrees per 10 thou', 'thou')
    """
    if unit.startswith("° per "):
        return f"degrees{unit[1:]}"
    return SPELLED.get(unit, unit)


@functools.cache
def static_files() -> StaticFiles:
    """The set of files that pages bring along, read once."""
    return StaticFiles()


@functools.cache
def environment() -> Environment:
    """The one template environment."""
    made = Environment(
        loader=PackageLoader("sleevewright", "web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["static"] = static_files().address
    made.filters["lettered"] = lettered
    made.filters["spelled"] = spelled
    made.filters["typeset"] = typeset
    return made


def render(template: str, **context: Any) -> str:
    """A template as text."""
    return environment().get_template(template).render(**context)


def page(template: str, *, status: int = 200, **context: Any) -> HTMLResponse:
    """A template as an answer that browsers ask for afresh each time."""
    text = render(template, **context)
    return HTMLResponse(text, status_code=status, headers={"Cache-Control": "no-cache"})
