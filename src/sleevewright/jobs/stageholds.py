"""What each stage must show before the job goes on: one function a stage.

Each gives the lacks in the order in which they are best met; the first of them is the next
thing to do.  A verdict that is not there is a lack: nothing passes for good unseen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from sleevewright.jobs.evidence import FLANGED, REFUSED, Asked, Lack
from sleevewright.jobs.fitreason import GIVEN, REASON, WANTED, reason_state
from sleevewright.jobs.sets import BURR, burr_is_off

NOT_YET = "not yet"
CRACKED = "found"
CLEAN = "clean all round"
BORE_ON = "Bore on: next pass"
HONE_ON = "Hone on: next strokes"
AGAIN = "Bored since: gauge the parent bore in full again"
LOOK = "See why the bore closed as it did"
DOES_NOT_ENTER = "does not enter"
DISAGREES = "fit.disagrees"
"""What stands for the verdict on a choice that goes against something: the words of it."""


def _intake(asked: Asked) -> Iterator[Lack]:
    yield from _answered(
        asked,
        "intake.agreed",
        "the condition is not agreed",
        "Agree the condition with the customer",
    )


def _answered(asked: Asked, cell: str, why: str, cure: str) -> Iterator[Lack]:
    """A question that is open while its answer is ``not yet``."""
    found = tuple(asked.told(cell, why, cure))
    yield from found
    if not found and asked.text(cell) == NOT_YET:
        yield Lack(why, cure)


def _found(asked: Asked) -> Iterator[Lack]:
    yield from _answered(
        asked, "found.cracks", "cracks are not looked for", "Look for cracks, with dye"
    )
    if asked.text("found.cracks") == CRACKED:
        yield from asked.told(
            "found.cracks_where", "a crack, and not where", "Say where the cracks are and how long"
        )
    if not asked.is_ported:
        return
    cure = "Map the ports before anything is bored"
    if not asked.ports:
        yield Lack("the ports are not mapped", cure)
    for name in asked.ports:
        where = name.replace("%", "%25").replace("/", "%2F")
        yield from asked.told(
            f"port/{where}/found.roof", f"the roof of {name} is not mapped", f"{cure}: {name}"
        )


def _choice(asked: Asked) -> Iterator[Lack]:
    agreed = [
        record
        for record in asked.folded.decisions
        if record.cylinder in (0, asked.cylinder)
    ]  # fmt: skip
    asked.seen.update(record.number for record in agreed)
    last = agreed[-1].body if agreed else {}
    if not str(last.get("option") or "").strip():
        yield Lack("no option is agreed", "Offer the options and note which is agreed")
    elif not str(last.get("agreed_by") or "").strip():
        yield Lack("nobody agreed to the option", "Note who agreed to the option")


def _sleeve(asked: Asked) -> Iterator[Lack]:
    yield from asked.gauged("sleeve-od", "Measure the sleeve")
    yield from _flange_told(asked)
    if asked.flange == FLANGED:
        yield from asked.gauged("flange-od", "Measure the flange across")
        yield from asked.gauged("flange-thickness", "Measure how thick the flange is")


UNUSABLE = "fit.unusable"
"""What stands for the verdict on a fit that was told and cannot be planned: why not."""


def _fit(asked: Asked) -> Iterator[Lack]:
    yield from asked.told("fit.wanted", "no fit is chosen", "Choose the fit")
    if wrong := asked.verdicts.get(UNUSABLE, ""):
        yield Lack(f"what is told of the fit is not planned: {wrong}", "Tell a fit that can be")
    against = asked.verdicts.get(DISAGREES, "")
    state = reason_state(asked.heads)
    if against and state != GIVEN:
        yield from asked.conflict(REASON)
        lacks = "no reason is told" if state == WANTED else state
        why = f"the fit goes against what is advised, and {lacks}: {against}"
        yield Lack(why, "Say why this fit, in a sentence")
    yield from asked.told("fit.by", "nobody stands for the fit", "Agree this fit")


def _setup(asked: Asked) -> Iterator[Lack]:
    cure = "Sweep the casting at two depths"
    yield from asked.gauged("sweep-top", cure)
    yield from asked.gauged("sweep-bottom", cure)
    yield from asked.judged("setup.offset", "offset", "Move the table and sweep again")
    yield from asked.judged("setup.tilt", "tilt", "Shim the casting and sweep again")


def _old(asked: Asked) -> Iterator[Lack]:
    cells = ("old.clean", "old.accepted", "old.accepted_by")
    found = tuple(asked.conflict(*cells))
    yield from _wall(asked)
    yield from found
    if found or asked.text("old.clean") == CLEAN:
        return
    if not asked.text("old.clean"):
        yield Lack("the old sleeve is not out", "Bore the old sleeve out, clean all round")
    elif not (asked.text("old.accepted") and asked.text("old.accepted_by")):
        yield Lack(
            "islands of old iron are left", "Clean the islands out, or accept them in writing"
        )


def _wall(asked: Asked) -> Iterator[Lack]:
    """Where the casting's wall was read or told, what the planned bore leaves is enough."""
    if not (asked.is_begun("wall-left") or asked.text("old.wall")):
        return
    cure = "Stop: read the wall at more places, else a smaller sleeve or another casting"
    yield from asked.judged("old.thin", "wall left of the casting", cure)
    if "old.ledge_thin" in asked.verdicts:
        yield from asked.judged("old.ledge_thin", "wall beside the counterbore", cure)


