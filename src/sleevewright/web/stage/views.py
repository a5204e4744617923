"""What the templates of the stage pages are handed: records of words, cells and figures."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field

from markupsafe import Markup

from sleevewright.errors import Caution
from sleevewright.web.stage.doors import Door, doors_of
from sleevewright.web.stage.said import SaysView
from sleevewright.web.stage.setting import MasterChoice


@dataclass(frozen=True)
class RivalView:
    """One of several values that stand for a cell."""

    id: str
    text: str
    by: str


def conflict_of(rivals: tuple[RivalView, ...]) -> str:
    """Values that contradict each other as JSON; empty where there are none."""
    return json.dumps([asdict(one) for one in rivals]) if rivals else ""


@dataclass(frozen=True)
class AskView:
    """One cell with what stands in it."""

    cell: str
    key: str  # for ids of the page
    cylinder: int
    title: str
    doc: str
    sort: str
    example: str
    kind: str
    dimension: str = ""
    unit: str = ""
    low: str = ""
    high: str = ""
    allowed: tuple[str, ...] = ()
    span_words: str = ""  # what a number may be, in the unit in which it is usually told
    text: str = ""
    ids: tuple[str, ...] = ()
    rivals: tuple[RivalView, ...] = ()
    problem: str = ""  # why what stands here was not taken into the plan
    told: str = ""  # by whom and when, in a few words
    is_simple: bool = False
    is_shared: bool = False  # by all cylinders of a job that has several

    @property
    def conflict(self) -> str:
        """The values that contradict each other, as the page's entry takes them."""
        return conflict_of(self.rivals)


@dataclass(frozen=True)
class RowsView:
    """Cells that there are several of: a row for each port, island, pass or log line."""

    key: str
    title: str
    heading: str  # of the first column
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[AskView, ...]], ...]
    adds_name: bool = False  # a new row is named (ports), not counted


@dataclass(frozen=True)
class CellView:
    """One place of a set of readings."""

    cell: str
    label: str
    is_land: bool = False  # a port: nothing is read here
    text: str = ""
    size: str = ""
    ids: tuple[str, ...] = ()
    rivals: tuple[RivalView, ...] = ()

    @property
    def conflict(self) -> str:
        """The values that contradict each other, as the page's entry takes them."""
        return conflict_of(self.rivals)


@dataclass(frozen=True)
class ReadingRow:
    """One station of a set."""

    figure: str
    unit: str
    cells: tuple[CellView, ...]


@dataclass(frozen=True)
class SetView:
    """A set of readings as a table."""

    name: str
    feature: str
    title: str
    sense: str
    instrument: str
    unit: str
    nominal: str
    nominal_nm: str
    entry: str
    is_around_zero: bool  # readings without a nominal, as a sweep or a stand-out
    last_digits: str
    low: str
    high: str
    allowed: str
    doubt_nm: str
    turn_nm: str
    turn_words: str
    directions: tuple[str, ...]
    rows: tuple[ReadingRow, ...]
    zeros: tuple[CellView, ...]
    void: AskView
    void_words: str  # why it does not count; empty where it does
    read: int
    to_read: int
    started: str
    picture: Markup | None
    last: CellView | None = None
    sign: str = ""  # which way the dial runs, as it was told
    dial: str = ""  # the same in words; empty where nothing compares
    setting: tuple[str, ...] = ()  # how the gauge was set, in words
    before_nm: str = ""  # the bore before its first pass; empty where that is not known

    @property
    def is_void(self) -> bool:
        """Whether it no longer counts: voided in words, or by its own zero checks."""
        return bool(self.void_words)


@dataclass(frozen=True)
class Preset:
    """A usual layout of stations and directions."""

    words: str
    stations: str
    directions: str


@dataclass(frozen=True)
class InstrumentChoice:
    """A gauge that a set can be read with."""

    name: str
    words: str
    carried: str  # the snapshot that its readings carry
    kind: str = ""


@dataclass(frozen=True)
class NewSetView:
    """What a new set of readings starts from."""

    feature: str
    title: str
    doc: str
    sense: str
    nominal: str
    unit: str
    stations: str
    directions: str
    presets: tuple[Preset, ...]
    instruments: tuple[InstrumentChoice, ...]
    instrument: str
    ports: tuple[str, ...]
    is_deviation: bool
    open_at_once: bool
    one_a_pass: bool = False
    masters: tuple[MasterChoice, ...] = ()
    example: str = ""  # a size of such a feature, in the units of the job

    @property
    def carried(self) -> str:
        """What the chosen gauge's readings carry of it."""
        found = (one.carried for one in self.instruments if one.name == self.instrument)
        return next(found, "[]")


