"""Sets of readings as tables and as pictures, and what a new set starts from."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from sleevewright.errors import InputError
from sleevewright.jobs.catalog import StageGrid, grid_of_feature
from sleevewright.jobs.folding import Told
from sleevewright.jobs.records import Record
from sleevewright.jobs.sets import sets_of, why_void
from sleevewright.planning.answers import Quantity
from sleevewright.planning.gauges import repeat_doubt
from sleevewright.units import Dimension, display_unit, parse, shown, to_unit
from sleevewright.web.pictures.bore_map import MapPicture, MapRow, bore_map
from sleevewright.web.stage.asks import Teller, rivals
from sleevewright.web.stage.newset import Wants, new_set
from sleevewright.web.stage.setting import setting_views
from sleevewright.web.stage.views import (
    AskView,
    CellView,
    GridView,
    ReadingRow,
    SetView,
)

NANO = 1e-9
ONE_PLACE = ("",)
"""A feature without depths has one row that needs no name."""

_LENGTH = re.compile(r"\s*(\d+(?:\.(\d+))?)\s*(\S+)\s*")
_ANGLE = re.compile(r"\s*([+-]?\d+(?:\.\d+)?)\s*(?:deg|°)?\s*")


def grid_views(
    grids: tuple[StageGrid, ...], teller: Teller, wants: Mapping[str, Wants], *, stage: str
) -> tuple[GridView, ...]:
    """The features that a stage gauges, those with readings first.

    Where none has any, the first opens its new set at once.
    """
    asked = [grid for grid in grids if teller.asks_grid(grid)]
    views = [_grid(grid, teller, wants[grid.feature], stage) for grid in asked]
    views.sort(key=lambda view: view.current is None)
    if views and views[0].current is None:
        views[0] = replace(views[0], new=replace(views[0].new, open_at_once=True))
    return tuple(views)


def _grid(grid: StageGrid, teller: Teller, wants: Wants, stage: str) -> GridView:
    """One feature: the set that counts, the older ones, and the way to a new one."""
    sets = _sets(grid.feature, teller, stage)
    current = sets[-1] if sets and not sets[-1].is_void else None
    older = tuple(reversed(sets[:-1] if current else sets))
    new = new_set(grid, teller, wants, sets)
    return GridView(grid.feature, grid.title, grid.doc, current, older, new)


def _sets(feature: str, teller: Teller, stage: str) -> list[SetView]:
    """Every set of a feature of this cylinder that was begun, in order.

    A feature that two stages gauge, as the parent bore before and after the hone, has its
    sets shown where they were read.
    """
    return [
        set_view(record, teller)
        for record in teller.folded.sets.values()
        if record.body.get("feature") == feature
        and record.cylinder in (0, teller.cylinder)
        and record.body.get("stage", stage) == stage
    ]


def set_view(record: Record, teller: Teller) -> SetView:
    """One set as a table, with its unrolled picture."""
    body = record.body
    name, feature = str(body["set"]), str(body.get("feature", ""))
    grid = grid_of_feature(feature, stage=str(body.get("stage", "")))
    nominal = _nanometres(str(body.get("nominal", "")))
    sense = grid.sense if grid else "diametral"
    unit = str(body.get("unit", ""))
    places = _Places(name, teller, nominal, unit, sense, is_by_pass=feature == "parent-pass")
    stations = tuple(str(one) for one in body.get("stations", ())) or ONE_PLACE
    directions = tuple(str(one) for one in body.get("directions", ())) or ONE_PLACE
    lands = {(int(s), int(d)) for s, d in body.get("blank", ())}
    rows = _rows(places, stations, directions, lands)
    cells = [cell for row in rows for cell in row.cells if not cell.is_land]
    return SetView(
        name=name,
        feature=feature,
        title=grid.title if grid else feature,
        sense=sense,
        instrument=str(body.get("instrument", "")),
        unit=places.unit,
        is_around_zero=grid is not None and grid.is_deviation,
        directions=tuple(_direction(one) for one in directions),
        rows=rows,
        zeros=tuple(places.zero(end) for end in ("start", "end")),
        void=_void(name, teller),
        void_words=why_void(teller.folded, record),
        read=sum(1 for cell in cells if cell.text),
        to_read=len(cells),
        started=record.received,
        picture=_picture(places, stations, directions, rows),
        last=_last(cells, teller),
        before_nm=_before_nm(feature, teller),
        **setting_views(body, feature),
        **_gauged(body, grid, nominal),
    )


def _before_nm(feature: str, teller: Teller) -> str:
    """The clean-out, before the first pass; nothing where passes were read in an earlier set."""
    if feature != "parent-pass":
        return ""
    begun = sets_of(teller.folded, feature, cylinder=teller.cylinder)
    told = teller.folded.value("old.diameter", cylinder=teller.cylinder)
    nm = None if told is None or len(begun) != 1 else told.body.get("nm")
    return str(nm) if isinstance(nm, int) else ""


def _rows(
    places: _Places,
    stations: tuple[str, ...],
    directions: tuple[str, ...],
    lands: set[tuple[int, int]],
) -> tuple[ReadingRow, ...]:
    """The rows of a set, a station each."""
    return tuple(
        ReadingRow(
            *_depth(station),
            tuple(
                places.cell(s, d, (station, direction), is_land=(s, d) in lands)
                for d, direction in enumerate(directions)
            ),
        )
        for s, station in enumerate(stations)
    )


def _gauged(body: Mapping[str, Any], grid: StageGrid | None, nominal: int | None) -> dict[str, Any]:
    """What the page's entry goes by: nominal, what is believed, what the gauge is worth."""
    gauge = _gauge(body)
    turn = gauge.get("turn")
    return {
        "nominal": str(body.get("nominal", "")),
        "nominal_nm": "" if nominal is None else str(nominal),
        "entry": str(body.get("entry", "deviation")),
        "last_digits": str(body.get("last_digits", "") or ""),
        "low": _si(grid, nominal, -1.0),
        "high": _si(grid, nominal, 1.0),
        "allowed": f"{body.get('nominal', '')}, give or take a little".strip(", "),
        "doubt_nm": _repeat_nm(gauge),
        "turn_nm": _text_nm(gauge, "turn"),
        "turn_words": f"a dial of {turn} a turn" if turn else "",
    }


