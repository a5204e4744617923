"""What is said of a port map that cannot be right, on a job that was told by hand.

Sizes are of an invented 66.4 mm barrel; what is expected follows from them by plane geometry.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog_maps import BY_ARC, COUNTER, FLANGE_TOP, OUTSIDE
from sleevewright.jobs.model import Entry
from sleevewright.jobs.portmaps import ToldMap, ToldPort
from sleevewright.planning.map_checks import Checked, cannot_tell, map_flaws
from sleevewright.planning.portmaps import Wall, read_map

BORE = 0.0664
PORTS = {
    "exhaust": (37.5, 72.0, 42.0, 0.0),
    "main left": (56.0, 71.6, 24.0, -68.0),
    "main right": (56.0, 71.6, 24.0, 68.0),
    "rear left": (56.0, 71.6, 18.0, -125.0),
    "rear right": (56.0, 71.6, 18.0, 113.0),
    "boost": (56.0, 71.6, 20.0, 176.0),
}
"""Roof, floor, width by chord in mm, angle in degrees; the rears are not even."""


def entry(value: float) -> Entry:
    """A size that was read."""
    return Entry(value, "", "measured")


def told(key: str = "found", *, down: float = 0.0, **sizes: tuple[float, ...]) -> ToldMap:
    """The map, with other sizes for the ports that are named (blanks as underscores)."""
    rows = PORTS | {name.replace("_", " "): row for name, row in sizes.items()}
    ports = tuple(
        ToldPort(
            name,
            entry((roof + down) * 1e-3),
            entry((floor + down) * 1e-3),
            entry(width * 1e-3),
            angle=entry(math.radians(angle)),
        )
        for name, (roof, floor, width, angle) in rows.items()
    )
    return ToldMap(key, ports)


def checked(said: ToldMap, other: PortMap | None = None, **more: float) -> Checked:
    """The map as it is checked."""
    return Checked(said, read_map(said, Wall(BORE)), 0.003, other, "as found", **more)


def flaws(said: ToldMap, other: PortMap | None = None, **more: float) -> dict[str, str]:
    """Keys and words of what is wrong."""
    return dict(map_flaws(checked(said, other, **more)))


def found_map() -> PortMap:
    """The map as it was found."""
    made = read_map(told(), Wall(BORE)).map
    assert made is not None
    return made


def test_nothing_is_said_of_a_sound_map() -> None:
    """Neither alone nor against itself."""
    assert flaws(told()) == {}
    assert flaws(told("supplied"), found_map()) == {}


def test_an_outline_that_crosses_itself_is_left_out_and_its_edges_are_named() -> None:
    """A bow tie: its first and third edge cross."""
    tie = ToldPort("boost", outline="170 56, 186 71, 186 56, 170 71")
    said = replace(told(), ports=(*told().ports[:-1], tie))
    read = read_map(said, Wall(BORE))
    assert read.map is not None
    assert read.map.port("boost") is None
    text = flaws(said)["refused-boost"]
    assert "edges 1 and 3 cross" in text
    assert "boost is left out" in text


def test_a_roof_below_the_floor_is_left_out_with_the_reason() -> None:
    """Swapped: the port is named, and so is what may have happened."""
    text = flaws(told(boost=(71.6, 56.0, 20.0, 176.0)))["refused-boost"]
    assert "Were roof and floor swapped?" in text


def test_windows_that_overlap_are_named_with_how_much() -> None:
    """Main right at 48 degrees: its left side lies 5.5 mm inside the exhaust.

    Arcs: 66.4 asin(42/66.4) = 45.42 and 66.4 asin(24/66.4) = 24.56 mm; the middles are
    48 degrees = 27.81 mm apart.
    """
    text = flaws(told(main_right=(56.0, 71.6, 24.0, 48.0)))["overlap-exhaust-main right"]
    lap = (66.4 * math.asin(42.0 / 66.4) + 66.4 * math.asin(24.0 / 66.4)) / 2.0
    lap -= math.radians(48.0) * 33.2
    assert f"overlap by {lap:.3f} mm along the wall" in text


def test_a_narrow_bridge_is_said_with_its_width() -> None:
    """At 64.5 degrees some 2.4 mm are left; less than 3 is said, but nothing is refused."""
    found = flaws(told(main_right=(56.0, 71.6, 24.0, 64.5)))
    wall = math.radians(64.5) * 33.2
    wall -= (66.4 * math.asin(42.0 / 66.4) + 66.4 * math.asin(24.0 / 66.4)) / 2.0
    assert f"{wall:.3f} mm" in found["bridge-exhaust-main right"]


def test_arcs_that_were_told_as_chords_are_suspected_where_they_do_not_fit() -> None:
    """46 mm of arc on 66.4 is a chord of 42.41; as a chord it is an arc of 50.9 mm."""
    wide = told(exhaust=(37.5, 72.0, 46.0, 0.0), main_left=(56.0, 71.6, 26.0, -65.0),
                main_right=(56.0, 71.6, 26.0, 65.0))  # fmt: skip
    assert "were the widths, told as chords, really arcs?" in str(flaws(wide))
    assert "overlap" not in str(flaws(replace(wide, widths=BY_ARC)))


def test_a_width_beyond_the_bore_cannot_be_a_chord() -> None:
    """70 mm across a bore of 66.4: the port is left out, with the reason."""
    said = told(exhaust=(37.5, 72.0, 70.0, 0.0))
    text = flaws(said)["refused-exhaust"]
    assert "chord: 70.000 mm cannot be used; allowed is 0 to the bore, 66.400 mm" in text
    assert "Was the arc, along the wall, typed for the chord?" in text
    inch = dict(read_map(said, Wall(BORE, units="inch")).refused)["exhaust"]
    assert "chord: 2.7559 in cannot be used" in inch


def test_a_hint_of_arcs_stands_beside_each_pair_that_overlaps() -> None:
    """34 mm of arc taken for a chord is 35.7 mm on 66.4; one pair fits as arcs, one does not.

    Main and rear 46 degrees apart are 26.65 mm apart and overlap either way; the exhaust and
    the main right, 68 degrees or 39.41 mm apart, by chord 51.5/2 + 35.7/2 = 43.6 mm.  By arc
    they take 46.4/2 + 32/2 = 39.2 mm and fit, with a bridge that is thin.
    """
    said = told(exhaust=(37.5, 72.0, 46.4, 0.0), main_right=(56.0, 71.6, 32.0, 68.0),
                rear_left=(56.0, 71.6, 34.0, -114.0), boost=(56.0, 71.6, 10.0, 176.0))  # fmt: skip
    found = flaws(said)
    fits, narrow = found["overlap-exhaust-main right"], found["overlap-rear left-main left"]
    assert "Taken as arcs they do not: were the widths, told as chords, really arcs?" in fits
    assert narrow.endswith("The widths are taken as chords; were they arcs, along the wall?")
    by_arc = flaws(replace(said, widths=BY_ARC))
    assert "bridge-exhaust-main right" in by_arc
    assert "chords" not in by_arc["overlap-rear left-main left"]


def test_a_map_from_outside_asks_which_way_its_angles_were_counted() -> None:
    """It turns no reading round: the same map comes out, and the question stands till told."""
    outside = replace(told(), view=OUTSIDE)
    text = flaws(outside)["view"]
    assert "clockwise seen from the deck, which from outside runs to the left" in text
    assert "left and right in a name mean seen from inside" in text
    assert "view" not in flaws(replace(outside, is_round_told=True))
    made = read_map(outside, Wall(BORE)).map
    assert made is not None
    for one, other in zip(made.ports, found_map().ports, strict=True):
        assert one.points.tolist() == other.points.tolist()


def test_other_names_and_counts_are_told_with_the_likely_fellow() -> None:
    """A port under another name is taken for its neighbour; a missing one is named."""
    said = told("supplied")
    odd = replace(said, ports=(replace(said.ports[0], name="outlet"), *said.ports[1:-1]))
    found = flaws(odd, found_map())
    assert found["count"].endswith("it has 5 ports, as found 6.")
    assert "Nearest there is exhaust, 0° away: the same port?" in found["stranger-outlet"]
    assert "lacks boost" in found["lacking-boost"]


def test_more_than_a_turn_of_windows_does_not_close() -> None:
    """Six windows of 42 mm chord take 470 degrees of the way round."""
    wide = told(**{
        name.replace(" ", "_"): (56.0, 71.6, 42.0, 60.0 * n) for n, name in enumerate(PORTS)
    })  # fmt: skip
    angle = 6.0 * 2.0 * math.degrees(math.asin(42.0 / 66.4))
    assert f"{angle:.0f}° of 360°" in flaws(wide)["round"]


@pytest.mark.parametrize("down", [6.0, -6.0])
def test_depths_from_the_other_face_of_the_flange_are_suspected(down: float) -> None:
    """All of it 6 mm off and the flange 6 mm thick; one low roof does not hide it."""
    low = (58.8, 71.6, 18.0, -125.0)
    said = replace(told("supplied", down=down, rear_left=low), datum=FLANGE_TOP)
    text = flaws(said, found_map(), flange=0.006)["datum"]
    assert "or from the other face of the flange?" in text
    assert f"6.000 mm {'deeper' if down > 0 else 'higher'}" in text
    assert "datum" not in flaws(said, found_map(), flange=0.004)


def test_a_mirrored_map_is_flagged_where_the_ports_can_tell() -> None:
    """Angles counted the other way round: the uneven rears give it away, even when turned."""
    back = replace(told("supplied"), round=COUNTER)
    found = flaws(back, found_map())
    assert "better than straight" in found["mirrored"]
    assert "main left and main right and rear left and rear right" in found["sided"]
    assert "names given from outside" in found["sided"]
    assert (
        "looked at from outside, and names mean"
        in flaws(replace(back, view=OUTSIDE), found_map())["sided"]
    )


def test_an_even_cylinder_says_that_only_the_mark_can_tell() -> None:
    """Left and right alike: no flag for either way round, and it is known that none can be."""
    even = told(rear_left=(56.0, 71.6, 18.0, -113.0), boost=(56.0, 71.6, 20.0, 180.0))
    own = read_map(even, Wall(BORE)).map
    assert own is not None
    assert cannot_tell(own, None)
    assert not cannot_tell(found_map(), None)
    nameless = replace(even, ports=tuple(
        replace(one, name=f"port {n}") for n, one in enumerate(even.ports)
    ), round=COUNTER)  # fmt: skip
    assert "mirrored" not in flaws(nameless, own)
