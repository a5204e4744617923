"""Whether a map of the ports can be right, in words: what is wrong, where, and what to do.

A map that is flagged is never used in silence: each of these texts stands as a caution at the
stage at which the map is told, and with the plan.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace

from sleevewright.core.ports.handed import handedness, names_apart
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.sound import (
    TURN,
    bridges,
    common_shift,
    most_round,
    short_way,
    strangers,
)
from sleevewright.jobs.catalog_maps import BY_ARC, BY_CHORD, INSIDE, MAP_TITLES
from sleevewright.jobs.portmaps import ToldMap
from sleevewright.planning.portmaps import ReadMap, Wall, placed_part, read_map
from sleevewright.units import shown

EVEN = 0.985
"""Likeness of a map to its own mirror image above which nothing can be told. Practice."""

CLEARLY = 0.01
"""How much better the mirrored map must fit before it is flagged. Practice."""

NAMES_APART = math.radians(15.0)
"""Ports of one name that lie further apart at the best turn may be mirrored. [rad] Practice."""

NEAR_SHIFT = 0.0006
"""How near a common shift must lie to the flange's thickness to be taken for it. [m] Practice."""

FAR = 0.5 * math.pi
"""A port farther than this from its fellow in another map is remarked. [rad]"""

MOST_KEPT = 64
"""Checks that are kept: every look at a cylinder asks for those of its maps."""

Flaw = tuple[str, str]
"""A flaw's key and its words."""


@dataclass(frozen=True)
class Checked:
    """A map with what it is checked against.

    Attributes
    ----------
    told : ToldMap
        What was told of it. [record]
    read : ReadMap
        What it came to. [record]
    wall : float
        Least wall between two windows. [m]
    other : PortMap | None
        Another map of the same cylinder, where there is one. [record]
    other_title : str
        What that one is called.
    flange : float | None
        Thickness of the flange of the sleeve. [m]
    units : str
        System of the job.
    """

    told: ToldMap
    read: ReadMap
    wall: float
    other: PortMap | None = None
    other_title: str = ""
    flange: float | None = None
    units: str = "metric"

    @property
    def title(self) -> str:
        """What the map is called at the head of a sentence."""
        return f"Port map {MAP_TITLES[self.told.key]}"

    def size(self, value: float) -> str:
        """A length along the wall or the depth, in the units of the job."""
        return shown(value, quantity="size", system=self.units).words


@dataclass(frozen=True)
class OnWall:
    """A map as it was told, and what it is read on."""

    told: ToldMap
    wall: Wall


@functools.lru_cache(maxsize=MOST_KEPT)
def flaws_of_told(
    own: OnWall, other: OnWall | None, least: float, flange: float | None, units: str
) -> tuple[Flaw, ...]:
    """What is wrong or doubtful about a map: the same as long as the same is told.

    Parameters
    ----------
    own : OnWall
        The map. [record]
    other : OnWall | None
        Another map of the same cylinder, where there is one. [record]
    least : float
        Least wall between two windows. [m]
    flange : float | None
        Thickness of the flange of the sleeve. [m]
    units : str
        System of the job.
    """
    against = None if other is None else read_map(other.told, other.wall).map
    title = "" if other is None else MAP_TITLES[other.told.key]
    read = read_map(own.told, own.wall)
    return map_flaws(Checked(own.told, read, least, against, title, flange, units))


def map_flaws(checked: Checked) -> tuple[Flaw, ...]:
    """Everything that is wrong or doubtful about a map.

    Parameters
    ----------
    checked : Checked
        The map and what it is checked against. [record]

    Returns
    -------
    tuple[Flaw, ...]
        Key and words of each flaw, the gravest first; none for a sound map. [record]
    """
    found: list[Flaw] = [
        (f"refused-{name}", f"{name} is left out of it: {why}")
        for name, why in checked.read.refused
    ]
    own = checked.read.map
    if own is None:
        return _titled(checked, found)
    placed = placed_part(checked.told, own)
    found += _from_outside(checked)
    found += _round(own)
    if placed is not None:
        found += _bridged(checked, placed)
        found += _sided(checked, placed)
    if checked.other is not None:
        found += _named(checked, own, checked.other)
        found += _shifted(checked, own, checked.other)
        found += _mirrored(checked, own, checked.other)
    return _titled(checked, found)