@dataclass(frozen=True)
class _Places:
    """Cells of one set."""

    name: str
    teller: Teller
    nominal: int | None
    unit: str
    sense: str
    is_by_pass: bool = False  # a row is a pass, not a depth

    def heads(self, tail: str) -> tuple[str, tuple[Told, ...]]:
        """Cell and what stands for it."""
        cell = f"set/{self.name}/{tail}"
        return cell, self.teller.folded.heads(cell, cylinder=self.teller.cylinder)

    def cell(self, s: int, d: int, at: tuple[str, str], *, is_land: bool) -> CellView:
        """One reading."""
        cell, heads = self.heads(f"{s}/{d}")
        station, direction = at
        where = f"{station} down, " if station else ""
        where = f"pass {station}" if self.is_by_pass else f"{where}{_direction(direction)}"
        label = f"{where}, {self.sense}".strip(", ")
        one = heads[0] if len(heads) == 1 else None
        return CellView(
            cell,
            label,
            is_land,
            one.text.strip() if one else "",
            self.size(one),
            tuple(told.id for told in heads),
            rivals(heads),
        )

    def zero(self, end: str) -> CellView:
        """A zero check."""
        cell, heads = self.heads(f"zero-{end}")
        one = heads[0] if len(heads) == 1 else None
        words = "Zero check at the start" if end == "start" else "Zero check at the end"
        text = one.text.strip() if one else ""
        ids = tuple(told.id for told in heads)
        return CellView(cell, words, text=text, ids=ids, rivals=rivals(heads))

    def size(self, told: Told | None) -> str:
        """The whole size of a reading in figures."""
        if told is None or self.nominal is None:
            return ""
        nm = told.body.get("nm")
        if not isinstance(nm, int):
            return ""
        quantity = Quantity.SIZE.value
        return shown(nm * NANO, quantity=quantity, system=self.teller.units, given=True).figure

    def deviation(self, s: int, d: int) -> float | None:
        """A reading over the nominal, in the unit in which deviations are shown."""
        _, heads = self.heads(f"{s}/{d}")
        nm = heads[0].body.get("nm") if len(heads) == 1 and heads[0].text.strip() else None
        if not isinstance(nm, int):
            return None
        over = (nm - (self.nominal or 0)) * NANO
        unit = display_unit(Quantity.DEVIATION.value, system=self.teller.units)
        return to_unit(over, unit, dimension=Dimension.LENGTH)


