"""Looking for the evidence of a hold: cells told, sets whole, verdicts good.

Each look notes the numbers of the records that it rests on, so that a hold that was lifted
can say whether something was told since.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sleevewright.jobs.catalog import StageGrid, field_of, grid_of_feature, port_names
from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.life import is_ported
from sleevewright.jobs.records import Record
from sleevewright.jobs.restson import RESTS_ON, RestsOn
from sleevewright.jobs.sets import SetState, newest, places_of, reading_cell, sets_of
from sleevewright.jobs.stagefield import YES

GOOD = "good"
HELD_BACK = "a reading was held back"
"""Stands for a verdict that was made without a reading that is not like its neighbours."""
TO_COME = "to come"
"""Stands for a verdict on the next pass of a bar or a hone: the plan has one more."""
LEAST_LETTERS = 8
LEAST_WORDS = 2
REFUSED = "cannot be proved"
"""Words of a proof that is refused: before and after were not gauged alike."""
FLANGED = "flanged"
FLANGE_FEATURES = ("flange-od", "flange-thickness")


@dataclass(frozen=True)
class Lack:
    """Why a hold is not met, and what would meet it, in the words of the bench."""

    why: str
    cure: str
    device: str = ""  # key of the device that it is about; a page may say its name


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
        self._see_sets(feature)
        if state is None:
            yield Lack(f"{title} is not gauged", cure)
        elif state.conflicts:
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
        elif state.is_zero_open:
            yield Lack(
                f"{title}: the zero at the end is not checked",
                f"{title}: put the gauge on its master again, and tell its zero at the end",
            )

    def not_bored_since(self, cure: str, *, stage: str = "") -> Iterator[Lack]:
        """A lack where the parent bore was read again after the full grid of a stage.

        The plan judges what was read last; a hold that asks for the full grid is not met by
        a verdict on anything else.
        """
        full = self.newest("parent-bore", stage)
        if full is None:
            return
        begun, title = full.record.number, grid_title("parent-bore", stage)
        newer = self.newest("parent-bore")
        is_again = newer is not None and newer.record.number > begun
        if is_again or self._last_pass() > begun:
            yield Lack(f"{title}: bored since", cure)

    def goes_on(self, answer: str, cells: str, feature: str, *, stage: str = "") -> bool:
        """Whether passes were told after the newest set of a feature, and one more is to come.

        That one is to come only the plan knows: it is handed in as a verdict.
        """
        if self.verdicts.get(answer) != TO_COME:
            return False
        full = self.newest(feature, stage)
        begun = 0 if full is None else full.record.number
        told = self.folded.cells(cells, cylinder=self.cylinder)
        rows = (head.number for cell in told for head in self.heads(cell) if head.text.strip())
        last = self._last_pass() if feature == "parent-bore" and not stage else 0
        return max((last, *rows)) > begun

    def _last_pass(self) -> int:
        """Number of the record that told a pass last; putting one right is no new pass."""
        firsts = [0]
        for record in sets_of(self.folded, "parent-pass", cylinder=self.cylinder):
            name = str(record.body["set"])
            for row, column in places_of(record.body):
                told = self.folded.history(
                    reading_cell(name, row, column), cylinder=record.cylinder
                )
                firsts += [one.number for one in told if one.text.strip() not in BLANKS][:1]
        return max(firsts)

    def is_begun(self, feature: str, *, stage: str = "") -> bool:
        """Whether anything was read of a feature."""
        return self.newest(feature, stage) is not None

    def judged(self, answer: str, what: str, cure: str) -> Iterator[Lack]:
        """A lack where a verdict is not good, or not there."""
        said = self.verdicts.get(answer, "")
        self._see_basis(answer)
        if not said:
            yield Lack(f"{what}: not worked out yet", f"Wait until it is worked out: {what}")
        elif said == HELD_BACK:
            yield Lack(f"{what}: {said}", "Take again the reading that was held back")
        elif said != GOOD:
            yield Lack(f"{what}: {said}", cure)

    def _see_basis(self, answer: str) -> None:
        """Note the records that a verdict rests on."""
        basis = RESTS_ON.get(answer, RestsOn())
        if not self.is_watched:
            return
        for feature in basis.features:
            self._see_sets(feature)
        for start in basis.cells:
            for cell in self.folded.cells(start, cylinder=self.cylinder):
                self.heads(cell)

    def _see_sets(self, feature: str) -> None:
        """Note the records of all sets of a feature: a later one, or a void, changes it too."""
        if not self.is_watched:
            return
        for name, record in self.folded.sets.items():
            if record.body.get("feature") != feature or record.cylinder not in (0, self.cylinder):
                continue
            self.seen.add(record.number)
            for cell in self.folded.cells(f"set/{name}/", cylinder=record.cylinder):
                heads = self.folded.heads(cell, cylinder=record.cylinder)
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


def is_reason(text: str) -> bool:
    """Whether a reason says anything to who reads it in a year."""
    words = text.split()
    return len(words) >= LEAST_WORDS and len(" ".join(words)) >= LEAST_LETTERS


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
