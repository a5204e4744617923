"""The newest set of a feature as a grid in SI: what the proofs of the holds are made from.

Unlike the grids of a job file these may be readings around zero, as a sweep or a stand-out.
Each reading is the whole number of nanometres that was kept beside its text.
"""

from __future__ import annotations

from typing import Any

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.model import Entry, Grid, Instrument
from sleevewright.jobs.records import Body, Record
from sleevewright.jobs.sets import (
    newest,
    reading_cell,
    said_in,
    sets_of,
    shape_of,
    state_of,
    zero_over,
    zero_text,
)
from sleevewright.jobs.toldset import repeats_told
from sleevewright.units import Dimension, parse
from sleevewright.units.keyed import keyed

NANO = 1e-9


def grid_of(folded: Folded, feature: str, *, cylinder: int = 1, stage: str = "") -> Grid | None:
    """The newest set that counts of a feature; nothing where none holds a reading.

    Parameters
    ----------
    folded : Folded
        The job.
    feature : str
        What was gauged: ``sweep-top``, ``stand-out``, ``finish-bore``.
    cylinder : int
        Which cylinder, from 1.
    stage : str
        The stage that it was gauged at; empty for any.

    Returns
    -------
    Grid | None
        Readings in SI, as gauged, with what was told of the set.
    """
    state = newest(folded, feature, cylinder=cylinder, stage=stage)
    return None if state is None else grid_of_set(folded, state.record)


def grid_of_set(folded: Folded, record: Record) -> Grid:
    """One set as a grid: readings in SI, as gauged, with what was told of the set."""
    body = record.body
    rows, columns = shape_of(body)
    name, owner = str(body["set"]), record.cylinder
    readings = tuple(
        tuple(_reading(folded, reading_cell(name, row, column), owner) for column in range(columns))
        for row in range(rows)
    )
    return Grid(
        str(body.get("feature", "")),
        instrument=str(body.get("instrument", "")),
        nominal=_said(body, "nominal", Dimension.LENGTH),
        part_temperature=_said(body, "part_temperature", Dimension.TEMPERATURE),
        gauge_temperature=_said(body, "gauge_temperature", Dimension.TEMPERATURE),
        **_setting(folded, body, record),
        stations=_listed(body, "stations", Dimension.LENGTH),
        directions=_listed(body, "directions", Dimension.ANGLE),
        readings=readings,
        **_repeats(body),
    )


def _setting(folded: Folded, body: Body, record: Record) -> dict[str, Any]:
    """How the gauge was set, and what its zero did."""
    words = {key: str(body.get(key, "")) for key in ("set_on", "master", "set_by", "set_at")}
    return words | {
        "master_temperature": _said(body, "master_temperature", Dimension.TEMPERATURE),
        "master_expansion": _said(body, "master_expansion", Dimension.EXPANSION),
        "gauge_expansion": _said(body, "gauge_expansion", Dimension.EXPANSION),
        **{f"zero_{end}": _zero(folded, record, end) for end in ("start", "end")},
    }


def _zero(folded: Folded, record: Record, end: str) -> Entry | None:
    """What the gauge showed on its master, larger bore positive."""
    nm = zero_over(folded, record, end)
    return None if nm is None else Entry(nm * NANO, zero_text(folded, record, end), "measured")


def _repeats(body: Body) -> dict[str, Any]:
    """What the gauge was known to repeat to, from a study; nothing where there was none."""
    told = repeats_told(body)
    found = _parsed(said_in(told, "repeatability"), Dimension.LENGTH)
    if found is None:
        return {}
    freedom = _parsed(said_in(told, "repeatability_freedom"), Dimension.RATIO)
    source = said_in(told, "repeatability_from")
    return {
        "repeatability": found, "repeatability_freedom": freedom, "repeatability_from": source,
    }  # fmt: skip


def grid_before(
    folded: Folded, feature: str, *, cylinder: int = 1
) -> tuple[Grid | None, tuple[Instrument, ...]]:
    """The set of a feature before its newest one, with its gauges.

    Only sets that count and hold a reading; nothing where there is but one.
    """
    held = [
        record
        for record in sets_of(folded, feature, cylinder=cylinder)
        if state_of(folded, record).read
    ]
    if len(held) < 2:
        return None, ()
    return grid_of_set(folded, held[-2]), instruments_of_set(held[-2])


def instruments_of(
    folded: Folded, feature: str, *, cylinder: int = 1, stage: str = ""
) -> tuple[Instrument, ...]:
    """The gauges that the newest set of a feature was read with, as they were told then."""
    state = newest(folded, feature, cylinder=cylinder, stage=stage)
    return () if state is None else instruments_of_set(state.record)


def instruments_of_set(record: Record) -> tuple[Instrument, ...]:
    """The gauges that one set was read with, as they were told then."""
    return tuple(
        Instrument(
            name=str(one.get("name", "")),
            kind=str(one.get("kind", "")),
            resolution=_said(one, "resolution", Dimension.LENGTH),
            setting=_said(one, "setting", Dimension.LENGTH),
            set_from=str(one.get("set_from", "")),
            turn=_said(one, "turn", Dimension.LENGTH),
        )
        for one in record.body.get("instruments", ())
    )


def _reading(folded: Folded, cell: str, cylinder: int) -> Entry | None:
    told = folded.value(cell, cylinder=cylinder)
    nm = None if told is None else told.body.get("nm")
    if told is None or not isinstance(nm, int):
        return None
    return Entry(nm * NANO, told.text, "measured")


def _listed(body: Body, key: str, dimension: Dimension) -> tuple[Entry, ...]:
    """Depths or directions; none where one of them cannot be read."""
    found = [_parsed(str(text), dimension) for text in body.get(key, ())]
    known = tuple(one for one in found if one is not None)
    return known if len(known) == len(found) else ()


def _said(body: Body, key: str, dimension: Dimension) -> Entry | None:
    return _parsed(said_in(body, key), dimension)


def _parsed(text: str, dimension: Dimension) -> Entry | None:
    if not text:
        return None
    try:
        spoken = parse(keyed(text), field="set", dimension=dimension)
    except SleevewrightError:
        return None  # it was judged when the set was begun; a set of an older form may differ
    return Entry(spoken.value, text, "measured", spoken.doubt)
