"""The picture of the proof on the stage Cool: the fit by close-up at each depth."""

from __future__ import annotations

from sleevewright.core.fits.proof import StationFit
from sleevewright.planning.answers import Answer, Plan, Quantity
from sleevewright.planning.shown import shown_answer
from sleevewright.planning.softness import SOFT_PLACES
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.proof_stations import ProofPicture, ProofStation, proof_stations
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.views import PictureView

TITLE = "The fit by the close-up, depth by depth"
COVERAGE_FACTOR = 1.96


def proof_pictures(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The picture of the proof, where the bore was gauged before and after."""
    if stage != "cool" or plan is None:
        return ()
    viewer = Viewer(plan, plan.units)
    known = {one.id: one for one in plan.answers()}
    by_station, proved = known.get("cool.by_station"), known.get("cool.proved")
    told = known.get("fit.as_cut")
    if by_station is None or proved is None or told is None or told.doubt is None:
        return ()
    if not isinstance(by_station.value, tuple) or not isinstance(told.value, float):
        return ()
    soft = known.get(SOFT_PLACES)
    places = soft.value if soft is not None and isinstance(soft.value, tuple) else ()
    half = COVERAGE_FACTOR * told.doubt.standard
    picture = ProofPicture(
        stations=tuple(
            _station(viewer, one, is_soft=at in places)
            for at, one in enumerate(by_station.value)
            if isinstance(one, StationFit)
        ),
        prior=(viewer.deviation(told.value - half), viewer.deviation(told.value + half)),
        unit=viewer.unit(Quantity.DEVIATION),
        depth_unit=viewer.unit(Quantity.SIZE),
        says=_says(viewer, proved, known.get("cool.soft")),
        proved=_number(viewer, "cool.proved"),
        least=_number(viewer, "fit.least"),
    )
    return (PictureView(TITLE, proof_stations(picture)),) if picture.stations else ()


def _station(viewer: Viewer, one: StationFit, *, is_soft: bool) -> ProofStation:
    """One station in the units of the job."""
    depth = to_unit(one.depth, viewer.unit(Quantity.SIZE), dimension=Dimension.LENGTH)
    return ProofStation(
        depth,
        viewer.deviation(one.fit),
        viewer.deviation(COVERAGE_FACTOR * one.own),
        viewer.deviation(COVERAGE_FACTOR * one.standard),
        is_soft,
    )


def _number(viewer: Viewer, identity: str) -> float | None:
    answer = viewer.number(identity)
    if answer is None or not isinstance(answer.value, float):
        return None
    return viewer.deviation(answer.value)


def _says(viewer: Viewer, proved: Answer, soft: Answer | None) -> str:
    """What the picture answers, in a sentence."""
    said = "The fit by the close-up at each depth, diametral."
    if isinstance(proved.value, float):
        shown = shown_answer(proved, system=viewer.system)
        said += f" Proved {shown.figure} \N{PLUS-MINUS SIGN}{shown.doubt} {shown.unit}."
    if soft is not None and isinstance(soft.value, str):
        said += f" {soft.value}"
    return said
