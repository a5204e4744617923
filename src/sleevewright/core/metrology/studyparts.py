"""The parts of a gauge study one by one, each as one standard deviation that can be shown."""

from __future__ import annotations

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.study import GaugeStudy, Part, adopted_repeatability
from sleevewright.errors import InputError


@formula(
    name="repeat of one hand",
    expression="s = max(MS_E^(1/2), step / 12^(1/2))",
    sources=("montgomery-2013", "jcgm-100"),
    validity="balanced study; never less than the steps of the gauge can show",
    unit="m",
)
def repeat_of_study(study: GaugeStudy, *, resolution: float) -> float:
    """Standard deviation of one reading of one person.

    Parameters
    ----------
    study : GaugeStudy
        The study, of readings in metres. [record]
    resolution : float
        The step that readings are taken to. [m]

    Returns
    -------
    float
        Standard deviation of one reading. [m]

    Notes
    -----
    Source: ``montgomery-2013`` 13.2, ``jcgm-100`` F.2.2.1.
    """
    return adopted_repeatability(study, resolution=resolution).standard


@formula(
    name="what people add",
    expression="s = max(0, s_P^2 + s_FP^2)^(1/2)",
    sources=("montgomery-2013",),
    validity="two people or more; the people of the study stand for all who read",
    unit="m",
)
def people_of_study(study: GaugeStudy) -> float:
    """Standard deviation from person to person, on one feature.

    Parameters
    ----------
    study : GaugeStudy
        The study, of readings in metres. [record]

    Returns
    -------
    float
        Standard deviation of what a person adds. [m]

    Raises
    ------
    InputError
        If one person read alone.

    Notes
    -----
    Source: ``montgomery-2013`` 13.2.
    """
    return _of_people(study.reproducibility).standard


@formula(
    name="people alone",
    expression="s_P = max(0, (MS_P - MS_FP) / (f n))^(1/2)",
    sources=("montgomery-2013",),
    validity="two people or more",
    unit="m",
)
def person_of_study(study: GaugeStudy) -> float:
    """Standard deviation from person to person that is the same on every feature.

    Parameters
    ----------
    study : GaugeStudy
        The study, of readings in metres. [record]

    Returns
    -------
    float
        Standard deviation between people. [m]

    Raises
    ------
    InputError
        If one person read alone.

    Notes
    -----
    Source: ``montgomery-2013`` 13.2.
    """
    return _of_people(study.person).standard


@formula(
    name="people from feature to feature",
    expression="s_FP = max(0, (MS_FP - MS_E) / n)^(1/2)",
    sources=("montgomery-2013",),
    validity="two people or more",
    unit="m",
)
def both_of_study(study: GaugeStudy) -> float:
    """Standard deviation of what people do otherwise on one feature than on another.

    Parameters
    ----------
    study : GaugeStudy
        The study, of readings in metres. [record]

    Returns
    -------
    float
        Standard deviation of people on one feature against another. [m]

    Raises
    ------
    InputError
        If one person read alone.

    Notes
    -----
    Source: ``montgomery-2013`` 13.2.
    """
    return _of_people(study.both).standard


def _of_people(part: Part | None) -> Part:
    """A part that only two people or more have."""
    if part is None:
        allowed = "two people or more"
        raise InputError("people of the study", "one", "", allowed, "Let someone else read too.")
    return part
