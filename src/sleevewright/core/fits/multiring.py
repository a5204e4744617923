"""Several rings pressed into one another: liner, casting, and a steel ring round it.

Any number of concentric elastic rings of constant thickness in plane stress, each with its
own metal and, if it is told, its own temperature.  Diameters and misfits are diametral at
20 degC, a misfit is how much the inner ring is larger than the hole that takes it while
both are free.  Pressure is positive in compression, stress in tension.  Rings do not pull
at each other: where they would, they part and the pressure there is zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_SOURCES = ("timoshenko-goodier-1970", "derived")
_ELASTIC = "elastic, plane stress, no ports, rings that part press with nothing"


@dataclass(frozen=True, kw_only=True)
class RingStack:
    """Concentric rings from the inside to the outside, at 20 degC.

    Parameters
    ----------
    diameters : tuple[Number, ...]
        Inside diameter of the innermost ring, each interface, outside; one more than there
        are rings; the first may be the float 0 for a solid member. [m]
    moduli : tuple[Number, ...]
        Young's modulus of each ring. [Pa]
    poissons : tuple[Number, ...]
        Poisson's ratio of each ring. [1]
    growths : tuple[Number, ...]
        Free expansion of each ring against its size at 20 degC; empty: none. [1]
    """

    diameters: tuple[Number, ...]
    moduli: tuple[Number, ...]
    poissons: tuple[Number, ...]
    growths: tuple[Number, ...] = ()

    def __post_init__(self) -> None:
        """Refuse stacks that cannot exist."""
        count = len(self.moduli)
        told = {"diameters": (len(self.diameters), count + 1),
                "Poisson's ratios": (len(self.poissons), count),
                "growths": (len(self.growths) or count, count)}  # fmt: skip
        if count < 1:
            raise InputError("rings", count, "", "one ring or more")
        for name, (has, wanted) in told.items():
            if has != wanted:
                raise InputError(name, has, "", f"{wanted} for {count} rings")
        not_negative("innermost diameter", self.diameters[0], "m")
        for index, (small, large) in enumerate(
            zip(self.diameters, self.diameters[1:], strict=False), start=1
        ):
            if not extremes(large - small)[0] > 0.0:
                allowed = f"more than the diameter inside it, {extremes(small)[1]:.6g} m"
                raise InputError(f"outside diameter of ring {index}", large, "m", allowed)
        for index, (modulus, poisson) in enumerate(
            zip(self.moduli, self.poissons, strict=True), start=1
        ):
            positive(f"modulus of ring {index}", modulus, "Pa")
            within(f"Poisson's ratio of ring {index}", poisson, "1", 0.0, 0.5)
        for growth in self.growths:
            finite("growth of a ring", growth, "1")

    @property
    def count(self) -> int:
        """How many rings there are."""
        return len(self.moduli)

    def growth(self, ring: int) -> Number:
        """Free expansion of a ring, counted from 0."""
        return self.growths[ring] if self.growths else 0.0


@dataclass(frozen=True)
class RingStress:
    """Stresses at the two surfaces of one ring, positive in tension.

    Parameters
    ----------
    inside_radial, inside_hoop : Number
        At its inner surface. [Pa]
    outside_radial, outside_hoop : Number
        At its outer surface. [Pa]
    """

    inside_radial: Number
    inside_hoop: Number
    outside_radial: Number
    outside_hoop: Number


def _gives(stack: RingStack, ring: int) -> tuple[Number, Number, Number]:
    """Growth on diameter by pressure: of the bore, across the wall to outside, of the outside.

    The first is by pressure in the bore, the third is the shrinkage by pressure outside, and
    the second what pressure at one surface does at the other, times that other's diameter.
    """
    small, large = stack.diameters[ring] ** 2, stack.diameters[ring + 1] ** 2
    wall, modulus, poisson = large - small, stack.moduli[ring], stack.poissons[ring]
    ratio = (large + small) / wall
    inside = stack.diameters[ring] * (ratio + poisson) / modulus
    outside = stack.diameters[ring + 1] * (ratio - poisson) / modulus
    across = 2.0 * small * large / (modulus * wall)
    return inside, across, outside


def _misfits(stack: RingStack, misfits: tuple[Number, ...]) -> list[Number]:
    """Misfit of each interface at the temperatures of the rings."""
    if len(misfits) != stack.count - 1:
        raise InputError("misfits", len(misfits), "", f"{stack.count - 1}, one an interface")
    hot: list[Number] = []
    for index, misfit in enumerate(misfits):
        finite(f"misfit {index + 1}", misfit, "m")
        more = stack.diameters[index + 1] * (stack.growth(index) - stack.growth(index + 1))
        hot.append(misfit + more)
    return hot


@formula(
    name="pressures between several rings",
    expression="A p = misfits, A tridiagonal: growth of the outer and squeeze of the inner ring",
    sources=_SOURCES,
    validity=_ELASTIC,
    unit="Pa",
)
def interface_pressures(
    stack: RingStack, *, misfits: tuple[Number, ...], inner_pressure: Number = 0.0
) -> tuple[Number, ...]:
    """Pressure at each interface of a stack of rings.

    Parameters
    ----------
    stack : RingStack
        The rings. [record]
    misfits : tuple[Number, ...]
        Misfit of each interface at 20 degC, positive is tight. [m]
    inner_pressure : Number
        Pressure in the bore of the innermost ring. [Pa]

    Returns
    -------
    tuple[Number, ...]
        Contact pressures from inside to outside, zero where rings part. [Pa]

    Raises
    ------
    InputError
        If there is not one misfit an interface, one is not finite, or the pressure is negative.

    Notes
    -----
    At each interface what the outer ring's bore grows and the inner ring's outside shrinks
    makes up the misfit; pressure at a ring's other surface takes part in it. Interfaces that
    press are found from none upwards: each round can only add some, so that it ends.
    Source: ``timoshenko-goodier-1970`` for one ring, ``derived`` for the system.

    Examples
    --------
    >>> stack = RingStack(diameters=(56e-3, 62e-3, 84e-3), moduli=(110e9, 71e9),
    ...     poissons=(0.26, 0.33))
    >>> round(interface_pressures(stack, misfits=(110e-6,))[0] / 1e6, 2)
    12.7
    """
    not_negative("inner pressure", inner_pressure, "Pa")
    wanted = _misfits(stack, misfits)
    if not wanted:
        return ()
    matrix, right = _system(stack, wanted, inner_pressure)
    pressures = _pressing(matrix, right)
    if pressures.shape[0] == 1 and _is_single(stack, misfits, inner_pressure):
        return tuple(float(one) for one in pressures[0])
    return tuple(pressures[:, index] for index in range(stack.count - 1))


def _is_single(stack: RingStack, misfits: tuple[Number, ...], inner: Number) -> bool:
    """Whether nothing of the question is an array."""
    told = (*stack.diameters, *stack.moduli, *stack.poissons, *stack.growths, *misfits, inner)
    return not any(isinstance(one, np.ndarray) for one in told)


def _system(
    stack: RingStack, wanted: list[Number], inner: Number
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Tridiagonal matrix and right side, the samples along the first axis."""
    gives = [_gives(stack, ring) for ring in range(stack.count)]
    diameters = stack.diameters
    right = list(wanted)
    # Pressure in the bore swells the innermost ring into the first interface.
    right[0] = right[0] + gives[0][1] / diameters[1] * inner
    size = len(wanted)
    parts = [*right, *diameters, *(one for give in gives for one in give)]
    count = int(np.broadcast(*parts).size)
    matrix = np.zeros((count, size, size))
    for row in range(size):
        matrix[:, row, row] = gives[row][2] + gives[row + 1][0]
        if row:
            matrix[:, row, row - 1] = -gives[row][1] / diameters[row + 1]
        if row + 1 < size:
            matrix[:, row, row + 1] = -gives[row + 1][1] / diameters[row + 1]
    return matrix, np.stack([np.broadcast_to(one, (count,)) for one in right], axis=1)


