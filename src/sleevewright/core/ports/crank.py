"""The crank that ports are timed on, as one record, and what its pin's offset is worth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number
from sleevewright.core.formulas import formula
from sleevewright.core.ports.crank_offset import GEOMETRY, offset_drop, passes_down


@dataclass(frozen=True)
class Crank:
    """A crank with its rod, and where the piston's edge stands.

    Attributes
    ----------
    stroke : float
        Stroke as it is quoted: from one dead centre to the other. [m]
    rod : float
        Rod between centres. [m]
    deck_clearance : float
        Crown's edge below the deck at top dead centre, negative above it. [m]
    pin_offset : float
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]
    """

    stroke: float
    rod: float
    deck_clearance: float = 0.0
    pin_offset: float = 0.0

    def depth_at(self, crank_angle: Number) -> Number:
        """Depth of the crown's edge below the deck at an angle, in metres."""
        drop = offset_drop(
            crank_angle=crank_angle, stroke=self.stroke, rod=self.rod, pin_offset=self.pin_offset
        )
        return self.deck_clearance + drop

    @property
    def parts(self) -> dict[str, float]:
        """Its sizes by the names that the functions of this module give them."""
        return {
            "stroke": self.stroke,
            "rod": self.rod,
            "deck_clearance": self.deck_clearance,
            "pin_offset": self.pin_offset,
        }


@formula(
    name="what the offset moves an opening by",
    expression="change = t(d) - t(0)",
    sources=("derived",),
    validity=GEOMETRY,
    unit="rad",
)
def offset_worth(
    *,
    edge_depth: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    pin_offset: Number,
) -> Number:
    """How much later a port opens than it would with the pin on the axis.

    Parameters
    ----------
    edge_depth : Number
        Depth below the deck, as of a port's roof. [m]
    deck_clearance : Number
        Crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Later, where positive. [rad]

    Raises
    ------
    InputError
        If the edge lies above top or below bottom dead centre.

    Notes
    -----
    Source: ``derived``.
    """
    place = {"edge_depth": edge_depth, "deck_clearance": deck_clearance, "stroke": stroke}
    with_it = passes_down(**place, rod=rod, pin_offset=pin_offset)
    return with_it - passes_down(**place, rod=rod, pin_offset=0.0 * np.asarray(pin_offset)[()])
