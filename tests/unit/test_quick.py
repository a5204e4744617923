"""Quick answers: their numbers by a second road, their defaults, their refusals."""

from __future__ import annotations

import math

import pytest

from sleevewright.errors import InputError, MissingInput, NotFound, SleevewrightError
from sleevewright.services.quick import TOPICS, quick, quick_document, quick_lines

FIT = (
    "sleeve_od=62mm", "sleeve_id=56mm", "parent_bore=61.89mm", "casting_od=84mm", "length=95mm",
    "casting=aluminium-356", "sleeve=grey-iron", "casting_modulus=71GPa", "casting_poisson=0.33",
    "sleeve_modulus=110GPa", "sleeve_poisson=0.26", "casting_expansion=22.5e-6/K",
    "sleeve_expansion=11.0e-6/K",
)  # fmt: skip
HEAT = ("sleeve_od=62mm", "parent_bore=61.89mm", "slip=0.062mm", "casting=aluminium-356",
        "sleeve=grey-iron", "casting_expansion=22.5e-6/K", "sleeve_expansion=11e-6/K")  # fmt: skip
TIMING = ("stroke=58mm", "rod=120mm", "depth=28mm")
DROP = ("sleeve_od=2.480in", "sleeve_id=2.200in", "parent_bore=2.4768in", "casting_od=104mm",
        "length=95mm", "slip=5.4thou", "casting=aluminium-356", "sleeve=grey-iron")  # fmt: skip
SWEEP = ("readings=0:+3thou,90:+1thou,180:-3thou,270:-1thou", "mount=spindle")


def numbers(topic: str, *words: str) -> dict[str, object]:
    """The document of an answer."""
    return quick_document(quick(topic, words))


def test_fit_is_that_of_two_rings() -> None:
    """Pressure and stresses solve the compatibility of two rings, written out by radii.

    Lame's rings in plane stress as in Timoshenko, Strength of Materials, Part II, 3rd ed.,
    built-up cylinders: radial growth of the casting's bore and shrinkage of the sleeve's
    outside make up half of the interference.
    """
    found = numbers("fit", *FIT)
    a, r, big = 28e-3, 31e-3, 42e-3
    p = float(str(found["contact_pressure_mpa"])) * 1e6
    casting = p * r / 71e9 * ((big**2 + r**2) / (big**2 - r**2) + 0.33)
    sleeve = p * r / 110e9 * ((r**2 + a**2) / (r**2 - a**2) - 0.26)
    assert casting + sleeve == pytest.approx(0.5 * 110e-6, rel=1e-6)
    hoop = p * (big**2 + r**2) / (big**2 - r**2)
    assert found["casting_hoop_mpa"] == pytest.approx(hoop / 1e6, rel=1e-6)
    inner = -2.0 * p * r**2 / (r**2 - a**2)
    assert found["sleeve_hoop_mpa"] == pytest.approx(inner / 1e6, rel=1e-6)
    assert found["bore_closure_um"] == pytest.approx(-inner / 110e9 * 2.0 * a * 1e6, abs=5.1e-4)
    force = 0.15 * p * math.pi * 62e-3 * 95e-3
    assert found["axial_hold_kn"] == pytest.approx(force / 1e3, rel=1e-6)
    assert found["torque_hold_nm"] == pytest.approx(force * 31e-3, rel=1e-6)


def test_fit_lets_go_where_the_free_parts_have_one_size() -> None:
    """At the grip temperature bore and sleeve, grown freely, are equal."""
    found = numbers("fit", *FIT)
    rise = float(str(found["grip_temperature_c"])) - 20.0
    assert 61.89 * (1.0 + 22.5e-6 * rise) == pytest.approx(62.0 * (1.0 + 11e-6 * rise), abs=1e-7)


def test_fit_has_the_members_that_programs_read() -> None:
    """The keys of the document are fixed."""
    assert set(numbers("fit", *FIT)) >= {
        "interference_um", "contact_pressure_mpa", "casting_hoop_mpa", "sleeve_hoop_mpa",
        "bore_closure_um", "grip_temperature_c", "axial_hold_kn", "torque_hold_nm",
    }  # fmt: skip
    assert set(numbers("heat", *HEAT)) >= {"casting_temperature_c", "feasible", "slip_at_limit_um"}
    assert set(numbers("sweep", *SWEEP)) >= {"move_x_um", "move_y_um", "form_um"}
    assert set(numbers("timing", *TIMING)) >= {"opens_deg", "duration_deg"}
    assert set(numbers("drop", *DROP)) >= {
        "free_p05_s", "free_p01_s", "expected_s", "may_stay_loose_until_s", "beyond_s",
        "probability_before_seated",
    }  # fmt: skip
    assert "bore_closure_um" in numbers("closeup", *FIT[:4], *FIT[5:])
    assert "grip_temperature_c" in numbers("grip", FIT[0], FIT[2], *FIT[5:])


