"""A job of which anything was left out is planned as far as it goes, never with a traceback."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.document import plan_document
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
JOBS = [read_job(path.read_text(encoding="utf-8"), name=path.name) for path in EXAMPLES]
FEW = Shop(settings=Settings(budget_samples=2_000, drop_samples=100))
TOLD = ("engine", "casting", "sleeve", "choice", "running", "heat", "piston")


def keys_of(job: Job) -> list[tuple[str, str]]:
    """Everything that was told of a job and may be left out."""
    return [
        (part, field.name)
        for part in TOLD
        for field in dataclasses.fields(getattr(job, part))
        if isinstance(getattr(getattr(job, part), field.name), (Entry, bool))
    ]


def without(job: Job, keys: list[tuple[str, str]], features: list[str]) -> Job:
    """The job without these keys and without the grids of these features."""
    for part, name in keys:
        left = dataclasses.replace(getattr(job, part), **{name: None})
        job = dataclasses.replace(job, **{part: left})
    grids = tuple(grid for grid in job.grids if grid.feature not in features)
    return dataclasses.replace(job, grids=grids)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_plan_stands_whatever_is_left_out(data: st.DataObject) -> None:
    """Every answer has a value, does not exist, or says what to give for it."""
    job = data.draw(st.sampled_from(JOBS))
    keys = data.draw(st.lists(st.sampled_from(keys_of(job)), unique=True, max_size=12))
    features = data.draw(
        st.lists(st.sampled_from([grid.feature for grid in job.grids]), unique=True)
    )
    result = plan(without(job, keys, features), FEW)
    json.dumps(plan_document(result), allow_nan=False)
    for answer in result.answers():
        computed_blank = answer.value is None and answer.basis is not None
        assert answer.value is not None or answer.needs or computed_blank, answer.id
    for identity in (*result.seven, *result.orders):
        assert result.answer(identity).label
