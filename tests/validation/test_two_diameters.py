"""Body and flange pressed at once, against finite elements that share no code with the tool.

The rows are those of one sleeve of 56/63 mm with a flange of 70 x 4 mm in a casting of 84 mm
that steps to 92 mm, iron in aluminium; ``derived``, from an axisymmetric trial that was made
with other elements and another contact than those here.
"""

from dataclasses import replace

import pytest

from axisymmetric import End, Model, Pressed
from sleevewright.core.fits.coupled import (
    body_pressure,
    counterbore_opening,
    flange_pressure,
)
from sleevewright.core.fits.flanged import FlangedPair, flange_give, flanged_end
from sleevewright.core.fits.rings import RingPair, contact_pressure

MM, MPA = 1e-3, 1e6
CLEAR = -0.5  # mm
HELD, FREE = 1e4, 0.0  # N on the flange

ROWS = (
    (HELD, 0.080, CLEAR, 10.65, 0.0),
    (HELD, 0.080, 0.075, 10.26, 8.9),
    (HELD, 0.080, 0.090, 9.47, 26.7),
    (HELD, 0.060, 0.075, 6.97, 24.3),
    (HELD, CLEAR, 0.075, 0.0, 27.6),
    (FREE, 0.080, CLEAR, 10.70, 0.0),
    (FREE, 0.080, 0.075, 10.27, 10.6),
)
"""Hold-down, fit of body and of flange in mm, pressure of body and of flange in MPa."""

OTHERS = (
    End(bore=20.0, fit=22.5, rim=24.5, thickness=3.0, length=60.0, outside=34.0, below=34.0),
    End(bore=40.0, fit=44.0, rim=48.0, thickness=5.0, length=110.0, outside=60.0, below=60.0),
    End(outside=60.0, below=60.0, casting=(110e3, 0.26)),
)
"""Ends of other sizes and metals, all inside of what the laws were fitted over."""


@pytest.fixture(scope="module")
def models() -> dict[float, Model]:
    """The trial's end, held down and free."""
    stepped = End(step=45.0, below=42.0)
    return {load: Model(replace(stepped, hold_down=load)) for load in (HELD, FREE)}


def pair_of(end: End) -> FlangedPair:
    """The end as the tool takes it; the casting as it is beside the flange."""
    body = RingPair(
        interface_diameter=2 * end.fit * MM,
        inside_diameter=2 * end.bore * MM,
        outside_diameter=2 * end.outside * MM,
        sleeve_modulus=end.sleeve[0] * MPA,
        sleeve_poisson=end.sleeve[1],
        casting_modulus=end.casting[0] * MPA,
        casting_poisson=end.casting[1],
    )
    return FlangedPair(
        body=body,
        flange_diameter=2 * end.rim * MM,
        flange_thickness=end.thickness * MM,
        body_length=(end.length - end.thickness) * MM,
        hold_down="held" if end.hold_down else "free",
    )


def told(pair: FlangedPair, body: float, flange: float) -> tuple[float, float, float]:
    """Opening [mm], pressure of body and of flange [MPa] as the tool reckons them."""
    end = flanged_end(pair)
    opening = counterbore_opening(end, body_interference=body * MM)
    pressed = flange_pressure(end, flange_interference=flange * MM, opening=opening)
    whole = body_pressure(
        end,
        pressure=contact_pressure(pair.body, interference=body * MM),
        opening=opening,
        flange_pressure=pressed,
    )
    return float(opening) / MM, float(whole) / MPA, float(pressed) / MPA


def touched(found: Pressed) -> None:
    """Parts that touch push, and none lies in the other."""
    assert found.least_force >= -1e-9
    assert found.least_gap >= -1e-9


def test_elements_give_the_two_rings_of_a_long_sleeve() -> None:
    """Source: ``timoshenko-1956``: a long body with hardly a flange has Lame's pressure."""
    end = End(rim=33.0, thickness=0.8, length=160.0)
    found = Model(end, layers=2).pressed(0.080, CLEAR)
    rings = contact_pressure(pair_of(end).body, interference=0.080 * MM) / MPA
    assert found.body == pytest.approx(rings * (1 + 0.8 / 159.2), rel=0.004)


