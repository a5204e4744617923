"""The picture of the proof: stations at their depths, soft ones marked, the least drawn."""

from __future__ import annotations

import re
from dataclasses import replace

from sleevewright.core.fits.proof import StationFit
from sleevewright.planning.answers import Answer, Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.web.pictures.proof_stations import (
    BROAD,
    ProofPicture,
    ProofStation,
    proof_stations,
)
from sleevewright.web.stage.proof_view import proof_pictures

PICTURE = ProofPicture(
    stations=(
        ProofStation(0.5, 1.4, 0.3, 0.9, is_soft=True),
        ProofStation(1.6, 3.2, 0.3, 1.1),
        ProofStation(3.0, 3.1, 0.3, 1.1),
    ),
    prior=(3.1, 3.7),
    unit="thou",
    depth_unit="in",
    says="said",
    proved=3.4,
    least=2.6,
)


def broad(picture: ProofPicture) -> str:
    """The wide form."""
    return str(proof_stations(picture)).split("</svg>")[0]


def test_a_soft_station_is_a_square_and_says_so() -> None:
    """Not by colour alone: another shape, and the word beside it."""
    drawn = broad(PICTURE)
    assert drawn.count(">soft<") == 1
    assert drawn.count("<circle") == 2
    even = replace(PICTURE, stations=PICTURE.stations[1:])
    assert ">soft<" not in broad(even)


def test_deeper_stations_lie_lower_and_tighter_ones_further_right() -> None:
    """Places of the two round points by the axes of the picture."""
    points = re.findall(r'<circle class="point" cx="([\d.]+)" cy="([\d.]+)"', broad(PICTURE))
    (x1, y1), (x2, y2) = ((float(x), float(y)) for x, y in points)
    assert y1 < y2
    assert x1 > x2
    assert BROAD.left < x2 < BROAD.right


def test_a_fit_below_nothing_stays_in_the_picture() -> None:
    """A bore that opened: the axis reaches below nought."""
    lost = replace(PICTURE, stations=(ProofStation(0.5, -0.8, 0.2, 0.5), *PICTURE.stations[1:]))
    points = re.findall(r'<circle class="point" cx="([\d.]+)"', broad(lost))
    assert min(map(float, points)) > BROAD.left


def answer(identity: str, value: object, **more: object) -> Answer:
    """An answer in metres."""
    return Answer(identity, identity, value, Quantity.DEVIATION, Kind.COMPUTED, **more)  # type: ignore[arg-type]  # passed on


def test_the_stage_shows_it_where_there_is_a_proof() -> None:
    """Only at Cool, in the units of the job, with the words of what is soft as its text."""
    doubt = Doubt(4e-6, 78e-6, 94e-6, 0.95, "sampled")
    told = (
        answer("fit.as_cut", 86e-6, doubt=doubt),
        answer("cool.proved", 85e-6, doubt=doubt),
        answer("fit.least", 66e-6),
        answer("cool.by_station", (StationFit(0.0127, 84e-6, 1e-5, 4e-6, 0.0, 0.0),)),
        answer("cool.soft", "Nowhere."),
    )
    plan = Plan("J", "", "metric", True, "", (), (), (StageAnswers("cool", "", told),))
    (shown,) = proof_pictures("cool", plan)
    assert "Proved 85" in str(shown.picture)
    assert "Nowhere." in str(shown.picture)
    assert "fit, µm" in str(shown.picture)
    assert proof_pictures("hone", plan) == ()
    assert proof_pictures("cool", None) == ()
    bare = replace(plan, stages=(StageAnswers("cool", "", told[:3]),), _index={})
    assert proof_pictures("cool", bare) == ()
