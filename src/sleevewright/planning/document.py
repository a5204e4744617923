"""A plan as a JSON document, and back as far as a stranger needs to check it.

Every key of a number carries its SI unit.  A computed leaf names its function and the
leaves that it was computed from; :func:`retrace` computes it again from the document
alone, so that the document can be checked without trusting what made it.
"""

from __future__ import annotations

import importlib
import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, draw
from sleevewright.errors import Caution, InputError, NotFound
from sleevewright.planning.answers import (
    Answer,
    Basis,
    Doubt,
    Judgement,
    Kind,
    Plan,
    StageAnswers,
)
from sleevewright.planning.ledger import STATISTIC_PARAMETER
from sleevewright.planning.shown import chance_words, shown_answer
from sleevewright.units import unit_suffix

SCHEMA = "sleevewright-plan-1"


def plan_document(plan: Plan, *, system: str | None = None) -> dict[str, Any]:
    """A JSON-ready document of the whole plan, shown in ``system`` units beside SI."""
    units = system or plan.units
    return {
        "schema": SCHEMA,
        "job": plan.job,
        "title": plan.title,
        "invented": plan.invented,
        "units": units,
        "code_version": plan.code_version,
        "next_move": plan.next_move,
        "samples": plan.samples,
        "seed": plan.seed,
        "seven": list(plan.seven),
        "orders": list(plan.orders),
        "cautions": [_caution(one) for one in plan.cautions],
        "stages": [_stage(stage, units) for stage in plan.stages],
    }


def _stage(stage: StageAnswers, system: str) -> dict[str, Any]:
    return {
        "key": stage.key,
        "title": stage.title,
        "hazards": [_caution(one) for one in stage.hazards],
        "advice": list(stage.advice),
        "answers": [answer_document(answer, system) for answer in stage.answers],
    }


def _caution(caution: Caution) -> dict[str, str]:
    return {"code": caution.code, "text": caution.text, "source": caution.source}


def answer_document(answer: Answer, system: str) -> dict[str, Any]:
    """One leaf: value and doubt in SI, and the figures exactly as every surface shows them."""
    suffix = unit_suffix(answer.quantity.value)
    shown = shown_answer(answer, system=system)
    leaf: dict[str, Any] = {
        "id": answer.id,
        "label": answer.label,
        "quantity": answer.quantity.value,
        "kind": answer.kind.value,
        "sense": answer.sense,
        "of": answer.of,
        f"value_{suffix}": encode(answer.value),
        "shown": {"figure": shown.figure, "doubt": shown.doubt, "unit": shown.unit},
        "typed": answer.typed,
        "source": answer.source,
        "needs": list(answer.needs),
        "absent": answer.absent,
        "would_change": answer.would_change,
        "is_detail": answer.is_detail,
        "cautions": [_caution(one) for one in answer.cautions],
        "doubt": _doubt(answer.doubt, suffix),
    }
    leaf["judgement"] = _judgement(answer.judgement, suffix)
    leaf["basis"] = _basis(answer.basis)
    return leaf


def _judgement(judged: Judgement | None, suffix: str) -> dict[str, Any] | None:
    if judged is None:
        return None
    return {
        "verdict": judged.verdict.value,
        f"limit_{suffix}": encode(judged.limit),
        "side": judged.side,
        "rule": judged.rule,
        "remedy": judged.remedy,
        "chance_out_1": judged.chance_out,
        "chance": chance_words(judged),
        "ways": [
            {
                "words": one.words,
                "readings_1": one.readings,
                f"standard_{suffix}": one.standard,
                "chance_1": one.chance,
            }
            for one in judged.ways
        ],
    }


def _basis(basis: Basis | None) -> dict[str, Any] | None:
    if basis is None:
        return None
    return {
        "name": basis.name,
        "expression": basis.expression,
        "function": basis.function,
        "inputs": dict(basis.inputs),
        "sources": list(basis.sources),
        "validity": basis.validity,
    }


def _doubt(doubt: Doubt | None, suffix: str) -> dict[str, Any] | None:
    if doubt is None:
        return None
    return {
        f"standard_{suffix}": doubt.standard,
        f"low_{suffix}": encode(doubt.low),
        f"high_{suffix}": encode(doubt.high),
        "coverage_1": doubt.coverage,
        "method": doubt.method,
        "shape": doubt.shape,
        "degrees_of_freedom_1": doubt.degrees_of_freedom,
        "samples_1": doubt.samples,
        "contributors": [
            {"input": one.input, "label": one.label, f"standard_{suffix}": one.standard}
            for one in doubt.contributors
        ],
    }


