"""What was told of an old sleeve, its islands and the wall of its casting."""

from __future__ import annotations

from dataclasses import dataclass, field

from sleevewright.core.cutting.islands import Island
from sleevewright.jobs.model import Entry, Part
from sleevewright.planning.proofing import Gauged

CAST_IN, SHRUNK, PRESSED, PLATED = "cast in", "shrunk in", "pressed in", "plated"
"""How an old sleeve sits in its casting."""

OLD_BORE = "the old bore"
"""Where a wall was read from, when not from the clean-out."""


def kind_in(words: str) -> str:
    """How the sleeve sits, from the words of intake; empty where they do not say.

    Examples
    --------
    >>> kind_in("Cast in, ribbed"), kind_in("shrunk"), kind_in("nobody knows")
    ('cast in', 'shrunk in', '')
    """
    said = words.lower()
    known = (("plat", PLATED), ("shrunk", SHRUNK), ("press", PRESSED), ("cast", CAST_IN))
    found = [kind for begin, kind in known if begin in said]
    return found[0] if len(found) == 1 else ""


@dataclass(frozen=True)
class Keyed:
    """The old sleeve outside: where its iron ends, and its keys."""

    liner_outside: Entry | None = None
    key_depth: Entry | None = None
    keys: float | None = None
    key_width: Entry | None = None


@dataclass(frozen=True)
class WallTold:
    """What was told of the casting's wall."""

    read: Gauged = field(default_factory=Gauged)
    outside: Gauged = field(default_factory=Gauged)
    thin_outside: Entry | None = None
    least: Entry | None = None  # wall at its thinnest as it was told, without a map
    read_from: str = ""  # the clean-out or the old bore
    bore: Entry | None = None
    sweep_depths: tuple[float, ...] = ()  # of the sweeps at the top and near the bottom


@dataclass(frozen=True)
class OldTold:
    """Everything that was told at the stage Old sleeve out."""

    casting: Part = field(default_factory=Part)
    kind: str = ""
    is_clean: bool = False  # told clean all round: what is predicted of islands is past
    tightness: Entry | None = None
    keyed: Keyed = field(default_factory=Keyed)
    islands: tuple[Island, ...] = ()
    half_told: tuple[str, ...] = ()  # islands of which an edge is missing
    problem: str = ""  # why the islands that were told cannot be
    wall: WallTold = field(default_factory=WallTold)
    cylinders: int = 1
