"""The plan page as a record: the seven numbers, the orders, the stages, the title block.

One page serves a job of the shelf and a job without a name; they differ in where their
entries come from, not in what is shown.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.errors import Caution, NotFound
from sleevewright.jobs.life import stage_named
from sleevewright.jobs.route import Step
from sleevewright.jobs.walk import LifeStep, NextAction
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.web.pictures.fit_bar import fit_bar
from sleevewright.web.plan.address import Place, Trail
from sleevewright.web.plan.drawings import DrawingView, stage_drawings
from sleevewright.web.plan.fit_drawings import fit_picture
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import AnswerView, BasisView, is_given

OPENED_FIRST = "fit.running"
PARENT_BORE = "bore.target"
COMPANIONS = {
    "heat.oven": ("heat.limit",),
    "heat.slip": ("heat.needle",),
}
"""Answers that are printed in the line of another."""


@dataclass(frozen=True)
class OrderView:
    """What is cut or done, with what belongs in the same line."""

    answer: AnswerView
    low: AnswerView | None
    high: AnswerView | None
    beside: tuple[AnswerView, ...]


@dataclass(frozen=True)
class RowView:
    """A row of the seven with the room that keeps decimal points in line."""

    answer: AnswerView
    pad: str
    basis: BasisView | None


@dataclass(frozen=True)
class GroupView:
    """Rows that stand behind one press."""

    words: str
    rows: tuple[RowView, ...]

    @property
    def is_open(self) -> bool:
        """Whether one of its rows is opened."""
        return any(row.answer.is_open for row in self.rows)


@dataclass(frozen=True)
class StageView:
    """One stage of everything else."""

    key: str
    title: str
    hazards: tuple[Caution, ...]
    advice: tuple[str, ...]
    drawings: tuple[DrawingView, ...]
    worked_out: tuple[RowView, ...]
    behind: tuple[GroupView, ...]


@dataclass(frozen=True)
class NextView:
    """The one next move and where it leads."""

    words: str
    href: str


@dataclass(frozen=True)
class WatchView:
    """What must not be overlooked: how much of it, the first of it, and where it stands."""

    words: str
    first: str
    href: str
    is_out: bool


@dataclass(frozen=True)
class PlanPage:
    """Everything that the plan page shows."""

    plan: Plan
    place: Place
    opened: Trail
    steps: tuple[Step, ...]
    seven: tuple[RowView, ...]
    fit_drawing: Markup | None
    orders: tuple[OrderView, ...]
    parent_bore: AnswerView | None
    stages: tuple[StageView, ...]
    stage_keys: frozenset[str]
    watch: WatchView | None
    next: NextView


def plan_page(plan: Plan, place: Place, steps: tuple[Step, ...], next_move: NextView) -> PlanPage:
    """The page of a plan at a place."""
    viewer = Viewer(plan, place.units)
    opened = _known_trail(viewer, place.opened) or _first_opened(plan)
    more = _known_trail(viewer, place.more)
    picture = fit_picture(viewer)
    return PlanPage(
        plan=plan,
        place=place,
        opened=opened,
        steps=steps,
        seven=_seven(viewer, place, opened),
        fit_drawing=fit_bar(picture) if picture else None,
        orders=_orders(viewer),
        parent_bore=viewer.answer(PARENT_BORE) if viewer.knows(PARENT_BORE) else None,
        stages=tuple(_stage(viewer, place, stage, more) for stage in plan.stages),
        stage_keys=frozenset(stage.key for stage in plan.stages),
        watch=_watch(plan),
        next=next_move,
    )


def next_of_job(action: NextAction, place: Place) -> NextView:
    """The next action of a job; it leads to the stage in hand."""
    return NextView(action.words, f"{place.base}/{place.cylinder}/{action.stage}")


def route_of_job(steps: tuple[LifeStep, ...]) -> tuple[Step, ...]:
    """The stages of a job with their holds, as the rule of the route draws them."""
    return tuple(Step(stage_named(one.stage), one.state, one.hold.state) for one in steps)


def opened_basis(plan: Plan, place: Place) -> BasisView:
    """The basis alone, for a page that is open already.

    Raises
    ------
    NotFound
        If the address names no number.
    """
    if not (place.more or place.opened):
        raise NotFound("basis", "without a number")
    viewer = Viewer(plan, place.units)
    if place.more:
        return viewer.basis(place.more, place.opening_more)
    return viewer.basis(place.opened, place.opening)


def _watch(plan: Plan) -> WatchView | None:
    """Verdicts that are out, then cautions; nothing where there are none."""
    outs = [
        (stage, answer)
        for stage in plan.stages
        for answer in stage.answers
        if answer.judgement and answer.judgement.verdict is Verdict.OUT
    ]
    count = len(plan.cautions)
    parts = [f"{len(outs)} out"] if outs else []
    parts += [f"{count} {'caution' if count == 1 else 'cautions'}"] if count else []
    if outs:
        stage, answer = outs[0]
        remedy = answer.judgement.remedy if answer.judgement else ""
        first = f"{answer.label}: out. {remedy[:1].upper()}{remedy[1:]}".strip()
        return WatchView(", ".join(parts), first, f"#stage-{stage.key}", is_out=True)
    if plan.cautions:
        return WatchView(", ".join(parts), plan.cautions[0].text, "#cautions-heading", is_out=False)
    return None


def _known_trail(viewer: Viewer, trail: Trail) -> Trail:
    """The trail as far as the plan knows it: an old address may name what is gone."""
    known: list[str] = []
    for identity in trail:
        if not viewer.knows(identity):
            break
        known.append(identity)
    return tuple(known)


def _first_opened(plan: Plan) -> Trail:
    if OPENED_FIRST in plan.seven:
        return (OPENED_FIRST,)
    return plan.seven[:1]


def _seven(viewer: Viewer, place: Place, opened: Trail) -> tuple[RowView, ...]:
    basis = viewer.basis(opened, place.opening) if opened else None
    rows = [
        viewer.answer(one, place.opening((one,)), is_open=bool(opened) and one == opened[0])
        for one in viewer.plan.seven
    ]
    longest = max((len(_fraction(row.shown.figure)) for row in rows), default=0)
    return tuple(
        RowView(row, _pad(row.shown.figure, longest), basis if row.is_open else None)
        for row in rows
    )


def _fraction(figure: str) -> str:
    return figure.partition(".")[2]


def _pad(figure: str, longest: int) -> str:
    """Digits that a figure lacks after its point, to stand there unseen."""
    missing = longest - len(_fraction(figure))
    point = "." if missing and "." not in figure else ""
    return point + "0" * missing


def _orders(viewer: Viewer) -> tuple[OrderView, ...]:
    beside = {other for others in COMPANIONS.values() for other in others}

    def companion(identity: str) -> AnswerView | None:
        return viewer.answer(identity) if viewer.knows(identity) else None

    return tuple(
        OrderView(
            answer=viewer.answer(identity),
            low=companion(f"{identity}_low"),
            high=companion(f"{identity}_high"),
            beside=tuple(
                view for other in COMPANIONS.get(identity, ()) if (view := companion(other))
            ),
        )
        for identity in viewer.plan.orders
        if identity not in beside and not identity.endswith(("_low", "_high"))
    )


def _stage(viewer: Viewer, place: Place, stage: StageAnswers, more: Trail) -> StageView:
    rows = [
        (
            answer,
            RowView(
                viewer.answer(
                    answer.id,
                    place.opening_more((answer.id,)),
                    is_open=more[:1] == (answer.id,),
                ),
                "",
                viewer.basis(more, place.opening_more) if more[:1] == (answer.id,) else None,
            ),
        )
        for answer in stage.answers
    ]
    told = tuple(row for answer, row in rows if is_given(answer) and not answer.is_detail)
    steps = tuple(row for answer, row in rows if answer.is_detail)
    groups = (GroupView("What it was told and assumes", told), GroupView("Steps between", steps))
    return StageView(
        key=stage.key,
        title=stage.title,
        hazards=stage.hazards,
        advice=stage.advice,
        drawings=stage_drawings(viewer, stage),
        worked_out=tuple(
            row for answer, row in rows if not is_given(answer) and not answer.is_detail
        ),
        behind=tuple(group for group in groups if group.rows),
    )
