"""What speaks against a scan of a rubbing is said with the reason; no outline comes of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from made_rubbings import PAPER, Spoilt, made_rubbing, small_shapes, small_sheet
from sleevewright.core.rubbing.records import Rubbing, RubbingRefused, RubbingTold
from sleevewright.core.rubbing.rubbing import read_rubbing
from sleevewright.errors import InputError

NAMES = tuple(small_shapes())
TOLD = RubbingTold(NAMES, 44.0e-3, down=0.05)
DPI = 100.0
PX = DPI / 25.4


@pytest.fixture(scope="module")
def scan() -> np.ndarray:
    """One sound scan, square to the scanner so that parts of it can be painted over."""
    return made_rubbing(small_sheet(), Spoilt(dpi=DPI, skew=0.0, unequal=(0.0, 0.0), wavy=0.0))


@pytest.fixture(scope="module")
def sound(scan: np.ndarray) -> Rubbing:
    """What the sound scan is read as."""
    return read_rubbing(scan, TOLD)


def painted(scan: np.ndarray, left: float, top: float, right: float, bottom: float) -> np.ndarray:
    """The scan with a rectangle, in mm, as bare as paper."""
    made = scan.copy()
    made[round(top * PX) : round(bottom * PX), round(left * PX) : round(right * PX)] = PAPER
    return made


def test_a_sound_sheet_is_refused_nothing(scan: np.ndarray) -> None:
    """Three windows with their names, to the right as seen from inside, and no complaint."""
    told: list[float] = []
    read = read_rubbing(scan, TOLD, lambda share, _words: told.append(share))
    assert read.refused == read.asks == ()
    assert tuple(port.name for port in read.ports) == NAMES
    assert read.round == pytest.approx(read.round_wanted, rel=2e-3)
    angles = [port.angle for port in read.ports]
    assert angles[0] == pytest.approx(0.0, abs=1e-9)
    assert 0.0 < angles[1] < np.pi  # drawn to the right: clockwise seen from the deck
    assert told == sorted(told)
    assert told[-1] == 1.0


@pytest.mark.slow
def test_a_sheet_may_lie_in_the_scanner_any_way_round(scan: np.ndarray, sound: Rubbing) -> None:
    """Turned by a quarter: the same map, never mirrored."""
    turned = read_rubbing(np.rot90(scan), TOLD)
    for one, other in zip(sound.ports, turned.ports, strict=True):
        assert other.name == one.name
        assert other.angle == pytest.approx(one.angle, abs=3e-3)
        assert other.shape.roof == pytest.approx(one.shape.roof, abs=5e-5)


@pytest.mark.parametrize("mirror", [np.fliplr, np.flipud])
def test_a_mirrored_scan_is_refused(scan: np.ndarray, mirror: object) -> None:
    """Across or upside down makes no difference: the mark then lies at the wrong end."""
    with pytest.raises(RubbingRefused, match="mirrored"):
        read_rubbing(mirror(scan), TOLD)  # type: ignore[operator]  # either of two functions


def test_a_missing_bar_and_a_missing_mark_are_named(scan: np.ndarray) -> None:
    """Without the bar down there is no second scale, without the mark no right and left."""
    wide = np.pi * 43.9
    no_bar = painted(scan, 10 + wide + 3, 15, 10 + wide + 14, 78)
    with pytest.raises(RubbingRefused, match="1 of the two bars"):
        read_rubbing(no_bar, TOLD)
    with pytest.raises(RubbingRefused, match="mark beyond the right end"):
        read_rubbing(painted(scan, 130, 3, 145, 16), TOLD)
    with pytest.raises(RubbingRefused, match="0 of the two bars"):
        read_rubbing(np.full((400, 600), PAPER, dtype=np.float32), TOLD)


def test_unequal_bars_are_refused_with_their_difference(scan: np.ndarray) -> None:
    """A bar of 51 mm that is told as 50 makes 2 %; swapped lengths are seen by the mark."""
    with pytest.raises(RubbingRefused, match=r"differ by (1\.9|2\.0)"):
        read_rubbing(scan, replace(TOLD, down=0.051))
    with pytest.raises(RubbingRefused, match="other bar"):
        read_rubbing(scan, replace(TOLD, across=0.05, down=0.1))


def test_a_seam_through_a_port_shows_in_the_count(scan: np.ndarray) -> None:
    """A window that is open to the side is no window: two are left of three."""
    cut = painted(scan, 110, 46, 10 + np.pi * 43.9 + 1, 54)
    read = read_rubbing(cut, TOLD)
    assert any("2 windows, the list has 3 ports" in text for text in read.refused)
    assert all(port.name == "" for port in read.ports)


def test_too_little_ink_is_refused(scan: np.ndarray) -> None:
    """A band that is rubbed over a strip only cannot hold the windows."""
    with pytest.raises(RubbingRefused, match="rubbed evenly"):
        read_rubbing(painted(scan, 8, 25, 150, 78), TOLD)


@pytest.mark.slow
def test_a_band_that_does_not_go_round_is_refused(scan: np.ndarray) -> None:
    """The band is the free check of bore and scale: 0.5 % is allowed, a wrong bore is seen."""
    read = read_rubbing(scan, replace(TOLD, bore=44.5e-3))
    assert any("shorter than once round" in text for text in read.refused)


@pytest.mark.slow
def test_an_edge_without_graphite_is_refused(scan: np.ndarray) -> None:
    """A bare patch that ends a port's edge in nothing: more than a tenth of it is unclear."""
    rows, columns = (np.arange(size) / PX for size in scan.shape)
    away = np.hypot(rows[:, None] - 50.0, columns[None, :] - 53.0)
    faint = PAPER - (PAPER - scan) * (1.0 - np.exp(-((away / 12.0) ** 4)))
    read = read_rubbing(faint, TOLD)
    assert any("exhaust" in text and "no clear edge" in text for text in read.refused)


def test_what_is_told_of_a_sheet_is_looked_at(scan: np.ndarray) -> None:
    """A tiny picture, paper as thick as a board, a name that stands twice."""
    for image, told, field in (
        (scan[:100], TOLD, "scan"),
        (scan, replace(TOLD, paper=5e-3), "thickness of the paper"),
        (scan, replace(TOLD, across=0.0), "length of the bar across"),
        (scan, replace(TOLD, names=("exhaust", "boost", "boost")), "ports"),
    ):
        with pytest.raises(InputError) as refused:
            read_rubbing(image, told)
        assert refused.value.field == field
