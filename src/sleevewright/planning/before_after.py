"""Every port before and after: heights, timing, widths and areas of each map, side by side.

What a map does not hold stays empty and is never made up.  Areas and timing are those of the
windows; chamfers are left out.  Depths count from the deck, widths are chords.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from sleevewright.core.engine.crank import duration_per_height, port_duration, port_opens
from sleevewright.core.ports.crank import Crank as TurningCrank
from sleevewright.core.ports.curves import curve_angle_area, port_curves
from sleevewright.core.ports.exposed import angle_area, angle_area_between, exposed_area
from sleevewright.core.ports.mapped import MappedPort, PortMap, arc_to_chord
from sleevewright.core.ports.pairs import pairs_by_name
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import BOOST, EXHAUST, PISTON_INLET, TRANSFER
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR

TIMED = (EXHAUST, TRANSFER, BOOST)
"""Kinds that the crown opens; an inlet is opened by the skirt, or by nothing."""

SWEEP = 720
"""Steps of a turn behind an inlet's area by angle."""

COMPARED = ("found", "supplied", "left")


@dataclass(frozen=True)
class Crank:
    """What times the ports. [m]."""

    stroke: float
    rod: float
    deck: float = 0.0
    deck_left: float | None = None  # the same from the same deck, as the engine is put together
    skirt: float | None = None  # crown's edge to the skirt's lower edge, inlet side

    def of(self, key: str) -> Crank:
        """The crank of one map: what was done to the base stands for the ports as left alone."""
        is_left = key == "left" and self.deck_left is not None
        return (
            replace(self, deck=self.deck_left) if is_left and self.deck_left is not None else self
        )

    @property
    def named(self) -> dict[str, float]:
        """The same as keywords of the formulas."""
        return {"stroke": self.stroke, "rod": self.rod, "deck_clearance": self.deck}


@dataclass(frozen=True)
class PortFigures:
    """One port in one map: SI; half-widths of about 95 %; nothing where it is not known.

    Attributes
    ----------
    roof, roof_within : float
        Depth of the roof below the deck, and what it is worth. [m]
    width, width_within : float | None, float
        Chord of the window. [m]
    area : float
        Area along the wall. [m^2]
    opens, opens_within : float | None, float
        Crank angle after top dead centre, and what it is worth. [rad]
    lasts : float | None
        Crank angle for which it is open. [rad]
    angle_area : float | None
        Open area times crank angle. [m^2 rad]
    """

    roof: float
    roof_within: float
    width: float | None
    width_within: float
    area: float
    opens: float | None = None
    opens_within: float = 0.0
    lasts: float | None = None
    angle_area: float | None = None


@dataclass(frozen=True)
class PortHistory:
    """One port through the maps: its figures and its outlines by the name of the map."""

    name: str
    kind: str
    figures: dict[str, PortFigures] = field(default_factory=dict)
    ports: dict[str, MappedPort] = field(default_factory=dict)

    @property
    def before(self) -> str:
        """The map that it is compared with."""
        return "found" if "found" in self.figures else "supplied"

    @property
    def angle_area_change(self) -> float | None:
        """Change of angle-area from as found to as left, as a share of what it was."""
        was, now = self.figures.get("found"), self.figures.get("left")
        if was is None or now is None or not was.angle_area or now.angle_area is None:
            return None
        return now.angle_area / was.angle_area - 1.0


@dataclass(frozen=True)
class Blowdown:
    """From the exhaust's opening to the first transfer's, in one map."""

    angle: float
    angle_area: float


@dataclass(frozen=True)
class Pair:
    """How much later the left one of a pair opens than the right one, by map. [rad]."""

    name: str
    later: dict[str, float]
    within: dict[str, float]


@dataclass(frozen=True)
class BeforeAfter:
    """Everything that the sheet of the ports shows."""

    ports: tuple[PortHistory, ...]
    blowdown: dict[str, Blowdown]
    pairs: tuple[Pair, ...]
    diameters: dict[str, float]
    placed: tuple[str, ...]  # maps whose angles were told
    is_timed: bool


def before_after(
    maps: dict[str, PortMap], kinds: dict[str, str], crank: Crank | None
) -> BeforeAfter:
    """The ports of some maps side by side.

    Parameters
    ----------
    maps : dict[str, PortMap]
        Maps by key, of ``found``, ``supplied`` and ``left``; what is not known is not in it.
    kinds : dict[str, str]
        What each port is for, by its name.
    crank : Crank | None
        What times them; without it only heights, widths and areas are known. [record]

    Returns
    -------
    BeforeAfter
        Every port of any map, in the order in which the maps name them. [record]
    """
    told = {key: maps[key] for key in COMPARED if key in maps}
    names = dict.fromkeys(port.name for one in told.values() for port in one.ports)
    histories = []
    for name in names:
        ports = {key: port for key, one in told.items() if (port := one.port(name)) is not None}
        kind = kinds.get(name, TRANSFER)
        figures = {
            key: _figures(port, told[key].diameter, kind, None if crank is None else crank.of(key))
            for key, port in ports.items()
        }
        histories.append(PortHistory(name, kind, figures, ports))
    blowdown = {}
    for key, one in told.items():
        found = None if crank is None else blowdown_of(one, kinds, crank.of(key))
        if found is not None:
            blowdown[key] = found
    return BeforeAfter(
        tuple(histories),
        blowdown,
        _pairs(histories, tuple(told)),
        {key: one.diameter for key, one in told.items()},
        tuple(key for key, one in told.items() if one.is_placed),
        is_timed=crank is not None,
    )


