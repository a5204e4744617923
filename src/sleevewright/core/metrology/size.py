"""The budget of a mean size: one closed form, and the named inputs that go into it.

The same closed form is evaluated with floats for the value, with samples for the
interval, and with uncertain numbers for a linear budget.  Errors of a gauge's setting
carry the name of the setting, so that two features measured from one setting share it
and it cancels in their difference.  Diametral, or axial for a depth; 20 degC.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, SizeGrid, mean_size, station_means
from sleevewright.core.metrology.repeatability import (
    Repeatability,
    pooled_repeatability,
    repeatability,
)
from sleevewright.core.metrology.rounding import rounding_shared, with_rounding
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape
from sleevewright.errors import Caution


@dataclass(frozen=True)
class GaugeDoubt:
    """What is not known of a gauge.

    Parameters
    ----------
    settings : tuple[InputQuantity, ...]
        Errors of its setting, each of value zero; a bore gauge set from a micrometer
        names the micrometer's setting and its own transfer. [m]
    resolution : float
        The step that readings are taken to. [m]
    repeatability : Repeatability
        What one reading is known to repeat to; 8 degrees of freedom are worth 25 %. [m]
    """

    settings: tuple[InputQuantity, ...]
    resolution: float
    repeatability: Repeatability


@dataclass(frozen=True)
class TemperatureDoubt:
    """Errors of the temperatures in K, each of value zero; one name where both share it."""

    part: InputQuantity
    gauge: InputQuantity


@dataclass(frozen=True)
class SizeInputs:
    """Everything that the budget of one mean size needs, apart from the expansions."""

    mean_read: float  # mean as read, before temperature
    settings: tuple[InputQuantity, ...]
    resolution: InputQuantity
    repeat: InputQuantity
    form: InputQuantity
    part_rise: float
    part_temperature: InputQuantity
    gauge_rise: float
    gauge_temperature: InputQuantity
    reading: Repeatability  # of one reading, with the rounding that is its own
    rounding: float  # width of the rounding that each reading has for itself
    readings: int
    cautions: tuple[Caution, ...]

    def quantities(self) -> tuple[InputQuantity, ...]:
        """The named inputs, each once."""
        listed = (
            *self.settings,
            self.resolution,
            self.repeat,
            self.form,
            self.part_temperature,
            self.gauge_temperature,
        )
        return tuple({one.name: one for one in listed}.values())


@formula(
    name="mean size with its errors",
    expression="size = (mean + setting + transfer + resolution + repeat + form) "
    "(1 + gauge_expansion gauge_rise) / (1 + part_expansion part_rise)",
    sources=("jcgm-100", "iso-1", "derived"),
    validity="mean coefficients from 20 degC; rises of part and gauge below about 50 K",
    unit="m",
)
def size_with_errors(
    *,
    mean: Number,
    setting_error: Number,
    transfer_error: Number = 0.0,
    resolution_error: Number,
    repeat_error: Number,
    form_error: Number,
    part_expansion: Number,
    part_rise: Number,
    gauge_expansion: Number,
    gauge_rise: Number,
) -> Number:
    """Mean size at 20 degC with everything in it that is not known exactly.

    Parameters
    ----------
    mean : Number
        Mean of the readings as read. [m]
    setting_error : Number
        Error of the setting master, common to all that was measured from it. [m]
    transfer_error : Number
        Error of setting this gauge from its master, common to its readings. [m]
    resolution_error : Number
        Error of the mean from reading to whole steps. [m]
    repeat_error : Number
        Error of the mean from scatter. [m]
    form_error : Number
        What a mean over few stations misses. [m]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    part_rise : Number
        Temperature of the part above 20 degC. [K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge's scale. [1/K]
    gauge_rise : Number
        Temperature of the gauge above 20 degC. [K]

    Returns
    -------
    Number
        Size at 20 degC. [m]

    Notes
    -----
    Source: ``jcgm-100`` H.1 for the shape of the model, ``iso-1``, ``derived``.
    """
    read = mean + setting_error + transfer_error + resolution_error + repeat_error + form_error
    return read * (1.0 + gauge_expansion * gauge_rise) / (1.0 + part_expansion * part_rise)


@formula(
    name="mean size from its named inputs",
    expression="as the mean size with its errors; each input from one function",
    sources=("jcgm-100", "iso-1", "derived"),
    validity="as the mean size with its errors",
    unit="m",
)
def size_of(
    inputs: SizeInputs,
    *,
    of: Callable[[InputQuantity], Number],
    part_expansion: Number,
    gauge_expansion: Number,
) -> Number:
    """The mean size at 20 degC, with each input taken from one function.

    Parameters
    ----------
    inputs : SizeInputs
        The named inputs and the mean as read. [record]
    of : Callable[[InputQuantity], Number]
        What stands for an input: a draw for samples, ``LinearBudget().uncertain`` for a
        linear budget, ``lambda quantity: quantity.value`` for the value alone. [own unit]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge's scale. [1/K]

    Returns
    -------
    Number
        Size at 20 degC. [m]

    Notes
    -----
    Source: ``jcgm-100``, ``iso-1``, ``derived``, as :func:`size_with_errors`.
    """
    setting = of(inputs.settings[0]) if inputs.settings else 0.0
    for extra in inputs.settings[1:]:
        setting = setting + of(extra)
    return size_with_errors(
        mean=inputs.mean_read,
        setting_error=setting,
        resolution_error=of(inputs.resolution),
        repeat_error=of(inputs.repeat),
        form_error=of(inputs.form),
        part_expansion=part_expansion,
        part_rise=inputs.part_rise + of(inputs.part_temperature),
        gauge_expansion=gauge_expansion,
        gauge_rise=inputs.gauge_rise + of(inputs.gauge_temperature),
    )


@formula(
    name="what a mean over few stations can miss",
    expression="u^2 = (sum d_i o_i)^2 + sum d_i^2 g_i^2 / (12 L^2); d_i change over gap i, "
    "g_i its length, o_i = (L - middle of gap i) / L - (n - i) / n",
    sources=("derived",),
    validity="each change lies anywhere in its gap, whatever the others do; what lies hidden "
    "between two stations that read alike is not in it",
    unit="m",
)
def form_missed(grid: SizeGrid, *, noise: float = 0.0, length: float | None = None) -> float:
    """Standard uncertainty of a mean over stations for the mean over the length.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]
    noise : float
        Standard uncertainty of a station mean from scatter, which is no form. [m]
    length : float | None
        Length of the feature from depth zero; where not given, half a station's share
        is taken to lie beyond the outer stations. [m]

    Returns
    -------
    float
        Standard uncertainty; zero where one station was read, which says nothing. [m]

    Notes
    -----
    Between two stations that differ the size changes somewhere: a ledge at a place that
    is equally likely anywhere in the gap. Scatter makes stations differ too, by twice its
    variance on average, and that is taken off. Source: ``derived``.

    Examples
    --------
    >>> sizes = np.array([[0.0, 0.0], [2.0e-6, 2.0e-6]]) + 0.06
    >>> grid = SizeGrid(np.array([0.02, 0.06]), np.array([0.0, 1.6]), sizes)
    >>> f"{form_missed(grid, length=0.08):.2e}"
    '2.89e-07'
    """
    means = station_means(grid)
    read = np.isfinite(means)
    order = np.argsort(grid.stations[read])
    depths, profile = grid.stations[read][order], means[read][order]
    count = depths.size
    if count < 2:
        return 0.0
    changes = np.diff(profile)
    share = np.ptp(depths) / (count - 1)
    start, whole = (depths[0] - 0.5 * share, count * share) if length is None else (0.0, length)
    places = np.clip((depths - start) / whole, 0.0, 1.0)
    middles, gaps = 0.5 * (places[1:] + places[:-1]), np.diff(places)
    offsets = (1.0 - middles) - np.arange(count - 1, 0, -1) / count
    weights = (changes * gaps) ** 2 / 12.0
    together = float(changes @ offsets) ** 2 + float(weights.sum())
    scattered = 2.0 * noise**2 * float(offsets @ offsets + gaps @ gaps / 12.0)
    return math.sqrt(max(together - scattered, 0.0))


def size_inputs(
    readings: GridReadings,
    sizes: SizeGrid,
    *,
    feature: str,
    gauge: GaugeDoubt,
    temperature: TemperatureDoubt,
    part_expansion: float,
    gauge_expansion: float,
    length: float | None = None,
) -> SizeInputs:
    """The named inputs behind the mean size of a feature.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [record]
    sizes : SizeGrid
        The same at 20 degC. [m]
    feature : str
        Name of the feature, with which its own inputs begin. [text]
    gauge : GaugeDoubt
        What is not known of the gauge. [record]
    temperature : TemperatureDoubt
        Errors of the temperatures. [record]
    part_expansion : float
        Mean expansion coefficient that ``sizes`` was made with. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge that ``sizes`` was made with. [1/K]
    length : float | None
        Length of the feature from depth zero, where known. [m]

    Returns
    -------
    SizeInputs
        Everything that :func:`size_of` needs. [record]

    Notes
    -----
    The mean as read is chosen so that the closed form gives the mean size back exactly.
    Source: ``jcgm-100`` 4.2.3, 4.3.7, F.2.2.1, ``derived``.
    """
    count = int(sizes.present.sum())
    read = _as_read(readings.readings[sizes.present], sizes, gauge)
    of_mean = read.scatter.standard / count**0.5
    stations = int(sizes.present.any(axis=1).sum())
    missed = form_missed(sizes, noise=of_mean * stations**0.5, length=length)
    warm = np.broadcast_to(np.asarray(readings.part_temperature), sizes.sizes.shape)
    part_rise = float(np.mean(warm[sizes.present])) - REFERENCE_TEMPERATURE
    gauge_rise = readings.gauge_temperature - REFERENCE_TEMPERATURE
    scale = (1.0 + part_expansion * part_rise) / (1.0 + gauge_expansion * gauge_rise)
    return SizeInputs(
        mean_read=mean_size(sizes) * scale,
        settings=gauge.settings,
        resolution=InputQuantity(
            f"{feature}: resolution", 0.0, read.shared, shape=Shape.RECTANGULAR
        ),
        repeat=InputQuantity(
            f"{feature}: repeatability", 0.0, of_mean, read.scatter.degrees_of_freedom
        ),
        form=InputQuantity(f"{feature}: form between stations", 0.0, missed),
        part_rise=part_rise,
        part_temperature=temperature.part,
        gauge_rise=gauge_rise,
        gauge_temperature=temperature.gauge,
        reading=read.scatter,
        rounding=read.rounding,
        readings=count,
        cautions=_cautions(feature, sizes),
    )


@dataclass(frozen=True)
class _AsRead:
    """Scatter of a reading with its own rounding, and what all share of their rounding."""

    scatter: Repeatability
    rounding: float  # width of what each reading has for itself
    shared: float  # standard uncertainty of what all have in common


def _as_read(values: NDArray[np.float64], sizes: SizeGrid, gauge: GaugeDoubt) -> _AsRead:
    """What a grid shows of its scatter together with what is known of the gauge."""
    step, known = gauge.resolution, gauge.repeatability
    one = step / 12.0**0.5
    share = rounding_shared(values, resolution=step, stated=known.standard)
    own = step * math.sqrt(1.0 - share**2)
    scatter = pooled_repeatability(repeatability(sizes), with_rounding(known, rounding=own))
    # Round a station nothing but scatter is sure to spread the readings over the steps.
    together = one * rounding_shared(values[:1], resolution=step, stated=known.standard)
    return _AsRead(replace(scatter, together=together), own, share * one)


def _cautions(feature: str, sizes: SizeGrid) -> tuple[Caution, ...]:
    """What a grid this small cannot say."""
    found = []
    if int(sizes.present.any(axis=1).sum()) < 2:
        text = f"{feature}: read at one station; taper and barrel are not known"
        found.append(Caution("one-station", text, "practice"))
    angles = sizes.directions[sizes.present.any(axis=0)]
    # Directions balance an oval where the doubled angles have no resultant.
    if abs(np.exp(2.0j * angles).mean()) > 0.5:
        text = f"{feature}: directions are not spread; an oval part shows in the mean size"
        found.append(Caution("directions-bunched", text, "derived"))
    return tuple(found)
