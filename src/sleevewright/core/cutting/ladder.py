"""The passes from a bore as it is to its target: rough, semi-finish, and two equal finish ones.

The last two ask the same, so that the bar bends the same: what the first of them takes is
what the second will.  Where a pass of about the depth that is still to be asked was made
already, it has shown that, and the next may go to the target.  Asks are diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.checks import positive
from sleevewright.core.cutting.passes import CutState, ask_for, expected_taken
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

ALIKE = 0.35
"""Share by which two asks may differ and still bend the bar about alike. Practice."""
A_LITTLE_MORE = 1.25
"""A pass may ask this much more than its usual depth where that saves a pass. Practice."""

ROUGH, SEMI, FINISH = "rough", "semi-finish", "finish"


@dataclass(frozen=True)
class Depths:
    """Asks of a shop's passes, diametral: twice the depth per side."""

    rough_ask: float
    semi_ask: float
    finish_ask: float
    least_ask: float  # that a tip still cuts cleanly


@dataclass(frozen=True)
class PlannedPass:
    """One pass to come: its kind, what it is asked, and the bore that is expected after it."""

    pass_kind: str
    ask: float  # diametral
    bore_after: float  # diametral


@formula(
    name="passes to a target",
    expression="rough as deep as allowed, then semi-finish, then two equal ones",
    sources=("practice",),
    validity="one share for all depths; sums, rounded to nothing",
    unit="record",
)
def boring_ladder(
    *, bore: float, bore_target: float, cut_state: CutState, pass_depths: Depths, last_asked: float
) -> tuple[PlannedPass, ...]:
    """The passes that are planned from the bore as it is.

    Parameters
    ----------
    bore : float
        The bore as it is. [m]
    bore_target : float
        The bore that is wanted. [m]
    cut_state : CutState
        What is known of the cut. [record]
    pass_depths : Depths
        What the passes of this shop ask. [record]
    last_asked : float
        What the last pass was asked; nought where none was made. [m]

    Returns
    -------
    tuple[PlannedPass, ...]
        The passes in order, the last to the target. [record]

    Raises
    ------
    InputError
        If the target is not above the bore, or a depth is not positive.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> depths = Depths(1000e-6, 250e-6, 100e-6, 50e-6)
    >>> found = boring_ladder(
    ...     bore=60e-3, bore_target=61e-3, pass_depths=depths, last_asked=0.0,
    ...     cut_state=CutState(1.0, 0.0, 0.0, 0.0, 0.0))
    >>> [(one.pass_kind, round(1e6 * one.ask)) for one in found]
    [('rough', 550), ('semi-finish', 250), ('finish', 100), ('finish', 100)]
    """
    refuse_smaller(bore, bore_target)
    for name in ("rough", "semi", "finish", "least"):
        positive(f"depth of a {name} pass", getattr(pass_depths, f"{name}_ask"), "m")
    asks = _asks(
        float(ask_for(cut_state=cut_state, cut_rest=bore_target - bore)), pass_depths, last_asked
    )
    # An ask carries the offset once for each pass; the sum of what they take is the rest.
    even = (
        bore_target
        - bore
        - sum(float(expected_taken(cut_state=cut_state, cut_asked=x)) for _, x in asks)
    ) / (len(asks) * float(cut_state.share))
    found, size = [], bore
    for kind, ask in asks:
        size += float(expected_taken(cut_state=cut_state, cut_asked=ask + even))
        found.append(PlannedPass(kind, ask + even, size))
    return tuple(found)


def ladder_from(
    planned: tuple[PlannedPass, ...],
    ask: float,
    bore_after: float,
    *,
    bore_target: float,
    cut_state: CutState,
    pass_depths: Depths,
) -> tuple[PlannedPass, ...]:
    """A ladder whose first pass asks something else than was planned: the rest starts from it.

    Parameters
    ----------
    planned : tuple[PlannedPass, ...]
        The ladder as it was planned. [record]
    ask : float
        What its first pass asks in truth, diametral. [m]
    bore_after : float
        The bore that is expected after that. [m]
    bore_target : float
        The bore that is wanted. [m]
    cut_state : CutState
        What is known of the cut. [record]
    pass_depths : Depths
        What the passes of this shop ask. [record]

    Returns
    -------
    tuple[PlannedPass, ...]
        The passes in order; a single one stays single. [record]
    """
    first = PlannedPass(planned[0].pass_kind, ask, bore_after)
    if len(planned) == 1 or bore_after >= bore_target:
        return (first,)
    extra = (planned[0].bore_after - bore_after) / float(cut_state.share)
    after = planned[1]
    if abs(extra) <= (A_LITTLE_MORE - 1.0) * after.ask:  # the next pass takes it along
        return (first, PlannedPass(after.pass_kind, after.ask + extra, after.bore_after),
                *planned[2:])  # fmt: skip
    rest = boring_ladder(
        bore=bore_after, bore_target=bore_target, cut_state=cut_state,
        pass_depths=pass_depths, last_asked=ask,
    )  # fmt: skip
    return (first, *rest)


def _asks(whole: float, depths: Depths, last: float) -> list[tuple[str, float]]:
    """Kinds and asks that together are ``whole``."""
    is_known = last > 0.0 and abs(whole - last) <= ALIKE * last
    if whole < 2.0 * depths.least_ask or (is_known and whole <= A_LITTLE_MORE * depths.semi_ask):
        return [(FINISH, whole)]
    half = 0.5 * whole
    most = depths.semi_ask if last > 0.0 else A_LITTLE_MORE * depths.finish_ask
    if half <= most:
        return [(FINISH, half)] * 2
    finish = [(FINISH, depths.finish_ask)] * 2
    left = whole - 2.0 * depths.finish_ask
    if left <= A_LITTLE_MORE * depths.semi_ask:
        return [(SEMI, left), *finish]
    if left < 2.0 * depths.semi_ask:  # one of them would be a rough pass thinner than that
        return [(SEMI, 0.5 * left)] * 2 + finish
    count = math.ceil((left - depths.semi_ask) / depths.rough_ask - 1e-9)
    return [(ROUGH, (left - depths.semi_ask) / count)] * count + [(SEMI, depths.semi_ask), *finish]


def refuse_smaller(bore: float, target: float) -> None:
    """Refuse a target that a cut cannot reach.

    Parameters
    ----------
    bore : float
        The bore as it is. [m]
    target : float
        The bore that is wanted. [m]

    Raises
    ------
    InputError
        If the target is not above the bore.
    """
    positive("bore", bore, "m")
    if target <= bore:
        hint = (
            "Metal cannot be put back. What serves: a larger sleeve, turned to this bore and the "
            "fit; or the fit that this bore gives, accepted in writing."
        )
        raise InputError("target", target, "m", f"more than the bore as it is, {bore:.6g} m", hint)
