"""A rubbing from its scan: outlines of the ports, with everything that speaks against them."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points, outline_area
from sleevewright.core.rubbing.bars import find_strokes, sheet_scale
from sleevewright.core.rubbing.deck import band_length, band_points, below_deck, deck_line
from sleevewright.core.rubbing.edges import even_outline, outward, refined, turning
from sleevewright.core.rubbing.extra import picture_tools
from sleevewright.core.rubbing.ink import Band, find_band, paper_level
from sleevewright.core.rubbing.naming import Named, name_windows
from sleevewright.core.rubbing.records import (
    DeckLine,
    Image,
    RubbedPort,
    Rubbing,
    RubbingRefused,
    RubbingTold,
    SheetScale,
    Tell,
    no_news,
)
from sleevewright.core.rubbing.shape_fit import fit_shape
from sleevewright.errors import InputError

MOST_WEAK = 0.10
"""Share of an outline that may be without a clear edge."""

MOST_ROUND_OFF = 0.005
"""By how much the band may differ from the wall's circumference."""

LEAST_PIXELS = 300
"""Pixels of the shorter side of a scan."""


@formula(
    name="length along the wall of a length on paper",
    expression="s = s_paper D/(D - t)",
    sources=("derived",),
    validity="paper that lies on the wall without a gap, bent about its middle",
    unit="m",
)
def wall_length(*, on_paper: float, bore: float, paper: float) -> float:
    """Length along the wall of a length on the flat sheet.

    Parameters
    ----------
    on_paper : float
        Length on the sheet, laid flat. [m]
    bore : float
        Diameter of the wall. [m]
    paper : float
        Thickness of the paper. [m]

    Returns
    -------
    float
        Length along the wall. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or the paper not thinner than a tenth of it.

    Notes
    -----
    The middle of the paper keeps its length and lies on the diameter D - t.
    Source: ``derived``.

    Examples
    --------
    >>> round(wall_length(on_paper=208.2885, bore=66.4, paper=0.1), 2)
    208.6
    """
    positive("bore", bore, "m")
    if not_negative("thickness of the paper", paper, "m") > 0.1 * bore:
        raise InputError("thickness of the paper", paper, "m", "less than a tenth of the bore")
    return on_paper * bore / (bore - paper)


@dataclass(frozen=True)
class _Sheet:
    """What is known of a sheet once its bars, its band and its deck were found."""

    image: Image
    paper: float
    band: Band
    scale: SheetScale
    deck: DeckLine
    told: RubbingTold

    @property
    def pixel(self) -> float:
        """Size of a pixel, in metres."""
        return (self.scale.across + self.scale.down) / 2.0


def read_rubbing(image: Image, told: RubbingTold, tell: Tell = no_news) -> Rubbing:
    """Read a scanned rubbing.

    Parameters
    ----------
    image : Image
        The scan in grey, rows by columns, 0 black to 255 white. [1]
    told : RubbingTold
        What is told of the sheet. [record]
    tell : Tell
        Is told how far it is: a share and words.

    Returns
    -------
    Rubbing
        Windows in their order to the right, and why they must not be used as they are, if so.
        [record]

    Raises
    ------
    RubbingRefused
        If bars, mark, band or deck are not found, or the scan is mirrored.
    InputError
        If the scan is no grey picture or a told size cannot be.
    ScanExtraMissing
        If the packages that read a scan are not installed.
    """
    picture_tools()
    _refuse_told(image, told)
    tell(0.02, "looking for the bars")
    image = np.ascontiguousarray(image, dtype=np.float32)
    paper = paper_level(image)
    strokes = find_strokes(image, paper)
    tell(0.2, "looking for the rubbed band")
    if not strokes.bars:
        sheet_scale(strokes, np.zeros(2), told)  # says what is missing
    rough = max(told.across, told.down) / strokes.bars[0].length
    band = find_band(image, paper, rough)
    scale = sheet_scale(strokes, band.centre, told)
    tell(0.45, "looking for the deck edge")
    flat = band_points(band, scale)
    sheet = _Sheet(image, paper, band, scale, deck_line(image, flat, scale, paper), told)
    round_ = band_length(image, flat, scale, paper)
    edges = [_outline(sheet, contour) for contour in band.contours]
    tell(0.6, "fitting the windows")
    return _read(sheet, edges, round_, tell)


