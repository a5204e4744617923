"""How hot, beside the standard for press fits, the trade's ranges and identities.

DIN 7190-1 (form of the joining temperature, from memory).  The trade's ranges are common
practice, no source.
"""

import numpy as np
import pytest

import heat_examples as shop
from heat_examples import THOU, ZERO_CELSIUS
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.running import grip_temperature
from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature
from sleevewright.core.heat.growth import bore_growth, chill_gain, joining_temperature_din
from sleevewright.core.heat.joining import (
    carry_loss,
    casting_temperature_for_slip,
    needle_position,
    oven_setting,
    reaches,
    slip,
)
from sleevewright.core.heat.soak import timing_error

INCH = 0.0254
LAWS = {"aluminium": shop.ALUMINIUM, "iron": shop.IRON}


def slip_at(casting: str, *, interference: float, temperature: float, **changed: float) -> float:
    """Slip of the invented pair in thou, sleeve at room temperature unless told otherwise."""
    found = slip(
        diameter=changed.get("diameter", shop.DIAMETER),
        interference=interference * THOU,
        casting_law=LAWS[casting],
        sleeve_law=shop.IRON,
        casting_temperature=temperature,
        sleeve_temperature=changed.get("sleeve", shop.ROOM),
    )
    return float(found) / THOU


@pytest.mark.parametrize(
    ("diameter", "interference", "expansion"),
    [(0.080, 78e-6, 11e-6), (0.062, 110e-6, 22.5e-6), (0.150, 60e-6, 11e-6)],
)
def test_constant_coefficients_give_the_joining_temperature_of_the_standard(
    diameter: float, interference: float, expansion: float
) -> None:
    """With a constant coefficient and a cold sleeve both roads agree to 0.5 K.

    The standard's form leaves out the interference against the diameter in the denominator.
    """
    standard = joining_temperature_din(
        diameter=diameter,
        interference=interference,
        clearance=1e-3 * diameter,
        expansion=expansion,
    )
    exact = casting_temperature_for_slip(
        diameter=diameter,
        interference=interference,
        slip=1e-3 * diameter,
        casting_law=ExpansionLaw(expansion, 0.0),
        sleeve_law=shop.IRON,
        sleeve_temperature=293.15,
    )
    assert float(exact) == pytest.approx(float(standard), abs=0.5)


@pytest.mark.parametrize("bore", [60e-3, 70e-3, 80e-3])
@pytest.mark.parametrize("fit", [1.2, 1.4, 1.6])
@pytest.mark.parametrize("celsius", [180.0, 205.0, 230.0])
def test_trade_aluminium_castings_get_their_slip(bore: float, fit: float, celsius: float) -> None:
    """Common practice, no source: 180 to 230 degC gives aluminium at least 4 thou of slip.

    Bores of 60 to 80 mm with 1.2 to 1.6 thou of fit per inch.
    """
    interference = fit * bore / INCH
    assert (
        slip_at(
            "aluminium",
            interference=interference,
            temperature=celsius + ZERO_CELSIUS,
            diameter=bore,
        )
        >= 4.0
    )


@pytest.mark.parametrize("bore", [60e-3, 70e-3, 80e-3])
def test_trade_iron_castings_do_not(bore: float) -> None:
    """Common practice, no source: iron with a normal fit cannot be given what aluminium gets.

    The slip of an aluminium casting with 1.3 thou per inch at 205 degC, against iron with
    0.6 to 0.9 thou per inch at its limit of 230 degC.
    """
    wanted = slip_at("aluminium", interference=1.3 * bore / INCH, temperature=478.15, diameter=bore)
    for fit in (0.6, 0.75, 0.9):
        limit = slip_at(
            "iron", interference=fit * bore / INCH, temperature=shop.LIMIT, diameter=bore
        )
        assert limit < wanted
    needed = casting_temperature_for_slip(
        diameter=bore,
        interference=0.9 * bore / INCH * THOU,
        slip=wanted * THOU,
        casting_law=shop.IRON,
        sleeve_law=shop.IRON,
        sleeve_temperature=shop.ROOM,
    )
    assert reaches(casting_temperature=float(needed), limit=shop.LIMIT) == "no"