@dataclass(frozen=True)
class GridView:
    """A feature that is gauged: its sets, the last first, and the way to a new one."""

    feature: str
    title: str
    doc: str
    current: SetView | None
    older: tuple[SetView, ...]
    new: NewSetView


@dataclass(frozen=True)
class LackView:
    """Why a hold is not met, and what would meet it."""

    why: str
    cure: str


@dataclass(frozen=True)
class HoldView:
    """The hold at the end of a stage."""

    stage: str
    title: str
    words: str
    state: str  # met, not met, lifted or none
    lacks: tuple[LackView, ...] = ()
    by: str = ""
    reason: str = ""
    when: str = ""
    was_told_since: bool = False  # something that it rests on, after it was lifted


@dataclass(frozen=True)
class ClosedView:
    """Why a stage is not to be worked at yet: the first hold before it that is open."""

    title: str
    why: str
    cure: str
    href: str


@dataclass(frozen=True)
class StepView:
    """One mark of the route rule."""

    key: str
    title: str
    state: str  # done, now or ahead
    hold: str  # words of the hold; empty where there is none
    hold_state: str
    href: str
    is_shown: bool


@dataclass(frozen=True)
class EventView:
    """Something that happened."""

    what: str
    words: str
    when: str


@dataclass(frozen=True)
class EventPress:
    """One press for something that happens now."""

    what: str
    words: str
    result: str = ""


@dataclass(frozen=True)
class AttachedView:
    """A photo or scan."""

    href: str
    name: str
    caption: str
    size: str
    when: str
    is_picture: bool


@dataclass(frozen=True)
class CylinderView:
    """One of the cylinders to switch between."""

    number: int
    words: str
    href: str
    is_shown: bool


@dataclass(frozen=True)
class NextView:
    """The one next action and where it leads."""

    words: str
    href: str
    waits_for: str
    since: str
    turn: str


@dataclass(frozen=True)
class PictureView:
    """A finished picture with its title."""

    title: str
    picture: Markup
    is_last: bool = False  # after the figures, not before them


@dataclass(frozen=True)
class PersonChoice:
    """Somebody who may sign."""

    key: str
    name: str


@dataclass(frozen=True)
class LiftedView:
    """A hold that was lifted in writing; it shows for ever."""

    stage: str
    by: str
    reason: str
    when: str


@dataclass(frozen=True)
class MissingView:
    """What one device has counted and not handed in."""

    device: str
    name: str
    count: int


@dataclass(frozen=True)
class MemoryView:
    """The short line of how jobs like this one came out, and where it is told in full."""

    words: str
    href: str


@dataclass(frozen=True)
class StagePage:
    """Everything that a stage's page shows."""

    number: str
    cylinder: int
    title: str
    invented: bool
    units: str
    store: str
    last: int
    stage: str
    stage_title: str
    part: str  # template that stands in place of the plain order
    steps: tuple[StepView, ...]
    cylinders: tuple[CylinderView, ...]
    grids: tuple[GridView, ...]
    first: tuple[AskView, ...]
    more: tuple[AskView, ...]
    rows: tuple[RowsView, ...]
    ticks: tuple[AskView, ...]
    events: tuple[EventView, ...]
    presses: tuple[EventPress, ...]
    hold: HoldView
    says: SaysView
    pictures: tuple[PictureView, ...]
    hazards: tuple[Caution, ...]
    attached: tuple[AttachedView, ...]
    people: tuple[PersonChoice, ...]
    asks_pin: bool
    next: NextView
    missing: tuple[MissingView, ...]
    closed: ClosedView | None
    lifted: tuple[LiftedView, ...]
    base: str  # address of the job
    here: str  # address of this stage
    has_bench: bool = True  # whether the page takes entries
    special: object | None = None
    links: tuple[tuple[str, str], ...] = field(default=())
    memory: MemoryView | None = None

    @property
    def doors(self) -> tuple[Door, ...]:
        """Ways that lead on from this stage."""
        return doors_of(self.stage, tuple(step.key for step in self.steps), self.special)
