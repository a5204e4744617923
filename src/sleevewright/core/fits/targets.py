"""What to cut for the sleeve in hand: parent bore, counterbore, and the bore to the piston.

All sizes are at 20 degC.  Diameters are diametral, depths are axial and count from the
deck downwards; stand-out is positive above the deck.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="parent bore target",
    expression="D_c = D_s - i",
    sources=("derived",),
    validity="sleeve measured; both at 20 degC",
    unit="m",
)
def parent_bore_target(*, outside_diameter: Number, interference: Number) -> Number:
    """Diameter to cut the parent bore to, for the sleeve in hand and a wanted interference.

    Parameters
    ----------
    outside_diameter : Number
        Measured outside diameter of the sleeve. [m]
    interference : Number
        Wanted interference. [m]

    Returns
    -------
    Number
        Diameter of the parent bore. [m]

    Raises
    ------
    InputError
        If the outside diameter is not positive and finite.

    Notes
    -----
    Definition of interference. Source: ``derived``.

    Examples
    --------
    >>> round(parent_bore_target(outside_diameter=76.289e-3, interference=88.9e-6) * 1e3, 4)
    76.2001
    """
    positive("sleeve outside diameter", outside_diameter, "m")
    return outside_diameter - finite("interference", interference, "m")


@formula(
    name="counterbore target",
    expression="D_cb = D_f - i_f",
    sources=("derived",),
    validity="flange measured; both at 20 degC",
    unit="m",
)
def counterbore_target(*, flange_diameter: Number, interference: Number) -> Number:
    """Diameter to cut the counterbore to, for the flange in hand.

    Parameters
    ----------
    flange_diameter : Number
        Measured outside diameter of the flange. [m]
    interference : Number
        Wanted interference at the flange, negative for clearance. [m]

    Returns
    -------
    Number
        Diameter of the counterbore. [m]

    Raises
    ------
    InputError
        If the flange diameter is not positive and finite.

    Notes
    -----
    Definition of interference. Source: ``derived``.
    """
    positive("flange diameter", flange_diameter, "m")
    return flange_diameter - finite("flange interference", interference, "m")


@formula(
    name="counterbore depth",
    expression="depth = flange thickness - stand-out",
    sources=("derived",),
    validity="cold; flange on its seat",
    unit="m",
)
def counterbore_depth(*, flange_thickness: Number, stand_out: Number) -> Number:
    """Depth of the counterbore from the deck, for a wanted stand-out of the flange.

    Parameters
    ----------
    flange_thickness : Number
        Measured thickness of the flange. [m]
    stand_out : Number
        Wanted height of the flange above the deck, negative below it. [m]

    Returns
    -------
    Number
        Depth of the seat below the deck. [m]

    Raises
    ------
    InputError
        If the thickness is not positive or the stand-out leaves no depth.

    Notes
    -----
    Geometry. Source: ``derived``.

    Examples
    --------
    >>> round(counterbore_depth(flange_thickness=3.0e-3, stand_out=0.05e-3) * 1e3, 4)
    2.95
    """
    positive("flange thickness", flange_thickness, "m")
    depth = flange_thickness - finite("stand-out", stand_out, "m")
    if not extremes(depth)[0] > 0.0:
        thickness = extremes(flange_thickness)[0]
        allowed = f"less than the flange thickness, {thickness:.6g} m"
        raise InputError("stand-out", extremes(stand_out)[1], "m", allowed)
    return depth


@formula(
    name="finished bore",
    expression="finished = piston + clearance",
    sources=("practice",),
    validity="piston measured where its maker says; both at 20 degC",
    unit="m",
)
def finished_bore(*, piston_diameter: Number, clearance: Number) -> Number:
    """Diameter of the finished bore for the piston in hand.

    Parameters
    ----------
    piston_diameter : Number
        Piston at its measuring height. [m]
    clearance : Number
        Wanted diametral clearance of the skirt. [m]

    Returns
    -------
    Number
        Finished bore. [m]

    Raises
    ------
    InputError
        If the piston is not positive or the clearance is negative.

    Notes
    -----
    Definition of skirt clearance. Source: ``practice``.
    """
    positive("piston diameter", piston_diameter, "m")
    return piston_diameter + not_negative("clearance", clearance, "m")


@formula(
    name="bored size before the hone",
    expression="bored = finished - hone stock",
    sources=("practice",),
    validity="stock on diameter",
    unit="m",
)
def bored_size(*, finished_bore: Number, hone_stock: Number) -> Number:
    """Diameter to bore to, leaving stock for the hone.

    Parameters
    ----------
    finished_bore : Number
        Finished bore. [m]
    hone_stock : Number
        Metal left for the hone, on diameter. [m]

    Returns
    -------
    Number
        Bored diameter. [m]

    Raises
    ------
    InputError
        If the bore is not positive or the stock is negative.

    Notes
    -----
    Geometry. Source: ``practice``.
    """
    positive("finished bore", finished_bore, "m")
    return finished_bore - not_negative("hone stock", hone_stock, "m")


@formula(
    name="finishing stock left after close-up",
    expression="stock = finished - (d_s - closure)",
    sources=("derived",),
    validity="sleeve bore measured before the drop; closure from the fit",
    unit="m",
)
def finishing_stock(*, finished_bore: Number, sleeve_bore: Number, closure: Number) -> Number:
    """Metal left on the sleeve's bore, on diameter, once the fit has closed it.

    Parameters
    ----------
    finished_bore : Number
        Finished bore. [m]
    sleeve_bore : Number
        Sleeve's bore before the drop. [m]
    closure : Number
        Shrinkage of that bore by the fit, positive. [m]

    Returns
    -------
    Number
        Stock on diameter; negative where the bore is already too large. [m]

    Raises
    ------
    InputError
        If a diameter is not positive or the closure is negative.

    Notes
    -----
    Closing the bore adds stock. Source: ``derived``.

    Examples
    --------
    >>> stock = finishing_stock(finished_bore=56.0e-3, sleeve_bore=55.8e-3, closure=50e-6)
    >>> round(stock * 1e6, 3)
    250.0
    """
    positive("finished bore", finished_bore, "m")
    positive("sleeve bore", sleeve_bore, "m")
    return finished_bore - (sleeve_bore - not_negative("closure", closure, "m"))


@formula(
    name="stock that boring and honing need",
    expression="stock = 2 offset + hone stock",
    sources=("practice",),
    validity="offset of the two axes, radial; the close-up adds to what is there",
    unit="m",
)
def stock_needed(*, offset: Number, hone_stock: Number) -> Number:
    """Metal that a sleeve's bore must have to clean up all round and leave the hone its part.

    Parameters
    ----------
    offset : Number
        How far the new bore's axis may lie off the sleeve's own, radial. [m]
    hone_stock : Number
        Metal left for the hone, on diameter. [m]

    Returns
    -------
    Number
        Stock on diameter. [m]

    Raises
    ------
    InputError
        If either is negative.

    Notes
    -----
    An offset comes off one side alone, so it counts twice on the diameter. Source:
    ``practice``.

    Examples
    --------
    >>> round(stock_needed(offset=50e-6, hone_stock=75e-6) * 1e6, 3)
    175.0
    """
    return 2.0 * not_negative("offset", offset, "m") + not_negative("hone stock", hone_stock, "m")


@formula(
    name="interference per diameter",
    expression="r = i / D",
    sources=("derived",),
    validity="any; thou per inch is the same figure as micrometres per millimetre",
    unit="1",
)
def ratio_for_interference(*, interference: Number, diameter: Number) -> Number:
    """Interference by the diameter, to be held against rules by the inch.

    Parameters
    ----------
    interference : Number
        Diametral interference. [m]
    diameter : Number
        Diameter of the fit. [m]

    Returns
    -------
    Number
        Interference per diameter. [1]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    The rule by the inch, turned round. Source: ``derived``.

    Examples
    --------
    >>> round(ratio_for_interference(interference=76.2e-6, diameter=76.2e-3) * 1e3, 6)
    1.0
    """
    return interference / positive("diameter", diameter, "m")
