"""What is told of a casting while it cools: its log, how it stands, what keeps the flange down."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.stagefield import StageField, gauged, keyed, one_of, tick

STANDS = ("wood or board", "cold plate", "wire rack", "its flange or deck")
AIRS = ("still air", "fan on the flange", "fan from the side")
HOLDS = ("nothing", "weight", "plate and studs", "disc springs", "press")
STUDS = ("M8", "M6", "M10", "1/4-20", "5/16-18", "3/8-16")

COOLING: tuple[StageField, ...] = (
    gauged("cool.log/<n>/minutes", "Minutes since the drop", span.TWO_DAYS,
           "Since the sleeve was seated.", "20 min"),
    gauged("cool.log/<n>/casting", "Casting at", span.PART, "Probe on the casting.",
           "210 F"),
    gauged("cool.log/<n>/sleeve", "Sleeve at", span.PART,
           "Probe in its bore, read beside the casting.", "190 F"),
    one_of("cool.stands_on", "Stands on", STANDS, "While it cools."),
    one_of("cool.air", "Air", AIRS, "While it cools."),
    tick("cool.flange_pressed", "Flange pressed home", "On its seat from the moment it sat.",
         only="flange"),
    one_of("cool.hold_with", "Kept down with", HOLDS, "From seating on.", only="flange"),
    one_of("cool.stud", "Stud", STUDS, "Its thread; coarse pitch.", only="flange"),
    keyed("cool.studs", "Studs", span.COUNT, "How many pull the plate down.", "4",
          only="flange"),
    keyed("cool.stud_free", "Stud, free length", span.EDGE,
          "From the nut to the hole that it is screwed into.", "110 mm", only="flange"),
    keyed("cool.stud_engaged", "Stud, in its thread", span.THICKNESS,
          "Length that is screwed in.", "12 mm", only="flange"),
    keyed("cool.stud_torque", "Torque of each nut", span.NUT_TORQUE, "As it was tightened.",
          "11 Nm", only="flange"),
    tick("cool.tried_again", "Flange tried again, cold",
         "Feeler all round and dial on the deck, after it was unclamped above 60 °C (140 °F).",
         only="flange"),
)  # fmt: skip
"""Rows at the end of the stage's sheet."""