def test_every_default_of_a_fit_is_told_as_assumed() -> None:
    """Contact, roughness, friction and the temperature of the parts are listed."""
    answer = quick("fit", FIT)
    assumed = quick_document(answer)["assumed"]
    assert assumed == {
        "parts measured at": "20 C",
        "friction": "0.15",
        "contact": "1",
        "sleeve_roughness": "0 um",
        "casting_roughness": "0 um",
    }
    told = "\n".join(quick_lines(answer))
    assert all(f"assumed: {name} = {text}" in told for name, text in assumed.items())


def test_closeup_and_grip_agree_with_the_fit() -> None:
    """One question and the whole give the same numbers."""
    whole = numbers("fit", *FIT)
    closed = numbers("closeup", *FIT[:4], *FIT[5:])
    grip = numbers("grip", FIT[0], FIT[2], *FIT[5:])
    assert closed["bore_closure_um"] == whole["bore_closure_um"]
    assert grip["grip_temperature_c"] == whole["grip_temperature_c"]


def test_roughness_takes_from_the_fit() -> None:
    """Rough surfaces flatten: less pressure, the same interference."""
    smooth, rough = numbers("fit", *FIT), numbers("fit", *FIT, "casting_roughness=20um")
    assert rough["interference_um"] == smooth["interference_um"]
    assert float(str(rough["contact_pressure_mpa"])) < float(str(smooth["contact_pressure_mpa"]))


def test_iron_in_iron_has_no_grip_temperature() -> None:
    """Two parts of one metal never let go, however hot."""
    words = ("sleeve_od=62mm", "parent_bore=61.94mm", "casting=grey-iron", "sleeve=grey-iron")
    answer = quick("grip", words)
    assert quick_document(answer)["grip_temperature_c"] is None
    assert "none" in "\n".join(quick_lines(answer))


def test_heat_is_the_joining_temperature() -> None:
    """With constant means the heating temperature is T0 + (i + slip)/(alpha D), nearly.

    Form of DIN 7190-1, joining temperature of a shrink fit (from memory): it leaves out
    that the bore is smaller than the sleeve, 0.3 K here.
    """
    found = numbers("heat", *HEAT)
    simple = 20.0 + (110e-6 + 62e-6) / (22.5e-6 * 62e-3)
    assert found["casting_temperature_c"] == pytest.approx(simple, abs=0.5)
    assert found["feasible"] is True


def test_slip_at_the_limit_is_told_where_the_wanted_cannot_be_had() -> None:
    """Iron in iron: not feasible, what the limit gives, and what to do instead."""
    words = ("sleeve_od=2.480in", "parent_bore=2.4778in", "slip=5.4thou", "ambient=70F",
             "casting=grey-iron", "sleeve=grey-iron", "limit=446F")  # fmt: skip
    answer = quick("heat", words)
    found = quick_document(answer)
    assert found["feasible"] is False
    assert answer.is_out
    assert 0.0 < float(str(found["slip_at_limit_um"])) < 5.4 * 25.4
    assert any("freezer" in remedy for remedy in answer.remedies)
    assert any("burns" in caution.text for caution in answer.cautions)


def test_heat_takes_the_room_for_the_sleeve() -> None:
    """Without a sleeve temperature the sleeve is as warm as the room, and it is said."""
    warm = numbers("heat", *HEAT, "ambient=35C")
    told = numbers("heat", *HEAT, "ambient=20C", "sleeve_temperature=35C")
    assert warm["casting_temperature_c"] == told["casting_temperature_c"]
    assert dict(warm["assumed"])["sleeve_temperature"] == "35C"  # type: ignore[call-overload] # a document is untyped


def seconds(key: str, *words: str) -> float:
    """One number of a drop."""
    return float(str(numbers("drop", *DROP, *words)[key]))


def test_drop_gives_its_seconds_in_their_order() -> None:
    """99 in 100, 19 in 20, half and 19 in 20 gripped come one after the other, every time."""
    found = numbers("drop", *DROP)
    keys = ("free_p01_s", "free_p05_s", "expected_s", "may_stay_loose_until_s")
    told = [float(str(found[key])) for key in keys]
    assert told == sorted(told)
    assert numbers("drop", *DROP) == found


