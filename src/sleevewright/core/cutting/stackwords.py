"""Stacks of blocks and pins in words: sizes as they are marked on the pieces."""

from __future__ import annotations

from decimal import Decimal

from sleevewright.core.cutting.blocks import Stack, Stacks

NANOMETRES = {"mm": 1_000_000, "in": 25_400_000}
LEAST_PLACES = {"mm": 2, "in": 3}


def size_words(size: int, unit: str) -> str:
    """A size as it is marked on its piece, exactly.

    Parameters
    ----------
    size : int
        Size in nanometres. [1]
    unit : str
        Unit of the marking, mm or in. [text]

    Returns
    -------
    str
        Figures without the unit. [text]

    Examples
    --------
    >>> size_words(1_005_000, "mm"), size_words(2_542_540, "in")
    ('1.005', '0.1001')
    """
    text = f"{Decimal(size) / NANOMETRES[unit]:.6f}".rstrip("0")
    whole, _, places = text.partition(".")
    return f"{whole}.{places.ljust(LEAST_PLACES[unit], '0')}"


def stack_words(stack: Stack, unit: str) -> str:
    """Pieces of a stack and their sum, as they are marked.

    Parameters
    ----------
    stack : Stack
        The stack. [record]
    unit : str
        Unit of the marking, mm or in. [text]

    Returns
    -------
    str
        Pieces with a plus between, and what they make. [text]

    Examples
    --------
    >>> stack_words(Stack((3_000_000, 1_200_000), 4_200_000), "mm")
    '3.00 + 1.20 = 4.20 mm'
    """
    parts = " + ".join(size_words(one, unit) for one in stack.sizes)
    if len(stack.sizes) == 1:
        return f"{parts} {unit} alone"
    return f"{parts} = {size_words(stack.total, unit)} {unit}"


def nearest_words(found: Stacks, unit: str) -> str:
    """The nearest heights that can be made, where none is within.

    Parameters
    ----------
    found : Stacks
        What the search found. [record]
    unit : str
        Unit of the marking, mm or in. [text]

    Returns
    -------
    str
        What is needed, and what this set makes instead. [text]
    """
    near = [size_words(one, unit) for one in (found.below, found.above) if one is not None]
    if not near:
        return "a set that makes this height: none of its sums comes near"
    return f"a set that makes this height: this one makes {' or '.join(near)} {unit}"
