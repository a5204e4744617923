"""Where the fit opens, with its band, and how likely it is to have opened in the engine."""

from __future__ import annotations

import numpy as np

from sleevewright.core.fits.running import grip_temperature, opening_casting_temperature
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.ranges import caution_beyond

Q = Quantity
NEVER = "iron in iron: heat alone never frees it; it is pressed or bored out"
SHARES = (("p05", 0.05, "one such fit in twenty"), ("p50", 0.5, "one in two"),
          ("p95", 0.95, "nineteen in twenty"))  # fmt: skip
"""Shares at which the temperatures are told: ending of the id, share, words."""

FIT_GRIP = Line(
    "fit.grip",
    "Lets go at",
    Q.TEMPERATURE,
    of="both parts alike; loose above this",
    would_change="one hot reading of bore and temperature calibrates the alloy",
)
RUNNING_EXCESS = Line(
    "running.excess", "Sleeve hotter by", Q.TEMPERATURE_DIFFERENCE, is_detail=True
)
FIT_OPENS = Line(
    "fit.opens",
    "Opens when the casting is at",
    Q.TEMPERATURE,
    of="sleeve hotter than the casting, as it is in an engine",
)
NOTHING = Line("running.nothing", "Nothing left of the fit", Q.DEVIATION, is_detail=True)
LOOSE = Line("fit.loose_cold", "chance that nothing works cold", Q.PROBABILITY, is_detail=True)
CHANCES = (
    ("fit.running_opens", "Chance that it opens, running", "fit.running", "running.nothing"),
    ("fit.hard_opens", "Chance that it opens, hard pull", "fit.hard", "running.nothing"),
    ("fit.running_short", "Chance of less than the least, running", "fit.running", "running.least"),
    ("fit.hard_short", "Chance of less than the least, hard pull", "fit.hard", "running.least"),
)
"""Id, words, the fit hot, and what it is to stay above."""


def enter_openings(ledger: Ledger) -> None:
    """Enter where the fit lets go and opens, each with its band, and the chances."""
    _enter_chances(ledger)
    grip = ledger.compute(
        FIT_GRIP,
        grip_temperature,
        diameter="sleeve.od",
        interference="fit.effective",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
    )
    if not grip.is_missing and grip.answer.value is None:
        ledger.amend("fit.grip", of=NEVER, absent="none")
        return
    caution_beyond(ledger, "fit.grip", casting=grip.point, sleeve=grip.point)
    excess = default("sleeve_excess")
    ledger.fact(
        RUNNING_EXCESS,
        Given(
            excess.value,
            Kind.ASSUMED,
            source=excess.source,
            typed=excess.note,
            standard=excess.doubt,
        ),
    )
    ledger.compute(
        FIT_OPENS,
        opening_casting_temperature,
        diameter="sleeve.od",
        interference="fit.effective",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        sleeve_excess="running.excess",
    )
    caution_beyond(ledger, "fit.opens", casting=ledger.value("fit.opens"))
    _enter_levels(ledger)


def _enter_chances(ledger: Ledger) -> None:
    """Enter how likely nothing, or less than the least, is left in the engine."""
    ledger.fact(NOTHING, Given(0.0, Kind.CHOSEN, source="derived"))
    for identity, label, hot, limit in CHANCES:
        line = Line(identity, label, Q.PROBABILITY, of="body, at the told temperatures")
        if ledger.has(hot) and not isinstance(ledger.samples(hot), np.ndarray):
            continue  # nothing about it is in doubt: the fit itself says all
        ledger.compute(line, chance_below, samples=hot, limit=limit)


def _enter_levels(ledger: Ledger) -> None:
    """Enter the temperatures at which some of such fits have let go and opened."""
    ledger.fact(NOTHING, Given(0.0, Kind.CHOSEN, source="derived"))
    below = {}
    if isinstance(ledger.samples("fit.effective"), np.ndarray):
        ledger.compute(LOOSE, chance_below, samples="fit.effective", limit=NOTHING.id)
        below = {"below": LOOSE.id}
    for key, share, words in SHARES:
        ledger.fact(
            Line(f"running.share_{key}", f"share, {words}", Q.RATIO, is_detail=True),
            Given(share, Kind.CHOSEN, source="practice"),
        )
        for base, label in (("grip", "Lets go"), ("opens", "Opens")):
            if not isinstance(ledger.samples(f"fit.{base}"), np.ndarray):
                continue
            ledger.compute(
                Line(
                    f"fit.{base}_{key}",
                    f"{label}, {words}",
                    Q.TEMPERATURE,
                    of="of the casting; the metals and the fit in doubt",
                    is_detail=base == "grip",
                ),
                level_of_share,
                samples=f"fit.{base}",
                share=f"running.share_{key}",
                **below,
            )
