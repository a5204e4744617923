"""Stages Cool and prove, and Bore to piston: lift, unclamping, and the stock that is left."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import wall_left
from sleevewright.core.fits.flange import flange_lift
from sleevewright.core.fits.running import running_interference
from sleevewright.core.fits.targets import bored_size, finished_bore, finishing_stock
from sleevewright.core.fits.webs import neighbour_spare
from sleevewright.jobs.model import Entry, Piston
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line, StageResult
from sleevewright.planning.shop import Chosen

Q = Quantity


COOL_UNCLAMP = Line(
    "cool.unclamp",
    "Unclamp below",
    Q.TEMPERATURE,
    of="casting; long after the sleeve is caught",
)
COOL_LEFT_IN_ROOM = Line(
    "cool.left_in_room",
    "fit at the room's temperature",
    Q.DEVIATION,
    "diametral",
    is_detail=True,
)
COOL_AT_GRIP = Line(
    "cool.at_grip",
    "fit at the moment it is caught",
    Q.DEVIATION,
    "diametral",
    is_detail=True,
)
COOL_LIFT = Line(
    "cool.lift",
    "Flange could lift",
    Q.DEVIATION,
    "axial",
    of="if the skirt grips first and nothing keeps it down",
    would_change="a clamp from seating until the casting is below 60 °C",
)
PISTON_DIAMETER = Line("piston.diameter", "Piston", Q.SIZE, "diametral", of="at 20 °C")
NEIGHBOUR_SPARE = Line(
    "cool.neighbour_spare",
    "heat to spare of a sleeve already in",
    Q.TEMPERATURE_DIFFERENCE,
    of="at the drop: the same fit, as hot as the casting",
    is_detail=True,
)
PISTON_CLEARANCE = Line("piston.clearance", "Clearance to the piston", Q.DEVIATION, "diametral")
FINISH_BORE = Line(
    "finish.bore",
    "Finished bore",
    Q.SIZE,
    "diametral",
    of="nominal, until the piston is here",
)
FINISH_BORE_B = Line("finish.bore", "Finished bore", Q.SIZE, "diametral", of="at 20 °C")
FINISH_HONE_STOCK = Line("finish.hone_stock", "Left for the hone", Q.DEVIATION, "diametral")
FINISH_BORED = Line(
    "finish.bored",
    "Bore out to",
    Q.SIZE,
    "diametral",
    of="then hone; no finish bore without the piston in hand",
)
TOO_LARGE = Line(
    "finish.too_large",
    "Bore out to",
    Q.TEXT,
    of="the sleeve's bore, closed up, is larger than the finished bore: a larger piston, or "
    "another sleeve; the stock left says by how much",
)
FINISH_WALL = Line(
    "finish.wall", "Sleeve wall when finished", Q.SIZE, "radial", of="iron left around the bore"
)
FINISH_STOCK = Line(
    "finish.stock",
    "Stock left after close-up",
    Q.DEVIATION,
    "diametral",
    of="inside of the sleeve, to bore and hone",
)


@dataclass(frozen=True)
class FinishRecord:
    """The piston and the bore that the engine is to have."""

    piston: Piston
    bore: Entry | None
    count: int
    seed: int
    chosen: Chosen = ()
    has_neighbour: bool = False  # whether a web to a next bore was told


def finish_stage(record: FinishRecord, *upstream: StageResult) -> StageResult:
    """What happens while it cools, and what is left to bore and hone."""
    ledger = Ledger(*upstream, count=record.count, seed=record.seed, chosen=record.chosen)
    _enter_lift(ledger)
    if record.has_neighbour:
        _enter_spare(ledger)
    _enter_finish(ledger, record)
    return ledger.result()


def _enter_lift(ledger: Ledger) -> None:
    """Enter how far the flange could lift if the far end is caught first.

    Counted from the moment of the grip, when the fit is just nought.  For iron in iron
    that moment is in the transient only: the sleeve, still colder, then warms and pushes.
    """
    unclamp = ledger.default("unclamp_temperature")
    ledger.fact(
        COOL_UNCLAMP,
        Given(unclamp.value, Kind.CHOSEN, source=unclamp.source, typed=unclamp.note),
    )
    room = {"casting_temperature": "heat.room", "sleeve_temperature": "heat.room"}
    ledger.compute(
        COOL_LEFT_IN_ROOM,
        running_interference,
        diameter="sleeve.od",
        interference="fit.as_cut",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        **room,
    )
    ledger.fact(COOL_AT_GRIP, Given(0.0, Kind.ASSUMED, source="derived"))
    ledger.compute(
        COOL_LIFT,
        flange_lift,
        anchor_length="sleeve.length",
        interference="cool.left_in_room",
        interference_left="cool.at_grip",
        diameter="sleeve.od",
    )
    if ledger.has("fit.as_cut") and ledger.entry("fit.grip").answer.value is None:
        words = "while the sleeve warms, if the skirt grips first; on common cooling nothing"
        ledger.amend("cool.lift", of=words)


def _enter_spare(ledger: Ledger) -> None:
    """Enter what a neighbour's sleeve has to spare: its grip and the drop share most errors."""
    if ledger.entry("fit.grip").answer.value is None:
        return  # not known yet, or iron in iron, which heat does not let go
    ledger.compute(
        NEIGHBOUR_SPARE, neighbour_spare, grip="fit.grip", casting_temperature="heat.drop_at"
    )


def _enter_finish(ledger: Ledger, record: FinishRecord) -> None:
    """Enter the finished bore, the bored size and the stock left after close-up."""
    piston = record.piston
    if piston.diameter is not None:
        ledger.fact(
            PISTON_DIAMETER,
            given(piston.diameter, need="piston diameter"),
        )
        enter_default(
            ledger,
            PISTON_CLEARANCE,
            piston.clearance,
            "piston_clearance",
        )
        ledger.compute(
            FINISH_BORE_B,
            finished_bore,
            piston_diameter="piston.diameter",
            clearance="piston.clearance",
        )
    else:
        ledger.fact(
            FINISH_BORE,
            given(record.bore, need="the piston, or the finished bore"),
        )
    _enter_stock(ledger, record)


def _enter_stock(ledger: Ledger, record: FinishRecord) -> None:
    """Enter the bored size and what the close-up leaves to bore and hone."""
    enter_default(ledger, FINISH_HONE_STOCK, record.piston.hone_stock, "hone_stock")
    ledger.compute(
        FINISH_BORED,
        bored_size,
        finished_bore="finish.bore",
        hone_stock="finish.hone_stock",
    )
    least = ledger.default("least_finishing_stock")
    ledger.compute(
        FINISH_STOCK,
        finishing_stock,
        How(
            judge=against_limit(
                least.value,
                "least",
                remedy="too little to clean up: a smaller rough bore is wanted",
            )
        ),
        finished_bore="finish.bore",
        sleeve_bore="sleeve.id",
        closure="fit.close_up",
    )
    if record.piston.diameter is not None:
        ledger.amend(FINISH_BORED.id, of="then hone")
    stock = ledger.value(FINISH_STOCK.id)
    if stock is not None and float(stock) < 0.0:
        ledger.fact(TOO_LARGE, Given("too large already", Kind.COMPUTED, source="derived"))
    wall = ledger.default("least_sleeve_wall")
    ledger.compute(
        FINISH_WALL,
        wall_left,
        How(
            judge=against_limit(
                wall.value, "least", remedy="too thin a sleeve for this bore: a thicker one"
            )
        ),
        outside_diameter="sleeve.od",
        inside_diameter="finish.bore",
    )
