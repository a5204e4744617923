"""Quick questions about the fit hot and about a thin casting, without a job."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.expansion import ExpansionLaw, scaled_law
from sleevewright.core.fits.hold import axial_hold
from sleevewright.core.fits.interference import effective_interference
from sleevewright.core.fits.rings import RingPair, casting_hoop_stress, contact_pressure
from sleevewright.core.fits.running import (
    grip_caution,
    opening_casting_temperature,
    running_interference,
)
from sleevewright.core.fits.thin import casting_wall, equal_hold_interference
from sleevewright.core.materials import default
from sleevewright.core.metals import Material
from sleevewright.core.uncertainty.inputs import InputQuantity, draw
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.planning.shop import DEFAULT_SEED
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_fit import (
    BARE,
    METALS,
    OVERRIDDEN,
    SIZES,
    interference_line,
    read_interference,
    ring_pair,
)
from sleevewright.services.quick_inputs import QuickInput, Typed, by_default, needed, read_words

DRAWS = 10_000
TIMES = 2.0
"""Walls that a thin casting is compared with: this one times two, where none is told."""

RUNNING_INPUTS = (
    *needed("sleeve_od", "parent_bore"),
    *METALS,
    *needed("running_casting", "running_sleeve"),
    *OVERRIDDEN,
)
THIN_INPUTS = (
    *SIZES,
    *needed("length"),
    *METALS,
    by_default("friction", "friction"),
    *BARE,
    QuickInput("other_wall", is_needed=False),
    *OVERRIDDEN,
)


@dataclass(frozen=True)
class Hot:
    """A fit between two metals, as it stands or as samples of what is not known of it."""

    diameter: float
    interference: Number
    casting: ExpansionLaw
    sleeve: ExpansionLaw

    @property
    def loose(self) -> float:
        """Share of it that is loose cold."""
        return float(np.mean(np.asarray(self.interference) <= 0.0))

    def left(self, casting: float, sleeve: float) -> Number:
        """What is left at two temperatures."""
        return running_interference(
            diameter=self.diameter,
            interference=self.interference,
            casting_law=self.casting,
            sleeve_law=self.sleeve,
            casting_temperature=casting,
            sleeve_temperature=sleeve,
        )

    def opens(self, excess: float) -> Number:
        """Where it opens, the sleeve hotter than the casting by so much."""
        return opening_casting_temperature(
            diameter=self.diameter,
            interference=self.interference,
            casting_law=self.casting,
            sleeve_law=self.sleeve,
            sleeve_excess=excess,
        )


def quick_running(words: Iterable[str]) -> QuickAnswer:
    """What is left at two temperatures, where the fit opens, and how likely it has."""
    typed = read_words("running", RUNNING_INPUTS, words)
    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    tight = read_interference(typed)
    told = Hot(typed.value("sleeve_od"), tight, casting.expansion, sleeve.expansion)
    at = typed.value("running_casting"), typed.value("running_sleeve")
    excess = at[1] - at[0]
    left, opens = float(told.left(*at)), float(told.opens(excess))
    doubted = _sampled(typed, casting, sleeve, tight)
    chance = chance_below(np.asarray(doubted.left(*at)), 0.0)
    caution = grip_caution(opens, casting_law=told.casting, sleeve_law=told.sleeve)
    return QuickAnswer(
        "running",
        typed,
        (
            interference_line(tight),
            Line("left_um", "Left, hot", left, "deviation", running_interference, "diametral"),
            Line(
                "opens_share", "Chance that it is open", chance, "probability", chance_below,
                note="metals and fit in doubt, the temperatures as told",
            ),
            *_opening_lines(opens, np.asarray(doubted.opens(excess)), doubted.loose),
        ),
        () if caution is None else (caution,),
    )  # fmt: skip


def _sampled(typed: Typed, casting: Material, sleeve: Material, tight: float) -> Hot:
    """Fit and both laws with their doubt: samples of each."""
    row = default("interference_doubt")
    typed.assume("doubt of the fit", row.stated)
    fit = draw(InputQuantity("fit", tight, row.value), count=DRAWS, seed=DEFAULT_SEED)
    laws = (_law(part, metal) for part, metal in (("casting", casting), ("sleeve", sleeve)))
    return Hot(typed.value("sleeve_od"), fit, *laws)


def _law(part: str, metal: Material) -> ExpansionLaw:
    """The law of a part's metal, scaled by samples of what is not known of its alloy."""
    law = metal.expansion
    scale = InputQuantity(f"{part} alloy", 1.0, metal.expansion_doubt)
    return scaled_law(
        reference=float(law.reference),
        slope=float(law.slope),
        scale=draw(scale, count=DRAWS, seed=DEFAULT_SEED),
        low=law.low,
        high=law.high,
    )


