"""Usual cautions at the steps where the work can hurt someone.

They are common practice in the trade, with no claim to be complete.  Local codes, the
maker's instructions and licensed practice go before anything said here.
"""

from __future__ import annotations

from sleevewright.errors import Caution

_DEFER = "Local codes, makers' instructions and licensed practice go before this list."


def _hazard(code: str, text: str) -> Caution:
    return Caution(code, text, "practice")


HOT_METAL = _hazard(
    "hot-metal",
    "A casting from the oven looks cold and burns. Dry leather or aramid gloves on both hands, "
    "sleeves down, face shield, a clear path, a second person, and a HOT tag until it is below "
    "45 °C (113 °F). Wet gloves scald.",
)
OVEN_VAPOUR = _hazard(
    "oven-vapour",
    "Nothing wet with solvent or oil goes into an oven: vapour meets the element and explodes. "
    "Wash in warm water, drain every blind hole, dry, and vent the oven to outside. Ovens for "
    "solvent-wet work fall under codes such as NFPA 86; a kitchen oven has none of its guards.",
)
CHLORINATED = _hazard(
    "chlorinated-solvent",
    "Chlorinated solvent on hot metal or near an arc gives hydrogen chloride and phosgene, whose "
    "harm to the lungs shows hours later. Keep it off parts that will be heated.",
)
OLD_COATINGS = _hazard(
    "coatings",
    "Old paint, gasket and filler smoke when heated, and some gaskets hold asbestos: strip them "
    "first, protected. Find out whether the casting is magnesium before heating or cutting it: its "
    "chips burn, and water feeds them; dry sand at hand.",
)
CRYOGEN = _hazard(
    "cryogen",
    "Dry ice and liquid nitrogen burn skin and push the air out of a small room. Insulated gloves, "
    "face shield, an open window and an oxygen alarm; never a sealed container. Cold iron is "
    "brittle: do not strike it. Frost on a cold sleeve melts and steams in the hot bore: keep it "
    "bagged until the drop and wipe it once. A household freezer needs only the last of these.",
)
SPINDLE = _hazard(
    "spindle",
    "No gloves, loose cuffs or rings at a turning spindle or hone; keys and stop blocks out; guard "
    "closed; stop it before gauging or dialling a head; fresh edges cut. A hone can lock and twist "
    "the machine out of the hand.",
)
HONING = _hazard(
    "honing",
    "A hone can lock in a port or a tight end and twist the drill out of the hand: firm stance, "
    "short starts, stones inside the bore before it turns, stopped before they come out. Honing "
    "fluid makes mist: keep it out of the lung and off the skin.",
)
ABRASIVE = _hazard(
    "abrasive",
    "Abrasive that is left in the bore laps rings and piston away. Hot soapy water and a stiff "
    "brush until a white cloth stays white, ports and tunnels too, then oil at once. Solvent alone "
    "leaves it in the scratches.",
)
SWEEPING = _hazard(
    "sweeping",
    "Before a bore is swept by hand: spindle off, out of gear, nobody at the switch, hands clear "
    "of the holder as it comes round. Indicator out before the spindle is started again.",
)
DUST = _hazard(
    "dust",
    "Iron, aluminium and stone dust belongs in an extractor, not in a lung. Aluminium dust "
    "explodes; keep grinding sparks away from it and from the solvent bench.",
)
CHIPS = _hazard(
    "chips",
    "Strings of aluminium cut like razors: spindle off, then hook or brush, never hand or glove.",
)
PRESS = _hazard(
    "press",
    "Push a sleeve only with a rigid plate, behind a shield, standing aside: iron sleeves "
    "shatter. Never strike cast iron with steel.",
)
CLAMP = _hazard(
    "clamp",
    "The clamped casting is still hot enough to burn for half an hour or more in still air. "
    "Do not quench it: water flashes to steam and iron cracks.",
)
SOLVENT = _hazard(
    "solvent",
    "Solvent vapour burns, and numbs before it is smelt: an open door, gloves, no spark or pilot "
    "flame near the wash bench, lids on, rags in a closed tin. The last wash is warm water and "
    "soap, then dry air; compressed air only with eye protection and never toward skin.",
)
SHELL = _hazard(
    "thin-shell",
    "A thin shell of the old sleeve grabs, turns and breaks into splinters. Stop the spindle "
    "before touching it, collapse it with a tool and not with fingers, and wear eye protection.",
)
HEATED_OUT = _hazard(
    "heated-out",
    "A sleeve that is heated out drops without a word and is as hot as the casting. Nothing and "
    "nobody below it, a tray of sand under the bore, gloves and face shield; the oven sees no oil, "
    "no solvent and no plated or glued part.",
)
PRESSURE = _hazard(
    "pressure-test",
    "Air under pressure is stored energy: small volume, under water or behind a shield, "
    "regulated, nobody in line with a plug.",
)
LIFTING = _hazard(
    "lifting",
    "Blocks over some 20 kg (45 lb) go by hoist or with a second person; edges of a worn bore cut.",
)
FLYCUT = _hazard(
    "fly-cutting",
    "A fly cutter or a face cutter throws long chips and catches what sticks out of the deck: "
    "studs out, clamps below the cut, guard closed, eyes covered, nobody in the plane of the "
    "cutter. On a surface grinder the barrel is held and blocked, not by the magnet alone. Dry "
    "magnesium chips burn and water feeds that fire: sharp tool, chips swept up, dry sand or a "
    "class D extinguisher at hand.",
)
RING = _hazard(
    "ring",
    "Ring edges cut and rings spring: open one no wider than it needs, eye protection on. A stone "
    "or file leaves grit that a ring carries into the bore: wash ring and bore after filing.",
)
GRINDING = _hazard(
    "grinding-ports",
    "A burr in a port kicks and breaks: goggles under a face shield, ears covered, a mask against "
    "fine dust and an extractor at the port; no gloves, cuffs or rings near the shaft, and both "
    "hands on the tool until it stands still. A burr has its own highest speed: keep below it.",
)
DUSTS_APART = _hazard(
    "dusts-apart",
    "Grind iron and aluminium apart, with a wash and a sweep between them: fine aluminium burns "
    "and explodes, and mixed with rust or iron dust it burns as thermite does, which no water puts "
    "out. Separate wheels, separate bags, nothing of either near a spark; dry sand or a class D "
    "extinguisher at hand, never water.",
)
MASKED = _hazard(
    "masked-bore",
    "Never into the bore with the sleeve unmasked: a wad below the ports, tape or a thin shell "
    "over the wall, the shaft kept off the roof of the next port. A burr that skips scores what "
    "no hone takes out.",
)
CLEAN_OUT = _hazard(
    "port-burrs",
    "Grinding throws a burr into the bore, sharp enough to cut a finger and a ring: break every "
    "edge, then wash tunnels, ports and crankcase mouth until a white cloth stays white, before "
    "anything is put together.",
)
DEFER = _hazard("defer", _DEFER)