def _refuse_told(image: Image, told: RubbingTold) -> None:
    """Refuse what cannot be read before anything is looked for."""
    if image.ndim != 2 or min(image.shape) < LEAST_PIXELS:
        allowed = f"a grey picture of at least {LEAST_PIXELS} pixels each way"
        raise InputError("scan", "x".join(map(str, image.shape)), "pixels", allowed)
    wall_length(on_paper=1.0, bore=told.bore, paper=told.paper)
    positive("length of the bar across", told.across, "m")
    positive("length of the bar down", told.down, "m")
    if len(set(told.names)) != len(told.names):
        raise InputError("ports", ", ".join(told.names), "", "each name once")


@dataclass(frozen=True)
class _Outline:
    """One outline along the deck and below it on the flat sheet, and in the scan."""

    sheet: Points
    pixels: Points
    weak: float


def _outline(sheet: _Sheet, contour: Points) -> _Outline:
    """The true edge of one window, begun from its rough contour and done twice."""
    points, weak = contour, 0.0
    for _ in range(2):
        rough = even_outline(points, sheet.pixel)
        edge = refined(
            sheet.image, rough, outward(rough), bare=sheet.paper, pixel=sheet.pixel,
            is_closed=True,
        )  # fmt: skip
        points, weak = edge.points, 1.0 - float(edge.seen.mean())
    below = below_deck(sheet.scale.flat(points), sheet.deck)
    if turning(below) < 0.0:
        below, points = below[::-1], points[::-1]
    return _Outline(below + outward(below) * sheet.told.edge, points, weak)


def _read(sheet: _Sheet, edges: list[_Outline], round_: float, tell: Tell) -> Rubbing:
    """Names, angles and shapes of the windows, and what speaks against them."""
    told = sheet.told
    edges.sort(key=lambda one: float(one.sheet[:, 0].mean()))
    stretch = wall_length(on_paper=1.0, bore=told.bore, paper=told.paper)
    on_wall = [one.sheet * np.array([stretch, 1.0]) for one in edges]
    middles = np.array([(p[:, 0].min() + p[:, 0].max()) / told.bore for p in on_wall])
    areas = np.array([outline_area(points) for points in on_wall])
    named = name_windows(middles, areas, told)
    ports = []
    for number, (edge, points, name) in enumerate(zip(edges, on_wall, named.names, strict=True)):
        tell(0.6 + 0.4 * number / len(edges), f"fitting window {number + 1} of {len(edges)}")
        ports.append(_port(edge, points, name, named, told))
    tell(1.0, "done")
    wanted = pi * (told.bore - told.paper)
    refused = _refusals(sheet, ports, round_ / wanted - 1.0)
    asks = (named.asks,) if named.asks else ()
    return Rubbing(tuple(ports), sheet.scale, sheet.deck, round_, wanted, refused, asks)


def _port(edge: _Outline, points: Points, name: str, named: Named, told: RubbingTold) -> RubbedPort:
    """One window as a port: its angles within half a turn of zero."""
    turned = points[:, 0] * 2.0 / told.bore + named.shift
    middle = (turned.min() + turned.max()) / 2.0
    turned -= 2.0 * pi * np.floor((middle + pi) / (2.0 * pi))
    placed = np.column_stack([turned, points[:, 1]])
    flat = placed * np.array([told.bore / 2.0, 1.0])
    fitted = fit_shape(flat)
    return RubbedPort(name, placed, flat, edge.pixels, fitted.shape, fitted.misfit, edge.weak)


def _refusals(sheet: _Sheet, ports: list[RubbedPort], round_off: float) -> tuple[str, ...]:
    """Everything that forbids to use the windows as they are."""
    told, said = sheet.told, []
    if len(ports) != len(told.names):
        said.append(
            f"The band has {len(ports)} windows, the list has {len(told.names)} ports. Does the "
            "seam cross a port, was a port not rubbed all round, or is the list wrong?"
        )
    for number, port in enumerate(ports, start=1):
        if port.weak > MOST_WEAK:
            called = port.name or f"window {number} from the left"
            said.append(
                f"{called}: {100.0 * port.weak:.0f} % of its outline has no clear edge; at most "
                f"{100.0 * MOST_WEAK:.0f} % is allowed. Rub its edges again."
            )
    if told.is_whole and abs(round_off) > MOST_ROUND_OFF:
        said.append(
            f"The band is {100.0 * abs(round_off):.2f} % {'longer' if round_off > 0 else 'shorter'}"
            f" than once round the wall; at most {100.0 * MOST_ROUND_OFF:.1f} % is allowed. Check "
            "the bore, the bars' lengths and that the graphite ends at the seam on both sides."
        )
    return tuple(said)


__all__ = ["Rubbing", "RubbingRefused", "read_rubbing", "wall_length"]
