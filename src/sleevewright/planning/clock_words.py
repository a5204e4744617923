"""A turn of the sleeve in the words of the bench, with the side that it is seen from."""

from __future__ import annotations

import math

from sleevewright.planning.grind_said import length_words

NOTHING = math.radians(0.02)
"""A turn that no scribe can show: it is told as none. [rad]"""


def turn_words(turn: float, rim: float | None, *, system: str, is_plain: bool = False) -> str:
    """What to do with the sleeve: how far, which way, seen from where, along what.

    Examples
    --------
    >>> turn_words(-0.0401, -1.6256e-3, system="inch")
    'rotate 64 thou counter-clockwise seen from the deck, along the rim of the flange (2.3 deg)'
    >>> turn_words(0.0401, 1.684e-3, system="metric", is_plain=True)
    'rotate 1.68 mm clockwise seen from the deck, along the rim of the sleeve (2.3 deg)'
    >>> turn_words(0.0, 0.0, system="inch")
    'set the mark to the scribe: no turn'
    """
    if abs(turn) < NOTHING:
        return "set the mark to the scribe: no turn"
    way = way_words(turn)
    degrees = f"{math.degrees(abs(turn)):.1f} deg"
    if rim is None:
        return f"rotate {degrees} {way}"
    edge = "sleeve" if is_plain else "flange"
    far = length_words(abs(rim), system)
    return f"rotate {far} {way}, along the rim of the {edge} ({degrees})"


def way_words(turn: float) -> str:
    """Which way a turn goes, and from where that is seen."""
    return f"{'clockwise' if turn > 0.0 else 'counter-clockwise'} seen from the deck"


def order_words(
    pose: tuple[float, float | None, float], *, system: str, is_plain: bool = False
) -> str:
    """What to do with the sleeve and its counterbore: turn, length along the rim, depth.

    Examples
    --------
    >>> order_words((0.0401, None, 2e-4), system="metric")
    'rotate 2.3 deg clockwise seen from the deck; deepen the counterbore by 0.20 mm'
    """
    turn, rim, down = pose
    said = (turn_words(turn, rim, system=system, is_plain=is_plain), deeper_words(down, system))
    return "; ".join(one for one in said if one)


def deeper_words(down: float, system: str) -> str:
    """What to do with the counterbore; empty where nothing is."""
    return (
        "" if abs(down) < 5e-6 else f"deepen the counterbore by {length_words(abs(down), system)}"
    )


ELSEWHERE = "Never fit a ring so: its end springs into the port. Another place for the peg"


def peg_cautions(
    helpless: tuple[tuple[str, str, float], ...],
    aside: tuple[tuple[str, str, float], ...],
    system: str,
) -> tuple[tuple[str, str], ...]:
    """Cautions, each with its code, of pegs that no clocking helps and of pegs left aside.

    Each peg comes with its number, the port, and the wall from a ring end to the port's edge.

    Examples
    --------
    >>> [(_, words)] = peg_cautions((("1", "main right", 1.5e-3),), (), "metric")
    >>> words.split(":")[0]
    'Peg 1 leaves 1.50 mm of wall to main right as it is to become'
    """
    said = {}
    for peg, port, wall in helpless:
        where = f"Peg {peg} {_near_words(wall, port, system)} as it is to become"
        why = "no clocking helps it, so it bars no turn there"
        said[f"clock.peg.{peg}.{port}"] = f"{where}: {why}. {ELSEWHERE}, or a narrower port."
    barred = [one for one in aside if one[:2] not in {known[:2] for known in helpless}]
    for peg, port, wall in barred:
        where = f"Peg {peg} {_near_words(wall, port, system)} at this clocking"
        why = "Every turn that keeps clear of it cuts an edge too far: told without it"
        said[f"clock.aside.{peg}.{port}"] = f"{where}. {why}. {ELSEWHERE}, or another sleeve."
    return tuple((f"{code}:clock.said", words) for code, words in said.items())


def _near_words(wall: float, port: str, system: str) -> str:
    """How a peg lies to a port: what wall is left, or that a ring end is over it."""
    if wall < 0.0:
        return f"has a ring end over {port}"
    return f"leaves {length_words(wall, system)} of wall to {port}"
