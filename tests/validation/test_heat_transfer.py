"""Heat transfer beside a public library and published tables.

The library is ``ht`` (general-purpose correlations of heat transfer); the table of air is
F. P. Incropera and others, Fundamentals of Heat and Mass Transfer, 6th edition, 2007,
table A.4, from memory.  The worked examples themselves are among the published cases.
"""

import ht
import numpy as np
import pytest

from sleevewright.core.heat.convection import (
    Film,
    nusselt_horizontal_cylinder,
    nusselt_vertical_plate,
    radiated_flux,
)
from sleevewright.core.heat.gap import (
    air_conductivity,
    exchange_factor,
    gap_conductance,
    radiation_conductance,
)
from sleevewright.core.heat.lump import lump_temperature, lump_time_constant
from sleevewright.core.heat.soak import soak_time
from sleevewright.core.heat.transients import (
    LUMP_LIMIT,
    biot_number,
    transient_cylinder,
    transient_wall,
)

RAYLEIGH = [1e3, 1e5, 5.076e6, 1e9, 1e11]


@pytest.mark.parametrize("rayleigh", RAYLEIGH)
def test_cylinder_agrees_with_the_library(rayleigh: float) -> None:
    """Churchill and Chu, horizontal cylinder, to ten digits."""
    theirs = ht.Nu_horizontal_cylinder_Churchill_Chu(Pr=0.697, Gr=rayleigh / 0.697)
    assert nusselt_horizontal_cylinder(rayleigh=rayleigh, prandtl=0.697) == pytest.approx(
        theirs, rel=1e-10
    )


@pytest.mark.parametrize("rayleigh", RAYLEIGH)
def test_plate_agrees_with_the_library(rayleigh: float) -> None:
    """Churchill and Chu, vertical plate, to ten digits."""
    theirs = ht.Nu_vertical_plate_Churchill(Pr=0.69, Gr=rayleigh / 0.69)
    assert nusselt_vertical_plate(rayleigh=rayleigh, prandtl=0.69) == pytest.approx(
        theirs, rel=1e-10
    )


def test_other_correlations_are_near() -> None:
    """Two other correlations of a horizontal cylinder lie within a fifth of this one."""
    rayleigh, prandtl = 5.076e6, 0.697
    own = nusselt_horizontal_cylinder(rayleigh=rayleigh, prandtl=prandtl)
    others = (
        ht.Nu_horizontal_cylinder_Kuehn_Goldstein(Pr=prandtl, Gr=rayleigh / prandtl),
        ht.Nu_horizontal_cylinder_Morgan(Pr=prandtl, Gr=rayleigh / prandtl),
    )
    for other in others:
        assert own == pytest.approx(other, rel=0.2)


def test_radiation_agrees_with_the_library() -> None:
    """Law of Stefan and Boltzmann to five digits: the library keeps an older constant."""
    theirs = ht.q_rad(emissivity=0.85, T=438.0, T2=296.0)
    found = radiated_flux(emissivity=0.85, surface=438.0, surroundings=296.0)
    assert found == pytest.approx(theirs, rel=2e-6)


def test_small_differences_radiate_as_the_linear_law_says() -> None:
    """One kelvin apart, both laws of radiation agree to 1e-4."""
    exact = radiated_flux(emissivity=0.3, surface=400.5, surroundings=399.5)
    assert radiation_conductance(temperature=400.0, factor=0.3) == pytest.approx(exact, rel=1e-4)


def test_two_black_faces_exchange_everything() -> None:
    """Two black faces have a factor of one, and a black one leaves the other's emissivity."""
    assert exchange_factor(casting_emissivity=1.0, sleeve_emissivity=1.0) == 1.0
    assert exchange_factor(casting_emissivity=0.2, sleeve_emissivity=1.0) == pytest.approx(
        0.2, rel=1e-12
    )


