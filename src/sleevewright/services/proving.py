"""Use case: the plan of a cylinder with what its holds ask to be proved.

The planner answers from what was told; here the sets of a cylinder are handed to the proofs
one by one, and their answers are put with the plan, so that pages, holds and paper see one
plan.
"""

from __future__ import annotations

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO, grid_of, instruments_of
from sleevewright.jobs.model import Entry, Job
from sleevewright.jobs.pistonreading import piston_kind
from sleevewright.jobs.sets import LEDGE_DEPTHS, burr_is_off
from sleevewright.jobs.sleevecuts import cut_between
from sleevewright.planning.answers import Plan
from sleevewright.planning.athand import Gauging
from sleevewright.planning.beside import with_stage
from sleevewright.planning.concentric import concentric
from sleevewright.planning.flange_seat import flange_seat
from sleevewright.planning.form import ports_of
from sleevewright.planning.proofing import Frame, Gauged, with_held_back
from sleevewright.planning.proofs import ledge, parent_form, seat, with_form_judged
from sleevewright.planning.proofs_bores import PistonRead, finish
from sleevewright.planning.proofs_heat import HotReading, slip_gauged
from sleevewright.planning.provable import BothTimes
from sleevewright.planning.proved import ToProve, proof
from sleevewright.planning.ritual import make_ready
from sleevewright.planning.setting_up import set_up
from sleevewright.planning.settling import with_ways
from sleevewright.planning.settling_form import with_form_ways
from sleevewright.planning.settling_seat import with_seat_ways
from sleevewright.planning.settling_setup import Reach, with_setup_ways
from sleevewright.planning.shop import Shop
from sleevewright.planning.stationfactors import station_factors
from sleevewright.services.centring import centring_of
from sleevewright.services.swept import setup_sets, setup_told


def proved(plan: Plan, job: Job, folded: Folded, shop: Shop, *, cylinder: int = 1) -> Plan:
    """The plan with the answers that the holds of this cylinder rest on."""

    def gauged(feature: str, stage: str = "") -> Gauged:
        grid = grid_of(folded, feature, cylinder=cylinder, stage=stage)
        return Gauged(grid, instruments_of(folded, feature, cylinder=cylinder, stage=stage))

    def length(cell: str) -> Entry | None:
        told = folded.value(cell, cylinder=cylinder)
        nm = None if told is None else told.body.get("nm")
        if told is None or not isinstance(nm, int):
            return None
        return Entry(nm * NANO, told.text, told.kind)

    def hot(where: str) -> HotReading:
        return HotReading(length(f"heat.slip_{where}"), length(f"heat.zero_{where}"))

    chosen = shop.chosen
    plan = with_form_judged(Frame(plan, chosen))
    frame = Frame(plan, chosen, ports_of(job.ports))
    both = BothTimes(
        gauged("sleeve-id"),
        gauged("cooled-bore"),
        cut_between(folded, cylinder=cylinder),
        gauged("parent-bore"),
    )
    factors = station_factors(shop, job)
    to_prove = ToProve(both, job.sleeve, factors, shop.settings.least_chance_most)
    for stage in (
        set_up(frame, setup_sets(folded, cylinder), setup_told(folded, cylinder)),
        parent_form(frame, length("parent.three_point")),
        ledge(frame, _ledge_depths(folded, cylinder)),
        make_ready(frame, gauged("sleeve-od-again"), job.sleeve),
        slip_gauged(frame, hot("body"), hot("flange")),
        seat(frame, gauged("stand-out")),
        proof(frame, to_prove),
        finish(frame, gauged("finish-bore", "hone"), _piston_read(job, folded, cylinder)),
        flange_seat(frame, job, length("counterbore.corner")),
    ):
        plan = with_stage(plan, stage)
    chain = concentric(Frame(plan, chosen), centring_of(folded, cylinder=cylinder))
    plan = with_stage(plan, chain)
    sets = _sets(job, shop, gauged("finish-bore", "hone"))
    seats = _with_all(job, shop, (gauged(LEDGE_DEPTHS), gauged("stand-out")))
    plan = with_seat_ways(with_form_ways(with_ways(plan, sets), sets), seats)
    return with_held_back(with_setup_ways(plan, _reach(job, shop)))


def _piston_read(job: Job, folded: Folded, cylinder: int) -> PistonRead:
    """The piston as the job has it, and how it was read."""
    return PistonRead(
        job.piston.diameter,
        job.piston.clearance,
        piston_kind(folded.text("piston.kind", cylinder=cylinder)),
        folded.value("piston.temperature", cylinder=cylinder) is not None,
        folded.value("piston.height", cylinder=cylinder) is not None,
    )


def _ledge_depths(folded: Folded, cylinder: int) -> Gauged:
    """Depths of the ledge; none where the burr was not knocked off before them."""
    if not burr_is_off(folded, cylinder=cylinder):
        return Gauged()
    gauges = instruments_of(folded, LEDGE_DEPTHS, cylinder=cylinder)
    return Gauged(grid_of(folded, LEDGE_DEPTHS, cylinder=cylinder), gauges)


def _reach(job: Job, shop: Shop) -> Reach:
    """The indicators at hand, and how long the bore is as far as it was told."""
    told = [one.length.value for one in (job.casting, job.sleeve) if one.length is not None]
    return Reach(job.instruments + shop.instruments, max(told, default=None))


def _sets(job: Job, shop: Shop, finished: Gauged) -> dict[str, Gauging]:
    """The features as they were read, each with every gauge that is at hand."""
    known = job.instruments + shop.instruments
    sets = {grid.feature: Gauging(grid, known) for grid in job.grids}
    return sets | _with_all(job, shop, (finished,))


def _with_all(job: Job, shop: Shop, read: tuple[Gauged, ...]) -> dict[str, Gauging]:
    """Sets of the records, each with its own gauges first and every other that is at hand."""
    known, sets = job.instruments + shop.instruments, {}
    for one in read:
        if one.grid is not None:
            own = {gauge.name for gauge in one.instruments}
            rest = tuple(gauge for gauge in known if gauge.name not in own)
            sets[one.grid.feature] = Gauging(one.grid, (*one.instruments, *rest))
    return sets
