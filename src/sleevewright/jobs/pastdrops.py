"""A past drop as it is learned from: what was seen of it, and the drop as the release signed it.

Only a drop whose slip was gauged, and of which a second is known, says anything; of the rest
stands why not.  A sleeve that stuck had gripped, or it jammed with a chance that is judged; one
that was freed again had not gripped, and counts as free as long as it was seen to be.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from hashlib import sha256
from typing import Any

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.learned_drops import SeenDrop
from sleevewright.core.materials import default
from sleevewright.jobs.drops import (
    CLOCKED,
    GRIPPED,
    IN,
    PULLED_OUT,
    SEATED,
    STAGE,
    STILL_LOOSE,
    STUCK,
    Dropped,
    dropped,
)
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.pastjobs import signed_leaves, standing_release
from sleevewright.jobs.records import WHOLE_JOB

WATCH = {
    "pedal": "watch_pedal",
    "key": "watch_pedal",
    "helper": "watch_helper",
    "pressed": "watch_helper",
    "afterwards": "watch_afterwards",
}
"""Default that says how well a second is known, by how it was known."""

FREED = "stuck and freed"
TOLD = ("measured", "typed")
"""Kinds of a form that somebody found on the hot parts."""
NUMBERS = {
    "diameter": "sleeve.od",
    "inside_diameter": "sleeve.id",
    "length": "sleeve.length",
    "interference": "fit.as_cut",
    "sleeve_temperature": "heat.sleeve",
    "room": "heat.room",
    "casting_mass": "casting.mass",
    "sleeve_mass": "sleeve.mass",
    "casting_density": "casting.density",
    "casting_specific_heat": "casting.specific_heat",
    "casting_conductivity": "casting.conductivity",
    "sleeve_specific_heat": "sleeve.specific_heat",
    "sleeve_conductivity": "sleeve.conductivity",
    "carry_time": "heat.carry",
}
"""Members of a case, and the answers of the signed plan that fill them."""
LAWS = {"casting_law": "casting.law", "sleeve_law": "sleeve.law"}


@dataclass(frozen=True)
class OwnDrop:
    """One drop of a released cylinder; nothing seen where it says nothing, and then why."""

    job: str
    cylinder: int
    released: str
    said: str  # what was seen, in words
    seen: SeenDrop | None
    why_not: str = ""
    is_invented: bool = False

    @property
    def name(self) -> str:
        """Job and cylinder."""
        return f"{self.job}/{self.cylinder}"


def own_drop(folded: Folded, cylinder: int) -> OwnDrop | None:
    """The drop of a cylinder; nothing where it was not released or no drop was told."""
    release, told = (
        standing_release(folded, cylinder, before=None),
        dropped(folded, cylinder=cylinder),
    )
    if release is None or told is None:
        return None
    after, before, by, said = _span(told)
    leaves = signed_leaves(release.body)
    case, flange = signed_case(leaves, told.clearance), signed_flange(leaves)
    why = _why_not(told, by) or _stale(folded, cylinder, told)
    if not why and case is None:
        why = "the signed plan lacks a size"
    if not why and case is not None and float(case.slip) <= flange:
        why = "no slip at the flange"
    seed = int(sha256(f"{folded.job}/{cylinder}".encode()).hexdigest()[:7], 16)
    watch = default(WATCH.get(told.known_by.get(by, "pressed"), "watch_afterwards")).value
    jam = default("jam_share").value if by == STUCK else 0.0
    form = signed_form(leaves)
    seen = (
        None
        if why or case is None
        else SeenDrop(case, after, before, watch, seed, flange, form, jam)
    )
    return OwnDrop(
        folded.job, cylinder, release.received[:10], said, seen, why,
        bool(folded.opened.get("invented")),
    )  # fmt: skip


def _why_not(told: Dropped, by: str) -> str:
    """Why a drop says nothing of the seconds."""
    if not by and told.went == FREED:
        return "it jammed and was freed: a jam is no grip"
    if not by:
        return "no second is known"
    if by == GRIPPED and told.gripped is not None and _last_free(told) > told.gripped:
        return "told as gripped, and as free after that"
    return "" if told.clearance is not None else "the slip was not gauged"


def _stale(folded: Folded, cylinder: int, told: Dropped) -> str:
    """Whether the slip is that of an earlier try, from a hotter casting."""
    gauged = folded.value("heat.slip_body", cylinder=cylinder)
    tries = [
        one.number
        for one in folded.events
        if (one.body.get("stage"), one.body.get("what")) == (STAGE, IN)
        and one.cylinder in (WHOLE_JOB, cylinder)
    ]
    if told.number == 1 or gauged is None or gauged.number > min(tries):
        return ""
    return "the slip was not gauged again after an earlier try"


def _last_free(told: Dropped) -> float:
    """When it was last seen to be free for certain; a seat may follow a grip by a press [s]."""
    return max(
        (one for one in (told.still_loose_at, told.pulled_out) if one is not None), default=0.0
    )


def _is_grip(told: Dropped) -> bool:
    """What was freed before it was seated had jammed, whatever was pressed."""
    if told.went != FREED or told.gripped is None:
        return True
    return told.seated is not None and told.gripped >= told.seated


def _span(told: Dropped) -> tuple[float, float, str, str]:
    """Free until, gripped by, which happening says so, and both in words."""
    if told.gripped is not None and _is_grip(told):
        return told.gripped, told.gripped, GRIPPED, f"gripped at {told.gripped:.1f} s"
    free = {
        STILL_LOOSE: told.still_loose_at,
        PULLED_OUT: told.pulled_out,
        SEATED: told.seated,
        CLOCKED: told.clocked,
    }
    known = {name: time for name, time in free.items() if time is not None}
    last = max(known, key=lambda name: known[name], default="")
    if told.stuck is not None and PULLED_OUT not in known and told.went != FREED:
        least = min(known.get(last, 0.0), told.stuck)
        return least, told.stuck, STUCK, f"stuck at {told.stuck:.1f} s"
    time = known.get(last, 0.0)
    return time, math.inf, last, f"still free at {time:.1f} s" if last else "no second known"


def signed_case(
    leaves: Mapping[str, Mapping[str, Any]], clearance: float | None
) -> DropCase | None:
    """The drop of a signed plan in plain numbers with the slip that was gauged."""
    if clearance is None:
        return None
    numbers: dict[str, Any] = {name: _value(leaves, one) for name, one in NUMBERS.items()}
    laws: dict[str, Any] = {name: _law(_value(leaves, one)) for name, one in LAWS.items()}
    if not all(isinstance(one, float) for one in numbers.values()) or None in laws.values():
        return None
    limit, dry = _value(leaves, "heat.limit"), _value(leaves, "drop.dry")
    if numbers["casting_mass"] <= 0.0 or clearance <= 0.0:
        return None
    return DropCase(
        **numbers,
        **laws,
        slip=clearance,
        limit=limit if isinstance(limit, float) else None,
        dry=dry if isinstance(dry, bool) else None,
        is_weighed=_value(leaves, "drop.is_weighed") is True,
    )


def signed_flange(leaves: Mapping[str, Mapping[str, Any]]) -> float:
    """Slip that a tighter flange uses up besides the form, as signed, diametral [m]."""
    used, form = _value(leaves, "drop.used"), _value(leaves, "drop.form")
    both = isinstance(used, float) and isinstance(form, float)
    return max(0.0, used - form) if both else 0.0


def signed_form(leaves: Mapping[str, Mapping[str, Any]]) -> float | None:
    """Form that was told of the hot parts, diametral [m]; nothing where it was judged."""
    value, kind = _value(leaves, "drop.form"), leaves.get("drop.form", {}).get("kind")
    is_told = kind in TOLD and isinstance(value, float) and value > 0.0
    return value if is_told else None


def _law(told: object) -> ExpansionLaw | None:
    """A law as a document holds it."""
    names = [one.name for one in fields(ExpansionLaw)]
    if not isinstance(told, Mapping) or not all(isinstance(told.get(n), float) for n in names):
        return None
    return ExpansionLaw(**{name: told[name] for name in names})


def _value(leaves: Mapping[str, Mapping[str, Any]], identity: str) -> Any:
    """Value of an answer in whatever unit it stands; nothing where it was not known."""
    leaf = leaves.get(identity, {})
    return next((one for key, one in leaf.items() if key.startswith("value_")), None)
