"""Stage Face, gaskets: which of those at hand bring squish, timing and compression back."""

from __future__ import annotations

import numpy as np

from sleevewright.core.engine.chamber import disc_volume
from sleevewright.core.engine.gaskets import (
    Barrel,
    GasketLimits,
    GasketPair,
    best_base,
    best_head,
    ranked_gaskets,
    squish_to_correct,
)
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.facing_told import BORE, FaceTold, tried
from sleevewright.planning.facing_volumes import AFTER, HOLE
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.ports import ENGINE_ROD, ENGINE_STROKE

Q = Quantity
BARREL = Line("face.barrel", "Engine without gaskets", Q.RECORD, is_detail=True)
LIMITS = Line("face.limits", "Limits of squish and compression", Q.RECORD, is_detail=True)
BASES = Line("face.bases", "Base gaskets at hand", Q.RECORD, is_detail=True)
HEADS = Line("face.heads", "Head gaskets at hand", Q.RECORD, is_detail=True)
RANKED = Line("face.gaskets", "Gaskets at hand, in order", Q.RECORD, is_detail=True)
BASE = Line("face.gasket_base", "Base gasket that restores it", Q.SIZE, "axial", of="pressed")
HEAD = Line("face.gasket_head", "Head gasket that restores it", Q.SIZE, "axial", of="pressed")
CORRECT = Line(
    "face.to_correct",
    "No pair does; still to take off the deck",
    Q.READING,
    "axial",
    of="with the pair nearest in timing; negative: a shim under the head",
)
UNSURE = (
    "No pair of these gaskets brings the squish back surely: it lies within its limits, but too "
    "close to one of them to call. Lay solder with the pair in place before it runs."
)
OPEN_IT = (
    "Squish can be brought back with these gaskets, compression cannot: a thicker head gasket, "
    "or a chamber opened in its bowl, where the band is not touched."
)


def enter_gaskets(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter the pairs of gaskets in order, and the best, where lists were told."""
    if not (told.base_gaskets or told.head_gaskets):
        return
    bases = _at_hand(ledger, told.base_gaskets, "face.base_was")
    heads = _at_hand(ledger, told.head_gaskets, "face.head_was")
    barrel = _barrel(ledger)
    need = "gaskets at hand, pressed; gaskets as they came; deck and bore"
    for line, value in (
        (BARREL, barrel),
        (BASES, bases),
        (HEADS, heads),
        (LIMITS, _limits(ledger)),
    ):
        ledger.fact(line, Given(value, Kind.COMPUTED, source="derived", need=need))
    tried(
        ledger, plan, RANKED, ranked_gaskets, CENTRALLY,
        barrel=BARREL.id, base_gaskets=BASES.id, head_gaskets=HEADS.id, limits=LIMITS.id,
    )  # fmt: skip
    ranked = ledger.value(RANKED.id)
    if ranked is None:
        for line in (BASE, HEAD):
            ledger.fact(line, Given(None, Kind.COMPUTED, need=need))
        return
    _enter_best(ledger, ranked)


def _enter_best(ledger: Ledger, ranked: tuple[GasketPair, ...]) -> None:
    """Enter the best pair where one serves, and else what to face or to shim."""
    if ranked[0].is_good:
        for line, function in ((BASE, best_base), (HEAD, best_head)):
            ledger.compute(line, function, CENTRALLY, ranked_pairs=RANKED.id)
            if not ranked[0].is_squish_sure:
                ledger.amend(line.id, of="pressed; its squish is too close to call")
        if not ranked[0].is_squish_sure:
            ledger.advise(UNSURE)
        return
    if ranked[0].is_squish_good:
        ledger.advise(OPEN_IT)
        return
    ledger.compute(CORRECT, squish_to_correct, CENTRALLY, ranked_pairs=RANKED.id, limits=LIMITS.id)
    ledger.advise(
        "No pair of these gaskets brings the squish back: face the deck by what is still to come "
        "off, or fit a shim under the head; both leave the ports where they are."
    )


def _at_hand(ledger: Ledger, told: tuple[float, ...], came: str) -> object | None:
    """The gaskets at hand; the one that came where no list was told."""
    if told:
        return np.array(told)
    value = ledger.value(came)
    return None if value is None else np.array([value])


def _barrel(ledger: Ledger) -> Barrel | None:
    """The engine after its cuts with no gasket, where enough is known of it."""
    names = ("face.base_was", "face.deck_after", "face.base_thicker", "face.base_taken",
             "face.head_now", BORE.id, HOLE.id)  # fmt: skip
    if any(not ledger.has(one) for one in names):
        return None
    was, deck, thicker, taken, head, bore, hole = (float(ledger.value(one)) for one in names)
    base_now, sunk = was + thicker, float(ledger.value("face.sunk"))
    step = _step(ledger, deck, head)
    bare = None
    if ledger.has(AFTER.id):
        gaskets = disc_volume(across=bore, height=base_now) + disc_volume(across=hole, height=head)
        bare = float(ledger.value(AFTER.id)) - float(gaskets)
    return Barrel(
        bore=bore,
        deck=deck - base_now,
        step=step,
        wanted_base=was + taken + sunk,
        gasket_hole=hole,
        bare_volume=bare,
        stroke=ledger.value(ENGINE_STROKE.id),
        rod=ledger.value(ENGINE_ROD.id),
        roof=ledger.value("face.roof_now") if ledger.has("face.roof_now") else None,
    )


def _step(ledger: Ledger, deck: float, head: float) -> float:
    """Step of the head, as the squish after the cut has it: solder knows better than sums."""
    for one in ("face.squish_read", "face.squish_after"):
        if ledger.has(one):
            return float(ledger.value(one)) - deck - head
    return float(ledger.value("face.step"))


def _limits(ledger: Ledger) -> GasketLimits:
    """Limits as the shop has them."""
    least = float(ledger.value("face.squish_least"))
    most = max(least, float(ledger.value("face.squish_most")))
    before = ledger.value("face.squish_before") if ledger.has("face.squish_before") else None
    return GasketLimits(
        least,
        most,
        ledger.default("trapped_most").value,
        ledger.default("ratio_most").value,
        ledger.default("guard_factor").value * _squish_doubt(ledger),
        None if before is None else float(before),
    )


def _squish_doubt(ledger: Ledger) -> float:
    """Standard uncertainty of the squish after the cut, as every pair has it."""
    for one in ("face.squish_read", "face.squish_after"):
        if ledger.has(one):
            doubt = ledger.entry(one).answer.doubt
            return 0.0 if doubt is None else doubt.standard
    return 0.0
