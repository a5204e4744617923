"""How a gauge that compares was set: what is taken, what is refused, what the plan makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from comparator_examples import ON_SLEEVE, THOU, job_of, text_of
from sleevewright.errors import InputError, SleevewrightError
from sleevewright.jobs.gauged import grid_of
from sleevewright.jobs.jobfile import JobFileErrors, read_job
from sleevewright.jobs.jobwriter import write_job
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.planning.shown import shown_answer
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.quick import quick, quick_document
from sleevewright.web.stage.setting import setting_views
from told_jobs import GAUGE, MIC, Teller

RING = {"name": "ring 4", "kind": "setting-ring", "setting": "0.1 thou"}
FEW = Shop(Settings(budget_samples=4000, drop_samples=100))
ROWS = [["-3.5", "-3.4"], ["-3.5", "-3.6"]]
PLACES: dict[str, Any] = {"stations": ["0.4 in", "2.2 in"], "directions": ["0 deg", "90 deg"]}


def begun(feature: str = "parent-bore", **body: Any) -> Mapping[str, Any]:
    """A set that was begun, as it is kept."""
    stage = {"counterbore": "counterbore", "sweep-top": "setup", "sleeve-od": "sleeve"}
    made = Teller().begin("k3", feature, stage.get(feature, "parent"), **PLACES, **body)
    return made.body


def answers(setting: str = "", **more: Any) -> dict[str, Answer]:
    """The answers of a job whose bore was gauged so, by their ids."""
    return {one.id: one for one in planned(setting, **more).answers()}


def planned(setting: str = "", **more: Any) -> Plan:
    """Its plan on few samples."""
    return plan(job_of(setting, **more), FEW)


@pytest.mark.parametrize(
    ("feature", "body", "field", "words"),
    [
        ("parent-bore", {"set_on": "flange", "nominal": "2.64 in"}, "set_on", "this flange"),
        ("counterbore", {"set_on": "sleeve", "nominal": "2.8 in"}, "set_on", "this sleeve"),
        ("sleeve-od", {"set_on": "setting-ring", "nominal": "2.64 in"}, "set_on", "gauge-block"),
        ("sweep-top", {"set_on": "micrometer"}, "set_on", "scale of its own"),
        ("parent-bore", {"set_on": "plug", "nominal": "2.64 in"}, "set_on", "setting-ring"),
        ("parent-bore", {"set_on": "setting-ring"}, "master_size", "size of the setting ring"),
        ("parent-bore", {"master_reads": "0.2"}, "master_size", "what the dial showed"),
        ("parent-bore", {"set_on": "sleeve", "nominal": "2.64 in", "master_temperature": "60 C"},
         "master_temperature", "60 C"),
        ("parent-bore", {"master_size": "2.6250 in", "nominal": "2.6260 in"}, "nominal",
         "2.6250 in"),
        ("parent-bore", {"master_size": "2.6250 in", "master_reads": "0.2 in"}, "master_reads",
         "nearer"),
        ("parent-bore", {"nominal": "2.64 in", "sign": "left"}, "sign", "plus-smaller"),
        ("parent-bore", {"nominal": "2.64 in", "set_on": "micrometer",
                         "master_expansion": "11.5e-3/K"}, "master_expansion", "11.5e-3/K"),
    ],
)  # fmt: skip
def test_a_setting_that_cannot_be_is_refused(
    feature: str, body: dict[str, Any], field: str, words: str
) -> None:
    """The message names the field, what was told and what is allowed."""
    with pytest.raises(InputError) as refused:
        begun(feature, **body)
    assert str(refused.value).startswith(field)
    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("body", "nominal"),
    [
        ({"master_size": "2.6250 in"}, "2.6250 in"),
        ({"master_size": "2.6250 in", "master_reads": "+0.4"}, "2.6246 in"),
        ({"master_size": "2.6250 in", "master_reads": "+0.4", "sign": "plus-smaller"},
         "2.6254 in"),
        ({"master_size": "66.950 mm", "master_reads": "-3 um"}, "66.953 mm"),
    ],
)  # fmt: skip
def test_dial_at_nought_follows_from_the_master_and_what_it_showed(
    body: dict[str, Any], nominal: str
) -> None:
    """A dial that showed plus on its master stands at nought on a smaller bore, or mirrored."""
    assert begun(set_on="setting-ring", **body)["nominal"] == nominal


def test_a_reading_of_another_gauge_is_held_back() -> None:
    """Each gauge has a zero of its own: one grid, one gauge."""
    job = Teller()
    job.begin("k3", "parent-bore", "parent", nominal="2.6393 in", **PLACES)
    body = {"cylinder": 1, "cell": "set/k3/0/0", "text": "-3.5"}
    assert body_of("value", {**body, "instrument": "bore gauge"}, job.folded)["nm"] > 0
    assert body_of("value", body, job.folded)["nm"] > 0
    with pytest.raises(InputError, match="Begin a set of its own for the other gauge"):
        body_of("value", {**body, "instrument": "telescoping"}, job.folded)


def test_the_setting_of_a_set_reaches_plan_and_proof() -> None:
    """What it was set on, how warm, by whom and its zero stand in the grid of both readers."""
    job = Teller()
    job.grid("k3", "parent-bore", "parent", ROWS, nominal="2.6250 in", set_on="setting-ring",
             master="ring 4", master_temperature="70 F", set_by="Ann", set_at="09:40",
             instruments=[GAUGE, MIC, RING], **PLACES)  # fmt: skip
    job.value("set/k3/zero-start", "0")
    job.value("set/k3/zero-end", "+0.1")
    living = living_job(job.folded)
    assert living.problems == ()
    for grid in (living.job.grid("parent-bore"), grid_of(job.folded, "parent-bore")):
        assert grid is not None
        assert (grid.set_on, grid.master, grid.set_by) == ("setting-ring", "ring 4", "Ann")
        assert grid.zero_end is not None
        assert grid.zero_end.value == pytest.approx(0.1 * THOU)
        assert grid.master_temperature is not None
    text = write_job(living.job)
    assert write_job(read_job(text, name="again")) == text


def test_zero_of_a_dial_that_runs_backwards_is_turned_too() -> None:
    """Plus at the end then means that the gauge reads the bore too small."""
    job = Teller()
    job.grid("k3", "parent-bore", "parent", [["+3.5", "+3.5"], ["+3.4", "+3.6"]],
             nominal="2.6393 in", sign="plus-smaller", **PLACES)  # fmt: skip
    job.value("set/k3/zero-end", "+0.1")
    grid = grid_of(job.folded, "parent-bore")
    assert grid is not None
    assert grid.zero_end is not None
    assert grid.zero_end.value == pytest.approx(-0.1 * THOU)
    first = grid.readings[0][0]
    assert first is not None
    assert first.value == pytest.approx((2.6393 - 0.0035) * 0.0254)


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        ('set_on = "flange"', "this flange for parent-bore"),
        ('set_on = "sleeve"\nzero_start = "0 thou"\nzero_end = "0.3 thou"', "set the gauge and"),
        ('set_on = "setting-ring"\nmaster = "ring 9"', "ring 9"),
    ],
)
def test_a_job_file_is_held_to_the_same(setting: str, words: str) -> None:
    """A master of another kind, a zero that moved too far, a master that nobody knows."""
    with pytest.raises(JobFileErrors, match=words):
        job_of(setting)


def test_a_job_file_says_what_size_its_master_has() -> None:
    """Readings over a master without its size say nothing."""
    text = text_of(ON_SLEEVE).replace('nominal = "2.6393 in"', "", 2)
    with pytest.raises(JobFileErrors, match=r"no size|over what"):
        read_job(text, name="t.toml")


def test_drift_within_its_limit_is_part_of_the_budget() -> None:
    """Half of it is taken off, and the whole of it widens the doubt, rectangular."""
    still, moved = (
        answers(f'{ON_SLEEVE}\nzero_start = "0 thou"\nzero_end = "{end} thou"') for end in (0, 0.2)
    )
    fits = [float(str(one["fit.cold"].value)) for one in (still, moved)]
    assert fits[1] - fits[0] == pytest.approx(0.1 * THOU, rel=1e-3)
    names = [
        {one.input for one in doubt.contributors}
        for doubt in (still["fit.cold"].doubt, moved["fit.cold"].doubt)
        if doubt is not None
    ]
    assert "bore.size.zero" not in names[0]
    assert "bore.size.zero" in names[1]
    assert moved["fit.cold"].doubt is not None
    share = {one.input: one.standard for one in moved["fit.cold"].doubt.contributors}
    assert share["bore.size.zero"] == pytest.approx(0.2 * THOU / 12.0**0.5, rel=0.01)


def test_a_casting_gauged_warm_shows_both_sizes_and_how_long_to_wait() -> None:
    """As read and at 20 °C, what lies between them, and time to lie; near the gauge, none."""
    warm = answers(ON_SLEEVE, part="90 F")
    between = float(str(warm["bore.as_read"].value)) - float(str(warm["bore.size"].value))
    keyed, worth = (float(str(warm[one].value)) for one in ("fit.dial_off", "bore.warmth_worth"))
    assert between == pytest.approx(worth - keyed, abs=0.01e-6)
    assert between == pytest.approx(0.6 * THOU, abs=0.1 * THOU)
    assert 20 * 60 < float(str(warm["bore.soak"].value)) < 60 * 60
    assert warm["bore.warmer"].value == pytest.approx(20.0 / 1.8)
    doubt = warm["fit.cold"].doubt
    assert doubt is not None
    assert "casting.growth_scale" in {one.input for one in doubt.contributors}
    assert not {"bore.as_read", "bore.soak"} & set(answers(ON_SLEEVE, part="72 F"))


def test_a_size_that_is_not_this_sleeve_s_is_noticed() -> None:
    """Zeroed at a size two thou off the sleeve as gauged: the two fits differ, and it is said."""
    off = planned(ON_SLEEVE, zero="2.6373 in")
    assert "dial-and-sizes-differ" in {one.code for one in off.cautions}
    right = planned(ON_SLEEVE)
    assert "dial-and-sizes-differ" not in {one.code for one in right.cautions}
    by_id = {one.id: one for one in right.answers()}
    assert "straight from the dial" in by_id["fit.cold"].of
    assert "fit.by_sizes" not in answers()


def test_a_ring_of_its_own_goes_before_what_the_gauge_s_record_says() -> None:
    """Set on a ring for once: the micrometer leaves the size, the ring's doubt enters it."""
    told = answers('set_on = "setting-ring"\nmaster = "ring"')
    doubt = told["bore.size"].doubt
    assert doubt is not None
    names = {one.input for one in doubt.contributors}
    assert "gauge.ring.setting" in names
    assert "gauge.mic-2-3.setting" not in names
    unnamed = answers('set_on = "setting-ring"')["bore.size"].doubt
    assert unnamed is not None
    assert "gauge.mic-2-3.setting" not in {one.input for one in unnamed.contributors}
    recorded = answers('set_on = "micrometer"')["bore.size"].doubt
    assert recorded is not None
    assert "gauge.mic-2-3.setting" in {one.input for one in recorded.contributors}


