"""Cells by which it is decided what each port is to become, and from which source.

The manual's degrees stand once for the cylinder and, where a port has its own, with the port.
What was decided stands beside the target: the source, the reason, who said so, how good it is.
"""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.stagefield import StageField, keyed, one_of, person, words

NOT_TOUCHED, TOUCHED, UNKNOWN = TOUCHES = ("no", "yes", "unknown")
"""Whether a port was worked on by hand before; the machinist says so, no sign does."""

ALL_AGREEING, BY_MANUAL, BY_MIRROR, BY_CYLINDER, BY_LIBRARY, BY_CASTING, BY_TYPED, BY_FOUND = (
    SOURCES_OF_TARGET
) = (
    "all that agree",
    "manual",
    "mirror port",
    "another cylinder",
    "library",
    "casting window",
    "typed",
    "as found",
)
"""From what a target is taken; the first takes every source where they agree."""

AFTER_TOP, BEFORE_BOTTOM, AS_DURATION = COUNTED = (
    "after top dead centre",
    "before bottom dead centre",
    "as a duration",
)
"""From where a manual counts its degrees."""

FIRST_LIGHT, AT_LIFT = OPEN_AT = ("at first light", "at a set lift")
"""When a manual counts a port as open."""

STOCK, AS_FOUND, OWN = ("stock", "as found", "customer's own")
"""What a port is to become, as the cell of the choice tells it."""


def touched_cells() -> tuple[StageField, ...]:
    """What is seen of hand work, port by port, at As found."""
    return (
        one_of("port/<port>/touched", "Worked on by hand before", TOUCHES,
               "Look at the edges: who looks says so, no figure does.", only="ports"),
        words("port/<port>/bright", "Edges seen bright or scratched",
              "Beside cast skin, and where: seen from the axis.", "roof, right half",
              only="ports"),
    )  # fmt: skip


def target_cells() -> tuple[StageField, ...]:
    """Sources of the target and what was decided, at Choice."""
    ports = {"only": "ports"}
    return (
        keyed("choice.manual_exhaust", "Manual, exhaust opens", span.TURNED,
              "As printed; a port's own figure goes before it.", "84 deg", **ports),
        keyed("choice.manual_transfer", "Manual, transfers open", span.TURNED,
              "As printed; a port's own figure goes before it.", "116 deg", **ports),
        one_of("choice.manual_counted", "The manual counts", COUNTED,
               "From which dead centre, or the whole time it is open.", **ports),
        one_of("choice.manual_at", "The manual counts it open", OPEN_AT,
               "At the first light, or when it is open by so much.", **ports),
        keyed("choice.manual_lift", "Open by then", span.CLEARANCE,
              "How far the edge is uncovered at the manual's angle.", "1 mm", **ports),
        words("choice.manual_name", "Which manual", "Title, year and page.",
              "workshop manual, page 40", **ports),
        words("choice.map_from", "Map of another cylinder",
              "Job and cylinder, as D-100/1; a number alone is a cylinder of this job.",
              "D-100/1", **ports),
        keyed("port/<port>/manual_opens", "Manual, opens", span.TURNED,
              "As printed, where this port has a figure of its own.", "116 deg", **ports),
        one_of("port/<port>/target_from", "Target taken from", SOURCES_OF_TARGET,
               "One of them where they do not agree, with a reason.", **ports),
        words("port/<port>/target_reason", "Because", "Why this source and no other.",
              "right rear was never touched", **ports),
        person("port/<port>/target_by", "Decided by", "Who stands for this target.", **ports),
        words("port/<port>/target_source", "Source of the target",
              "What the frozen figures were taken from.",
              "mirror of the rear right and the manual", **ports),
        keyed("port/<port>/target_roof_within", "Roof to be, within", span.CLEARANCE,
              "Half-width of about 95 %, by its sources.", "6 thou", **ports),
        keyed("port/<port>/target_side_within", "Sides to be, within", span.CLEARANCE,
              "Half-width of about 95 %, by their sources; along the wall.", "8 thou", **ports),
    )  # fmt: skip
