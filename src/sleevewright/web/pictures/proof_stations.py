"""The fit by its close-up, depth by depth: where along the bore it is, and where it is soft.

Across runs the fit, downwards the depth below the deck.  The hatched band is the fit as it was
measured, the broken line the least.  Each station is a point: the thick bar is what its own
readings leave open against its neighbours, the thin one adds what all stations share.  A soft
station is a square with its word beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

CAP = 7.0


@dataclass(frozen=True)
class ProofStation:
    """One station: depth, fit, half-width by its own readings, half-width in all."""

    depth: float
    fit: float
    own: float
    whole: float
    is_soft: bool = False


@dataclass(frozen=True)
class ProofPicture:
    """All that the picture shows: fits in one unit, depths in another."""

    stations: tuple[ProofStation, ...]
    prior: tuple[float, float]
    unit: str
    depth_unit: str
    says: str
    proved: float | None = None
    least: float | None = None


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    broad: bool
    top: float = 66.0
    bottom: float = 318.0


BROAD = Frame(580.0, left=74.0, right=560.0, broad=True)
SLIM = Frame(360.0, left=62.0, right=346.0, broad=False)


def proof_stations(picture: ProofPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: ProofPicture, frame: Frame) -> Markup:
    drawing = Drawing(
        "proof-stations", frame.width, frame.bottom + 96.0, picture.says, broad=frame.broad
    )
    across = _across(picture, frame)
    deepest = max(one.depth for one in picture.stations)
    down = Scale(0.0, 1.18 * deepest if deepest > 0.0 else 1.0, frame.top, frame.bottom)
    _paper(drawing, picture, across, down, frame)
    _measured(drawing, picture, across, frame)
    for station in picture.stations:
        _station(drawing, station, across, down)
    _key(drawing, frame)
    return drawing.svg()


def _across(picture: ProofPicture, frame: Frame) -> Scale:
    """The fit: from below nothing where a station says so, to beyond the largest."""
    ends = [*picture.prior, 0.0]
    ends += [one.fit + sign * one.whole for one in picture.stations for sign in (-1.0, 1.0)]
    ends += [one for one in (picture.least, picture.proved) if one is not None]
    span = max(ends) - min(ends)
    low = min(ends) - (0.04 * span if min(ends) < 0.0 else 0.0)
    return Scale(low, max(ends) + 0.05 * span, frame.left, frame.right)


def _paper(
    drawing: Drawing, picture: ProofPicture, across: Scale, down: Scale, frame: Frame
) -> None:
    size = "f t18 mid" if frame.broad else "f t24 mid"
    step = nice_step(across.high - across.low, 6 if frame.broad else 4)
    for value in across.ticks(step):
        x = across.at(value)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "hair")
        drawing.text((x, frame.bottom + 26), plain(round(value, 9)), size)
    for depth in down.ticks(nice_step(down.high, 5)):
        y = down.at(depth)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        drawing.text((frame.left - 8, y + 6), plain(round(depth, 9)), "f t18 end")
    drawing.path(f"M{frame.left} {frame.top}H{frame.right}", "axis")
    drawing.text((0, frame.top - 10), f"{picture.depth_unit} down", "t15 soft")
    drawing.text((frame.right, frame.bottom + 52), f"fit, {picture.unit}", "t18 end")


def _measured(drawing: Drawing, picture: ProofPicture, across: Scale, frame: Frame) -> None:
    """The band of the fit as measured, the proved fit and the least."""
    left, right = (across.at(end) for end in picture.prior)
    band = f"M{left:.1f} {frame.top}H{right:.1f}V{frame.bottom}H{left:.1f}Z"
    drawing.hatch(band, "loose")
    if picture.proved is not None:
        x = across.at(picture.proved)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "line")
        drawing.text((x, 22), "proved", "t18 heavy mid halo")
    if picture.least is not None:
        x = across.at(picture.least)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "dash")
        drawing.text((x, 46), "least", "t18 mid halo")


def _station(drawing: Drawing, station: ProofStation, across: Scale, down: Scale) -> None:
    x, y = across.at(station.fit), down.at(station.depth)
    low, high = (across.at(station.fit + sign * station.whole) for sign in (-1.0, 1.0))
    drawing.path(
        f"M{low:.1f} {y:.1f}H{high:.1f}M{low:.1f} {y - CAP:.1f}v{2 * CAP:.1f}"
        f"M{high:.1f} {y - CAP:.1f}v{2 * CAP:.1f}",
        "thin",
    )
    near, far = (across.at(station.fit + sign * station.own) for sign in (-1.0, 1.0))
    drawing.rect((near, y - 3.0), (max(far - near, 2.0), 6.0), "point")
    if station.is_soft:
        drawing.rect((x - 8, y - 8), (16, 16), "point")
        drawing.text((x, y - 14), "soft", "t18 heavy mid halo")
    else:
        drawing.circle((x, y), 7, "point")


def _key(drawing: Drawing, frame: Frame) -> None:
    """What the strokes mean."""
    y = frame.bottom + 80.0
    drawing.hatch(f"M{frame.left} {y - 14}h34v18h-34Z", "loose")
    drawing.text((frame.left + 44, y), "as measured", "t18")
    if frame.broad:
        x = frame.left + 178.0
        drawing.rect((x, y - 8), (24, 6), "point")
        drawing.path(f"M{x - 14:.1f} {y - 5:.1f}h52", "thin")
        drawing.text((x + 50, y), "by the close-up, own and in all", "t18")
