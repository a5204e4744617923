"""What was told of a casting while it cools, as the planner takes it: SI, plain records."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from sleevewright.core.heat.cooling_fit import CoolingReading
from sleevewright.jobs.model import Entry, Part


@dataclass(frozen=True)
class HeldDown:
    """What keeps the flange down."""

    with_what: str = ""
    stud: str = ""
    studs: float | None = None
    free: Entry | None = None
    engaged: Entry | None = None
    torque: float | None = None


@dataclass(frozen=True)
class CoolingTold:
    """Everything of the stage that its answers rest on."""

    casting: Part
    sleeve: Part = field(default_factory=Part)
    readings: tuple[CoolingReading, ...] = ()
    sleeve_last: float | None = None  # the sleeve, read beside the newest of the casting [K]
    begun: datetime | None = None  # when it was seated, in the time of the bench
    happened: tuple[str, ...] = ()  # what happened at drop and cool, in order
    stands_on: str = ""
    air: str = ""
    is_pressed: bool = False
    has_flange: bool = True
    held: HeldDown = field(default_factory=HeldDown)
    unclamped_at: float | None = None
    bore_at: float | None = None  # the part while the cooled bore was gauged

    @property
    def last(self) -> CoolingReading | None:
        """The newest temperature of the casting."""
        return max(self.readings, key=lambda one: one.time, default=None)

    @property
    def is_down(self) -> bool:
        """Whether the sleeve is in."""
        return bool({"in", "seated", "gripped", "unclamped", "measured"} & set(self.happened))

    def at(self, seconds: float) -> str:
        """A time since the drop as the clock of the bench has it; empty where none began."""
        if self.begun is None:
            return ""
        return f"{self.begun + timedelta(seconds=seconds):%H:%M}"