def _picture(
    places: _Places,
    stations: tuple[str, ...],
    directions: tuple[str, ...],
    rows: tuple[ReadingRow, ...],
) -> Markup | None:
    """The unrolled map of a set that goes round; nothing where it has one direction."""
    angles = [_angle(one) for one in directions]
    turned = [angle for angle in angles if angle is not None]
    if len(turned) < max(2, len(angles)):
        return None
    deviations = [
        tuple(places.deviation(s, d) for d in range(len(directions))) for s in range(len(stations))
    ]
    order = sorted(range(len(turned)), key=turned.__getitem__)
    waiting = _waiting(rows, order)
    read = [one for row in deviations for one in row if one is not None]
    unit = display_unit(Quantity.DEVIATION.value, system=places.teller.units)
    spread = f"from {min(read):+.1f} to {max(read):+.1f} {unit}, {places.sense}, " if read else ""
    return bore_map(
        MapPicture(
            name=f"set-{places.name}",
            directions=tuple(turned[d] for d in order),
            rows=tuple(
                MapRow(row.figure or "all", tuple(values[d] for d in order))
                for row, values in zip(rows, deviations, strict=True)
            ),
            unit=unit,
            depth_unit=rows[0].unit,
            says=f"Readings so far: {spread}{len(read)} of {len(rows) * len(turned)} read.",
            waiting=waiting,
            sense=places.sense,
        )
    )


def _waiting(rows: tuple[ReadingRow, ...], order: list[int]) -> tuple[int, int] | None:
    """Row and place of the next reading, directions in the order of their angles."""
    for s, row in enumerate(rows):
        for d, cell in enumerate(row.cells):
            if not cell.text and not cell.is_land and not cell.rivals:
                return s, order.index(d)
    return None


def _last(cells: list[CellView], teller: Teller) -> CellView | None:
    """The reading that was told last."""
    told = [
        (heads[0].number, cell)
        for cell in cells
        if cell.text and (heads := teller.folded.heads(cell.cell, cylinder=teller.cylinder))
    ]
    return max(told, key=lambda pair: pair[0])[1] if told else None


def _void(name: str, teller: Teller) -> AskView:
    """The cell whose reason voids a set."""
    cell = f"set/{name}/void"
    heads = teller.folded.heads(cell, cylinder=teller.cylinder)
    return AskView(
        cell=cell,
        key=f"set-{name}-void",
        cylinder=teller.cylinder,
        title="Void this set, because",
        doc="Its readings stay and no longer count.",
        sort="words",
        example="zero had moved 3 tenths",
        kind="typed",
        text=heads[0].text if len(heads) == 1 else "",
        ids=tuple(one.id for one in heads),
        rivals=rivals(heads),
    )


def _gauge(body: Mapping[str, Any]) -> dict[str, Any]:
    """The snapshot of the gauge that a set was read with."""
    name = body.get("instrument", "")
    known = [one for one in body.get("instruments", ()) if isinstance(one, dict)]
    return next((one for one in known if one.get("name") == name), {})


def _nanometres(text: str) -> int | None:
    """A length that was written with its unit as whole nanometres."""
    if not text.strip():
        return None
    try:
        return round(parse(text, field="size", dimension=Dimension.LENGTH).value / NANO)
    except InputError:
        return None


def _repeat_nm(gauge: Mapping[str, Any]) -> str:
    """What two readings of one place may differ by, in nanometres."""
    step = _text_nm(gauge, "resolution")
    known = _text_nm(gauge, "repeatability")
    repeats = float(known) * NANO if known else None
    return str(round(repeat_doubt(int(step) * NANO if step else None, repeats) / NANO))


def _text_nm(gauge: Mapping[str, Any], key: str) -> str:
    found = _nanometres(str(gauge.get(key, "") or ""))
    return "" if found is None else str(found)


def _si(grid: StageGrid | None, nominal: int | None, side: float) -> str:
    """An end of what is believed of a reading, in SI."""
    if grid is None:
        return ""
    if nominal is None or grid.is_deviation:
        return f"{grid.span.low if side < 0 else grid.span.high:.9g}"
    return f"{nominal * NANO + side * grid.most_off:.9g}"


def _depth(text: str) -> tuple[str, str]:
    """Figure and unit of a station, as "0.40" and "in down"."""
    found = _LENGTH.fullmatch(text)
    return (found[1], f"{found[3]} down") if found else (text, "")


def _angle(text: str) -> float | None:
    found = _ANGLE.fullmatch(text)
    return float(found[1]) % 360.0 if found else None


def _direction(text: str) -> str:
    """A direction as it is shown.

    Examples
    --------
    >>> _direction("45 deg"), _direction("exhaust")
    ('45°', 'exhaust')
    """
    found = _ANGLE.fullmatch(text)
    return f"{found[1]}°" if found else text