def test_a_warm_master_counts_by_what_it_grows_more_than_the_gauge() -> None:
    """ISO 1: of one steel with the gauge nothing is left; brass was 7.5e-6/K larger than it."""
    ring = 'set_on = "setting-ring"\nmaster = "ring"\nmaster_temperature = "{}"'
    cool, warm = (answers(ring.format(one), gauge="20 C") for one in ("20 C", "30 C"))
    sizes = [float(str(one["bore.size"].value)) for one in (cool, warm)]
    assert sizes[1] - sizes[0] == pytest.approx(0.0, abs=0.02 * THOU)
    brass = ring.format("30 C") + '\nmaster_expansion = "19e-6/K"'
    larger = float(str(answers(brass, gauge="20 C")["bore.size"].value))
    assert larger - sizes[0] == pytest.approx(7.5e-6 * 10.0 * 0.06695, rel=0.02)


def test_a_gauge_of_another_metal_grows_by_its_own_coefficient() -> None:
    """ISO 1: a gauge that hardly grows, 10 K warm, on a ring at 20 °C, reads the bore right."""
    ring = 'set_on = "setting-ring"\nmaster = "ring"\nmaster_temperature = "20 C"'
    steel = float(str(answers(ring, gauge="30 C")["bore.size"].value))
    stiff = f'{ring}\ngauge_expansion = "1.2e-6/K"'
    found = answers(stiff, gauge="30 C")
    less = steel - float(str(found["bore.size"].value))
    assert less == pytest.approx((11.5e-6 - 1.2e-6) * 10.0 * 0.06695, rel=0.01)
    assert found["bore.size.gauge_expansion"].typed == "1.2e-6/K"


