"""The shop's gauges: what each is worth, what it was set from, when it was last checked.

A set of readings carries a snapshot of its gauge and of what that was set from, so that
a change here never changes what was read before.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from datetime import date
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from sleevewright.core.gauges import GaugeKind, gauge_kind, gauge_kinds
from sleevewright.errors import InputError, NotFound, SleevewrightError, clipped
from sleevewright.jobs.fields_readings import INSTRUMENT_KINDS, REPEATED
from sleevewright.jobs.model import Entry
from sleevewright.jobs.model import Instrument as PlannedInstrument
from sleevewright.jobs.studies import RENAMED, folded_studies
from sleevewright.services.bench import Bench
from sleevewright.services.shelf import outdate_verdicts
from sleevewright.store.studykeeping import add_study_entry, study_entries
from sleevewright.store.tables import instrument as instrument_table
from sleevewright.units import Dimension, parse

LONGEST_NAME = 40
DIMENSIONS = {
    "m": Dimension.LENGTH,
    "rad": Dimension.ANGLE,
    "K": Dimension.TEMPERATURE_DIFFERENCE,
    "kg": Dimension.MASS,
    "m3": Dimension.VOLUME,
    "1": Dimension.FRACTION,
}
MOST_TIMES = 50.0
"""A doubt or step this many times what is usual for the kind is a slip of unit or point."""

_RANGE = re.compile(r"(?P<low>.+?)\s*(?:to|\N{EN DASH}|-)\s*(?P<high>\d.*)")


@dataclass(frozen=True)
class Instrument:
    """One gauge as the shop knows it; texts as keyed."""

    name: str
    kind: str
    range: str = ""  # from which size to which
    resolution: str = ""  # smallest step that it shows
    setting: str = ""  # doubt of its setting, plus and minus, about 19 times in 20
    set_from: str = ""  # instrument or master that it was set from
    turn: str = ""  # what one whole turn of its dial or thimble measures
    last_check: str = ""  # ISO date
    next_due: str = ""  # ISO date
    repeatability: str = ""  # standard deviation of one reading, by a study that was accepted
    repeatability_freedom: str = ""  # degrees of freedom of that study
    repeatability_from: str = ""  # the study and the day on which it was accepted
    is_active: bool = True

    @property
    def dimension(self) -> Dimension:
        """What it reads."""
        return DIMENSIONS[gauge_kind(self.kind).unit]

    @property
    def is_as_usual(self) -> bool:
        """Whether its doubt is still the starting one of its kind."""
        return self.setting == gauge_kind(self.kind).stated

    def is_overdue(self, today: date) -> bool:
        """Whether its check is due, or was never said."""
        return bool(self.next_due) and date.fromisoformat(self.next_due) < today


CARRIED = ("name", "kind", "resolution", "setting", "set_from", "turn")
"""What a set of readings carries of each gauge."""

KEPT = tuple(one.name for one in fields(Instrument) if one.name != "is_active")
"""What is kept of a gauge."""

TOLD = tuple(one for one in KEPT if one not in REPEATED)
"""What a page or a command may tell of a gauge; its repeatability comes from a study alone."""


def instruments(bench: Bench, *, with_retired: bool = False) -> tuple[Instrument, ...]:
    """The shop's gauges, in the order of their kinds, then by name."""
    order = [one.kind for one in gauge_kinds()]
    found = bench.store.read(_all)
    kept = [one for one in found if one.is_active or with_retired]
    return tuple(sorted(kept, key=lambda one: (order.index(one.kind), one.name.casefold())))


def instrument(bench: Bench, name: str) -> Instrument:
    """The gauge of this name, retired or not."""
    return _found(bench.store.read(_all), name)


def starting_values(kind: str) -> dict[str, str]:
    """What is filled in for a new gauge of a kind, until its own is known."""
    found = gauge_kind(kind)
    return {"kind": kind, "resolution": found.resolution_stated, "setting": found.stated}


def save_instrument(bench: Bench, told: Mapping[str, str], *, name: str = "") -> Instrument:
    """Enter a gauge, or change the one that is called ``name``.

    Parameters
    ----------
    bench : Bench
        The open bench.
    told : Mapping[str, str]
        Fields of :data:`TOLD`; what is left out stays as it is, or as is usual for the kind.
    name : str
        The gauge to be changed; empty for a new one.

    Raises
    ------
    InputError
        If a field cannot be taken; it names the field, what was told and what is allowed.
    NotFound
        If there is no gauge of this name to be changed.
    """

    def work(connection: Connection) -> Instrument:
        known = _all(connection)
        before: dict[str, Any] = (
            asdict(_found(known, name)) if name else _usual(told.get("kind", ""))
        )
        is_active = bool(before.pop("is_active", True))
        texts = {key: " ".join(str(told.get(key, before.get(key, ""))).split()) for key in TOLD}
        studied: dict[str, Any] = {key: str(before.get(key, "")) for key in REPEATED}
        changed = replace(_checked(texts), is_active=is_active, **studied)
        others = [one for one in known if one.name != name]
        _refuse_taken(changed.name, others)
        _refuse_circle(changed, others)
        _write(connection, changed, name, made=bench.now())
        outdate_verdicts(connection)
        return changed

    saved = bench.store.write(work)
    bench.on_change()
    return saved