def _pressing(matrix: NDArray[np.float64], right: NDArray[np.float64]) -> NDArray[np.float64]:
    """Pressures of the interfaces that press; the rest are open and zero.

    No interface pushes another one together (the matrix has no positive term off its
    diagonal), so an interface that presses in one round still does in the next.
    """
    size = right.shape[1]
    unit = np.eye(size)
    closed = right > 0.0
    while True:  # ends: a round without a new interface is the last, and there are few
        both = closed[:, :, None] & closed[:, None, :]
        held = np.where(both, matrix, unit * ~closed[:, :, None])
        solved = np.linalg.solve(held, np.where(closed, right, 0.0)[:, :, None])
        pressures = np.where(closed, solved[:, :, 0], 0.0)
        overlap = right - np.einsum("nij,nj->ni", matrix, pressures)
        slack = 1e-12 * np.abs(right).max(axis=1, keepdims=True)
        joined = closed | (overlap > slack)
        if (joined == closed).all():
            return cast("NDArray[np.float64]", np.maximum(pressures, 0.0))
        closed = joined


@formula(
    name="stresses in several rings",
    expression="sigma = A -+ B/r^2 in each ring, radial stress = -p at its surfaces",
    sources=_SOURCES,
    validity=_ELASTIC,
    unit="Pa",
)
def ring_stresses(
    stack: RingStack, *, pressures: tuple[Number, ...], inner_pressure: Number = 0.0
) -> tuple[RingStress, ...]:
    """Radial and hoop stress at both surfaces of every ring.

    Parameters
    ----------
    stack : RingStack
        The rings. [record]
    pressures : tuple[Number, ...]
        Pressures at the interfaces. [Pa]
    inner_pressure : Number
        Pressure in the bore of the innermost ring. [Pa]

    Returns
    -------
    tuple[RingStress, ...]
        Stresses of each ring, positive in tension. [record]

    Raises
    ------
    InputError
        If there is not one pressure an interface, or one is negative.

    Notes
    -----
    Lame in every ring; a solid member has -p everywhere. Source:
    ``timoshenko-goodier-1970``, hollow cylinder under pressure.

    Examples
    --------
    >>> stack = RingStack(diameters=(0.1, 0.15, 0.2), moduli=(200e9, 200e9),
    ...     poissons=(0.3, 0.3))
    >>> inner, outer = ring_stresses(stack, pressures=(20e6,))
    >>> round(inner.inside_hoop / 1e6, 2), round(outer.inside_hoop / 1e6, 2)
    (-72.0, 71.43)
    """
    if len(pressures) != stack.count - 1:
        raise InputError("pressures", len(pressures), "", f"{stack.count - 1}, one an interface")
    for one in (*pressures, inner_pressure):
        not_negative("pressure", one, "Pa")
    around = (inner_pressure, *pressures, 0.0)
    return tuple(
        _stress(stack.diameters[ring], stack.diameters[ring + 1], around[ring], around[ring + 1])
        for ring in range(stack.count)
    )


