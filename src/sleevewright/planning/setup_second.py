"""The second sweep of a set-up: what is left, and whether the move did what it should."""

from __future__ import annotations

from sleevewright.core.metrology.moves import Move, move_of, setup_move
from sleevewright.core.metrology.secondsweep import (
    SecondSweep,
    offset_left,
    offset_predicted,
    second_sweep,
)
from sleevewright.core.metrology.setup import swept
from sleevewright.core.metrology.table import Axes, move_by_dials
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.centred import length_doubt
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.setup_told import SetUpSets, SetUpTold, Taken, paired, taken

Q = Quantity

FIRST = Line("setup.first", "Move that the sweep before asked for", Q.RECORD, is_detail=True)
MOVED = Line("setup.moved", "Move of the table as told", Q.RECORD, is_detail=True)
NOW = Line("setup.now", "Move that the last sweep asks for", Q.RECORD, is_detail=True)
WITHIN = Line("setup.moved_within", "A move is kept within", Q.DEVIATION, is_detail=True)
SECOND = Line("setup.second", "Second sweep against the first", Q.RECORD, is_detail=True)
LEFT = Line("setup.left", "Centre off, after the move", Q.DEVIATION, "radial")
EXPECTED = Line("setup.expected", "Should be left, after the move", Q.DEVIATION, "radial")

TURNED = (
    "{axis} got worse by exactly the move: its sign was turned. Was the dial turned the wrong way, "
    "or does +{axis} go the other way than is said here? Settle that, then make this move."
)
STILL = "{axis} stands as it stood: its dial took up lost motion, or the table was locked."
SLIP_WORDS = {
    "X turned": TURNED.format(axis="X"),
    "Y turned": TURNED.format(axis="Y")
    + " The table taken for the spindle, or clockwise for counter-clockwise, looks the same.",
    "both turned": "It got worse by exactly the move: both signs were turned. Were the dials "
    "turned the wrong way, or is the table moved where the head was meant? Settle that first.",
    "not moved": "It stands as it stood: the table did not move, or was locked while its dial did.",
    "X not moved": STILL.format(axis="X"),
    "Y not moved": STILL.format(axis="Y"),
    "whole swing": "It went as far again to the other side: the whole swing was moved, not half.",
}
SWAPPED = "X and Y were taken for each other. See which way +X and +Y go, and sweep again."
UNKNOWN = (
    "What is left is not what the move leaves, and no turned sign explains it. Was it shimmed, "
    "clamped or knocked in between? Sweep again before anything is moved."
)


def second_looked_at(
    ledger: Ledger, sets: SetUpSets, told: SetUpTold, one: dict[str, Taken]
) -> None:
    """Compare the newest sweeps with those before them, where there are such."""
    before = {
        "top": taken(ledger, sets.top_before, told),
        "bottom": taken(ledger, sets.bottom_before, told),
    }
    centre = str(ledger.value("setup.centre"))
    pair = _alike(before, one, centre)
    if pair is None or not ledger.has("setup.axes"):
        return
    first, now = pair
    moved = _moved(told, first, ledger.value("setup.axes"))
    is_told = told.figure("moved_x") is not None or told.figure("moved_y") is not None
    kind = Kind.MEASURED if is_told else Kind.ASSUMED
    ledger.fact(FIRST, Given(first, Kind.COMPUTED))
    ledger.fact(NOW, Given(now, Kind.COMPUTED))
    ledger.fact(MOVED, Given(moved, kind, "the job" if is_told else "as the sweep before asked"))
    within = ledger.default("table_travel")
    ledger.fact(WITHIN, Given(within.value, Kind.ASSUMED, within.source, within.stated))
    ledger.compute(
        SECOND, second_sweep, CENTRALLY,
        first=FIRST.id, told=MOVED.id, second=NOW.id, moved_within=WITHIN.id,
    )  # fmt: skip
    ledger.compute(LEFT, offset_left, CENTRALLY, second=SECOND.id)
    ledger.compute(EXPECTED, offset_predicted, CENTRALLY, second=SECOND.id)
    found: SecondSweep = ledger.value(SECOND.id)
    standard = max(now.standard_x, now.standard_y)
    ledger.amend(LEFT.id, doubt=length_doubt(found.left, standard))


def slip_words(slip: str) -> str:
    """What to do about a move that did not do what it should; empty where it did."""
    if slip == "as told":
        return ""
    return SWAPPED if slip.startswith("axes swapped") else SLIP_WORDS.get(slip, UNKNOWN)


def _alike(
    before: dict[str, Taken], now: dict[str, Taken], centre: str
) -> tuple[Move, Move] | None:
    """The moves asked for before and now, both from the same depths."""
    both = paired(before["top"], before["bottom"])[0], paired(now["top"], now["bottom"])[0]
    if both[0] is not None and both[1] is not None:
        return (
            setup_move(sweeps=both[0], centre=centre),
            setup_move(sweeps=both[1], centre=centre),
        )
    for which in ("top", "bottom"):
        first, second = before[which].sweep, now[which].sweep
        if first is not None and second is not None:
            return move_of(sweep=swept(sweep=first)), move_of(sweep=swept(sweep=second))
    return None


def _moved(told: SetUpTold, first: Move, axes: Axes) -> Move:
    """What was moved, by the dials as told; as it was asked where nothing was told."""
    x, y = told.figure("moved_x"), told.figure("moved_y")
    if x is None and y is None:
        return first
    return move_by_dials(
        dial_x=0.0 if x is None else x.value, dial_y=0.0 if y is None else y.value, axes=axes
    )
