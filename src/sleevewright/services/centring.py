"""Use case: what was told of how a cylinder was centred, for the concentricity chain."""

from __future__ import annotations

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO
from sleevewright.jobs.model import Entry
from sleevewright.planning.concentric import ChainTold

BY_DATUM = "the datum"
AGAIN = "set up again"


def centring_of(folded: Folded, *, cylinder: int = 1) -> ChainTold:
    """What stands in the cells of one cylinder that the chain is made of."""

    def entry(cell: str, key: str, scale: float) -> Entry | None:
        told = folded.value(cell, cylinder=cylinder)
        value = None if told is None else told.body.get(key)
        if told is None or isinstance(value, bool) or not isinstance(value, int | float):
            return None
        return Entry(value * scale, told.text, told.kind)

    return ChainTold(
        variation=entry("sleeve.wall_variation", "nm", NANO),
        centred_by_datum=folded.text("piston.centred_by", cylinder=cylinder) == BY_DATUM,
        moves=entry("piston.moves", "si", 1.0),
        left=entry("piston.off", "nm", NANO),
        counterbore_again=folded.text("counterbore.setting", cylinder=cylinder) == AGAIN,
    )