def _figures(port: MappedPort, diameter: float, kind: str, crank: Crank | None) -> PortFigures:
    """The figures of one port by what opens it: the crown, the skirt, or neither."""
    if kind == PISTON_INLET and crank is not None and crank.skirt is not None:
        return inlet_figures(port, diameter, crank, crank.skirt)
    return port_figures(port, diameter, crank if kind in TIMED else None)


def inlet_figures(port: MappedPort, diameter: float, crank: Crank, skirt: float) -> PortFigures:
    """The figures of an inlet that the skirt opens, about top dead centre, at its floor.

    It has no opening after top dead centre; how long it is open is told, and its angle-area.
    """
    plain = port_figures(port, diameter, None)
    edge = port.floor - skirt
    turning = TurningCrank(crank.stroke, crank.rod, crank.deck)
    try:
        lasts = 2.0 * float(port_opens(roof_depth=edge, **crank.named))
        growth = float(duration_per_height(roof_depth=edge, **crank.named))
        area = exposed_area(port.along(diameter))
        made = port_curves(((port.name, area),), crank=turning, skirts=(skirt,), steps=SWEEP)
    except SleevewrightError:  # a floor that the skirt never passes: its timing stays empty
        return plain
    return replace(
        plain,
        opens_within=0.5 * abs(growth) * STATED_COVERAGE_FACTOR * port.doubt.floor,
        lasts=lasts,
        angle_area=float(curve_angle_area(made.of(port.name), angles=made.angles)),
    )


def port_figures(port: MappedPort, diameter: float, crank: Crank | None) -> PortFigures:
    """The figures of one port in one map; timing where the crank is known and passes it."""
    area = exposed_area(port.along(diameter))
    arc = port.span * diameter / 2.0
    chord = arc_to_chord(arc=arc, bore=diameter) if port.span <= math.pi else None
    plain = PortFigures(
        roof=port.roof,
        roof_within=STATED_COVERAGE_FACTOR * port.doubt.roof,
        width=chord,
        width_within=STATED_COVERAGE_FACTOR * math.sqrt(2.0) * port.doubt.side,
        area=area.whole,
    )
    if crank is None:
        return plain
    try:
        opens = float(port_opens(roof_depth=port.roof, **crank.named))
        growth = float(duration_per_height(roof_depth=port.roof, **crank.named))
        swept = angle_area(area, **crank.named)
    except SleevewrightError:  # a roof that the piston never passes: its timing stays empty
        return plain
    return PortFigures(
        roof=plain.roof,
        roof_within=plain.roof_within,
        width=plain.width,
        width_within=plain.width_within,
        area=plain.area,
        opens=opens,
        opens_within=0.5 * growth * plain.roof_within,
        lasts=float(port_duration(opens)),
        angle_area=swept,
    )


def blowdown_of(ports: PortMap, kinds: dict[str, str], crank: Crank) -> Blowdown | None:
    """Angle and angle-area of the blowdown in a map; nothing where a side of it is missing.

    Without every exhaust window and a transfer it cannot be told; it counts from the first
    exhaust window to the first transfer, whichever that is.
    """
    exhausts = [port for port in ports.ports if kinds.get(port.name) == EXHAUST]
    others = [port for port in ports.ports if kinds.get(port.name) in (TRANSFER, BOOST)]
    if not exhausts or not others:
        return None
    try:
        first, last = (
            min(float(port_opens(roof_depth=port.roof, **crank.named)) for port in some)
            for some in (exhausts, others)
        )
    except SleevewrightError:
        return None
    swept = sum(
        angle_area_between(
            exposed_area(port.along(ports.diameter)), first=first, last=last, **crank.named
        )
        for port in exhausts
    )
    return Blowdown(last - first, swept)


def _pairs(histories: list[PortHistory], keys: tuple[str, ...]) -> tuple[Pair, ...]:
    """Pairs of a left and a right port of the same name, as far as both are timed."""
    by_name = {one.name: one for one in histories}
    found = []
    for shared, *names in pairs_by_name(by_name):
        left, right = (by_name[name] for name in names)
        later, within = {}, {}
        for key in keys:
            one, other = left.figures.get(key), right.figures.get(key)
            if one is None or other is None or one.opens is None or other.opens is None:
                continue
            later[key] = one.opens - other.opens
            within[key] = math.hypot(one.opens_within, other.opens_within)
        found.append(Pair(shared, later, within))
    return tuple(found)
