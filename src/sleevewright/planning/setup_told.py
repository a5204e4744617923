"""What a set-up is answered from: its sweeps, and what was told beside them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.metrology.harmonics import EVERY_FORM
from sleevewright.core.metrology.setup import OneSweep, TwoSweeps, both_swept, swept
from sleevewright.core.metrology.shims import Stud
from sleevewright.core.metrology.sweep import Mount, Sense, lever_reading
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry, Grid
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.proofing import Gauged, reading_doubt

NEED_BOTH = "a sweep of the casting at two depths"
NEED_ONE = "a sweep of the casting"
OLDER = "it is from before the other depth was swept anew"


@dataclass(frozen=True)
class SetUpSets:
    """Sweeps of a casting as they were gauged: the newest, and those before them.

    ``stale`` is the depth whose newest sweep is older than a sweep that was repeated at the
    other one: the casting may have been moved or shimmed between them.
    """

    top: Gauged = field(default_factory=Gauged)
    bottom: Gauged = field(default_factory=Gauged)
    base: Gauged = field(default_factory=Gauged)
    top_before: Gauged = field(default_factory=Gauged)
    bottom_before: Gauged = field(default_factory=Gauged)
    stale: str = ""  # "top", "bottom" or nothing


@dataclass(frozen=True)
class SetUpTold:
    """Words and figures of the stage by the end of their cells, and where the studs are."""

    words: Mapping[str, str] = field(default_factory=dict)
    figures: Mapping[str, Entry] = field(default_factory=dict)
    studs: tuple[Stud, ...] = ()

    def word(self, name: str, usual: str) -> str:
        """What was chosen, or what is usual."""
        return self.words.get(name) or usual

    def figure(self, name: str) -> Entry | None:
        """A figure that was told; nothing where none was."""
        return self.figures.get(name)

    def value(self, name: str, usual: float) -> float:
        """A figure in SI, or what is usual."""
        told = self.figure(name)
        return usual if told is None else told.value

    @property
    def mount(self) -> Mount:
        """What turned."""
        return Mount.TABLE if self.word("turns", "") == Mount.TABLE.value else Mount.SPINDLE

    @property
    def sense(self) -> Sense:
        """Which way round angles are counted."""
        clockwise = self.word("counted", "") == Sense.CLOCKWISE.value
        return Sense.CLOCKWISE if clockwise else Sense.COUNTER

    @property
    def lever(self) -> float:
        """Angle between the lever and the wall."""
        return self.value("lever", 0.0)


@dataclass(frozen=True)
class Taken:
    """A sweep that can be taken apart, or why it cannot."""

    sweep: OneSweep | None = None
    depth: float | None = None
    indicator: str = ""
    why: str = ""


def lever_share(ledger: Ledger, angle: float) -> float:
    """Relative doubt from the angle of the lever, which is taken by eye."""
    return math.tan(angle) * ledger.default("lever_doubt").value if angle else 0.0


def taken(ledger: Ledger, gauged: Gauged, told: SetUpTold) -> Taken:
    """A set as a sweep in SI, the angle of the lever allowed for."""
    grid = gauged.grid
    if grid is None or not grid.readings:
        return Taken()
    angles = tuple(one.value for one in grid.directions)
    if len(angles) < 3:
        return Taken(why="it was read in fewer than three directions")
    read = tuple(math.nan if cell is None else cell.value for cell in grid.readings[0])
    share = float(lever_reading(1.0, angle=told.lever))
    one = OneSweep(
        angles,
        tuple(share * reading for reading in read),
        told.mount,
        told.sense,
        share * reading_doubt(ledger, gauged, "indicator_setting"),
    )
    try:
        swept(sweep=one)
    except InputError as error:
        return Taken(why=str(error))
    return Taken(one, _depth(grid), grid.instrument)


def both_taken(ledger: Ledger, sets: SetUpSets, told: SetUpTold) -> dict[str, Taken]:
    """The sweeps at both depths; of one that is stale, that it is to be swept again."""
    found = {"top": taken(ledger, sets.top, told), "bottom": taken(ledger, sets.bottom, told)}
    if sets.stale:
        where = "at the top" if sets.stale == "top" else "near the bottom"
        found[sets.stale] = Taken(why=f"sweep {where} again too, {OLDER}")
    return found


def _depth(grid: Grid) -> float | None:
    """Depth of a sweep's first row; nothing where it was not told."""
    return grid.stations[0].value if grid.stations else None


def paired(upper: Taken, lower: Taken) -> tuple[TwoSweeps | None, str]:
    """Both sweeps as one record, or what to give so that they can be taken together."""
    why = next((one.why for one in (upper, lower) if one.why), "")
    if upper.sweep is None or lower.sweep is None:
        return None, f"{NEED_BOTH}: {why}" if why else NEED_BOTH
    apart = abs((lower.depth or 0.0) - (upper.depth or 0.0))
    if upper.depth is None or lower.depth is None or not apart:
        return None, f"{NEED_BOTH}; say both depths, and not the same"
    made = TwoSweeps(
        upper.sweep.angles,
        upper.sweep.readings,
        lower.sweep.readings,
        apart,
        upper.sweep.mount,
        upper.sweep.sense,
        lower.sweep.angles,
        (upper.sweep.standard, lower.sweep.standard),
        (upper.indicator, lower.indicator),
    )
    try:
        both_swept(made)
    except InputError as error:
        return None, f"{NEED_BOTH}, with one indicator: {error}"
    return made, NEED_BOTH


def hides_lobes(sweep: OneSweep) -> bool:
    """Whether three lobes would look like an offset: too few places were read."""
    return swept(sweep=sweep).places < EVERY_FORM
