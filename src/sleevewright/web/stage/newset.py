"""What a new set of readings starts from: the gauge once, then where and how often."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.jobs.catalog import StageGrid, port_names
from sleevewright.jobs.gaugefit import usual_gauge
from sleevewright.jobs.gaugesetting import master_words, masters_of
from sleevewright.jobs.records import Record
from sleevewright.web.stage.asks import Teller
from sleevewright.web.stage.setting import MasterChoice
from sleevewright.web.stage.views import InstrumentChoice, NewSetView, Preset, SetView

ONE_A_PASS = ("parent-pass",)
"""Features of which one reading a pass is enough: a row each pass, one direction."""

_BORE = ("2.6360 in", "66.950 mm")
_FLANGE, _THICK = ("2.8500 in", "72.400 mm"), ("0.1570 in", "4.000 mm")
_SIZES = {
    "wall-left": ("0.3750 in", "9.500 mm"),
    "casting-outside": ("3.4000 in", "86.000 mm"),
    "flange-od": _FLANGE,
    "counterbore": _FLANGE,
    "flange-thickness": _THICK,
    "counterbore-depth": _THICK,
}
"""Sizes as a feature may have them, inch and metric; any other is about as wide as a bore."""

_LENGTH = re.compile(r"\s*(\d+(?:\.(\d+))?)\s*(\S+)\s*")


@dataclass(frozen=True)
class Wants:
    """What a new set of one feature is offered."""

    nominal: str
    instruments: tuple[InstrumentChoice, ...]
    own: Mapping[str, str] = field(default_factory=dict)  # sizes of this sleeve and its flange


def new_set(grid: StageGrid, teller: Teller, wants: Wants, sets: list[SetView]) -> NewSetView:
    """The form of a new set, filled in as the last one was, else as is usual."""
    metric = teller.units == "metric"
    stations, directions = grid.stations[metric], grid.directions
    before = sets[-1] if sets else None
    return NewSetView(
        feature=grid.feature,
        title=grid.title,
        doc=grid.doc,
        sense=grid.sense,
        nominal=(before.nominal if before else "") or wants.nominal,
        unit=(before.unit if before else "") or ("µm" if metric else "thou"),
        stations=_places("stations", grid.feature, teller) or listed(stations),
        directions=_places("directions", grid.feature, teller) or listed(directions),
        presets=presets(stations, directions),
        instruments=wants.instruments,
        instrument=_gauge(grid.feature, teller, wants),
        ports=port_names(teller.folded, cylinder=teller.cylinder) if grid.has_port_lands else (),
        is_deviation=grid.is_deviation,
        open_at_once=False,
        example=_SIZES.get(grid.feature, _BORE)[metric],
        one_a_pass=grid.feature in ONE_A_PASS,
        masters=tuple(
            MasterChoice(one, master_words(one), wants.own.get(one, ""))
            for one in masters_of(grid.feature)
        ),
    )


AS_BEFORE = {"cooled-bore": "sleeve-id"}
"""Features that are gauged again at the places and with the gauge of another one."""


def _gauge(feature: str, teller: Teller, wants: Wants) -> str:
    """The gauge that this feature was read with last in this job, else one that fits it."""
    begun = _begun(feature, teller) or _begun(AS_BEFORE.get(feature, ""), teller)
    used = [str(one.body.get("instrument", "")) for one in begun]
    return usual_gauge(feature, [(one.name, one.kind) for one in wants.instruments], used)


def _places(which: str, feature: str, teller: Teller) -> str:
    """Depths or directions of the newest set of a feature in this cylinder; empty without any."""
    begun = (*_begun(feature, teller), *_begun(AS_BEFORE.get(feature, ""), teller))
    newest = next((one for one in begun if one.cylinder in (0, teller.cylinder)), None)
    return "" if newest is None else "; ".join(map(str, newest.body.get(which, ())))


def _begun(feature: str, teller: Teller) -> list[Record]:
    """Every set of a feature that was begun in this job, the newest first."""
    begun = [one for one in teller.folded.sets.values() if one.body.get("feature") == feature]
    return sorted(begun, key=lambda one: one.number, reverse=True)


def presets(stations: str, directions: str) -> tuple[Preset, ...]:
    """Usual layouts: three by two, three by four, four by four.

    Examples
    --------
    >>> [one.words for one in presets("12 mm, 48 mm, 84 mm", "0 deg, 45 deg, 90 deg, 135 deg")]
    ['3 depths, 2 directions', '3 depths, 4 directions', '4 depths, 4 directions']
    >>> presets("12 mm, 48 mm, 84 mm", "0 deg")[-1].stations
    '12 mm; 36 mm; 60 mm; 84 mm'
    """
    if "," not in stations:
        return ()
    two = "0 deg, 90 deg"
    four = "0 deg, 45 deg, 90 deg, 135 deg"
    if "180" in directions:
        two, four = "0 deg, 180 deg", directions
    return tuple(
        Preset(
            f"{count} depths, {len(round_.split(','))} directions", listed(depths), listed(round_)
        )
        for count, round_ in ((3, two), (3, four), (4, four))
        if (depths := _spread(stations, count))
    )


def listed(commas: str) -> str:
    """A list by commas as the form of a new set hands it in: a decimal comma is no end.

    Examples
    --------
    >>> listed("0 deg, 90 deg")
    '0 deg; 90 deg'
    """
    return "; ".join(one.strip() for one in commas.split(",") if one.strip())


def _spread(stations: str, count: int) -> str:
    """Depths at equal distances between the first and the last of a list."""
    ends = [_LENGTH.fullmatch(one) for one in stations.split(",")]
    first, last = ends[0], ends[-1]
    if first is None or last is None:
        return ""
    low, high = float(first[1]), float(last[1])
    digits = len(first[2] or "")
    return ", ".join(
        f"{low + (high - low) * k / (count - 1):.{digits}f} {first[3]}" for k in range(count)
    )
