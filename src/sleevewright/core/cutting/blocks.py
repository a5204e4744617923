"""Which blocks or pins of a set make a height, with the fewest pieces.

Whole nanometres throughout.  Which sums can be made of how many pieces is kept as one long
row of bits for each number of pieces: adding a piece shifts the row by its size.  The search
is exact; the smallest number of pieces that reaches the window is found before any stack is
named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.cutting.stopsets import NM, StopSet
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

MOST_PIECES = 8
"""Pieces of one stack; more are never stood under a stop."""
MOST_STEPS = 1_000_000
"""Steps of the set's own finest division up to the height."""
MOST_TRIED = 4_000
"""Branches that the naming of alternatives may take."""


@dataclass(frozen=True)
class Stack:
    """Pieces that make a height, largest first; nanometres."""

    sizes: tuple[int, ...]
    target: int

    @property
    def total(self) -> int:
        """Height of the stack."""
        return sum(self.sizes)

    @property
    def off(self) -> int:
        """How far it is from what was asked; positive is too high."""
        return self.total - self.target


@dataclass(frozen=True)
class Stacks:
    """What a set makes of a height: the best stacks first, and the nearest heights beside."""

    found: tuple[Stack, ...]
    below: int | None  # nearest height that the set makes below the window [nm]
    above: int | None


