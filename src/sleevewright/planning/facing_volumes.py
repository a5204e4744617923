"""Stage Face, volumes: what is above the piston before and after, and both ratios."""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.chamber import (
    believed_volume,
    clearance_volume,
    disc_volume,
    dome_volume,
)
from sleevewright.core.engine.facing import ratio_change, roof_after, volume_after, volume_change
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.jobs.model import Entry, Port
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import told_size
from sleevewright.planning.facing_told import (
    BASE_CUT,
    BASE_THICKER,
    BORE,
    DECK_CUT,
    HEAD_THICKER,
    FaceTold,
    given_depth,
    tried,
)
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, assumed
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_STROKE

Q = Quantity
CHAMBER = Line("face.chamber", "Chamber of the head", Q.VOLUME, of="under a plate, by burette",
               is_detail=True)  # fmt: skip
HOLE = Line("face.hole", "Hole of the head gasket", Q.SIZE, "diametral", is_detail=True)
CROWN = Line("face.crown", "Crown above its edge", Q.VOLUME, of="negative of a dish",
             is_detail=True)  # fmt: skip
CROWN_RISE = Line("face.crown_rise", "Crown rises above its edge by", Q.SIZE, "axial",
                  is_detail=True)  # fmt: skip
IN_GASKET = Line("face.in_gasket", "Volume in the head gasket", Q.VOLUME)
ON_DECK = Line("face.on_deck", "Volume between piston and deck", Q.VOLUME, of="negative above it")
STEP_VOLUME = Line("face.step_volume", "Head in the bore takes", Q.VOLUME, is_detail=True)
IN_BORE = Line("face.step_in_bore", "head reaches into the bore by", Q.SIZE, "axial",
               is_detail=True)  # fmt: skip
PARTS = Line("face.volume_sum", "Volume above the piston by its parts", Q.VOLUME, of="before")
IN_PLACE = Line("face.volume_read", "Volume above the piston, by burette", Q.VOLUME, of="before",
                is_detail=True)  # fmt: skip
UNLIKE = Line("face.volume_unlike", "Burette less the parts", Q.VOLUME)
SWEPT = Line("face.swept", "Swept volume", Q.VOLUME)
BEFORE = Line("face.volume_before", "Volume above the piston before", Q.VOLUME)
AFTER = Line("face.volume_after", "Volume above the piston after", Q.VOLUME)
CUT = Line("face.volume_change", "Volume changes by", Q.VOLUME)
RATIO_BEFORE = Line("face.ratio_before", "Compression before, geometric", Q.RATIO)
RATIO_AFTER = Line("face.ratio_after", "Compression after, geometric", Q.RATIO)
TRAPPED_BEFORE = Line("face.trapped_before", "Compression before, trapped", Q.RATIO)
TRAPPED_AFTER = Line("face.trapped_after", "Compression after, trapped", Q.RATIO)
RATIO_CHANGE = Line("face.ratio_change", "Geometric compression changes by", Q.RATIO,
                    is_detail=True)  # fmt: skip
TRAPPED_CHANGE = Line("face.trapped_change", "Trapped compression changes by", Q.RATIO,
                      is_detail=True)  # fmt: skip
ROOM_BEFORE = Line("face.room_before", "trapped above the roof, before", Q.VOLUME, is_detail=True)
ROOM_AFTER = Line("face.room_after", "trapped above the roof, after", Q.VOLUME, is_detail=True)

TOO_HIGH = "fit a thicker head gasket, or have the chamber opened; the fuel sets the limit"
NOT_ALIKE = (
    "The volume by burette and the sum of its parts differ by more than both are in doubt by: "
    "look at the piston's place at top dead centre, air under the plate, the height of the plug."
)


