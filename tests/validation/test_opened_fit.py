"""The fit that opens hot: losses by hand, the gap that settles by other roads, bands by budget.

Answers are derived: expansion by ISO 1's definition of the mean coefficient, conductivity
of air after Incropera and DeWitt, 6th edition, table A.4.  Coefficients stand beside each.
"""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.optimize import brentq, elementwise

from fit_examples import INCH, THOU
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.interference import effective_interference, warm_part_error
from sleevewright.core.fits.opening import OpenFit, added_resistance, settled_gap
from sleevewright.core.fits.opening_line import closing_sleeve_temperature, line_band, opening_line
from sleevewright.core.fits.running import grip_temperature, running_interference
from sleevewright.core.heat.gap import air_conductivity
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.errors import InputError

FAHRENHEIT = 1.8
LINER = {"diameter": 62e-3, "casting_law": ExpansionLaw(22.5e-6, 0.0),
         "sleeve_law": ExpansionLaw(11.0e-6, 0.0)}  # fmt: skip
BIG = {"diameter": 3.0035 * INCH, "casting_law": ExpansionLaw(11.9e-6 * FAHRENHEIT, 0.0),
       "sleeve_law": ExpansionLaw(6.1e-6 * FAHRENHEIT, 0.0)}  # fmt: skip
"""An invented cylinder of 3 in: 11.9e-6 and 6.1e-6 a degF, common practice for both metals."""

HOT = {"casting_temperature": 453.15, "sleeve_temperature": 473.15}


def fahrenheit(value: float) -> float:
    """Kelvin of a temperature in degF."""
    return (value - 32.0) / FAHRENHEIT + 273.15


@pytest.mark.parametrize(
    ("casting", "sleeve", "lost"),
    [(200, 230, 1.7), (300, 340, 3.3), (350, 400, 4.0), (400, 450, 4.9)],
)
def test_losses_of_a_three_inch_fit_by_hand(casting: float, sleeve: float, lost: float) -> None:
    """Lost is D (a_c dT_c - a_s dT_s): 1.7, 3.3, 4.0 and 4.9 thou, as printed to a tenth."""
    tight = 3.5 * THOU
    left = running_interference(
        interference=tight,
        casting_temperature=fahrenheit(casting),
        sleeve_temperature=fahrenheit(sleeve),
        **BIG,
    )
    by_hand = 3.0 * (11.9e-6 * (casting - 68) - 6.1e-6 * (sleeve - 68)) * 1e3
    assert by_hand == pytest.approx(lost, abs=0.06)
    assert (tight - float(left)) / THOU == pytest.approx(by_hand, abs=0.01)


def test_uniform_heat_with_the_exact_bore() -> None:
    """100 K take (D - i) a_c - D a_s: 71.05 um, not the 71.3 of one diameter for both."""
    left = running_interference(
        interference=110e-6, casting_temperature=393.15, sleeve_temperature=393.15, **LINER
    )
    assert (110e-6 - float(left)) * 1e6 == pytest.approx(71.0525, abs=1e-4)
    assert pytest.approx(71.3, abs=1e-9) == 62e-3 * (22.5e-6 - 11.0e-6) * 100.0 * 1e6
    grip = float(grip_temperature(interference=110e-6, **LINER))
    assert grip - 293.15 == pytest.approx(110e-6 / ((62e-3 - 110e-6) * 22.5e-6 - 62e-3 * 11e-6))
    assert grip - 293.15 == pytest.approx(154.3, rel=5e-3)  # the linear figure


def test_a_casting_gauged_warm_reads_large() -> None:
    """22 degF on 3 in of aluminium is 0.8 thou: a length times coefficient times rise."""
    error = warm_part_error(
        diameter=3.0 * INCH,
        casting_law=ExpansionLaw(11.9e-6 * FAHRENHEIT, 0.0),
        room=fahrenheit(68.0),
        warmer=22.0 / FAHRENHEIT,
    )
    assert float(error) / THOU == pytest.approx(0.785, abs=1e-3)


