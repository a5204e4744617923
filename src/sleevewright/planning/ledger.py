"""The ledger of a stage: facts go in, each formula is entered once, answers come out.

An entry keeps three things side by side: the value at the central inputs, samples drawn
from the named inputs, and the way back to what it was computed from.  Because inputs are
known by name, two answers that rest on one gauge setting share its samples, and what they
share cancels where it should.  A missing fact makes everything that rests on it missing;
the answer then says what to give.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula_of
from sleevewright.core.metals import Default
from sleevewright.core.uncertainty.contributions import coverage_factor
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape
from sleevewright.core.uncertainty.sampled import summarise
from sleevewright.errors import Caution
from sleevewright.planning.answers import (
    Answer,
    Basis,
    Contributor,
    Doubt,
    Judgement,
    Kind,
    Quantity,
    Value,
)
from sleevewright.planning.samples import Pending, alike, resolved
from sleevewright.planning.shop import Chosen, default_in

COVERAGE = 0.95
STATISTIC_PARAMETER = "samples"
"""A function with a parameter of this name takes the samples of its input."""
FLATNESS = 1e-12
"""Samples whose relative spread is below this are one value, not a doubt."""

SHALLOW = 10_000
"""Samples of an answer that is no budget: its doubt is then known to about 1.5 %.

