"""Face as pictures: the section at top dead centre, what changed, and the gaskets in order."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.core.engine.gaskets import GasketPair
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.units import shown, to_unit
from sleevewright.web.pictures.change_table import ChangeRow, change_table
from sleevewright.web.pictures.squish_section import SquishPicture, SquishState, squish_section
from sleevewright.web.plan.fit_drawings import number_of
from sleevewright.web.plan.viewer import Viewer

MOST_PAIRS = 8
STATES = (
    ("Before", ("face.squish_before", "face.head_was", "engine.deck")),
    ("After", ("face.squish_after", "face.head_now", "face.deck_after")),
)
"""What is drawn of each state: squish, head gasket, piston below the deck."""

CHANGES = (
    ("Squish", "face.squish_before", "face.squish_after", "face.squish_change"),
    ("Volume", "face.volume_before", "face.volume_after", "face.volume_change"),
    ("Compression, geometric", "face.ratio_before", "face.ratio_after", "face.ratio_change"),
    ("Compression, trapped", "face.trapped_before", "face.trapped_after", "face.trapped_change"),
    ("Piston below the deck", "engine.deck", "face.deck_after", "face.deck_change"),
)
"""Words, before, after and change of what the cut did."""


def squish_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The section before and, where a cut or a gasket was told, after."""
    del answer
    unit = viewer.unit(Quantity.SIZE)
    states = [
        state for heading, names in STATES if (state := _state(viewer, heading, names)) is not None
    ]
    if not states:
        return None
    said = "; ".join(f"{one.heading.lower()} {one.squish} {unit}" for one in states)
    says = f"Piston at top dead centre under the head, in section. Squish {said}."
    return squish_section(SquishPicture(tuple(states), unit, says))


def _state(viewer: Viewer, heading: str, names: tuple[str, str, str]) -> SquishState | None:
    """One state in the unit of the job, where all three of its heights are known."""
    unit, known = viewer.unit(Quantity.SIZE), [viewer.number(one) for one in names]
    values = [number_of(one) for one in known if one is not None]
    if len(values) < len(names):
        return None
    squish, gasket, deck = (to_unit(one, unit) for one in values)
    rows = (("head gasket", values[1]), ("piston below the deck", values[2]))
    return SquishState(
        heading=heading,
        gasket=gasket,
        deck=deck,
        gap=squish,
        squish=viewer.figure(names[0]),
        rows=tuple((words, _size(viewer, one)) for words, one in rows),
    )


def _size(viewer: Viewer, value: float) -> str:
    """A length of the picture as it is shown everywhere."""
    return shown(value, quantity=Quantity.SIZE.value, system=viewer.system).figure


def change_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """What the cut did: before, after, change; then each port's duration."""
    del answer
    rows = [
        row
        for words, before, after, change in CHANGES
        if (row := _change(viewer, words, (before, after, change)))
    ]
    for one in viewer.plan.answers():
        key, _, end = one.id.rpartition(".")
        if end == "change" and key.startswith("face.port."):
            words = f"{one.label.removesuffix(' stays open longer by')} stays open"
            was = f"ports.{key.removeprefix('face.port.')}.duration"
            ends = (was, f"{key}.lasts", one.id)
            rows += [row] if (row := _change(viewer, words, ends)) else []
            roof = viewer.number(f"{key}.roof")
            if roof is not None:
                words = f"{words.removesuffix(' stays open')}, roof from the deck"
                ends = (f"{key}.roof", f"{key}.roof_now", "face.roof_moved")
                rows += [row] if (row := _change(viewer, words, ends)) else []
    if not rows:
        return None
    heads = ("", "before", "after", "change")
    return change_table(tuple(rows), caption="Lengths are axial.", heads=heads)


def _change(viewer: Viewer, words: str, ends: tuple[str, str, str]) -> ChangeRow | None:
    """A row, where one of its figures is known."""
    answers = [viewer.number(one) for one in ends]
    first = next((one for one in answers[:2] if one is not None), None)
    if first is None:
        return None
    figures = [_figure(viewer, one, first) for one in answers]
    return ChangeRow(words, viewer.unit(first.quantity), *figures)


def _figure(viewer: Viewer, answer: Answer | None, like: Answer) -> str:
    """A figure of a row, in the unit of its first."""
    if answer is None:
        return ""
    if answer.quantity is like.quantity:
        return viewer.figure(answer.id)
    return viewer.like(answer, number_of(answer), like.quantity).figure


def gaskets_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The pairs of gaskets in order, the first of which restores it best."""
    pairs = answer.value
    if not isinstance(pairs, tuple) or not pairs:
        return None
    unit = viewer.unit(Quantity.SIZE)
    rows = tuple(_pair(viewer, one) for one in pairs[:MOST_PAIRS] if isinstance(one, GasketPair))
    heads = ("base and head", "squish", "compression", "first port longer")
    caption = f"Lengths: {unit}. Compression trapped, or geometric where no port is known."
    return change_table(rows, caption=caption, heads=heads)


def _pair(viewer: Viewer, pair: GasketPair) -> ChangeRow:
    """One pair of gaskets as a row."""
    ratio = pair.ratio if pair.trapped is None else pair.trapped
    squeeze = "" if ratio is None else _in(viewer, ratio, Quantity.RATIO)
    longer = "" if pair.lasts_longer is None else _in(viewer, pair.lasts_longer, Quantity.ANGLE)
    squish = _in(viewer, pair.squish, Quantity.SIZE)
    if not pair.is_squish_good:
        squish += " out"
    elif not pair.is_squish_sure:
        squish += " too close to call"
    if squeeze and not pair.is_ratio_good:
        squeeze += " out"
    words = f"{_in(viewer, pair.base, Quantity.SIZE)} + {_in(viewer, pair.head, Quantity.SIZE)}"
    return ChangeRow(words, "", squish, squeeze, longer)


def _in(viewer: Viewer, value: float, quantity: Quantity) -> str:
    """A figure as a page shows it."""
    return shown(value, quantity=quantity.value, system=viewer.system).figure
