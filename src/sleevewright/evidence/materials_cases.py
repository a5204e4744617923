"""Metals against their printed tables: the laws of expansion and the moduli, recomputed.

Laws are straight lines through printed means; a tolerance above half a printed digit says
how far the line passes from the print.
"""

from __future__ import annotations

from sleevewright.core.expansion import mean_expansion, thermal_strain
from sleevewright.core.materials import material, modulus_at
from sleevewright.evidence.case import published
from sleevewright.units import from_unit, to_unit


def _mean(name: str, *, temperature: float, unit: str, at: str) -> float:
    """Mean expansion of a metal up to a temperature, in the unit of the source."""
    law = material(name).expansion
    return to_unit(float(mean_expansion(law, temperature=from_unit(temperature, at))), unit)


def _modulus(name: str, fahrenheit: float) -> float:
    """Modulus of a metal in millions of pounds per square inch."""
    stiffness = modulus_at(material(name), temperature=from_unit(fahrenheit, "°F"))
    return to_unit(float(stiffness), "Msi")


@published(
    named="A1-100",
    formula=mean_expansion,
    source="alloy-sheet-356",
    place="mean 20 to 100 degC",
    published=21.5,
    unit="ppm/K",
    tolerance=0.05,
    reading="read",
)
def casting_356_to_100() -> float:
    """Cast aluminium 356, mean expansion to 100 degC."""
    return _mean("aluminium-356", temperature=100.0, unit="ppm/K", at="°C")


@published(
    named="A1-200",
    formula=mean_expansion,
    source="alloy-sheet-356",
    place="mean 20 to 200 degC",
    published=22.5,
    unit="ppm/K",
    tolerance=0.05,
    reading="read",
)
def casting_356_to_200() -> float:
    """Cast aluminium 356, mean expansion to 200 degC."""
    return _mean("aluminium-356", temperature=200.0, unit="ppm/K", at="°C")


@published(
    named="A1-300",
    formula=mean_expansion,
    source="alloy-sheet-356",
    place="mean 20 to 300 degC",
    published=23.5,
    unit="ppm/K",
    tolerance=0.05,
    reading="read",
)
def casting_356_to_300() -> float:
    """Cast aluminium 356, mean expansion to 300 degC."""
    return _mean("aluminium-356", temperature=300.0, unit="ppm/K", at="°C")


@published(
    named="A2-cold",
    formula=mean_expansion,
    source="en-1561",
    place="informative annex, mean -100 to 20 degC",
    published=10.0,
    unit="ppm/K",
    tolerance=0.05,
    reading="memory",
)
def grey_iron_cold() -> float:
    """Grey iron, mean expansion down to -100 degC."""
    return _mean("grey-iron", temperature=-100.0, unit="ppm/K", at="°C")


@published(
    named="A2-200",
    formula=mean_expansion,
    source="en-1561",
    place="informative annex, mean 20 to 200 degC",
    published=11.7,
    unit="ppm/K",
    tolerance=0.07,
    reading="memory",
    because="one straight line stands for three printed means and passes 0.064 above this one",
)
def grey_iron_to_200() -> float:
    """Grey iron, mean expansion to 200 degC."""
    return _mean("grey-iron", temperature=200.0, unit="ppm/K", at="°C")


@published(
    named="A2-400",
    formula=mean_expansion,
    source="en-1561",
    place="informative annex, mean 20 to 400 degC",
    published=13.0,
    unit="ppm/K",
    tolerance=0.05,
    reading="memory",
)
def grey_iron_to_400() -> float:
    """Grey iron, mean expansion to 400 degC."""
    return _mean("grey-iron", temperature=400.0, unit="ppm/K", at="°C")


@published(
    named="A3-200",
    formula=mean_expansion,
    source="asme-ii-d",
    place="table TE-1, group 1, coefficient B at 200 degF",
    published=6.7,
    unit="ppm/°F",
    tolerance=0.05,
    reading="read",
)
def steel_to_200() -> float:
    """Carbon steel, mean expansion to 200 degF."""
    return _mean("steel", temperature=200.0, unit="ppm/°F", at="°F")


