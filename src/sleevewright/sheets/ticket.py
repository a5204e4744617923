"""The job ticket: one A5 sheet of what is cut and done, made from a plan and nothing else.

A plan goes in and the bytes of a PDF come out.  Nothing is computed here: every figure is
what :func:`sleevewright.planning.shown.shown_answer` prints, so that paper, page and
terminal agree to the digit.  The same plan gives the same bytes.
"""

from __future__ import annotations

import json
from importlib import resources

import segno
import typst

from sleevewright import __version__
from sleevewright.errors import Caution, NotFound
from sleevewright.planning.answers import Answer, Kind, Plan, StageAnswers, Verdict
from sleevewright.planning.shown import BLANK, shown_answer

Block = dict[str, object]

LIMITS = {
    "bore.target": ("bore.target_low", "bore.target_high"),
    "counterbore.diameter": ("counterbore.diameter_low", "counterbore.diameter_high"),
    "counterbore.depth": ("counterbore.depth_low", "counterbore.depth_high"),
}
"""Answers that bound an order: printed at its right, never as orders of their own."""

BESIDE = {
    "heat.oven": ("heat.limit", "casting limit", ""),
    "heat.slip": ("heat.needle", "needle at", "= go"),
}
"""An answer that is read together with an order, the word before it and the word after."""

ENDS_AT = "needle ends at"
"""Words before a needle position that the limit allows but the order does not want."""

JUDGED_BY = {"heat.slip": "heat.casting"}
"""An answer whose verdict is an order's: the casting temperature says whether slip is reached."""

INSTEAD = {"heat.slip": ("heat.slip_at_limit", "the limit allows only")}
"""What stands under an order that is out: the answer that can be had, and the words before it."""

HAZARD_STAGES = ("parent", "counterbore", "heat", "drop", "cool")
"""Stages whose cautions stand on the ticket: cutting and hot work."""

LENGTHS = {"inch": "in", "metric": "mm"}
"""Unit that a depth is pencilled in."""

BLANK_STATIONS = 3
BLANK_DIRECTIONS = ("0", "45", "90", "135")
"""The grid that is pencilled in: two-point readings repeat at 180 degrees."""


def ticket(plan: Plan, *, code: str | None = None, clocking: str = "") -> bytes:
    """The job ticket as a PDF of one page.

    Parameters
    ----------
    plan : Plan
        What is printed; the sheet holds nothing that is not in it.
    code : str, optional
        Version of the code, with the seal of the records where there is one; the plan's own
        version where it is not given.
    clocking : str
        Where to set the sleeve's mark, in words; nothing where no ports are clocked.
    """
    told = json.dumps(_facts(plan, code, clocking), ensure_ascii=False, sort_keys=True)
    package = resources.files("sleevewright.sheets")
    template = package.joinpath("ticket.typ").read_bytes()
    with resources.as_file(package.joinpath("fonts")) as folder:
        fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(folder)])
        return typst.compile(
            template,
            format="pdf",
            font_paths=fonts,
            ignore_system_fonts=True,
            sys_inputs={"facts": told},
        )


def _facts(plan: Plan, code: str | None, clocking: str) -> Block:
    """Everything that the template prints, as text."""
    orders = [name for name in plan.orders if name not in _companions()]
    shown_ids = [*plan.orders, *plan.seven]
    return {
        "job": plan.job or BLANK,
        "title": plan.title,
        "invented": plan.invented,
        "code": code or plan.code_version or __version__,
        "orders": [_order(plan, name) for name in orders],
        "clocking": clocking,
        "seven": [_number(plan, plan.answer(name)) for name in plan.seven],
        "length": LENGTHS[plan.units],
        "stations": BLANK_STATIONS,
        "directions": list(BLANK_DIRECTIONS),
        "cautions": _cautions(plan, shown_ids),
        "qr": _squares(plan.job),
    }


def _companions() -> set[str]:
    """Ids that are printed beside another order."""
    beside = {name for name, _, _ in BESIDE.values()}
    return beside.union(*LIMITS.values())


