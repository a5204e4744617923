"""What must hold for every flanged end, whatever its sizes and metals."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.fits.coupled import (
    body_pressure,
    counterbore_opening,
    flange_pressure,
    ledge_hoop,
)
from sleevewright.core.fits.flanged import (
    FlangedPair,
    flange_give,
    flanged_end,
    outside_range,
)
from sleevewright.core.fits.rings import RingPair, contact_pressure

few = settings(max_examples=30)
fits = st.floats(-200e-6, 200e-6)


@st.composite
def pairs(draw: st.DrawFn) -> FlangedPair:
    """Flanged ends of the sizes that the laws were fitted over."""
    fit = draw(st.floats(0.036, 0.100))
    rim = fit * (1.0 + draw(st.floats(0.03, 0.12)))
    body = RingPair(
        interface_diameter=fit,
        inside_diameter=fit * (1.0 - draw(st.floats(0.06, 0.20))),
        outside_diameter=rim + fit * draw(st.floats(0.13, 0.79)),
        sleeve_modulus=draw(st.floats(90e9, 210e9)),
        sleeve_poisson=draw(st.floats(0.24, 0.30)),
        casting_modulus=draw(st.floats(65e9, 130e9)),
        casting_poisson=draw(st.floats(0.24, 0.34)),
    )
    return FlangedPair(
        body=body,
        flange_diameter=rim,
        flange_thickness=0.5 * fit * draw(st.floats(0.07, 0.19)),
        body_length=fit * draw(st.floats(0.8, 1.6)),
        hold_down=draw(st.sampled_from(["held", "free"])),
    )


def pressures(pair: FlangedPair, body: float, flange: float) -> tuple[float, float, float]:
    """Opening, pressure at the body, pressure at the flange."""
    end = flanged_end(pair)
    opening = float(counterbore_opening(end, body_interference=body))
    pressed = float(flange_pressure(end, flange_interference=flange, opening=opening))
    rings = float(contact_pressure(pair.body, interference=body))
    whole = body_pressure(end, pressure=rings, opening=opening, flange_pressure=pressed)
    return opening, float(whole), pressed


@few
@given(pair=pairs(), body=fits, flange=fits)
def test_what_does_not_touch_does_not_press(pair: FlangedPair, body: float, flange: float) -> None:
    """Pressures are never negative, and the flange presses just where something is left."""
    opening, whole, pressed = pressures(pair, body, flange)
    assert whole >= 0.0
    assert (pressed > 0.0) == (flange > opening)
    assert 0.0 <= opening <= max(body, 0.0)
    assert outside_range(pair) == ()


@few
@given(pair=pairs(), body=fits, flange=fits, more=st.floats(1e-6, 50e-6))
def test_each_fit_helps_itself_and_hurts_the_other(
    pair: FlangedPair, body: float, flange: float, more: float
) -> None:
    """More flange fit: more flange pressure, no more at the body; and the other way round."""
    _, whole, pressed = pressures(pair, body, flange)
    _, less, greater = pressures(pair, body, flange + more)
    assert greater >= pressed
    assert less <= whole * (1 + 1e-12)
    _, _, eased = pressures(pair, body + more, flange)
    assert eased <= pressed * (1 + 1e-12)


@few
@given(pair=pairs(), tight=st.floats(1e-6, 200e-6))
def test_one_fit_alone_is_the_rings_or_the_flange_alone(pair: FlangedPair, tight: float) -> None:
    """With the flange clear the body is Lame's with its end; with the body clear, i over C."""
    _, whole, pressed = pressures(pair, tight, -1e-3)
    rings = float(contact_pressure(pair.body, interference=tight))
    assert pressed == 0.0
    assert whole == pytest.approx(rings * (1 + pair.flange_thickness / pair.body_length), rel=1e-12)
    opening, whole, pressed = pressures(pair, -1e-3, tight)
    assert (opening, whole) == (0.0, 0.0)
    assert pressed == pytest.approx(tight / float(flange_give(pair)), rel=1e-12)


@few
@given(pair=pairs())
def test_thin_flange_is_opened_by_all_of_the_body(pair: FlangedPair) -> None:
    """A flange of no thickness sits on the end of the body: the share goes to one."""
    thin = replace(pair, flange_thickness=1e-3 * pair.flange_thickness)
    opening = counterbore_opening(flanged_end(thin), body_interference=100e-6)
    assert opening == pytest.approx(100e-6, rel=2e-3)


@few
@given(pair=pairs())
def test_stiffer_casting_gives_less_and_rigid_leaves_the_sleeve(pair: FlangedPair) -> None:
    """Give of the flange falls with the casting's stiffness to that of the sleeve's end alone."""

    def give(modulus: float) -> float:
        body = replace(pair.body, casting_modulus=modulus)
        return float(flange_give(replace(pair, body=body)))

    usual, stiff, rigid, more = (give(one) for one in (70e9, 140e9, 1e18, 1e19))
    assert usual > stiff > rigid > 0.0
    assert more == pytest.approx(rigid, rel=1e-6)


@few
@given(pair=pairs(), body=st.floats(0.0, 30e6), flange=st.floats(0.0, 30e6))
def test_ledge_pulls_in_proportion(pair: FlangedPair, body: float, flange: float) -> None:
    """Twice both pressures pull twice; the flange's own pressure always pulls."""
    end = flanged_end(pair)
    once = ledge_hoop(end, body_pressure=body, flange_pressure=flange)
    twice = ledge_hoop(end, body_pressure=2 * body, flange_pressure=2 * flange)
    assert twice == pytest.approx(2 * once, rel=1e-12, abs=1e-9)
    assert ledge_hoop(end, body_pressure=body, flange_pressure=flange + 1e6) > once
