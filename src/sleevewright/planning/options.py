"""The ways of mending a bore, side by side: what speaks for each and against, and what is next.

Whether an option can be had follows from the verdicts of stage Choice; what is said for
and against beside it is common practice, with no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.planning.answers import Answer, Kind, Plan, StageAnswers, Verdict
from sleevewright.planning.shown import shown_answer

POSSIBLE, UNSURE, IMPOSSIBLE = "possible", "too close to call", "not possible"
UNKNOWN, ASK = "not known yet", "the plater says"
STANDINGS = (POSSIBLE, UNSURE, IMPOSSIBLE, UNKNOWN, ASK)

HONE, OVERSIZE, REPLATE, SLEEVE = "hone", "oversize", "replate", "sleeve"
TITLES = {
    HONE: "Hone, same piston",
    OVERSIZE: "Next oversize",
    REPLATE: "Re-plate",
    SLEEVE: "Sleeve",
}


@dataclass(frozen=True)
class Option:
    """One way of mending a bore."""

    key: str
    title: str
    stands: str  # one of STANDINGS
    why: tuple[str, ...]  # figures that decide it, in words
    speaks_for: tuple[str, ...]
    against: tuple[str, ...]
    next_step: str
    needs: tuple[str, ...] = ()
    wall: Answer | None = None  # iron left

    @property
    def can_be_had(self) -> bool:
        """Whether it may be offered at all."""
        return self.stands != IMPOSSIBLE


_FOR = {
    HONE: ("least work", "piston and rings may stay, where they pass"),
    OVERSIZE: ("the old sleeve stays, and the ports with it", "cheaper than a sleeve"),
    REPLATE: (
        "plating carries heat and grows with the casting",
        "the ports stay where they are",
        "wears less",
    ),
    SLEEVE: (
        "mends a bore that is holed, loose or worn out",
        "back to the standard piston",
        "can be bored again later",
    ),
}
_AGAINST = {
    HONE: ("takes wear only, no scores that a nail can feel", "the clearance grows"),
    OVERSIZE: (
        "a new piston and rings have to be bought",
        "heavier piston; compression goes up",
        "each oversize is one less for later",
    ),
    REPLATE: (
        "sent away: freight and weeks",
        "deep damage has to be welded first",
        "cannot be bored: the next time is plating again",
    ),
    SLEEVE: (
        "most work, and heat on the casting",
        "ports have to be matched by hand, where it has any",
        "the casting can crack: risk to be agreed",
    ),
}
_NEXT = {
    HONE: "Measure the piston and its skirt clearance before the hone.",
    OVERSIZE: "Order the piston; bore only when it is in hand.",
    REPLATE: "Ask the plater with photographs; strip nothing before.",
    SLEEVE: "Order the sleeve; no parent bore before it is measured.",
}
_DECIDE = {
    HONE: ("choice.hone.over",),
    OVERSIZE: ("choice.oversize.room", "choice.oversize.wall"),
    SLEEVE: ("finish.wall",),
}


def options(plan: Plan, choice: StageAnswers) -> tuple[Option, ...]:
    """The options of a job from its plan and its answers of stage Choice.

    Parameters
    ----------
    plan : Plan
        The plan.
    choice : StageAnswers
        What :func:`sleevewright.planning.choice.choice_stage` answered beside it.

    Returns
    -------
    tuple[Option, ...]
        Hone, next oversize or re-plate, and sleeve.
    """
    known = {answer.id: answer for answer in (*plan.answers(), *choice.answers)}
    second = OVERSIZE if "choice.oversize.step" in known else REPLATE
    return (
        _hone(known, plan.units),
        _second(second, known, plan.units, choice),
        _sleeve(known, plan.units),
    )


def bare_option(key: str, stands: str) -> Option:
    """An option of which no figures are known."""
    return _option(key, stands, (), ())


def _hone(known: Mapping[str, Answer], system: str) -> Option:
    """Honing, as far as the wear allows."""
    stands, why, needs = _standing(HONE, known, system)
    return _option(HONE, stands, why, needs)


def _second(key: str, known: Mapping[str, Answer], system: str, choice: StageAnswers) -> Option:
    """The next oversize of a sleeve of iron, or new plating."""
    if key == REPLATE:
        return _option(REPLATE, ASK, (), ())
    tried = known.get("choice.oversize.next")
    if tried is not None and tried.value is None and not tried.needs:
        return _option(OVERSIZE, IMPOSSIBLE, choice.advice, ())
    stands, why, needs = _standing(OVERSIZE, known, system)
    return _option(OVERSIZE, stands, why, needs, wall=known.get("choice.oversize.wall"))


def _sleeve(known: Mapping[str, Answer], system: str) -> Option:
    """A new sleeve; before one is in hand its wall is not known, and that forbids nothing."""
    stands, why, _ = _standing(SLEEVE, known, system)
    stands = POSSIBLE if stands == UNKNOWN else stands
    return _option(SLEEVE, stands, why, (), wall=known.get("finish.wall"))


def _option(
    key: str,
    stands: str,
    why: tuple[str, ...],
    needs: tuple[str, ...],
    *,
    wall: Answer | None = None,
) -> Option:
    """An option with its words."""
    following = f"Tell {', '.join(needs)}." if needs else _NEXT[key]
    if stands == IMPOSSIBLE:
        following = "Choose another."
    return Option(key, TITLES[key], stands, why, _FOR[key], _AGAINST[key], following, needs, wall)


def _standing(
    key: str, known: Mapping[str, Answer], system: str
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Worst verdict of the answers that decide an option, in words, with what is missing."""
    answers = [known[one] for one in _DECIDE[key] if one in known]
    verdicts = [one.judgement.verdict for one in answers if one.judgement is not None]
    needs = tuple(dict.fromkeys(need for one in answers for need in one.needs))
    why = tuple(_sentence(one, system) for one in answers if one.value is not None)
    if Verdict.OUT in verdicts:
        return IMPOSSIBLE, why, ()
    if needs or not verdicts:
        return UNKNOWN, why, needs
    return (UNSURE if Verdict.TOO_CLOSE in verdicts else POSSIBLE), why, ()


def _sentence(answer: Answer, system: str) -> str:
    """An answer with its limit as one sentence."""
    shown = shown_answer(answer, system=system)
    doubt = f" ±{shown.doubt}" if shown.doubt else ""
    text = f"{answer.label} {shown.figure}{doubt} {shown.unit}".strip()
    text = f"{text} {shown.sense}".strip()
    judged = answer.judgement
    if judged is None:
        return text
    limit = Answer(answer.id, answer.label, judged.limit, answer.quantity, Kind.CHOSEN)
    edge = shown_answer(limit, system=system)
    return f"{text}, {judged.side} {edge.figure} {edge.unit}: {judged.verdict.value}".strip()
