"""How long jobs last as steps: the share that still runs, its band, and how many it rests on.

A short stroke upwards is a job that was last heard of while it ran.  Under the axis stands
how many were still followed, because a long flat end that rests on one job says little.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

TOP, BOTTOM = 24.0, 240.0
PERCENT = 100.0


@dataclass(frozen=True)
class SurvivalPicture:
    """The steps: times in days, shares from 0 to 1."""

    times: tuple[float, ...]
    share: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    followed: tuple[float, ...]  # how long each job was followed
    running: tuple[float, ...]  # of these, the jobs that ran when they were last heard of
    says: str
    name: str = "lasting"  # of its own on a page with several


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    ticks: int
    broad: bool


BROAD, SLIM = Frame(580.0, 64.0, 6, broad=True), Frame(360.0, 60.0, 3, broad=False)


def survival_steps(picture: SurvivalPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: SurvivalPicture, frame: Frame) -> Markup:
    drawing = Drawing(picture.name, frame.width, BOTTOM + 88.0, picture.says, broad=frame.broad)
    end = max(*picture.followed, 1.0)
    along = Scale(0.0, end, frame.left + 6, frame.width - 12)
    upright = Scale(0.0, 1.0, BOTTOM, TOP)
    for value in (0.0, 0.25, 0.5, 0.75, 1.0):
        y = upright.at(value)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.width}", "hair" if value else "axis")
        drawing.text((frame.left - 8, y + 6), plain(PERCENT * value), "f t18 end")
    band = _steps(picture.times, picture.high, along, upright, end)
    back = _steps(picture.times, picture.low, along, upright, end)
    drawing.hatch(_closed(band, back), "loose")
    drawing.path(_path(_steps(picture.times, picture.share, along, upright, end)), "wall")
    for day in picture.running:
        y = upright.at(_share_at(day, picture))
        drawing.path(f"M{along.at(day):.1f} {y:.1f}v-11", "middle")
    _followed(drawing, frame, along, picture)
    return drawing.svg()


def _followed(drawing: Drawing, frame: Frame, along: Scale, picture: SurvivalPicture) -> None:
    """The axis of days, and under each tick how many were followed so long."""
    for tick in along.ticks(nice_step(along.high, frame.ticks)):
        x = along.at(tick)
        drawing.path(f"M{x:.1f} {BOTTOM}v7", "thin")
        drawing.text((x, BOTTOM + 26), plain(tick), "f t15 mid")
        count = sum(one >= tick for one in picture.followed)
        drawing.text((x, BOTTOM + 74), str(count), "f t15 mid")
    words = "of 100, days since release" if frame.broad else "of 100, days since"
    drawing.text((frame.width - 4, BOTTOM + 50), words, "t15 soft end")
    drawing.text((2.0, BOTTOM + 50), "followed so long:", "t15 soft")


def _share_at(day: float, picture: SurvivalPicture) -> float:
    """Share that runs on beyond a day."""
    share = 1.0
    for time, value in zip(picture.times, picture.share, strict=True):
        share = value if time <= day else share
    return share


def _steps(
    times: Sequence[float], values: Sequence[float], along: Scale, upright: Scale, end: float
) -> tuple[tuple[float, float], ...]:
    """Corners of a staircase that begins with all of them."""
    corners, level = [(along.at(0.0), upright.at(1.0))], 1.0
    for time, value in zip(times, values, strict=True):
        corners += [(along.at(time), upright.at(level)), (along.at(time), upright.at(value))]
        level = value
    return (*corners, (along.at(end), upright.at(level)))


def _path(corners: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in corners)


def _closed(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> str:
    return f"{_path((*one, *reversed(other)))}Z"
