"""Whatever a job file can tell goes through the records and comes back the same."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from test_jobfile_roundtrip import JOBS

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.jobwriter import write_job
from sleevewright.jobs.living import drafts_of_job, living_job
from sleevewright.jobs.model import Entry, Grid, Instrument, Job
from sleevewright.jobs.records import JOB, Record

NAMES = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=12)


def through_records(job: Job) -> Any:
    """The job that its own records tell."""
    opening = {"title": job.title, "units": job.units, "engine_kind": job.engine.kind,
               "cooling": job.engine.cooling, "invented": job.invented, "cylinders": 1}  # fmt: skip
    told = [(JOB, opening), *drafts_of_job(job)]
    at = "2026-11-24T09:00:00.000Z"
    return living_job(
        Folded(
            Record(job.number, number, f"{number:032x}", "bench", number, at, kind, 1, body)
            for number, (kind, body) in enumerate(told, start=1)
        )
    )


def grids(units: str) -> st.SearchStrategy[Grid]:
    """A small grid of deviations from a nominal."""
    nominal, unit = ("2.6360 in", "thou") if units == "inch" else ("66.950 mm", "µm")
    size, step = (0.0669544, 25.4e-6) if units == "inch" else (0.06695, 1e-6)

    def made(rows: list[list[int]], feature: str) -> Grid:
        readings = tuple(
            tuple(Entry(size + off * step, f"{off:+d} {unit}", "measured") for off in row)
            for row in rows
        )
        stations = tuple(Entry(0.01 * (n + 1), f"{10 * (n + 1)} mm") for n in range(len(rows)))
        return Grid(feature, "mic", Entry(size, nominal), stations=stations, readings=readings)

    rows = st.integers(1, 3).flatmap(
        lambda width: st.lists(
            st.lists(st.integers(-9, 9), min_size=width, max_size=width), min_size=1, max_size=3
        )
    )
    return st.builds(made, rows, st.sampled_from(["sleeve-od", "as-found-bore"]))


def said(job: Job) -> str:
    """Everything that a job says, as a file."""
    return write_job(job)


@settings(max_examples=60, deadline=None)
@given(JOBS, st.data())
def test_records_of_a_job_tell_the_same_job(job: Job, data: st.DataObject) -> None:
    """Values, kinds, doubts, ports, instruments and grids survive the records."""
    grid = data.draw(grids(job.units))
    known = any(one.name == "mic" for one in job.instruments)
    instruments = job.instruments if known else (*job.instruments, Instrument("mic"))
    whole = replace(job, instruments=instruments, grids=(grid,))
    settled = read_job(write_job(whole), name="t.toml")
    living = through_records(settled)
    assert living.problems == ()
    assert said(living.job) == said(settled)


@settings(max_examples=60, deadline=None)
@given(NAMES, NAMES)
def test_any_name_can_be_a_port_s(one: str, other: str) -> None:
    """Slashes, per cents and letters of any script stay what they are."""
    text = "".join(
        f'[[port]]\nname = {write_name(name)}\nroof = "{10 + index} mm"\n'
        for index, name in enumerate(dict.fromkeys((one, other)))
    )
    job = read_job(text, name="t.toml")
    assert through_records(job).job.ports == job.ports


def write_name(name: str) -> str:
    """A name as TOML writes it."""
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'


TEXTS = st.text(max_size=20)
CELLS = st.sampled_from(
    ["engine.stroke", "casting.mass", "casting.material", "fit.wanted", "heat.dry", "sleeve.length",
     "port/a/found.roof", "port/a/found.floor", "instrument/m/turn", "set/k3f9aa/0/0",
     "set/k3f9aa/0/1", "set/k3f9aa/zero-start", "set/k3f9aa/zero-end", "set/k3f9aa/void",
     "engine.kind", "sleeve.outside_diameter", "sleeve.inside_diameter", "job.note"]
)  # fmt: skip


TOLD = st.lists(
    st.tuples(
        CELLS,
        st.one_of(
            TEXTS,
            st.sampled_from(
                ["2.6368 in", "+0.8", "66 mm", "3 lb", "yes", "grey-iron", "+9.9", "0"]
            ),
        ),
    ),
    max_size=20,
)
A_SET = {
    "cylinder": 1,
    "set": "k3f9aa",
    "stage": "sleeve",
    "feature": "sleeve-od",
    "nominal": "2.6360 in",
    "unit": "thou",
    "directions": ["0 deg", "90 deg"],
}


@settings(max_examples=200, deadline=None)
@given(TOLD)
def test_no_records_break_a_living_job(told: list[tuple[str, str]]) -> None:
    """Whatever was told, a job comes out, and what is not in it is told."""
    bodies = [("job", {"units": "inch"}), ("set", A_SET)]
    bodies += [("value", {"cylinder": 1, "cell": cell, "text": text}) for cell, text in told]
    at = "2026-11-24T09:00:00.000Z"
    folded = Folded(
        Record("J-1", number, f"{number:032x}", "tablet", number, at, kind, 1, body)
        for number, (kind, body) in enumerate(bodies, start=1)
    )
    living = living_job(folded)
    assert living.job.number == "J-1"
    assert all(text for _, text in living.problems)
