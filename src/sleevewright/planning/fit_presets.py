"""The presets of the fit by metal and cooling: what stands, why, and who set it.

Wanted and least are ratios by the diameter.  The least may be set as a fit too; the larger
of both counts, so that an owner may ask for more than any book does.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.allowances import interference_for_ratio, larger
from sleevewright.core.materials import default, table_text
from sleevewright.core.metals import Default
from sleevewright.core.tables import rows_of
from sleevewright.errors import NotFound
from sleevewright.planning.fit_advice import figure
from sleevewright.planning.fit_statements import COOLINGS, FAMILIES
from sleevewright.planning.shop import THE_SHOP, Chosen, default_in

FILE = "fit_presets.csv"
LOST_AT = 0.0762
"""Diameter that the losses are stated at, 3 in. [m]"""
DRIVES = ("heat", "stiffness")
TELL_BOTH = "Tell the wanted fit and the least yourself, and why."


@dataclass(frozen=True)
class Reason:
    """Why the preset of a kind of casting is as it is."""

    casting: str
    cooling: str
    drives: str
    lost_warm: float  # fit that a sleeve of 3 in loses at the assumed temperatures [m]
    lost_hard: float
    words: str
    source: str

    def said(self, diameter: float, *, system: str) -> str:
        """The words, with what is lost at a diameter in figures: a loss goes with the size."""
        warm, hard = (
            figure(lost * diameter / LOST_AT, system=system)
            for lost in (self.lost_warm, self.lost_hard)
        )
        return self.words.format(warm=warm, hard=hard)


@dataclass(frozen=True)
class Preset:
    """What stands for a kind of casting: wanted and least by the diameter, the least as a fit."""

    reason: Reason
    wanted: Default
    least: Default
    least_flat: Default

    @property
    def is_own(self) -> bool:
        """Whether the shop has set any of it."""
        return any(one.source == THE_SHOP for one in (self.wanted, self.least, self.least_flat))

    def wanted_at(self, diameter: float) -> float:
        """The fit that is wanted at a diameter, in metres."""
        return float(interference_for_ratio(ratio=self.wanted.value, diameter=diameter))

    def least_at(self, diameter: float) -> float:
        """The least at a diameter: the larger of that by the inch and that as a fit; metres."""
        by_inch = interference_for_ratio(ratio=self.least.value, diameter=diameter)
        return float(larger(one=by_inch, other=self.least_flat.value))

    def band_at(self, diameter: float) -> tuple[float, float]:
        """Between which fits the wanted one of this kind of casting usually lies; metres."""
        low, high = (
            float(interference_for_ratio(ratio=end, diameter=diameter))
            for end in (self.wanted.low, self.wanted.high)
        )
        return low, high


def preset_for(casting: str, cooling: str, chosen: Chosen = ()) -> Preset:
    """What stands for a kind of casting, with what the shop has set in its place.

    Parameters
    ----------
    casting : str
        Family of the casting's metal: ``aluminium`` or ``iron``.
    cooling : str
        ``air``, ``fan``, ``water`` or ``racing``.
    chosen : Chosen
        What the shop has set itself.

    Returns
    -------
    Preset
        Wanted and least with their sources, and the reason in words.

    Raises
    ------
    NotFound
        If there is no such kind.
    """
    reason = next(
        (one for one in reasons() if (one.casting, one.cooling) == (casting, cooling)), None
    )
    if reason is None:
        known = tuple(f"{one.casting}, {one.cooling}" for one in reasons())
        raise NotFound("kind of casting", f"{casting}, {cooling}", known)
    return Preset(
        reason,
        default_in(chosen, f"wanted_{casting}_{cooling}"),
        default_in(chosen, f"least_{casting}_{cooling}"),
        default_in(chosen, "least_fit"),
    )


@lru_cache(maxsize=1)
def reasons() -> tuple[Reason, ...]:
    """Why each preset is as it is, from the data."""
    return tuple(
        Reason(
            row.text("casting", FAMILIES[:-1]),
            row.text("cooling", COOLINGS[:-1]),
            row.text("drives", DRIVES),
            row.number("lost_warm"),
            row.number("lost_hard"),
            row.text("reason"),
            row.text("source"),
        )
        for row in rows_of(table_text(FILE), name=FILE)
    )


def presets(chosen: Chosen = ()) -> Iterable[Preset]:
    """Every preset, in the order of the data."""
    return (preset_for(one.casting, one.cooling, chosen) for one in reasons())


def ratio_said(preset: Preset, system: str) -> str:
    """Wanted and least by the diameter, and the least as a fit; the shop's own named as such."""
    wanted, least = (
        f"{by_diameter(one.value, system)} {name}{_owner(one)}"
        for one, name in ((preset.wanted, "wanted"), (preset.least, "least"))
    )
    flat = preset.least_flat
    also = f", at least {figure(flat.value, system=system)}{_owner(flat)}" if flat.value else ""
    return f"{wanted}, {least}{also}"


def reason_said(preset: Preset, diameter: float, *, system: str) -> str:
    """Why the preset is as it is: of figures that the shop has put aside, for whose they are.

    The reason was written for the tool's own figures, and no shop's is explained by it.
    """
    why, kind = preset.reason.said(diameter, system=system), preset.reason
    aside = [
        f"{words}{by_diameter(default(f'{name}_{kind.casting}_{kind.cooling}').value, system)}"
        for name, words, one in (
            ("wanted", "", preset.wanted),
            ("least", "least of ", preset.least),
        )
        if _owner(one)
    ]
    return f"The tool's reason for its own {' and '.join(aside)} was: {why}" if aside else why


def by_diameter(ratio: float, system: str) -> str:
    """An interference by the diameter in figures with its unit.

    Examples
    --------
    >>> by_diameter(0.0013, "inch")
    '1.3 thou/in'
    """
    return f"{1000.0 * ratio:.3g} {'thou/in' if system == 'inch' else 'µm/mm'}"


def _owner(one: Default) -> str:
    """Whose a figure is, where it is the shop's own."""
    return " (the shop's own)" if one.source == THE_SHOP else ""


def family_of(metal_family: str) -> str | None:
    """The kind of casting that a family of metals is counted to; none where nothing is advised.

    Examples
    --------
    >>> family_of("aluminium"), family_of("iron"), family_of("steel")
    ('aluminium', 'iron', None)
    """
    return metal_family if metal_family in FAMILIES[:-1] else None


def no_preset_said(metal: str) -> str:
    """That nothing is known of how tight a sleeve sits in a metal.

    Examples
    --------
    >>> no_preset_said("steel")
    'there is no preset and no advice for a casting of steel'
    """
    return f"there is no preset and no advice for a casting of {metal}"
