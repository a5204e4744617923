"""A published check as a record, and the register of all of them."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from sleevewright.core.formulas import formula_of

READINGS = ("read", "inputs-read", "memory", "derived")


@dataclass(frozen=True)
class Case:
    """One published number and the function that computes it again."""

    id: str
    title: str
    formula: str  # path of the function of the core that is checked
    source: str  # key of the list of sources
    place: str  # example, table or page within the source
    published: float
    unit: str
    tolerance: float  # absolute, in ``unit``
    reading: str  # how the published number was obtained
    compute: Callable[[], float]
    because: str = ""  # why the tolerance is looser than the printed digits, where it is
    digits: int | None = None  # significant digits as printed, where zeros hide how many

    @property
    def printed(self) -> float:
        """Half of the last printed digit, in ``unit``: what the printed number leaves open."""
        number = Decimal(repr(self.published)).normalize()
        if self.digits is not None:
            return 0.5 * 10.0 ** (number.adjusted() - self.digits + 1)
        return 0.5 * 10.0 ** min(int(number.as_tuple().exponent), 0)

    @property
    def is_looser(self) -> bool:
        """Whether more is allowed than half of the last printed digit."""
        return self.tolerance > self.printed * (1.0 + 1e-9)


_cases: dict[str, Case] = {}


def published(
    *,
    named: str,
    formula: Callable[..., object],
    source: str,
    place: str,
    published: float,
    unit: str,
    tolerance: float,
    reading: str,
    because: str = "",
    digits: int | None = None,
) -> Callable[[Callable[[], float]], Callable[[], float]]:
    """Register the decorated function as the recomputation of a published number.

    ``tolerance`` is half of the last printed digit; where it has to be more, ``because``
    says why.  ``digits`` counts the significant digits that were printed, where the number
    as it is written here does not show them.
    """

    def register(compute: Callable[[], float]) -> Callable[[], float]:
        if named in _cases:
            raise ValueError(f"two checks are named {named}")
        if reading not in READINGS:
            raise ValueError(f"{named}: reading is one of {READINGS}")
        if not tolerance > 0.0:
            raise ValueError(f"{named}: a check needs a tolerance above zero")
        title = (compute.__doc__ or "").strip().splitlines()[0]
        path = formula_of(formula).function
        _cases[named] = Case(
            named,
            title,
            path,
            source,
            place,
            published,
            unit,
            tolerance,
            reading,
            compute,
            because,
            digits,
        )
        return compute

    return register


def all_cases() -> tuple[Case, ...]:
    """Every registered check, in the order of its name."""
    import sleevewright.evidence as package

    for module in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
        if module.name.endswith("_cases"):
            importlib.import_module(module.name)
    return tuple(_cases[name] for name in sorted(_cases))
