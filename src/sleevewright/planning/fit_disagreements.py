"""Where a chosen fit disagrees: with the sources, the preset, the least, what the plan finds out.

A disagreement blocks nothing.  Some ask that a reason is told, with a name: it then stands
with the fit on the record of the job.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sleevewright.planning.answers import Answer, Kind, Plan, Verdict
from sleevewright.planning.fit_advice import (
    LEAST,
    MOST,
    NEAR,
    Advice,
    Pairing,
    Stand,
    advice_for,
    figure,
    said_figures,
    span_of,
)
from sleevewright.planning.fit_presets import Preset

OUT_SAID = {
    "fit.running": "running, less than its least is left",
    "fit.hard": "in a hard pull less than its least is left",
    "fit.casting_hoop": "the pull around the casting passes what it bears",
    "fit.cold": "the fit passes what casting or sleeve bears",
    "heat.casting": "the oven would pass the casting's limit",
    "finish.stock": "too little is left in the sleeve to bore and hone",
}
"""What the plan finds out at the chosen fit, by its answer."""


@dataclass(frozen=True)
class Disagreement:
    """One way in which a choice goes against something; ``asks`` where a reason is wanted."""

    key: str
    words: str
    asks: bool = True


@dataclass(frozen=True)
class ChosenFit:
    """What was chosen for a body, with what it is held against. Metres, diametral."""

    pairing: Pairing
    preset: Preset
    wanted: float
    least: float
    is_least_told: bool
    system: str

    def said(self, fit: float) -> str:
        """A fit in figures with its unit."""
        return figure(fit, system=self.system)


def disagreements(choice: ChosenFit) -> tuple[Disagreement, ...]:
    """Every disagreement of a choice with sources, preset and least; those that ask come first."""
    advice = advice_for(choice.pairing)
    found = (
        *_with_least(choice),
        *_with_preset(choice),
        *_with_sources(choice, advice),
        *_with_limits(choice, advice),
        *_with_each(choice, advice),
    )
    return tuple(sorted(found, key=lambda one: not one.asks))


def found_out(plan: Plan) -> tuple[Disagreement, ...]:
    """What the plan finds out at the chosen fit; nothing once the parent bore is measured.

    From then on the fit is no choice any more: the hold of the hone judges it.
    """
    known = {one.id: one for one in plan.answers()}
    cold = known.get("fit.cold")
    if cold is None or cold.kind not in (Kind.CHOSEN, Kind.ASSUMED):
        return ()
    return tuple(
        Disagreement(f"out:{identity}", f"at this fit {words}")
        for identity, words in OUT_SAID.items()
        if _is_out(known.get(identity))
    )


def asking(found: Iterable[Disagreement]) -> str:
    """The disagreements that ask for a reason, in words; empty where none does."""
    return "; ".join(one.words for one in found if one.asks)


def _is_out(answer: Answer | None) -> bool:
    judged = None if answer is None else answer.judgement
    return judged is not None and judged.verdict is Verdict.OUT


def _with_least(choice: ChosenFit) -> Iterator[Disagreement]:
    """Less than the least wanted, or a least lower than the shop's own."""
    wanted, least = choice.said(choice.wanted), choice.said(choice.least)
    if choice.wanted < choice.least - NEAR:
        yield Disagreement("least", f"{wanted} wanted: the least says {least}")
    shop = choice.preset.least_at(choice.pairing.diameter)
    if choice.is_least_told and choice.least < shop - NEAR:
        yield Disagreement(
            "least-lowered", f"a least of {least}: the shop's preset says {choice.said(shop)}"
        )


def _with_preset(choice: ChosenFit) -> Iterator[Disagreement]:
    """A fit outside of the band of its preset, the shop's own preset counting into the band."""
    diameter = choice.pairing.diameter
    low, high = choice.preset.band_at(diameter)
    own = choice.preset.wanted_at(diameter)
    low, high = min(low, own), max(high, own)
    if low - NEAR <= choice.wanted <= high + NEAR:
        return
    band = f"{choice.said(low).rpartition(' ')[0]} to {choice.said(high)}"
    words = f"{choice.said(choice.wanted)} wanted: the preset is {choice.said(own)}, usually {band}"
    yield Disagreement("preset", words)


def _with_sources(choice: ChosenFit, advice: tuple[Advice, ...]) -> Iterator[Disagreement]:
    """Outside of what all sources say together; a least counts only where it was told."""
    span = span_of(advice)
    if span is None:
        return
    told = [("wanted", choice.wanted)] + [("least", choice.least)] * choice.is_least_told
    low, high = choice.said(span.low).rpartition(" ")[0], choice.said(span.high)
    for name, fit in told:
        stands = span.stand(fit)
        if stands is Stand.WITHIN or (name == "least" and stands is Stand.BELOW):
            continue
        said = (
            f"{choice.said(fit)} wanted" if name == "wanted" else f"a least of {choice.said(fit)}"
        )
        one = span.lowest if stands is Stand.BELOW else span.highest
        words = f"{said} is {stands.value} every range that a source gives, {low} to {high}"
        yield Disagreement(f"sources-{name}", f"{words} ({one.statement.said_by})")


def _with_limits(choice: ChosenFit, advice: tuple[Advice, ...]) -> Iterator[Disagreement]:
    """Past a most that a source states for this metal."""
    for one in advice:
        if not (one.is_own and one.statement.bound in (MOST, LEAST)):
            continue
        if one.stand(choice.wanted) is not Stand.WITHIN:
            yield Disagreement(f"limit-{one.statement.id}", _against(choice, one))


def _with_each(choice: ChosenFit, advice: tuple[Advice, ...]) -> Iterator[Disagreement]:
    """Each source that says otherwise; that sources differ among themselves asks for nothing."""
    for one in advice:
        is_limit = one.is_own and one.statement.bound in (MOST, LEAST)
        if not is_limit and one.stand(choice.wanted) is not Stand.WITHIN:
            yield Disagreement(f"source-{one.statement.id}", _against(choice, one), asks=False)


def _against(choice: ChosenFit, one: Advice) -> str:
    """What is wanted, and what a source says instead."""
    says = said_figures(one, system=choice.system)
    return f"{choice.said(choice.wanted)} wanted: {one.statement.said_by} says {says}"
