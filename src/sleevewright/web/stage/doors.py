"""Ways from the page of a stage to pages of its own: the metronome, the map of the ports."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sleevewright.web.stage.grind_view import GrindView


@dataclass(frozen=True)
class Door:
    """A press that leads on."""

    stage: str
    words: str
    path: str  # behind the address of the stage's page
    is_first: bool = False  # above the figures, not below them
    route: str = ""  # a stage that the job must have for this way to lead anywhere
    wants_list: bool = False  # whether it leads nowhere without a grind list


DOORS: tuple[Door, ...] = (
    Door("heat", "Ready when? The live page", "ready", is_first=True),
    Door("hone", "Metronome for the strokes", "crosshatch"),
    Door("honefit", "Metronome for the strokes", "crosshatch"),
    Door("found", "Map of the ports", "map", route="ports"),
    Door("choice", "Map of the ports", "map", route="ports"),
    Door("sleeve", "Map of the ports", "map", route="ports"),
    Door("ready", "Map of the ports", "map", route="ports"),
    Door("ports", "Map of the ports", "map", route="ports"),
    Door("ports", "Grind sheet, true size", "grind.pdf", wants_list=True),
    Door("found", "The bore in space", "bore", route="ports"),
    Door("ports", "The bore in space", "bore"),
    Door("ports", "Before and after, one sheet", "before-after.pdf"),
    Door("drop", "Drop screen", "go", is_first=True),
    Door("release", "Ports before and after, one sheet", "before-after.pdf", route="ports"),
    Door("found", "Ports on paper, and drawings of them", "paper", route="ports"),
    Door("ready", "Ports and flange scale on paper", "paper", route="ports"),
    Door("ports", "Ports on paper at true size", "paper"),
    Door("choice", "Which map is stock: every port's target", "targets", route="ports"),
    Door("heat", "File of a logger", "log-file"),
    Door("cool", "File of a logger", "log-file"),
    Door("drop", "What gives seconds, what takes them", "seconds"),
    *(
        Door(stage, "Read a scanned rubbing", "rubbing", route="ports")
        for stage in ("found", "sleeve", "ready", "ports")
    ),
)
"""In the order in which they stand on the page."""


def doors_of(
    stage: str, route: Collection[str] = (), special: object | None = None
) -> tuple[Door, ...]:
    """The ways that lead on from a stage of a job whose route holds these stages.

    ``special`` is what the page shows large: a grind list, where there is one.
    """
    has_list = isinstance(special, GrindView) and not special.wants
    own = (door for door in DOORS if door.stage == stage and (has_list or not door.wants_list))
    return tuple(door for door in own if not door.route or door.route in route)
