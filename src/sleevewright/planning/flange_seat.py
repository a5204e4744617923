"""Beside the plan: what flange and ledge bear under clamp and gas, and what a reading costs.

Upper values on loads that nobody measured; clamp and gas are assumed with their ranges and
can be set by the shop.  The fillet against the corner is not judged here.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.fits.interference import hidden_by_step, nearest_step, rounding_cost
from sleevewright.core.fits.ledge import (
    allowed_tension,
    flange_load,
    root_bending,
    root_shear,
    seat_pressure,
)
from sleevewright.core.materials import material
from sleevewright.jobs.model import Entry, Grid, Job
from sleevewright.planning.answers import Kind, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.facts import enter_default
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame

Q = Quantity

CLAMP = Line(
    "fit.clamp_load", "Clamp or head presses the flange with", Q.FORCE, of="share of its studs"
)
GAS = Line("fit.gas_pressure", "Gas on top of the flange", Q.PRESSURE, of="peak, as if no gasket")
LOAD = Line(
    "fit.flange_load",
    "Load on the ledge",
    Q.FORCE,
    "axial",
    of="clamp and gas together, an upper value",
)
SHEAR = Line(
    "fit.flange_shear", "Shear at the root of the flange", Q.PRESSURE, of="mean through the flange"
)
BENDING = Line(
    "fit.flange_bending",
    "Bending at the root of the flange",
    Q.PRESSURE,
    of="upper bound with the ledge square; a sloping ledge or a grain under it sees more",
)
SEAT = Line(
    "fit.seat_pressure",
    "Pressure on the ledge",
    Q.PRESSURE,
    of="flange down all round",
    would_change="a wider ledge, or a smaller chamfer at its inner edge",
)
CORNER = Line("fit.ledge_corner", "chamfer of the ledge", Q.DEVIATION, "radial", is_detail=True)
BEARS = Line("fit.seat_bears", "pressure that the ledge may see hot", Q.PRESSURE, is_detail=True)
HOT_SHARE = Line("fit.seat_hot_share", "strength left when hot", Q.RATIO, is_detail=True)

ROUNDED = Line("flange.od_rounded", "flange, rounded", Q.SIZE, "diametral", is_detail=True)
ROUNDING = Line(
    "fit.flange_rounding",
    "Rounding the flange costs",
    Q.DEVIATION,
    "diametral",
    of="of the flange's fit, if its size is rounded; negative is too tight",
)
NOMINAL = Line("sleeve.od_nominal", "sleeve by its nominal size", Q.SIZE, is_detail=True)
OVER_NOMINAL = Line("sleeve.od_over", "sleeve over its nominal", Q.DEVIATION, is_detail=True)
FLANGE_NOMINAL = Line("flange.od_nominal", "flange by its nominal size", Q.SIZE, is_detail=True)
FLANGE_OVER = Line("flange.od_over", "flange over its nominal", Q.DEVIATION, is_detail=True)
IF_NOMINAL = Line(
    "fit.if_nominal",
    "Fit if cut to the nominal",
    Q.DEVIATION,
    "diametral",
    of="had the parent bore been cut from the sleeve's nominal size, not from its readings",
)
FLANGE_IF_NOMINAL = Line(
    "fit.flange_if_nominal",
    "Flange fit if cut to the nominal",
    Q.DEVIATION,
    "diametral",
    of="had the counterbore been cut from the flange's nominal size, not from its readings",
)
TYPED_STEP = Line("fit.typed_step", "last place that was typed", Q.DEVIATION, is_detail=True)
COARSE = Line(
    "fit.coarse_step",
    "A typed size may hide",
    Q.DEVIATION,
    "diametral",
    of="of the fit either way: half of the last place that was typed",
)
COARSE_TEXT = (
    "A size of the sleeve was typed to a coarser step than a micrometer reads. Half of that step "
    "is in the fit, unseen: type what the micrometer shows, or take a set of readings."
)
COARSE_OVER = 1.5
"""A step is called coarse where it is more than so many times the micrometer's own."""


def flange_seat(frame: Frame, job: Job, corner: Entry | None = None) -> StageAnswers:
    """What flange and ledge bear, and what a rounded or a nominal size would have cost."""
    plan, ledger = frame.plan, frame.ledger()
    if plan_has(frame, "flange.od"):
        for identity, need in (
            ("flange.od", "flange diameter"),
            ("flange.thickness", "flange thickness"),
            ("sleeve.od", "outside of the sleeve"),
            ("sleeve.id", "bore of the sleeve"),
            ("casting.strength", "strength of the casting"),
        ):
            from_plan(ledger, plan, identity, need=need)
        _enter_loads(ledger)
        _enter_root(ledger)
        metal = material(job.casting.material or "unknown-aluminium")
        _enter_seat(ledger, corner, is_iron=metal.is_brittle)
        from_plan(ledger, plan, "fit.rounding_step", need="step that a reading is rounded to")
        ledger.compute(ROUNDED, nearest_step, size="flange.od", step="fit.rounding_step")
        ledger.compute(ROUNDING, rounding_cost, reading="flange.od", rounded="flange.od_rounded")
    _enter_nominal(ledger, frame, job)
    _enter_coarse(ledger, job)
    return beside(plan, "fit", "Fit", ledger.result())