def test_heat_says_needle_plug_and_what_a_warm_gauge_hides() -> None:
    """At the body, and at the flange where there is one; a plug is sleeve and slip together."""
    flange = 'flange_diameter = "2.800 in"\nflange_thickness = "0.157 in"'
    told = answers(flange=flange)
    system = "inch"
    for name in ("heat.needle", "heat.needle_flange", "heat.plug", "heat.plug_flange"):
        assert shown_answer(told[name], system=system).figure
    wanted = float(str(told["heat.gauged_slip"].value))
    for plug, part in (("heat.plug", "sleeve.od"), ("heat.plug_flange", "flange.od")):
        over = float(str(told[plug].value)) - float(str(told[part].value))
        assert over == pytest.approx(wanted, abs=0.05 * THOU)
    hidden = told["heat.gauge_hides"]
    assert 0.05 * THOU < float(str(hidden.value)) < 0.6 * THOU
    assert "heat.needle_flange" not in answers()


def test_the_setting_stands_over_the_readings_in_words() -> None:
    """What it was set on and by whom; a dial that runs backwards says so at every reading."""
    seen = setting_views(
        {"set_on": "setting-ring", "master": "ring 4", "master_temperature": "70 F",
         "set_by": "Ann", "set_at": "09:40", "nominal": "2.6250 in", "sign": "plus-smaller"},
        "parent-bore",
    )  # fmt: skip
    assert seen["setting"][0] == "Set on setting ring ring 4, at 70 F, by Ann 09:40."
    assert seen["dial"] == "plus: smaller"
    assert "runs backwards" in seen["setting"][-1]
    plain = setting_views({"nominal": "2.6250 in", "entry": "size"}, "parent-bore")
    assert (plain["dial"], plain["setting"]) == ("", ())