@pytest.mark.parametrize(("share", "lost"), [(0.2, 2.4), (0.4, 4.8), (0.8, 9.6), (0.0, 0.0)])
def test_what_six_and_six_microns_lose(share: float, lost: float) -> None:
    """Rz 6 and 6 um lose 2.4, 4.8 or 9.6 um by the shares that are printed (DIN 7190-1)."""
    left = effective_interference(
        interference=80e-6, sleeve_roughness=6e-6, casting_roughness=6e-6, flattening=share
    )
    assert (80e-6 - float(left)) * 1e6 == pytest.approx(lost, abs=1e-9)


def settled(flux: float, interference: float = 80e-6) -> OpenFit:
    """The gap of the liner at a hard pull."""
    return settled_gap(interference=interference, flux=flux, **LINER, **HOT)


def sleeve_by_turns(flux: float, interference: float) -> float:
    """Fixed-point road: gap gives the sleeve's temperature, that the gap, damped, 4,000 turns."""
    sleeve = HOT["sleeve_temperature"]
    for _ in range(4000):
        left = running_interference(
            interference=interference,
            casting_temperature=HOT["casting_temperature"],
            sleeve_temperature=sleeve,
            **LINER,
        )
        mean = 0.5 * (sleeve + HOT["casting_temperature"])
        conductivity = -5.5e-4 + 1.019e-4 * mean - 4.0e-8 * mean * mean
        told = HOT["sleeve_temperature"] + flux * max(-float(left), 0.0) / 2.0 / conductivity
        sleeve += 0.02 * (told - sleeve)
    return float(sleeve)


@pytest.mark.parametrize("flux", [2e4, 1.5e5, 4e5])
def test_settled_gap_by_turns_and_by_brent(flux: float) -> None:
    """The bracketed answer is that of fixed-point turns and that of brentq on the gap."""
    found = settled(flux)
    assert float(found.sleeve_temperature) == pytest.approx(sleeve_by_turns(flux, 80e-6), abs=1e-6)

    def missed(gap: float) -> float:
        """Gap that the sleeve's temperature behind a gap leaves, less that gap."""
        sleeve = HOT["sleeve_temperature"]
        for _ in range(60):  # the conductivity at its own mean temperature
            mean = 0.5 * (sleeve + HOT["casting_temperature"])
            sleeve = HOT["sleeve_temperature"] + flux * gap / 2.0 / air_conductivity(
                temperature=mean
            )
        left = running_interference(
            interference=80e-6,
            casting_temperature=HOT["casting_temperature"],
            sleeve_temperature=sleeve,
            **LINER,
        )
        return float(left) + gap

    by_brent = brentq(missed, 0.0, float(found.plain_gap), xtol=1e-13)
    assert float(found.gap) == pytest.approx(by_brent, abs=1e-10)


def test_settled_gap_at_its_limits() -> None:
    """No heat leaves the plain loss; hardly any, nearly so; a tight fit has no gap at all."""
    cold = settled(0.0)
    assert float(cold.gap) == pytest.approx(float(cold.plain_gap), abs=1e-15)
    assert float(settled(1.0).gap) == pytest.approx(float(cold.plain_gap), rel=1e-3)
    tight = settled(2e5, interference=180e-6)
    assert (float(tight.gap), float(tight.plain_gap)) == (0.0, 0.0)
    assert float(tight.sleeve_temperature) == pytest.approx(HOT["sleeve_temperature"], abs=1e-9)


def test_more_heat_leaves_less_gap_and_never_none() -> None:
    """The gap falls with the flux, the sleeve's heat rises, and an open fit stays open."""
    gaps = [float(settled(flux).gap) for flux in (0.0, 1e4, 5e4, 2e5, 1e6)]
    heats = [float(settled(flux).sleeve_temperature) for flux in (0.0, 1e4, 5e4, 2e5, 1e6)]
    assert gaps == sorted(gaps, reverse=True)
    assert heats == sorted(heats)
    assert gaps[-1] > 0.0
    closing = closing_sleeve_temperature(interference=80e-6, casting_temperature=453.15, **LINER)
    assert heats[-1] < float(closing)


