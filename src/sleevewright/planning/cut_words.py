"""Words and marks that a plan and a quick answer on a boring cut share."""

from __future__ import annotations

from sleevewright.errors import Caution

NEAR = 1.005
"""Speeds count as inside a range that they miss by rounding alone."""

MOST_FINISH = 2.54e-4 * NEAR
"""An ask on the diameter up to this (10 thou) is a finishing cut, above it a rough one."""


THIN_CHIP = Caution(
    "thin-chip",
    "The chip is thinner than 0.05 mm, below what the printed forces were fitted to: a dull edge "
    "may press twice as hard, and below some 5 µm it rubs and does not cut.",
    "kienzle-1952",
)

MOST_GIVE = 0.9
"""Share of the ask below which a bar gives way too much for its figures. Practice."""

GIVES_WAY = Caution(
    "gives-way",
    "The bar gives way by more than a tenth of what it is asked: the reckoning is for a bar that "
    "is stiff against its cut. Take less, or a shorter or thicker bar.",
    "practice",
)
