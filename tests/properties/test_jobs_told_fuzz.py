"""No text and no set, however odd, is taken wrongly or breaks the reader."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog import LIFE, sheet_of
from sleevewright.jobs.told import read_cell, read_set
from told_jobs import Teller

JOB = Teller(units="metric")
JOB.begin(
    "k3f9aa",
    "parent-bore",
    "parent",
    nominal="66.00 mm",
    unit="µm",
    entry="deviation",
    last_digits=3,
    stations=["12 mm", "40 mm"],
    directions=["0 deg", "90 deg"],
)

CELLS = (
    *(
        field.cell_for("exhaust" if field.each == "port" else 1) if field.each else field.cell
        for stage in LIFE
        for field in sheet_of(stage.key).fields
    ),
    "set/k3f9aa/0/0",
    "set/k3f9aa/1/1",
    "set/k3f9aa/zero-end",
    "set/k3f9aa/void",
)

NUMBERISH = st.text(st.sampled_from("0123456789+-.,e ±/%mintho°FCKµ"), max_size=16)
LEAVES = st.one_of(st.none(), st.booleans(), st.integers(-9, 999), st.floats(), st.text(max_size=9))
JSON = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)
    ),
    max_leaves=8,
)


@settings(max_examples=1500, deadline=None)
@given(st.sampled_from(CELLS), st.one_of(NUMBERISH, st.text(max_size=30)))
def test_any_text_is_read_or_refused(cell: str, text: str) -> None:
    """A refusal is one of ours; what is read agrees with its own whole number."""
    try:
        read = read_cell(cell, text, folded=JOB.folded)
    except SleevewrightError:
        return
    assert read.text == text
    if read.nm is not None:
        assert read.value is not None
        assert abs(read.nm * 1e-9 - read.value) <= 1e-9
    if read.mk is not None:
        assert read.value is not None
        assert abs(read.mk * 1e-3 - read.value) <= 1e-3


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=40), st.text(max_size=12))
def test_any_cell_is_known_or_refused(cell: str, text: str) -> None:
    """A cell that no stage has is refused, whatever it is called."""
    try:
        read = read_cell(cell, text, folded=JOB.folded)
    except SleevewrightError:
        return
    assert read.text == text


KEYS = ("instrument", "instruments", "nominal", "unit", "stations", "directions", "blank",
        "part_temperature", "gauge_temperature", "entry", "last_digits", "land_only")  # fmt: skip


@settings(max_examples=600, deadline=None)
@given(st.fixed_dictionaries({}, optional=dict.fromkeys(KEYS, JSON)))
def test_any_set_is_usable_or_refused(body: dict[str, Any]) -> None:
    """What is kept of a set can be read by the readers of sets."""
    try:
        kept = read_set({"stage": "parent", "feature": "parent-bore", **body}, folded=JOB.folded)
    except SleevewrightError:
        return
    assert (
        read_set({"stage": "parent", "feature": "parent-bore", **kept}, folded=JOB.folded) == kept
    )