def test_grip_temperature_leaves_no_slip() -> None:
    """3.2 thou on 2.480 in: 143.1 degC, derived from the laws; slip there is zero."""
    grip = grip_temperature(
        diameter=shop.DIAMETER,
        interference=3.2 * THOU,
        casting_law=shop.ALUMINIUM,
        sleeve_law=shop.IRON,
    )
    assert float(grip) - ZERO_CELSIUS == pytest.approx(143.1, abs=0.05)
    left = slip_at_equal_temperature(
        diameter=shop.DIAMETER,
        interference=3.2 * THOU,
        casting_law=shop.ALUMINIUM,
        sleeve_law=shop.IRON,
        temperature=grip,
    )
    assert float(left) == pytest.approx(0.0, abs=1e-12)


def test_fits_with_the_same_thou_per_inch_grip_together() -> None:
    """Body and flange tie on common cooling where interference over diameter is equal."""
    flange = 2.640 * INCH
    temperatures = [
        float(
            grip_temperature(
                diameter=diameter,
                interference=3.2 * THOU * diameter / shop.DIAMETER,
                casting_law=shop.ALUMINIUM,
                sleeve_law=shop.IRON,
            )
        )
        for diameter in (shop.DIAMETER, flange)
    ]
    assert temperatures[0] == pytest.approx(temperatures[1], abs=1e-9)


@pytest.mark.parametrize(
    ("casting", "interference", "celsius"),
    [
        ("aluminium", 1.6, (149, 131, 105, 58)),
        ("aluminium", 3.2, (176, 159, 134, 87)),
        ("aluminium", 4.0, (190, 173, 148, 102)),
        ("iron", 1.4, (248, 218, 171, 84)),
        ("iron", 2.2, (272, 242, 197, 112)),
        ("iron", 2.6, (284, 254, 209, 126)),
    ],
)
def test_pinned_temperatures_of_an_earlier_trial(
    casting: str, interference: float, celsius: tuple[int, ...]
) -> None:
    """Casting for 5.4 thou over a sleeve at 21, -18, -78 and -196 degC; not published."""
    for sleeve, kept in zip((21.0, -18.0, -78.0, -196.0), celsius, strict=True):
        found = shop.hot(casting, interference=interference, slip=5.4, sleeve=sleeve + ZERO_CELSIUS)
        assert found - ZERO_CELSIUS == pytest.approx(kept, abs=0.55)


@pytest.mark.parametrize(
    ("casting", "interference", "kept"),
    [("aluminium", 1.6, 10.24), ("aluminium", 3.2, 8.63), ("iron", 1.4, 4.79), ("iron", 2.2, 3.99)],
)
def test_pinned_slip_at_the_limit_of_an_earlier_trial(
    casting: str, interference: float, kept: float
) -> None:
    """Most slip at 230 degC, sleeve at 21 degC, in thou; not published."""
    found = slip_at(casting, interference=interference, temperature=shop.LIMIT)
    assert found == pytest.approx(kept, abs=0.006)


@pytest.mark.parametrize(
    ("radius", "kept"), [(42e-3, -0.27), (52e-3, 0.28), (66e-3, 0.56), (82e-3, 0.70)]
)
def test_pinned_equal_temperature_slip_of_an_earlier_trial(radius: float, kept: float) -> None:
    """Slip left where both parts meet, 3.2 thou fit and 5.4 thou slip; not published."""
    together = equal_temperature(
        casting_capacity=shop.capacity("aluminium", radius),
        casting_temperature=shop.TRIALS["A1"][2],
        sleeve_capacity=shop.sleeve_capacity(),
        sleeve_temperature=shop.ROOM,
    )
    found = slip_at_equal_temperature(
        diameter=shop.DIAMETER,
        interference=3.2 * THOU,
        casting_law=shop.ALUMINIUM,
        sleeve_law=shop.IRON,
        temperature=together,
    )
    assert float(found) / THOU == pytest.approx(kept, abs=0.02)