def adopt(connection: Connection, name: str, studied: Mapping[str, str]) -> None:
    """Put what a study says into a gauge, or take it out where nothing is said."""
    found = _found(_all(connection), name)
    told: dict[str, Any] = {key: studied.get(key, "") for key in REPEATED}
    _put(connection, replace(found, **told))
    outdate_verdicts(connection)


def retire_instrument(bench: Bench, name: str) -> Instrument:
    """Take a gauge out of the lists; sets that were read with it stay as they are."""
    found = instrument(bench, name)
    _mark(bench, name, is_active=False)
    return replace(found, is_active=False)


def revive_instrument(bench: Bench, name: str) -> Instrument:
    """Put a retired gauge back."""
    found = instrument(bench, name)
    _mark(bench, name, is_active=True)
    return replace(found, is_active=True)


def snapshot(bench: Bench, name: str) -> list[dict[str, str]]:
    """A gauge and what it was set from, as a set of readings carries them.

    Parameters
    ----------
    bench : Bench
        The open bench.
    name : str
        Name of the gauge.

    Returns
    -------
    list[dict[str, str]]
        The gauge first, then each that it was set from: ``name``, ``kind``,
        ``resolution``, ``setting``, ``set_from``, ``turn``, and what a study says.
    """
    known = bench.store.read(_all)
    chain = [_found(known, name)]
    while chain[-1].set_from and len(chain) <= len(known):
        chain.append(_found(known, chain[-1].set_from))
    return [carried(one) for one in chain]


def carried(one: Instrument) -> dict[str, str]:
    """What a set of readings carries of a gauge; a study only where there is one."""
    told = {key: str(getattr(one, key)) for key in CARRIED}
    return told | {key: str(getattr(one, key)) for key in REPEATED if one.repeatability}


def planned_instruments(bench: Bench) -> tuple[PlannedInstrument, ...]:
    """The gauges of lengths as the planner takes them; a usual doubt stays an assumed one."""
    return tuple(
        PlannedInstrument(
            one.name,
            one.kind,
            _entry(one.resolution),
            _entry(one.setting, "assumed" if one.is_as_usual else "typed"),
            one.set_from,
            _entry(one.turn),
            *_studied(one),
        )
        for one in instruments(bench)
        if one.kind in INSTRUMENT_KINDS
    )


def _studied(one: Instrument) -> tuple[Entry | None, Entry | None, str]:
    """What a study says of a gauge, as the planner takes it; nothing where there was none."""
    if not one.repeatability:
        return None, None, ""
    freedom = Entry(float(one.repeatability_freedom), one.repeatability_freedom)
    return _entry(one.repeatability, "measured"), freedom, one.repeatability_from


def _usual(kind: str) -> dict[str, Any]:
    """The starting values of a kind; nothing of one that is not known, which is refused later."""
    known = [one.kind for one in gauge_kinds()]
    return dict(starting_values(kind)) if kind in known else {}


def _entry(text: str, kind: str = "typed") -> Entry | None:
    if not text:
        return None
    said = parse(text, field="gauge", dimension=Dimension.LENGTH)
    return Entry(said.value, text, kind)


def range_of(one: Instrument) -> tuple[float, float] | None:
    """From which size to which a gauge of lengths reads; nothing where it was not told."""
    found = _RANGE.fullmatch(one.range)
    if found is None or one.dimension is not Dimension.LENGTH:
        return None
    high = parse(found["high"], field="range", dimension=Dimension.LENGTH)
    low = parse(found["low"], field="range", dimension=Dimension.LENGTH, unit=high.unit)
    return low.value, high.value


def _checked(texts: dict[str, str]) -> Instrument:
    """The gauge of these texts, each of which can be taken."""
    kinds = ", ".join(one.kind for one in gauge_kinds())
    try:
        kind = gauge_kind(texts["kind"])
    except NotFound:
        raise InputError("kind", texts["kind"] or "nothing", "", f"one of {kinds}") from None
    if not 1 <= len(texts["name"]) <= LONGEST_NAME or not texts["name"].isprintable():
        allowed = f"a name of 1 to {LONGEST_NAME} letters"
        raise InputError("name", texts["name"] or "nothing", "", allowed, "As bore gauge 2-6.")
    dimension = DIMENSIONS[kind.unit]
    for field, usual, example in (
        ("setting", kind.value, kind.stated),
        ("resolution", kind.resolution or kind.value, kind.resolution_stated or kind.stated),
    ):
        if texts[field]:
            _refuse_odd(field, texts[field], dimension, usual, example)
    if texts["turn"]:
        value = parse(texts["turn"], field="turn", dimension=dimension).value
        if not value > 0.0:
            raise InputError("turn", texts["turn"], "", "more than nought", "As 0.010 in.")
    if texts["range"]:
        _refuse_range(texts["range"], kind)
    _refuse_dates(texts["last_check"], texts["next_due"])
    told: dict[str, Any] = {**texts}
    return Instrument(**told)


