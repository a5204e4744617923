"""Quick running fit and thin casting: by formulas written out, with refusals."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError, MissingInput
from sleevewright.services.quick import quick, quick_document, quick_lines
from sleevewright.services.quick_answer import Line

PAIR = ("sleeve_od=3.0035in", "parent_bore=3.0000in", "casting=aluminium-356", "sleeve=grey-iron",
        "casting_expansion=21.42e-6/K", "sleeve_expansion=10.98e-6/K")  # fmt: skip
RINGS = ("sleeve_od=62mm", "sleeve_id=56mm", "parent_bore=61.89mm", "casting_od=74mm",
         "length=95mm", "casting=aluminium-356", "sleeve=grey-iron", "casting_modulus=71GPa",
         "casting_poisson=0.33", "sleeve_modulus=110GPa", "sleeve_poisson=0.26")  # fmt: skip
THOU = 25.4


def numbers(topic: str, *words: str) -> dict[str, float | None]:
    """The document of an answer."""
    return quick_document(quick(topic, words))


@pytest.mark.parametrize(
    ("casting", "sleeve", "lost"), [(200, 230, 1.7), (300, 340, 3.3), (350, 400, 4.0)]
)
def test_what_is_left_is_the_fit_less_the_loss(casting: int, sleeve: int, lost: float) -> None:
    """3.5 thou at 11.9e-6 and 6.1e-6 a degF lose 1.7, 3.3 and 4.0 thou, to a tenth by hand."""
    found = numbers("running", *PAIR, f"running_casting={casting}F", f"running_sleeve={sleeve}F")
    assert found["left_um"] == pytest.approx((3.5 - lost) * THOU, abs=0.07 * THOU)


def test_chance_and_levels_agree_with_each_other() -> None:
    """Where the casting is at the level of half, about half are open; levels are in order."""
    found = numbers("running", *PAIR, "running_casting=300F", "running_sleeve=340F")
    opens, low, high = found["opens_c"], found["opens_p05_c"], found["opens_p95_c"]
    assert opens is not None
    assert low is not None
    assert high is not None
    assert low < opens < high
    there = numbers("running", *PAIR, f"running_casting={opens}C",
                    f"running_sleeve={opens + 40 / 1.8}C")  # fmt: skip
    assert there["opens_share"] == pytest.approx(0.5, abs=0.02)
    lower = numbers("running", *PAIR, f"running_casting={low}C",
                    f"running_sleeve={low + 40 / 1.8}C")  # fmt: skip
    assert lower["opens_share"] == pytest.approx(0.05, abs=0.01)


def test_iron_in_iron_has_no_temperature_at_which_it_opens() -> None:
    """None, in words; and no level of one."""
    words = ("sleeve_od=3.0035in", "parent_bore=3.0000in", "casting=grey-iron", "sleeve=grey-iron",
             "running_casting=350F", "running_sleeve=400F")  # fmt: skip
    answer = quick("running", words)
    assert quick_document(answer)["opens_c"] is None
    assert "opens_p05_c" not in quick_document(answer)
    assert any("does not open by heat" in line for line in quick_lines(answer))


def test_thin_holds_as_the_other_wall_at_the_fit_that_it_tells() -> None:
    """6 mm of wall at the told fit hold what 12 mm hold at this one, and pull harder."""
    thin = numbers("thin", *RINGS, "other_wall=12mm")
    thick = numbers("thin", *(one.replace("74mm", "86mm") for one in RINGS), "other_wall=12mm")
    assert thin["wall_um"] == pytest.approx(6000.0)
    assert thin["needed_hold_kn"] == pytest.approx(thick["hold_kn"], rel=1e-9)
    pulls, before = thin["needed_casting_hoop_mpa"], thin["casting_hoop_mpa"]
    assert pulls is not None
    assert before is not None
    assert pulls > before
    assert thick["needed_um"] == pytest.approx(thick["interference_um"], rel=1e-9)


def test_twice_the_wall_is_assumed_and_said() -> None:
    """Without another wall it is compared with twice its own."""
    said = quick_lines(quick("thin", RINGS))
    assert "assumed: other wall = twice this one" in said
    told = numbers("thin", *RINGS, "other_wall=12mm")
    assert numbers("thin", *RINGS)["needed_um"] == pytest.approx(told["needed_um"])


def test_bad_inputs_of_both_are_named() -> None:
    """A missing temperature, an impossible one and Ra for Rz are refused by name."""
    with pytest.raises(MissingInput, match="running_sleeve"):
        quick("running", (*PAIR, "running_casting=300F"))
    with pytest.raises(InputError, match="running_casting"):
        quick("running", (*PAIR, "running_casting=3000F", "running_sleeve=340F"))
    with pytest.raises(InputError, match="4 to 7 times Ra"):
        quick("thin", (*RINGS, "sleeve_roughness=0.8umRa"))


def test_a_rough_fit_lets_go_sooner_and_one_that_flattens_never_holds() -> None:
    """What flattens is taken off hot as well; where nothing is left, no temperature is told."""

    def lets_go(*more: str, bore: str = "61.89mm") -> Line:
        """Where it lets go."""
        told = ("sleeve_od=62mm", "sleeve_id=56mm", f"parent_bore={bore}", "casting_od=84mm",
                "length=95mm", "casting=aluminium-356", "sleeve=grey-iron")  # fmt: skip
        lines = quick("fit", (*told, *more)).lines
        return next(one for one in lines if one.key == "grip_temperature_c")

    smooth, rough = lets_go().value, lets_go("casting_roughness=20um").value
    assert isinstance(smooth, float)
    assert isinstance(rough, float)
    assert rough < smooth
    gone = lets_go("casting_roughness=60um", "sleeve_roughness=60um", bore="61.95mm")
    assert gone.value is None
    assert "flattened" in gone.note
