"""Shapes out of an SVG file: closed paths, rectangles, circles and polygons, in millimetres."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

import numpy as np

from sleevewright.errors import InputError, clipped
from sleevewright.services.drawing_in import (
    ReadDrawing,
    ReadLabel,
    ReadShape,
    open_ended,
    settled_unit,
)
from sleevewright.services.svg_paths import (
    Matrix,
    numbers_of,
    pieces_of,
    round_piece,
    transform_of,
)

UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72.0, "pc": 25.4 / 6.0}
"""Units of a width that are lengths of the real world, in mm; a pixel is none."""

UNEVEN = 1e-3
"""Share by which the two ways of a drawing may be scaled apart."""

MADE_UP = re.compile(
    r"(?:path|rect|circle|ellipse|polygon|polyline|line|g|svg|layer|shape|use)[-_]?\d[\d\-_.]*"
)
"""Names that a program gave, not a person."""

SHAPES = ("path", "rect", "circle", "ellipse", "polygon", "polyline", "line")

UNREAD = (
    ("use", "copies (use)", "Turn copies into shapes of their own."),
    ("svg", "drawings within the drawing (svg)", "Ungroup what was pasted in."),
    ("switch", "parts to choose from (switch)", "Save it as plain SVG."),
)
"""Parts that may hold shapes and are not read."""

_SIZE = re.compile(r"\s*([+-]?\d*\.?\d+(?:[eE][+-]?\d+)?)\s*([a-z%]*)\s*")


def read_svg(text: str, *, unit: float | None = None) -> ReadDrawing:
    """The shapes of an SVG file, in mm and y downwards.

    Parameters
    ----------
    text : str
        The file.
    unit : float | None
        Millimetres of one of its own units, where a person told it.

    Raises
    ------
    InputError
        If it is no SVG file, or its size is in pixels and no unit was told.
    """
    if "<!ENTITY" in text:
        raise InputError("SVG", "entities", "", "a drawing without them", "Save it as plain SVG.")
    try:
        root = ET.fromstring(text.encode())  # noqa: S314 - entities were refused just above
    except (ET.ParseError, ValueError) as bad:
        raise InputError("SVG", clipped(str(bad)), "", "an SVG file", "Save it again.") from bad
    if _tag(root) != "svg":
        raise InputError("SVG", _tag(root), "", "an SVG file", "Save it as plain SVG.")
    _refuse_unread(root)
    # The zero is the drawing's own: a viewBox only says which part of it is looked at.
    start = np.diag([_scale(root, unit)] * 2 + [1.0])
    shapes: list[ReadShape] = []
    labels: list[ReadLabel] = []
    hidden: list[str] = []
    for element, matrix, layer in _walked(root, start, "", hidden):
        if _tag(element) == "text":
            at = matrix @ np.array([_one(element, "x"), _one(element, "y"), 1.0])
            words = " ".join("".join(element.itertext()).split())
            labels.append(ReadLabel(layer, words, (float(at[0]), float(at[1]))))
            continue
        for points, closed in _drawn(element, matrix):
            kept = open_ended(points)
            if len(kept) > 1:
                shapes.append(ReadShape(layer, _name(element), kept, closed))
    return ReadDrawing(tuple(shapes), tuple(labels), hidden=len(hidden))


def _refuse_unread(root: ET.Element) -> None:
    """Refuse a drawing with parts that are not read, since a port among them would be missing."""
    inner = [_tag(one) for one in root.iter() if one is not root]
    for tag, what, hint in UNREAD:
        if count := inner.count(tag):
            raise InputError("SVG", f"{count} {what}", "", "a drawing without them", hint)


def _is_hidden(element: ET.Element) -> bool:
    """Whether an element is not to be seen, by itself or by its style."""
    style = {
        key.strip(): value.strip()
        for key, _, value in (one.partition(":") for one in element.get("style", "").split(";"))
    }
    shown = style.get("display", element.get("display", ""))
    seen = style.get("visibility", element.get("visibility", ""))
    return shown == "none" or seen in ("hidden", "collapse")


def _tag(element: ET.Element) -> str:
    return str(element.tag).rpartition("}")[2]


def _scale(root: ET.Element, told: float | None) -> float:
    """Millimetres of one unit of the drawing."""
    box = numbers_of(root.get("viewBox", ""))
    wide, high = _length(root.get("width", "")), _length(root.get("height", ""))
    own: float | None = None
    if len(box) == 4 and wide is not None and high is not None and min(box[2:]) > 0.0:
        own = wide / box[2]
        if abs(high / box[3] / own - 1.0) > UNEVEN:
            said = f"{own:.6g} mm across and {high / box[3]:.6g} mm down"
            hint = "Make width, height and viewBox of one shape."
            raise InputError("unit of the drawing", said, "", "one scale both ways", hint)
    # Without a viewBox, or with a size in pixels, one unit is a pixel: programs differ on those.
    said = f"width {root.get('width', 'not told')}, viewBox {root.get('viewBox', 'not told')}"
    return settled_unit(own, told, said=said)


def _length(text: str) -> float | None:
    """A length in mm; nothing where it is in pixels, in per cent or not told."""
    found = _SIZE.fullmatch(text)
    if found is None or found[2] not in UNITS:
        return None
    return float(found[1]) * UNITS[found[2]]


def _walked(
    element: ET.Element, matrix: Matrix, layer: str, hidden: list[str]
) -> Iterator[tuple[ET.Element, Matrix, str]]:
    """Every element with its place and its group; what only defines or is hidden is not."""
    for child in element:
        tag = _tag(child)
        if tag in ("defs", "clipPath", "mask", "symbol", "marker", "pattern", "metadata"):
            continue
        if _is_hidden(child):
            hidden += [one for one in map(_tag, child.iter()) if one in SHAPES]
            continue
        own = matrix @ transform_of(child.get("transform", ""))
        if tag in ("g", "a"):
            yield from _walked(child, own, _group(child) or layer, hidden)
        else:
            yield child, own, layer


def _group(element: ET.Element) -> str:
    """What a group is called: the label that a person gave, else its id."""
    labels = [value for key, value in element.attrib.items() if key.endswith("}label")]
    return labels[0] if labels else element.get("id", "")


def _name(element: ET.Element) -> str:
    """What a shape is called by a person; empty where only a program named it."""
    if told := element.get("data-name"):
        return told.strip()
    for child in element:
        if _tag(child) == "title" and child.text and child.text.strip():
            return child.text.strip()
    name = _group(element).strip()
    return "" if MADE_UP.fullmatch(name) else name


def _one(element: ET.Element, key: str) -> float:
    """A number of an element in the drawing's own unit; zero where it is not told."""
    told = _SIZE.fullmatch(element.get(key, ""))
    if told is not None and told[2] not in ("", "px"):
        allowed = "numbers in the drawing's own unit"
        raise InputError(f"SVG {key}", clipped(told[0]), "", allowed, "Save it as plain SVG.")
    found = numbers_of(element.get(key, ""))
    return found[0] if found else 0.0


