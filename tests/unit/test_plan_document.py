"""The plan as a document: every leaf can be computed again by a stranger."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sleevewright.core.formulas import formula_of
from sleevewright.errors import InputError
from sleevewright.planning.document import Retrace, plan_document, resolve
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop
from sleevewright.planning.shown import shown_answer
from sleevewright.services.plans import StageCache, load_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
IDS = [path.stem for path in EXAMPLES]
RELATIVE = 1e-12  # the same arithmetic on the same numbers


@pytest.fixture(scope="module", params=EXAMPLES, ids=IDS)
def document(request: pytest.FixtureRequest) -> dict[str, Any]:
    """The plan of each example, written as JSON and read again."""
    job = load_job(request.param)
    return json.loads(json.dumps(plan_document(plan(job, Shop())), allow_nan=False))


def leaves(document: dict[str, Any]) -> list[dict[str, Any]]:
    """All answers of a document."""
    return [leaf for stage in document["stages"] for leaf in stage["answers"]]


def same(one: Any, other: Any) -> bool:
    """Whether two values of a leaf are the same, arrays and records member by member."""
    if one is None or other is None:
        return one is None and (other is None or math.isnan(other))
    if isinstance(one, (str, bool)):
        return bool(one == other)
    if isinstance(one, (tuple, list)) and one and not isinstance(one[0], (int, float, tuple)):
        return len(one) == len(other) and all(map(same, one, other))
    if hasattr(one, "__dataclass_fields__"):
        names = [n for n, f in one.__dataclass_fields__.items() if f.init]
        return all(same(getattr(one, n), getattr(other, n)) for n in names)
    return bool(np.allclose(one, other, rtol=RELATIVE, atol=0.0, equal_nan=True))


def test_every_computed_leaf_names_formula_source_and_known_inputs(
    document: dict[str, Any],
) -> None:
    """A computed leaf has an expression, sources, a range and inputs that are leaves."""
    known = {leaf["id"] for leaf in leaves(document)}
    for leaf in leaves(document):
        if leaf["kind"] != "computed":
            continue
        basis = leaf["basis"]
        assert basis["expression"], leaf["id"]
        assert basis["sources"], leaf["id"]
        assert basis["validity"], leaf["id"]
        assert set(basis["inputs"].values()) <= known, leaf["id"]


def test_every_other_leaf_says_where_it_is_from(document: dict[str, Any]) -> None:
    """A measured, typed, chosen or assumed leaf names its source, or says what to give."""
    for leaf in leaves(document):
        if leaf["kind"] != "computed":
            assert leaf["source"] or leaf["needs"], leaf["id"]


def test_every_computed_leaf_is_recomputed_by_its_named_function(
    document: dict[str, Any],
) -> None:
    """From the document alone, each named function gives the stated value again."""
    retrace = Retrace(document)
    checked = 0
    for leaf in leaves(document):
        if leaf["kind"] != "computed" or leaf["needs"]:
            continue
        assert same(retrace.stated(leaf["id"]), retrace.value(leaf["id"])), leaf["id"]
        checked += 1
    assert checked > 40


def test_every_named_function_is_declared_or_a_record(document: dict[str, Any]) -> None:
    """The function of a basis is a formula of the register, or gathers a record."""
    for leaf in leaves(document):
        if leaf["basis"]:
            function = resolve(leaf["basis"]["function"])
            assert isinstance(function, type) or formula_of(function).name


def test_every_contributor_is_a_leaf(document: dict[str, Any]) -> None:
    """What a doubt is put down to can be opened."""
    known = {leaf["id"] for leaf in leaves(document)}
    for leaf in leaves(document):
        for one in (leaf["doubt"] or {}).get("contributors", []):
            assert one["input"] in known


def test_every_number_key_carries_its_unit(document: dict[str, Any]) -> None:
    """A key that holds a bare number ends in the suffix of a unit."""
    bare = {"samples", "seed"}

    def walk(node: Any, key: str) -> None:
        if isinstance(node, dict):
            for name, value in node.items():
                if "record" not in node:
                    walk(value, name)
        elif isinstance(node, list):
            for value in node:
                walk(value, key)
        elif isinstance(node, (int, float)) and not isinstance(node, bool):
            assert key in bare or "_" in key, key

    walk(document, "")


def test_document_shows_the_same_figures_as_every_surface() -> None:
    """The figures in the document are those that page, terminal and paper print."""
    result = plan(load_job(EXAMPLES[0]), Shop())
    stated = {leaf["id"]: leaf["shown"] for leaf in leaves(plan_document(result))}
    for answer in result.answers():
        shown = shown_answer(answer, system=result.units)
        assert stated[answer.id] == {
            "figure": shown.figure,
            "doubt": shown.doubt,
            "unit": shown.unit,
        }


def test_cached_stages_give_the_same_plan() -> None:
    """A cache between plan and stages changes nothing, also on the second call."""
    job = load_job(EXAMPLES[0])
    cache = StageCache()
    direct = json.dumps(plan_document(plan(job, Shop())))
    assert json.dumps(plan_document(plan(job, Shop(), run=cache))) == direct
    assert json.dumps(plan_document(plan(job, Shop(), run=cache))) == direct


def test_function_outside_the_project_is_refused() -> None:
    """A document cannot make the retrace call anything but this project's functions."""
    with pytest.raises(InputError):
        resolve("os.system")