STAGE_HAZARDS: dict[str, tuple[Caution, ...]] = {
    "intake": (LIFTING, OLD_COATINGS, DEFER),
    "found": (SOLVENT, PRESSURE, DEFER),
    "setup": (SWEEPING, SPINDLE, LIFTING, DEFER),
    "old": (SPINDLE, CHIPS, SHELL, DUST, OLD_COATINGS, HEATED_OUT, PRESS, LIFTING, DEFER),
    "parent": (SPINDLE, CHIPS, DUST, OLD_COATINGS, DEFER),
    "counterbore": (SPINDLE, CHIPS, DUST, OLD_COATINGS, DEFER),
    "honefit": (SPINDLE, DUST, HONING, ABRASIVE, LIFTING, DEFER),
    "ready": (SOLVENT, CHLORINATED, OVEN_VAPOUR, DEFER),
    "heat": (HOT_METAL, OVEN_VAPOUR, CHLORINATED, OLD_COATINGS, DEFER),
    "drop": (HOT_METAL, PRESS, DEFER),
    "cool": (HOT_METAL, CLAMP, PRESSURE, DEFER),
    "face": (FLYCUT, SPINDLE, CHIPS, DUST, OLD_COATINGS, LIFTING, DEFER),
    "piston": (SPINDLE, DUST, CHIPS, LIFTING, DEFER),
    "ports": (GRINDING, DUSTS_APART, MASKED, CLEAN_OUT, DUST, DEFER),
    "hone": (SPINDLE, DUST, HONING, ABRASIVE, LIFTING, DEFER),
    "rings": (RING, DEFER),
    "release": (SOLVENT, DEFER),
}
"""Cautions by the key of the stage they belong to."""
