"""Use case: read scanned rubbings, and keep their outlines as the map of a cylinder's ports."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sleevewright.core.rubbing.records import Image, Rubbing, RubbingTold, Tell, no_news
from sleevewright.core.rubbing.repeats import RubbingDoubt, doubt_of_two
from sleevewright.core.rubbing.rubbing import read_rubbing
from sleevewright.errors import InputError, MissingInput, clipped
from sleevewright.services.scan_files import grey_of, small_picture
from sleevewright.units import Dimension, parse

WIDEST = 1500
"""Pixels of the longer side of the picture that a page shows."""

MOST_PORTS = 14
USUAL = {"paper": "0.1 mm", "across": "100 mm", "down": "100 mm", "zero": "0 deg"}
"""What stands for a field that was left empty."""

FAR_FROM_LIST = math.radians(10.0)
"""How far the first port may lie from where the list has it: more is no clocking but a slip."""

_UNITS = {"inch": "in", "metric": "mm"}


@dataclass(frozen=True)
class ReadScan:
    """A scan as it was read, with a picture of it.

    Attributes
    ----------
    rubbing : Rubbing
        Its windows.
    doubt : RubbingDoubt
        What they are worth, one standard uncertainty.
    told : RubbingTold
        What was told of it.
    picture : bytes
        The scan as a small JPEG.
    share : float
        Pixels of the picture for one of the scan.
    size : tuple[int, int]
        Width and height of the scan, in pixels.
    """

    rubbing: Rubbing
    doubt: RubbingDoubt
    told: RubbingTold
    picture: bytes
    share: float
    size: tuple[int, int]


def told_of(texts: Mapping[str, str], system: str) -> RubbingTold:
    """What was typed of a sheet, in SI.

    Parameters
    ----------
    texts : Mapping[str, str]
        ``ports``, ``bore``, ``paper``, ``across``, ``down``, ``zero``, ``largest``, ``slot``,
        ``rubbed``, ``whole``; what is left out is usual.
    system : str
        ``inch`` or ``metric``: the unit of a bare number.

    Raises
    ------
    InputError
        If one of them cannot be used; the text names it.
    """
    names, angles = ports_of(texts.get("ports", ""))
    if not texts.get("bore", "").strip():
        raise MissingInput("bore", "66.4 mm")
    largest = texts.get("largest", "").strip()
    if largest and largest not in names:
        raise InputError("largest", clipped(largest), "", "one of the ports of the list")
    return RubbingTold(
        names=names,
        angles=angles,
        bore=_length(texts, "bore", system),
        paper=_length(texts, "paper", system),
        across=_length(texts, "across", system),
        down=_length(texts, "down", system),
        largest_is=largest,
        zero=_zero(texts.get("zero", "").strip(), names[0], angles[0]),
        is_whole=texts.get("whole", "yes") != "no",
        edge=_edge(texts, system),
    )


def _zero(said: str, name: str, listed: float | None) -> float:
    """Where the first port lies: as it was typed, else as the list has it."""
    if not said:
        return _angle(USUAL["zero"], "zero") if listed is None else listed
    zero = _angle(said, "zero")
    if listed is None:
        return zero
    apart = (zero - listed + math.pi) % (2.0 * math.pi) - math.pi
    if abs(apart) > FAR_FROM_LIST:
        raise InputError(
            "zero",
            said,
            "",
            f"within {math.degrees(FAR_FROM_LIST):.0f} degrees of where the list has {name}, "
            f"{math.degrees(listed):.1f} deg",
            "Type the angle of the first port of the list, or mend the list.",
        )
    return zero


def _edge(texts: Mapping[str, str], system: str) -> float:
    """The correction of each edge, from a slot of known size where one was rubbed."""
    from sleevewright.core.rubbing.repeats import edge_correction

    if not (texts.get("slot", "").strip() or texts.get("rubbed", "").strip()):
        return 0.0
    for name in ("slot", "rubbed"):
        if not texts.get(name, "").strip():
            raise MissingInput(name, "10.00 mm")
    known, rubbed = _length(texts, "slot", system), _length(texts, "rubbed", system)
    return edge_correction(rubbed=(rubbed,), known=(known,))


def _length(texts: Mapping[str, str], name: str, system: str) -> float:
    """A length that was typed, in metres; a bare number has the unit of the job."""
    said = texts.get(name, "").strip() or USUAL.get(name, "")
    if re.fullmatch(r"[\d.,\s]+", said):
        said = f"{said} {_UNITS[system]}"
    return float(parse(said, field=name, dimension=Dimension.LENGTH).value)


def _angle(text: str, field: str) -> float:
    """An angle that was typed, in radians; a bare number is degrees."""
    said = f"{text} deg" if re.fullmatch(r"[+\-\d.,\s]+", text) else text
    return float(parse(said, field=field, dimension=Dimension.ANGLE).value)


def ports_of(text: str) -> tuple[tuple[str, ...], tuple[float | None, ...]]:
    """Names of the ports in their order, and the angles that stand behind an at sign.

    Examples
    --------
    >>> ports_of("exhaust, main right")
    (('exhaust', 'main right'), (None, None))
    """
    names: list[str] = []
    angles: list[float | None] = []
    for part in (one.strip() for one in text.split(",")):
        name, _, angle = part.partition("@")
        if not name.strip():
            continue
        names.append(clipped(name.strip()))
        angles.append(_angle(angle.strip(), f"angle of {names[-1]}") if angle.strip() else None)
    if not 1 <= len(names) <= MOST_PORTS:
        allowed = f"1 to {MOST_PORTS} names with commas between"
        raise InputError("ports", len(names), "names", allowed, "As: exhaust, main right, boost.")
    return tuple(names), tuple(angles)


def read_scan(
    content: bytes, told: RubbingTold, *, second: bytes = b"", tell: Tell = no_news
) -> ReadScan:
    """Read a scan, and a second rubbing of the same wall where there is one.

    Parameters
    ----------
    content : bytes
        The file.
    told : RubbingTold
        What was told of the sheet.
    second : bytes
        A second rubbing; its differences tell what both are worth.
    tell : Tell
        Is told how far it is.

    Raises
    ------
    SleevewrightError
        If a scan cannot be read; the text says what to do.
    """
    of_all = 0.5 if second else 1.0
    image = grey_of(content)
    rubbing = read_rubbing(image, told, lambda share, words: tell(of_all * share, words))
    doubt = RubbingDoubt()
    if second:
        other = read_rubbing(
            grey_of(second), told, lambda share, words: tell(0.5 + 0.5 * share, f"second: {words}")
        )
        rubbing = _with_other(rubbing, other)
        doubt = doubt if rubbing.refused or rubbing.asks else doubt_of_two(rubbing, other)
    return _shown(image, rubbing, doubt, told)


def _with_other(rubbing: Rubbing, other: Rubbing) -> Rubbing:
    """A rubbing with what speaks against its second one."""
    refused = tuple(f"Second rubbing: {text}" for text in other.refused)
    asks = rubbing.asks or other.asks
    return replace(rubbing, refused=(*rubbing.refused, *refused), asks=asks)


def _shown(image: Image, rubbing: Rubbing, doubt: RubbingDoubt, told: RubbingTold) -> ReadScan:
    """The outcome with the picture that a page lays the outlines on."""
    picture, share = small_picture(image, WIDEST)
    return ReadScan(rubbing, doubt, told, picture, share, (image.shape[1], image.shape[0]))


def rubbing_lines(read: ReadScan) -> tuple[str, ...]:
    """What a terminal prints of a rubbing."""
    rubbing, deg = read.rubbing, math.degrees
    lines = [
        f"{'port':<16}{'roof':>9}{'floor':>9}{'width, arc':>12}{'middle':>10}",
        f"{'':<16}{'mm':>9}{'mm':>9}{'mm':>12}{'deg':>10}",
    ]
    lines += [
        f"{port.name or '?':<16}{port.shape.roof * 1e3:9.2f}{port.shape.floor * 1e3:9.2f}"
        f"{(port.flat[:, 0].max() - port.flat[:, 0].min()) * 1e3:12.2f}{deg(port.angle):10.2f}"
        for port in rubbing.ports
    ]
    return (*lines, *_sheet_lines(read), *_against(rubbing))


def _sheet_lines(read: ReadScan) -> tuple[str, ...]:
    """What a terminal prints of the sheet and of the doubt."""
    scale, doubt, around = read.rubbing.scale, read.doubt, read.rubbing
    compared = "the least that paper and pencil allow; a second rubbing tells it"
    if doubt.compared:
        compared = f"from {doubt.compared} windows of two rubbings"
    roof, width = 2e3 * doubt.roof, 2e3 * doubt.width
    turned, square = math.degrees(scale.skew), math.degrees(scale.out_of_square)
    wanted = around.round_wanted * 1e3
    return (
        "Depths from the upper end of the wall; degrees clockwise seen from the deck,",
        "to the right seen from inside.",
        f"roofs within {roof:.2f} mm, widths within {width:.2f} mm, about 95 %: {compared}",
        f"scan turned {turned:.2f} deg; bars {square:+.2f} deg from square",
        f"scales of the bars {100 * scale.inequality:+.2f} % apart",
        f"once round {around.round * 1e3:.2f} mm on paper, wanted {wanted:.2f} mm",
    )


def _against(rubbing: Rubbing) -> tuple[str, ...]:
    """What speaks against it, and what has to be said."""
    refused = (f"Not to be used: {text}" for text in rubbing.refused)
    return (*refused, *(f"To be said: {text}" for text in rubbing.asks))