def _opening_lines(opens: float, samples: NDArray[np.float64], loose: float) -> tuple[Line, ...]:
    """Where it opens, and where one such fit in twenty and nineteen in twenty have."""
    there = math.isfinite(opens)
    note = "casting; sleeve hotter by as much as told" if there else "it does not open by heat"
    first = Line(
        "opens_c", "Opens at", opens if there else None, "temperature",
        opening_casting_temperature, note=note,
    )  # fmt: skip
    if not there:
        return (first,)
    levels = ((0.05, "p05", "one such fit in twenty"), (0.95, "p95", "nineteen in twenty"))
    rows = []
    for share, key, words in levels:
        level = level_of_share(samples=samples, share=share, below=loose)
        rows.append(
            Line(
                f"opens_{key}_c", f"Opens at, {words}", level if math.isfinite(level) else None,
                "temperature", level_of_share, note="casting",
            )
        )  # fmt: skip
    return (first, *rows)


def quick_thin(words: Iterable[str]) -> QuickAnswer:
    """What a wall holds and pulls, and what more fit for the hold of a thicker one costs."""
    typed = read_words("thin", THIN_INPUTS, words)
    pair = ring_pair(typed, typed.metal("casting"), typed.metal("sleeve"))
    tight = read_interference(typed)
    works = float(
        effective_interference(
            interference=tight,
            sleeve_roughness=typed.value("sleeve_roughness"),
            casting_roughness=typed.value("casting_roughness"),
        )
    )
    wall = float(casting_wall(pair))
    other = typed.given("other_wall")
    if other is None:
        typed.assume("other wall", "twice this one")
        other = TIMES * wall
    need = float(equal_hold_interference(pair, wall=other, interference=works))
    rows = (
        *_held(typed, pair, "", "", works),
        *_held(typed, pair, "needed_", ", at that fit", need),
    )
    return QuickAnswer(
        "thin",
        typed,
        (
            interference_line(tight),
            Line("wall_um", "Wall of the casting", wall, "size", casting_wall, "radial"),
            *rows[:2],
            Line("needed_um", "To hold as the other wall would", need, "deviation",
                 equal_hold_interference, "diametral"),
            *rows[2:],
        ),
    )  # fmt: skip


def _held(typed: Typed, pair: RingPair, key: str, label: str, fit: float) -> tuple[Line, Line]:
    """What a fit holds in a casting, and how hard it pulls it."""
    pressure = float(contact_pressure(pair, interference=fit))
    hoop = float(casting_hoop_stress(pair, pressure=pressure))
    hold = axial_hold(
        friction=typed.value("friction"),
        pressure=pressure,
        diameter=typed.value("sleeve_od"),
        length=typed.value("length"),
        contact_fraction=typed.value("contact"),
    )
    return (
        Line(f"{key}hold_kn", f"Holds, axially{label}", float(hold), "force", axial_hold),
        Line(f"{key}casting_hoop_mpa", f"Casting, hoop{label}", hoop, "pressure",
             casting_hoop_stress),
    )  # fmt: skip
