"""Inlets that the skirt opens: about top dead centre, below the skirt's lower edge."""

from __future__ import annotations

from sleevewright.core.ports.crank_offset import passes_down, passes_up
from sleevewright.core.ports.inlets import inlet_lasts
from sleevewright.jobs.catalog_maps import PISTON_INLET
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.port_timed import PIN, ROD, STROKE, MapCurves, TimedMap, TimedPort, timed

Q = Quantity


def enter_inlets(
    ledger: Ledger, one: TimedMap, made: MapCurves | None, *, is_detail: bool = False
) -> None:
    """Enter opening, closing and angle-area of every inlet that the piston opens."""
    inlets = [port for port in one.ports if port.kind == PISTON_INLET]
    if not inlets:
        return
    if one.skirt is None:
        if is_detail:  # asked for once, by the map as it is
            return
        ledger.fact(
            Line(f"timing.{one.key}.skirt", "Piston long, inlet side", Q.SIZE, "axial",
                 "crown's edge to the skirt's lower edge"),
            Given(None, Kind.COMPUTED, need="length of the piston at the inlet, crown to skirt"),
        )  # fmt: skip
        return
    for port in inlets:
        _enter_inlet(ledger, one, port, made, is_detail=is_detail)


def _enter_inlet(
    ledger: Ledger, one: TimedMap, port: TimedPort, made: MapCurves | None, *, is_detail: bool
) -> None:
    """Enter one inlet: its floor by the skirt, and what follows from it."""
    skirt = one.skirt
    if port.points is None or skirt is None:
        return
    title = port.name.capitalize()
    edge = one.entry(port.name, "edge")
    floor = float(port.points[:, 1].max())
    ledger.fact(
        Line(edge, f"{title}, crown where the skirt leaves its floor", Q.SIZE, "axial",
             "below the deck", is_detail=True),
        Given(floor - skirt, Kind.COMPUTED, "the map and the skirt",
              standard=port.standard),
    )  # fmt: skip
    crank = {"edge_depth": edge, "deck_clearance": one.deck, "stroke": STROKE, "rod": ROD,
             "pin_offset": PIN}  # fmt: skip
    opens = Line(one.entry(port.name, "opens"), f"{title} opens", Q.ANGLE,
                 of="of crank, before top dead centre, by the skirt",
                 is_detail=is_detail)  # fmt: skip
    closes = Line(one.entry(port.name, "closes"), f"{title} closes", Q.ANGLE,
                  of="of crank, after top dead centre, by the skirt",
                  is_detail=is_detail)  # fmt: skip
    if not timed(ledger, opens, passes_up, **crank):
        return
    timed(ledger, closes, passes_down, **crank)
    lasts = Line(one.entry(port.name, "lasts"), f"{title} stays open", Q.ANGLE, of="of crank",
                 is_detail=is_detail)  # fmt: skip
    ledger.compute(lasts, inlet_lasts, opens=opens.id, closes=closes.id)
    if made is not None and port.name in made.areas:
        area = Line(one.entry(port.name, "area"), f"{title}, angle-area", Q.ANGLE_AREA,
                    of="below the skirt, over one turn; its windows left out",
                    is_detail=is_detail)  # fmt: skip
        ledger.fact(area, Given(made.angle_area(port.name), Kind.COMPUTED, "derived"))
        _warn(ledger, one, port.name, float(port.points[:, 1].min()), made)


def _warn(ledger: Ledger, one: TimedMap, name: str, roof: float, made: MapCurves) -> None:
    """Say where the crown at the bottom would open the inlet to the cylinder."""
    lowest = made.crank.deck_clearance + made.crank.stroke
    if roof < lowest:
        ledger.caution(
            f"timing.both:{one.entry(name, 'area')}",
            f"{name.capitalize()}: its roof lies above the crown at bottom dead centre, so that "
            "the cylinder opens into it. Are its depths right?",
            "derived",
        )
