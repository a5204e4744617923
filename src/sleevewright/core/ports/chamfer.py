"""The chamfer round a port: how far it reaches along the wall, and what the roof seems to be.

Section through the wall at an edge of the port.  The bore's face runs along the cylinder, the
edge of the window runs radially into the wall.  The chamfer takes the corner between them off:
one leg lies along the wall (its height), the other is radial (its depth), and its flat makes
the angle with the wall.  So tan(angle) = depth / height, and the flat is the third side.

The crown's edge passes the upper end of a roof's chamfer first: there gas begins to leak past.
The outline of a port, its timing and its area are those of the window and leave the chamfer
out; what is worked out here stands beside them.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, extremes, not_negative, positive
from sleevewright.core.engine.crank import port_opens
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_SECTION = "a straight flat in the section through the wall; the edge of the window is radial"


def _sloped(angle: Number) -> Number:
    """An angle to the wall that a chamfer can have."""
    low, high = extremes(positive("chamfer angle", angle, "rad"))
    if not high < np.pi / 2.0:
        allowed = "more than nought and less than 1.5708 rad (90 degrees) to the wall"
        raise InputError("chamfer angle", high if low > 0.0 else low, "rad", allowed)
    return angle


@formula(
    name="height of a chamfer along the wall",
    expression="h = c / tan(phi)",
    sources=("derived",),
    validity=_SECTION,
    unit="m",
)
def chamfer_height(*, depth: Number, angle: Number) -> Number:
    """How far a chamfer reaches along the wall from the edge of a port.

    Parameters
    ----------
    depth : Number
        How far it reaches into the wall, radial. [m]
    angle : Number
        Angle of its flat to the wall. [rad]

    Returns
    -------
    Number
        Leg along the wall. [m]

    Raises
    ------
    InputError
        If the depth is negative or the angle is not between nought and a right angle.

    Notes
    -----
    Right triangle in the section through the wall. Source: ``derived``.

    Examples
    --------
    >>> import math
    >>> round(float(chamfer_height(depth=0.3, angle=math.atan(0.3))), 6)
    1.0
    """
    height: Number = not_negative("chamfer depth", depth, "m") / np.tan(_sloped(angle))
    return height


@formula(
    name="angle of a chamfer to the wall",
    expression="phi = atan(c / h)",
    sources=("derived",),
    validity=_SECTION,
    unit="rad",
)
def chamfer_angle(*, depth: Number, height: Number) -> Number:
    """Angle of a chamfer to the wall, by both of its legs.

    Parameters
    ----------
    depth : Number
        How far it reaches into the wall, radial. [m]
    height : Number
        Leg along the wall. [m]

    Returns
    -------
    Number
        Angle of its flat to the wall. [rad]

    Raises
    ------
    InputError
        If a leg is not positive.

    Notes
    -----
    Right triangle in the section through the wall. Source: ``derived``.

    Examples
    --------
    >>> import math
    >>> round(math.degrees(float(chamfer_angle(depth=0.4, height=0.4))), 6)
    45.0
    """
    legs = positive("chamfer depth", depth, "m"), positive("chamfer height", height, "m")
    angle: Number = np.arctan2(*legs)
    return angle


@formula(
    name="width of a chamfer",
    expression="f = c / sin(phi)",
    sources=("derived",),
    validity=_SECTION,
    unit="m",
)
def chamfer_width(*, depth: Number, angle: Number) -> Number:
    """Width of the flat of a chamfer, as a glass or a rule sees it.

    Parameters
    ----------
    depth : Number
        How far it reaches into the wall, radial. [m]
    angle : Number
        Angle of its flat to the wall. [rad]

    Returns
    -------
    Number
        Width of the flat. [m]

    Raises
    ------
    InputError
        If the depth is negative or the angle is not between nought and a right angle.

    Notes
    -----
    Right triangle in the section through the wall. Source: ``derived``.

    Examples
    --------
    >>> import math
    >>> round(float(chamfer_width(depth=0.5, angle=math.radians(30.0))), 6)
    1.0
    """
    width: Number = not_negative("chamfer depth", depth, "m") / np.sin(_sloped(angle))
    return width


@formula(
    name="opening seems earlier by a chamfer",
    expression="t(z_roof) - t(z_roof - h)",
    sources=("derived",),
    validity="a flat crown edge; the upper end of the roof's chamfer counts as the roof",
    unit="rad",
)
def chamfer_advance(
    *, height: Number, roof_depth: Number, deck_clearance: Number, stroke: Number, rod: Number
) -> Number:
    """Crank angle by which the roof's chamfer lets the port begin to leak earlier.

    Parameters
    ----------
    height : Number
        How far the chamfer reaches up the wall from the roof. [m]
    roof_depth : Number
        Depth of the roof below the deck. [m]
    deck_clearance : Number
        Piston below the deck at top dead centre. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Rod between centres. [m]

    Returns
    -------
    Number
        Angle by which it seems to open earlier; it closes as much later. [rad]

    Raises
    ------
    InputError
        If the height is negative, or the piston never passes the roof or the chamfer's end.

    Notes
    -----
    Two looks at the same slider-crank. Source: ``derived``.

    Examples
    --------
    >>> import math
    >>> crank = dict(deck_clearance=0.0, stroke=72e-3, rod=125e-3)
    >>> told = chamfer_advance(height=1e-3, roof_depth=37.5e-3, **crank)
    >>> round(math.degrees(float(told)), 2)
    1.55
    """
    crank = {"deck_clearance": deck_clearance, "stroke": stroke, "rod": rod}
    upper = roof_depth - not_negative("chamfer height", height, "m")
    earlier: Number = port_opens(roof_depth=roof_depth, **crank) - port_opens(
        roof_depth=upper, **crank
    )
    return earlier


@formula(
    name="a port seems to last longer by its chamfer",
    expression="2 (t(z_roof) - t(z_roof - h))",
    sources=("derived",),
    validity="pin on the axis, so that it opens earlier by as much as it closes later",
    unit="rad",
)
def chamfer_lasts(advance: Number) -> Number:
    """Crank angle for which a port seems to stay open longer by the chamfer of its roof.

    Parameters
    ----------
    advance : Number
        Angle by which it seems to open earlier. [rad]

    Returns
    -------
    Number
        Twice that angle. [rad]

    Raises
    ------
    InputError
        If the angle is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> chamfer_lasts(0.5)
    1.0
    """
    longer: Number = 2.0 * not_negative("advance", advance, "rad")
    return longer
