"""Quick question at the machine: which blocks or pins make this height."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.cutting.blocks import Stacks, blocks_half, find_stacks, stack_standard
from sleevewright.core.cutting.stackwords import nearest_words, size_words, stack_words
from sleevewright.core.cutting.stopsets import NM, StopSet, stop_set
from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError, NotFound
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, optional, read_words
from sleevewright.services.stop_pieces import own_set
from sleevewright.units import Dimension, parse

STACK_INPUTS = (
    *needed("height"),
    QuickInput("set", "metric-47"),
    *optional("pins"),
    QuickInput("off_by", "0.5 um"),
)
TALLEST, WIDEST = 0.4, 1e-3  # [m]
CLEAN = Caution(
    "clean-faces",
    "Wipe every face, and take the stack out before the spindle turns: a grain of dirt is several "
    "microns, and a block that is struck is a block no more.",
    "practice",
)
REMEMBERED = Caution(
    "set-from-memory",
    "The make-up of this set is from memory: count your own before you rely on it.",
    "from-memory",
)


def quick_stack(words: Iterable[str]) -> QuickAnswer:
    """The stack with the fewest pieces, others like it, and the doubt of its height."""
    typed = read_words("stack", STACK_INPUTS, words)
    height = _length(typed, "height", TALLEST)
    within = _length(typed, "off_by", WIDEST)
    pieces = _pieces(typed)
    target = round(height / NM)
    found = find_stacks(pieces, target=target, within=round(within / NM))
    unit = pieces.marked
    if not found.found:
        said = nearest_words(found, unit).rpartition(": ")[2]
        allowed = f"a height that these pieces make within {typed.text('off_by')}"
        raise InputError("height", typed.text("height"), "", allowed, f"{said.capitalize()}.")
    return QuickAnswer(
        "stack",
        typed,
        _lines(pieces, found),
        (CLEAN, *((REMEMBERED,) if pieces.source == "from-memory" else ())),
        extra=_extra(found, unit),
        said=tuple(
            f"{'stack' if not number else 'or'}: {stack_words(one, unit)}"
            for number, one in enumerate(found.found)
        ),
    )


def _length(typed: Typed, name: str, most: float) -> float:
    """A length above nought, or a tolerance that may be nought."""
    said = parse(typed.text(name), field=name, dimension=Dimension.LENGTH)
    if name == "height":
        typed.units = (said.unit,)
    least = 0.0 if name == "off_by" else NM
    if not least <= said.value <= most:
        allowed = f"{'0' if name == 'off_by' else 'more than 0'} to {most * 1e3:g} mm"
        raise InputError(name, typed.text(name), "", allowed)
    return said.value


def _pieces(typed: Typed) -> StopSet:
    """The pieces that were told: their own sizes, or a usual set by its name."""
    own = typed.words.get("pins", "")
    if own and "set" in typed.words:
        raise InputError("pins", own, "", "pins or a set, not both")
    if own:
        return own_set(own, field="pins")
    named = typed.text("set")
    try:
        return stop_set(named)
    except NotFound as unknown:
        allowed = f"one of {', '.join(unknown.known)}"
        raise InputError("set", named, "", allowed, "Or name your own: pins=1.00,2.00mm.") from None


def _lines(pieces: StopSet, found: Stacks) -> tuple[Line, ...]:
    """Height, what it is off, how many pieces, and its doubt."""
    best = found.found[0]
    half = default("pin_size_half").value
    if pieces.kind == "blocks":
        half = blocks_half(sizes=best.sizes, short_half=default("block_size_half").value)
    doubt = stack_standard(
        piece_count=float(len(best.sizes)),
        size_half=half,
        joint_half=default("stack_joint").value,
    )
    count = len(best.sizes)
    return (
        Line("height_mm", "Stack", best.total * NM, "size", stack_standard, "axial",
             f"{count} {'piece' if count == 1 else 'pieces'} of {pieces.title}"),
        Line("off_um", "Off what is wanted by", best.off * NM, "fine deviation", stack_standard,
             "axial", f"{best.off * 1e-3:+.2f} µm; positive is too high"),
        Line("doubt_um", "Doubt of its height", doubt, "fine deviation", stack_standard, "axial",
             f"{doubt * 1e6:.2f} µm, one standard uncertainty; clean faces"),
    )  # fmt: skip


def _extra(found: Stacks, unit: str) -> tuple[tuple[str, object], ...]:
    """Every stack as the sizes that are marked on its pieces."""
    stacks = [[size_words(size, unit) for size in one.sizes] for one in found.found]
    return (("stacks", stacks), ("marked_in", unit))
