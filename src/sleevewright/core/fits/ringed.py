"""A casting with a steel ring round it: what the ring does to the sleeve's fit.

The ring goes on first, then the parent bore is bored and gauged with the ring in place, so
that the sleeve's fit is told against the bore as the ring has left it.  Both fits are
linear: their pressures and stresses are added.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.checks import Number
from sleevewright.core.fits.multiring import RingStack, interface_pressures, ring_stresses
from sleevewright.core.formulas import formula

_SOURCES = ("timoshenko-goodier-1970", "derived")
_VALIDITY = "elastic, plane stress; ring on first, parent bore gauged with it in place"


@dataclass(frozen=True, kw_only=True)
class RingedCasting:
    """Sleeve, casting and the ring round it, at 20 degC.

    Parameters
    ----------
    inside_diameter : Number
        Sleeve's bore. [m]
    interface_diameter : Number
        Diameter of the sleeve's fit. [m]
    outside_diameter : Number
        Outside diameter of the casting, where the ring sits. [m]
    ring_diameter : Number
        Outside diameter of the ring. [m]
    sleeve_modulus, casting_modulus, ring_modulus : Number
        Young's moduli. [Pa]
    sleeve_poisson, casting_poisson, ring_poisson : Number
        Poisson's ratios. [1]
    """

    inside_diameter: Number
    interface_diameter: Number
    outside_diameter: Number
    ring_diameter: Number
    sleeve_modulus: Number
    sleeve_poisson: Number
    casting_modulus: Number
    casting_poisson: Number
    ring_modulus: Number
    ring_poisson: Number

    @property
    def whole(self) -> RingStack:
        """All three rings."""
        return RingStack(
            diameters=(self.inside_diameter, *self.outer.diameters),
            moduli=(self.sleeve_modulus, *self.outer.moduli),
            poissons=(self.sleeve_poisson, *self.outer.poissons),
        )

    @property
    def outer(self) -> RingStack:
        """Casting and ring without the sleeve."""
        return RingStack(
            diameters=(self.interface_diameter, self.outside_diameter, self.ring_diameter),
            moduli=(self.casting_modulus, self.ring_modulus),
            poissons=(self.casting_poisson, self.ring_poisson),
        )


def _both(
    rings: RingedCasting, interference: Number, ring_interference: Number
) -> tuple[Number, Number]:
    """Pressures of the sleeve's fit and of the ring's."""
    (first,) = interface_pressures(rings.outer, misfits=(ring_interference,))
    sleeve, more = interface_pressures(rings.whole, misfits=(interference, 0.0))
    return sleeve, first + more


@formula(
    name="pressure of a sleeve in a ringed casting",
    expression="p from the three rings with the sleeve's fit alone",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def ringed_pressure(rings: RingedCasting, *, interference: Number) -> Number:
    """Contact pressure of the sleeve, the ring round the casting taken in.

    Parameters
    ----------
    rings : RingedCasting
        The three rings. [record]
    interference : Number
        Effective interference of the sleeve against the bore as gauged. [m]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the interference is not finite or a ring cannot exist.

    Notes
    -----
    The ring makes the casting stiffer; its own fit is in the bore as it was gauged. Source:
    ``derived``, see :func:`~.multiring.interface_pressures`.
    """
    return interface_pressures(rings.whole, misfits=(interference, 0.0))[0]


@formula(
    name="pressure under a ring round the casting",
    expression="p = ring's own fit on the bored casting + what the sleeve adds",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def ring_pressure(
    rings: RingedCasting, *, interference: Number, ring_interference: Number
) -> Number:
    """Contact pressure between casting and ring with the sleeve in.

    Parameters
    ----------
    rings : RingedCasting
        The three rings. [record]
    interference : Number
        Effective interference of the sleeve. [m]
    ring_interference : Number
        Interference of the ring on the casting. [m]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If an interference is not finite or a ring cannot exist.

    Notes
    -----
    Superposition. Source: ``derived``.
    """
    return _both(rings, interference, ring_interference)[1]


@formula(
    name="pull around the ring",
    expression="sigma = p (Do^2 + R^2)/(Do^2 - R^2) at the ring's bore",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def ring_hoop_stress(
    rings: RingedCasting, *, interference: Number, ring_interference: Number
) -> Number:
    """Hoop tension at the bore of the ring.

    Parameters
    ----------
    rings : RingedCasting
        The three rings. [record]
    interference : Number
        Effective interference of the sleeve. [m]
    ring_interference : Number
        Interference of the ring on the casting. [m]

    Returns
    -------
    Number
        Hoop stress, positive in tension. [Pa]

    Raises
    ------
    InputError
        If an interference is not finite or a ring cannot exist.

    Notes
    -----
    Lame for the ring. Source: ``timoshenko-goodier-1970``, ``derived`` for the sum.
    """
    pressure = _both(rings, interference, ring_interference)[1]
    return ring_stresses(rings.outer, pressures=(pressure,))[1].inside_hoop


@formula(
    name="pull around a ringed casting",
    expression="sigma = hoop by the sleeve's fit + hoop by the ring's, at the casting's bore",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def ringed_casting_hoop(
    rings: RingedCasting, *, interference: Number, ring_interference: Number
) -> Number:
    """Hoop stress at the casting's bore between sleeve and ring.

    Parameters
    ----------
    rings : RingedCasting
        The three rings. [record]
    interference : Number
        Effective interference of the sleeve. [m]
    ring_interference : Number
        Interference of the ring on the casting. [m]

    Returns
    -------
    Number
        Hoop stress, positive in tension; a tight ring takes the tension away. [Pa]

    Raises
    ------
    InputError
        If an interference is not finite or a ring cannot exist.

    Notes
    -----
    Lame for the casting between both pressures. Source: ``timoshenko-goodier-1970``,
    ``derived`` for the sum.
    """
    sleeve, ring = _both(rings, interference, ring_interference)
    pressed = ring_stresses(rings.outer, pressures=(ring,), inner_pressure=sleeve)
    return pressed[0].inside_hoop
