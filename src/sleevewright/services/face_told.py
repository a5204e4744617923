"""Use case: what was told of Face and of the engine before it, handed to the planner."""

from __future__ import annotations

import re
from dataclasses import replace

from sleevewright.errors import InputError, SleevewrightError, clipped
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.facing import facing
from sleevewright.planning.facing_told import FaceTold
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import CUT_CELL, is_deck_late, is_from_new_deck
from sleevewright.units import Dimension, parse

LEFT_ALONE = "left as it is"
THICKEST = 0.010
MAPS = (("found.roof", "as found"), ("target.roof", "to be"), ("left.roof", "as left"))
"""Ends of the cells of a port's roof, and what that map is called."""


def face_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The answers of Face; nothing where neither the stage nor the engine was told of."""
    if not _is_told(told):
        return None
    return facing(plan, face_told(told))


def _is_told(told: CutTold) -> bool:
    """Whether any cell was told that this stage alone reads."""
    own = told.folded.cells("face.", cylinder=told.cylinder)
    cells = ("found.squish", "found.volume", "found.chamber", "found.head_gasket")
    return bool(own) or any(told.text(one) for one in cells)


def face_told(told: CutTold) -> FaceTold:
    """Everything that the stage reads, from the records of one cylinder."""
    length = told.length
    cut, base_cut = length(CUT_CELL), length("face.base_cut")
    asked, base_asked = length("face.asked"), length("face.base_asked")
    is_left = told.text("face.done").strip() == LEFT_ALONE
    is_cut = is_left or cut is not None or base_cut is not None
    is_asked = not is_cut and (asked is not None or base_asked is not None)
    refused: list[str] = []
    old, new = _maps(told)
    return replace(
        _as_found(told),
        deck_cut=asked if is_asked else cut,
        base_cut=base_asked if is_asked else base_cut,
        is_asked=is_asked,
        is_left=is_left,
        base_now=length("face.base_gasket"),
        head_now=length("face.head_gasket"),
        solder_after=_ends(told, "face.squish"),
        flat=length("face.flat"),
        stand_out=length("face.stand_out"),
        roughness=length("face.roughness"),
        gasket_kind=told.text("face.gasket_kind").strip(),
        base_gaskets=_listed(told, "face.base_gaskets", "Base gaskets at hand", refused),
        head_gaskets=_listed(told, "face.head_gaskets", "Head gaskets at hand", refused),
        refused=tuple(refused),
        is_deck_late=is_deck_late(told),
        old_maps=old,
        new_maps=new,
    )


def _as_found(told: CutTold) -> FaceTold:
    """The engine as it came: its gaskets, its head, its piston and its solder."""
    length = told.length
    return FaceTold(
        engine=told.job.engine,
        ports=told.job.ports,
        base_was=length("found.gasket"),
        head_was=length("found.head_gasket"),
        step=length("found.head_step"),
        bowl=length("found.bowl"),
        hole=length("found.gasket_hole"),
        chamber=_volume(told, "found.chamber"),
        crown=_crown(told),
        crown_rise=length("found.crown_rise"),
        in_place=_volume(told, "found.volume"),
        solder=_ends(told, "found.squish"),
        is_cocked=told.text("found.solder").strip() == "through the plug hole",
        has_ports_cut=told.text("sleeve.ports").strip() in ("windows", "ready"),
    )


def _ends(told: CutTold, cell: str) -> tuple[Entry, ...]:
    """Solder at one or at both ends of the line of the pin."""
    both = (told.length(cell), told.length(f"{cell}_other"))
    return tuple(one for one in both if one is not None)


def _volume(told: CutTold, cell: str) -> Entry | None:
    """A volume that was told; nothing where there is none."""
    value = told.number(cell)
    found = told.folded.value(cell, cylinder=told.cylinder)
    if value is None or found is None:
        return None
    return Entry(value, found.text, "measured" if found.kind == "measured" else "typed")


def _crown(told: CutTold) -> Entry | None:
    """Volume of the crown above its edge: its dome less its dish; nothing where neither is told."""
    dome, dish = _volume(told, "found.crown"), _volume(told, "found.dish")
    if dish is None:
        return dome
    above = 0.0 if dome is None else dome.value
    text = f"dish {dish.text}" if dome is None else f"dome {dome.text}, dish {dish.text}"
    return Entry(above - dish.value, text, dish.kind)


def _listed(told: CutTold, cell: str, title: str, refused: list[str]) -> tuple[float, ...]:
    """Thicknesses of a list; what cannot be read is told of, and the list is left out."""
    text = told.text(cell)
    if not text.strip():
        return ()
    usual = "mm" if told.job.units == "metric" else "in"
    try:
        return thicknesses(text, field=title, unit=usual)
    except SleevewrightError as wrong:
        refused.append(str(wrong))
        return ()


_LIST_SIGNS = re.compile(r"[;/\n]")
_UNIT = re.compile(r"[a-zµ\"]+\.?$", re.IGNORECASE)


def thicknesses(text: str, *, field: str, unit: str) -> tuple[float, ...]:
    """Thicknesses of a list such as ``0.3, 0.5, 0.8 mm``, each once and in order.

    Parts are set off by commas with a space or by semicolons; a comma between digits is a
    decimal comma.  A unit at the end counts for all that carry none.

    Raises
    ------
    InputError
        If a part is no thickness, or none is there.

    Examples
    --------
    >>> thicknesses("0.3, 0.5, 0.8 mm", field="gaskets", unit="in")
    (0.0003, 0.0005, 0.0008)
    >>> thicknesses("0,3; 0,5 mm", field="gaskets", unit="in")
    (0.0003, 0.0005)
    """
    signed = _LIST_SIGNS.sub(";", text)
    parts = signed.split(";") if ";" in signed else re.split(r",\s+|\s+and\s+", signed)
    parts = [one.strip() for one in parts if one.strip()]
    last = _UNIT.search(parts[-1]) if parts else None
    common = last.group(0) if last else unit
    found = sorted({round(_thickness(one, field, common), 9) for one in parts})
    if not found:
        raise InputError(field, clipped(text), "", "thicknesses as 0.3, 0.5, 0.8 mm")
    return tuple(found)


def _thickness(part: str, field: str, unit: str) -> float:
    """One thickness, believed."""
    spoken = parse(part if _UNIT.search(part) else f"{part} {unit}", field=field,
                   dimension=Dimension.LENGTH)  # fmt: skip
    if not 0.0 <= spoken.value <= THICKEST:
        raise InputError(
            field, clipped(part), "", "0 to 10 mm (0.4 in) each, as 0.3, 0.5, 0.8 mm",
            "Is the unit right?",
        )  # fmt: skip
    return spoken.value


def _maps(told: CutTold) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Maps of the ports from the old deck and from the new one, by the order of the records."""
    old: list[str] = []
    new: list[str] = []
    for end, words in MAPS:
        key, _, size = end.partition(".")
        roofs = [one.name for one in told.job.ports if _has_roof(told, one.name, end)]
        if not roofs:
            continue
        after = [name for name in roofs if is_from_new_deck(told, key, name, size)]
        if len(after) < len(roofs):
            old.append(f"{words} (some)" if after else words)
        if after:
            new.append(words if len(after) == len(roofs) else f"{words} (some)")
    return tuple(old), tuple(new)


def _has_roof(told: CutTold, port: str, end: str) -> bool:
    """Whether the roof of a port was told in one of its maps."""
    cell = f"port/{escaped(port)}/{end}"
    return told.folded.value(cell, cylinder=told.cylinder) is not None
