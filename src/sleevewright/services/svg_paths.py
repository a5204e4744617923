"""Paths of SVG as straight pieces: lines, Bezier curves and arcs, and the matrices before them."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError, clipped
from sleevewright.services.drawing_in import FLAT, Points

Matrix = NDArray[np.float64]

COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""Numbers that each order of a path takes."""

MOST_PIECES = 2000

FURTHEST = 1e9
"""Largest number of a drawing, in its own unit: a kilometre in micrometres."""

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_ORDER = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_TRANSFORM = re.compile(r"([a-zA-Z]+)\s*\(([^)]*)\)")


def numbers_of(text: str) -> list[float]:
    """The numbers of a text.

    Examples
    --------
    >>> numbers_of("0,0 12.5-3e1")
    [0.0, 0.0, 12.5, -30.0]
    """
    return [finite_number(one) for one in _NUMBER.findall(text)]


def finite_number(text: str) -> float:
    """A number of a drawing.

    Raises
    ------
    InputError
        If it lies beyond any drawing.

    Examples
    --------
    >>> finite_number("-3e1")
    -30.0
    """
    told = float(text)
    if abs(told) > FURTHEST:
        raise InputError("SVG", clipped(text), "", f"numbers up to {FURTHEST:g}", "Draw it anew.")
    return told


def transform_of(text: str) -> Matrix:
    """The matrix of a transform.

    Raises
    ------
    InputError
        If it is one that no drawing of a port needs.
    """
    made = np.eye(3)
    for name, inside in _TRANSFORM.findall(text):
        made = made @ _matrix(name, numbers_of(inside))
    return made


def _matrix(name: str, told: list[float]) -> Matrix:
    if name == "translate" and told:
        return _of(1, 0, 0, 1, told[0], told[1] if len(told) > 1 else 0.0)
    if name == "scale" and told:
        return _of(told[0], 0, 0, told[-1], 0, 0)
    if name == "matrix" and len(told) == 6:
        return _of(*told)
    if name == "rotate" and told:
        cosine, sine = math.cos(math.radians(told[0])), math.sin(math.radians(told[0]))
        turn = _of(cosine, sine, -sine, cosine, 0, 0)
        x, y = (told[1], told[2]) if len(told) == 3 else (0.0, 0.0)
        return _of(1, 0, 0, 1, x, y) @ turn @ _of(1, 0, 0, 1, -x, -y)
    allowed = "translate, scale, rotate or matrix"
    raise InputError("SVG transform", clipped(name), "", allowed, "Save it as plain SVG.")


def _of(a: float, b: float, c: float, d: float, e: float, f: float) -> Matrix:  # noqa: PLR0913, PLR0917 - the six numbers of the standard's matrix, in its order
    return np.array([[a, c, e], [b, d, f], [0.0, 0.0, 1.0]])


@dataclass
class _Pen:
    """Where a path is being drawn: in the drawing's own unit, ``scale`` mm to it."""

    flat: float
    at: complex = 0j
    begun: complex = 0j
    control: complex | None = None  # of the curve before, for one that goes on smoothly
    kind: str = ""
    places: list[complex] = field(default_factory=list)

    def line(self, to: complex) -> None:
        """A straight piece."""
        self.places.append(to)
        self.at = to

    def curve(
        self, made: Callable[[NDArray[np.float64]], NDArray[np.complex128]], long: float
    ) -> None:
        """A curve as pieces that lie within the flatness; ``long`` bounds its second change."""
        count = min(MOST_PIECES, max(1, math.ceil(math.sqrt(long / (8.0 * self.flat)))))
        steps = np.linspace(0.0, 1.0, count + 1)[1:]
        self.places.extend(complex(one) for one in made(steps))
        self.at = self.places[-1]


def pieces_of(text: str, matrix: Matrix) -> Iterator[tuple[Points, bool]]:
    """The parts of a path in mm, each with whether it is closed.

    Raises
    ------
    InputError
        If it is no path.
    """
    scale = math.sqrt(abs(float(np.linalg.det(matrix[:2, :2])))) or 1.0
    pen = _Pen(FLAT / scale)
    for order, told in _orders(text):
        name = order.upper()
        if name == "M":
            yield from _ended(pen, matrix, closed=False)
            pen.at = pen.begun = complex(told[0], told[1]) + (pen.at if order == "m" else 0j)
            pen.places = [pen.at]
        elif name == "Z":
            yield from _ended(pen, matrix, closed=True)
            pen.at, pen.places = pen.begun, [pen.begun]
        else:
            _draw(pen, name, told, pen.at if order.islower() else 0j)
        pen.kind = name
    yield from _ended(pen, matrix, closed=False)


def _orders(text: str) -> Iterator[tuple[str, list[float]]]:
    """The orders of a path, each with its own numbers; repeated ones are told again."""
    order = ""
    told: list[float] = []
    for letter, number in _ORDER.findall(text):
        if letter:
            if told:
                raise InputError("SVG path", clipped(text), "", "whole orders", "Was it cut off?")
            order = letter
            if order in "Zz":
                yield order, []
            continue
        told.append(finite_number(number))
        if order and order not in "Zz" and len(told) == COUNTS[order.upper()]:
            yield order, told
            told = []
            order = {"M": "L", "m": "l"}.get(order, order)
    if told:
        raise InputError("SVG path", clipped(text), "", "whole orders", "Was it cut off?")


