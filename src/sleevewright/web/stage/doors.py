"""Ways from the page of a stage to pages of its own: the metronome, the map of the ports."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Door:
    """A press that leads on."""

    stage: str
    words: str
    path: str  # behind the address of the stage's page
    is_first: bool = False  # above the figures, not below them


DOORS: tuple[Door, ...] = (
    Door("hone", "Metronome for the strokes", "crosshatch"),
    Door("honefit", "Metronome for the strokes", "crosshatch"),
    *(
        Door(stage, "Read a scanned rubbing", "rubbing")
        for stage in ("found", "sleeve", "ready", "ports")
    ),
)
"""In the order in which they stand on the page."""


def doors_of(stage: str) -> tuple[Door, ...]:
    """The ways that lead on from a stage."""
    return tuple(door for door in DOORS if door.stage == stage)
