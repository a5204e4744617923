"""What the grind list rests on: the maps, how the sleeve lies, what was measured since."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.ports.grinding import EdgeMetal
from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.overlap import MetalAreas
from sleevewright.core.ports.residual import Walls
from sleevewright.jobs.catalog_maps import PARALLEL_CUT, PISTON_INLET, RADIAL_CUT
from sleevewright.planning.answers import Verdict

WALLS_OF: Mapping[str, Walls] = {RADIAL_CUT: "radial", PARALLEL_CUT: "parallel"}
"""How the sides of a sleeve's windows go outwards, by what was told."""

TAKE, DONE, LEAVE, CLOSE, GONE = (
    "to take",
    "done",
    "leave",
    "measure again",
    "out",
)
"""What is to be done at an edge: measured since and at its line, or never to be touched."""


@dataclass(frozen=True)
class PoseTold:
    """How the sleeve lies: as planned before the drop, as found after it.

    Attributes
    ----------
    turn : float
        Clockwise seen from the deck. [rad]
    down : float
        How much deeper than in its map. [m]
    side, deep : float
        One standard uncertainty, along the wall and axially. [m]
    words : str
        Where it is from.
    is_set : bool
        Whether the sleeve is in, so that no pose can be chosen any more.
    deeper : float
        How much the counterbore may still be deepened. [m]
    turns : tuple[tuple[float, float], ...]
        Turns from here that studs and pegs of the rings leave; any where nothing was told. [rad]
    lacking : str
        What is missing to know how it lies, where that is not known.
    """

    turn: float = 0.0
    down: float = 0.0
    side: float = 0.0
    deep: float = 0.0
    words: str = ""
    is_set: bool = False
    deeper: float = 0.0
    turns: tuple[tuple[float, float], ...] = ((-math.pi, math.pi),)
    lacking: str = ""


@dataclass(frozen=True)
class LeftPort:
    """What was measured of a port since it was ground: some edges, or all of it.

    ``width`` is along the wall; without ``middle`` nobody said at which side it was ground.
    """

    roof: float | None = None
    floor: float | None = None
    width: float | None = None  # at the roof
    middle: float | None = None
    whole: MappedPort | None = None
    bottom: float | None = None  # width at the floor

    @property
    def is_wide_told(self) -> bool:
        """Whether a width was measured."""
        return self.width is not None or self.bottom is not None

    @property
    def is_told(self) -> bool:
        """Whether anything was measured."""
        known = (self.roof, self.floor, self.whole)
        return self.is_wide_told or any(one is not None for one in known)


@dataclass(frozen=True)
class Closing:
    """A new reading that lies inside the window as supplied.

    Attributes
    ----------
    port, what : str
        Name of the port, and what was measured of it.
    was, now : float
        As supplied, and as it was read since: depths, or widths along the wall. [m]
    by : float
        How far the window would have closed. [m]
    doubt : float
        One standard uncertainty of that. [m]
    """

    port: str
    what: str
    was: float
    now: float
    by: float
    doubt: float


@dataclass(frozen=True)
class GrindTold:
    """Everything that the grind list reads."""

    target: PortMap | None = None
    supplied: PortMap | None = None
    found: PortMap | None = None
    cast: PortMap | None = None
    cast_told: tuple[str, ...] = ()  # ports of which a window of the casting was told
    cast_needs: tuple[str, ...] = ()  # what its map lacks, where one was told
    pose: PoseTold = PoseTold()
    left: Mapping[str, LeftPort] = field(default_factory=dict)
    left_doubt: EdgeDoubt = field(default_factory=EdgeDoubt)
    walls: Walls = "radial"
    is_cut_told: bool = False
    kinds: Mapping[str, str] = field(default_factory=dict)  # what each port is for
    needs: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()  # what was taken from another map, in words
    stopped: str = ""  # why the maps cannot be laid over each other
    deck_cut: float = 0.0  # taken off the deck since the maps were made [m]
    skirt: float | None = None  # crown's edge to the skirt's lower edge, inlet side [m]


@dataclass(frozen=True)
class GrindEdge:
    """One edge of the list.

    Attributes
    ----------
    metal : EdgeMetal
        Metal at its stations, with the doubt of both outlines and of the pose.
    mean : float
        Metal along it; of corners the least of all four. [m]
    stop : float
        How much may be taken before it is measured again. [m]
    verdict : Verdict
        Whether metal is gone beyond what counts as none.
    state : str
        One of ``TAKE``, ``DONE``, ``LEAVE``, ``CLOSE``, ``GONE``.
    lacking : float | None
        Duration that the port lacks by it; roofs alone, where the crank is known. [rad]
    twin : tuple[str, float] | None
        The same edge of the port across the bore, and its metal, where this one is odd.
    line : float | None
        Depth of the stop line below the deck; roofs and floors alone. [m]
    beyond : float | None
        Of an edge that is cut too far: the overcut that no pose takes away. [m]
    top : float | None
        Of a roof: how far its highest point lies below where it is wanted. [m]
    kind : str
        What its port is for: one that the skirt opens is opened at its floor.
    """

    metal: EdgeMetal
    mean: float
    stop: float
    verdict: Verdict
    state: str
    lacking: float | None = None
    twin: tuple[str, float] | None = None
    line: float | None = None
    beyond: float | None = None
    top: float | None = None
    kind: str = ""

    @property
    def is_pocket(self) -> bool:
        """Whether metal that is gone there makes a pocket alone: a floor under the crown."""
        return self.metal.edge == "floor" and self.kind != PISTON_INLET

    @property
    def name(self) -> str:
        """What it is called: ``rear left roof``, ``exhaust left side``."""
        side = " side" if self.metal.edge in ("left", "right") else ""
        return f"{self.metal.port} {self.metal.edge}{side}"


@dataclass(frozen=True)
class GrindMap:
    """The maps as they lie, and the list, in the order in which it is worked off."""

    target: PortMap
    supplied: PortMap  # turned and lowered as it lies
    now: PortMap
    found: PortMap | None
    edges: tuple[GrindEdge, ...]
    areas: Mapping[str, MetalAreas]
    pose: PoseTold
    seam: float
    refused: tuple[str, ...] = ()  # new readings that cannot be, and were left out
    closed: tuple[Closing, ...] = ()  # new readings that would have put metal on
    sharp: tuple[str, ...] = ()  # ports of which a corner radius is not known

    def of(self, port: str, edge: str) -> GrindEdge | None:
        """The edge of a port; nothing where the list has none."""
        return next(
            (one for one in self.edges if (one.metal.port, one.metal.edge) == (port, edge)), None
        )
