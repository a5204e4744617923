"""How a boring head is turned, in words: graduations, ways, lost motion."""

from __future__ import annotations

from sleevewright.core.cutting.head_dial import DialOrder, HeadDial


def graduations(count: int) -> str:
    """A number of graduations in words."""
    return f"{count} graduation{'' if count == 1 else 's'}"


def turn_words(order: DialOrder, head: HeadDial) -> str:
    """How many graduations and which way; back only past the lost motion, and up again."""
    way, back = ways_of(head)
    if order.graduations == 0:
        return "leave the head as it is: a spring pass"
    count = abs(order.graduations)
    if order.graduations > 0:
        return f"{graduations(count)} {way}"
    words = f"{graduations(count)} {back}"
    if not order.back:
        return words
    return (
        f"{words}; to take up the lost motion go {count + order.back} {back} and come "
        f"{order.back} up again {way}"
    )


def ways_of(head: HeadDial) -> tuple[str, str]:
    """Which way bores larger, and the other one."""
    ways = ("clockwise", "counter-clockwise")
    return ways if head.is_clockwise else (ways[1], ways[0])