@pytest.mark.parametrize(
    ("temperature", "printed"),
    [(250.0, 22.3), (300.0, 26.3), (350.0, 30.0), (400.0, 33.8), (450.0, 37.3), (500.0, 40.7)],
)
def test_air_conducts_as_tabulated(temperature: float, printed: float) -> None:
    """Table A.4 of Incropera, from memory, in mW/(m K), within 1 %."""
    found = 1e3 * float(air_conductivity(temperature=temperature))
    assert found == pytest.approx(printed, rel=0.01)


def test_radiation_is_a_per_cent_of_the_gap() -> None:
    """In a gap of three thou on radius radiation carries under one part in fifty."""
    gap = gap_conductance(
        gap=3.0 * 25.4e-6, stand_off=8e-6, conductivity=air_conductivity(temperature=370.0)
    )
    assert radiation_conductance(temperature=370.0, factor=0.3) < 0.02 * gap


@pytest.mark.parametrize("share", [transient_cylinder, transient_wall])
def test_small_biot_number_is_one_lump(share: object) -> None:
    """At a Biot number of 0.001 the exact series is the exponential of a lump, to 1e-3.

    The lump's rate is Bi Fo for the wall and twice that for the cylinder.
    """
    biot, fourier = 1e-3, 600.0
    rate = 2.0 if share is transient_cylinder else 1.0
    left = share(fourier=fourier, biot=biot)
    assert left == pytest.approx(np.exp(-rate * biot * fourier), rel=1e-3)


def test_castings_in_an_oven_are_lumps() -> None:
    """Thick walls in moving air, 20 W/m2K: far below the limit of a lump."""
    for wall, conductivity in ((0.02, 150.0), (0.02, 48.0)):
        biot = biot_number(coefficient=20.0, length=wall, conductivity=conductivity)
        assert biot < 0.3 * LUMP_LIMIT


def test_series_starts_whole_and_ends_at_nothing() -> None:
    """Both series leave all of the difference at first and none in the end."""
    assert transient_cylinder(fourier=1e-4, biot=1.0, terms=60) == pytest.approx(1.0, abs=2e-3)
    assert transient_wall(fourier=1e-4, biot=1.0, terms=60) == pytest.approx(1.0, abs=2e-3)
    assert transient_cylinder(fourier=20.0, biot=1.0) < 1e-10
    assert transient_wall(fourier=40.0, biot=1.0) < 1e-10


@pytest.mark.parametrize(
    ("biot", "wall", "cylinder"),
    [(0.1, (0.3111, 1.0161), (0.4417, 1.0246)), (1.0, (0.8603, 1.1191), (1.2558, 1.2071))],
)
def test_one_term_is_the_tabulated_one(
    biot: float, wall: tuple[float, float], cylinder: tuple[float, float]
) -> None:
    """Table 5.1 of Incropera (from memory): eigenvalue and factor, to their last digit."""
    for share, (eigenvalue, factor) in ((transient_wall, wall), (transient_cylinder, cylinder)):
        for fourier in (2.0, 3.0):
            left = share(fourier=fourier, biot=biot, terms=1)
            printed = factor * np.exp(-(eigenvalue**2) * fourier)
            assert left == pytest.approx(printed, rel=6e-4)


def test_time_to_a_temperature_is_there_and_back() -> None:
    """The temperature after the predicted time is the one that was asked for.

    Derived: 2.5 kg of aluminium, 963 J/(kg K), 18 W/m2K, 0.12 m2: 1114.6 s and 2449.0 s.
    """
    constant = lump_time_constant(heat_capacity=2.5 * 963.0, coefficient=18.0, area=0.12)
    assert constant == pytest.approx(1114.583, abs=1e-3)
    time = soak_time(target=453.15, start=293.15, oven=473.15, time_constant=constant)
    assert time == pytest.approx(2449.0, abs=0.05)
    back = lump_temperature(time=time, start=293.15, air=473.15, time_constant=constant)
    assert back == pytest.approx(453.15, abs=1e-9)


def test_film_has_its_prandtl_number() -> None:
    """Viscosity over diffusivity: 0.695 for the film of the steam pipe."""
    assert Film(0.0313, 22.8e-6, 32.8e-6, 2.725e-3).prandtl == pytest.approx(0.695, abs=5e-4)