@published(
    named="A3-400",
    formula=mean_expansion,
    source="asme-ii-d",
    place="table TE-1, group 1, coefficient B at 400 degF",
    published=7.1,
    unit="ppm/°F",
    tolerance=0.05,
    reading="read",
)
def steel_to_400() -> float:
    """Carbon steel, mean expansion to 400 degF."""
    return _mean("steel", temperature=400.0, unit="ppm/°F", at="°F")


@published(
    named="A3-600",
    formula=mean_expansion,
    source="asme-ii-d",
    place="table TE-1, group 1, coefficient B at 600 degF",
    published=7.4,
    unit="ppm/°F",
    tolerance=0.05,
    reading="read",
)
def steel_to_600() -> float:
    """Carbon steel, mean expansion to 600 degF."""
    return _mean("steel", temperature=600.0, unit="ppm/°F", at="°F")


@published(
    named="A3-grown",
    formula=thermal_strain,
    source="asme-ii-d",
    place="table TE-1, group 1, coefficient C at 500 degF, inches in 100 ft from 70 degF",
    published=3.7,
    unit="in",
    tolerance=0.05,
    reading="read",
)
def steel_grown_at_500() -> float:
    """A hundred feet of carbon steel grow from 70 to 500 degF."""
    law = material("steel").expansion
    hot, cold = (thermal_strain(law, temperature=from_unit(f, "°F")) for f in (500.0, 70.0))
    return 1200.0 * float(hot - cold)


@published(
    named="A4-100",
    formula=mean_expansion,
    source="aa-data-sheets",
    place="A380.0-F, mean 20 to 100 degC",
    published=21.1,
    unit="ppm/K",
    tolerance=0.05,
    reading="read",
)
def casting_380_to_100() -> float:
    """Die-cast aluminium A380, mean expansion to 100 degC."""
    return _mean("aluminium-380", temperature=100.0, unit="ppm/K", at="°C")


@published(
    named="A4-300",
    formula=mean_expansion,
    source="aa-data-sheets",
    place="A380.0-F, mean 20 to 300 degC",
    published=22.7,
    unit="ppm/K",
    tolerance=0.05,
    reading="read",
)
def casting_380_to_300() -> float:
    """Die-cast aluminium A380, mean expansion to 300 degC."""
    return _mean("aluminium-380", temperature=300.0, unit="ppm/K", at="°C")


@published(
    named="A5-35",
    formula=modulus_at,
    source="machinerys-handbook-iron",
    place="gray iron, class 35",
    published=16.0,
    unit="Msi",
    tolerance=0.05,
    reading="read",
)
def grey_iron_modulus() -> float:
    """Grey iron of about class 35, modulus at room temperature."""
    return _modulus("grey-iron", 68.0)


@published(
    named="A5-30",
    formula=modulus_at,
    source="machinerys-handbook-iron",
    place="gray iron, class 30",
    published=14.5,
    unit="Msi",
    tolerance=0.05,
    reading="read",
)
def soft_grey_iron_modulus() -> float:
    """Grey iron of about class 30, modulus at room temperature."""
    return _modulus("grey-iron-200", 68.0)


@published(
    named="A6-300",
    formula=modulus_at,
    source="asme-b31-3",
    place="table C-6, aluminium group of 356, 300 degF",
    published=9.5,
    unit="Msi",
    tolerance=0.05,
    reading="memory",
)
def casting_356_modulus_hot() -> float:
    """Cast aluminium 356, modulus at 300 degF."""
    return _modulus("aluminium-356", 300.0)


@published(
    named="A7-200",
    formula=thermal_strain,
    source="en-1993-1-2",
    place="clause 3.4.1.1 at 200 degC",
    published=2.3184e-3,
    unit="1",
    tolerance=0.04e-3,
    reading="read",
    because="the law of steel was fitted to another table, which grows 1.3 % more",
)
def steel_elongation_to_200() -> float:
    """Carbon steel, elongation from 20 to 200 degC by a table it was not fitted to."""
    return float(thermal_strain(material("steel").expansion, temperature=from_unit(200.0, "°C")))