A shallow answer uses the start of the samples of what it rests on, so that it still
shares them with everything else.
"""

_NORMAL_95 = 1.959963984540054  # two-sided 95 % of a normal distribution

Judge = Callable[[float, NDArray[np.float64] | None, float], Judgement]


@dataclass(frozen=True)
class How:
    """How an entry is computed: judged by what, on how many samples.

    A deep entry uses all samples.  Without sampling only the central value is computed:
    for words, pictures and whatever else has no use for a doubt.
    """

    judge: Judge | None = None
    is_sampled: bool = True
    is_deep: bool = False


SHALLOWLY = How()
DEEPLY = How(is_deep=True)
CENTRALLY = How(is_sampled=False)


@dataclass(frozen=True)
class Line:
    """What an entry is called and what it is, before it has a value."""

    id: str
    label: str
    quantity: Quantity
    sense: str = ""
    of: str = ""
    would_change: str = ""
    is_detail: bool = False


@dataclass(frozen=True)
class Given:
    """A fact: its value, where it is from, and the doubt it carries by itself."""

    value: Value
    kind: Kind
    source: str = ""
    typed: str = ""
    standard: float = 0.0
    degrees_of_freedom: float = math.inf
    shape: Shape = Shape.NORMAL
    cautions: tuple[Caution, ...] = ()
    need: str = ""  # what to give where the value is missing


@dataclass(frozen=True, eq=False)
class Entry:
    """One line of the ledger with its value, samples and way back."""

    answer: Answer
    point: Any
    samples: Any
    roots: Mapping[str, InputQuantity]
    function: Callable[..., Any] | None = None
    inputs: tuple[tuple[str, str], ...] = ()

    @property
    def is_missing(self) -> bool:
        """Whether the value is not known."""
        return self.point is None


@dataclass(frozen=True, eq=False)
class StageResult:
    """What a stage hands on: its entries, in order, and what it says beside them."""

    entries: tuple[Entry, ...]
    advice: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()

    def find(self, identity: str) -> Entry | None:
        """The entry with this id, if this stage made it."""
        return next((entry for entry in self.entries if entry.answer.id == identity), None)


class Ledger:
    """Entries of one stage, on top of the results of the stages before it."""

    def __init__(self, *upstream: StageResult, count: int, seed: int, chosen: Chosen = ()) -> None:
        self._chosen = chosen
        self._count = count
        self._seed = seed
        self._known = {entry.answer.id: entry for result in upstream for entry in result.entries}
        self._own: dict[str, Entry] = {}
        self._advice: list[str] = []
        self._cautions: list[Caution] = []

    def result(self) -> StageResult:
        """Everything entered here, for the next stage and for the plan."""
        return StageResult(tuple(self._own.values()), tuple(self._advice), tuple(self._cautions))

    def advise(self, text: str) -> None:
        """Say what to do about an answer of this stage."""
        if text not in self._advice:
            self._advice.append(text)

    def caution(self, code: str, text: str, source: str = "") -> None:
        """Say what is to be watched at this stage."""
        self._cautions.append(Caution(code, text, source))

    def default(self, name: str) -> Default:
        """The named default as this shop has it."""
        return default_in(self._chosen, name)

    def has(self, identity: str) -> bool:
        """Whether the value of this id is known."""
        entry = self._find(identity)
        return entry is not None and not entry.is_missing

    def value(self, identity: str) -> Any:
        """The value of this id at the central inputs, ``None`` where it is missing."""
        entry = self._find(identity)
        return None if entry is None else entry.point

    def entry(self, identity: str) -> Entry:
        """The whole entry; a wrong id is a mistake of the stage, so it is a KeyError."""
        entry = self._find(identity)
        if entry is None:
            raise KeyError(identity)
        return entry

    def samples(self, identity: str) -> Any:
        """Samples of this id, or its value where nothing about it is in doubt."""
        return resolved(self.entry(identity).samples, self._count)

    def fact(self, line: Line, given: Given) -> Entry:
        """Enter a value that is not computed here."""
        roots: dict[str, InputQuantity] = {}
        samples: Any = given.value
        doubt = None
        if given.standard > 0.0 and isinstance(given.value, (int, float)):
            root = InputQuantity(
                line.id,
                float(given.value),
                given.standard,
                degrees_of_freedom=given.degrees_of_freedom,
                shape=given.shape,
            )
            roots[line.id] = root
            samples = Pending(root, self._seed)
            doubt = _stated_doubt(root)
        missing = given.value is None
        answer = Answer(
            line.id,
            line.label,
            given.value,
            line.quantity,
            given.kind,
            sense=line.sense,
            of=line.of,
            typed=given.typed,
            source=given.source,
            doubt=doubt,
            cautions=given.cautions,
            needs=(given.need or line.label,) if missing else (),
            would_change=line.would_change,
            is_detail=line.is_detail,
        )
        return self._enter(Entry(answer, given.value, samples, roots))

    def compute(
        self,
        line: Line,
        function: Callable[..., Any],
        how: How = SHALLOWLY,
        /,
        **inputs: str,
    ) -> Entry:
        """Enter what ``function`` makes of the entries named by ``inputs``."""
        sources = {parameter: self.entry(identity) for parameter, identity in inputs.items()}
        basis = _basis(function, tuple(inputs.items()))
        if any(source.is_missing for source in sources.values()):
            needs = tuple(dict.fromkeys(n for s in sources.values() for n in s.answer.needs))
            answer = replace(_computed(line, basis), needs=needs)
            return self._enter(Entry(answer, None, None, {}, function, basis.inputs))
        point, samples, roots = self._evaluate(function, sources, how)
        answer = _computed(line, basis)
        if not (isinstance(point, float) and math.isnan(point)):
            doubt = self._doubt(point, samples, roots, is_detail=line.is_detail)
            judgement = _judged(how, point, samples, doubt)
            answer = replace(answer, value=point, doubt=doubt, judgement=judgement)
        return self._enter(Entry(answer, point, samples, roots, function, basis.inputs))

    def _evaluate(
        self, function: Callable[..., Any], sources: Mapping[str, Entry], how: How
    ) -> tuple[Any, Any, Mapping[str, InputQuantity]]:
        """Value at the central inputs, samples, and the named inputs that are in doubt."""
        if STATISTIC_PARAMETER in sources:
            # A statistic of samples is one number: it carries no samples of its own.
            given = {
                p: resolved(s.samples, self._count) if p == STATISTIC_PARAMETER else s.point
                for p, s in sources.items()
            }
            counted = _plain(function(**given))
            return counted, counted, {}
        point = _plain(function(**{p: s.point for p, s in sources.items()}))
        roots = {name: root for s in sources.values() for name, root in s.roots.items()}
        if not (roots and how.is_sampled):
            return point, point, {}
        count = self._count if how.is_deep else min(self._count, SHALLOW)
        held = {p: s.samples for p, s in sources.items()}
        return point, function(**alike(held, count)), roots

    def amend(self, identity: str, **changes: Any) -> Entry:
        """Restate words or doubt of an own entry; its value stays what it was."""
        entry = self._own[identity]
        return self._enter(replace(entry, answer=replace(entry.answer, **changes)))

    def _find(self, identity: str) -> Entry | None:
        return self._own.get(identity) or self._known.get(identity)

    def _enter(self, entry: Entry) -> Entry:
        self._own[entry.answer.id] = entry
        return entry

    def _doubt(
        self,
        point: Any,
        samples: Any,
        roots: Mapping[str, InputQuantity],
        *,
        is_detail: bool,
    ) -> Doubt | None:
        if not isinstance(point, float) or not isinstance(samples, np.ndarray):
            return None
        if samples.ndim != 1 or math.isnan(point):
            return None
        usable = samples
        if np.isnan(samples).any():
            usable = samples[~np.isnan(samples)]
        standard = float(usable.std())
        if standard <= FLATNESS * max(1e-3, abs(point)):
            return None
        if is_detail:
            # An input behind an answer: two and a half per cent tails are not looked up.
            low, high = point - _NORMAL_95 * standard, point + _NORMAL_95 * standard
            return Doubt(standard, low, high, COVERAGE, "sampled", samples=usable.size)
        whole = summarise(
            usable,
            # Samples that were dropped no longer lie beside the draws of their inputs.
            quantities=tuple(roots.values()) if usable is samples else (),
            seed=self._seed,
            coverage=COVERAGE,
        )
        return Doubt(
            whole.standard,
            whole.low,
            whole.high,
            COVERAGE,
            "sampled",
            samples=whole.count,
            contributors=tuple(
                Contributor(one.name, self.label(one.name), one.standard)
                for one in whole.contributors
            ),
            sampling_error=whole.sampling_error,
        )

    def label(self, identity: str) -> str:
        """Words of an entry; its id where it is not known here."""
        entry = self._find(identity)
        return identity if entry is None else entry.answer.label


def _computed(line: Line, basis: Basis) -> Answer:
    """A computed answer that has no value yet."""
    return Answer(
        line.id,
        line.label,
        None,
        line.quantity,
        Kind.COMPUTED,
        sense=line.sense,
        of=line.of,
        basis=basis,
        would_change=line.would_change,
        is_detail=line.is_detail,
    )


def _judged(how: How, point: Any, samples: Any, doubt: Doubt | None) -> Judgement | None:
    """The verdict on a number, where it is to be judged."""
    if how.judge is None or not isinstance(point, float):
        return None
    spread = samples if isinstance(samples, np.ndarray) else None
    return how.judge(point, spread, 0.0 if doubt is None else doubt.standard)


def _plain(value: Any) -> Any:
    """A numpy scalar as a float; records, tuples and texts as they are."""
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    return value


def _basis(function: Callable[..., Any], inputs: tuple[tuple[str, str], ...]) -> Basis:
    """The declared relation of a function, or the record that it merely gathers."""
    if isinstance(function, type) and is_dataclass(function):
        names = ", ".join(f.name for f in fields(function))
        path = f"{function.__module__}.{function.__qualname__}"
        return Basis(function.__name__, f"gathers {names}", path, inputs, ("derived",), "always")
    declared = formula_of(function)
    return Basis(
        declared.name,
        declared.expression,
        declared.function,
        inputs,
        declared.sources,
        declared.validity,
    )


def _stated_doubt(root: InputQuantity) -> Doubt:
    """The doubt that a fact carries by itself, as its maker stated it."""
    low, high = _stated_interval(root)
    finite = math.isfinite(root.degrees_of_freedom)
    return Doubt(
        root.standard,
        low,
        high,
        COVERAGE,
        "stated",
        shape=root.shape.value,
        degrees_of_freedom=root.degrees_of_freedom if finite else None,
    )


def _stated_interval(root: InputQuantity) -> tuple[float, float]:
    """Central 95 % of the distribution that a fact is drawn from."""
    if root.shape is Shape.LOGNORMAL:
        spread = math.exp(_NORMAL_95 * root.standard)
        return root.value / spread, root.value * spread
    if root.shape is Shape.RECTANGULAR:
        half = COVERAGE * math.sqrt(3.0) * root.standard
    elif math.isfinite(root.degrees_of_freedom):
        half = coverage_factor(degrees_of_freedom=root.degrees_of_freedom) * root.standard
    else:
        half = _NORMAL_95 * root.standard
    return root.value - half, root.value + half
