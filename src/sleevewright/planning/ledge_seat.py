"""Beside the plan, stage Counterbore: how the ledge lies, and how the flange will sit on it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.checks import Number
from sleevewright.core.cutting.ledgecorner import (
    corner_wanted,
    radial_gap,
    ride_on_chamfer,
    ride_on_radius,
)
from sleevewright.core.cutting.ledgeplane import (
    LedgePlane,
    degrees_words,
    ledge_deepest,
    ledge_plane,
    ledge_rise,
    ledge_tilt,
    ledge_words,
    off_plane,
)
from sleevewright.core.cutting.sitting import Seat, seat_of, stand_out_on
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in, told_size
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.judging import against_limit, judged_with
from sleevewright.planning.ledge_depths import BURR, FACED, Depths, state_doubt
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import most

Q = Quantity
RADIUS, CHAMFER = "radius", "chamfer"

PLANE = Line("counterbore.plane", "plane of the ledge", Q.RECORD, is_detail=True)
LIES = Line("counterbore.lies", "The ledge lies", Q.TEXT)
RISE = Line(
    "counterbore.rise",
    "Ledge, deepest less shallowest of its plane",
    Q.DEVIATION,
    "axial",
    of="across the ledge",
    would_change="more places round the ledge",
)
TOWARD = Line(
    "counterbore.deepest_toward",
    "Deepest toward",
    Q.ANGLE,
    of="counter-clockwise seen from above, 0° as the readings have it",
)
TILT = Line("counterbore.tilt", "Ledge out of square to the deck", Q.SLOPE, of="rise by diameter")
OFF = Line(
    "counterbore.off_plane",
    "Farthest off its plane",
    Q.DEVIATION,
    "axial",
    of="four places leave little to tell it by",
)
SEAT = Line("counterbore.seat", "how the flange sits", Q.RECORD, is_detail=True)
TOUCHES = Line("counterbore.touches", "The flange touches first", Q.TEXT)
ROCKS = Line(
    "counterbore.rocks", "Flange rocks on the ledge by", Q.DEVIATION, "axial", of="at its rim"
)
UNDER_HIGH = Line(
    "counterbore.under_high", "underside where it lies highest", Q.SIZE, "axial", is_detail=True
)
UNDER_LOW = Line(
    "counterbore.under_low", "underside where it lies lowest", Q.SIZE, "axial", is_detail=True
)
OUT_HIGH = Line(
    "counterbore.out_high",
    "Flange will stand out, most",
    Q.DEVIATION,
    "axial",
    of="on the ledge as it is, deck faced as told",
)
OUT_LOW = Line("counterbore.out_low", "Flange will stand out, least", Q.DEVIATION, "axial",
               of="on the ledge as it is, deck faced as told")  # fmt: skip
UNEVEN = Line(
    "counterbore.uneven",
    "Stand-out, uneven by",
    Q.DEVIATION,
    "axial",
    of="most less least all round; of a flange that rocks, on its worse side",
)

FLANGE_VARIES = "sleeve.accept.flange_spread"
UNEVEN_MOST = Line(
    "counterbore.uneven_most",
    "Uneven at most, as the flange may lie",
    Q.DEVIATION,
    "axial",
    of="thick side of the flange over the high side of the ledge",
)
TURN_IT = (
    "The flange is not even itself. Where its ports let it, turn its thick side to where the ledge "
    "is deepest; the other way round both add up."
)

FILLET = Line(
    "counterbore.fillet", "Radius under the flange", Q.DEVIATION, "radial", is_detail=True
)
EDGE = Line("counterbore.edge", "Edge of the ledge", Q.DEVIATION, "radial", is_detail=True)
EDGE_SPARE = Line(
    "counterbore.corner_spare",
    "Ledge's edge over the radius under the flange",
    Q.DEVIATION,
    "radial",
    of="negative is a clash: the flange rides on its radius",
    would_change="measure both with radius gauges or a cast of putty",
)
RIDES = Line(
    "counterbore.rides",
    "Flange rides on its radius, up by",
    Q.DEVIATION,
    "axial",
    of="once body and bore have closed",
)
DROP_GAP = Line("counterbore.drop_gap", "gap at the drop", Q.DEVIATION, "radial", is_detail=True)
RIDES_HOT = Line(
    "counterbore.rides_hot",
    "Flange rides at the drop, up by",
    Q.DEVIATION,
    "axial",
    of="while the body is loose: it climbs from here as the bore closes",
)
TO_SPARE = Line("counterbore.edge_over", "to spare at the edge", Q.DEVIATION, is_detail=True)
WANTED = Line(
    "counterbore.edge_wanted",
    "Chamfer or radius that the ledge wants",
    Q.DEVIATION,
    "radial",
    of="leg of a 45° chamfer, or a radius",
)
NOT_PLANE = (
    "No plane goes through these depths within their doubt: a chip, chatter or a burr. Clean ledge "
    "and deck, look along the ledge with a light, and read it again before it is cut again."
)
ROCKING = (
    "The ledge is high at two opposite places: the flange rocks on them, and the clamp bends it "
    "down. A flange that is bent over a high place cracks at its root."
)


@dataclass(frozen=True)
class CornerTold:
    """What was told of the radius under the flange and of the ledge's edge."""

    fillet: Entry | None = None
    edge: Entry | None = None
    form: str = ""


