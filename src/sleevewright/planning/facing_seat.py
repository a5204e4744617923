"""Stage Face, the face itself: flat, stand-out and roughness, as the gasket asks for them."""

from __future__ import annotations

from sleevewright.core.engine.facing import flattening_cut
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Quantity
from sleevewright.planning.beside import told_size
from sleevewright.planning.facing_told import FaceTold
from sleevewright.planning.facts import given_or
from sleevewright.planning.judging import LimitJudge, against_limit, between, judged_with
from sleevewright.planning.ledger import CENTRALLY, Ledger, Line

Q = Quantity
FLAT = Line("face.flat", "Deck out of flat", Q.DEVIATION, of="after the cut",
            would_change="a better straightedge and thinner blades")  # fmt: skip
FLAT_MOST = Line("face.flat_most", "Out of flat at most", Q.DEVIATION, is_detail=True)
FLAT_CUT = Line("face.flat_cut", "Still to come off for flatness", Q.DEVIATION, "axial",
                of="least cut that cleans it up all round")  # fmt: skip
STAND_OUT = Line("face.stand_out", "Flange above the deck", Q.READING, "axial", of="as left")
LOW = Line("face.stand_out_low", "Stand-out wanted, least", Q.READING, "axial",
           of="by the kind of head gasket")  # fmt: skip
HIGH = Line("face.stand_out_high", "Stand-out wanted, most", Q.READING, "axial",
            of="by the kind of head gasket")  # fmt: skip
ROUGH = Line("face.roughness", "Roughness of the deck, Rz", Q.DEVIATION)
ROUGH_MOST = Line("face.roughness_most", "Roughness at most, Rz", Q.DEVIATION,
                  of="by the kind of head gasket")  # fmt: skip

KINDS = {
    "fibre": ("face_stand_low_fibre", "face_stand_high_fibre", "face_rough_fibre"),
    "steel layers": ("face_stand_low_steel", "face_stand_high_steel", "face_rough_steel"),
    "O-ring": ("face_stand_low_ring", "face_stand_high_ring", "face_rough_ring"),
    "copper": ("face_stand_low_copper", "face_stand_high_copper", "face_rough_copper"),
}
"""What each kind of head gasket asks for: least and most stand-out, roughness."""

NOT_FLAT = "face it again by what is still to come off, set up true to its highest places"
TOO_LOW = "face the deck alone, around the flange; a flange below the deck does not seal"
TOO_PROUD = "face flange and deck together; a proud flange cracks a stiff gasket's ring or bends"
TOO_ROUGH = "a finer last cut: smaller feed, larger nose radius, sharp tool"


def enter_seat(ledger: Ledger, told: FaceTold) -> None:
    """Enter what is said of the face itself, as far as it was told."""
    _enter_flat(ledger, told)
    names = KINDS.get(told.gasket_kind)
    if names is None:
        return
    for line, name in zip((LOW, HIGH, ROUGH_MOST), names, strict=True):
        ledger.fact(line, given_or(None, ledger.default(name)))
    low, high = ledger.value(LOW.id), ledger.value(HIGH.id)
    if told.stand_out is not None:
        judge = between((low, TOO_LOW), (high, TOO_PROUD), value=told.stand_out.value)
        _enter_judged(ledger, STAND_OUT, told.stand_out, "depth_micrometer_setting", judge)
    if told.roughness is not None:
        judge = against_limit(ledger.value(ROUGH_MOST.id), "most", remedy=TOO_ROUGH)
        _enter_judged(ledger, ROUGH, told.roughness, "roughness_reading", judge)


def _enter_flat(ledger: Ledger, told: FaceTold) -> None:
    """Enter how flat the deck is and what is still to come off."""
    if told.flat is None:
        return
    ledger.fact(FLAT_MOST, given_or(None, ledger.default("deck_flat_most")))
    most = ledger.value(FLAT_MOST.id)
    judge = against_limit(most, "most", remedy=NOT_FLAT)
    _enter_judged(ledger, FLAT, told.flat, "straightedge", judge)
    ledger.compute(FLAT_CUT, flattening_cut, CENTRALLY, out_of_flat=FLAT.id, most=FLAT_MOST.id)


def _enter_judged(ledger: Ledger, line: Line, entry: Entry, doubt: str, judge: LimitJudge) -> None:
    """Enter a reading with its doubt, and judge it."""
    ledger.fact(line, told_size(entry, doubt=ledger.default(doubt).value, need=line.label))
    answer = ledger.entry(line.id).answer
    judge = judge.by(ledger.default("guard_factor").value)
    ledger.amend(line.id, judgement=judged_with(judge, float(entry.value), answer.doubt))
