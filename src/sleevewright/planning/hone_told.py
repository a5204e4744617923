"""What a stage that hones was told: passes, a reading while warm, stones, ports."""

from __future__ import annotations

from dataclasses import dataclass, field

from sleevewright.jobs.model import Entry, Part
from sleevewright.planning.proofing import Gauged

FIT, PISTON = "honefit", "hone"
"""The stages that hone: the parent bore to its fit, the sleeve to its piston."""

TITLES = {FIT: "Hone to fit", PISTON: "Hone to piston"}


@dataclass(frozen=True)
class HonePass:
    """One pass as it was told: strokes, what they took on the diameter, the grit."""

    name: str
    strokes: Entry | None = None
    taken: Entry | None = None
    grit: float | None = None

    @property
    def is_whole(self) -> bool:
        """Whether both were told, so that it teaches a rate."""
        return self.strokes is not None and self.taken is not None


@dataclass(frozen=True)
class TallestPort:
    """The port that stones dip into first."""

    name: str
    height: float


@dataclass(frozen=True)
class HoneTold:
    """Everything that one stage of honing reads beside the plan."""

    key: str
    casting: Part = field(default_factory=Part)
    sleeve: Part = field(default_factory=Part)
    passes: tuple[HonePass, ...] = ()
    since: tuple[HonePass, ...] = ()  # of these, told after the bore was gauged last
    ungauged: tuple[str, ...] = ()  # passes since then of which nobody knows what they took
    is_stale: bool = False  # whether the temperature is older than the reading before this one
    now: Entry | None = None  # one reading, where it is newer than the set
    part_at: Entry | None = None
    gauge_at: Entry | None = None
    gauged: Gauged = field(default_factory=Gauged)  # the newest set of this stage
    as_bored: Gauged = field(default_factory=Gauged)  # the newest set before it
    stone: Entry | None = None
    overrun: Entry | None = None
    room_below: Entry | None = None
    roughness: Entry | None = None
    rings: str = ""
    stones_grit: float | None = None  # the first grit in what was told of the stones
    port: TallestPort | None = None
    unchamfered: tuple[str, ...] = ()

    @property
    def metal(self) -> str:
        """Metal that is honed, as the tables of grits know it."""
        is_iron = "iron" in self.casting.material or "steel" in self.casting.material
        return "iron" if self.key == PISTON or is_iron else "aluminium"

    @property
    def is_told(self) -> bool:
        """Whether anything of this stage was told at all."""
        sets = (self.gauged.grid, self.as_bored.grid)
        told = (self.now, self.stone, self.overrun, self.roughness, *sets)
        return bool(self.passes) or any(one is not None for one in told)

    def named(self, identity: str) -> str:
        """An id under this stage."""
        return f"{self.key}.{identity}"
