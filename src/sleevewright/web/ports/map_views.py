"""What the page of a port map shows, as records."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.map_figures import PortFigure
from sleevewright.web.plan.views import AnswerView
from sleevewright.web.stage.views import AskView, AttachedView, StepView


@dataclass(frozen=True)
class PortPress:
    """A port to look at; ``is_told`` where the map was told something of it."""

    name: str
    href: str
    is_shown: bool = False
    is_told: bool = False


@dataclass(frozen=True)
class HandleView:
    """Something of a port that can be moved: what it is, and where on the large drawing.

    ``place`` is the side of the drawing at which it lies, ``x`` and ``y`` are hundredths of it.
    ``snaps`` are depths that were told elsewhere, as metres down from here and words.
    """

    handle: str
    label: str
    place: str
    x: float
    y: float
    snaps: tuple[tuple[float, str], ...] = ()


@dataclass(frozen=True)
class CloseView:
    """One port, large: its drawing, its handles, and what a step of a key and a mm are worth.

    ``wide`` is how many metres of wall the drawing is wide, ``step`` one step of a key in
    metres, ``way`` 1 where the right of the drawing is clockwise seen from the deck, else -1.
    """

    picture: Markup
    handles: tuple[HandleView, ...]
    wide: float
    step: float
    way: int


@dataclass(frozen=True)
class DrawnMap:
    """What follows from what was told of a map: drawn, figured, checked."""

    picture: Markup | None = None
    close: CloseView | None = None
    legend: str = ""  # which line is which map
    figures: tuple[PortFigure, ...] = ()
    flaws: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    pairs: tuple[AnswerView, ...] = ()
    is_even: bool = False  # only the mark tells it from its mirror image
    problem: str = ""


@dataclass(frozen=True)
class MapPage:
    """Everything that the page shows."""

    number: str
    cylinder: int
    stage: str
    stage_title: str
    map_title: str
    key: str
    units: str
    store: str
    last: int
    base: str
    here: str
    steps: tuple[StepView, ...]
    is_outside: bool
    view_words: str
    other_view: PortPress
    datum: str
    ports: tuple[PortPress, ...]
    offered: tuple[PortPress, ...]
    shown: str
    asks: tuple[AskView, ...]
    outline: AskView | None
    measured: tuple[AskView, ...]
    drawn: DrawnMap
    photos: tuple[AttachedView, ...]

    @property
    def address(self) -> str:
        """Address of the page of this map."""
        return f"{self.here}/map"

    @property
    def caption(self) -> str:
        """What a photo of the shown port is called."""
        return f"{self.shown}, port map {self.map_title}, {self.view_words}"