def _number(plan: Plan, answer: Answer) -> Block:
    """One number as the template draws it."""
    shown = shown_answer(answer, system=plan.units)
    blank = answer.value is None
    return {
        "id": answer.id,
        "label": answer.label,
        "sense": shown.sense,
        "note": ", ".join(part for part in (shown.sense, answer.of) if part),
        "figure": shown.figure,
        "doubt": shown.doubt,
        "unit": shown.unit,
        "kind": shown.kind,
        "blank": blank,
        "none": blank and not answer.needs and answer.kind is Kind.COMPUTED,
        "needs": "needs " + ", ".join(answer.needs) if blank and answer.needs else "",
        "verdict": answer.judgement.verdict.value if answer.judgement else "",
    }


def _order(plan: Plan, name: str) -> Block:
    """One thing to cut or do, with its limits or what is read beside it."""
    order = _number(plan, plan.answer(name))
    bounds = [_found(plan, bound) for bound in LIMITS.get(name, ())]
    order["limits"] = [_number(plan, bound) for bound in bounds if bound is not None]
    judge = _found(plan, JUDGED_BY[name]) if name in JUDGED_BY else None
    if judge is not None and judge.judgement is not None:
        order["verdict"] = judge.judgement.verdict.value
    order["instead"] = _instead(plan, name) if order["verdict"] == Verdict.OUT else ""
    beside = BESIDE.get(name)
    second = _found(plan, beside[0]) if beside else None
    order["beside"] = None
    if beside and second is not None:
        before, after = beside[1:]
        if order["verdict"] == Verdict.OUT and name in JUDGED_BY:
            # Where the limit ends short of the wanted slip, no needle position means go.
            before, after = ENDS_AT, ""
        order["beside"] = {"number": _number(plan, second), "before": before, "after": after}
    return order


def _instead(plan: Plan, name: str) -> str:
    """What can be had where an order cannot; empty where nothing is known of it."""
    other, words = INSTEAD.get(name, ("", ""))
    answer = _found(plan, other) if other else None
    if answer is None or answer.value is None:
        return ""
    shown = shown_answer(answer, system=plan.units)
    return f"{words} {shown.figure} {shown.unit}"


def _found(plan: Plan, name: str) -> Answer | None:
    """An answer that a plan may be without."""
    try:
        return plan.answer(name)
    except NotFound:
        return None


def _cautions(plan: Plan, shown_ids: list[str]) -> list[Block]:
    """Cautions of the printed numbers and of the work, each once, under what they are about."""
    numbers = list(plan.cautions)
    for name in shown_ids:
        numbers += plan.answer(name).cautions
    hazardous = [stage for stage in plan.stages if stage.key in HAZARD_STAGES and stage.hazards]
    everywhere = _shared(hazardous)
    out = [
        Caution("out", f"{answer.label}: {Verdict.OUT.value}. {answer.judgement.remedy}.")
        for answer in plan.answers()
        if answer.judgement is not None and answer.judgement.verdict is Verdict.OUT
    ]
    parts = [("Out", out), ("The numbers", numbers)]
    for stage in hazardous:
        own = [hazard for hazard in stage.hazards if hazard not in everywhere]
        parts.append((stage.title, own))
    parts.append(("All along", everywhere))
    said: set[str] = set()
    blocks: list[Block] = []
    for title, cautions in parts:
        fresh = [text for text in dict.fromkeys(c.text for c in cautions) if text not in said]
        said.update(fresh)
        if fresh:
            blocks.append({"title": title, "texts": fresh})
    return blocks


def _shared(stages: list[StageAnswers]) -> list[Caution]:
    """Cautions that every one of several stages carries."""
    if len(stages) < 2:
        return []
    return [h for h in stages[0].hazards if all(h in stage.hazards for stage in stages)]


def _squares(job: str) -> list[str]:
    """Rows of the job number's QR code, ``1`` for dark; none for a job without a number.

    ``make_qr`` and never ``make``: the latter may choose a micro code, which most
    telephones do not read.
    """
    if not job:
        return []
    code = segno.make_qr(job, error="m")
    return ["".join("1" if dark else "0" for dark in row) for row in code.matrix]
