"""What is told for a cell: read to SI and whole numbers, or held back with the reason."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.living import living_job
from sleevewright.jobs.told import read_cell, read_set
from told_jobs import GAUGE, Teller

STATIONS = ["0.4 in", "1.3 in"]
DIRECTIONS = ["0 deg", "90 deg"]


def job_with(feature: str = "parent-bore", stage: str = "parent", **body: object) -> Teller:
    """A job with one set begun, nominal 2.6360 in."""
    job = Teller()
    said = {"nominal": "2.6360 in", "unit": "thou", "stations": STATIONS,
            "directions": DIRECTIONS, **body}  # fmt: skip
    job.begin("k3f9aa", feature, stage, **said)
    return job


def nm_of(job: Teller, text: str, place: str = "0/0") -> int | None:
    """Nanometres of a reading."""
    return read_cell(f"set/k3f9aa/{place}", text, folded=job.folded).nm


@pytest.mark.parametrize(
    ("cell", "text", "kept"),
    [
        ("casting.mass", "3.2 lb", {"kind": "typed", "si": 3.2 * 0.45359237}),
        ("engine.stroke", "2.360 in", {"kind": "typed", "nm": 59_944_000}),
        ("fit.wanted", "3,4 thou", {"kind": "chosen", "nm": 86_360}),
        ("fit.wanted", "three point four thou", {"kind": "chosen", "nm": 86_360}),
        ("port/main left/found.roof", "1.800 in", {"kind": "measured", "nm": 45_720_000}),
        ("running.casting", "280 F", {"kind": "typed", "mk": 410_928}),
        ("intake.agreed", "by telephone", {"kind": "chosen"}),
        ("ready.dry", "Yes", {"kind": "typed"}),
        ("promised", "2026-11-30", {"kind": "typed"}),
        ("operation.parent.minutes", "45", {"kind": "typed", "si": 2700.0}),
        ("operation.parent.minutes", "1.5 h", {"kind": "typed", "si": 5400.0}),
        ("after.cost", "140,50", {"kind": "typed", "si": 140.5}),
        ("fit.by", "p1", {"kind": "typed"}),
        ("old.island/2/angle_from", "80 deg", {"kind": "measured", "si": 1.3962634015954636}),
    ],
)  # fmt: skip
def test_a_cell_keeps_what_its_text_comes_to(cell: str, text: str, kept: dict[str, object]) -> None:
    """Lengths in whole nanometres, temperatures in whole millikelvin, the rest in SI."""
    read = read_cell(cell, text, folded=Teller().folded)
    found = read.kept
    assert found.keys() == kept.keys()
    for key, value in kept.items():
        assert found[key] == (pytest.approx(value, rel=1e-12) if key == "si" else value)
    assert read.text == text


@pytest.mark.parametrize(
    ("cell", "text", "why"),
    [
        ("casting.colour", "red", "Load the page again"),
        ("engine.stroke", "59.9", "No unit"),
        ("engine.stroke", "2.360 lb", "not of length"),
        ("engine.stroke", "2.360 mm", "entered in inches"),
        ("fit.wanted", "3.4 in", "thou meant for in"),
        ("fit.wanted", "1.250 thou", "decimal sign"),
        ("intake.agreed", "perhaps", "in person"),
        ("ready.dry", "mostly", "yes or no"),
        ("promised", "30.11.2026", "2026-11-30"),
        ("promised", "2026-02-30", "2026-11-30"),
        ("after.cost", "1,400.00", "without groups"),
        ("operation.parent.minutes", "-5", "never negative"),
        ("operation.parent.minutes", "400 h", "10000 min"),
        ("fit.by", "x" * 61, "at most 60"),
        ("found.note", "x" * 4001, "at most 4000"),
        ("running.casting", "900 F", "F for C"),
        ("port/a/b/found.roof", "1 in", "a cell that"),
    ],
)
def test_what_cannot_be_right_is_held_back_with_the_reason(cell: str, text: str, why: str) -> None:
    """The refusal names the likely slip or what is taken."""
    with pytest.raises(InputError, match=why):
        read_cell(cell, text, folded=Teller().folded)


@pytest.mark.parametrize(
    ("entry", "text", "nm"),
    [
        ("size", "2.6368", 66_974_720),
        ("size", "+0.8", 66_974_720),
        ("size", "-2 tenths", 66_949_320),
        ("size", "66.975 mm", 66_975_000),
        ("size", "two tenths over", 66_959_480),
        ("deviation", "0.8", 66_974_720),
        ("deviation", "+0.8", 66_974_720),
        ("deviation", "3.5", 67_043_300),
        ("deviation", "2 tenths", 66_959_480),
        ("deviation", "0", 66_954_400),
        ("deviation", "2.6368 in", 66_974_720),
        ("last-digits", "68", 66_974_720),
        ("last-digits", "60", 66_954_400),
        ("last-digits", "368", 66_974_720),
        ("last-digits", "1", 66_956_940),
        ("last-digits", "2.6368", 66_974_720),
    ],
)
def test_a_reading_counts_by_the_way_its_set_is_entered(entry: str, text: str, nm: int) -> None:
    """Whole sizes, deviations, or the last digits as the gauge shows them, on 2.6360 in."""
    assert nm_of(job_with(entry=entry, last_digits=4), text) == nm


def test_last_digits_of_the_master_of_the_brief() -> None:
    """35 on a master of 2.6300 in, four digits shown, is 2.6335 in."""
    assert nm_of(job_with(entry="last-digits", nominal="2.6300 in"), "35") == 66_890_900


@pytest.mark.parametrize(
    ("entry", "text", "why"),
    [
        ("last-digits", "08", "Key 3 digits"),  # 2.6408 or 2.6308: neither is the nearer
        ("last-digits", "+35", "only the last digits"),
        ("deviation", "2.6", "deviation or a whole size"),
        ("deviation", "2.6368", "deviation or a whole size"),
        ("size", "0.8", "needs its sign"),
        ("size", "two tens over", "allowed"),
        ("size", "+1.250", "decimal sign"),
        ("size", "2.7368", "within 1 mm"),
        ("size", "+0.8 lb", "not of length"),
    ],
)
def test_a_reading_with_two_meanings_is_held_back(entry: str, text: str, why: str) -> None:
    """No reading is bent to the likelier of its meanings."""
    with pytest.raises(InputError, match=why):
        nm_of(job_with(entry=entry), text)


@pytest.mark.parametrize(
    ("body", "text", "nm"),
    [
        ({"unit": "in"}, "01A+002.6368", 66_974_720),
        ({"unit": "in"}, "01A+002.6368I", 66_974_720),
        ({"unit": "in", "entry": "deviation"}, "01A+000.0012", 66_984_880),
        ({"unit": "in", "entry": "deviation"}, "01A-000.0012", 66_923_920),
        ({"unit": "mm"}, "CH1 66.975 mm", 66_975_000),
        ({"unit": "in", "nominal": ""}, "01A+002.6368", 66_974_720),
    ],
)
def test_what_a_gauge_types_is_read_without_its_frame(
    body: dict[str, str], text: str, nm: int
) -> None:
    """Channel, filling zeros and the sign before everything go; the text is kept as it came."""
    job = job_with(**body)
    assert nm_of(job, text) == nm
    job.value("set/k3f9aa/0/0", text)
    grid = living_job(job.folded).job.grid("parent-bore")
    assert grid is not None
    assert grid.readings[0][0] is not None
    assert grid.readings[0][0].value == pytest.approx(nm * 1e-9, abs=1e-12)


def test_a_gauge_that_tells_an_error_is_held_back() -> None:
    """A status is not stored as a reading."""
    with pytest.raises(InputError, match="no number"):
        nm_of(job_with(unit="in"), "01B1")


def test_a_whole_turn_of_the_dial_is_held_back() -> None:
    """On a dial of 0.5 mm a turn, 0.5 mm off the others is a misread small hand."""
    dial = {**GAUGE, "turn": "0.5 mm"}
    job = job_with(unit="µm", nominal="66.000 mm", instruments=[dial])
    job.value("set/k3f9aa/0/0", "+12")
    with pytest.raises(InputError, match=r"one whole turn of a 0\.5 mm dial"):
        nm_of(job, "+513", "0/1")
    with pytest.raises(InputError, match=r"one whole turn of a 0\.5 mm dial"):
        nm_of(job, "-490", "0/1")
    assert nm_of(job, "+45", "0/1") == 66_045_000
    assert nm_of(job, "+513", "0/0") == 66_513_000, "its own old value is no other"


def test_a_reading_that_others_agree_with_is_taken() -> None:
    """Where one of two was a turn off, the reading that agrees with either is kept."""
    job = job_with(instruments=[GAUGE])
    job.value("set/k3f9aa/0/0", "+0.8")
    job.tell("value", {"cylinder": 1, "cell": "set/k3f9aa/0/1", "text": "+10.8", "nm": 67_228_720})
    assert nm_of(job, "+0.9", "1/0") == 66_977_260
    assert nm_of(job, "+10.7", "1/0") == 67_226_180


def test_a_worn_bore_may_differ_by_a_turn_from_depth_to_depth() -> None:
    """Wear at one depth is no slip; at one depth it is."""
    job = job_with("as-found-bore", "found", instruments=[GAUGE])
    job.value("set/k3f9aa/0/0", "+12.0")
    assert nm_of(job, "+2.0", "1/0") == 67_005_200
    with pytest.raises(InputError, match="one whole turn"):
        nm_of(job, "+2.0", "0/1")


def test_ten_times_the_others_is_held_back() -> None:
    """A decimal place lost shows beside the other readings."""
    job = job_with("as-found-bore", "found", instruments=[])
    for place in ("0/0", "0/1"):
        job.value(f"set/k3f9aa/{place}", "+2.0")
    with pytest.raises(InputError, match="decimal place out"):
        nm_of(job, "+20", "1/0")


def test_places_of_a_set_are_kept_apart() -> None:
    """No reading outside of the set, in a port, on another cylinder or of an unknown set."""
    job = job_with(blank=[[1, 1]])
    wrong = {
        "set/k3f9aa/2/0": "2 stations",
        "set/k3f9aa/1/1": "a port lies there",
        "set/other1/0/0": "Begin the set",
        "set/k3f9aa/0": "Begin the set",
    }
    for cell, why in wrong.items():
        with pytest.raises(InputError, match=why):
            read_cell(cell, "+0.8", folded=job.folded)
    with pytest.raises(InputError, match="cylinder 1"):
        read_cell("set/k3f9aa/0/0", "+0.8", folded=job.folded, cylinder=0)
    assert nm_of(job, "-") is None, "a dash says that nothing can be read there"


def test_zero_checks_and_a_void_belong_to_the_set() -> None:
    """A zero is small, and a void is a sentence."""
    job = job_with()
    read = read_cell("set/k3f9aa/zero-end", "+0.2", folded=job.folded)
    assert (read.nm, read.kind) == (5_080, "measured")
    with pytest.raises(InputError):
        read_cell("set/k3f9aa/zero-end", "+200", folded=job.folded)
    assert read_cell("set/k3f9aa/void", "gauge fell", folded=job.folded).kept == {"kind": "typed"}


def test_a_sweep_is_read_around_zero() -> None:
    """An indicator has no size; bare numbers are in the set's unit."""
    job = Teller()
    job.begin("k3f9aa", "sweep-top", "setup", unit="thou", stations=["0.4 in"],
              directions=["0 deg", "90 deg"])  # fmt: skip
    assert nm_of(job, "3") == 76_200
    assert nm_of(job, "-1.5") == -38_100
    with pytest.raises(InputError):
        nm_of(job, "+90")


