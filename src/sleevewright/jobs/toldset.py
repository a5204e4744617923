"""What is told of a set of readings: how it was begun, and each reading in it.

A reading is believed where such readings lie; one that is a whole turn of its dial off the
others, or ten times as far from the nominal, is held back.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from sleevewright.errors import InputError, SleevewrightError, clipped
from sleevewright.jobs.catalog import grid_of_feature, sheet_of
from sleevewright.jobs.entries import BLANKS, disbelief, span_of
from sleevewright.jobs.field import Field, Sort, Span
from sleevewright.jobs.fields import fields_of
from sleevewright.jobs.fields_readings import REPEATED
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gaugefit import refuse_gauge
from sleevewright.jobs.gaugesetting import read_setting
from sleevewright.jobs.griddefects import MOST_READINGS
from sleevewright.jobs.jumps import Keyed, refuse_jump
from sleevewright.jobs.records import Record
from sleevewright.jobs.setreading import (
    ENTRIES,
    LAST_DIGITS,
    SIZE,
    decimals_of,
    exact_reading,
    refuse_groups,
)
from sleevewright.jobs.sets import blanks_of, places_of, reading_cell, said_in, shape_of, unit_of
from sleevewright.jobs.stagefield import StageGrid
from sleevewright.units import Dimension, Spoken, parse
from sleevewright.units.exact import NM, nanometres
from sleevewright.units.keyed import keyed

ZEROES = ("zero-start", "zero-end")
_CELL = re.compile(r"set/([A-Za-z0-9_\-]{1,40})/(?:(\d{1,3})/(\d{1,3})|(zero-start|zero-end|void))")
_ZERO = Span(Dimension.LENGTH, -0.0005, 0.0005)
_MOST_INSTRUMENTS = 8
_LONGEST = 60
_SAME_PLACE = 6  # decimals of a metre or a radian to which two places are one


def repeats_told(body: Mapping[str, Any]) -> dict[str, Any]:
    """What the gauge of a set was known to repeat to when the set was begun, as it was told.

    A job file tells it with the readings, a set that was begun here with its gauge.
    """
    if body.get("source") == "file":
        return {key: body[key] for key in REPEATED if body.get(key)}
    name = body.get("instrument")
    known = (one for one in body.get("instruments", ()) if one.get("name") == name)
    gauge: Mapping[str, Any] = next(known, {})
    return {key: str(gauge[key]) for key in REPEATED if gauge.get(key)}


def is_of_a_set(cell: str) -> bool:
    """Whether a cell belongs to a set of readings."""
    return cell.startswith("set/")


def read_reading(
    cell: str, text: str, *, folded: Folded, cylinder: int
) -> tuple[float | None, str, int | None]:
    """SI value, unit and nanometres of a cell of a set; nothing for a dash or for words.

    Raises
    ------
    InputError
        If there is no such set or place, or the reading cannot be right there.
    """
    found = _CELL.fullmatch(cell)
    record = folded.sets.get(found[1]) if found else None
    if found is None or record is None:
        allowed = "a place of a set that was begun"
        raise InputError(clipped(cell), clipped(text), "", allowed, "Begin the set anew.")
    if record.cylinder != cylinder:
        allowed = f"cylinder {record.cylinder}, to which the set belongs"
        raise InputError(clipped(cell), f"cylinder {cylinder}", "", allowed)
    if found[4] == "void":
        if len(text) > _LONGEST * 10:
            raise InputError("void", f"{len(text)} letters", "", f"at most {_LONGEST * 10}")
        return None, "", None
    if found[4]:
        return _zero(found[4], text, record, folded)
    place = (int(found[2]), int(found[3]))
    _refuse_place(cell, place, record)
    if text.strip() in BLANKS:
        return None, "", None
    return _reading(place, text, record, folded)


def refuse_other_gauge(cell: str, instrument: object, folded: Folded) -> None:
    """Refuse a reading of another gauge than the one that its set was begun with.

    Raises
    ------
    InputError
        If the reading names its gauge, the set has one, and they are not the same.
    """
    found = _CELL.fullmatch(cell)
    record = folded.sets.get(found[1]) if found else None
    own = "" if record is None else str(record.body.get("instrument") or "")
    if found is None or found[4] == "void" or not own or not instrument or instrument == own:
        return
    hint = "Begin a set of its own for the other gauge: each has a zero and a doubt of its own."
    allowed = f"{clipped(own)}, with which this set was begun"
    raise InputError("instrument", clipped(str(instrument)), "", allowed, hint)


def _zero(
    which: str, text: str, record: Record, folded: Folded
) -> tuple[float | None, str, int | None]:
    """A zero check: what the gauge shows where it should show nothing."""
    title = f"Zero at the {which.partition('-')[2]}"
    nm = nanometres(keyed(text), unit_of(record.body, folded), field=title)
    spoken = Spoken(nm * 1e-9, text, None, "")
    refused = disbelief(_as_field(title, _ZERO), spoken, title, _system(folded))
    if refused is not None:
        raise refused
    return nm * 1e-9, unit_of(record.body, folded), nm


def _refuse_place(cell: str, place: tuple[int, int], record: Record) -> None:
    """A place lies inside of its set and not in a port."""
    rows, columns = shape_of(record.body)
    if place[0] >= rows or place[1] >= columns:
        allowed = f"{rows} stations and {columns} directions, counted from 0"
        raise InputError(clipped(cell), f"{place[0]}/{place[1]}", "", allowed)
    if place in blanks_of(record.body):
        hint = "Begin a new set if there is metal after all."
        raise InputError(clipped(cell), "a reading", "", "nothing: a port lies there", hint)


def _reading(
    place: tuple[int, int], text: str, record: Record, folded: Folded
) -> tuple[float, str, int]:
    """One reading, believable for its feature and beside the others."""
    body = record.body
    stage, feature = str(body.get("stage", "")), str(body["feature"])
    grid = grid_of_feature(feature, stage=stage)
    title = feature if grid is None else grid.title
    nm, unit = exact_reading(text, body, folded, field=title, is_deviation=_is_zeroed(grid))
    refuse_groups(keyed(text), unit, title)
    if grid is not None:
        _refuse_odd(nm, text, grid, record, folded)
    others = _others(place, record, folded)
    refuse_jump(Keyed(title, nm, text, _system(folded)), body, others, row=place[0])
    return nm * 1e-9, unit, nm


def _is_zeroed(grid: StageGrid | None) -> bool:
    return grid is not None and grid.is_deviation


def _refuse_odd(nm: int, text: str, grid: StageGrid, record: Record, folded: Folded) -> None:
    """A reading lies where such readings lie, and not far off the set's nominal."""
    span = grid.span
    spoken = Spoken(nm * 1e-9, keyed(text), None, "")
    refused = disbelief(_as_field(grid.title, span), spoken, grid.title, _system(folded))
    if refused is not None:
        raise refused
    nominal = nominal_nm(record.body)
    if nominal is None or grid.is_deviation or abs(nm - nominal) <= grid.most_off * 1e9:
        return
    mm, thou = grid.most_off * 1e3, grid.most_off / 25.4e-6
    allowed = f"within {mm:g} mm ({thou:.0f} thou) of the nominal {said_in(record.body, 'nominal')}"
    hint = "Is the point in the right place, or the nominal of another feature?"
    raise InputError(grid.title, clipped(text.strip()), "", allowed, hint)


