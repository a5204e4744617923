"""Stage Face, ports: when each one opens after the cut, and which maps moved their datum.

When it opened before is what the plan itself says of the port.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.core.engine.facing import duration_change, roof_after
from sleevewright.jobs.model import Port
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.facing_told import DECK_CUT, FaceTold, given_depth, tried
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE

Q = Quantity
DATUM = Line(
    "face.datum",
    "Depths from the deck read less by",
    Q.READING,
    "axial",
    of="a map from the old deck against one from the new",
)
MOVED = Line("face.roof_moved", "Roofs read more by", Q.READING, "axial", is_detail=True)
MAPS = Line("face.maps", "Port maps", Q.TEXT)


def enter_ports(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter the timing after the cut of every port whose roof is known, and its change."""
    known = [port for port in told.ports if port.roof is not None]
    for port in known:
        _enter_port(ledger, plan, port)
    if known:
        first = f"face.port.{slug(known[0].name)}"
        ledger.compute(DATUM, rest_of, CENTRALLY, whole=f"{first}.roof", part=f"{first}.roof_now")
        ledger.compute(MOVED, rest_of, CENTRALLY, whole=f"{first}.roof_now", part=f"{first}.roof")
    _say_maps(ledger, told)


def _enter_port(ledger: Ledger, plan: Plan, port: Port) -> None:
    """Enter one port: its roof from both decks, how long it stays open then, and the change."""
    key, name = f"face.port.{slug(port.name)}", port.name.capitalize()
    roof = Line(f"{key}.roof", f"{name}, roof", Q.SIZE, "axial", "from the old deck",
                is_detail=True)  # fmt: skip
    ledger.fact(roof, given_depth(port.roof, ledger.default("port_height").value))
    now = Line(
        f"{key}.roof_now", f"{name}, roof from the new deck", Q.SIZE, "axial", is_detail=True
    )
    crank = {"stroke": ENGINE_STROKE.id, "rod": ENGINE_ROD.id}
    tried(
        ledger, plan, now, roof_after,
        roof_depth=roof.id, deck_cut=DECK_CUT.id, sunk="face.sunk",
    )  # fmt: skip
    opens = Line(f"{key}.opens", f"{name} opens, after", Q.ANGLE, of="after top dead centre")
    lasts = Line(f"{key}.lasts", f"{name} stays open, after", Q.ANGLE, of="of crank")
    tried(
        ledger, plan, opens, port_opens,
        roof_depth=now.id, deck_clearance="face.deck_after", **crank,
    )  # fmt: skip
    tried(ledger, plan, lasts, port_duration, opens=opens.id)
    change = Line(f"{key}.change", f"{name} stays open longer by", Q.ANGLE,
                  of="of crank; negative where shorter")  # fmt: skip
    tried(
        ledger, plan, change, duration_change,
        roof_depth=roof.id, deck_clearance=ENGINE_DECK.id,
        new_roof=now.id, new_clearance="face.deck_after", **crank,
    )  # fmt: skip


def _say_maps(ledger: Ledger, told: FaceTold) -> None:
    """Say which maps of the job count from the old deck, and which from the new one."""
    cut = ledger.value(DECK_CUT.id)
    if told.is_asked or not cut or not (told.old_maps or told.new_maps):
        return
    words = []
    if told.old_maps:
        words.append(f"from the old deck: {', '.join(told.old_maps)}")
    if told.new_maps:
        words.append(f"from the new deck: {', '.join(told.new_maps)}")
    said = "; ".join(words)
    ledger.fact(MAPS, Given(said, Kind.COMPUTED, source="derived"))
    if told.old_maps:
        ledger.advise(
            "Before two port maps are laid side by side, take the cut off every depth of those "
            "from the old deck."
        )