@pytest.mark.parametrize(
    ("more", "less"),
    [
        (("dry=yes",), ("dry=no",)),
        (("form=0.5thou",), ("form=2thou",)),
        (("casting_mass=3kg",), ("casting_mass=0.9kg",)),
        (("sleeve_temperature=-18C",), ("carry=40s",)),
    ],
)
def test_drop_answers_to_what_is_told(more: tuple[str, ...], less: tuple[str, ...]) -> None:
    """Dry, round, heavy castings and less carrying leave more seconds."""
    assert seconds("expected_s", *more) > seconds("expected_s", *less)


def test_drop_says_what_was_assumed() -> None:
    """Masses from the geometry, samples and seed, form, carry and limit are all listed."""
    assumed = quick_document(quick("drop", DROP))["assumed"]
    assert set(assumed) >= {
        "casting_mass", "sleeve_mass", "samples", "form", "carry", "dry", "ambient",
        "sleeve_temperature", "limit",
    }  # fmt: skip
    assert assumed["samples"].startswith("2000 drops, seed ")
    ring = math.pi / 4.0 * (0.104**2 - (2.4768 * 0.0254) ** 2) * 0.095 * 2685.0
    assert assumed["casting_mass"].startswith(f"{ring:.3g} kg")


def test_drop_may_stay_loose_beyond_the_horizon() -> None:
    """Much slip over a light fit: no last second is told, but how far it was followed."""
    words = ("sleeve_od=2.480in", "sleeve_id=2.200in", "parent_bore=2.4784in", *DROP[3:5],
             "slip=7.2thou", *DROP[6:], "dry=yes")  # fmt: skip
    answer = quick("drop", words)
    found = quick_document(answer)
    assert found["may_stay_loose_until_s"] is None
    assert found["beyond_s"] == 120.0
    assert "beyond 120 s" in "\n".join(quick_lines(answer))
    assert "line up within 5 s" in "\n".join(quick_lines(answer))
    assert any("keep it down" in caution.text for caution in answer.cautions)


def test_a_drop_that_grips_too_soon_is_out() -> None:
    """Little slip in iron: out, with what gives more time and the usual cautions."""
    words = ("sleeve_od=2.480in", "sleeve_id=2.200in", "parent_bore=2.4778in", "casting_od=92mm",
             "length=95mm", "slip=2.7thou", "casting=grey-iron", "sleeve=grey-iron")  # fmt: skip
    answer = quick("drop", words)
    assert answer.is_out
    assert quick_document(answer)["verdict"] == "out"
    assert float(str(quick_document(answer)["probability_before_seated"])) > 0.05
    assert len(answer.remedies) == 3
    assert answer.cautions[-1].code == "defer"


def test_a_drop_above_the_limit_is_out() -> None:
    """Seconds of a temperature that may not be are no answer: out, with what the limit gives."""
    answer = quick("drop", (*DROP[:5], "slip=12thou", *DROP[6:]))
    found = quick_document(answer)
    assert any("above its limit of 230 C" in caution.text for caution in answer.cautions)
    assert answer.is_out
    assert (found["verdict"], found["within_limit"]) == ("out", False)
    given = quick_document(quick("heat", (DROP[0], DROP[2], "slip=12thou", *DROP[6:])))
    most = float(str(given["slip_at_limit_um"])) / 25.4
    named = f"{math.floor(10.0 * most) / 10.0:.1f}"
    assert f"take {named} thou of slip, which the limit gives" in answer.remedies[0]
    again = quick_document(quick("drop", (*DROP[:5], f"slip={named}thou", *DROP[6:])))
    assert again["within_limit"] is True
    assert "freezer" in answer.remedies[1]
    assert "the limit does not give such slip" in "\n".join(quick_lines(answer))


def test_a_drop_with_the_slip_of_the_limit_is_within_it() -> None:
    """What the remedy names can be had, and is judged by its chance."""
    found = quick_document(quick("drop", DROP))
    assert found["within_limit"] is True
    assert found["is_out"] is (found["verdict"] == "out")


def test_no_slip_at_the_limit_is_not_advised() -> None:
    """Where the limit does not even open the bore, taking its slip is not among the remedies."""
    words = ("sleeve_od=2.480in", "parent_bore=2.4730in", "slip=5.4thou", "casting=grey-iron",
             "sleeve=grey-iron", "limit=150C")  # fmt: skip
    answer = quick("heat", words)
    assert answer.is_out
    assert answer.remedies == ("choose a lighter fit, where the least allows it",)


