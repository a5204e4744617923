"""Which end grips first, and whether the flange holds the sleeve before it is seated.

Chances of the drops of this job within a model of places along the sleeve; sign good,
seconds poor, checked against no measured drop.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.flange_drop import FlangeEnd, end_times
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.planning.moving import Moved

FLANGE = {"diameter": "flange.od", "interference": "fit.flange", "thickness": "flange.thickness"}
"""Members of the flange and the answers of the plan that fill them."""


@dataclass(frozen=True)
class Ends:
    """Chances, 0 to 1, and how many drops they were counted from."""

    flange_first: float
    top_first: float
    flange_before_seated: float
    body_before_seated: float
    count: int

    @property
    def holds_proud(self) -> bool:
        """Whether the flange is likelier than the body to grip before it is seated.

        Within the counting error of both chances no difference is claimed.
        """
        both = self.flange_before_seated + self.body_before_seated
        noise = math.sqrt(max(both, 1.0 / self.count) / self.count)
        return self.flange_before_seated - self.body_before_seated > noise


def ends_of(case: DropCase, end: FlangeEnd, *, count: int, seed: int) -> Ends:
    """Chances of both ends of a drop, the flange seated once it is in.

    Parameters
    ----------
    case : DropCase
        The drop; its form without what the flange uses up. [record]
    end : FlangeEnd
        The flange. [record]
    count : int
        How many drops. [1]
    seed : int
        Seed that all streams share. [1]

    Returns
    -------
    Ends
        Chances. [1]

    Raises
    ------
    InputError
        If a value cannot be right.
    """
    draws = draw_unknowns(case, count=count, seed=seed)
    inputs = drop_inputs(case, draws, count=count, seed=seed)
    found = end_times(inputs, end, entry_time=draws.entry_time)
    entry = draws.entry_time
    rest = np.minimum(found.middle, found.bottom)
    return Ends(
        float(np.mean(found.flange < found.body)),
        float(np.mean(found.top < rest)),
        float(np.mean(found.flange <= entry)),
        float(np.mean(found.body <= entry)),
        count,
    )


def ends_in(standing: Moved, case: DropCase, *, count: int, seed: int) -> Ends | None:
    """The chances of a planned drop; nothing where its flange is not known."""
    if not all(standing.has(identity) for identity in FLANGE.values()):
        return None
    known = {name: standing.value(identity) for name, identity in FLANGE.items()}
    plain = replace(case, form=standing.value("drop.form"))
    return ends_of(plain, FlangeEnd(**known), count=count, seed=seed)


def end_words(ends: Ends) -> tuple[str, ...]:
    """What the chances say, and what to do."""
    top, flange = _in_hundred(ends.top_first), _in_hundred(ends.flange_first)
    early, body = _in_hundred(ends.flange_before_seated), _in_hundred(ends.body_before_seated)
    seated = (
        f"The top of the sleeve grips before the rest in {top} once the flange sits hot on its "
        "ledge: keep it pressed there, and the casting on wood, not on cold steel."
    )
    counterbore = f"The flange grips in its counterbore before the body does in {flange}."
    unseated = f"Before it is seated the flange grips in {early}, the body in {body}."
    said = [seated, counterbore, unseated]
    if ends.holds_proud:
        said.append(
            "The flange is likelier than the body to grip before it sits on its ledge, and then "
            "holds the sleeve proud: give it more slip, with less thou per inch than the body."
        )
    return tuple(said)


def _in_hundred(chance: float) -> str:
    """A chance as drops in a hundred."""
    hundred = 100.0 * chance
    if 0.0 < hundred < 1.0:
        return "less than 1 drop in 100"
    return "1 drop in 100" if f"{hundred:.0f}" == "1" else f"{hundred:.0f} drops in 100"