def _titled(checked: Checked, found: list[Flaw]) -> tuple[Flaw, ...]:
    return tuple((key, f"{checked.title}: {text}") for key, text in found)


def _bridged(checked: Checked, own: PortMap) -> list[Flaw]:
    """Windows that overlap, and bridges that are narrow."""
    found: list[Flaw] = []
    by_other = _overlapping_by_other_width(checked, own.diameter)
    for bridge in bridges(own, less_than=checked.wall):
        one, other = bridge.names
        key = f"{one}-{other}"
        if bridge.wall > 0.0:
            text = (
                f"between {one} and {other} stand only {checked.size(bridge.wall)} of wall, along "
                f"it; less than {checked.size(checked.wall)} is thin for a ring. Measure it."
            )
            found.append((f"bridge-{key}", text))
            continue
        text = (
            f"{one} and {other} overlap by {checked.size(bridge.overlap)} along the wall; two "
            f"windows cannot. Look at their angles and widths again."
        )
        hint = _width_words(checked.told, bridge.names, would_fit=bridge.names not in by_other)
        found.append((f"overlap-{key}", f"{text}{hint}"))
    return found


def _overlapping_by_other_width(checked: Checked, diameter: float) -> set[tuple[str, str]]:
    """Pairs that would overlap even if the widths were the other kind."""
    told = checked.told
    said = replace(told, widths=BY_ARC if told.widths == BY_CHORD else BY_CHORD)
    made = read_map(said, Wall(diameter)).map
    placed = None if made is None else placed_part(said, made)
    known = bridges(placed, less_than=checked.wall) if placed is not None else ()
    return {one.names for one in known if one.wall <= 0.0}


def _width_words(told: ToldMap, names: tuple[str, str], *, would_fit: bool) -> str:
    """What is asked of two windows that overlap by widths that are perhaps the other kind."""
    if all(one.outline for one in told.ports if one.name in names):
        return ""
    said, meant = ("arcs", "chords") if told.widths == BY_ARC else ("chords", "arcs")
    if would_fit:
        return f" Taken as {meant} they do not: were the widths, told as {said}, really {meant}?"
    if told.widths == BY_ARC:
        return ""  # as chords they would be wider still
    return " The widths are taken as chords; were they arcs, along the wall?"


def _from_outside(checked: Checked) -> list[Flaw]:
    """Angles of a cylinder looked at from outside, where nobody said which way they count."""
    told = checked.told
    counted = [one.name for one in told.ports if one.angle is not None and not one.outline]
    if told.view == INSIDE or told.is_round_told or not counted:
        return []
    text = (
        f"it was looked at from outside, and nobody said which way its angles were counted. They "
        f"are taken as {told.round}, which from outside runs to the left. Tell which way; left "
        f"and right in a name mean seen from inside."
    )
    return [("view", text)]


def _round(own: PortMap) -> list[Flaw]:
    """Windows that take more than the whole way round."""
    taken = most_round(own)
    if taken <= TURN:
        return []
    text = (
        f"at one depth the windows take {math.degrees(taken):.0f}° of 360° together; the angles "
        f"do not close. Look at the diameter that was measured on, and at the widths."
    )
    return [("round", text)]


def _sided(checked: Checked, own: PortMap) -> list[Flaw]:
    """Ports called left that lie right of the exhaust, seen from inside, or the reverse."""
    exhaust = next((port for port in own.ports if "exhaust" in port.name.lower()), None)
    if exhaust is None or not own.is_placed:
        return []
    wrong = []
    for port in own.ports:
        side = _side_of(port.name)
        away = short_way(port.middle - exhaust.middle)
        if side and port is not exhaust and side * away < 0.0 and abs(away) < math.pi - 0.02:
            wrong.append(port.name)
    if not wrong:
        return []
    names = " and ".join(wrong)
    why = (
        "Do the angles count the other way round, or were the names given from outside?"
        if checked.told.view == INSIDE
        else "The map was looked at from outside, and names mean seen from inside: swap the names."
    )
    text = (
        f"{names} would lie on the other side of the exhaust, seen from inside, than the name "
        f"says. {why} The mark that is not symmetric tells."
    )
    return [("sided", text)]