def _parent(asked: Asked) -> Iterator[Lack]:
    yield from _wall(asked)
    is_on = asked.goes_on("bore.next_ask", "parent.pass/", "parent-bore")
    cure = BORE_ON if is_on else "Gauge the parent bore in full"
    yield from asked.gauged("parent-bore", cure)
    yield from asked.not_bored_since(BORE_ON if is_on else AGAIN)
    yield from asked.judged("bore.out_of_round", "round", "Take another cut, or hone it round")
    yield from asked.judged("bore.taper", "straight", "Take another cut, or hone it straight")
    if not asked.is_begun("parent-bore", stage="honefit"):  # honed since: what is left is known
        cure = "See what the next sleeve wants"
        yield from asked.judged("bore.stock", "bore not above its upper limit", cure)


def _flange_told(asked: Asked) -> Iterator[Lack]:
    """A lack where nobody said whether there is a flange: nothing passes unasked."""
    yield from asked.conflict("sleeve.flange")
    if not asked.flange:
        yield Lack("a flange or none is not told", "Say whether the sleeve has a flange")


SQUARE = "Square the ledge: high places down to the deepest, no farther than its depth"

WHERE_TOLD = (
    ("counterbore.corner_spare", "ledge's edge clear of the flange", "Chamfer the ledge"),
    ("counterbore.register_clear", "one face clear", "Shorten the foot, or let the register down"),
)
"""Verdicts that the counterbore is held to where corner or register were told."""


def _counterbore(asked: Asked) -> Iterator[Lack]:
    yield from _flange_told(asked)
    if asked.flange != FLANGED:
        yield from _on_step(asked)
        return
    yield from asked.gauged("counterbore", "Cut the counterbore and gauge it across")
    yield from asked.gauged("counterbore-depth", "Gauge how deep the counterbore is")
    yield from _burr_off(asked)
    yield from asked.told(
        "fit.stand_out", "the stand-out is not planned", "Say how far the flange is to stand out"
    )
    yield from asked.judged("counterbore.ledge", "ledge square", SQUARE)
    for answer, what, cure in WHERE_TOLD:
        if answer in asked.verdicts:
            yield from asked.judged(answer, what, cure)


def _on_step(asked: Asked) -> Iterator[Lack]:
    """A plain sleeve that stands on a step, where one was told, stands out as it is wanted."""
    if asked.flange and asked.text("counterbore.step_depth"):
        cure = "Let the step down, or see which sleeve serves; the length over all is wanted too"
        yield from asked.judged("counterbore.off_step", "stand-out on its step", cure)


def _burr_off(asked: Asked) -> Iterator[Lack]:
    """The burr was off before the newest depths: it lifts the gauge, the ledge reads deeper."""
    found = tuple(asked.conflict(BURR))
    yield from found
    if not found and not burr_is_off(asked.folded, cylinder=asked.cylinder):
        cure = "Knock the burr off, tick it, and gauge how deep the counterbore is"
        yield Lack("the burr was not knocked off before these depths", cure)


def _honefit(asked: Asked) -> Iterator[Lack]:
    is_on = asked.goes_on("honefit.sure", "honefit.pass/", "parent-bore", stage="honefit")
    cure = HONE_ON if is_on else "Hone to size and gauge the parent bore in full"
    yield from asked.gauged("parent-bore", cure, stage="honefit")
    yield from asked.not_bored_since(AGAIN, stage="honefit")
    yield from asked.judged(
        "fit.below_least", "chance of less than the least fit", "Settle it: more readings"
    )
    if "fit.flange_below_least" in asked.verdicts:
        what = "chance of less than the least fit at the flange"
        yield from asked.judged("fit.flange_below_least", what, "Settle it: gauge the flange again")


def _ready(asked: Asked) -> Iterator[Lack]:
    if asked.is_ported:
        yield from asked.gauged(
            "sleeve-od-again", "Measure the sleeve again beside every port edge"
        )
        yield from asked.judged(
            "ready.od", "sleeve as it was", "Reckon the fit again with the sleeve as it is"
        )
    else:
        yield from asked.ticked(
            "ready.unchanged",
            "the sleeve may have changed",
            "See that nothing was taken off the sleeve",
        )
    yield from asked.ticked("ready.dry", "not dry", "Dry the casting")
    yield from asked.ticked("ready.drained", "not drained", "Drain tunnels, stud holes and jacket")


def _heat(asked: Asked) -> Iterator[Lack]:
    yield from _slip(asked, "body")
    yield from _flange_told(asked)
    if asked.flange == FLANGED:
        yield from _slip(asked, "flange")