@pytest.mark.parametrize(
    ("keyed", "text", "is_held"),
    [
        (("2.9", "3.2", "-2.8"), "-31", True),
        (("2.9", "3.2", "-2.8"), "-3.1", False),
        (("2.9", "3.2"), "-31", False),  # two others may both be near the nought
        (("0.9", "1.1", "-1.0"), "3.1", False),
        (("0.2", "0.3", "-0.2"), "-25", True),  # a hundred times
        (("0.2", "0.1", "-0.2"), "-1.9", False),  # below what may be an offset
        (("6", "12", "-6"), "-24", False),  # a quarter-turn sweep may well do this
    ],
)
def test_a_slip_of_the_point_in_a_sweep_is_held(
    keyed: tuple[str, ...], text: str, is_held: bool
) -> None:
    """Ten or a hundred times the largest of the others; a sweep has no nominal to judge by.

    On a round bore r(0) + r(180) = r(90) + r(270), so that a fourth is at most three times
    the largest of three, whatever the offset is.
    """
    job = Teller()
    job.begin("k3f9aa", "sweep-top", "setup", unit="thou", stations=["0.4 in"],
              directions=["0 deg", "90 deg", "180 deg", "270 deg"])  # fmt: skip
    for place, one in enumerate(keyed):
        job.value(f"set/k3f9aa/0/{place}", one)
    if is_held:
        with pytest.raises(InputError, match="right place"):
            nm_of(job, text, "0/3")
    else:
        nm_of(job, text, "0/3")