def _ended(pen: _Pen, matrix: Matrix, *, closed: bool) -> Iterator[tuple[Points, bool]]:
    """The part that was drawn so far, where it is more than a place."""
    if len(pen.places) > 1:
        flat = np.array([(one.real, one.imag) for one in pen.places])
        places = flat @ matrix[:2, :2].T + matrix[:2, 2]
        is_whole = closed or float(np.hypot(*(places[0] - places[-1]))) < 1e-4
        yield places, is_whole
    pen.places = []


def _draw(pen: _Pen, name: str, told: list[float], base: complex) -> None:
    """One order: a line, a curve or an arc from where the pen is."""
    if not pen.places:
        pen.places = [pen.at]
    pairs = [complex(x, y) + base for x, y in zip(told[::2], told[1::2], strict=False)]
    if name == "H":
        pen.line(complex(told[0] + base.real, pen.at.imag))
    elif name == "V":
        pen.line(complex(pen.at.real, told[0] + base.imag))
    elif name == "L":
        pen.line(pairs[0])
    elif name == "A":
        _arc(pen, told, complex(told[5], told[6]) + base)
    else:
        _bezier(pen, name, pairs)


def _bezier(pen: _Pen, name: str, pairs: list[complex]) -> None:
    """A Bezier curve of the second or third degree, smooth where it is to be."""
    start = pen.at
    smooth = "CS" if name in "CS" else "QT"
    mirrored = start
    if pen.control is not None and pen.kind in smooth:
        mirrored = 2.0 * start - pen.control
    controls = {"C": pairs, "S": [mirrored, *pairs], "Q": pairs, "T": [mirrored, *pairs]}[name]
    if name in "QT":
        one, end = controls
        first, second = start + 2.0 / 3.0 * (one - start), end + 2.0 / 3.0 * (one - end)
        pen.control = one
    else:
        first, second, end = controls
        pen.control = second
    bend = 6.0 * max(abs(start - 2 * first + second), abs(first - 2 * second + end))

    def made(at: NDArray[np.float64]) -> NDArray[np.complex128]:
        rest = 1.0 - at
        found: NDArray[np.complex128] = (
            rest**3 * start + 3 * rest**2 * at * first + 3 * rest * at**2 * second + at**3 * end
        )
        return found

    pen.curve(made, bend)


def _arc(pen: _Pen, told: list[float], end: complex) -> None:
    """A piece of an ellipse between two places: the standard's own conversion to its middle."""
    across, down, start = abs(told[0]), abs(told[1]), pen.at
    if across == 0.0 or down == 0.0 or start == end:
        pen.line(end)
        return
    turn = complex(math.cos(math.radians(told[2])), math.sin(math.radians(told[2])))
    half = (start - end) / 2.0 / turn
    over = (half.real / across) ** 2 + (half.imag / down) ** 2
    if over > 1.0:
        across, down = across * math.sqrt(over), down * math.sqrt(over)
    unit = complex(half.real / across, half.imag / down)
    away = math.sqrt(max(0.0, 1.0 / abs(unit) ** 2 - 1.0)) * (-1.0 if told[3] == told[4] else 1.0)
    middle = unit * complex(0.0, -1.0) * away
    first = np.angle(unit - middle)
    sweep = float(np.angle((-unit - middle) / (unit - middle)))
    if told[4] and sweep < 0.0:
        sweep += math.tau
    elif not told[4] and sweep > 0.0:
        sweep -= math.tau
    centre = complex(middle.real * across, middle.imag * down) * turn + (start + end) / 2.0

    def made(at: NDArray[np.float64]) -> NDArray[np.complex128]:
        angle = first + sweep * at
        found: NDArray[np.complex128] = (
            centre + (across * np.cos(angle) + 1j * down * np.sin(angle)) * turn
        )
        return found

    pen.curve(made, max(across, down) * sweep**2)
    pen.places[-1] = pen.at = end
    pen.control = None


def round_piece(tag: str, sizes: dict[str, float], matrix: Matrix) -> Points:
    """A rectangle, its corners rounded or not, a circle or an ellipse, in mm."""
    if tag == "rect":
        x, y, wide, high = (sizes[key] for key in ("x", "y", "width", "height"))
        rx = min(sizes["rx"] or sizes["ry"], wide / 2.0)
        ry = min(sizes["ry"] or sizes["rx"], high / 2.0)
        arc = f"A{rx} {ry} 0 0 1 "
        text = (
            f"M{x + rx} {y} H{x + wide - rx} {arc}{x + wide} {y + ry} V{y + high - ry} "
            f"{arc}{x + wide - rx} {y + high} H{x + rx} {arc}{x} {y + high - ry} V{y + ry} "
            f"{arc}{x + rx} {y} Z"
        )
    else:
        rx, ry = (sizes["r"],) * 2 if tag == "circle" else (sizes["rx"], sizes["ry"])
        x, y = sizes["cx"], sizes["cy"]
        arc = f"A{rx} {ry} 0 0 1 "
        text = f"M{x - rx} {y} {arc}{x + rx} {y} {arc}{x - rx} {y} Z"
    return next(places for places, _ in pieces_of(text, matrix))
