"""Whatever stands in a job file, it is a job or a list of problems, never a crash."""

from __future__ import annotations

import json
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from sleevewright.jobs.fields import FIELDS, TABLES
from sleevewright.jobs.jobfile import JobFileErrors, read_job
from sleevewright.jobs.model import Job

DEMO = (Path(__file__).parents[2] / "examples" / "demo-air-175.toml").read_text(encoding="utf-8")
SAID = (
    "3.5 thou",
    "1e400 mm",
    "+",
    "--",
    "5 %",
    "٣ mm",
    "nan in",
    "± 3",
    "()",
    "1,234,5 in",
    "0 K",
)

scalars = st.one_of(
    st.sampled_from(SAID), st.text(max_size=8), st.integers(-5, 5), st.booleans(), st.floats(0, 9)
)
anything = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(("value", "kind", "doubt", "x")), inner, max_size=3),
    ),
    max_leaves=6,
)
rows = st.dictionaries(st.sampled_from([field.key for field in FIELDS]), anything, max_size=5)
documents = st.dictionaries(
    st.sampled_from([table.name for table in TABLES]),
    st.one_of(rows, st.lists(rows, max_size=2), scalars),
    max_size=4,
)


def inline(value: object) -> str:
    """A value as inline TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=True)
    if isinstance(value, list):
        return "[" + ", ".join(inline(one) for one in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {inline(one)}" for key, one in value.items()) + "}"
    return repr(value)


def is_told(text: str) -> bool:
    """Whether a text gives a job, or problems that each say something in one line."""
    try:
        told: Job | JobFileErrors = read_job(text, name="t.toml")
    except JobFileErrors as refused:
        told = refused
    if isinstance(told, Job):
        return True
    lines = told.lines()
    return (
        bool(lines)
        and all(problem.text for problem in told.problems)
        and "\n" not in "".join(lines)
    )


@settings(max_examples=150, deadline=None)
@given(documents)
def test_any_document_is_a_job_or_a_list_of_problems(document: dict[str, object]) -> None:
    """Wrong shapes, wrong words and wrong numbers are all told."""
    assert is_told("\n".join(f"{key} = {inline(value)}" for key, value in document.items()))


@settings(max_examples=100, deadline=None)
@given(st.integers(0, len(DEMO) - 1), st.text(max_size=3), st.integers(0, 12))
@example(0, "\x00", 0)
@example(200, "\r", 0)
@example(0, "x = " + "[" * 5000, 0)
def test_a_demonstration_with_a_slip_of_the_pen(at: int, typed: str, dropped: int) -> None:
    """Letters lost or added anywhere give a job or problems."""
    assert is_told(DEMO[:at] + typed + DEMO[at + dropped :])
