"""What the grind list rests on: the maps, how the sleeve lies, what was measured since."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.ports.grinding import EdgeMetal
from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.overlap import MetalAreas
from sleevewright.core.ports.residual import Walls
from sleevewright.jobs.catalog_maps import PARALLEL_CUT, RADIAL_CUT
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
    """

    turn: float = 0.0
    down: float = 0.0
    side: float = 0.0
    deep: float = 0.0
    words: str = ""
    is_set: bool = False
    deeper: float = 0.0


@dataclass(frozen=True)
class LeftPort:
    """What was measured of a port since it was ground: some edges, or all of it.

    ``width`` is along the wall; without ``middle`` nobody said at which side it was ground.
    """

    roof: float | None = None
    floor: float | None = None
    width: float | None = None
    middle: float | None = None
    whole: MappedPort | None = None

    @property
    def is_told(self) -> bool:
        """Whether anything was measured."""
        return any(one is not None for one in (self.roof, self.floor, self.width, self.whole))


@dataclass(frozen=True)
class GrindTold:
    """Everything that the grind list reads."""

    target: PortMap | None = None
    supplied: PortMap | None = None
    found: PortMap | None = None
    cast: PortMap | None = None
    pose: PoseTold = PoseTold()
    left: Mapping[str, LeftPort] = field(default_factory=dict)
    left_doubt: EdgeDoubt = field(default_factory=EdgeDoubt)
    walls: Walls = "radial"
    is_cut_told: bool = False
    kinds: Mapping[str, str] = field(default_factory=dict)  # what each port is for
    needs: tuple[str, ...] = ()
    stopped: str = ""  # why the maps cannot be laid over each other
    deck_cut: float = 0.0  # taken off the deck since the maps were made [m]


@dataclass(frozen=True)
class GrindEdge:
    """One edge of the list.

    Attributes
    ----------
    metal : EdgeMetal
        Metal at its stations, with the doubt of both outlines and of the pose.
    mean : float
        Metal along it. [m]
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

    def of(self, port: str, edge: str) -> GrindEdge | None:
        """The edge of a port; nothing where the list has none."""
        return next(
            (one for one in self.edges if (one.metal.port, one.metal.edge) == (port, edge)), None
        )