@pytest.mark.parametrize("row", ROWS)
def test_elements_give_the_rows_of_the_trial(
    models: dict[float, Model], row: tuple[float, ...]
) -> None:
    """Source: ``derived``: both pressures within 3 %, and contact that neither pulls nor laps."""
    load, body, flange, on_body, on_flange = row
    found = models[load].pressed(body, flange)
    assert found.body == pytest.approx(on_body, rel=0.02, abs=1e-6)
    assert found.flange == pytest.approx(on_flange, rel=0.03, abs=1e-6)
    touched(found)


@pytest.mark.parametrize("row", ROWS)
def test_walls_and_rings_give_the_rows_of_the_trial(row: tuple[float, ...]) -> None:
    """Source: ``derived``: the flange within 16 %, the body within 7 % (a step is not seen)."""
    load, body, flange, on_body, on_flange = row
    _, whole, pressed = told(pair_of(End(hold_down=load)), body, flange)
    assert whole == pytest.approx(on_body, rel=0.07, abs=1e-6)
    assert pressed == pytest.approx(on_flange, rel=0.16, abs=1e-6)


def test_body_opens_the_counterbore_by_most_of_its_fit(models: dict[float, Model]) -> None:
    """Source: ``derived``: 0.066 mm held and 0.062 mm free of a body fit of 0.080 mm."""
    for load, opening in ((HELD, 0.066), (FREE, 0.062)):
        assert models[load].pressed(0.080, CLEAR).opening == pytest.approx(opening, abs=0.001)
        assert told(pair_of(End(hold_down=load)), 0.080, CLEAR)[0] == pytest.approx(
            opening, abs=0.001
        )


@pytest.mark.parametrize("flange", [0.030, 0.045, 0.060])
def test_flange_fit_below_the_opening_carries_nothing(
    models: dict[float, Model], flange: float
) -> None:
    """Source: ``derived``: such a flange is loose, and the body is as without it."""
    alone = models[HELD].pressed(0.080, CLEAR)
    found = models[HELD].pressed(0.080, flange)
    assert found.flange == 0.0
    assert found.body == pytest.approx(alone.body, rel=1e-9)
    assert told(pair_of(End(hold_down=HELD)), 0.080, flange)[2] == 0.0


def test_flange_takes_from_the_body_what_mutual_work_says(models: dict[float, Model]) -> None:
    """Betti: the body's force falls by the flange's force times the share of opening."""
    model, end = models[HELD], models[HELD].end
    alone, both = model.pressed(0.080, CLEAR), model.pressed(0.080, 0.080)
    lost = (alone.body - both.body) * end.fit * (end.length - end.thickness)
    pushed = both.flange * end.rim * end.thickness
    assert lost / pushed == pytest.approx(alone.opening / 0.080, rel=0.05)


@pytest.mark.slow
@pytest.mark.parametrize("end", OTHERS)
@pytest.mark.parametrize("share", [FREE, HELD])
def test_other_ends_lie_within_the_doubt_that_is_told(end: End, share: float) -> None:
    """Source: ``derived``: opening, both pressures and the flange alone against the elements."""
    end = replace(end, hold_down=share * (end.fit / 31.5) ** 2)
    model, pair, fit = Model(end), pair_of(end), 2.5e-3 * end.fit
    opening, body, _ = told(pair, fit, CLEAR)
    found = model.pressed(fit, CLEAR)
    assert opening == pytest.approx(found.opening, rel=0.06)
    assert body == pytest.approx(found.body, rel=0.04)
    alone = model.pressed(CLEAR, fit)
    assert fit * MM / flange_give(pair) / MPA == pytest.approx(alone.flange, rel=0.12)
    both = model.pressed(fit, found.opening + 0.3 * fit)
    _, body, flange = told(pair, fit, found.opening + 0.3 * fit)
    assert flange == pytest.approx(both.flange, rel=0.35)
    assert body == pytest.approx(both.body, rel=0.06)
