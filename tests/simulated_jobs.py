"""A simulated shop's readings as a job, so that the whole plan can be asked about them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from simulated_shops import Gauged
from sleevewright.jobs.model import Entry, Grid, Instrument, Job
from sleevewright.services.plans import load_job

DEMO = Path(__file__).parents[1] / "examples" / "demo-air-175.toml"
COVERS_95 = 1.96  # a stated half-width is taken as so many standard uncertainties


def _told(value: float) -> Entry:
    """A number as the job has it, SI."""
    return Entry(value, repr(value), "measured")


def _grid(gauged: Gauged, feature: str, instrument: str) -> Grid:
    """The readings of one feature as a told grid."""
    read = gauged.readings
    return Grid(
        feature,
        instrument,
        nominal=_told(gauged.feature.nominal),
        part_temperature=_told(float(read.part_temperature)),
        gauge_temperature=_told(read.gauge_temperature),
        stations=tuple(_told(float(one)) for one in read.stations),
        directions=tuple(_told(float(one)) for one in read.directions),
        readings=tuple(tuple(_told(float(cell)) for cell in row) for row in read.readings),
    )


def job_of(sleeve: Gauged, bore: Gauged) -> Job:
    """The demonstration's cylinder with a simulated sleeve and parent bore."""
    step = sleeve.feature.gauge.resolution
    (transfer, master) = bore.feature.gauge.settings
    mic = Instrument("mic", "micrometer", _told(step), setting=_told(COVERS_95 * master.standard))
    dial = Instrument(
        "dial",
        "dial-bore-gauge",
        _told(step),
        setting=_told(COVERS_95 * transfer.standard),
        set_from="mic",
    )
    grids = (_grid(sleeve, "sleeve-od", "mic"), _grid(bore, "parent-bore", "dial"))
    return replace(load_job(DEMO), instruments=(mic, dial), grids=grids)