def enter_plane(ledger: Ledger, depths: Depths | None) -> None:
    """Enter how the ledge lies and how a flange sits on it, as far as the places can tell."""
    plane, seat = (None, None) if depths is None else _fitted(ledger, depths)
    need = f"the ledge's depths at four places round it, and {BURR}"
    ledger.fact(PLANE, Given(plane, Kind.COMPUTED, "the readings", need=need))
    ledger.fact(SEAT, Given(seat, Kind.COMPUTED, "the readings", need=need))
    ledger.fact(LIES, Given(None if plane is None else ledge_words(plane), Kind.COMPUTED, "derived",
                            need=need))  # fmt: skip
    ledger.compute(RISE, ledge_rise, CENTRALLY, plane=PLANE.id)
    if plane is None or depths is None:
        return
    state_doubt(ledger, RISE.id, plane.rise_doubt)
    if plane.has_direction:
        ledger.compute(TOWARD, ledge_deepest, CENTRALLY, plane=PLANE.id)
        state_doubt(ledger, TOWARD.id, plane.deepest_doubt)
    if ledger.has("flange.od"):
        ledger.compute(TILT, ledge_tilt, CENTRALLY, fall=RISE.id, diameter="flange.od")
    if plane.freedom > 0:
        ledger.compute(OFF, off_plane, CENTRALLY, plane=PLANE.id)
        state_doubt(ledger, OFF.id, depths.own)
    if plane.is_plane is False:
        ledger.advise(NOT_PLANE)
    if seat is not None:
        _enter_seat(ledger, seat, depths)


def _fitted(ledger: Ledger, depths: Depths) -> tuple[LedgePlane | None, Seat | None]:
    """Plane and seat; a caution in their place where the places cannot tell them."""
    try:
        plane = ledge_plane(angles=depths.angles, depths=depths.values, standard=depths.own)
        return plane, seat_of(angles=depths.angles, depths=depths.values)
    except InputError as refused:
        ledger.caution("one-sided:counterbore.plane", str(refused), "derived")
        return None, None


def _enter_seat(ledger: Ledger, seat: Seat, depths: Depths) -> None:
    """Enter what the flange touches and how far it will stand out, most and least."""
    at = ", ".join(degrees_words(depths.angles[one]) for one in seat.touches)
    ledger.fact(TOUCHES, Given(f"at {at}", Kind.COMPUTED, "derived"))
    rocks_beyond = 2.0 * STATED_COVERAGE_FACTOR * depths.own
    if seat.rocks > rocks_beyond:
        rocks = Given(seat.rocks, Kind.COMPUTED, "derived", standard=2.0 * depths.own)
        ledger.fact(ROCKS, rocks)
        # The spread has a reading's whole doubt; while it may be nought, nothing is said to rock.
        spread = float(depths.values.max() - depths.values.min())
        if spread > math.sqrt(2.0) * STATED_COVERAGE_FACTOR * depths.standard:
            ledger.advise(ROCKING)
    ride = float(ledger.value(RIDES.id) or 0.0)
    rides = ledger.entry(RIDES.id).answer.doubt if ledger.has(RIDES.id) else None
    standard = math.hypot(depths.standard, 0.0 if rides is None else rides.standard)
    for under, out, deep in (
        (UNDER_HIGH, OUT_HIGH, seat.highest),
        (UNDER_LOW, OUT_LOW, seat.lowest),
    ):
        ledger.fact(under, Given(deep - ride, Kind.COMPUTED, "derived", standard=standard))
        ledger.compute(
            out,
            stand_out_on,
            flange_thickness="flange.thickness",
            underside=under.id,
            faced=FACED.id,
        )
    ledger.compute(UNEVEN, rest_of, CENTRALLY, whole=OUT_HIGH.id, part=OUT_LOW.id)
    if ledger.has(UNEVEN.id):
        state_doubt(ledger, UNEVEN.id, (2.0 if seat.rocks else math.sqrt(2.0)) * depths.own)
        even = most(ledger, "stand_out_spread", "square the ledge, chips and burrs off first")
        entry = ledger.entry(UNEVEN.id).answer
        judged = judged_with(even, float(ledger.value(UNEVEN.id)), entry.doubt)
        ledger.amend(UNEVEN.id, judgement=judged)