def _drawn(element: ET.Element, matrix: Matrix) -> Iterator[tuple[np.ndarray, bool]]:
    """The lines of one element in mm, each with whether it is closed."""
    tag = _tag(element)
    if tag == "path":
        yield from pieces_of(element.get("d", ""), matrix)
    elif tag in ("polygon", "polyline"):
        flat = numbers_of(element.get("points", ""))
        places = _placed(np.array(flat[: len(flat) // 2 * 2]).reshape(-1, 2), matrix)
        if len(places) > 1:
            apart = float(np.hypot(*(places[0] - places[-1])))
            yield places, tag == "polygon" or apart < 1e-4
    elif tag == "line":
        ends = [
            [_one(element, "x1"), _one(element, "y1")],
            [_one(element, "x2"), _one(element, "y2")],
        ]
        yield _placed(np.array(ends), matrix), False
    elif tag in ("rect", "circle", "ellipse"):
        sizes = {key: _one(element, key) for key in ("x", "y", "width", "height", "rx", "ry", "r",
                                                     "cx", "cy")}  # fmt: skip
        yield round_piece(tag, sizes, matrix), True


def _placed(points: np.ndarray, matrix: Matrix) -> np.ndarray:
    """Points of an element in mm."""
    return points @ matrix[:2, :2].T + matrix[:2, 2]
