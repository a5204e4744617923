"""Use case: what ring pegs leave of the turns of a sleeve, and the pegs that no clocking helps."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.ports.clocking import Turns
from sleevewright.core.ports.clocklimits import PegNear, allowed_turns, peg_turns, pegs_near
from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog_maps import COUNTER
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import ledger_of
from sleevewright.services.cut_told import CutTold


@dataclass(frozen=True)
class RingPegs:
    """Ring pegs of a cylinder with what their rings ask for.

    Attributes
    ----------
    numbers : tuple[str, ...]
        How each is named.
    angles : tuple[float, ...]
        Where each lies, clockwise seen from the deck. [rad]
    room, gap : float
        Wall that a ring end wants beside an edge, and the widest gap of a ring. [m]
    """

    numbers: tuple[str, ...] = ()
    angles: tuple[float, ...] = ()
    room: float = 0.0
    gap: float = 0.0

    def near(self, ports: PortMap | None) -> tuple[PegNear, ...]:
        """Pegs that are too close to a window of a map, where its angles are known."""
        if ports is None or not ports.is_placed:
            return ()
        return pegs_near(ports, self.angles, room=self.room, gap=self.gap)

    def left_of(
        self, run: tuple[float, float], sleeve: PortMap | None, helpless: tuple[PegNear, ...]
    ) -> Turns:
        """Turns of a run that the pegs leave; pegs that no clocking helps forbid none."""
        if sleeve is None or not sleeve.is_placed or not self.angles:
            return (run,)
        barred = peg_turns(
            sleeve,
            self.angles,
            room=self.room,
            diameter=sleeve.diameter,
            gap=self.gap,
            helpless=helpless,
        )
        return allowed_turns(*run, barred)

    def named(self, near: tuple[PegNear, ...]) -> tuple[tuple[str, str, float], ...]:
        """Number of the peg, name of the port and wall between them, of each that is near."""
        return tuple((self.numbers[one.peg], one.port, one.wall) for one in near)


def pegs_told(plan: Plan, told: CutTold) -> RingPegs:
    """Pegs of the rings as they were told, the same way round as the map as found."""
    sign = -1.0 if told.text("ports.found.round") == COUNTER else 1.0
    angles = {one: told.number(f"rings.peg/{one}/angle") for one in told.rows("rings.peg/")}
    known = {one: sign * angle for one, angle in angles.items() if angle is not None}
    gaps = [told.length(f"rings.{ring}_gap") for ring in ("top", "second")]
    gap = max((one.value for one in gaps if one is not None), default=0.0)
    room = ledger_of(plan).default("ring_end_room").value
    return RingPegs(tuple(known), tuple(known.values()), room, gap)