def test_timing_is_the_slider_crank() -> None:
    """At the angle that is answered the piston stands at the roof.

    x = r + l - r cos t - (l^2 - r^2 sin^2 t)^(1/2): Heywood, Internal Combustion Engine
    Fundamentals, 1988, section 2.2.
    """
    found = numbers("timing", *TIMING, "deck=0.5mm")
    t = math.radians(float(str(found["opens_deg"])))
    drop = 29.0 + 120.0 - 29.0 * math.cos(t) - math.sqrt(120.0**2 - (29.0 * math.sin(t)) ** 2)
    assert drop == pytest.approx(27.5, abs=1e-6)
    assert found["duration_deg"] == pytest.approx(2.0 * (180.0 - math.degrees(t)), abs=1e-6)


@pytest.mark.parametrize(("mount", "sign"), [("spindle", 1.0), ("table", -1.0)])
def test_sweep_moves_half_of_the_swing(mount: str, sign: float) -> None:
    """Offset is half of the difference of opposite readings; a turning table mirrors Y."""
    found = numbers("sweep", SWEEP[0], f"mount={mount}")
    assert found["move_x_um"] == pytest.approx(76.2, abs=1e-6)
    assert found["move_y_um"] == pytest.approx(sign * 25.4, abs=1e-6)
    assert found["form_um"] == pytest.approx(0.0, abs=1e-6)


def test_lengths_are_told_to_a_thousandth_of_a_micrometre() -> None:
    """The noise of the last bits is no form: readings of a round bore leave a plain nought."""
    found = numbers("sweep", *SWEEP)
    assert str(found["form_um"]) == "0.0"
    assert found["move_x_um"] == 76.2
    assert str(numbers("sweep", SWEEP[0], "mount=table")["move_y_um"]) == "-25.4"
    still = numbers("sweep", "readings=0:0um,90:0um,180:0um,270:0um", "mount=table")
    assert {str(still[key]) for key in ("move_x_um", "move_y_um", "form_um")} == {"0.0"}


def test_sweep_reads_decimal_commas_and_degrees() -> None:
    """Commas between readings and commas in them are told apart."""
    plain = numbers("sweep", "readings=0:+0.03mm,90:+0.01mm,180:-0.03mm,270:-0.01mm", SWEEP[1])
    comma = numbers(
        "sweep", "readings=0deg:+0,03mm,90deg:+0,01mm,180deg:-0,03mm,270deg:-0,01mm", SWEEP[1]
    )
    assert comma["move_x_um"] == plain["move_x_um"] == pytest.approx(30.0, abs=1e-6)


def test_answers_speak_the_units_that_were_typed() -> None:
    """Inches in, thou and Fahrenheit out; millimetres in, µm and Celsius out."""
    inch = quick("grip", ("sleeve_od=2.480in", "parent_bore=2.4768in", *FIT[5:7]))
    metric = quick("grip", ("sleeve_od=62.99mm", "parent_bore=62.91mm", *FIT[5:7]))
    assert "3.2 thou" in "\n".join(quick_lines(inch))
    assert "°F" in "\n".join(quick_lines(inch))
    assert "80 µm" in "\n".join(quick_lines(metric))
    assert "°C" in "\n".join(quick_lines(metric))


def test_every_number_names_its_relation_and_source() -> None:
    """Each line ends in the relation and where it is from."""
    answer = quick("fit", FIT)
    for line, text in zip(answer.lines, quick_lines(answer), strict=False):
        assert line.formula.name in text
        assert all(source in text for source in line.formula.sources)


def test_missing_inputs_are_named_with_an_example() -> None:
    """The first that is missing is named, and all of them are shown as they are typed."""
    with pytest.raises(MissingInput) as caught:
        quick("fit", ("sleeve_od=62mm",))
    assert str(caught.value).startswith("sleeve_id: ")
    for example in ("sleeve_id=2.340in", "length=3.50in", "casting=aluminium-356"):
        assert example in str(caught.value)


