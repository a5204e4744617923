"""The chooser as a document: numbers to draw with and figures to read, in the job's units.

The page, the terminal and whoever else shows the picture take both from here, so that they
agree to the digit.  A value that does not exist is ``None``, never a zero.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from sleevewright.planning.answers import Quantity
from sleevewright.planning.chooser_records import Chooser, Curve
from sleevewright.planning.chooser_seconds import SecondsWave
from sleevewright.planning.shown import BLANK, worded
from sleevewright.units import shown, to_unit

SCHEMA = "sleevewright-chooser-1"

BAND = (0.05, 0.50, 0.95)
"""What share of the samples stays below each of the three lines."""

_FIT = Quantity.DEVIATION
_SECONDS = ((Quantity.TIME_AT_LEAST, "low"), (Quantity.TIME, "middle"),
            (Quantity.TIME_AT_MOST, "high"))  # fmt: skip


def chooser_document(picture: Chooser, *, system: str) -> dict[str, Any]:
    """A JSON-ready document of the picture, numbers and figures in ``system`` units."""
    return {
        "schema": SCHEMA,
        "units": system,
        "sense": "diametral",
        "band_1": list(BAND),
        "samples": picture.samples,
        "interferences": _axis(picture.interferences, _FIT, system),
        "chosen": _single(picture.chosen, _FIT, system),
        "least": _single(picture.least, _FIT, system),
        "diameter": _single(picture.diameter, Quantity.SIZE, system),
        "marks": [
            {
                "id": one.id,
                "label": worded(one.label, system=system),
                "kind": one.kind.value,
                "source": one.source,
                **_single(one.interference, _FIT, system),
            }
            for one in picture.marks
        ],
        "against": [
            {"verdict": one.verdict.value, "curves": list(one.curves)} for one in picture.against()
        ],
        "curves": [_curve(one, system) for one in picture.curves],
        "cautions": [
            {"code": one.code, "text": worded(one.text, system=system), "source": one.source}
            for one in picture.cautions
        ],
        "needs": list(picture.needs),
    }


def _curve(curve: Curve, system: str) -> dict[str, Any]:
    """One curve with its limit."""
    lines = {"low": curve.low, "middle": curve.middle, "high": curve.high}
    limit = None if curve.limit is None else _single(curve.limit, curve.quantity, system)
    return {
        "id": curve.id,
        "label": worded(curve.label, system=system),
        "quantity": curve.quantity.value,
        "sense": curve.sense,
        "of": worded(curve.of, system=system),
        **{name: _axis(line, curve.quantity, system) for name, line in lines.items()},
        "limit": limit,
        "side": curve.side,
        "limit_words": worded(curve.limit_words, system=system),
        "limit_source": curve.limit_source,
        "chance_out_1": list(curve.chance_out),
        "verdicts": [one.value for one in curve.verdicts],
        "basis": [
            {"name": one.name, "expression": one.expression, "sources": list(one.sources)}
            for one in curve.basis
        ],
        "assumptions": [worded(one, system=system) for one in curve.assumptions],
    }


def wave_document(wave: SecondsWave, *, system: str) -> dict[str, Any]:
    """A JSON-ready document of the seconds; times that run out are rounded down."""
    return {
        "schema": SCHEMA,
        "units": system,
        "interferences": _axis(wave.interferences, _FIT, system),
        **{
            name: {
                "unit": "s",
                "values": _numbers(getattr(wave, name)),
                "figures": [_figure(one, quantity, system) for one in getattr(wave, name)],
            }
            for quantity, name in _SECONDS
        },
        "low_error_s": _numbers(wave.low_error),
        "reckoned": _axis(wave.reckoned, _FIT, system),
        "drops": wave.drops,
        "heat": worded(wave.heat, system=system),
        "horizon_s": wave.horizon,
        "cautions": [
            {"code": one.code, "text": worded(one.text, system=system), "source": one.source}
            for one in wave.cautions
        ],
        "needs": list(wave.needs),
        "assumptions": [worded(one, system=system) for one in wave.assumptions],
    }


def _axis(values: Sequence[float], quantity: Quantity, system: str) -> dict[str, Any]:
    """Numbers and figures of one line, in one unit."""
    unit = shown(1.0, quantity=quantity.value, system=system).unit
    return {
        "unit": unit,
        "values": _numbers([to_unit(one, unit) if unit else one for one in values]),
        "figures": [_figure(one, quantity, system) for one in values],
    }


def _single(value: float, quantity: Quantity, system: str) -> dict[str, Any]:
    """One number with its figure."""
    line = _axis((value,), quantity, system)
    return {"unit": line["unit"], "value": line["values"][0], "figure": line["figures"][0]}


def _figure(value: float, quantity: Quantity, system: str) -> str:
    """The figure as every surface shows it, without its unit."""
    if not math.isfinite(value):
        return BLANK
    return shown(value, quantity=quantity.value, system=system).figure


def _numbers(values: Sequence[float]) -> list[float | None]:
    """Numbers for a drawing, with ten digits and no noise; nothing where there is no value."""
    return [float(f"{one:.10g}") if math.isfinite(one) else None for one in values]
