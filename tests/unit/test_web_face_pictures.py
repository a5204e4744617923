"""Pictures of Face: heights are true, both states are there, tables say what is known."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import with_cuts
from sleevewright.services.plans import plan_job
from sleevewright.web.pictures.change_table import ChangeRow, change_table
from sleevewright.web.pictures.squish_section import (
    ROOM,
    SquishPicture,
    SquishState,
    squish_section,
)
from sleevewright.web.stage.cut_pictures import cut_pictures
from told_jobs import Teller

CELLS = {
    "engine.bore": "62 mm", "engine.stroke": "58 mm", "engine.rod": "120 mm",
    "engine.deck": "0.5 mm", "found.head_gasket": "0.8 mm", "found.gasket": "0.5 mm",
    "found.chamber": "12.4 cc", "port/exhaust/name": "exhaust",
    "port/exhaust/found.roof": "28 mm",
}  # fmt: skip


def made(**more: str) -> Plan:
    """A plan with what Face answers; names of cells with a double underscore for the dot."""
    teller = Teller(units="metric")
    for cell, text in {**CELLS, **{k.replace("__", "."): v for k, v in more.items()}}.items():
        teller.value(cell, text)
    job = living_job(teller.folded, 1).job
    return with_cuts(plan_job(job), CutTold(job, teller.folded, 1, Shop()))


def drawn(plan: Plan) -> dict[str, str]:
    """Pictures of Face by their titles."""
    return {one.title: str(one.picture) for one in cut_pictures("face", plan)}


def test_the_section_is_true_in_its_heights() -> None:
    """The tallest state fills the room; the gap is as tall as its share, in both layouts."""
    states = (
        SquishState("Before", gasket=0.8, deck=0.5, gap=1.3, squish="1.300", rows=()),
        SquishState("After", gasket=0.8, deck=0.25, gap=1.05, squish="1.050", rows=()),
    )
    both = ET.fromstring(  # noqa: S314 - our own markup
        f"<all>{squish_section(SquishPicture(states, 'mm', 'Made.'))}</all>"
    )
    assert [one.get("class") for one in both] == ["drawing broad", "drawing slim"]
    for picture in both:
        ends = [
            re.findall(r"M[\d.]+ ([\d.]+)V([\d.]+)$", one.get("d", ""))
            for one in picture.iter()
            if one.get("class") == "bracket"
        ]
        gaps = [float(one[0][1]) - float(one[0][0]) for one in ends if one]
        assert gaps[0] == pytest.approx(ROOM, abs=0.2)
        assert gaps[1] / gaps[0] == pytest.approx(1.05 / 1.3, abs=0.003)


def test_a_cut_is_drawn_before_and_after_and_said_in_words() -> None:
    """Both states in the text alternative, with the unit of the job."""
    pictures = drawn(made(face__cut="0.25 mm"))
    section = pictures["At top dead centre"]
    assert "before 1.300 mm; after 1.050 mm" in section
    table = pictures["What the cut does"]
    for words in ("Squish", "Compression, trapped", "Exhaust stays open", "roof from the deck"):
        assert words in table
    assert ">27.75" in table


def test_without_a_cut_only_the_state_before_is_drawn() -> None:
    """Nothing was cut, nothing is asked: one panel and no table of changes."""
    pictures = drawn(made())
    assert "after" not in pictures["At top dead centre"].lower()
    assert "What the cut does" not in pictures


def test_gaskets_stand_in_their_order_with_what_is_out() -> None:
    """The first row is the best; a pair whose squish is out says so in a word."""
    plan = made(face__base_cut="0.10 mm", face__base_gaskets="0.3, 0.5, 0.6 mm",
                face__head_gaskets="0.5, 0.8 mm")  # fmt: skip
    table = drawn(plan)["Gaskets at hand, best first"]
    rows = table.split("<tr>")[2:]
    assert "0.600 + 0.800" in rows[0]
    assert "out" not in rows[0]
    assert any(" out" in row for row in rows)


def test_a_table_escapes_its_words_and_shows_a_dash_for_nothing() -> None:
    """A port named in angle brackets is no markup."""
    table = change_table(
        (ChangeRow("<b>", "mm", "1.0", "", "−1.0"),), caption="Made & so.", heads=("", "before")
    )
    assert "&lt;b&gt;" in table
    assert "Made &amp; so." in table
    assert ">–<" in table
