"""Stage Ports: when each port opens, how long it stays open, and what a thou is worth."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.engine.crank import duration_per_height, port_duration, port_opens
from sleevewright.jobs.model import Engine, Port
from sleevewright.planning.answers import Quantity
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import Ledger, Line, StageResult

Q = Quantity


ENGINE_STROKE = Line("engine.stroke", "Stroke", Q.SIZE)
ENGINE_ROD = Line("engine.rod", "Rod, centre to centre", Q.SIZE)
ENGINE_DECK = Line("engine.deck", "Piston below the deck at top dead centre", Q.SIZE, "axial")


@dataclass(frozen=True)
class PortsRecord:
    """The crank and the ports."""

    engine: Engine
    ports: tuple[Port, ...]
    count: int
    seed: int


def ports_stage(record: PortsRecord) -> StageResult:
    """Timing of every port whose roof is known."""
    ledger = Ledger(count=record.count, seed=record.seed)
    if not record.ports:
        return ledger.result()
    engine = record.engine
    ledger.fact(ENGINE_STROKE, given(engine.stroke, need="stroke"))
    ledger.fact(
        ENGINE_ROD,
        given(engine.rod, need="rod, centre to centre"),
    )
    enter_default(
        ledger,
        ENGINE_DECK,
        engine.deck,
        "deck_clearance",
    )
    for port in record.ports:
        _enter_port(ledger, port)
    return ledger.result()


def _enter_port(ledger: Ledger, port: Port) -> None:
    """Enter one port's roof and what follows from it."""
    key, name = f"ports.{slug(port.name)}", port.name.capitalize()
    ledger.fact(
        Line(f"{key}.roof", f"{name}, roof", Q.SIZE, "axial", of="down from the deck"),
        given(port.roof, need=f"depth of the roof of the {port.name} port"),
    )
    crank = {
        "roof_depth": f"{key}.roof",
        "deck_clearance": "engine.deck",
        "stroke": "engine.stroke",
        "rod": "engine.rod",
    }
    ledger.compute(
        Line(f"{key}.opens", f"{name} opens", Q.ANGLE, of="after top dead centre"),
        port_opens,
        **crank,
    )
    ledger.compute(
        Line(f"{key}.duration", f"{name} stays open", Q.ANGLE, of="of crank"),
        port_duration,
        opens=f"{key}.opens",
    )
    ledger.compute(
        Line(
            f"{key}.per_thou",
            f"{name} lasts longer",
            Q.SWELL,
            "axial",
            of="roof raised; a lowered deck or thinner base gasket moves it too",
        ),
        duration_per_height,
        **crank,
    )
