"""Cells of the five port maps of a cylinder: what each edge is, and how the map was measured.

``found`` is the cylinder as it came, ``target`` what the ports are to become, ``supplied`` the
new sleeve as it arrived, ``cast`` the windows of the casting behind it, ``left`` the ports as
they are handed back.  An outline, where one was drawn or rubbed, stands for the sizes.
"""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.stagefield import StageField, gauged, keyed, one_of, words

FOUND_MAP, TARGET_MAP, SUPPLIED_MAP, CAST_MAP, LEFT_MAP = MAPS = (
    "found",
    "target",
    "supplied",
    "cast",
    "left",
)

MAP_TITLES = {
    FOUND_MAP: "as found",
    TARGET_MAP: "to be",
    SUPPLIED_MAP: "sleeve as supplied",
    CAST_MAP: "casting",
    LEFT_MAP: "as left",
}
"""What the maps are called at the bench."""

CLOCKWISE, COUNTER = ROUND_WAYS = ("clockwise seen from the deck", "counter-clockwise from it")
BY_CHORD, BY_ARC = WIDTH_WAYS = ("chord, by caliper", "arc, along the wall")
INSIDE, OUTSIDE = VIEWS = ("from inside", "from outside")
DECK, FLANGE_TOP, FLANGE_SEAT = DATUMS = ("the deck", "top of the flange", "flange seat")

EXHAUST, TRANSFER, BOOST, PISTON_INLET, REED_INLET = PORT_KINDS = (
    "exhaust",
    "transfer",
    "boost",
    "inlet, opened by the piston",
    "inlet, behind a reed",
)

RADIAL_CUT, PARALLEL_CUT = WINDOW_CUTS = (
    "radial: sides point at the axis",
    "parallel: straight through",
)
"""How the windows of a sleeve were cut: what their sides do on the way outwards."""

OUTLINE_EXAMPLE = "-20.00 30.00, 20.00 30.00, 20.00 50.00, -20.00 50.00"


RING_PEG = gauged(
    "rings.peg/<n>/angle", "Peg, round the bore", span.ROUND,
    "From the datum of the port map, the same way round.", "180 deg", only="ports",
)  # fmt: skip
"""Asked at Rings, and before the drop: a ring end that meets a port bars a clocking."""


def shape_cells(key: str, *, has: tuple[str, ...] = ()) -> tuple[StageField, ...]:
    """The cells of each port of a map; ``has`` are those that stand elsewhere already."""
    title = MAP_TITLES[key]
    depth = "Below the map's datum."
    make = keyed if key == TARGET_MAP else gauged
    kind = {"kind": "chosen"} if key == TARGET_MAP else {}
    rows = (
        ("roof", "Roof", span.EDGE, f"{depth} Where it is highest.", "1.4 in"),
        ("floor", "Floor", span.EDGE, f"{depth} Where it is lowest.", "2.7 in"),
        ("width", "Width at the roof", span.EDGE, "Before the corners are rounded.", "1.5 in"),
        ("bottom", "Width at the floor", span.EDGE, "The roof's where nothing is said.", "1.4 in"),
        ("radius", "Corner radius", span.RADIUS, "Of all four corners.", "0.12 in"),
        ("arch", "Roof arched by", span.RADIUS, "Corners deeper than its middle.", "0.04 in"),
        ("angle", "Middle, round the bore", span.TURNED, "From the datum of the angles.",
         "180 deg"),
    )  # fmt: skip
    cells = tuple(
        make(f"port/<port>/{key}.{name}", f"{what}, {title}", limits, doc, example,
             only="ports", **kind)
        for name, what, limits, doc, example in rows
        if name not in has
    )  # fmt: skip
    outline = words(
        f"port/<port>/{key}.outline",
        f"Outline, {title}",
        "Corners of the window: degrees clockwise seen from the deck, and mm below the map's "
        "datum. It stands for the sizes.",
        OUTLINE_EXAMPLE,
        only="ports",
    )
    return (*cells, outline)


def measured_cells(key: str) -> tuple[StageField, ...]:
    """How a map was measured: on which diameter, from which datum, seen from where."""
    title = MAP_TITLES[key]
    more = {"only": "ports"}
    datums = DATUMS if key == SUPPLIED_MAP else (DECK,)
    at = one_of(f"ports.{key}.datum", f"Depths from, {title}", datums,
                "What the depths count from.", **more) if len(datums) > 1 else None  # fmt: skip
    return (
        gauged(f"ports.{key}.on", f"Measured on, {title}", span.BORE,
               "Diameter of the wall whose windows were measured.", "2.70 in", **more),
        one_of(f"ports.{key}.widths", f"Widths are, {title}", WIDTH_WAYS,
               "A caliper reads the chord, a rubbing or a tape the arc.", **more),
        one_of(f"ports.{key}.round", f"Angles count, {title}", ROUND_WAYS,
               "Which way they grow from the datum.", **more),
        one_of(f"ports.{key}.view", f"Looked at, {title}", VIEWS,
               "It turns no reading: names mean seen from inside, angles count seen from the deck.",
               **more),
        *(() if at is None else (at,)),
        keyed(f"ports.{key}.roof_doubt", f"Roofs within, {title}", span.CLEARANCE,
              "Half-width of about 95 %, by how they were measured.", "4 thou", **more),
        keyed(f"ports.{key}.side_doubt", f"Sides within, {title}", span.CLEARANCE,
              "Half-width of about 95 %, by how they were measured.", "8 thou", **more),
    )  # fmt: skip


def role_cells() -> tuple[StageField, ...]:
    """What a port is for, and whose bridged half it is."""
    return (
        one_of("port/<port>/kind", "Port is", PORT_KINDS,
               "Told by its name where nothing is said.", only="ports"),
        words("port/<port>/group", "Half of", "The bridged port that this window is a part of.",
              "exhaust", only="ports"),
    )  # fmt: skip


def kind_of_name(name: str) -> str:
    """What a port is for, by what it is called; a transfer where the name says nothing else.

    Examples
    --------
    >>> kind_of_name("exhaust left"), kind_of_name("rear left")
    ('exhaust', 'transfer')
    """
    said = name.lower()
    for word, kind in (
        ("exhaust", EXHAUST),
        ("boost", BOOST),
        ("reed", REED_INLET),
        ("inlet", PISTON_INLET),
        ("intake", PISTON_INLET),
    ):
        if word in said:
            return kind
    return TRANSFER