def _side_of(name: str) -> int:
    """The side that a name says: -1 left, counter-clockwise seen from the deck, 1 right."""
    words = name.lower().split()
    return -1 if "left" in words else 1 if "right" in words else 0


def _named(checked: Checked, own: PortMap, other: PortMap) -> list[Flaw]:
    """Ports that one of two maps has alone."""
    found: list[Flaw] = []
    here, there = strangers(own, other), strangers(other, own)
    if len(own.ports) != len(other.ports):
        text = f"it has {len(own.ports)} ports, {checked.other_title} {len(other.ports)}."
        found.append(("count", text))
    for one in here:
        text = f"{one.name} is not a port of {checked.other_title}."
        if one.nearest and own.is_placed and other.is_placed:
            away = math.degrees(one.away)
            text = f"{text} Nearest there is {one.nearest}, {away:.0f}° away: the same port?"
        found.append((f"stranger-{one.name}", text))
    found += [
        (f"lacking-{one.name}", f"it lacks {one.name}, which {checked.other_title} has.")
        for one in there
    ]
    return found


def _shifted(checked: Checked, own: PortMap, other: PortMap) -> list[Flaw]:
    """All edges deeper or higher by what the flange is thick."""
    shift, spread = common_shift(own, other)
    if checked.flange is None or math.isnan(shift):
        return []
    if abs(abs(shift) - checked.flange) > NEAR_SHIFT or spread > abs(shift) / 2.0:
        return []
    way = "deeper" if shift > 0.0 else "higher"
    text = (
        f"all of it lies {checked.size(abs(shift))} {way} than {checked.other_title}, which is "
        f"what the flange is thick, {checked.size(checked.flange)}. Do the depths count from "
        f"{checked.told.datum}, or from the other face of the flange?"
    )
    return [("datum", text)]


def _mirrored(checked: Checked, own: PortMap, other: PortMap) -> list[Flaw]:
    """A map that fits another one better mirrored than straight."""
    if not is_mirrored(own, other):
        return []
    text = (
        f"mirrored it fits {checked.other_title} better than straight. Was one of them looked "
        f"at from outside, are left and right swapped in its names, or do its angles count the "
        f"other way round? Look at the mark that is not symmetric before anything is clocked or "
        f"cut."
    )
    return [("mirrored", text)]


@functools.lru_cache(maxsize=MOST_KEPT)
def is_even(own: OnWall, other: OnWall | None) -> bool:
    """Whether only the mark tells a map from its mirror image, from what was told.

    Parameters
    ----------
    own : OnWall
        The map. [record]
    other : OnWall | None
        Another map of the same cylinder, where there is one. [record]
    """
    made = read_map(own.told, own.wall).map
    against = None if other is None else read_map(other.told, other.wall).map
    return made is not None and made.is_placed and cannot_tell(made, against)


def is_mirrored(own: PortMap, other: PortMap) -> bool:
    """Whether a map fits another clearly better mirrored than straight."""
    if not (own.is_placed and other.is_placed) or min(len(own.ports), len(other.ports)) < 3:
        return False
    straight, mirrored = names_apart(own, other)
    if straight > NAMES_APART and mirrored < straight / 3.0:
        return True
    seen = handedness(own, other)
    return seen.alike < EVEN and seen.mirrored - seen.straight >= CLEARLY


def cannot_tell(own: PortMap, other: PortMap | None) -> bool:
    """Whether the ports alone cannot tell a map from its mirror image."""
    return handedness(own, own if other is None else other).alike >= EVEN
