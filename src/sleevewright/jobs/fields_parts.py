"""Keys of the job file about casting and sleeve."""

from __future__ import annotations

from sleevewright.core.materials import material_names
from sleevewright.jobs.field import MM, UM, ZERO_C, Field, Span, assumed, choice, chosen, quantity
from sleevewright.units import Dimension

PART_SIZES = Span(Dimension.LENGTH, 0.010, 0.400)
RING_SIZES = Span(Dimension.LENGTH, 0.010, 1.000)
METAL = Span(Dimension.TEMPERATURE, ZERO_C - 200.0, ZERO_C + 500.0)
MODULI = Span(Dimension.PRESSURE, 30e9, 250e9)
WEBS = Span(Dimension.LENGTH, 0.5 * MM, 0.300)
GROWTH = Span(Dimension.EXPANSION, 5e-6, 30e-6)


def _constants(table: str) -> tuple[Field, ...]:
    """Constants of the metal that a job may override."""
    return (
        quantity(
            f"{table}.modulus",
            MODULI,
            f"Young's modulus of the {table}, where it is known better than by the metal's name.",
            "71 GPa",
            without="the material's",
        ),
        quantity(
            f"{table}.poisson",
            Span(Dimension.RATIO, 0.15, 0.45),
            f"Poisson's ratio of the {table}.",
            "0.33",
            without="the material's",
        ),
        quantity(
            f"{table}.expansion",
            GROWTH,
            f"Mean expansion of the {table} from 20 to 200 degC, used as a constant.",
            "22.5e-6 /K",
            without="the material's, rising with temperature",
        ),
        quantity(
            f"{table}.roughness",
            Span(Dimension.LENGTH, 0.0, 60.0 * UM),
            f"Peak-to-valley roughness Rz of the {table}'s fitted surface.",
            "5 um",
            without="no loss of fit is reckoned, and the answer says so",
        ),
    )


def _body(table: str, metal: str, fallback: str) -> tuple[Field, ...]:
    """What casting and sleeve have in common."""
    return (
        choice(
            f"{table}.material",
            material_names(),
            f"Metal of the {table}, by name.",
            without=f"{fallback}, assumed",
            example=metal,
        ),
        quantity(
            f"{table}.length", PART_SIZES, "Length over which sleeve and casting touch.", "3.50 in"
        ),
        quantity(
            f"{table}.mass",
            Span(Dimension.MASS, 0.02, 100.0),
            f"Weight of the {table} on the scale.",
            "3.2 lb",
            without="from the geometry, assumed",
        ),
    )


CASTING = (
    *_body("casting", "aluminium-356", "unknown-aluminium"),
    quantity(
        "casting.inside_diameter",
        PART_SIZES,
        "Parent bore; readings of a grid go before it.",
        "2.6368 in",
        without="from the grid parent-bore",
    ),
    quantity(
        "casting.outside_diameter",
        RING_SIZES,
        "Outside diameter of the plain ring that would give way as the casting does.",
        "3.70 in",
    ),
    quantity(
        "casting.outside_low",
        RING_SIZES,
        "Lower end of the effective outside diameter, as of the core without fins.",
        "3.30 in",
        without="no band on that side",
    ),
    quantity(
        "casting.outside_high",
        RING_SIZES,
        "Upper end of the effective outside diameter, as of a plain ring of equal weight.",
        "4.05 in",
        without="no band on that side",
    ),
    chosen(
        "casting.limit",
        Span(Dimension.TEMPERATURE, ZERO_C + 50.0, ZERO_C + 400.0),
        "Highest temperature that the casting itself may see.",
        "446 F",
        without=assumed("part_limit"),
    ),
    quantity(
        "casting.web",
        WEBS,
        "Metal between this bore and its neighbour's, where it is thinnest; as bored.",
        "0.55 in",
        without="from the bores' axes; no neighbour without either",
    ),
    quantity(
        "casting.centres",
        PART_SIZES,
        "Distance from the axis of this bore to its neighbour's.",
        "3.20 in",
        without="from the web; no neighbour without either",
    ),
    quantity(
        "casting.ring_diameter",
        RING_SIZES,
        "Outside diameter of a ring that is shrunk round the casting.",
        "4.25 in",
        without="no ring",
    ),
    chosen(
        "casting.ring_fit",
        Span(Dimension.LENGTH, 0.0, 0.0008),
        "Interference of that ring on the casting; diametral.",
        "3 thou",
    ),
    choice(
        "casting.ring_material",
        material_names(),
        "Metal of that ring, by name.",
        without="steel, assumed",
        example="steel",
    ),
    *_constants("casting"),
)

SLEEVE = (
    *_body("sleeve", "grey-iron", "grey-iron"),
    quantity(
        "sleeve.outside_diameter",
        PART_SIZES,
        "Outside diameter of the sleeve; readings of a grid go before it.",
        "2.6402 in",
        without="from the grid sleeve-od",
    ),
    quantity(
        "sleeve.inside_diameter",
        PART_SIZES,
        "Inside diameter of the sleeve as supplied.",
        "2.340 in",
        without="from the grid sleeve-id",
    ),
    quantity(
        "sleeve.temperature",
        METAL,
        "Temperature of the sleeve at the drop.",
        "70 F",
        without="the room's, assumed",
    ),
    quantity(
        "sleeve.flange_diameter",
        PART_SIZES,
        "Diameter of the flange, where it is not gauged.",
        "2.840 in",
        without="from the grid flange-od; no flange without either",
    ),
    quantity(
        "sleeve.flange_thickness",
        Span(Dimension.LENGTH, 0.5 * MM, 0.040),
        "Thickness of the flange, where it is not gauged.",
        "0.157 in",
        without="from the grid flange-thickness",
    ),
    *_constants("sleeve"),
)
