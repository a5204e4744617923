"""Shapes out of a DXF file: closed polylines, circles, splines, and the words beside them."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator

import numpy as np
from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.insert import Insert
from ezdxf.entities.mtext import MText
from ezdxf.filemanagement import read
from ezdxf.lldxf.const import DXFError
from ezdxf.path import make_path

from sleevewright.errors import InputError, clipped
from sleevewright.services.drawing_in import (
    FLAT,
    ReadDrawing,
    ReadLabel,
    ReadShape,
    open_ended,
    settled_unit,
)
from sleevewright.sheets.wrap_dxf import APP

UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""What the header's number of the unit means, in mm; others are refused."""

CURVES = {"LWPOLYLINE", "POLYLINE", "CIRCLE", "ELLIPSE", "SPLINE", "LINE", "ARC"}
LOOSE = {"LINE", "ARC"}
MOST = 20_000
"""Lines of a drawing that are looked at."""

DEEPEST = 8
"""Blocks within blocks that are looked into."""


def read_dxf(text: str, *, unit: float | None = None) -> ReadDrawing:
    """The shapes of a DXF file, in mm and y downwards.

    Parameters
    ----------
    text : str
        The file.
    unit : float | None
        Millimetres of its unit, where a person told it.

    Raises
    ------
    InputError
        If it is no DXF file, or its unit is unknown and was not told.
    """
    try:
        document = read(io.StringIO(text))
        number = int(document.header.get("$INSUNITS", 0))
        entities = list(_all(document))
    except (DXFError, OSError, ValueError, KeyError, IndexError, TypeError, AttributeError) as bad:
        hint = "Save it as DXF of the version 2000 or later, as text."
        raise InputError("DXF", clipped(str(bad)), "", "a DXF file", hint) from bad
    scale = settled_unit(UNITS.get(number), unit, said=f"$INSUNITS {number}")
    shapes, labels, loose, hidden = [], [], 0, 0
    for one, is_hidden in entities:
        kind = one.dxftype()
        if is_hidden:
            hidden += kind in CURVES
        elif kind in ("TEXT", "MTEXT"):
            labels.append(_label(one, scale))
        elif kind in CURVES:
            shapes.append(_shape(one, scale))
            loose += kind in LOOSE
    return ReadDrawing(tuple(shapes), tuple(labels), loose, hidden)


def _all(document: Drawing) -> Iterator[tuple[DXFEntity, bool]]:
    """Every entity and whether it is hidden, those of inserted blocks in their place."""
    dark = {str(one.dxf.name) for one in document.layers if one.is_off() or one.is_frozen()}
    for count, (one, is_hidden) in enumerate(_within(document.modelspace(), dark, DEEPEST)):
        if count > MOST:
            raise InputError("DXF", count, "lines", f"up to {MOST}", "Leave all but the ports out.")
        yield one, is_hidden


def _within(
    entities: Iterable[DXFEntity], dark: set[str], deep: int, *, hidden: bool = False
) -> Iterator[tuple[DXFEntity, bool]]:
    """Entities, and after each block or each of a row of blocks those that it holds."""
    for one in entities:
        is_hidden = hidden or str(one.dxf.layer) in dark or bool(one.dxf.get("invisible", 0))
        if not isinstance(one, Insert):
            yield one, is_hidden
        elif deep == 0:
            hint = "Explode the blocks before you save it."
            raise InputError("DXF", "blocks", "", f"up to {DEEPEST} within each other", hint)
        else:
            for single in one.multi_insert():
                yield single, is_hidden
                yield from _within(single.virtual_entities(), dark, deep - 1, hidden=is_hidden)


def _shape(one: DXFEntity, scale: float) -> ReadShape:
    """One curve as straight pieces."""
    path = make_path(one)
    places = np.array([(point.x, -point.y) for point in path.flattening(FLAT / scale)]) * scale
    places = places.reshape(-1, 2)
    name = str(one.get_xdata(APP)[0].value) if one.has_xdata(APP) else ""
    closed = bool(len(places)) and (
        path.is_closed or float(np.hypot(*(places[0] - places[-1]))) < FLAT
    )
    return ReadShape(str(one.dxf.layer), name, open_ended(places), closed)


def _label(one: DXFEntity, scale: float) -> ReadLabel:
    """Words and where they stand: a text that is placed by its middle stands there."""
    is_lines = isinstance(one, MText)
    words = one.plain_text() if isinstance(one, MText) else one.dxf.text
    at = one.dxf.insert
    if not is_lines and one.dxf.hasattr("align_point"):
        at = one.dxf.align_point
    return ReadLabel(str(one.dxf.layer), str(words).strip(), (at.x * scale, -at.y * scale))