def _as_field(title: str, span: Span) -> Field:
    """A span as the reader of values takes it."""
    return Field(title, Sort.QUANTITY, "", "", span)


def _system(folded: Folded) -> str:
    return "metric" if folded.opened.get("units") == "metric" else "inch"


def _others(place: tuple[int, int], record: Record, folded: Folded) -> dict[tuple[int, int], int]:
    """The readings of the set at other places, in nanometres."""
    found: dict[tuple[int, int], int] = {}
    name = str(record.body["set"])
    for other in places_of(record.body):
        if other == place:
            continue
        told = folded.value(reading_cell(name, *other), cylinder=record.cylinder)
        if told is not None and isinstance(told.body.get("nm"), int):
            found[other] = int(told.body["nm"])
    return found


def nominal_nm(body: Mapping[str, Any]) -> int | None:
    """The size that readings with a sign are relative to, in nanometres; nothing without one."""
    text = said_in(body, "nominal")
    try:
        return nanometres(text) if text else None
    except SleevewrightError:
        return None


def read_set(body: Mapping[str, Any], *, folded: Folded) -> dict[str, Any]:
    """How a set was begun, as it is kept.

    Parameters
    ----------
    body : Mapping[str, Any]
        ``stage``, ``feature``, ``instrument``, ``instruments``, ``nominal``, ``unit``,
        ``stations``, ``directions``, ``blank``, ``part_temperature``,
        ``gauge_temperature``, ``entry``, ``last_digits`` (digits behind the point that the
        gauge shows), ``land_only``, and how the gauge was set; what is left out is usual.
    folded : Folded
        The job.

    Returns
    -------
    dict[str, Any]
        The same, all of it usable.

    Raises
    ------
    InputError
        If a part of it cannot be taken.
    """
    stage = str(body.get("stage", ""))
    sheet = sheet_of(stage)
    grids = {grid.feature: grid for grid in sheet.grids}
    feature = str(body.get("feature", ""))
    if feature not in grids:
        known = ", ".join(grids) or "none: this stage has no grid"
        raise InputError("feature", clipped(feature), "", known)
    kept: dict[str, Any] = {"instrument": _name(body, "instrument")}
    kept["instruments"] = _instruments(body.get("instruments", []))
    refuse_gauge(feature, kept)
    for key in ("nominal", "part_temperature", "gauge_temperature"):
        if body.get(key):
            kept[key] = _quantity(key, body[key], _system(folded))
    kept["unit"] = _one_of("unit", body.get("unit") or unit_of({}, folded), tuple(NM))
    kept |= read_setting(body, kept, grids[feature], _system(folded))
    for key in ("stations", "directions"):
        kept[key] = _places(key, body.get(key, []), feature, _system(folded))
    kept["blank"] = _blank(body.get("blank", []), kept)
    kept["entry"] = _one_of("entry", body.get("entry") or SIZE, ENTRIES)
    if body.get("last_digits") is not None:
        kept["last_digits"] = _digits(body["last_digits"])
    elif kept["entry"] == LAST_DIGITS and "nominal" in kept:
        kept["last_digits"] = _digits(decimals_of(kept["nominal"]))
    if body.get("land_only") is True:
        kept["land_only"] = True
    _refuse_without_nominal(kept, grids[feature])
    return kept


