"""Keys of the job file about the job, its engine, ports and piston."""

from __future__ import annotations

from sleevewright.jobs.field import Span, assumed, called, choice, chosen, flag, quantity, text
from sleevewright.units import Dimension

EDGE = Span(Dimension.LENGTH, 0.001, 0.300)
SMALL = Span(Dimension.LENGTH, 0.0, 0.0006)

JOB = (
    called(
        "job.number",
        "The job's number, as it is called across the shop.",
        "J-31",
        without="the file's name without its ending",
    ),
    text("job.title", "What the job is, in one line.", "270 barrel, re-sleeve"),
    choice(
        "job.units",
        ("inch", "metric"),
        "Units of the job: of readings without a unit, and of everything that is shown.",
        without="inch",
    ),
    flag("job.invented", "Whether the data are made up, as in a demonstration.", without="false"),
    text("job.cylinder", "The cylinder, in the words of the title block.", "270 two-stroke"),
    text("job.note", "Anything else that belongs to the job.", "left barrel of the pair"),
)

ENGINE = (
    text("engine.description", "The engine in words.", "water-cooled 270 single"),
    choice(
        "engine.kind",
        ("two-stroke", "four-stroke", "compressor"),
        "Kind of engine; without ports the port stage falls away.",
        without="two-stroke",
    ),
    choice(
        "engine.cooling",
        ("air", "fan", "water", "racing"),
        "How it is cooled; it sets the running temperatures that are assumed.",
        without="air",
    ),
    quantity(
        "engine.bore", Span(Dimension.LENGTH, 0.020, 0.250), "Finished bore, nominal.", "2.402 in"
    ),
    quantity("engine.stroke", Span(Dimension.LENGTH, 0.015, 0.300), "Stroke.", "2.360 in"),
    quantity(
        "engine.rod",
        Span(Dimension.LENGTH, 0.040, 0.600),
        "Connecting rod, centre to centre.",
        "4.725 in",
    ),
    quantity(
        "engine.deck",
        Span(Dimension.LENGTH, -0.005, 0.010),
        "Edge of the piston crown below the deck at top dead centre, negative above it.",
        "0.020 in",
        without=assumed("deck_clearance"),
    ),
)


PISTON = (
    quantity(
        "piston.diameter",
        Span(Dimension.LENGTH, 0.020, 0.250),
        "Diameter of the piston where its maker measures it.",
        "2.3992 in",
    ),
    chosen(
        "piston.clearance",
        SMALL,
        "Wanted clearance of the piston in the finished bore; diametral.",
        "2.8 thou",
        without=assumed("piston_clearance"),
    ),
    chosen(
        "piston.hone_stock",
        SMALL,
        "What the boring bar is to leave for the hone; diametral.",
        "3 thou",
        without=assumed("hone_stock"),
    ),
)


PORT = (
    text("port.name", "What the port is called.", "exhaust"),
    quantity("port.roof", EDGE, "Upper edge below the deck.", "1.345 in"),
    quantity("port.floor", EDGE, "Lower edge below the deck.", "2.330 in"),
    quantity("port.width", EDGE, "Width along the chord.", "1.50 in"),
)
