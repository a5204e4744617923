"""The route of a job that lives: the stages of the work, and what comes after its release."""

from __future__ import annotations

from sleevewright.errors import NotFound
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.route import ROUTE, WITHOUT_PORTS, Stage

AFTER = "after"

LIFE: tuple[Stage, ...] = (*ROUTE, Stage(AFTER, "Afterwards"))
"""Every stage that a job can be at, in order."""

_BY_KEY = {stage.key: stage for stage in LIFE}


def stage_named(key: str) -> Stage:
    """The stage with this key; :class:`NotFound` where there is none."""
    if key not in _BY_KEY:
        raise NotFound("stage", key, tuple(_BY_KEY))
    return _BY_KEY[key]


def stages_of(kind: str) -> tuple[Stage, ...]:
    """The stages that a kind of engine goes through, in order."""
    return tuple(stage for stage in LIFE if kind not in stage.skipped_by)


def engine_kind(folded: Folded) -> str:
    """Kind of engine: as it was told since, else as the job was opened."""
    told = folded.text("engine.kind", cylinder=0)
    return told or str(folded.opened.get("engine_kind") or "two-stroke")


def is_ported(folded: Folded) -> bool:
    """Whether the cylinders of this job have ports in their walls."""
    return engine_kind(folded) not in WITHOUT_PORTS


_FIRST = ("intake", "found", "choice")
_LAST = ("release", AFTER)
_WITHOUT_SLEEVE = {
    "hone": ("piston", "hone", "rings"),
    "next oversize": ("setup", "piston", "ports", "hone", "rings"),
    "re-plate": ("piston", "hone", "rings"),
    "leave it": (),
}
"""What is left of the route where something else than a sleeve was agreed."""


def agreed_option(folded: Folded) -> str:
    """The option that was agreed last; empty while none is."""
    agreed = (str(one.body.get("option") or "").strip() for one in reversed(folded.decisions))
    return next((option for option in agreed if option), "")


def life_of(folded: Folded) -> tuple[Stage, ...]:
    """The stages of this job, in order; an agreed option without a sleeve shortens them."""
    stages = stages_of(engine_kind(folded))
    work = _WITHOUT_SLEEVE.get(agreed_option(folded))
    if work is None:
        return stages
    return tuple(one for one in stages if one.key in (*_FIRST, *work, *_LAST))