def _refuse_without_nominal(kept: Mapping[str, Any], grid: StageGrid) -> None:
    """Deviations and last digits are relative to something."""
    if kept["entry"] != SIZE and "nominal" not in kept and not grid.is_deviation:
        hint = "Give the size of the ring or master that the gauge was set from."
        raise InputError("nominal", "nothing", "", "a size with its unit, as 2.6360 in", hint)
    if kept["entry"] == LAST_DIGITS and grid.is_deviation:
        raise InputError("entry", "last-digits", "", "deviation, for a gauge that shows around 0")


def _name(body: Mapping[str, Any], key: str) -> str:
    said = body.get(key, "")
    if not isinstance(said, str) or len(said) > _LONGEST:
        raise InputError(key, clipped(repr(said)), "", f"a name of at most {_LONGEST} letters")
    return said


def _one_of(key: str, said: object, allowed: tuple[str, ...]) -> str:
    if said not in allowed:
        raise InputError(key, clipped(repr(said)), "", ", ".join(allowed))
    return str(said)


def _digits(said: object) -> int:
    if isinstance(said, bool) or not isinstance(said, int) or not 1 <= said <= 6:
        raise InputError("last_digits", clipped(repr(said)), "", "1 to 6 digits behind the point")
    return said


def _quantity(key: str, said: object, system: str) -> str:
    """A nominal or a temperature, as it was keyed."""
    field = fields_of("grid")[key]
    if not isinstance(said, str) or field.span is None:
        raise InputError(key, clipped(repr(said)), "", f"as {field.example}")
    spoken = parse(keyed(said), field=key, dimension=field.span.dimension)
    refused = disbelief(field, spoken, key, system)
    if refused is not None:
        raise refused
    return said.strip()


def _places(key: str, said: object, feature: str, system: str) -> list[str]:
    """Stations or directions; those of passes are only counted."""
    if not isinstance(said, list) or not all(isinstance(one, str) for one in said):
        raise InputError(key, clipped(repr(said)), "", "a list of texts")
    if len(said) > MOST_READINGS:
        raise InputError(key, len(said), key, f"at most {MOST_READINGS}")
    field = fields_of("grid")[key]
    if feature != "parent-pass" or key == "directions":
        seen: set[float] = set()
        for one in said:
            spoken = parse(keyed(one), field=key, dimension=span_of(field).dimension)
            refused = disbelief(field, spoken, key, system)
            if refused is not None:
                raise refused
            if round(spoken.value, _SAME_PLACE) in seen:
                raise InputError(key, clipped(one), "", "each place once")
            seen.add(round(spoken.value, _SAME_PLACE))
    return [one.strip()[:_LONGEST] for one in said]


def _blank(said: object, kept: Mapping[str, Any]) -> list[list[int]]:
    """Places where a port lies; not all of them."""
    rows, columns = shape_of(kept)
    if rows * columns > MOST_READINGS:
        raise InputError("set", f"{rows * columns} places", "", f"at most {MOST_READINGS}")
    if not isinstance(said, list):
        raise InputError("blank", clipped(repr(said)), "", "a list of station and direction")
    found: list[list[int]] = []
    for one in said:
        if not (isinstance(one, list) and len(one) == 2 and all(_is_count(part) for part in one)):
            raise InputError("blank", clipped(repr(one)), "", "station and direction, from 0")
        if one[0] >= rows or one[1] >= columns:
            raise InputError("blank", clipped(repr(one)), "", f"inside of {rows} by {columns}")
        if one not in found:
            found.append([int(one[0]), int(one[1])])
    if len(found) == rows * columns:
        raise InputError("blank", "every place", "", "one place at least to read")
    return found


def _is_count(said: object) -> bool:
    return isinstance(said, int) and not isinstance(said, bool) and said >= 0


def _instruments(said: object) -> list[dict[str, str]]:
    """The instruments as they are now: the one used, and what it was set from."""
    known = {*fields_of("instrument"), "drift", "checked"}
    if not isinstance(said, list) or len(said) > _MOST_INSTRUMENTS:
        allowed = f"a list of at most {_MOST_INSTRUMENTS} instruments"
        raise InputError("instruments", clipped(repr(said)), "", allowed)
    kept: list[dict[str, str]] = []
    for one in said:
        if not isinstance(one, dict) or not str(one.get("name", "")).strip():
            raise InputError("instruments", clipped(repr(one)), "", "an instrument with a name")
        kept.append(
            {
                str(key): str(value)[: _LONGEST * 2]
                for key, value in one.items()
                if key in known and value not in (None, "")
            }
        )
    return kept