def encode(value: Any) -> Any:
    """A value as JSON: records by name and field, what is not finite as ``null``."""
    if is_dataclass(value) and not isinstance(value, type):
        kind = type(value)
        members = {f.name: encode(getattr(value, f.name)) for f in fields(value) if f.init}
        return {"record": f"{kind.__module__}.{kind.__qualname__}", **members}
    if isinstance(value, np.ndarray):
        return [encode(one) for one in value.tolist()]
    if isinstance(value, (tuple, list)):
        return [encode(one) for one in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def decode(value: Any) -> Any:
    """The value that :func:`encode` wrote; ``null`` inside an array is a blank (nan)."""
    if isinstance(value, Mapping):
        kind = resolve(value["record"])
        return kind(**{k: _member(v) for k, v in value.items() if k != "record"})
    if isinstance(value, list):
        return tuple(decode(one) for one in value)
    return value


def _member(value: Any) -> Any:
    """A field of a record: blanks inside lists are readings that were not taken."""
    if isinstance(value, list) and not any(isinstance(one, (Mapping, str)) for one in value):
        return np.array(value, dtype=np.float64)
    return decode(value)


def resolve(path: str) -> Any:
    """Function or record of the project by its path; nothing outside it."""
    if not path.startswith("sleevewright."):
        raise InputError("function", path, "", "a path inside the project")
    parts = path.split(".")
    for cut in range(len(parts) - 1, 1, -1):
        try:
            found: Any = importlib.import_module(".".join(parts[:cut]))
        except ModuleNotFoundError:
            continue
        for name in parts[cut:]:
            found = getattr(found, name)
        return found
    raise NotFound("function", path)


class Retrace:
    """Computes leaves of a plan document again, from its facts alone."""

    def __init__(self, document: Mapping[str, Any]) -> None:
        self._leaves = {
            leaf["id"]: leaf for stage in document["stages"] for leaf in stage["answers"]
        }
        self._count = int(document["samples"])
        self._seed = int(document["seed"])
        self._points: dict[str, Any] = {}
        self._samples: dict[str, Any] = {}

    def ids(self) -> tuple[str, ...]:
        """Every leaf of the document."""
        return tuple(self._leaves)

    def stated(self, identity: str) -> Any:
        """The value that the document states for a leaf."""
        leaf = self._leaves[identity]
        return next(decode(v) for k, v in leaf.items() if k.startswith("value_"))

    def value(self, identity: str) -> Any:
        """The value of a leaf at the central inputs, computed again where it is computed."""
        if identity not in self._points:
            leaf = self._leaves[identity]
            if leaf["kind"] != Kind.COMPUTED.value:
                self._points[identity] = self.stated(identity)
            else:
                self._points[identity] = self._call(leaf["basis"], self.value)
        return self._points[identity]

    def samples(self, identity: str) -> Any:
        """Samples of a leaf, drawn again from the named inputs that it rests on."""
        if identity not in self._samples:
            leaf = self._leaves[identity]
            if leaf["kind"] == Kind.COMPUTED.value:
                self._samples[identity] = self._call(leaf["basis"], self.samples)
            else:
                self._samples[identity] = self._draw(leaf)
        return self._samples[identity]

    def _call(self, basis: Mapping[str, Any], read: Any) -> Any:
        function = resolve(basis["function"])
        arguments = {
            parameter: (self._counted if parameter == STATISTIC_PARAMETER else read)(source)
            for parameter, source in basis["inputs"].items()
        }
        return function(**arguments)

    def _counted(self, identity: str) -> Any:
        """As many samples of a leaf as its own doubt was taken from."""
        samples = self.samples(identity)
        doubt = self._leaves[identity]["doubt"]
        if doubt is None or not isinstance(samples, np.ndarray):
            return samples
        return samples[: doubt["samples_1"]]

    def _draw(self, leaf: Mapping[str, Any]) -> Any:
        value = self.stated(leaf["id"])
        doubt = leaf["doubt"]
        if doubt is None:
            return value
        standard = next(v for k, v in doubt.items() if k.startswith("standard_"))
        freedom = doubt["degrees_of_freedom_1"]
        root = InputQuantity(
            leaf["id"],
            value,
            standard,
            degrees_of_freedom=math.inf if freedom is None else freedom,
            shape=Shape(doubt["shape"]),
        )
        return draw(root, count=self._count, seed=self._seed)
