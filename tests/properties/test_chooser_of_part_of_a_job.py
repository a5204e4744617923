"""A picture is drawn as far as a job was told, of whatever metals, never with a traceback."""

from __future__ import annotations

import dataclasses
import json
import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.materials import material_names
from sleevewright.errors import InputError
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.chooser import chooser
from sleevewright.planning.chooser_curves import CURVES
from sleevewright.planning.chooser_document import chooser_document, wave_document
from sleevewright.planning.chooser_seconds import Reckoning, seconds_wave
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
JOBS = [read_job(path.read_text(encoding="utf-8"), name=path.name) for path in EXAMPLES]
FEW = Shop(settings=Settings(budget_samples=400, drop_samples=50))
TOLD = ("engine", "casting", "sleeve", "choice", "running", "heat", "piston")
METALS = ("", *material_names())


def keys_of(job: Job) -> list[tuple[str, str]]:
    """Everything that was told of a job and may be left out."""
    return [
        (part, field.name)
        for part in TOLD
        for field in dataclasses.fields(getattr(job, part))
        if isinstance(getattr(getattr(job, part), field.name), (Entry, bool))
    ]


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """An invented job with some of it left out, of other metals."""
    job = draw(st.sampled_from(JOBS))
    for part, name in draw(st.lists(st.sampled_from(keys_of(job)), unique=True, max_size=12)):
        left = dataclasses.replace(getattr(job, part), **{name: None})
        job = dataclasses.replace(job, **{part: left})
    features = [grid.feature for grid in job.grids]
    gone = draw(st.lists(st.sampled_from(features), unique=True, max_size=3))
    return dataclasses.replace(
        job,
        grids=tuple(grid for grid in job.grids if grid.feature not in gone),
        casting=dataclasses.replace(job.casting, material=draw(st.sampled_from(METALS))),
        sleeve=dataclasses.replace(job.sleeve, material=draw(st.sampled_from(METALS))),
        units=draw(st.sampled_from(("inch", "metric"))),
    )


@settings(max_examples=12, deadline=None)
@given(job=jobs())
def test_every_curve_is_drawn_or_its_lack_is_named(job: Job) -> None:
    """Each line is as long as the fits; what is not drawn is missing, or can never be.

    What is refused is refused by the plan in the same words.
    """
    try:
        picture = chooser(job, FEW, samples=200)
    except InputError as refused:
        with pytest.raises(InputError, match=re.escape(str(refused))):
            plan(job, FEW)
        return
    json.dumps(chooser_document(picture, system=job.units), allow_nan=False)
    for curve in picture.curves:
        for line in (curve.low, curve.middle, curve.high):
            assert len(line) == len(picture.interferences)
        assert not np.isinf(curve.middle).any()
    absent = {one.id for one in CURVES} - {one.id for one in picture.curves}
    never = {"fit.grip", "fit.opens"}
    assert picture.needs or absent <= never


@settings(max_examples=5, deadline=None)
@given(job=jobs())
def test_seconds_are_drawn_or_their_lack_is_named(job: Job) -> None:
    """Lines as long as the fits, or what is missing for them."""
    try:
        wave = seconds_wave(job, FEW, made=Reckoning(50, 9))
    except InputError as refused:
        with pytest.raises(InputError, match=re.escape(str(refused))):
            plan(job, FEW)
        return
    json.dumps(wave_document(wave, system=job.units), allow_nan=False)
    assert wave.needs or len(wave.low) == len(wave.interferences) > 0