def _slip(asked: Asked, where: str) -> Iterator[Lack]:
    """The slip is gauged there, and it is as much as the drop needs."""
    cure = f"Heat, and gauge the slip at the {where}"
    found = tuple(asked.told(f"heat.slip_{where}", f"the slip at the {where} is not gauged", cure))
    yield from found
    if not found:
        yield from asked.judged(
            f"heat.{where}_go", f"slip at the {where}", "Heat on until the needle is at go"
        )


UNCLAMP = 333.15
"""Unclamped while warmer than this, the seat may have drawn away since: 60 degC. [K] practice"""


def _was_unclamped_warm(asked: Asked) -> bool:
    """Whether the clamp came off while most of the shrinking was still to come."""
    heads = asked.heads("cool.unclamped_at")
    read = [one.body.get("mk") for one in heads]
    return any(isinstance(one, int) and one * 1e-3 > UNCLAMP for one in read)


def _cool(asked: Asked) -> Iterator[Lack]:
    yield from _flange_told(asked)
    if asked.flange == FLANGED:
        yield from asked.gauged("stand-out", "Gauge the stand-out at four places")
        yield from asked.judged("cool.seated", "flange seated", "See what lies under the flange")
        found = tuple(
            asked.told("cool.feeler", "no feeler was tried", "Try the feeler under the flange")
        )
        yield from found
        if not found and asked.text("cool.feeler") != DOES_NOT_ENTER:
            yield Lack(
                "a feeler enters under the flange", "Seat the flange, or lift this in writing"
            )
        if _was_unclamped_warm(asked):
            why = "unclamped warm, and the flange not tried since"
            yield from asked.ticked("cool.tried_again", why, "Try feeler and dial once it is cold")
    yield from asked.gauged("cooled-bore", "Gauge the sleeve inside, cooled down")
    is_refused = REFUSED in asked.verdicts.get("cool.proof", "")
    cure = "Gauge the cooled bore as it was gauged before" if is_refused else LOOK
    found = tuple(asked.judged("cool.proof", "fit proved", cure))
    yield from found
    if not found:  # a fit that was obtained may still be less than the least
        what = "chance of less than the least fit, proved"
        yield from asked.judged("cool.proved_below_least", what, "See where the fit is soft")


def _piston(asked: Asked) -> Iterator[Lack]:
    yield from asked.told("piston.diameter", "the piston is not measured", "Measure the piston")


def _ports(asked: Asked) -> Iterator[Lack]:
    if not asked.ports:
        yield Lack("no port is known", "Name the ports and see to their chamfers")
    for name in asked.ports:
        where = name.replace("%", "%25").replace("/", "%2F")
        cell = f"port/{where}/left.chamfer"
        yield from asked.ticked(cell, f"{name} is not chamfered", f"Chamfer {name}")


def _hone(asked: Asked) -> Iterator[Lack]:
    if asked.is_ported and asked.ports:
        for lack in _ports(asked):
            yield Lack(f"{lack.why}: no burr may cross a finished wall", lack.cure)
    is_on = asked.goes_on("hone.sure", "hone.pass/", "finish-bore", stage="hone")
    cure = HONE_ON if is_on else "Hone to size and gauge the finished bore"
    yield from asked.gauged("finish-bore", cure, stage="hone")
    yield from asked.judged("finish.out_of_round", "round", "Hone it round")
    yield from asked.judged("finish.taper", "straight", "Hone it straight")
    yield from asked.judged("finish.clearance", "clearance", "Hone to the clearance")
    if "hone.grid_cold" in asked.verdicts:
        cure = "Let it come to the room's temperature and gauge the finished bore again"
        yield from asked.judged("hone.grid_cold", "finished bore, gauged cold", cure)


LACKS: Mapping[str, Callable[[Asked], Iterable[Lack]]] = {
    "intake": _intake,
    "found": _found,
    "choice": _choice,
    "sleeve": _sleeve,
    "fit": _fit,
    "setup": _setup,
    "old": _old,
    "parent": _parent,
    "counterbore": _counterbore,
    "honefit": _honefit,
    "ready": _ready,
    "heat": _heat,
    "cool": _cool,
    "piston": _piston,
    "ports": _ports,
    "hone": _hone,
}
"""Stage, and what lacks of its evidence; the release asks all of them."""

VERDICTS: Mapping[str, tuple[str, ...]] = {
    "setup": ("setup.offset", "setup.tilt"),
    "parent": ("bore.out_of_round", "bore.taper", "bore.stock"),
    "counterbore": ("counterbore.ledge",),
    "honefit": ("fit.below_least",),
    "ready": ("ready.od",),
    "heat": ("heat.body_go", "heat.flange_go"),
    "cool": ("cool.seated", "cool.proof", "cool.proved_below_least"),
    "hone": ("finish.out_of_round", "finish.taper", "finish.clearance"),
}
"""Ids of the verdicts that each hold asks for."""