def _refuse_odd(field: str, text: str, dimension: Dimension, usual: float, example: str) -> None:
    """A doubt or step that is no doubt, or so far from the usual that a unit slipped."""
    value = parse(text, field=field, dimension=dimension).value
    if not usual / MOST_TIMES <= value <= usual * MOST_TIMES:
        allowed = f"from a {MOST_TIMES:.0f}th to {MOST_TIMES:.0f} times the usual {example}"
        raise InputError(field, text, "", allowed, "Look at the unit and the decimal point.")


def _refuse_range(text: str, kind: GaugeKind) -> None:
    """A range is two sizes, the first smaller; one unit behind both is enough."""
    refusal = InputError("range", text, "", "two sizes, the smaller first", "As 2 to 3 in.")
    found = _RANGE.fullmatch(text)
    if found is None:
        raise refusal
    of_unit = {"K": Dimension.TEMPERATURE, "1": None}
    dimension = of_unit.get(kind.unit, DIMENSIONS[kind.unit])
    if dimension is None:
        return  # of a wrench or a roughness: any unit, kept as words
    high = parse(found["high"], field="range", dimension=dimension)
    low = parse(found["low"], field="range", dimension=dimension, unit=high.unit)
    if not low.value < high.value:
        raise refusal


def _refuse_dates(last_check: str, next_due: str) -> None:
    told: dict[str, date] = {}
    for field, text in (("last check", last_check), ("next due", next_due)):
        if text:
            try:
                told[field] = date.fromisoformat(text)
            except ValueError:
                hint = "As 2026-03-31."
                raise InputError(field, text, "", "a day as year-month-day", hint) from None
    if len(told) > 1 and told["next due"] <= told["last check"]:
        allowed = f"a day after the last check, {last_check}"
        raise InputError("next due", next_due, "", allowed, "Say when it is to be checked again.")


def _refuse_taken(name: str, others: list[Instrument]) -> None:
    if name.casefold() in {one.name.casefold() for one in others}:
        hint = "A retired gauge keeps its name; put it back or choose another."
        raise InputError("name", name, "", "a name that no other gauge has", hint)


def _refuse_circle(changed: Instrument, others: list[Instrument]) -> None:
    """What a gauge was set from is known, and in the end is not itself."""
    known = {one.name: one for one in others}
    at, seen = changed.set_from, {changed.name}
    while at:
        if at in seen:
            allowed = "a gauge or master that was not set from this one"
            raise InputError("set from", changed.set_from, "", allowed, "Name the master.")
        if at not in known:
            allowed = f"a gauge of this shop: {', '.join(known) or 'none is entered yet'}"
            raise InputError("set from", changed.set_from, "", allowed, "Enter the master first.")
        seen.add(at)
        at = known[at].set_from


def _write(connection: Connection, changed: Instrument, name: str, *, made: str) -> None:
    """Keep a gauge; where its name changed, what was set from it and its studies follow."""
    if name and name != changed.name:
        for one in _all(connection):
            if one.set_from == name:
                _put(connection, replace(one, set_from=changed.name))
        for study in folded_studies(study_entries(connection)).values():
            if study.gauge == name:
                body = {"gauge": changed.name}
                add_study_entry(connection, study.id, RENAMED, body, made=made)
        connection.execute(delete(instrument_table).where(instrument_table.c.name == name))
    _put(connection, changed)


def _put(connection: Connection, one: Instrument) -> None:
    body = {key: value for key, value in asdict(one).items() if key not in ("name", "is_active")}
    values = {
        "body": json.dumps(body, sort_keys=True, ensure_ascii=False),
        "last_check": one.last_check or None,
        "is_active": one.is_active,
    }
    changed = update(instrument_table).where(instrument_table.c.name == one.name).values(values)
    if connection.execute(changed).rowcount == 0:
        connection.execute(insert(instrument_table).values(name=one.name, **values))


def _mark(bench: Bench, name: str, *, is_active: bool) -> None:
    changed = (
        update(instrument_table).where(instrument_table.c.name == name).values(is_active=is_active)
    )

    def work(connection: Connection) -> None:
        connection.execute(changed)
        outdate_verdicts(connection)

    bench.store.write(work)
    bench.on_change()


def _all(connection: Connection) -> list[Instrument]:
    rows = connection.execute(select(instrument_table)).all()
    return [_of_row(row.name, row.body, is_active=row.is_active) for row in rows]


def _of_row(name: str, body: str, *, is_active: bool) -> Instrument:
    told = json.loads(body)
    texts = {key: str(told.get(key, "")) for key in KEPT if key != "name"}
    try:
        gauge_kind(texts["kind"])
    except NotFound as unknown:
        raise SleevewrightError(
            f"The gauge {clipped(name)!r} is of a kind that this release does not know: {unknown}"
        ) from unknown
    return Instrument(name=name, is_active=is_active, **texts)


def _found(known: list[Instrument], name: str) -> Instrument:
    found = next((one for one in known if one.name == name), None)
    if found is None:
        raise NotFound("gauge", name, tuple(one.name for one in known if one.is_active))
    return found
