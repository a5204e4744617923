"""Keys of the job file about the fit, running, oven and drop."""

from __future__ import annotations

from sleevewright.jobs.field import UM, ZERO_C, Span, assumed, choice, chosen, flag, quantity, text
from sleevewright.units import Dimension

FITS = Span(Dimension.LENGTH, 0.0, 0.0008)
ROOM = Span(Dimension.TEMPERATURE, ZERO_C - 20.0, ZERO_C + 60.0)
ENGINE_HEAT = Span(Dimension.TEMPERATURE, ZERO_C - 40.0, ZERO_C + 450.0)

BY_COOLING = "by the kind of cooling, assumed"
BY_METAL = "by metal and cooling, thou per inch, assumed; nothing for a casting of steel"

FIT = (
    chosen(
        "fit.wanted",
        FITS,
        "Wanted interference of the body, diametral, at 20 degC.",
        "3.4 thou",
        without=BY_METAL,
    ),
    chosen(
        "fit.least",
        FITS,
        "The shop's least interference of the body.",
        "2.6 thou",
        without=BY_METAL,
    ),
    chosen(
        "fit.flange_wanted",
        Span(Dimension.LENGTH, -0.002, 0.0008),
        "Wanted interference of the flange in its counterbore; negative is clearance.",
        "2.0 thou",
        without=f"clearance of {assumed('flange_clearance')}",
    ),
    chosen(
        "fit.stand_out",
        Span(Dimension.LENGTH, -0.002, 0.005),
        "How far the flange is to stand above the deck; negative is below.",
        "2 thou",
        without=assumed("stand_out"),
    ),
    chosen(
        "fit.tolerance",
        Span(Dimension.LENGTH, 1.0 * UM, 100.0 * UM),
        "Half of the band that a cut is asked to keep, plus and minus.",
        "0.3 thou",
        without=assumed("cut_tolerance"),
    ),
    choice(
        "fit.hold_down",
        ("held", "free"),
        "Whether the flange is held on its ledge, by a clamp or the head, or free to lift.",
        without="held, assumed",
    ),
    text("fit.reason", "Why this fit.", "about 1.3 thou per inch"),
    text("fit.by", "Who decided; a fit without a name is not agreed.", "M. Turner"),
)


RUNNING = (
    quantity(
        "running.casting", ENGINE_HEAT, "Casting near the bore, engine warm.", "280 F", BY_COOLING
    ),
    quantity("running.sleeve", ENGINE_HEAT, "Sleeve, engine warm.", "330 F", BY_COOLING),
    quantity("running.hard_casting", ENGINE_HEAT, "Casting, pulling hard.", "330 F", BY_COOLING),
    quantity("running.hard_sleeve", ENGINE_HEAT, "Sleeve, pulling hard.", "390 F", BY_COOLING),
)

HEAT = (
    chosen(
        "heat.slip",
        FITS,
        "Wanted clearance over the sleeve, the sleeve at its own temperature; diametral.",
        "5.4 thou",
        without=assumed("slip_per_diameter"),
    ),
    quantity("heat.ambient", ROOM, "Temperature of the room.", "70 F", without=assumed("room")),
    chosen(
        "heat.oven_margin",
        Span(Dimension.TEMPERATURE_DIFFERENCE, 0.0, 150.0),
        "How much hotter the oven is set than the casting is to become.",
        "60 F",
        without=assumed("oven_margin"),
    ),
    quantity(
        "heat.form",
        Span(Dimension.LENGTH, 0.0, 0.0003),
        "Slip that hot out-of-round, taper and burrs use up; diametral.",
        "1.0 thou",
        without=assumed("form_allowance"),
    ),
    quantity(
        "heat.carry",
        Span(Dimension.TIME, 0.0, 300.0),
        "Time from the oven door to the sleeve's first entry.",
        "12 s",
        without=assumed("carry_time"),
    ),
    flag(
        "heat.dry",
        "Whether the surfaces are dry and the casting is drained.",
        without="oil or water in the gap is taken as possible",
    ),
    quantity(
        "heat.friction",
        Span(Dimension.RATIO, 0.01, 0.6),
        "Friction between sleeve and casting.",
        "0.15",
        without=assumed("friction"),
    ),
    quantity(
        "heat.contact",
        Span(Dimension.RATIO, 0.05, 1.0),
        "Part of the surface that touches; ports take away from it.",
        "0.75",
        without=f"{assumed('contact_closed')}; with ports {assumed('contact_ported')}",
    ),
)
