"""Use case: an edge of a port is moved on the map: what would be told, and what it comes to."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.mapped import PortMap
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import LEFT_MAP
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in, ledger_of
from sleevewright.planning.map_figures import PortFigure, port_figures
from sleevewright.planning.map_moves import Move, Moved, moved_port, with_moved
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of, from_new_deck
from sleevewright.services.port_maps import map_of, wall_of


@dataclass(frozen=True)
class MovedMap:
    """The map with one port moved, what is told of it, its figures."""

    map: PortMap
    moved: Moved
    figures: tuple[PortFigure, ...]


def move_on_map(plan: Plan, told: CutTold, key: str, name: str, move: Move) -> MovedMap:
    """Move an edge of a port; nothing is written, the page tells what comes of it.

    Raises
    ------
    InputError
        If the map or the port cannot be drawn yet, or the move makes no window.
    """
    own = map_of(plan, told, key)
    wall, lacking = wall_of(plan, told, own.told)
    if wall is None or own.read.map is None:
        missing = lacking or "; ".join(own.read.needs)
        raise InputError("map", key, "", "a map that can be drawn", f"It still needs: {missing}.")
    # What is written now counts from the deck as it is now; what is drawn, from that of the maps.
    moved = moved_port(from_new_deck(told, key), name, move, wall, plan.units)
    if key == LEFT_MAP:
        points = moved.port.points + np.array([0.0, cut_of(told)])
        moved = replace(moved, port=replace(moved.port, points=points, shape=None))
    made = with_moved(own.read.map, moved.port)
    return MovedMap(made, moved, figures_of(plan, told, made, name))


def figures_of(plan: Plan, told: CutTold, port_map: PortMap, name: str) -> tuple[PortFigure, ...]:
    """What one port of a map comes to."""
    engine = told.job.engine
    known = known_in(plan, "engine.deck")
    deck = known.value if known is not None else None
    if not isinstance(deck, float):
        deck = ledger_of(plan).default("deck_clearance").value
    return port_figures(port_map, name, engine, deck=deck, units=plan.units)
