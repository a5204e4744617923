"""Make the states of the demonstration's shelf: what was told of each job beside its file.

``python3 tools/make_shelf.py`` writes ``examples/shelf.json``.  Every job, engine, part and
reading in it is invented; the readings are of one mind with each other, so that the holds
they belong to are met.  The bench tells them to an empty shelf record by record, each judged
as if a device had handed it in.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

TARGET = Path(__file__).resolve().parent.parent / "examples" / "shelf.json"

Records = list[dict[str, Any]]

MIC = {"name": "mic 2-3", "kind": "micrometer", "resolution": "0.0001 in", "setting": "0.2 thou"}
SMALL_MIC = {"name": "mic 0-1", "kind": "micrometer", "resolution": "0.0001 in",
             "setting": "0.1 thou"}  # fmt: skip
BORE_GAUGE = {"name": "bore gauge", "kind": "dial-bore-gauge", "resolution": "0.0001 in",
              "setting": "0.3 thou", "set_from": "mic 2-3", "turn": "0.010 in"}  # fmt: skip
DEPTH = {"name": "depth mic", "kind": "depth-micrometer", "resolution": "0.0001 in"}
LEVER = {"name": "lever 0.5", "kind": "indicator", "resolution": "0.0001 in", "turn": "0.020 in"}

BENCH_WARM = "70 F"
FOUR = ["0 deg", "45 deg", "90 deg", "135 deg"]
QUARTERS = ["0 deg", "90 deg", "180 deg", "270 deg"]
DEPTHS = ["0.40 in", "1.30 in", "2.20 in", "3.10 in"]


def value(cell: str, text: str, cylinder: int = 1, **more: str) -> dict[str, Any]:
    """A value told for a cell."""
    return {"record": "value", "cylinder": cylinder, "cell": cell, "text": text, **more}


def event(stage: str, what: str, **more: str) -> dict[str, Any]:
    """Something that happened."""
    return {"record": "event", "cylinder": 1, "stage": stage, "what": what, **more}


def agreed(option: str, price: str) -> dict[str, Any]:
    """What the customer agreed to."""
    return {
        "record": "decision", "cylinder": 0, "option": option, "offered": ["sleeve", "hone"],
        "price": price, "currency": "EUR", "agreed_by": "the customer", "how": "by telephone",
    }  # fmt: skip


def readings(
    stage: str, feature: str, gauges: list[dict[str, str]], rows: list[list[str]], **told: Any
) -> dict[str, Any]:
    """A set with all of its readings; ``told`` is its nominal, depths and directions."""
    return {
        "record": "readings", "cylinder": 1, "stage": stage, "feature": feature,
        "instrument": gauges[0]["name"], "instruments": gauges, "unit": "thou",
        "nominal": told.get("nominal", ""), "stations": told.get("depths", []),
        "directions": told.get("directions", FOUR), "part_temperature": BENCH_WARM,
        "gauge_temperature": BENCH_WARM, "entry": "deviation", "rows": rows,
    }  # fmt: skip


def even(text: str, rows: int, columns: int) -> list[list[str]]:
    """Readings that are all alike but for a tenth here and there."""
    tenths = ("", "", "+", "", "-", "")
    base = float(text)
    return [
        [f"{base + 0.1 * {'': 0, '+': 1, '-': -1}[tenths[(r * columns + c) % 6]]:+.1f}"
         for c in range(columns)]
        for r in range(rows)
    ]  # fmt: skip


def sweeps(upper: list[str], lower: list[str]) -> Records:
    """The casting swept at two depths."""
    told = [("sweep-top", "0.4 in", upper), ("sweep-bottom", "3.0 in", lower)]
    return [
        readings("setup", feature, [LEVER], [row], depths=[depth], directions=QUARTERS)
        for feature, depth, row in told
    ]


FRONT: Records = [
    value("intake.agreed", "in person", 0),
    value("intake.piston", "with the job"),
    value("found.cracks", "none found"),
]
CUT: Records = [
    *sweeps(["+0.3", "0", "-0.3", "-0.1"], ["+0.2", "+0.1", "-0.2", "0"]),
    value("old.how", "bored through"),
    value("old.clean", "clean all round"),
]

BARREL: Records = [
    value("engine.description", "1980s-style air-cooled 178 cc four-stroke of an invented make", 0),
    value("engine.bore", "2.402 in", 0), value("engine.stroke", "2.400 in", 0),
    value("casting.material", "aluminium-356", 0), value("casting.mass", "2.9 lb", 0),
    *FRONT,
    readings("found", "as-found-bore", [BORE_GAUGE, MIC], even("4.2", 3, 4), nominal="2.402 in",
             depths=["0.50 in", "1.20 in", "2.90 in"]),
    agreed("sleeve", "410.00"),
    value("sleeve.flange", "flanged"), value("sleeve.material", "grey-iron"),
    value("sleeve.length", "3.50 in"), value("sleeve.mass", "0.9 lb"),
    readings("sleeve", "sleeve-od", [MIC], even("0.2", 4, 4), nominal="2.640 in", depths=DEPTHS),
    readings("sleeve", "sleeve-id", [BORE_GAUGE, MIC], even("0.0", 2, 2), nominal="2.380 in",
             depths=["0.5 in", "3.0 in"], directions=["0 deg", "90 deg"]),
    readings("sleeve", "flange-od", [MIC], even("0.4", 1, 4), nominal="2.840 in"),
    readings("sleeve", "flange-thickness", [SMALL_MIC], even("0.2", 1, 4), nominal="0.157 in",
             directions=QUARTERS),
    value("fit.wanted", "3.4 thou"), value("fit.least", "2.4 thou"),
    value("fit.flange_wanted", "2.0 thou"), value("fit.stand_out", "2 thou"),
    value("fit.by", "p1"), value("fit.reason", "about 1.3 thou per inch"),
    value("casting.outside_diameter", "3.70 in"), value("casting.length", "3.50 in"),
    value("piston.diameter", "2.3992 in"), value("piston.clearance", "2.8 thou"),
    value("heat.slip", "5.4 thou"),
    *CUT,
    readings("parent", "parent-bore", [BORE_GAUGE, MIC], even("0.3", 4, 4), nominal="2.6360 in",
             depths=DEPTHS),
    readings("counterbore", "counterbore", [MIC], even("0.4", 1, 4), nominal="2.838 in"),
    readings("counterbore", "counterbore-depth", [DEPTH], even("0.2", 1, 4), nominal="0.155 in",
             directions=QUARTERS),
    value("counterbore.burr", "yes"),
    readings("honefit", "parent-bore", [BORE_GAUGE, MIC], even("0.8", 4, 4), nominal="2.6360 in",
             depths=DEPTHS),
    value("ready.burrs", "yes"), event("ready", "wash"), event("ready", "wipe", result="clean"),
    value("ready.unchanged", "yes"), value("ready.dry", "yes"), value("ready.drained", "yes"),
    value("ready.untouched", "yes"), value("heat.dry", "yes"),
    value("heat.slip_body", "6.0 thou"), value("heat.slip_flange", "6.2 thou"),
    event("heat", "oven-in"), event("heat", "out"),
    event("drop", "in"), event("drop", "seated"), value("drop.went", "home in one"),
]  # fmt: skip

PROVED: Records = [
    event("cool", "unclamped"), event("cool", "measured"),
    readings("cool", "stand-out", [DEPTH], [["+2.1", "+2.0", "+1.9", "+2.1"]],
             directions=QUARTERS),
    value("cool.feeler", "does not enter"),
    readings("cool", "cooled-bore", [BORE_GAUGE, MIC], even("-1.9", 2, 2), nominal="2.380 in",
             depths=["0.5 in", "3.0 in"], directions=["0 deg", "90 deg"]),
    value("face.done", "left as it is"),
    value("piston.bored", "yes"),
    readings("hone", "finish-bore", [BORE_GAUGE, MIC], even("0.0", 3, 4), nominal="2.402 in",
             depths=["0.50 in", "1.20 in", "2.90 in"]),
    value("rings.top_gap", "11 thou"),
    value("release.washed", "yes"), value("release.oiled", "yes"), value("release.tag", "yes"),
    value("release.photos", "yes"),
    {"record": "release", "cylinder": 1, "person": "p1"},
    value("after.outcome", "runs well"), value("after.ran", "40 h"),
]  # fmt: skip


def opening(title: str, kind: str, cooling: str, cylinders: int = 1) -> dict[str, Any]:
    """How a job that has no file was opened."""
    return {
        "title": title, "units": "inch", "engine_kind": kind, "cooling": cooling,
        "cylinders": cylinders,
    }  # fmt: skip


JOBS: list[dict[str, Any]] = [
    {"number": "D-175", "records": [
        *FRONT, agreed("sleeve", "520.00"), value("sleeve.flange", "flanged"), *CUT,
        value("place", "mill, on the base plate", 0), value("promised", "2026-12-04", 0),
    ]},
    {"number": "D-246", "records": [
        *FRONT, agreed("sleeve", "560.00"), value("sleeve.flange", "flanged"),
        value("place", "shelf 2, left", 0),
    ]},
    {"number": "D-123", "records": [
        *FRONT, value("choice.offered", "2026-11-20", 0), value("place", "shelf 1", 0),
    ]},
    {"number": "D-118", "opening": opening("Brenholt 178, barrel for re-sleeving", "four-stroke",
                                           "air"),
     "records": [*BARREL, value("place", "bench, under the plate", 0)]},
    {"number": "D-301", "opening": opening("Skarvik 2 x 125, both barrels", "two-stroke", "water",
                                           2),
     "records": [
        value("casting.material", "aluminium-356", 0), value("intake.agreed", "in writing", 0),
        value("intake.position", "left", 1), value("intake.position", "right", 2),
        value("waits.for", "both pistons", 0), value("place", "shelf 3", 0),
     ]},
    {"number": "D-104", "opening": opening("Brenholt 178, barrel, the first one", "four-stroke",
                                           "air"),
     "records": [*BARREL, *PROVED]},
]  # fmt: skip


def main() -> None:
    """Write the file."""
    shelf = {"instruments": [MIC, SMALL_MIC, BORE_GAUGE, DEPTH, LEVER], "jobs": JOBS}
    text = json.dumps(shelf, indent=1, ensure_ascii=False)
    TARGET.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
