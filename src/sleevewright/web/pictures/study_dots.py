"""A gauge study as points: feature by feature and hand by hand, how far each reading lies off.

Each column is one person on one feature; the zero is the mean of that feature.  Points that
lie at one place are drawn beside each other, so that none hides another.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

RADIUS = 5.0
TOP, BOTTOM = 44.0, 300.0


@dataclass(frozen=True)
class StudyPicture:
    """Deviations from the mean of each feature, in the unit of the picture."""

    features: tuple[str, ...]
    people: tuple[str, ...]  # a letter or two for each
    deviations: tuple[tuple[tuple[float, ...], ...], ...]  # feature, person, repeat
    unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    broad: bool


BROAD = Frame(580.0, left=70.0, right=572.0, broad=True)
SLIM = Frame(360.0, left=62.0, right=356.0, broad=False)


def study_dots(picture: StudyPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: StudyPicture, frame: Frame) -> Markup:
    drawing = Drawing("study", frame.width, BOTTOM + 66.0, picture.says, broad=frame.broad)
    largest = max(abs(d) for feature in picture.deviations for own in feature for d in own)
    reach = 1.15 * max(largest, 1e-9)
    upright = Scale(-reach, reach, BOTTOM, TOP)
    _axis(drawing, upright, frame)
    share = (frame.right - frame.left) / len(picture.features)
    for at, name in enumerate(picture.features):
        left = frame.left + at * share
        if at:
            drawing.path(f"M{left:.1f} {TOP - 12}V{BOTTOM + 30}", "thin")
        words = name if frame.broad and len(name) <= 16 else str(at + 1)
        drawing.text((left + share / 2.0, 24), words, "t18 heavy mid")
        _columns(drawing, picture, at, (left, share), upright)
    unit = f"{picture.unit} off the mean of the feature"
    drawing.text((frame.left, BOTTOM + 58), unit, "t15 soft")
    return drawing.svg()


def _axis(drawing: Drawing, upright: Scale, frame: Frame) -> None:
    step = nice_step(upright.high - upright.low, 5)
    for value in upright.ticks(step):
        y = upright.at(value)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        figure = plain(round(value, 9), signed=True)
        drawing.text((frame.left - 8, y + 6), figure, "f t18 end")
    drawing.path(f"M{frame.left} {upright.at(0.0):.1f}H{frame.right}", "axis")


def _columns(
    drawing: Drawing,
    picture: StudyPicture,
    feature: int,
    place: tuple[float, float],
    upright: Scale,
) -> None:
    """Every person on one feature: the points, and the mean as a stroke."""
    left, share = place
    each = share / len(picture.people)
    for at, own in enumerate(picture.deviations[feature]):
        middle = left + (at + 0.5) * each
        mean = upright.at(sum(own) / len(own))
        half = min(0.36 * each, 26.0)
        drawing.path(f"M{middle - half:.1f} {mean:.1f}H{middle + half:.1f}", "line")
        counts: Counter[float] = Counter()
        for value in own:
            key = round(value, 6)
            aside = ((counts[key] + 1) // 2) * (2.2 * RADIUS) * (-1.0) ** counts[key]
            counts[key] += 1
            drawing.circle((middle + aside, upright.at(value)), RADIUS, "point")
        if len(picture.people) > 1:
            drawing.text((middle, BOTTOM + 28), picture.people[at], "f t18 mid")
