"""What the templates of the plan page are handed: records of figures and words."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.errors import Caution
from sleevewright.planning.answers import Answer, Kind
from sleevewright.planning.shown import BLANK, ShownNumber

KEYS_IN_WORDS = {
    "practice": "common practice, no source",
    "from-memory": "from memory, to be checked",
    "derived": "derived here",
}


@dataclass(frozen=True)
class WayView:
    """One way to settle a verdict, and how likely it does; empty where no chance is reckoned."""

    words: str
    chance: str


@dataclass(frozen=True)
class VerdictView:
    """A verdict with its limit in figures."""

    word: str
    style: str
    side: str
    limit: ShownNumber
    rule: str
    remedy: str
    chance: str = ""  # how likely it is wrong, in words
    ways: tuple[WayView, ...] = ()


@dataclass(frozen=True)
class AnswerView:
    """One row: an answer in figures and words, and the address that opens it."""

    id: str
    label: str
    shown: ShownNumber
    of: str
    needs: tuple[str, ...]
    cautions: tuple[Caution, ...]
    verdict: VerdictView | None
    is_text: bool
    href: str
    is_open: bool = False
    basis: BasisView | None = None  # where it is opened on the spot

    @property
    def is_blank(self) -> bool:
        """Whether there is no value to show."""
        return self.shown.figure == BLANK

    @property
    def is_record(self) -> bool:
        """Whether the value is a structure that no figure stands for."""
        return not self.shown.figure


@dataclass(frozen=True)
class SourceView:
    """A source by its key, or in words where there is none."""

    words: str
    href: str


@dataclass(frozen=True)
class BarView:
    """One contributor to a doubt; ``length`` is in hundredths of the largest."""

    label: str
    length: float
    figure: str


@dataclass(frozen=True)
class RoadView:
    """The same doubt by another road: its half-width in figures, and whether both agree."""

    name: str
    figure: str
    says: str
    source: SourceView


@dataclass(frozen=True)
class TableView:
    """An answer that is a table: what its cells, rows and columns are, and the figures."""

    says: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class BasisView:
    """What an opened number rests on."""

    answer: AnswerView
    back: AnswerView | None
    relation: str
    expression: str
    function: str
    inputs: tuple[AnswerView, ...]
    bars: tuple[BarView, ...]
    coverage: str  # what the doubt is made of as a number: u, k, degrees of freedom, coverage
    sources: tuple[SourceView, ...]
    validity: str
    would_change: str
    typed: str
    told_by: tuple[SourceView, ...]
    table: TableView | None
    roads: tuple[RoadView, ...] = ()


def source_view(key: str) -> SourceView:
    """A source: a key of the manual's list becomes its address there."""
    if key in KEYS_IN_WORDS:
        return SourceView(KEYS_IN_WORDS[key], "")
    if " " in key or not key:
        return SourceView(key, "")
    return SourceView(key, f"/manual/sources.html#{key}")


def is_given(answer: Answer) -> bool:
    """Whether an answer was told or assumed rather than worked out or decided."""
    return answer.kind in (Kind.MEASURED, Kind.TYPED, Kind.ASSUMED)
