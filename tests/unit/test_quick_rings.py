"""Quick topics on several rings and on the ageing by an oven: figures, words, refusals.

S. P. Timoshenko, *Strength of Materials, Part II*, 3rd edition, 1956, built-up cylinders,
from memory: radii 4, 6 and 8 in.
"""

from __future__ import annotations

import pytest

from sleevewright.errors import SleevewrightError
from sleevewright.services.quick import quick, quick_document, quick_lines

THREE = ("diameters=56mm,62mm,84mm,96mm", "metals=grey-iron,aluminium-356,205GPa/0.29")


def test_compound_cylinder_of_timoshenko() -> None:
    """Radii 4, 6, 8 in, 0.005 in on radius, E 30e6 psi: 4 050 psi between them."""
    document = quick_document(
        quick("rings", ("diameters=8in,12in,16in", "metals=30Msi/0.3,30Msi/0.3", "misfits=10thou"))
    )
    assert document["pressure_1_mpa"] / 6.894757e-3 == pytest.approx(4050.0, abs=5.0)


def test_three_rings_answer_in_the_order_of_the_diameters() -> None:
    """Two pressures, six hoop stresses and the bore; the liner squeezed, the steel pulled."""
    answer = quick("rings", (*THREE, "misfits=110um,60um"))
    document = quick_document(answer)
    assert [key for key in document if key.startswith("pressure")] == [
        "pressure_1_mpa",
        "pressure_2_mpa",
    ]
    assert document["ring_1_inside_mpa"] < 0.0 < document["ring_3_inside_mpa"]
    assert document["bore_change_um"] < 0.0
    assert "tension is positive" in "\n".join(quick_lines(answer))


def test_pressure_inside_opens_the_bore_again() -> None:
    """With 40 MPa in the bore it closes by less than without."""
    without = quick_document(quick("rings", (*THREE, "misfits=110um,60um")))
    filled = quick_document(quick("rings", (*THREE, "misfits=110um,60um", "inside=40MPa")))
    assert filled["bore_change_um"] > without["bore_change_um"]


def test_parted_rings_and_yielded_ones_are_said() -> None:
    """Clearance all round presses nothing; a fit beyond the metal's strength is no elastic one."""
    loose = quick("rings", (*THREE, "misfits=-20um,-20um"))
    assert any("part at an interface" in one.text for one in loose.cautions)
    words = ("diameters=56mm,62mm,70mm", "metals=grey-iron,aluminium-356", "misfits=300um")
    tight = quick("rings", words)
    assert any("Ring 2 yields" in one.text for one in tight.cautions)


def test_solid_member_has_no_bore() -> None:
    """An innermost diameter of nought is a solid member: none stands for its bore."""
    document = quick_document(
        quick("rings", ("diameters=0mm,40mm,60mm", "metals=steel,steel", "misfits=59um"))
    )
    assert document["bore_change_um"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("diameters=56mm,62mm", "metals=steel", "misfits=1um"), "3 to 9 diameters"),
        (("diameters=62mm,56mm,84mm", "metals=steel,steel", "misfits=1um"), "not radii"),
        (("diameters=56mm,62mm,84mm", "metals=steel", "misfits=1um"), "metals: steel"),
        (("diameters=56mm,62mm,84mm", "metals=steel,tin", "misfits=1um"), "as 110GPa/0.26"),
        (("diameters=56mm,62mm,84mm", "metals=steel,7GPa/0.9", "misfits=1um"), "0 to 0.5"),
        (("diameters=56mm,62mm,84mm", "metals=steel,steel", "misfits=1um,2um"), "misfits: 1um,2um"),
        (("diameters=56mm,62mm,84mm", "metals=steel,steel", "misfits=3mm"), "a hundredth"),
        (("diameters=56mm,,84mm", "metals=steel,steel", "misfits=1um"), "a comma between"),
    ],
)
def test_bad_rings_are_refused_in_words(words: tuple[str, ...], said: str) -> None:
    """Each slip names the list, its text and what is allowed."""
    with pytest.raises(SleevewrightError, match=said):
        quick("rings", words)


def test_negative_pressure_inside_is_refused() -> None:
    """No suction: the refusal names the input."""
    with pytest.raises(SleevewrightError, match="inside"):
        quick("rings", (*THREE, "misfits=110um,60um", "inside=-1MPa"))


def test_an_hour_at_450_fahrenheit_is_just_allowed_and_two_are_out() -> None:
    """The rule of the trade is the limit; the second hour goes over it and says what to do."""
    one = quick("dose", ("temperature=450F", "time=1h"))
    two = quick("dose", ("temperature=450F", "time=2h"))
    assert not one.is_out
    assert two.is_out
    assert two.remedies
    assert quick_document(two)["dose_s"] == pytest.approx(2.0 * quick_document(one)["dose_s"])
    assert any("looks cold" in caution.text for caution in one.cautions)


def test_dose_outside_its_range_says_so() -> None:
    """At 60 degC the law is a guess; a temperature of no oven is refused."""
    cold = quick("dose", ("temperature=60C", "time=1h"))
    assert any("it is a guess" in caution.text for caution in cold.cautions)
    with pytest.raises(SleevewrightError, match="temperature"):
        quick("dose", ("temperature=700C", "time=1h"))
    with pytest.raises(SleevewrightError, match="time"):
        quick("dose", ("temperature=200C", "time=2000h"))