REFUSED = [
    ("fit", ("sleve_od=62mm",), "did you mean sleeve_od?"),
    ("fit", ("stroke=58mm",), "fit has no input named 'stroke'"),
    ("fit", ("62mm",), "name=value"),
    ("fit", (*FIT, "length=90mm"), "twice"),
    ("grip", (FIT[0], "parent_bore=61.89", *FIT[5:7]), "No unit was given"),
    ("grip", (FIT[0], "parent_bore=62.1mm", *FIT[5:7]), "no interference"),
    ("grip", ("sleeve_od=62.31mm", "parent_bore=62mm", *FIT[5:7]), "entered in hundredths"),
    ("grip", ("sleeve_od=2.48mm", FIT[2], *FIT[5:7]), "entered in inches?"),
    ("grip", (FIT[0], FIT[2], "casting=aluminum-356", FIT[6]), "Did you mean aluminium-356?"),
    ("closeup", (FIT[0], "sleeve_id=66mm", FIT[2], FIT[3], *FIT[5:7]), "ID above OD"),
    ("closeup", (*FIT[:3], "casting_od=42mm", *FIT[5:7]), "above the casting"),
    ("closeup", (*FIT[:4], *FIT[5:7], "sleeve_modulus=110MPa"), "sleeve_modulus"),
    ("heat", (*HEAT, "ambient=-300C"), "absolute zero"),
    ("heat", (HEAT[0], HEAT[1], "slip=0.1%", *HEAT[3:]), "percent given for thou"),
    ("drop", (*DROP, "dry=maybe"), "yes or no"),
    ("drop", (DROP[0], "sleeve_id=2.6in", *DROP[2:]), "ID above OD"),
    ("fit", (FIT[0], "sleeve_id=61.8mm", *FIT[2:]), "sleeve_id: 61.800 mm"),
    ("closeup", (FIT[0], "sleeve_id=61.5mm", *FIT[2:4], *FIT[5:]), "a wall of 0.3 mm (0.012 in)"),
    ("drop", (DROP[0], "sleeve_id=2.46in", *DROP[2:]), "(2.4564 in): a wall"),
    ("timing", ("stroke=58mm", "rod=120mm", "depth=70mm"), "roof's depth"),
    ("timing", ("stroke=120mm", "rod=58mm", "depth=28mm"), "swapped"),
    ("sweep", ("readings=0:+3thou,90:+1", "mount=spindle"), "No unit was given"),
    ("sweep", ("readings=0:+3thou,90:+1thou", "mount=spindle"), "3 readings or more"),
    ("sweep", (SWEEP[0], "mount=lathe"), "spindle or table"),
    ("sweep", ("readings=+3thou", "mount=table"), "angle:reading"),
]


@pytest.mark.parametrize(("topic", "words", "told"), REFUSED)
def test_a_refusal_says_what_is_wrong(topic: str, words: tuple[str, ...], told: str) -> None:
    """Bad input names the field, what was typed and the likely slip."""
    with pytest.raises(SleevewrightError) as caught:
        quick(topic, words)
    assert told in str(caught.value)


def test_an_unknown_topic_is_refused_with_those_that_are() -> None:
    """The list of topics is told."""
    with pytest.raises(NotFound) as caught:
        quick("fitt", ())
    assert all(name in str(caught.value) for name in TOPICS)


@pytest.mark.parametrize("name", list(TOPICS))
def test_the_example_of_a_topic_is_true(name: str) -> None:
    """What the help shows can be run, and answers."""
    words = TOPICS[name].example.split()
    assert words[:3] == ["sleevewright", "quick", name]
    answer = quick(name, words[3:])
    assert answer.lines
    assert all(line.value is not None for line in answer.lines)


@pytest.mark.parametrize("name", list(TOPICS))
def test_every_input_of_a_topic_is_documented(name: str) -> None:
    """Each input has a sentence and an example."""
    for one in TOPICS[name].inputs:
        assert one.doc.endswith(".")
        assert one.example.startswith(f"{one.name}=")


def test_a_refused_value_shows_what_was_typed() -> None:
    """The value stands in the message as it was typed, with its unit."""
    with pytest.raises(InputError) as caught:
        quick("timing", ("stroke=5.8mm", "rod=120mm", "depth=28mm"))
    assert "stroke: 5.8mm cannot be used" in str(caught.value)
    assert "point in the wrong place" in str(caught.value)


def test_fit_that_overstrains_the_casting_says_so() -> None:
    """Hoop tension in thin iron past its share of the tensile strength is a caution."""
    answer = quick("fit", ("sleeve_od=2.48in", "sleeve_id=2.2in", "parent_bore=2.4720in",
                           "casting_od=2.6in", "length=3.5in", "casting=grey-iron",
                           "sleeve=grey-iron"))  # fmt: skip
    assert any(one.code == "casting-overstrained" for one in answer.cautions)
    assert not any(one.code == "casting-overstrained" for one in quick("fit", FIT).cautions)


def test_grip_carries_the_cautions_of_hot_work() -> None:
    """The temperature that frees an old sleeve comes with the cautions of heating it."""
    words = ("sleeve_od=2.480in", "parent_bore=2.4768in", "casting=aluminium-356",
             "sleeve=grey-iron")  # fmt: skip
    codes = {one.code for one in quick("grip", words).cautions}
    assert {"hot-metal", "oven-vapour"} <= codes
