"""Beside the plan: what the casting bears past first yield, in a web, with a ring, and hot.

Answered from the plan's own figures and a few cells of the casting.  Where none of them is
told and nothing has yielded, no line of these stands in the foreground.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.fits.hotyield import yield_at, yield_band_at, yield_share
from sleevewright.core.fits.limits import casting_yield_pressure
from sleevewright.core.fits.plastic import (
    carried_interference,
    furthest_ratio,
    plastic_interference,
    yielded_depth,
)
from sleevewright.core.fits.rings import RingPair, contact_pressure
from sleevewright.core.fits.webs import (
    neighbour_spare,
    outside_at_web,
    web_between,
    web_hoop_stress,
)
from sleevewright.core.materials import material
from sleevewright.core.metals import Material
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.facts import given
from sleevewright.planning.finish import NEIGHBOUR_SPARE
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.ringed import enter_ring

Q = Quantity

RINGS = Line("stress.rings", "sleeve and casting as two rings", Q.RECORD, is_detail=True)
YIELDED = Line(
    "fit.yielded",
    "Casting yields to a depth of",
    Q.DEVIATION,
    "radial",
    of="from its bore outwards; ideally plastic metal, plain ring",
)
CARRIED = Line(
    "fit.carried",
    "Fit that is really carried",
    Q.DEVIATION,
    "diametral",
    of="the elastic fit that would press as much; the rest has stretched the casting",
)
WEB = Line("casting.web", "Web to the next bore", Q.SIZE, of="where it is thinnest")
WEB_OUTSIDE = Line(
    "fit.web_outside",
    "Casting toward the next bore, at least as",
    Q.SIZE,
    "diametral",
    of="the ring that touches the neighbour's edge",
    is_detail=True,
)
NEIGHBOURS = Line(
    "casting.neighbours",
    "Neighbours of this bore",
    Q.RATIO,
    of="1 of two bores, 2 in a row of more",
    is_detail=True,
)
WEB_HOOP = Line(
    "fit.web_hoop",
    "Pull across the web, at most",
    Q.PRESSURE,
    of="the fits on either side together; a bound for a plain web",
    would_change="a measured web",
)
NEIGHBOUR = Line(
    "fit.neighbour",
    "Heat that a neighbour's sleeve has to spare",
    Q.TEMPERATURE_DIFFERENCE,
    of="at the drop: a sleeve already in, same fit, as hot as the casting; negative is loose",
    would_change="heat once and drop all, else block it from below",
)
PRESSURE = Line("casting.web_pressure", "pressure in the fit", Q.PRESSURE, is_detail=True)
TOO_WIDE = "the band is too wide, grip and drop taken as if they shared no error"
BITES = (("running", "running"), ("hard", "pulled hard"))


def is_webbed_or_ringed(casting: Part) -> bool:
    """Whether a casting was told to have a neighbouring bore or a ring round it."""
    told = (casting.web, casting.centres, casting.ring_diameter, casting.ring_fit)
    return any(one is not None for one in told)


def stress_stage(plan: Plan, casting: Part, *, bores: int = 0) -> StageAnswers:
    """Answers about what the casting bears; it is taken to have a row of bores unless told two."""
    ledger = ledger_of(plan)
    metal = material(casting.material or "unknown-aluminium")
    for name, need in (
        ("sleeve.od", "outside of the sleeve"),
        ("sleeve.id", "inside of the sleeve"),
        ("casting.outside_diameter", "effective outside of the casting"),
        ("sleeve.modulus", "stiffness of the sleeve"),
        ("sleeve.poisson", "Poisson's ratio of the sleeve"),
        ("casting.modulus", "stiffness of the casting"),
        ("casting.poisson", "Poisson's ratio of the casting"),
        ("casting.strength", "strength of the casting"),
        ("fit.effective", "fit that works"),
    ):
        from_plan(ledger, plan, name, need=need)
    ledger.compute(
        RINGS,
        RingPair,
        interface_diameter="sleeve.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
    )
    if not metal.is_brittle:
        _enter_yielded(ledger)
    if _has_web(ledger, casting):
        _enter_web(ledger, casting, metal, bores)
        _enter_neighbour(ledger, plan)
    _enter_hot(ledger, plan, metal)
    if casting.ring_diameter is not None:
        enter_ring(ledger, casting)
    return beside(plan, "fit", "Fit", ledger.result())


def _enter_yielded(ledger: Ledger) -> None:
    """Enter how deep a ductile casting has yielded and what it carries then."""
    if not all(ledger.has(one) for one in (RINGS.id, "casting.strength", "fit.effective")):
        return
    pair, strength = ledger.value(RINGS.id), ledger.value("casting.strength")
    tight = float(ledger.value("fit.effective"))
    first = casting_yield_pressure(pair, yield_strength=strength)
    most = plastic_interference(pair, yield_strength=strength, plastic_ratio=furthest_ratio(pair))
    if tight > most:
        ledger.caution(
            "yielded-through:fit.yielded",
            "This fit stretches the whole wall of the casting past its yield: no pressure can be "
            "told for it, and it may let go or tear. Take a lighter fit.",
            "din-7190-1",
        )
        return
    if float(contact_pressure(pair, interference=tight)) <= first:
        return
    told = {"pair": RINGS.id, "interference": "fit.effective"}
    ledger.compute(YIELDED, yielded_depth, yield_strength="casting.strength", **told)
    ledger.compute(CARRIED, carried_interference, yield_strength="casting.strength", **told)
    ledger.advise(
        "The casting yields at its bore: from here more interference presses hardly harder, it "
        "stretches the casting. What is left once the fit was loaded and let go is not reckoned."
    )


def _has_web(ledger: Ledger, casting: Part) -> bool:
    """Whether a web was told; axes nearer than the bore are said to be wrong."""
    if casting.web is not None or casting.centres is None:
        return casting.web is not None
    if ledger.has("sleeve.od"):
        largest = float(np.max(ledger.samples("sleeve.od")))
        if casting.centres.value <= largest:
            ledger.caution(
                "no-web:fit.web",
                "The axes of the bores lie nearer to each other than the bore is wide: there "
                "would be no web. Measure from axis to axis, or give the web itself.",
                "derived",
            )
            return False
    return True


def _enter_web(ledger: Ledger, casting: Part, metal: Material, bores: int) -> None:
    """Enter the pull across a web."""
    sides = 1.0 if bores == 2 else 2.0
    ledger.fact(NEIGHBOURS, Given(sides, Kind.TYPED if bores == 2 else Kind.ASSUMED, "practice"))
    if casting.web is not None:
        ledger.fact(WEB, given(casting.web, need="web between the bores"))
    else:
        centres = Line("casting.centres", "Bore to bore, axes", Q.SIZE, is_detail=True)
        ledger.fact(centres, given(casting.centres, need="distance of the bores' axes"))
        ledger.compute(WEB, web_between, centres=centres.id, bore="sleeve.od")
    ledger.compute(WEB_OUTSIDE, outside_at_web, diameter="sleeve.od", web=WEB.id)
    strength = ledger.value("casting.strength")
    share = ledger.default("brittle_share").value if metal.is_brittle else 1.0
    judge = None
    if strength is not None:
        remedy = "a lighter fit; heat and drop both together; weld or leave the web thicker"
        judge = against_limit(share * float(strength), "most", remedy=remedy)
    # Reckoned anew: drawn beside the plan as a bell, a wide pressure would reach below nothing.
    ledger.compute(PRESSURE, contact_pressure, pair=RINGS.id, interference="fit.effective")
    ledger.compute(
        WEB_HOOP, web_hoop_stress, How(judge=judge),
        pressure=PRESSURE.id, diameter="sleeve.od", web=WEB.id, neighbours=NEIGHBOURS.id,
    )  # fmt: skip
    _warn_thin_web(ledger)


def _warn_thin_web(ledger: Ledger) -> None:
    """Say so where the web gives way more than the ring that the casting was taken as."""
    taken, toward = ledger.value("casting.outside_diameter"), ledger.value(WEB_OUTSIDE.id)
    if taken is not None and toward is not None and toward < taken:
        ledger.advise(
            "Toward the next bore the casting is thinner than the ring it was taken as: give that "
            "ring as the least outside of the casting, so that its doubt is in the fit."
        )


def _enter_neighbour(ledger: Ledger, plan: Plan) -> None:
    """Enter by how much a sleeve that is already in keeps its hold when this one is heated."""
    from_plan(ledger, plan, "fit.grip", need="where the fit lets go")
    if not ledger.has("fit.grip"):
        return  # iron in iron is not let go by heat
    from_plan(ledger, plan, "heat.drop_at", need="casting at the drop")
    # No verdict: with one fit in both bores a neighbour always lets go, a hazard and no fault.
    entry = ledger.compute(
        NEIGHBOUR, neighbour_spare, grip="fit.grip", casting_temperature="heat.drop_at"
    )
    _enter_spare_doubt(ledger, plan)
    if entry.point is not None and entry.point < 0.0:
        ledger.caution(
            "neighbour-lets-go:fit.neighbour",
            "A sleeve that is already in lets go at this heat and may drop out of the casting. "
            "Block it from below before the oven, and keep hands from under it.",
            "practice",
        )


def _enter_spare_doubt(ledger: Ledger, plan: Plan) -> None:
    """Give the spare heat the doubt of the plan: what grip and drop share goes out of it."""
    shared = next((one for one in plan.answers() if one.id == NEIGHBOUR_SPARE.id), None)
    if not ledger.has(NEIGHBOUR.id):
        return
    if shared is not None and shared.value is not None:
        ledger.amend(NEIGHBOUR.id, doubt=shared.doubt)
    else:
        ledger.amend(NEIGHBOUR.id, of=f"{NEIGHBOUR.of}; {TOO_WIDE}")


def _enter_hot(ledger: Ledger, plan: Plan, metal: Material) -> None:
    """Enter how near the hot casting comes to its hot yield, running and pulled hard."""
    if metal.is_brittle or len(metal.yield_table) < 2:
        return
    for key, words in BITES:
        fit, heat = f"fit.{key}", f"running.{key}_casting"
        from_plan(ledger, plan, fit, need="the fit hot")
        from_plan(ledger, plan, heat, need="temperature of the casting")
        if not (ledger.has(fit) and ledger.has(heat) and ledger.has(RINGS.id)):
            continue
        _enter_hot_share(ledger, metal, key, words)


def _enter_hot_share(ledger: Ledger, metal: Material, key: str, words: str) -> None:
    """Enter pressure, hot first yield and their ratio for one way of running."""
    hot = float(ledger.value(f"running.{key}_casting"))
    low, high = yield_band_at(metal, temperature=hot)
    strength = f"casting.{key}_yield"
    ledger.fact(
        Line(strength, f"yield strength of the casting, {words}", Q.PRESSURE,
             of="after a long time at that heat; shorter leaves more", is_detail=True),
        Given(
            float(yield_at(metal, temperature=hot)), Kind.ASSUMED,
            source=metal.source_of("yield_strength"), typed=metal.title,
            standard=(high - low) / 12.0**0.5, shape=Shape.NORMAL,
        ),
    )  # fmt: skip
    ledger.compute(
        Line(f"fit.{key}_bite", f"Share of first yield, {words}", Q.RATIO,
             of="pressure in the fit over what yields the hot casting",
             would_change="a lighter fit; a cooler engine; the temper of this casting known",
             is_detail=key != "hard"),
        yield_share,
        How(judge=against_limit(1.0, "most", remedy="a lighter fit, or keep the casting cooler")),
        pair=RINGS.id, interference=f"fit.{key}", yield_strength=strength,
    )  # fmt: skip