def enter_flange_varies(ledger: Ledger, plan: Plan) -> None:
    """Enter how uneven the stand-out may become where the flange itself varies."""
    if not ledger.has(UNEVEN.id):
        return
    known = known_in(plan, FLANGE_VARIES)
    if known is None or not isinstance(known.value, float):
        return
    from_plan(ledger, plan, FLANGE_VARIES, need="flange thickness at four places")
    ledger.compute(UNEVEN_MOST, sum_of, CENTRALLY, wanted=UNEVEN.id, allowance=FLANGE_VARIES)
    if float(ledger.value(UNEVEN_MOST.id)) > ledger.default("stand_out_spread").value:
        ledger.advise(TURN_IT)


def enter_corner(ledger: Ledger, plan: Plan, told: CornerTold) -> None:
    """Enter whether the flange rides on the radius under it; nothing where none was told."""
    if told.fillet is None:
        return
    doubt = ledger.default("radius_gauge").value
    ledger.fact(FILLET, told_size(told.fillet, doubt=doubt, need="radius under the flange"))
    over = ledger.default("corner_spare")
    ledger.fact(TO_SPARE, Given(over.value, Kind.ASSUMED, over.source, over.note))
    ledger.compute(WANTED, corner_wanted, CENTRALLY, fillet=FILLET.id, spare=TO_SPARE.id)
    ledger.fact(EDGE, told_size(told.edge, doubt=doubt, need="corner of the ledge"))
    judge = against_limit(0.0, "least", remedy="chamfer the ledge, or it carries the flange's root")
    ledger.compute(EDGE_SPARE, rest_of, How(judge=judge), whole=EDGE.id, part=FILLET.id)
    ride = ride_on_chamfer if told.form == CHAMFER else ride_on_radius
    ledger.compute(RIDES, ride, CENTRALLY, fillet=FILLET.id, corner=EDGE.id)
    _state_ride(ledger, RIDES, ride)
    if ledger.has(RIDES.id) and float(ledger.value(RIDES.id)) > 0.0:
        from_plan(ledger, plan, "heat.slip", need="slip at the drop")
        ledger.compute(DROP_GAP, radial_gap, CENTRALLY, slip="heat.slip")
        both = {"fillet": FILLET.id, "corner": EDGE.id, "body_gap": DROP_GAP.id}
        ledger.compute(RIDES_HOT, ride, CENTRALLY, **both)
        _state_ride(ledger, RIDES_HOT, ride, gap=float(ledger.value(DROP_GAP.id) or 0.0))
        ledger.advise(
            "The radius under the flange is larger than the ledge's edge: the flange stands on its "
            "root and not on its face, and cracks there. Cut the chamfer before the depth is "
            "judged; until then the stand-out told here has the ride in it."
        )


def _state_ride(
    ledger: Ledger, line: Line, ride: Callable[..., Number], *, gap: float = 0.0
) -> None:
    """Give a ride the doubt that both radius gauges leave; it is never below nought."""
    if not ledger.has(line.id):
        return
    value = float(ledger.value(line.id))
    fillet, edge = (float(ledger.value(one.id)) for one in (FILLET, EDGE))
    moves = []
    for which in (FILLET, EDGE):
        doubt = ledger.entry(which.id).answer.doubt
        by = 0.0 if doubt is None else doubt.standard
        off = (by, 0.0) if which is FILLET else (0.0, by)
        found = [
            ride(
                fillet=max(fillet + sign * off[0], 0.0),
                corner=max(edge + sign * off[1], 0.0),
                body_gap=gap,
            )
            for sign in (-1.0, 1.0)
        ]
        moves.append(max(abs(float(one) - value) for one in found))
    standard = math.hypot(*moves)
    half = STATED_COVERAGE_FACTOR * standard
    doubt = Doubt(standard, max(value - half, 0.0), value + half, 0.95, "linear")
    ledger.amend(line.id, doubt=doubt)
