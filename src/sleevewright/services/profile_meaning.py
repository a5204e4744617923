"""Use case: what the parameters of a profile mean for a wall that is named, as the page says."""

from __future__ import annotations

from sleevewright.errors import InputError
from sleevewright.planning.answers import Verdict
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.surface import WALL_OF, Surface, enter_surface
from sleevewright.services.profiles import WorkedProfile

WALLS = {**WALL_OF, "any rings": "any", "parent bore": "parent"}
"""What runs on the wall, as it is named, and its row of the table of usual ranges."""

FEW_DRAWS = 200
"""A verdict here draws nothing; the ledger asks for a count."""


def meaning_lines(found: WorkedProfile, wall: str) -> tuple[str, ...]:
    """A line for each parameter with a usual range: as usual, or what is off and what to do."""
    if wall not in WALLS:
        raise InputError("for", wall, "", ", ".join(WALLS))
    heights, curve = found.heights, found.curve
    read = {
        "Ra": heights.mean, "Rz": heights.peak_to_valley, "Rk": curve.core, "Rpk": curve.peaks,
        "Rvk": curve.valleys, "Mr1": curve.peak_ratio, "Mr2": curve.valley_ratio,
    }  # fmt: skip
    ledger = Ledger(count=FEW_DRAWS, seed=1)
    enter_surface(ledger, Surface("wall", WALLS[wall], {one: float(read[one]) for one in read}))
    lines = [f"for {wall}, by ranges of common practice; a ring maker's own go before them:"]
    for entry in ledger.result().entries:
        said = entry.answer.judgement
        if said is None:
            continue
        usual = entry.answer.of.partition(";")[0]
        if said.verdict is Verdict.GOOD:
            lines.append(f"{entry.answer.label}: good; {usual}")
        else:
            meant = f"; {said.remedy}" if said.remedy else ""
            lines.append(f"{entry.answer.label}: {said.verdict.value}; {usual}{meant}")
    return tuple(lines)
