"""What the parts of the stages that cut may read: the job, its records, the shop."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO, grid_of, instruments_of
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.shop import Shop


@dataclass(frozen=True)
class CutTold:
    """Everything that a part may read: the job, its records, one cylinder and the shop."""

    job: Job
    folded: Folded
    cylinder: int
    shop: Shop

    def length(self, cell: str) -> Entry | None:
        """A length that was told in a cell; nothing where there is none."""
        told = self.folded.value(cell, cylinder=self.cylinder)
        nm = None if told is None else told.body.get("nm")
        if told is None or not isinstance(nm, int):
            return None
        return Entry(nm * NANO, told.text, told.kind)

    def text(self, cell: str) -> str:
        """What was told in a cell of words; empty where there is nothing."""
        return self.folded.text(cell, cylinder=self.cylinder)

    def number(self, cell: str) -> float | None:
        """What was told in a cell that holds no length, in SI; nothing where there is none."""
        told = self.folded.value(cell, cylinder=self.cylinder)
        body = {} if told is None else told.body
        si, milli = body.get("si"), body.get("mk")
        if isinstance(milli, int):
            return milli * 1e-3
        return float(si) if isinstance(si, int | float) else None

    def gauged(self, feature: str, stage: str = "") -> Gauged:
        """The newest set of a feature with the gauges that read it."""
        grid = grid_of(self.folded, feature, cylinder=self.cylinder, stage=stage)
        gauges = instruments_of(self.folded, feature, cylinder=self.cylinder, stage=stage)
        return Gauged(grid, gauges)

    def rows(self, start: str) -> tuple[str, ...]:
        """Numbers of the rows that were told under a beginning such as ``parent.pass/``."""
        cells = self.folded.cells(start, cylinder=self.cylinder)
        found = {one.removeprefix(start).partition("/")[0] for one in cells}
        return tuple(sorted(found, key=lambda one: (len(one), one)))
