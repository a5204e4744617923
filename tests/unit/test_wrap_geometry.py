"""A wrap: its length by hand, its seam beside every port, its way there and back, its refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.ports.crossed import self_crossings
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.seams import blanks_of, refuse_cut_port, widest_seam
from sleevewright.core.ports.wrap import (
    TURN,
    Wrap,
    bar_correction,
    on_paper,
    on_wall,
    paper_of_eight,
    refuse_unequal,
    rim_length,
    tiles_of,
    wrap_length,
)
from sleevewright.errors import InputError
from wrapped_ports import BORE, ported


@pytest.mark.parametrize(("paper", "short"), [(0.1, 0.314159), (0.2, 0.628319), (0.3, 0.942478)])
def test_paper_inside_is_shorter_by_pi_times_its_thickness(paper: float, short: float) -> None:
    """By hand, pi t whatever the bore: 0.31, 0.63 and 0.94 mm; outside as much longer."""
    around = math.pi * BORE
    inside = wrap_length(diameter=BORE, paper=paper * 1e-3)
    outside = wrap_length(diameter=BORE, paper=paper * 1e-3, is_outside=True)
    assert (around - inside) * 1e3 == pytest.approx(short, abs=1e-6)
    assert (outside - around) * 1e3 == pytest.approx(short, abs=1e-6)
    assert inside * 1e3 == pytest.approx(3.14159265 * (66.4 - paper), abs=1e-4)


@pytest.mark.parametrize("paper", [0.001e-3, 1.0e-3, 0.0, -1e-4, math.nan])
def test_absurd_paper_is_refused(paper: float) -> None:
    """A foil, a card of 1 mm and no paper at all; the text says how to measure it."""
    with pytest.raises(InputError, match="eight layers"):
        wrap_length(diameter=BORE, paper=paper)


def test_eight_layers_are_divided() -> None:
    """0.83 mm of eight layers is paper of 0.104 mm."""
    assert paper_of_eight(layers=0.83e-3) == pytest.approx(0.10375e-3, rel=1e-12)


def test_the_seam_lies_in_the_middle_of_the_widest_blank() -> None:
    """By hand: between boost and right rear from 127.532 to 161.016 degrees, half way 144.274."""
    ports = ported()
    seam = math.degrees(widest_seam(ports))
    first, last = 112.0 + math.degrees(18.0 / 66.4), 180.0 - math.degrees(22.0 / 66.4)
    assert seam == pytest.approx((first + last) / 2.0, abs=1e-9)
    assert sum(one.width for one in blanks_of(ports)) + sum(
        port.span for port in ports.ports
    ) == pytest.approx(TURN, rel=1e-12)


def test_a_seam_through_a_port_is_refused_by_its_name() -> None:
    """At -112 degrees it would cut the left rear; told as 248 it is the same place."""
    for degrees in (-112.0, 248.0):
        with pytest.raises(InputError, match="seam through a port, rear left"):
            refuse_cut_port(ported(), seam=math.radians(degrees))
    refuse_cut_port(ported(), seam=math.radians(144.3))


def test_a_map_without_angles_has_no_seam() -> None:
    """Where the ports lie round the bore was not told: nothing is guessed."""
    ports = ported()
    with pytest.raises(InputError, match="angles of the ports"):
        widest_seam(PortMap(ports.ports, ports.diameter, is_placed=False))


@pytest.mark.parametrize("is_outside", [False, True])
def test_left_stays_left_there_and_back(is_outside: bool) -> None:
    """From the map to the paper and back every outline comes home; outside left is right."""
    ports = ported()
    wrap = Wrap(BORE, 0.1e-3, widest_seam(ports), is_outside, 1.002, 0.999)
    middles = {}
    for port in ports.ports:
        placed = on_paper(wrap, port.points)
        middles[port.name] = float(placed[:, 0].mean())
        back = on_wall(wrap, placed)
        off = np.round((back[:, 0] - port.points[:, 0]) / TURN) * TURN
        assert np.abs(back[:, 0] - off - port.points[:, 0]).max() < 1e-12
        assert np.abs(back[:, 1] - port.points[:, 1]).max() < 1e-15
    is_left_first = middles["main left"] < middles["main right"]
    assert is_left_first is not is_outside


def test_a_bar_puts_the_printer_right() -> None:
    """A bar of 100 mm printed 99.7 long asks for 100/99.7; off by 3.1 % it is no printer's."""
    assert bar_correction(bar=0.1, measured=0.0997) == pytest.approx(1.0030090, abs=1e-7)
    for measured in (0.0969, 0.1031, 0.0508):
        with pytest.raises(InputError, match="100 %"):
            bar_correction(bar=0.1, measured=measured)


def test_unequal_bars_are_refused() -> None:
    """Half a per cent between the two is a printer's; 1.5 % is a misreading."""
    refuse_unequal(across=1.003, down=0.998)
    with pytest.raises(InputError, match="measured bars"):
        refuse_unequal(across=1.010, down=0.995)


def test_the_rim_by_hand() -> None:
    """3.23 degrees on a flange of 84 mm are 2.3677 mm, 93 thou, counter-clockwise minus."""
    along = rim_length(flange_diameter=84e-3, angle=math.radians(-3.23))
    assert along * 1e3 == pytest.approx(-42.0 * 3.23 * math.pi / 180.0, rel=1e-12)
    assert round(along / 25.4e-6) == -93


def test_tiles_by_hand() -> None:
    """A strip of 340 mm on A4 takes two sheets, the second from 265 on, 12 mm shared."""
    one, other = tiles_of(length=0.340, width=0.277, overlap=0.012)
    assert (one.start, one.stop) == (0.0, 0.277)
    assert other.start == pytest.approx(0.265)
    assert other.stop == pytest.approx(0.340)
    assert len(tiles_of(length=0.276, width=0.277, overlap=0.012)) == 1


def test_an_outline_that_crosses_itself_is_seen() -> None:
    """A bow tie crosses, a window and a window with a notch do not."""
    tie = np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])
    assert self_crossings(tie)
    assert not self_crossings(ported().ports[0].points)
    notched = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [1.0, 0.5], [0.0, 2.0]])
    assert not self_crossings(notched)
