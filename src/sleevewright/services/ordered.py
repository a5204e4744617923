"""Use case: what sleeve to order for a cylinder, and what to make of the one that came."""

from __future__ import annotations

from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.life import agreed_option, engine_kind
from sleevewright.jobs.model import Entry
from sleevewright.jobs.stagefield import YES
from sleevewright.planning.accepting import Arrival
from sleevewright.planning.ordering import BLANK, Ordering, order_lines, order_of
from sleevewright.services.bench import Bench

NANO = 1e-9


def ordering_of(folded: Folded, *, cylinder: int = 1) -> Ordering:
    """What was told of the sleeve to order.

    Parameters
    ----------
    folded : Folded
        All that was told of the job.
    cylinder : int
        Which cylinder.

    Returns
    -------
    Ordering
        As far as it was told.
    """

    def length(cell: str) -> Entry | None:
        return _entry(folded.value(cell, cylinder=cylinder))

    return Ordering(
        bore=length("order.bore"),
        length=length("order.length"),
        flange_diameter=length("order.flange_diameter"),
        flange_thickness=length("order.flange_thickness"),
        form=folded.text("order.form", cylinder=cylinder),
        ports=folded.text("order.ports", cylinder=cylinder),
        is_flanged=folded.text("sleeve.flange", cylinder=cylinder) != "plain",
        is_ported=engine_kind(folded) == "two-stroke",
    )


def wants_sleeve(folded: Folded) -> bool:
    """Whether a sleeve may still be ordered: nothing else was agreed.

    Parameters
    ----------
    folded : Folded
        All that was told of the job.

    Returns
    -------
    bool
        Whether it is.
    """
    return agreed_option(folded) in ("", "sleeve")


def arrival_of(folded: Folded, *, cylinder: int = 1) -> Arrival:
    """What was told of the sleeve that came.

    Parameters
    ----------
    folded : Folded
        All that was told of the job.
    cylinder : int
        Which cylinder.

    Returns
    -------
    Arrival
        As far as it was told.
    """
    rung = folded.text("sleeve.rings", cylinder=cylinder).strip().lower()
    looked = folded.text("sleeve.cracks", cylinder=cylinder).strip()
    return Arrival(
        rings=None if not rung else rung == YES,
        crack_seen=None if looked not in ("seen", "none seen") else looked == "seen",
        overall=_entry(folded.value("sleeve.overall", cylinder=cylinder)),
        length_needed=_entry(folded.value("order.length", cylinder=cylinder)),
        is_blank=folded.text("order.form", cylinder=cylinder) == BLANK,
    )


def order_text(bench: Bench, number: str, cylinder: int = 1) -> tuple[str, ...]:
    """The order of a cylinder as lines of text.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    """
    from sleevewright.services.jobs import look

    seen = look(bench, number, cylinder)
    if seen.plan is None:
        return (seen.problem,)
    stage = order_of(seen.plan)
    if stage is None and seen.problem:
        return (f"No order for {number} yet: {seen.problem}",)
    if stage is None:
        return (f"No sleeve is ordered for {number}: something else was agreed.",)
    return order_lines(seen.plan, stage)


def _entry(told: Told | None) -> Entry | None:
    """A length that was told; nothing where it is none."""
    nm = None if told is None else told.body.get("nm")
    if told is None or not isinstance(nm, int):
        return None
    return Entry(nm * NANO, told.text, told.kind)