@lru_cache(maxsize=64)
def find_stacks(
    pieces: StopSet, *, target: int, within: int, over: int | None = None, most: int = 4
) -> Stacks:
    """Stacks of a set that make a height within a tolerance, fewest pieces first.

    Parameters
    ----------
    pieces : StopSet
        The set; each size at most as often as it is there. [record]
    target : int
        Height in nanometres. [1]
    within : int
        How far off it may be, in nanometres. [1]
    over : int | None
        How far above it may be, where that differs; nought for never too high. [1]
    most : int
        How many stacks to name. [1]

    Returns
    -------
    Stacks
        Stacks, by the number of pieces and then by how far they are off. [record]

    Raises
    ------
    InputError
        If the height is not positive, or the set is divided too finely for it.

    Examples
    --------
    >>> from sleevewright.core.cutting.stopsets import stop_set
    >>> found = find_stacks(stop_set("metric-47"), target=4_200_000, within=0).found
    >>> [size / 1e6 for size in found[0].sizes]
    [3.0, 1.2]
    """
    _check(target, within)
    step = math.gcd(*(size for size, _ in pieces.pieces))
    low, high = -((within - target) // step), (target + (within if over is None else over)) // step
    low = max(low, 1)
    beyond = high + min(size for size, _ in pieces.pieces) // step
    if beyond > MOST_STEPS:
        allowed = f"at most {MOST_STEPS * step * NM * 1e3:.6g} mm for a set divided this finely"
        raise InputError("height of the stack", target * NM, "m", allowed)
    items = [
        (size // step, many) for size, many in reversed(pieces.pieces) if size // step <= beyond
    ]
    tables = _tables(items, beyond)
    found: list[Stack] = []
    for count in range(1, MOST_PIECES + 1):
        sums = _sums(tables[0][count], low, high)
        for one in sorted(sums, key=lambda s: (abs(s * step - target), s)):
            named = _named(items, tables, one, count, most - len(found))
            found += [Stack(tuple(size * step for size in sizes), target) for sizes in named]
            if len(found) >= most:
                break
        if len(found) >= most or (found and count > len(found[0].sizes)):
            break
    below, above = _beside(_reached(tables), low, high, step)
    if above is None:
        above = _far_above(pieces, high, step)
    return Stacks(tuple(found), below, above)


def _reached(tables: list[list[int]]) -> int:
    """Every sum that is made of some number of pieces, as bits."""
    reached = 0
    for row in tables[0]:
        reached |= row
    return reached


def _far_above(pieces: StopSet, high: int, step: int) -> int | None:
    """The nearest height above a window that lies more than the smallest piece above it."""
    sizes = [size // step for size, many in pieces.pieces for _ in range(many)]
    larger = [size for size in sizes if size > high]
    most = sum(sizes[-MOST_PIECES:])
    bound = min(larger) if larger else most  # both are heights that can be made
    if bound <= high or bound > MOST_STEPS:
        return None
    items = [(size // step, many) for size, many in pieces.pieces if size // step <= bound]
    return _beside(_reached(_tables(items[::-1], bound)), high, high, step)[1]


def _check(target: int, within: int) -> None:
    """Refuse a height that is none."""
    if target <= 0:
        raise InputError("height of the stack", target * NM, "m", "more than zero")
    if within < 0:
        raise InputError("tolerance of the stack", within * NM, "m", "zero or more")


def _tables(items: list[tuple[int, int]], most: int) -> list[list[int]]:
    """For each item on: the sums that it and those after it reach, by the number of pieces."""
    mask = (1 << (most + 1)) - 1
    rows = [1] + [0] * MOST_PIECES
    tables = [rows]
    for size, many in reversed(items):
        new = list(rows)
        for used in range(1, min(many, MOST_PIECES) + 1):
            if used * size > most:
                break
            for count in range(used, MOST_PIECES + 1):
                if rows[count - used]:
                    new[count] |= (rows[count - used] << (used * size)) & mask
        rows = new
        tables.append(rows)
    tables.reverse()
    return tables


def _sums(row: int, low: int, high: int) -> list[int]:
    """Sums of a row within a window."""
    window = (row >> low) & ((1 << (high - low + 1)) - 1) if high >= low else 0
    found = []
    while window:
        least = window & -window
        found.append(low + least.bit_length() - 1)
        window ^= least
    return found


def _named(
    items: list[tuple[int, int]], tables: list[list[int]], total: int, count: int, most: int
) -> list[tuple[int, ...]]:
    """Stacks of so many pieces with this sum, largest pieces first."""
    found: list[tuple[int, ...]] = []
    tried = 0
    start: tuple[int, int, int, tuple[int, ...]] = (0, total, count, ())
    waiting = [start] if most > 0 else []
    while waiting and len(found) < most and tried < MOST_TRIED:
        tried += 1
        index, rest, left, taken = waiting.pop()
        if not left:
            found.append(taken)
            continue
        size, many = items[index]
        for used in range(min(many, left, rest // size) + 1):
            after = rest - used * size
            if tables[index + 1][left - used] >> after & 1:
                waiting.append((index + 1, after, left - used, taken + (size,) * used))
    return found


def _beside(reached: int, low: int, high: int, step: int) -> tuple[int | None, int | None]:
    """The nearest heights that can be made below and above a window, in nanometres."""
    below = (reached & ((1 << low) - 1)).bit_length() - 1
    above = reached >> (high + 1)
    up = None if not above else (high + 1 + (above & -above).bit_length() - 1) * step
    return (below * step if below > 0 else None), up


@formula(
    name="doubt of a stack",
    expression="u = (n a^2 / 3 + (n - 1) j^2 / 3)^(1/2)",
    sources=("jcgm-100", "practice"),
    validity="sizes within +/- a and joints within +/- j, evenly; clean faces",
    unit="m",
)
def stack_standard(*, piece_count: float, size_half: float, joint_half: float) -> float:
    """Standard uncertainty of the height of a stack.

    Parameters
    ----------
    piece_count : float
        Pieces in the stack. [1]
    size_half : float
        Half-width within which the size of each piece lies. [m]
    joint_half : float
        Half-width of what each joint adds. [m]

    Returns
    -------
    float
        Standard uncertainty. [m]

    Raises
    ------
    InputError
        If there is no piece, or a half-width is negative.

    Notes
    -----
    Evenly spread, so a third of the square each.  A grain in a joint is not in it.  Source:
    ``jcgm-100`` 4.3.7; the half-widths are ``practice``.

    Examples
    --------
    >>> round(stack_standard(piece_count=2, size_half=0.45e-6, joint_half=0.25e-6) * 1e6, 3)
    0.395
    """
    if not piece_count >= 1 or size_half < 0.0 or joint_half < 0.0:
        raise InputError(
            "pieces of the stack", piece_count, "", "one or more, half-widths not negative"
        )
    return math.sqrt((piece_count * size_half**2 + (piece_count - 1.0) * joint_half**2) / 3.0)


GRADE_2 = ((10, 0.45), (25, 0.60), (50, 0.80), (75, 1.00), (100, 1.20), (150, 1.60), (200, 2.00),
           (250, 2.40), (300, 2.80), (400, 3.60), (500, 4.40))  # fmt: skip
"""Sizes up to [mm], and how far a block of grade 2 may lie off its size anywhere. [um]"""


@formula(
    name="how true the blocks of a stack are",
    expression="a = a_short (sum (t_i / t_short)^2 / n)^(1/2), t by size",
    sources=("iso-3650",),
    validity="blocks of one grade up to 500 mm; steps of grade 2, from memory",
    unit="m",
)
def blocks_half(*, sizes: tuple[int, ...], short_half: float) -> float:
    """Half-width of the sizes of blocks together: longer blocks may lie farther off.

    Parameters
    ----------
    sizes : tuple[int, ...]
        Size of each block in nanometres. [1]
    short_half : float
        Half-width of a block up to 10 mm. [m]

    Returns
    -------
    float
        Root of the mean square over the blocks. [m]

    Raises
    ------
    InputError
        If there is no block.

    Notes
    -----
    A shop that states another half-width for short blocks has the longer ones scaled alike.
    Source: ``iso-3650``, limit deviations at any point, grade 2, from memory.

    Examples
    --------
    >>> round(blocks_half(sizes=(100_000_000, 75_000_000), short_half=0.45e-6) * 1e6, 3)
    1.105
    """
    if not sizes:
        raise InputError("pieces of the stack", 0, "", "one or more")
    widest = [
        next((half for most, half in GRADE_2 if size * NM <= most * 1e-3 + NM), GRADE_2[-1][1])
        for size in sizes
    ]
    mean = math.fsum(one * one for one in widest) / len(widest)
    return short_half * math.sqrt(mean) / GRADE_2[0][1]
