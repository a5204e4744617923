"""What a set-up is answered from, gathered from the records of a cylinder."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.metrology.shims import Stud
from sleevewright.core.metrology.sweep import place_sign
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO, grid_before, grid_of, instruments_of
from sleevewright.jobs.model import Entry
from sleevewright.jobs.sets import sets_of, state_of
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.setup_told import SetUpSets, SetUpTold

WORDS = ("turns", "counted", "plus_x", "plus_y", "centred_on", "came")
FIGURES = (
    "lever",
    "swing",
    "pair_at",
    "pair_here",
    "pair_opposite",
    "backlash",
    "dial_x",
    "dial_y",
    "moved_x",
    "moved_y",
    "repeats",
    "span",
    "base_radius",
)
STUD = "setup.stud/"


def setup_sets(folded: Folded, cylinder: int) -> SetUpSets:
    """The newest sweeps of a casting, and those before them."""

    def now(feature: str) -> Gauged:
        return Gauged(
            grid_of(folded, feature, cylinder=cylinder),
            instruments_of(folded, feature, cylinder=cylinder),
        )

    def before(feature: str) -> Gauged:
        return Gauged(*grid_before(folded, feature, cylinder=cylinder))

    return SetUpSets(
        now("sweep-top"),
        now("sweep-bottom"),
        now("sweep-base"),
        before("sweep-top"),
        before("sweep-bottom"),
        stale_of(folded, cylinder),
    )


def stale_of(folded: Folded, cylinder: int) -> str:
    """The depth that was not swept again after the other one was; empty where none is.

    A sweep of a depth that both depths had been swept before begins a new round: the casting
    may have been moved or shimmed between.
    """
    taken = sorted(
        (record.number, which)
        for which in ("top", "bottom")
        for record in sets_of(folded, f"sweep-{which}", cylinder=cylinder)
        if state_of(folded, record).read
    )
    in_round: set[str] = set()
    for _, which in taken:
        in_round = {which} if len(in_round) == 2 else in_round | {which}
    missing = {which for _, which in taken} - in_round
    return missing.pop() if missing else ""


def setup_told(folded: Folded, cylinder: int) -> SetUpTold:
    """Words and figures of the stage, and where the studs are."""
    words = {name: folded.text(f"setup.{name}", cylinder=cylinder).strip() for name in WORDS}
    figures = {name: figure_of(folded, f"setup.{name}", cylinder) for name in FIGURES}
    told = SetUpTold(words, {name: one for name, one in figures.items() if one is not None})
    sign = place_sign(mount=told.mount, sense=told.sense)
    return replace(told, studs=_studs(folded, cylinder, sign))


def figure_of(folded: Folded, cell: str, cylinder: int) -> Entry | None:
    """A length or an angle that was told; nothing where none was."""
    told = folded.value(cell, cylinder=cylinder)
    if told is None:
        return None
    nm, si = told.body.get("nm"), told.body.get("si")
    if isinstance(nm, int):
        return Entry(nm * NANO, told.text, told.kind)
    return Entry(float(si), told.text, told.kind) if isinstance(si, float | int) else None


def _studs(folded: Folded, cylinder: int, sign: float) -> tuple[Stud, ...]:
    """Studs of which angle and radius were told, by their number, where they stand on the bore."""
    numbers = {
        cell.removeprefix(STUD).partition("/")[0] for cell in folded.cells(STUD, cylinder=cylinder)
    }
    found = []
    for number in sorted(numbers, key=int):
        angle = figure_of(folded, f"{STUD}{number}/angle", cylinder)
        radius = figure_of(folded, f"{STUD}{number}/radius", cylinder)
        if angle is not None and radius is not None and radius.value > 0.0:
            found.append(Stud(number, sign * angle.value, radius.value))
    return tuple(found)
