"""The fits of past jobs beside this one: each a point, a come-back the heaviest of all.

Across runs the day of release, upwards the cold fit by the diameter.  A job that runs well is
a ring, one that nobody has heard of a dashed ring, one that came back a filled square with a
cross: it is drawn last, so that nothing hides it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

TOP, BOTTOM = 24.0, 270.0
RADIUS = 6.0
HALF = 9.0
LEAST_DAYS = 60
WELL, UNHEARD, BACK = "well", "unheard", "back"
_ORDER = (WELL, UNHEARD, BACK)


@dataclass(frozen=True)
class PastPoint:
    """One past cylinder: the day of its release, its fit, how it came out."""

    day: date
    fit: float  # in the unit of the picture
    outcome: str  # well, unheard or back


@dataclass(frozen=True)
class PastFitsPicture:
    """All of them, and this job as a line with its band."""

    points: tuple[PastPoint, ...]
    unit: str
    says: str
    own: float | None = None
    own_half: float = 0.0  # half-width of its band


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    broad: bool


BROAD, SLIM = Frame(580.0, 60.0, broad=True), Frame(360.0, 56.0, broad=False)


def past_fits(picture: PastFitsPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: PastFitsPicture, frame: Frame) -> Markup:
    drawing = Drawing("pastfits", frame.width, BOTTOM + 96.0, picture.says, broad=frame.broad)
    upright, along = _scales(picture, frame)
    _axes(drawing, frame, upright, along)
    if picture.own is not None:
        _own(drawing, frame, upright, picture)
    for point in sorted(picture.points, key=lambda one: _ORDER.index(one.outcome)):
        at = along.at(float(point.day.toordinal())), upright.at(point.fit)
        _mark(drawing, at, point.outcome)
    if picture.own is not None:
        y = upright.at(picture.own - picture.own_half) + 18.0
        drawing.text((frame.left + 6, y), "this job", "t15 heavy blue halo")
    _key(drawing, frame)
    drawing.text((frame.left, BOTTOM + 50), f"{picture.unit}, by day of release", "t15 soft")
    return drawing.svg()


def _scales(picture: PastFitsPicture, frame: Frame) -> tuple[Scale, Scale]:
    """Upwards from nought, so that a small difference looks small; across the days."""
    fits = [one.fit for one in picture.points]
    if picture.own is not None:
        fits += [picture.own + picture.own_half, picture.own - picture.own_half]
    high, low = max([*fits, 0.1]), min([*fits, 0.0])
    upright = Scale(low, 1.1 * high, BOTTOM, TOP)
    days = [one.day.toordinal() for one in picture.points] or [0]
    middle, half = (max(days) + min(days)) / 2.0, max(max(days) - min(days), LEAST_DAYS) / 2.0
    return upright, Scale(middle - half, middle + half, frame.left + 18, frame.width - 18)


def _axes(drawing: Drawing, frame: Frame, upright: Scale, along: Scale) -> None:
    for value in upright.ticks(nice_step(upright.high - upright.low, 4)):
        y = upright.at(value)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.width}", "hair" if value else "axis")
        drawing.text((frame.left - 8, y + 6), plain(round(value, 9)), "f t18 end")
    first, last = (date.fromordinal(round(one)) for one in (along.low, along.high))
    years = range(first.year + 1, last.year + 1)
    step = max(1, len(years) // 5)
    for year in list(years)[::step]:
        x = along.at(float(date(year, 1, 1).toordinal()))
        drawing.path(f"M{x:.1f} {BOTTOM}v7", "thin")
        drawing.text((x, BOTTOM + 26), str(year), "f t15 mid")
    if not years:
        drawing.text((frame.left + 18, BOTTOM + 26), _day(first), "t15")
        drawing.text((frame.width - 4, BOTTOM + 26), _day(last), "t15 end")


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _own(drawing: Drawing, frame: Frame, upright: Scale, picture: PastFitsPicture) -> None:
    """The job in hand: its band washed, its value as a line."""
    own, half = float(picture.own or 0.0), picture.own_half
    top, bottom = upright.at(own + half), upright.at(own - half)
    drawing.rect((frame.left, top), (frame.width - frame.left, bottom - top), "wash")
    drawing.path(f"M{frame.left} {upright.at(own):.1f}H{frame.width}", "ahead")


def _mark(drawing: Drawing, at: tuple[float, float], outcome: str) -> None:
    x, y = at
    if outcome != BACK:
        drawing.circle(at, RADIUS, "point" if outcome == WELL else "unheard")
        return
    drawing.rect((x - HALF, y - HALF), (2 * HALF, 2 * HALF), "gauge")
    arm = HALF - 3.0
    drawing.path(
        f"M{x - arm:.1f} {y - arm:.1f}l{2 * arm} {2 * arm}"
        f"M{x - arm:.1f} {y + arm:.1f}l{2 * arm} {-2 * arm}",
        "reversed",
    )


def _key(drawing: Drawing, frame: Frame) -> None:
    """What each mark says."""
    words: Sequence[tuple[str, str]] = (
        (WELL, "runs well"),
        (BACK, "came back"),
        (UNHEARD, "not heard of"),
    )
    share = (frame.width - frame.left) / len(words)
    for place, (outcome, said) in enumerate(words):
        x = frame.left + place * share + 10.0
        _mark(drawing, (x, BOTTOM + 78), outcome)
        drawing.text((x + 14, BOTTOM + 84), said, "t15")
