"""Looking for the evidence of a hold: cells told, sets whole, verdicts good.

Each look notes the numbers of the records that it rests on, so that a hold that was lifted
can say whether something was told since.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sleevewright.jobs.catalog import StageGrid, field_of, grid_of_feature, port_names
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.life import is_ported
from sleevewright.jobs.records import Record
from sleevewright.jobs.sets import SetState, newest, places_of, reading_cell
from sleevewright.jobs.stagefield import YES

GOOD = "good"
FLANGED = "flanged"
FLANGE_FEATURES = ("flange-od", "flange-thickness")


@dataclass(frozen=True)
class Lack:
    """Why a hold is not met, and what would meet it, in the words of the bench."""

    why: str
    cure: str


@dataclass
class Asked:
    """A job asked for evidence: one cylinder, with the verdicts on it."""

    folded: Folded
    cylinder: int
    verdicts: Mapping[str, str]
    is_watched: bool = False  # whether the records that are looked at are noted
    seen: set[int] = field(default_factory=set)  # their numbers
    _sets: dict[tuple[str, str], SetState | None] = field(default_factory=dict)

    def heads(self, cell: str) -> tuple[Told, ...]:
        """What stands in a cell."""
        heads = self.folded.heads(cell, cylinder=self.cylinder)
        if self.is_watched:
            self.seen.update(one.number for one in heads)
        return heads

    def newest(self, feature: str, stage: str = "") -> SetState | None:
        """The newest set of a feature that counts; looked for once."""
        if (feature, stage) not in self._sets:
            found = newest(self.folded, feature, cylinder=self.cylinder, stage=stage)
            self._sets[feature, stage] = found
        return self._sets[feature, stage]

    def text(self, cell: str) -> str:
        """What stands in a cell; empty where nothing does or two values differ."""
        heads = self.heads(cell)
        return heads[0].text.strip() if len(heads) == 1 else ""

    def is_ticked(self, cell: str) -> bool:
        """Whether a tick is set."""
        return self.text(cell).lower() == YES

    def conflict(self, *cells: str) -> Iterator[Lack]:
        """A lack for each cell in which two different values stand."""
        for cell in cells:
            heads = self.heads(cell)
            if len(heads) > 1:
                said = " or ".join(sorted({one.text.strip() or "nothing" for one in heads}))
                title = title_of(cell)
                yield Lack(
                    f"two different values for {title}: {said}",
                    f"Say which stands for {title}: {said}",
                )

    def told(self, cell: str, why: str, cure: str) -> Iterator[Lack]:
        """A lack where nothing is told in a cell, or two different values are."""
        found = tuple(self.conflict(cell))
        yield from found
        if not found and not self.text(cell):
            yield Lack(why, cure)

    def ticked(self, cell: str, why: str, cure: str) -> Iterator[Lack]:
        """A lack where a tick is not set."""
        found = tuple(self.conflict(cell))
        yield from found
        if not found and not self.is_ticked(cell):
            yield Lack(why, cure)

    def gauged(self, feature: str, cure: str, *, stage: str = "") -> Iterator[Lack]:
        """Lacks of a set of readings: none, not whole, or with two values at a place."""
        state = self.newest(feature, stage)
        title = grid_title(feature, stage)
        if state is None:
            yield Lack(f"{title} is not gauged", cure)
            return
        self._see(state)
        if state.conflicts:
            count = _count(state.conflicts, "place")
            yield Lack(f"{title}: two different values at {count}", f"{title}: say which stands")
        elif state.left:
            yield Lack(
                f"{title}: {state.left} of {state.asked} not read",
                f"{cure}: {_count(state.left, 'reading')} to go",
            )
        elif not state.is_mostly_read:
            yield Lack(
                f"{title}: {_count(state.read, 'reading')} at {_count(state.asked, 'place')}",
                f"{cure}: read at least half of the places",
            )
        elif not state.is_full:
            asked = _grid_in_words(*state.least)
            yield Lack(f"{title}: read at fewer than {asked}", f"{cure}: at least {asked}")

    def is_begun(self, feature: str, *, stage: str = "") -> bool:
        """Whether anything was read of a feature."""
        return self.newest(feature, stage) is not None

    def judged(self, answer: str, what: str, cure: str) -> Iterator[Lack]:
        """A lack where a verdict is not good, or not there."""
        said = self.verdicts.get(answer, "")
        if not said:
            yield Lack(f"{what}: not worked out yet", f"Wait until it is worked out: {what}")
        elif said != GOOD:
            yield Lack(f"{what}: {said}", cure)

    def _see(self, state: SetState) -> None:
        """Note the records of a set."""
        if not self.is_watched:
            return
        self.seen.add(state.record.number)
        name, cylinder = str(state.record.body["set"]), state.record.cylinder
        for row, column in places_of(state.record.body):
            heads = self.folded.heads(reading_cell(name, row, column), cylinder=cylinder)
            self.seen.update(one.number for one in heads)

    def events(self, *what: str) -> tuple[Record, ...]:
        """What happened to this cylinder, of these kinds."""
        return tuple(
            record
            for record in self.folded.events
            if record.body.get("what") in what and record.cylinder in (0, self.cylinder)
        )

    @property
    def is_ported(self) -> bool:
        """Whether the cylinder has ports."""
        return is_ported(self.folded)

    @property
    def flange(self) -> str:
        """``flanged`` or ``plain``, as far as it is told; else empty."""
        said = self.text("sleeve.flange")
        if said:
            return said
        if any(map(self.newest, FLANGE_FEATURES)) or self.text("sleeve.flange_diameter"):
            return FLANGED
        return ""

    @property
    def ports(self) -> tuple[str, ...]:
        """Names of the ports."""
        return port_names(self.folded, cylinder=self.cylinder)


def title_of(cell: str) -> str:
    """What a cell is called at the bench."""
    known = field_of(cell)
    if known is None:
        return cell
    title = known.title[:1].lower() + known.title[1:]
    return f"{title}, {cell.split('/')[1]}" if cell.startswith("port/") else title


def grid_title(feature: str, stage: str = "") -> str:
    """What a set of readings is called at the bench."""
    grid: StageGrid | None = grid_of_feature(feature, stage=stage)
    return feature if grid is None else grid.title


def _grid_in_words(depths: int, directions: int) -> str:
    """The least of a grid, as it is said at the bench."""
    if depths == 1:
        return f"{directions} places"
    return f"{depths} depths with {directions} directions at each"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
