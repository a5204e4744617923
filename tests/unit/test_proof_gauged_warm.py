"""A cooled bore that was gauged warm: corrected once, for the proof itself, or refused."""

from __future__ import annotations

from typing import Any

import pytest
from test_fit_proved_at_the_stage import answers_of, gauged, number, rows

from simple_job import simple_job
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.planning.answers import Answer

WARM = 303.15


def proved_at(part: str, inches: float) -> dict[str, Answer]:
    """The answers of a bore that closed from 2.34 in and was gauged with the part so warm."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    at: dict[str, Any] = {"part_temperature": part, "gauge_temperature": "68 F"}
    gauged(job, "cooled-bore", rows(inches, inches), **at)
    return answers_of(job)


def test_a_warm_bore_proves_what_the_same_bore_proves_cold() -> None:
    """What iron grows and the fit gives back goes into a reading; the proof takes out just that.

    By hand: grown iron, and the close-up's share of i - i(T) by the strains of both metals.
    """
    cold = proved_at("68 F", 2.3379)
    laws = [cold[f"{part}.law"].value for part in ("casting", "sleeve")]
    strains = [
        float(thermal_strain(law, temperature=WARM))
        for law in laws
        if isinstance(law, ExpansionLaw)
    ]
    outside, fit = number(cold, "sleeve.od"), number(cold, "fit.effective")
    left = outside * (1.0 + strains[1]) - (outside - fit) * (1.0 + strains[0])
    eased = number(cold, "fit.close_up") / fit * (fit - left)
    read = 2.3379 * 0.0254 * (1.0 + strains[1]) + eased
    warm = proved_at("86 F", read / 0.0254)
    assert number(warm, "cool.eased") == pytest.approx(eased, rel=1e-3)
    assert eased > 3e-6
    assert number(warm, "cool.corrected") == pytest.approx(2.3379 * 0.0254, abs=0.2e-6)
    for name in ("cool.closed", "cool.proved"):
        assert number(warm, name) == pytest.approx(number(cold, name), abs=0.3e-6), name
    assert number(warm, "cool.shared") > number(cold, "cool.shared")


def test_above_the_limit_nothing_is_corrected_and_nothing_proved() -> None:
    """At 43 °C the proof is refused, and says what to do."""
    hot = proved_at("110 F", 2.3379)
    assert hot["cool.proof"].value is None
    assert any("above 35 °C" in one and "again when it is cold" in one
               for one in hot["cool.proof"].needs)  # fmt: skip
    assert "cool.corrected" not in hot
