"""The gauges of a job: those that were told, and each set's own as it was when it was begun.

A gauge that is described otherwise later is another gauge to what was read before.  Only
equal descriptions, of the gauge and of all that it was set from, share a name in the
document, and with the name the error of their setting; any other gets a name of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sleevewright.jobs.fields import fields_of
from sleevewright.jobs.fields_readings import REPEATED
from sleevewright.jobs.records import Body, canonical

Row = dict[str, Any]
View = Mapping[str, Row]
"""Gauges by name, as one set knows them."""


@dataclass(frozen=True)
class Gauges:
    """Gauges as rows of a document, and under which name each set finds its own."""

    rows: tuple[Row, ...]
    _names: Mapping[str, str]
    _views: Mapping[str, View]

    def name_of(self, body: Body) -> str:
        """The name in the document of the gauge that a set was read with."""
        name = str(body.get("instrument") or "")
        return self._named(name, body)

    def master_of(self, body: Body) -> str:
        """The name in the document of what the gauge of a set was set on."""
        return self._named(str(body.get("master") or ""), body)

    def _named(self, name: str, body: Body) -> str:
        return self._names.get(_identity(name, self._views[str(body["set"])]), name)


def gauges_of(told: View, bodies: Iterable[Body]) -> Gauges:
    """The gauges of a job.

    Parameters
    ----------
    told : Mapping[str, Row]
        Gauges that were told by themselves, by name.
    bodies : Iterable[Mapping[str, Any]]
        The sets, oldest first; of two descriptions the first keeps the plain name.

    Returns
    -------
    Gauges
        Those that were told first and under their own names, then those of the sets.
    """
    listed = list(bodies)
    views: dict[str, View] = {str(one["set"]): {**told, **_snapshots(one)} for one in listed}
    names = {_identity(name, told): name for name in told}
    rows: dict[str, Row] = dict(told)
    taken = {_mark(name) for name in (*told, *_without_description(listed, views))}
    for view in views.values():
        for name in view:
            identity = _identity(name, view)
            if identity not in names:
                own = _own_name(name, taken)
                names[identity], rows[own] = own, {**view[name], "name": own}
                taken.add(_mark(own))
    for view in views.values():
        for name, row in view.items():
            own, master = names[_identity(name, view)], str(row.get("set_from") or "")
            if own not in told and master:
                rows[own]["set_from"] = names.get(_identity(master, view), master)
    return Gauges(tuple(rows.values()), names, views)


def _snapshots(body: Body) -> dict[str, Row]:
    """The gauges that a set carries, by name."""
    known = set(fields_of("instrument")) - set(REPEATED)  # told with the readings of each set
    found: dict[str, Row] = {}
    for one in body.get("instruments", ()):
        said = {key: value for key, value in one.items() if key in known}
        if said.get("name"):
            found.setdefault(str(said["name"]), said)
    return found


def _without_description(bodies: Iterable[Body], views: Mapping[str, View]) -> set[str]:
    """Names that a set uses and nobody described to it: another's gauge is not lent to it."""
    found: set[str] = set()
    for body in bodies:
        view = views[str(body["set"])]
        used = [body.get("instrument"), *(row.get("set_from") for row in view.values())]
        found |= {str(name) for name in used if name and str(name) not in view}
    return found


def _identity(name: str, view: View, above: tuple[str, ...] = ()) -> str:
    """Everything that is said of a gauge and of what it was set from, as one text."""
    row = view.get(name)
    if row is None or name in above:
        return canonical({"name": name})
    master = str(row.get("set_from") or "")
    said = {key: _tidy(value) for key, value in row.items()}
    chain = _identity(master, view, (*above, name)) if master else ""
    return canonical({"said": said, "chain": chain})


def _tidy(value: Any) -> Any:
    return " ".join(value.split()) if isinstance(value, str) else value


def _own_name(name: str, taken: set[str]) -> str:
    """The plain name, or the first with a number behind it that is free."""
    own, count = name, 1
    while _mark(own) in taken:
        count += 1
        own = f"{name} ({count})"
    return own


def _mark(name: str) -> str:
    """A name as answers are named after it: letters and digits alone tell two apart."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "gauge"
