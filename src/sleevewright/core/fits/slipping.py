"""How far an unclamped flange lifts where friction along the fit carries a part of it.

A sleeve that has gripped cannot part freely from a casting that shrinks more: from its free
end inward the wall of the fit drags it along, until it is strained as the casting is.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="lift that friction leaves",
    expression="d = e s - f s^2 / (2 K), s = min(z, K e / f), 1/K = 1/(E A)_s + 1/(E A)_c",
    sources=("derived",),
    validity="friction of one figure along the length, no less than when it was unclamped",
    unit="m",
)
def lift_left(
    *,
    anchor_length: Number,
    strain: Number,
    sliding: Number,
    length: Number,
    sleeve_stiffness: Number,
    casting_stiffness: Number,
) -> Number:
    """Lift of a flange while an unclamped pair cools on, friction along the fit counted.

    Parameters
    ----------
    anchor_length : Number
        Distance from the seat to where the sleeve stays put. [m]
    strain : Number
        How much more the casting shrinks, by length, from unclamping on. [1]
    sliding : Number
        Force at which the whole sleeve slides, when it is unclamped. [N]
    length : Number
        Length that this force is spread over. [m]
    sleeve_stiffness, casting_stiffness : Number
        Section times modulus of each. [N]

    Returns
    -------
    Number
        Lift, nought where the casting shrinks no more than the sleeve. [m]

    Raises
    ------
    InputError
        If the length or a stiffness is not positive, or anchor length or friction is negative.

    Notes
    -----
    The mismatch that is carried rises from the free end by the friction over both
    stiffnesses, and what is not carried adds up to the lift. Friction grows as the pair
    cools, so this is still an upper value. Source: ``derived``, bars side by side.

    Examples
    --------
    >>> left = lift_left(anchor_length=47.5e-3, strain=3.96e-4, sliding=21e3, length=95e-3,
    ...     sleeve_stiffness=73e6, casting_stiffness=382e6)
    >>> round(left * 1e6, 1)
    14.7
    """
    reach = not_negative("anchor length", anchor_length, "m")
    stiff = 1.0 / (
        1.0 / positive("stiffness of the sleeve", sleeve_stiffness, "N")
        + 1.0 / positive("stiffness of the casting", casting_stiffness, "N")
    )
    drag = not_negative("friction", sliding, "N") / positive("length", length, "m")
    parting = np.maximum(strain, 0.0)
    share = drag * reach / stiff  # what friction would carry at the anchor
    slid = np.where(share > parting, parting * reach / np.maximum(share, 1e-300), reach)
    found = parting * slid - 0.5 * drag * slid**2 / stiff
    return cast("Number", found if np.ndim(found) else float(found))
