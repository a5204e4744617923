"""What each formula of the core is, where it is from and where it holds.

Every public function of the core that gives a number is decorated with :func:`formula`.
The record made there is the only place where a formula's wording, sources and range are
kept: the basis of an answer, the reference pages and the evidence table all read it.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from sleevewright.errors import NotFound

Function = TypeVar("Function", bound=Callable[..., object])


@dataclass(frozen=True)
class Formula:
    """One relation of the core: its name, expression, sources and range."""

    name: str
    function: str
    expression: str
    sources: tuple[str, ...]
    validity: str
    unit: str


_known: dict[str, Formula] = {}


def formula(
    *, name: str, expression: str, sources: tuple[str, ...], validity: str, unit: str
) -> Callable[[Function], Function]:
    """Declare the relation that the decorated function computes.

    ``sources`` are keys of ``docs/sources.md``; ``practice``, ``from-memory`` and
    ``derived`` are keys too.  ``unit`` is the SI unit of the result, ``1`` for a ratio.
    """

    def declare(function: Function) -> Function:
        path = f"{function.__module__}.{function.__qualname__}"
        _known[path] = Formula(name, path, expression, sources, validity, unit)
        return function

    return declare


def formula_of(function: Callable[..., object]) -> Formula:
    """The declared relation of ``function``; :class:`NotFound` where none was declared."""
    path = f"{function.__module__}.{function.__qualname__}"
    if path not in _known:
        raise NotFound("formula", path)
    return _known[path]


def all_formulas() -> tuple[Formula, ...]:
    """Every declared relation, by the path of its function."""
    from sleevewright import core

    for module in pkgutil.walk_packages(core.__path__, core.__name__ + "."):
        importlib.import_module(module.name)
    return tuple(_known[path] for path in sorted(_known))
