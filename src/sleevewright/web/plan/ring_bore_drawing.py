"""The bore by gauge and by the ring's gap as a picture, from the answers of stage Rings."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.core.materials import default
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.shown import shown_answer
from sleevewright.web.pictures.ring_bore import RingBorePicture, ring_bore
from sleevewright.web.plan.viewer import Viewer

BORE, TOLD = "rings.bore", "rings.top_bore"


def ring_bore_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where both bores are known; ``answer`` is how far they lie apart.

    Where the bore is not gauged yet, the picture says that it is the planned one.
    """
    gauge, told = viewer.number(BORE), viewer.number(TOLD)
    if gauge is None or told is None or not isinstance(answer.value, float):
        return None
    judged = answer.judgement
    limit = default("gap_check_within").value if judged is None else judged.limit
    shown = shown_answer(answer, system=viewer.system)
    verdict = "" if judged is None else f" {judged.verdict.value.capitalize()}."
    says = (
        f"The bore that the top ring's gap tells lies {shown.figure} {shown.unit} off the bore "
        f"{gauge.of}, diametral.{verdict}"
    )
    return ring_bore(
        RingBorePicture(
            unit=viewer.unit(Quantity.DEVIATION),
            first=gauge.of,
            gauge=viewer.deviation(_half(gauge)),
            told=viewer.deviation(answer.value),
            told_half=viewer.deviation(_half(told)),
            allowed=viewer.deviation(limit),
            says=says,
        )
    )


def _half(answer: Answer) -> float:
    """Half of the interval that a size lies in."""
    return 0.0 if answer.doubt is None else (answer.doubt.high - answer.doubt.low) / 2.0