def enter_volumes(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter the volume above the piston by burette or by its parts, and what follows."""
    _enter_parts(ledger, plan, told)
    tried(ledger, plan, SWEPT, swept_volume, bore=BORE.id, stroke=ENGINE_STROKE.id)
    before = PARTS.id
    if told.in_place is not None:
        ledger.fact(IN_PLACE, _burette(ledger, told.in_place, "volume above the piston"))
        ledger.compute(UNLIKE, volume_change, volume=PARTS.id, new_volume=IN_PLACE.id)
        _say_unlike(ledger)
        before = IN_PLACE.id
    if ledger.has(SWEPT.id):
        tried(ledger, plan, BEFORE, believed_volume, volume=before, swept=SWEPT.id)
        before = BEFORE.id
    tried(
        ledger, plan, AFTER, volume_after,
        volume=before, bore=BORE.id, deck_cut=DECK_CUT.id, base_cut=BASE_CUT.id,
        base_thicker=BASE_THICKER.id, gasket_hole=HOLE.id, head_thicker=HEAD_THICKER.id,
    )  # fmt: skip
    _enter_cut_volume(ledger, before)
    _enter_ratios(ledger, plan, told, before)


def _enter_parts(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter chamber, gasket, deck, step and crown, and their sum."""
    depth = ledger.default("depth_micrometer_setting").value
    ledger.fact(CHAMBER, _burette(ledger, told.chamber, "chamber of the head, by burette"))
    if told.hole is not None:
        ledger.fact(HOLE, told_size(told.hole, doubt=depth, need="hole of the head gasket"))
    else:
        note = "as wide as the bore: none was told"
        value = ledger.value(BORE.id)
        ledger.fact(HOLE, Given(value, Kind.ASSUMED, "practice", note, need="the engine's bore"))
    if told.crown is None and told.crown_rise is not None:
        rise = told_size(told.crown_rise, doubt=depth, need="height of the crown")
        ledger.fact(CROWN_RISE, rise)
        tried(ledger, plan, CROWN, dome_volume, across=BORE.id, bulge=CROWN_RISE.id)
    elif told.crown is not None:
        ledger.fact(CROWN, _burette(ledger, told.crown, "volume of the crown"))
    else:
        ledger.fact(CROWN, assumed(0.0, source="practice", note="flat crown: none was told"))
    into = min(0.0, 0.0 if told.step is None else told.step.value)
    ledger.fact(IN_BORE, assumed(into, source="derived"))
    ledger.compute(IN_GASKET, disc_volume, across=HOLE.id, height="face.head_was")
    ledger.compute(ON_DECK, disc_volume, across=BORE.id, height=ENGINE_DECK.id)
    ledger.compute(STEP_VOLUME, disc_volume, across=BORE.id, height=IN_BORE.id)
    tried(
        ledger, plan, PARTS, clearance_volume,
        chamber=CHAMBER.id, gasket_volume=IN_GASKET.id, deck_volume=ON_DECK.id,
        step_volume=STEP_VOLUME.id, crown_volume=CROWN.id,
    )  # fmt: skip


def _burette(ledger: Ledger, entry: Entry | None, need: str) -> Given:
    """A volume by burette, with what such a reading is honestly worth."""
    return told_size(entry, doubt=ledger.default("burette").value, need=need)


def _say_unlike(ledger: Ledger) -> None:
    """Say where the burette and the parts do not agree."""
    if not ledger.has(UNLIKE.id):
        return
    found = ledger.entry(UNLIKE.id).answer
    standard = 0.0 if found.doubt is None else found.doubt.standard
    if abs(float(ledger.value(UNLIKE.id))) > STATED_COVERAGE_FACTOR * standard:
        ledger.caution(f"face.unlike:{UNLIKE.id}", NOT_ALIKE, "practice")


def _enter_cut_volume(ledger: Ledger, before: str) -> None:
    """Enter what the cut took: from both volumes, or of the deck alone where they are not known."""
    if ledger.has(AFTER.id):
        ledger.compute(CUT, volume_change, volume=before, new_volume=AFTER.id)
        return
    line = Line("face.cut_volume", "The deck's cut took", Q.VOLUME, of="of the bore's width")
    ledger.compute(line, disc_volume, across=BORE.id, height=DECK_CUT.id)


def first_port(told: FaceTold) -> Port | None:
    """The port that opens first: the one whose roof lies highest."""
    known = [one for one in told.ports if one.roof is not None]
    return min(known, key=lambda one: one.roof.value if one.roof else 0.0, default=None)


def _enter_ratios(ledger: Ledger, plan: Plan, told: FaceTold, before: str) -> None:
    """Enter both ratios before and after."""
    most = ledger.default("ratio_most").value
    how = How(judge=against_limit(most, "most", remedy=TOO_HIGH))
    tried(ledger, plan, RATIO_BEFORE, compression_ratio, swept=SWEPT.id, clearance_volume=before)
    tried(
        ledger, plan, RATIO_AFTER, compression_ratio, how,
        swept=SWEPT.id, clearance_volume=AFTER.id,
    )  # fmt: skip
    ledger.compute(RATIO_CHANGE, ratio_change, ratio=RATIO_BEFORE.id, new_ratio=RATIO_AFTER.id)
    port = first_port(told)
    if port is not None:
        _enter_trapped(ledger, plan, port, before)


def _enter_trapped(ledger: Ledger, plan: Plan, port: Port, before: str) -> None:
    """Enter the ratio above the roof of the port that opens first."""
    depth = ledger.default("port_height").value
    roof = Line("face.roof", f"roof of the {port.name}", Q.SIZE, "axial", is_detail=True)
    ledger.fact(roof, given_depth(port.roof, depth))
    _enter_drops(ledger, plan)
    trapped = How(judge=against_limit(ledger.default("trapped_most").value, "most",
                                      remedy=TOO_HIGH))  # fmt: skip
    for line, room, volume, judged in (
        (TRAPPED_BEFORE, ROOM_BEFORE, before, How()),
        (TRAPPED_AFTER, ROOM_AFTER, AFTER.id, trapped),
    ):
        drop = "face.drop_before" if room is ROOM_BEFORE else "face.drop_after"
        tried(ledger, plan, room, swept_volume, bore=BORE.id, stroke=drop)
        named = Line(line.id, line.label, line.quantity, of=f"above the roof of the {port.name}")
        tried(
            ledger, plan, named, compression_ratio, judged,
            swept=room.id, clearance_volume=volume,
        )  # fmt: skip
    ledger.compute(
        TRAPPED_CHANGE, ratio_change, ratio=TRAPPED_BEFORE.id, new_ratio=TRAPPED_AFTER.id
    )


def _enter_drops(ledger: Ledger, plan: Plan) -> None:
    """Enter how far the piston is down where the first port closes, before and after."""
    before = Line("face.drop_before", "piston down at the roof, before", Q.SIZE, is_detail=True)
    after = Line("face.drop_after", "piston down at the roof, after", Q.SIZE, is_detail=True)
    moved = Line("face.roof_now", "roof below the new deck", Q.SIZE, "axial", is_detail=True)
    ledger.compute(before, rest_of, whole="face.roof", part=ENGINE_DECK.id)
    tried(ledger, plan, moved, roof_after, roof_depth="face.roof", deck_cut=DECK_CUT.id,
                   sunk="face.sunk")  # fmt: skip
    ledger.compute(after, rest_of, whole=moved.id, part="face.deck_after")