def test_a_set_is_kept_whole_and_nothing_else() -> None:
    """What is known of a set is taken, with what is usual where it was left out."""
    folded = Teller().folded
    body = {"stage": "parent", "feature": "parent-bore", "instrument": "bore gauge",
            "instruments": [{**GAUGE, "colour": "red", "drift": "1 tenth"}],
            "nominal": "2.6360 in", "stations": STATIONS, "directions": DIRECTIONS,
            "blank": [[0, 1], [0, 1]], "part_temperature": "73 F", "entry": "deviation",
            "last_digits": 4, "land_only": True, "other": 1}  # fmt: skip
    kept = read_set(body, folded=folded)
    assert kept["unit"] == "thou"
    assert kept["blank"] == [[0, 1]]
    assert kept["instruments"][0]["drift"] == "1 tenth"
    assert "colour" not in kept["instruments"][0]
    assert "other" not in kept


def test_a_set_of_last_digits_says_how_many_its_gauge_shows() -> None:
    """As many as its nominal was keyed with, where nobody said; at most six."""
    folded = Teller().folded
    body = {"stage": "parent", "feature": "parent-bore", "entry": "last-digits"}
    assert read_set({**body, "nominal": "2.6300 in"}, folded=folded)["last_digits"] == 4
    with pytest.raises(InputError, match="as many digits"):
        read_set({**body, "nominal": "66 mm"}, folded=folded)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"stage": "drop"}, "no grid"),
        ({"stage": "painting"}, "stage"),
        ({"feature": "sleeve-od"}, "parent-bore"),
        ({"nominal": "2.6360"}, "No unit"),
        ({"nominal": "26 in"}, "in the wrong place"),
        ({"unit": "lb"}, "thou"),
        ({"stations": "0.4 in"}, "a list"),
        ({"stations": ["0.4"]}, "No unit"),
        ({"stations": ["0.4 in"] * 500}, "at most 400"),
        (
            {
                "stations": [f"{n} mm" for n in range(30)],
                "directions": [f"{n} deg" for n in range(20)],
            },
            "at most 400",
        ),
        ({"stations": ["0.4 in", "0.40 in"]}, "each place once"),
        ({"directions": ["0 deg", "90 deg", "90 deg"]}, "each place once"),
        ({"directions": ["north"]}, "No number"),
        ({"blank": [[5, 0]]}, "inside of"),
        ({"blank": [[0, 0], [0, 1], [1, 0], [1, 1]]}, "one place at least"),
        ({"blank": [[0]]}, "station and direction"),
        ({"entry": "guess"}, "size"),
        ({"entry": "deviation", "nominal": ""}, "master"),
        ({"last_digits": True}, "1 to 6"),
        ({"instruments": [{}]}, "a name"),
        ({"instruments": "mic"}, "a list"),
        ({"instrument": 3}, "a name"),
    ],
)
def test_a_set_that_cannot_be_read_later_is_refused_at_once(
    change: dict[str, object], why: str
) -> None:
    """Shape, places, nominal and entry of a set are usable, or it is not begun."""
    body = {"stage": "parent", "feature": "parent-bore", "nominal": "2.6360 in",
            "stations": STATIONS, "directions": DIRECTIONS, **change}  # fmt: skip
    with pytest.raises(Exception, match=why):
        read_set(body, folded=Teller().folded)


@pytest.mark.parametrize("state", ["found", "target", "left"])
def test_a_roof_below_its_floor_is_held_back(state: str) -> None:
    """Both are depths from the deck; whichever is told second is refused and says so."""
    job = Teller()
    roof = job.value(f"port/exhaust/{state}.roof", "1.800 in")
    for text in ("1.345 in", "1.800 in", "45.72 mm"):
        with pytest.raises(InputError, match=r"more than the roof, 1\.800 in"):
            read_cell(f"port/exhaust/{state}.floor", text, folded=job.folded)
    read_cell(f"port/main left/{state}.floor", "1.345 in", folded=job.folded)
    job.value(f"port/exhaust/{state}.roof", "1.345 in", replaces=[roof.id])
    job.value(f"port/exhaust/{state}.floor", "1.800 in")
    with pytest.raises(InputError, match="put that right first"):
        read_cell(f"port/exhaust/{state}.roof", "1.900 in", folded=job.folded)
    other = "target" if state == "found" else "found"
    read_cell(f"port/exhaust/{other}.roof", "1.900 in", folded=job.folded)
