"""Words for the shape of a bore or a sleeve, and the amount that goes with each.

Figures stand beside the words as answers of their own, so that each carries its doubt.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.ovals import Ovals
from sleevewright.core.metrology.profile import Form, NamedShape, Profile
from sleevewright.errors import InputError

STRAIGHT = "straight, as far as these readings tell"
UNEVEN = "uneven from depth to depth"
FEW_DEPTHS = "two depths do not tell a barrel"

_BOTH = "both ends"
_BORE: dict[tuple[str, bool], str] = {
    (Form.TAPER, True): "tapered, wider at the bottom",
    (Form.TAPER, False): "tapered, wider at the top",
    (Form.BOW, True): "barrel, widest at mid-height",
    (Form.BOW, False): "waist, narrowest at mid-height",
    (Form.TOP, True): "bell-mouth at the top",
    (Form.TOP, False): "tight at the top",
    (Form.BOTTOM, True): "bell-mouth at the bottom",
    (Form.BOTTOM, False): "tight at the bottom",
    (_BOTH, True): "bell-mouth at both ends",
    (_BOTH, False): "tight at both ends",
}
_OUTSIDE = _BORE | {
    (Form.TOP, True): "large at the top",
    (Form.TOP, False): "small at the top",
    (Form.BOTTOM, True): "large at the bottom",
    (Form.BOTTOM, False): "small at the bottom",
    (_BOTH, True): "large at both ends",
    (_BOTH, False): "small at both ends",
}
_BEYOND_TWO = 3


def shape_title(named: NamedShape, *, is_bore: bool = True) -> str:
    """What one named shape is called.

    Parameters
    ----------
    named : NamedShape
        The shape. [record]
    is_bore : bool
        Whether it is of a bore. [1]

    Returns
    -------
    str
        A few words. [text]

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> shape_title(NamedShape("bow", "", 1e-5, 1e-6, 8e-6, 12e-6))
    'barrel, widest at mid-height'
    """
    return _title(named.form, named.place, named.amount, _BORE if is_bore else _OUTSIDE)


def _title(form: str, place: str, amount: float, words: Mapping[tuple[str, bool], str]) -> str:
    if form == Form.STEP.value:
        side = "below" if amount > 0.0 else "above"
        return f"step at the {place} port, wider {side} it"
    return words[Form(form), amount > 0.0]


@formula(
    name="words for the shape of a bore",
    expression="named shapes in words, with what could be meant as well",
    sources=("practice",),
    validity="as the shape along the depth",
    unit="text",
)
def bore_shape(*, profile: Profile) -> str:
    """What a bore looks like along its depth, in words.

    Parameters
    ----------
    profile : Profile
        Shape along the depth. [record]

    Returns
    -------
    str
        A sentence without figures. [text]

    Notes
    -----
    Source: ``practice``.
    """
    return _said(profile, _BORE)


@formula(
    name="words for the shape of an outside",
    expression="named shapes in words, with what could be meant as well",
    sources=("practice",),
    validity="as the shape along the depth",
    unit="text",
)
def outside_shape(*, profile: Profile) -> str:
    """What a sleeve's outside looks like along its length, in words.

    Parameters
    ----------
    profile : Profile
        Shape along the length. [record]

    Returns
    -------
    str
        A sentence without figures. [text]

    Notes
    -----
    Source: ``practice``.
    """
    return _said(profile, _OUTSIDE)


def _said(profile: Profile, words: Mapping[tuple[str, bool], str]) -> str:
    """The named shapes, what they may be as well, what is not known."""
    ends = {(one.form, one.amount > 0.0) for one in profile.named}
    for side, both in ((True, words[_BOTH, True]), (False, words[_BOTH, False])):
        if ends == {(Form.TOP.value, side), (Form.BOTTOM.value, side)}:
            return f"{both}; also {UNEVEN}" if profile.is_uneven else both
    parts = []
    for one in profile.named:
        title = _title(one.form, one.place, one.amount, words)
        rivals = [_title(*rival, words) for rival in one.rivals]
        parts.append(f"{title} (or {', or '.join(rivals)})" if rivals else title)
    if profile.is_uneven:
        parts.append(f"also {UNEVEN}" if parts else UNEVEN)
    if profile.depths.size < _BEYOND_TWO:
        parts = [*(parts or [STRAIGHT]), FEW_DEPTHS]
    return "; ".join(parts) or STRAIGHT


@formula(
    name="amount of the most certain shape",
    expression="|b| of the shape that is named first",
    sources=("scheffe-1959", "derived"),
    validity="as the shape along the depth",
    unit="m",
)
def first_amount(*, profile: Profile) -> float:
    """How much the most certain shape amounts to, diametral.

    Parameters
    ----------
    profile : Profile
        Shape along the depth. [record]

    Returns
    -------
    float
        Amount, never negative. [m]

    Raises
    ------
    InputError
        If no shape is named.

    Notes
    -----
    Source: ``scheffe-1959``, ``derived``.
    """
    return _amount(profile, 0)


@formula(
    name="amount of the second shape",
    expression="|b| of the shape that is named second",
    sources=("scheffe-1959", "derived"),
    validity="as the shape along the depth",
    unit="m",
)
def second_amount(*, profile: Profile) -> float:
    """How much the second named shape amounts to, diametral.

    Parameters
    ----------
    profile : Profile
        Shape along the depth. [record]

    Returns
    -------
    float
        Amount, never negative. [m]

    Raises
    ------
    InputError
        If fewer than two shapes are named.

    Notes
    -----
    Source: ``scheffe-1959``, ``derived``.
    """
    return _amount(profile, 1)


def _amount(profile: Profile, index: int) -> float:
    if index >= len(profile.named):
        raise InputError("named shapes", len(profile.named), "", f"{index + 1} or more")
    return abs(profile.named[index].amount)


@formula(
    name="bow of a profile",
    expression="middle less the line through the ends, of a parabola by least squares",
    sources=("derived",),
    validity="three stations or more",
    unit="m",
)
def bow_of(*, profile: Profile) -> float:
    """Barrel, positive, or waist, negative: how far the middle stands off, diametral.

    Parameters
    ----------
    profile : Profile
        Shape along the depth. [record]

    Returns
    -------
    float
        Middle less the mean of the ends. [m]

    Raises
    ------
    InputError
        If fewer than three stations were read.

    Notes
    -----
    Source: ``derived``.
    """
    if profile.bow is None:
        allowed = "three or more for a barrel or a waist"
        hint = "Read a depth between the two."
        raise InputError("stations", int(profile.depths.size), "", allowed, hint)
    return profile.bow


@formula(
    name="words for out-of-round",
    expression="shared lobes in words, and what such a gauge does not see",
    sources=("practice", "derived"),
    validity="as the lobes shared by the stations",
    unit="text",
)
def round_words(*, ovals: Ovals) -> str:
    """Whether a part is round, which way it is oval, and what its gauge cannot see.

    Parameters
    ----------
    ovals : Ovals
        Lobes that the stations share. [record]

    Returns
    -------
    str
        A sentence without sizes. [text]

    Notes
    -----
    Source: ``practice``, ``derived``.
    """
    lobes = int(ovals.contacts)
    blind = "three lobes are not seen" if lobes == 2 else "an oval is not seen"
    if not ovals.is_seen:
        return f"round, as far as these readings tell; {blind}"
    turn = 360.0 / lobes
    first = round(math.degrees(ovals.axis)) % round(turn)
    places = [f"{first + round(k * turn)}°" for k in range(lobes)]
    shape = "oval" if lobes == 2 else "three-lobed"
    return f"{shape}, widest at {', '.join(places[:-1])} and {places[-1]}; {blind}"


@formula(
    name="oval that the stations share",
    expression="2 (c^2 + s^2)^(1/2)",
    sources=("derived",),
    validity="as the lobes shared by the stations; scatter makes it larger than it is",
    unit="m",
)
def oval_amount(*, ovals: Ovals) -> float:
    """Largest less smallest diameter of the shape that the stations share.

    Parameters
    ----------
    ovals : Ovals
        Lobes that the stations share. [record]

    Returns
    -------
    float
        Amount, diametral. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return ovals.amount
