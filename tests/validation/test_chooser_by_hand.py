"""The curves of the chooser against the printed relations, worked out by hand in this file.

Pressure, hoop stresses and close-up: two thick rings in plane stress, S. Timoshenko, *Strength
of Materials*, part II, 3rd edition, 1956, built-up cylinders, in the form that R. G. Budynas
and J. K. Nisbett, *Shigley's Mechanical Engineering Design*, 9th edition, 2011, section 3-16,
gives for two materials.  Heat: mean coefficients and the definition of a strain at the
reference temperature, ISO 1.  The parts are an invented liner of 56/62 mm in a ring of 84 mm;
the constants are told, so that no table of this project has a part in it.
"""

import math
from collections.abc import Callable
from functools import cache

import pytest

from sleevewright.core.materials import material
from sleevewright.jobs.model import Choice, Engine, Entry, Heat, Job, Part, Piston, Running
from sleevewright.planning.chooser import Chooser, Curve, chooser
from sleevewright.planning.shop import Settings, Shop

A, R, B = 28e-3, 31e-3, 42e-3  # radii: sleeve's bore, fit, casting's outside [m]
EC, NC, ES, NS = 71e9, 0.33, 110e9, 0.26
AC, AS = 22.5e-6, 11.0e-6
FITS = (1e-6, 55e-6, 110e-6)
ROOM = 293.15
HOT = (433.15, 453.15)
LENGTH, FRICTION = 80e-3, 0.12
SLIP, CARRY = 62e-6, 12.0


def told(value: float, doubt: float | None = None) -> Entry:
    """A number as somebody told it."""
    return Entry(value, "told", "typed", doubt)


def by_hand_job() -> Job:
    """The liner in its ring, with every constant told."""
    metals = {"poisson": None, "modulus": None, "expansion": None}
    casting = Part(
        "aluminium-356",
        outside_diameter=told(2.0 * B, 1e-9),
        **(metals | {"modulus": told(EC), "poisson": told(NC), "expansion": told(AC)}),
    )
    sleeve = Part(
        "grey-iron",
        outside_diameter=told(2.0 * R),
        inside_diameter=told(2.0 * A),
        length=told(LENGTH),
        **(metals | {"modulus": told(ES), "poisson": told(NS), "expansion": told(AS)}),
    )
    return Job(
        engine=Engine(kind="four-stroke", bore=told(56.3e-3)),
        units="metric",
        casting=casting,
        sleeve=sleeve,
        choice=Choice(wanted=told(110e-6), least=told(50e-6)),
        running=Running(hard_casting=told(HOT[0]), hard_sleeve=told(HOT[1])),
        heat=Heat(slip=told(SLIP), friction=told(FRICTION), contact=told(1.0), ambient=told(ROOM)),
        piston=Piston(),
    )


@cache
def picture() -> Chooser:
    """Its curves at three fits."""
    shop = Shop(Settings(budget_samples=500))
    return chooser(by_hand_job(), shop, interferences=FITS, samples=500)


def curve(identity: str) -> Curve:
    """One of them."""
    found = picture().curve(identity)
    assert found is not None
    return found


def pressure(fit: float) -> float:
    """Timoshenko: radial interference over the give of both rings."""
    casting = ((B**2 + R**2) / (B**2 - R**2) + NC) / EC
    sleeve = ((R**2 + A**2) / (R**2 - A**2) - NS) / ES
    return 0.5 * fit / (R * (casting + sleeve))


def close_up(fit: float) -> float:
    """Hoop strain at the sleeve's bore times its diameter."""
    return 2.0 * pressure(fit) * R**2 / (R**2 - A**2) / ES * 2.0 * A


BY_HAND: dict[str, Callable[[float], float]] = {
    "fit.pressure": pressure,
    "fit.casting_hoop": lambda i: pressure(i) * (B**2 + R**2) / (B**2 - R**2),
    "fit.sleeve_hoop": lambda i: -2.0 * pressure(i) * R**2 / (R**2 - A**2),
    "fit.close_up": close_up,
    "fit.hold": lambda i: FRICTION * pressure(i) * math.pi * 2.0 * R * LENGTH,
    "fit.torque": lambda i: FRICTION * pressure(i) * math.pi * 2.0 * R * LENGTH * R,
    "finish.stock": lambda i: 56.3e-3 - (2.0 * A - close_up(i)),
    "fit.hard": lambda i: (
        2.0 * R * (1.0 + AS * (HOT[1] - ROOM)) - (2.0 * R - i) * (1.0 + AC * (HOT[0] - ROOM))
    ),
    "fit.grip": lambda i: ROOM + i / (2.0 * R * (AC - AS) - i * AC),
    "heat.slip_at_limit": lambda i: (2.0 * R - i) * (1.0 + AC * 210.0) - 2.0 * R,
}
"""What each curve is, from the radii and the constants alone."""


@pytest.mark.parametrize("identity", BY_HAND)
def test_central_line_is_the_printed_relation(identity: str) -> None:
    """Ten answers at three fits equal the relations as printed, to nine digits."""
    wanted = [BY_HAND[identity](fit) for fit in FITS]
    assert curve(identity).central == pytest.approx(wanted, rel=1e-9)


def test_the_figures_that_are_known_of_this_liner() -> None:
    """At 110 um: 12.700 MPa, +43.10 and -137.9 MPa, 70.2 um (Lame, worked out twice)."""
    at = FITS.index(110e-6)
    assert curve("fit.pressure").central[at] == pytest.approx(12.700e6, abs=0.5e3)
    assert curve("fit.casting_hoop").central[at] == pytest.approx(43.10e6, abs=5e3)
    assert curve("fit.sleeve_hoop").central[at] == pytest.approx(-137.9e6, abs=50e3)
    assert curve("fit.close_up").central[at] == pytest.approx(70.2e-6, abs=0.05e-6)


def test_the_casting_is_as_hot_as_slip_and_carry_ask_for() -> None:
    """ISO 1 strains: growth that makes fit, slip and what twelve seconds of carry lose."""
    line = curve("heat.casting").central
    for fit, hot in zip(FITS, line, strict=True):
        before_carry = (2.0 * R - fit) * (1.0 + AC * (hot - ROOM)) - 2.0 * R
        entry = ROOM + (fit + SLIP) / ((2.0 * R - fit) * AC)
        lost = 2.0 * R * AC * (entry - ROOM) * (1.0 - math.exp(-CARRY / 560.0))
        assert before_carry == pytest.approx(SLIP + lost, rel=1e-9)


def test_limits_of_stress_are_those_of_first_yield() -> None:
    """DIN 7190 (form from memory): hoop and radial stress at a bore differ by 2 Re/3^(1/2)."""
    pull, squeeze = curve("fit.casting_hoop").limit, curve("fit.sleeve_hoop").limit
    casting, sleeve = material("aluminium-356"), material("grey-iron")
    assert pull is not None
    assert squeeze is not None
    assert casting.yield_strength is not None
    assert sleeve.yield_strength is not None
    at_yield = pull / ((B**2 + R**2) / (B**2 - R**2))  # the pressure at that pull
    assert pull + at_yield == pytest.approx(2.0 * casting.yield_strength / math.sqrt(3.0))
    assert squeeze == pytest.approx(-2.0 * sleeve.yield_strength / math.sqrt(3.0))
    fits = (at_yield / pressure(1.0), squeeze * (R**2 - A**2) / (-2.0 * R**2) / pressure(1.0))
    wanted = [min(fits) - fit for fit in FITS]
    assert curve("fit.limit_margin").central == pytest.approx(wanted, rel=1e-9)
