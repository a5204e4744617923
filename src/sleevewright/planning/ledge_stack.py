"""Beside the plan, stage Counterbore: which blocks or pins of the shop set the stop."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.cutting.blocks import Stack, blocks_half, find_stacks, stack_standard
from sleevewright.core.cutting.stackwords import nearest_words, stack_words
from sleevewright.core.cutting.stopsets import NM, StopSet
from sleevewright.errors import InputError
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledge_depths import DATUM, PLATE, STOP, state_doubt
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
NONE_TOLD = "the set of blocks or pins that the stop is set with"
NO_WAY_DOWN = "a place to touch off that lies above the depth; this one lies below it"

STACK = Line("counterbore.stack", "Pieces for the stop", Q.TEXT)
OTHERS = Line("counterbore.stack_others", "Or", Q.TEXT)
OFF = Line(
    "counterbore.stack_off",
    "Stack, off what is wanted by",
    Q.FINE,
    "axial",
    of="from above, the travel: positive lets the tool go that much deeper; let pass half as far",
)
OFF_PLATE = replace(
    OFF,
    of="from the plate, a height to stand on: negative lets the tool go that much deeper; let "
    "pass half as far",
)
PIECES = Line("counterbore.stack_pieces", "pieces in the stack", Q.RATIO, is_detail=True)
SIZE_HALF = Line("counterbore.piece_half", "a piece is true within", Q.FINE, is_detail=True)
JOINT_HALF = Line("counterbore.joint_half", "a joint adds up to", Q.FINE, is_detail=True)
DOUBT = Line(
    "counterbore.stack_doubt",
    "doubt of the height of the stack",
    Q.FINE,
    "axial",
    of="one standard uncertainty; clean faces",
    is_detail=True,
)


def enter_stack(ledger: Ledger, pieces: StopSet | None, problem: str = "") -> None:
    """Enter the stack with the fewest pieces for the stop, others like it, and its doubt."""
    if not ledger.has(STOP.id) or pieces is None:
        ledger.fact(STACK, Given(None, Kind.COMPUTED, need=problem or NONE_TOLD))
        return
    if float(ledger.value(STOP.id)) <= 0.0:
        ledger.fact(STACK, Given(None, Kind.COMPUTED, need=NO_WAY_DOWN))
        return
    within = ledger.default("stop_within")
    target = round(float(ledger.value(STOP.id)) / NM)
    whole, half = round(within.value / NM), round(0.5 * within.value / NM)
    is_plate = ledger.value(DATUM.id) == PLATE
    under, over = (half, whole) if is_plate else (whole, half)  # half as far on the deep side
    try:
        found = find_stacks(pieces, target=target, within=under, over=over)
    except InputError as refused:
        ledger.fact(STACK, Given(None, Kind.COMPUTED, need=str(refused)))
        return
    unit = pieces.marked
    if not found.found:
        ledger.fact(STACK, Given(None, Kind.COMPUTED, need=nearest_words(found, unit)))
        return
    best = found.found[0]
    source = f"{pieces.title}, {pieces.source}"
    ledger.fact(STACK, Given(stack_words(best, unit), Kind.COMPUTED, source))
    if found.found[1:]:
        said = "; ".join(stack_words(one, unit) for one in found.found[1:])
        ledger.fact(OTHERS, Given(said, Kind.COMPUTED, source))
    ledger.fact(OFF_PLATE if is_plate else OFF, Given(best.off * NM, Kind.COMPUTED, "derived"))
    _enter_doubt(ledger, pieces, best)
    state_doubt(ledger, OFF.id, float(ledger.value(DOUBT.id)))


def _enter_doubt(ledger: Ledger, pieces: StopSet, best: Stack) -> None:
    """Enter what sizes and joints leave of the height."""
    ledger.fact(PIECES, Given(float(len(best.sizes)), Kind.COMPUTED, "derived"))
    is_blocks = pieces.kind == "blocks"
    half = ledger.default("block_size_half" if is_blocks else "pin_size_half")
    true = half.value
    if is_blocks:
        true = blocks_half(sizes=best.sizes, short_half=half.value)
    ledger.fact(SIZE_HALF, Given(true, Kind.ASSUMED, half.source, half.note))
    joint = ledger.default("stack_joint")
    ledger.fact(JOINT_HALF, Given(joint.value, Kind.ASSUMED, joint.source, joint.note))
    ledger.compute(
        DOUBT,
        stack_standard,
        CENTRALLY,
        piece_count=PIECES.id,
        size_half=SIZE_HALF.id,
        joint_half=JOINT_HALF.id,
    )
