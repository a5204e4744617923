"""The page of a port map: what was told port by port, drawn, checked, and ready to be moved."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote, urlencode

from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog import field_of, port_names
from sleevewright.jobs.catalog_maps import LEFT_MAP, MAP_TITLES, OUTSIDE, measured_cells
from sleevewright.jobs.life import stage_named
from sleevewright.jobs.portmaps import ToldMap, told_map
from sleevewright.planning.answers import Plan
from sleevewright.planning.map_checks import cannot_tell
from sleevewright.planning.portmaps import placed_part
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of
from sleevewright.services.map_checks_told import STAGES, flaws_of, other_map
from sleevewright.services.map_moves import figures_of
from sleevewright.services.port_maps import CylinderMap, map_of
from sleevewright.units import shown as shown_figure
from sleevewright.web.pictures.drawn_map import port_map_picture
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import AnswerView
from sleevewright.web.ports.map_drawn import LINES, close_map, close_view, map_picture, with_snaps
from sleevewright.web.ports.map_views import DrawnMap, MapPage, PortPress
from sleevewright.web.stage.asks import Teller
from sleevewright.web.stage.page import Seen, attached_view, steps_of
from sleevewright.web.stage.rows import Rows
from sleevewright.web.stage.views import AskView, AttachedView

KEYS = {stage: key for key, (stage, _, _) in STAGES.items()}
"""The map that each stage tells."""

NAMES = (
    "exhaust",
    "main left",
    "main right",
    "rear left",
    "rear right",
    "boost",
    "inlet",
)
"""Names that are offered; any other may be told."""

SEQUENCE = ("roof", "floor", "width", "radius", "angle", "arch", "bottom")
"""In which order a port is told: its edges first, what few ports have last."""

SIZES = {
    "roof": "Roof",
    "floor": "Floor",
    "width": "Width at the roof, {widths}",
    "radius": "Corner radius",
    "angle": "Middle, round the bore",
    "arch": "Roof arched by",
    "bottom": "Width at the floor, {widths}",
}
VIEWS = {False: "seen from inside", True: "seen from outside"}


@dataclass(frozen=True)
class Asked:
    """What the address asks: which port, and from where it is looked at."""

    stage: str
    port: str = ""
    is_outside: bool | None = None


def cell_of(port: str, key: str, size: str) -> str:
    """The cell of a size of a port in a map."""
    return f"port/{port.replace('%', '%25').replace('/', '%2F')}/{key}.{size}"


@dataclass(frozen=True)
class Ways:
    """Addresses within the page: each names a port and from where it is looked at."""

    here: str
    is_outside: bool

    def press(self, name: str, *, is_shown: bool = False, is_told: bool = False) -> PortPress:
        """A press that shows a port."""
        return PortPress(name, self.to(name, is_outside=self.is_outside), is_shown, is_told)

    def to(self, name: str, *, is_outside: bool) -> str:
        """Address of a port seen from one side."""
        asked = {"port": name} if name else {}
        asked |= {"view": "outside" if is_outside else "inside"}
        return f"{self.here}/map?{urlencode(asked, quote_via=quote)}"


def map_page(seen: Seen, told: CutTold, asked: Asked) -> MapPage:
    """Everything that the page of a map shows."""
    key, here = KEYS[asked.stage], seen.at(asked.stage)
    said = told_map(told.folded, key, cylinder=told.cylinder)
    is_outside = said.view == OUTSIDE if asked.is_outside is None else asked.is_outside
    shown = asked.port or next((one.name for one in said.ports), "")
    teller = Teller(told.folded, told.cylinder, dict(seen.look.living.problems))
    ways = Ways(here, is_outside)
    ports, offered = _presses(said, told, shown, ways)
    return MapPage(
        number=seen.look.number,
        cylinder=seen.look.cylinder,
        stage=asked.stage,
        stage_title=stage_named(asked.stage).title,
        map_title=MAP_TITLES[key],
        key=key,
        units=teller.units,
        store=seen.shop.store,
        last=told.folded.last,
        base=seen.base,
        here=here,
        steps=steps_of(seen, asked.stage),
        is_outside=is_outside,
        view_words=VIEWS[is_outside],
        other_view=PortPress(VIEWS[not is_outside], ways.to(shown, is_outside=not is_outside)),
        datum=told.folded.text("found.datum", cylinder=told.cylinder),
        ports=ports,
        offered=offered,
        shown=shown,
        asks=_asks(teller, shown, key, said.widths) if shown else (),
        outline=_outline(teller, shown, key),
        measured=tuple(teller.view(field) for field in measured_cells(key)),
        drawn=_drawn(seen.plan, told, key, shown, is_outside=is_outside),
        photos=_photos(seen, asked.stage, shown, MAP_TITLES[key]),
    )


def _presses(
    said: ToldMap, told: CutTold, shown: str, ways: Ways
) -> tuple[tuple[PortPress, ...], tuple[PortPress, ...]]:
    """Ports that the job knows, and names that are offered beside them."""
    names = port_names(told.folded, cylinder=told.cylinder)
    known = tuple(dict.fromkeys((*names, *((shown,) if shown else ()))))
    ports = tuple(
        ways.press(name, is_shown=name == shown, is_told=said.port(name) is not None)
        for name in known
    )
    return ports, tuple(ways.press(name) for name in NAMES if name not in known)


def _outline(teller: Teller, port: str, key: str) -> AskView | None:
    """The outline of a port as text, where a port is shown."""
    cell = cell_of(port, key, "outline")
    field = field_of(cell) if port else None
    return None if field is None else teller.view(field, cell)


def _asks(teller: Teller, port: str, key: str, widths: str) -> tuple[AskView, ...]:
    """The sizes of a port in the order in which they are told; a width says which it is."""
    found = []
    for size in SEQUENCE:
        cell = cell_of(port, key, size)
        field = field_of(cell)
        if field is not None:
            found.append(teller.view(field, cell, SIZES[size].format(widths=widths)))
    return tuple(found)


def _drawn(plan: Plan | None, told: CutTold, key: str, shown: str, *, is_outside: bool) -> DrawnMap:
    """What is drawn and figured of the map, as far as it can be."""
    if plan is None:
        return DrawnMap(problem="Nothing is drawn before the job has a plan.")
    own = map_of(plan, told, key)
    flaws = tuple(text for _, text in flaws_of(plan, told, key))
    made = own.read.map
    if made is None:
        return DrawnMap(needs=own.read.needs, flaws=flaws)
    other_key, other = other_map(plan, told, key)
    keys = (key, other_key or key)
    placed, port = placed_part(own.told, made), made.port(shown)
    picture = None
    if placed is not None:
        picture = map_picture((placed, other), shown, plan.units, is_outside=is_outside, keys=keys)
    close = None
    if port is not None:
        round_it = close_map(made, placed, shown)
        drawn = map_picture((round_it, other), shown, plan.units, is_outside=is_outside, keys=keys)
        maps = [("", made)] + ([] if other is None else [(" of the other map", other)])
        close = with_snaps(close_view(port, drawn, plan.units), port, maps)
    return DrawnMap(
        picture=None if picture is None else port_map_picture(picture),
        close=close,
        legend=_legend(key, other_key) + _deck_words(told, key, plan.units),
        figures=figures_of(plan, told, made, shown),
        flaws=flaws,
        needs=(*own.read.needs, *_unplaced(made, placed)),
        pairs=_pairs(plan, told, STAGES[key][2]),
        is_even=_is_even(own, made, other),
    )


def _legend(key: str, other_key: str) -> str:
    """Which line is which map."""
    own = f"{MAP_TITLES[key]} is drawn {LINES[key][1]}"
    return f"{own}, {MAP_TITLES[other_key]} {LINES[other_key][1]}" if other_key else own


def _deck_words(told: CutTold, key: str, units: str) -> str:
    """From which deck it is drawn, where ports as left are told after the deck was cut."""
    cut = cut_of(told)
    if key != LEFT_MAP or not cut:
        return ""
    by = shown_figure(cut, quantity="size", system=units).words
    return (
        f". The deck was cut by {by}: all of it is drawn and figured from the deck as it was "
        "before. A depth that is told now counts from the deck as it is now"
    )


def _unplaced(made: PortMap, placed: PortMap | None) -> tuple[str, ...]:
    """Ports that lie nowhere yet round the bore."""
    return tuple(
        f"{port.name}: its middle round the bore; until then it is not on the map"
        for port in made.ports
        if placed is None or placed.port(port.name) is None
    )


def _is_even(own: CylinderMap, made: PortMap, other: PortMap | None) -> bool:
    """Whether only the mark tells the map from its mirror image."""
    return bool(own.told.ports) and made.is_placed and cannot_tell(made, other)


def _pairs(plan: Plan, told: CutTold, prefix: str) -> tuple[AnswerView, ...]:
    """How left and right differ, pair by pair."""
    rows = Rows(Viewer(plan, plan.units), "", told.cylinder)
    start = f"{prefix}pair."
    return tuple(
        rows.row(answer.id)
        for answer in plan.answers()
        if answer.id.startswith(start) and not answer.is_detail
    )


def _photos(seen: Seen, stage: str, port: str, title: str) -> tuple[AttachedView, ...]:
    """Photos whose words name this port and this map."""
    start = f"{port}, port map {title}"
    return tuple(
        attached_view(one.body, one.received, seen)
        for one in seen.folded.attachments
        if one.cylinder in (0, seen.look.cylinder)
        and one.body.get("stage") == stage
        and str(one.body.get("caption", "")).startswith(start)
    )