def test_samples_settle_one_by_one() -> None:
    """An array of fits and fluxes gives what each of them gives alone."""
    tight, flux = np.array([60e-6, 80e-6, 120e-6]), np.array([3e5, 1e5, 2e5])
    together = settled_gap(interference=tight, flux=flux, **LINER, **HOT)
    alone = [float(settled(q, i).gap) for q, i in zip(flux, tight, strict=True)]
    assert np.asarray(together.gap) == pytest.approx(alone, abs=1e-12)


def test_a_search_that_does_not_end_gives_no_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    """An unconverged search is refused with what it missed by."""
    stuck = SimpleNamespace(success=np.array(False), f_x=np.array(3.0), x=np.array(480.0))
    monkeypatch.setattr(elementwise, "find_root", lambda *_, **__: stuck)
    with pytest.raises(InputError, match="missed by"):
        settled(1e5)


def test_a_negative_flux_or_gap_is_refused() -> None:
    """Heat that flows inwards and a gap below nothing are named."""
    with pytest.raises(InputError, match="flux"):
        settled(-1.0)
    with pytest.raises(InputError, match="gap"):
        added_resistance(gap=-1e-6, temperature=400.0)


def test_the_line_parts_tight_from_loose() -> None:
    """On the line nothing is left; a kelvin above it the fit is tight, below it loose."""
    line = opening_line(interference=80e-6, casting_temperatures=(353.15, 453.15), **LINER)
    for casting, sleeve in zip((353.15, 453.15), line, strict=True):
        left = [
            float(
                running_interference(
                    interference=80e-6,
                    casting_temperature=casting,
                    sleeve_temperature=sleeve + off,
                    **LINER,
                )
            )
            for off in (-1.0, 0.0, 1.0)
        ]
        assert left[0] < 0.0 < left[2]
        assert left[1] == pytest.approx(0.0, abs=1e-15)


def test_the_band_of_the_line_is_that_of_a_linear_budget() -> None:
    """Sampled 5 to 95 % of the line is 3.29 u wide, u from the derivatives of the strain."""
    draws = np.random.default_rng(7)
    count, casting = 40_000, 453.15
    tight = draws.normal(80e-6, 4e-6, count)
    scales = draws.normal(1.0, 0.02, (2, count))
    laws = ExpansionLaw(22.5e-6 * scales[0], 0.0), ExpansionLaw(11.0e-6 * scales[1], 0.0)
    samples = opening_line(
        diameter=62e-3, interference=tight, casting_law=laws[0], sleeve_law=laws[1],
        casting_temperatures=(casting,),
    )  # fmt: skip
    low, middle, high = line_band(samples=samples)[:, 0]
    rise, strain = 160.0, 22.5e-6 * 160.0
    per = 1.0 / 11.0e-6
    parts = (
        4e-6 * (1.0 + strain) / 62e-3 * per,
        0.02 * strain * (1.0 - 80e-6 / 62e-3) * per,
        0.02 * (middle - 293.15),
    )
    assert rise == casting - 293.15
    assert high - low == pytest.approx(2.0 * 1.645 * math.hypot(*parts), rel=0.03)


def test_level_of_a_share_is_the_quantile_and_counts_never_as_last() -> None:
    """As numpy's quantile; fits that never open lie beyond all others, up to there being none."""
    samples = np.random.default_rng(3).normal(500.0, 10.0, 20_000)
    for share in (0.05, 0.5, 0.95):
        assert level_of_share(samples=samples, share=share) == pytest.approx(
            float(np.quantile(samples, share)), abs=0.02
        )
    some = np.where(np.arange(samples.size) % 10 == 0, np.nan, samples)
    assert math.isnan(level_of_share(samples=some, share=0.95))
    assert math.isnan(level_of_share(samples=some, share=0.02, below=0.05))
    assert level_of_share(samples=some, share=0.5) > float(np.median(samples))