def _stress(small: Number, large: Number, inside: Number, outside: Number) -> RingStress:
    """Stresses of one ring between two pressures."""
    if extremes(small)[1] == 0.0:
        return RingStress(-outside, -outside, -outside, -outside)
    inner, outer = small**2, large**2
    wall = outer - inner
    at_bore = (inside * (outer + inner) - 2.0 * outside * outer) / wall
    at_outside = (2.0 * inside * inner - outside * (outer + inner)) / wall
    return RingStress(-inside, at_bore, -outside, at_outside)


@formula(
    name="growth of the bore of a stack",
    expression="change = d (sigma_hoop + nu p)/E + d growth at the innermost surface",
    sources=_SOURCES,
    validity=_ELASTIC,
    unit="m",
)
def stack_bore_change(
    stack: RingStack, *, pressures: tuple[Number, ...], inner_pressure: Number = 0.0
) -> Number:
    """How much the bore of the innermost ring grows, on diameter; negative is closing.

    Parameters
    ----------
    stack : RingStack
        The rings. [record]
    pressures : tuple[Number, ...]
        Pressures at the interfaces. [Pa]
    inner_pressure : Number
        Pressure in the bore. [Pa]

    Returns
    -------
    Number
        Change of the bore against its free size at 20 degC. [m]

    Raises
    ------
    InputError
        As for :func:`ring_stresses`.

    Notes
    -----
    Hoop strain at the bore times its diameter. Source: ``timoshenko-goodier-1970``.
    """
    first = ring_stresses(stack, pressures=pressures, inner_pressure=inner_pressure)[0]
    strain = (first.inside_hoop - stack.poissons[0] * first.inside_radial) / stack.moduli[0]
    return stack.diameters[0] * (strain + stack.growth(0))