def test_slip_is_growth_less_interference_and_sleeve() -> None:
    """Growth of the bore, less the fit, less what the warm sleeve takes, is the slip."""
    temperature = 450.0
    grown = bore_growth(
        diameter=shop.DIAMETER,
        interference=3.2 * THOU,
        casting_law=shop.ALUMINIUM,
        temperature=temperature,
    )
    sleeve = -chill_gain(
        diameter=shop.DIAMETER, sleeve_law=shop.IRON, room=293.15, chilled=shop.ROOM
    )
    found = slip_at("aluminium", interference=3.2, temperature=temperature)
    assert found == pytest.approx((float(grown) - float(sleeve)) / THOU - 3.2, abs=1e-9)


def test_chilling_gains_what_it_should() -> None:
    """A sleeve from the freezer gains 1.01 thou, from dry ice 2.48; derived from the law."""
    for celsius, gain in ((-18.0, 1.01), (-78.0, 2.48)):
        found = chill_gain(
            diameter=shop.DIAMETER,
            sleeve_law=shop.IRON,
            room=shop.ROOM,
            chilled=celsius + ZERO_CELSIUS,
        )
        assert float(found) / THOU == pytest.approx(gain, abs=0.006)


def test_needle_stands_at_slip_and_loss() -> None:
    """A cool gauge goes at slip plus carry; a sleeve dropped colder than zeroed goes sooner."""
    known = {
        "slip": 5.4 * THOU,
        "carry_loss": 0.2 * THOU,
        "diameter": shop.DIAMETER,
        "sleeve_law": shop.IRON,
        "sleeve_at_zero": shop.ROOM,
    }
    warm = needle_position(**known, sleeve_at_drop=shop.ROOM)
    cold = needle_position(**known, sleeve_at_drop=255.15)
    checked = needle_position(
        **known, sleeve_at_drop=shop.ROOM, gauge_expansion=11.5e-6, gauge_rise=10.0
    )
    assert float(warm) / THOU == pytest.approx(5.6, abs=1e-9)
    assert float(cold) / THOU == pytest.approx(4.6, abs=0.02)
    assert float(checked) / THOU == pytest.approx(5.6 - 0.285, abs=0.005)


def test_oven_never_passes_the_limit_of_the_part() -> None:
    """However large the margin, the oven stays at the part's limit."""
    assert oven_setting(target=449.0, margin=35.0, limit=503.15) == 484.0
    assert oven_setting(target=490.0, margin=35.0, limit=503.15) == 503.15
    targets = np.array([449.0, 490.0, 520.0])
    assert oven_setting(target=targets, margin=35.0, limit=503.15).max() == 503.15


def test_small_margin_makes_the_time_unpredictable() -> None:
    """Six kelvin of oven error: 0.14 time constants at 35 K of margin, 0.56 at 10 K; derived."""
    for margin, share in ((50.0, 0.09), (35.0, 0.14), (10.0, 0.56)):
        target = 449.15
        error = timing_error(
            target=target, start=shop.ROOM, oven=target + margin, time_constant=1.0, oven_error=6.0
        )
        assert float(error) == pytest.approx(share, abs=0.006)


def test_carry_costs_a_tenth_or_two() -> None:
    """Twelve seconds in the open cost aluminium 0.1 to 0.3 thou: 12 W/m2K on 0.19 m2; derived."""
    loss = carry_loss(
        diameter=shop.DIAMETER,
        casting_law=shop.ALUMINIUM,
        casting_temperature=shop.TRIALS["A1"][2],
        room=shop.ROOM,
        carry_time=12.0,
        time_constant=1273.0 / (12.0 * 0.19),
    )
    assert 0.1 <= float(loss) / THOU <= 0.3