def numbers(topic: str, *words: str) -> dict[str, Any]:
    """The numbers of a quick answer."""
    return quick_document(quick(topic, words))


def test_comparator_answers_bore_and_fit() -> None:
    """Cold and all alike the reading is the fit; a warm bore is smaller than it reads."""
    told = ("master_size=63.000mm", "shows=-81um", "casting=aluminium-356")
    fit = numbers("comparator", *told, "set_on=sleeve", "sleeve=grey-iron")
    assert fit["fit_um"] == pytest.approx(81.0)
    backwards = numbers("comparator", told[0], "shows=+81um", told[2], "sign=plus-smaller",
                        "set_on=sleeve", "sleeve=grey-iron")  # fmt: skip
    assert backwards["fit_um"] == fit["fit_um"]
    warm = numbers("comparator", "master_size=58mm", "shows=0um", told[2],
                   "casting_expansion=23e-6/K", "part_temperature=28C",
                   "master_temperature=28C")  # fmt: skip
    assert warm["temperature_um"] == pytest.approx(5.336, abs=2e-3)


def test_soak_is_shorter_where_less_is_asked() -> None:
    """From the metal alone; a thin sleeve is ready before its casting."""
    told = ("casting=aluminium-356", "part_temperature=95F")
    usual = numbers("soak", *told)
    assert numbers("soak", *told, "within=5K")["casting_s"] < usual["casting_s"]
    assert numbers("soak", told[0], "part_temperature=69F")["casting_s"] == 0.0
    sleeve = ("sleeve_od=2.48in", "sleeve_id=2.2in", "length=3.74in", "sleeve=grey-iron")
    both = numbers("soak", *told, *sleeve)
    assert 0.0 < both["sleeve_s"] < both["casting_s"]
    worth = numbers("soak", *told, sleeve[0], "worth=0.1thou")
    assert worth["within_k"] == pytest.approx(2.54e-6 / (20.7e-6 * 0.062992), rel=0.02)


@pytest.mark.parametrize(
    ("topic", "words", "field"),
    [
        ("comparator", ("set_on=gauge-rod",), "set_on"),
        ("comparator", ("set_on=sleeve",), "sleeve"),
        ("comparator", ("sign=up",), "sign"),
        ("comparator", ("master_temperature=60C",), "master_temperature"),
    ],
)
def test_quick_comparator_refuses_what_cannot_be(
    topic: str, words: tuple[str, ...], field: str
) -> None:
    """The field is named."""
    told = ("master_size=63.000mm", "shows=-81um", "casting=aluminium-356")
    with pytest.raises(SleevewrightError, match=field):
        quick(topic, (*told, *words))


def test_quick_soak_wants_the_diameter_that_a_length_is_worth_on() -> None:
    """A tenth is worth more kelvin on a small bore."""
    with pytest.raises(InputError, match="sleeve_od"):
        quick("soak", ("casting=aluminium-356", "part_temperature=95F", "worth=0.1thou"))


def test_last_digits_of_a_size_that_follows_from_the_master() -> None:
    """The size keeps as many digits as a gauge shows, so that its last digits are told."""
    kept = begun(set_on="setting-ring", master_size="2.6250 in", entry="last-digits")
    assert (kept["nominal"], kept["last_digits"]) == ("2.6250 in", 4)


def test_a_sleeve_whose_form_was_not_gauged_is_not_called_round() -> None:
    """Zeroed on a sleeve that was typed as one number: the place on it stays in doubt."""
    text = text_of(ON_SLEEVE)
    start = text.index('[[grid]]\nfeature = "sleeve-od"')
    bare = text[:start] + text[text.index("[[grid]]", start + 5) :]
    told = bare.replace("[sleeve]", '[sleeve]\noutside_diameter = "2.6393 in"')
    found = {one.id: one for one in plan(read_job(told, name="t.toml"), FEW).answers()}
    place = found["bore.size.place"].doubt
    assert place is not None
    assert place.standard == pytest.approx(0.25 * THOU / 3.0**0.5, rel=1e-6)