def plan_has(frame: Frame, identity: str) -> bool:
    """Whether the plan knows this number."""
    known = next((one for one in frame.plan.answers() if one.id == identity), None)
    return known is not None and isinstance(known.value, float)


def _enter_loads(ledger: Ledger) -> None:
    """Enter clamp and gas as assumed, and what both press with."""
    enter_default(ledger, CLAMP, None, "flange_clamp_load")
    enter_default(ledger, GAS, None, "peak_pressure")
    ledger.compute(
        LOAD,
        flange_load,
        clamp_load="fit.clamp_load",
        gas_pressure="fit.gas_pressure",
        flange_diameter="flange.od",
        inside_diameter="sleeve.id",
    )


def _enter_root(ledger: Ledger) -> None:
    """Enter shear and bending where the flange joins the body."""
    ledger.compute(
        SHEAR,
        root_shear,
        load="fit.flange_load",
        diameter="sleeve.od",
        flange_thickness="flange.thickness",
    )
    ledger.compute(
        BENDING,
        root_bending,
        load="fit.flange_load",
        diameter="sleeve.od",
        flange_diameter="flange.od",
        flange_thickness="flange.thickness",
    )


def _enter_seat(ledger: Ledger, corner: Entry | None, *, is_iron: bool) -> None:
    """Enter the pressure on the ledge against what the casting bears when it is hot."""
    none = Given(0.0, Kind.ASSUMED, "practice", "none told: the whole ledge carries")
    told = None if corner is None else Given(corner.value, Kind.TYPED, "the job", corner.text)
    ledger.fact(CORNER, told or none)
    share = ledger.default("seat_hot_share")
    keeps = Given(share.value, Kind.ASSUMED, share.source, share.note)
    if is_iron:
        keeps = Given(1.0, Kind.ASSUMED, "practice", "iron keeps its strength at these heats")
    ledger.fact(HOT_SHARE, keeps)
    ledger.compute(
        BEARS, allowed_tension, CENTRALLY, strength="casting.strength", share="fit.seat_hot_share"
    )
    bears = ledger.value("fit.seat_bears")
    remedy = "a wider ledge, less clamp, or a smaller chamfer at the ledge"
    judge = None if bears is None else against_limit(bears, "most", remedy=remedy)
    ledger.compute(
        SEAT,
        seat_pressure,
        How(judge=judge),
        load="fit.flange_load",
        diameter="sleeve.od",
        flange_diameter="flange.od",
        corner="fit.ledge_corner",
    )


def _enter_nominal(ledger: Ledger, frame: Frame, job: Job) -> None:
    """Enter what cutting from the nominal sizes would have given instead."""
    for grid, size, wanted, lines in (
        ("sleeve-od", "sleeve.od", "fit.wanted", (NOMINAL, OVER_NOMINAL, IF_NOMINAL)),
        (
            "flange-od",
            "flange.od",
            "fit.flange_wanted",
            (FLANGE_NOMINAL, FLANGE_OVER, FLANGE_IF_NOMINAL),
        ),
    ):
        read = job.grid(grid)
        if read is None or read.nominal is None or not plan_has(frame, size):
            continue
        nominal, over, fit = lines
        from_plan(ledger, frame.plan, size, need="the size as read")
        from_plan(ledger, frame.plan, wanted, need="fit wanted")
        ledger.fact(nominal, Given(read.nominal.value, Kind.TYPED, "the job", read.nominal.text))
        ledger.compute(over, rest_of, whole=size, part=nominal.id)
        ledger.compute(fit, sum_of, wanted=wanted, allowance=over.id)


def _enter_coarse(ledger: Ledger, job: Job) -> None:
    """Enter what a typed size hides where its last place is coarser than a micrometer reads."""
    told = (
        (job.sleeve.outside_diameter, job.grid("sleeve-od")),
        (job.sleeve.flange_diameter, job.grid("flange-od")),
    )
    steps = [last_place(entry) for entry, grid in told if entry is not None and not _is_read(grid)]
    own = ledger.default(
        "micrometer_step_inch" if job.units == "inch" else "micrometer_step_metric"
    )
    step = max(steps, default=0.0)
    if step <= COARSE_OVER * own.value:
        return
    ledger.fact(TYPED_STEP, Given(step, Kind.TYPED, "the job"))
    ledger.compute(COARSE, hidden_by_step, step="fit.typed_step")
    ledger.advise(COARSE_TEXT)


def _is_read(grid: Grid | None) -> bool:
    """Whether a set of readings stands in place of the typed size."""
    return grid is not None and any(one for row in grid.readings for one in row)


def last_place(entry: Entry) -> float:
    """Worth of the last place of a size as it was typed, in metres."""
    figure = entry.text.split()[0].replace(",", ".") if entry.text else ""
    try:
        shown = abs(float(figure))
    except ValueError:
        return 0.0
    if not shown > 0.0 or not math.isfinite(shown):
        return 0.0
    places = len(figure.partition(".")[2])
    return entry.value / shown * 10.0**-places
