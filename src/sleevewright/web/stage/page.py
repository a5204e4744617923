"""The page of a stage as a record: what was told, what follows, its hold, what comes next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from urllib.parse import quote

from sleevewright.jobs.catalog import StageGrid, StageSheet, life_of, sheet_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import NOT_MET, Hold
from sleevewright.jobs.life import AFTER, stage_named
from sleevewright.jobs.walk import LifeStep
from sleevewright.planning.answers import Plan
from sleevewright.planning.comparing import ON_PART
from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.services.devices import named_device
from sleevewright.services.jobs import Look
from sleevewright.services.seeming import remarks_of
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.asks import Teller, repeated, single_asks, tick_asks
from sleevewright.web.stage.content import EVENT_WORDS, SIZES, SPECIAL, content_of
from sleevewright.web.stage.contents import Content
from sleevewright.web.stage.cut_pictures import cut_pictures
from sleevewright.web.stage.ends import end_of
from sleevewright.web.stage.extras import pictures_of, special_of
from sleevewright.web.stage.fit_pictures import fit_pictures
from sleevewright.web.stage.grids import grid_views
from sleevewright.web.stage.grind_view import GrindView
from sleevewright.web.stage.newset import Wants
from sleevewright.web.stage.proof_view import proof_pictures
from sleevewright.web.stage.rounds import rounds_of
from sleevewright.web.stage.rows import Rows
from sleevewright.web.stage.said import SaysView
from sleevewright.web.stage.says import says_of
from sleevewright.web.stage.shop import ShopView
from sleevewright.web.stage.views import (
    AskView,
    AttachedView,
    ClosedView,
    CylinderView,
    EventView,
    HoldView,
    InstrumentChoice,
    LackView,
    LiftedView,
    MissingView,
    NextView,
    PictureView,
    StagePage,
    StepView,
)
from sleevewright.web.times import moment_words

MOST_OPEN = 8
"""Fields beside the needed ones that stand open; more of them wait behind one press."""

ALWAYS_BEHIND = ("operation.", "waits.", "place", "promised")
MANY_BYTES = 1024.0


@dataclass(frozen=True)
class Seen:
    """A cylinder as its pages look at it: the look, its plan, the shop."""

    look: Look
    plan: Plan | None
    shop: ShopView

    @property
    def folded(self) -> Folded:
        """All that was told of the job."""
        return self.look.folded

    @property
    def base(self) -> str:
        """Address of the job."""
        return f"/jobs/{quote(self.look.number, safe='')}"

    def at(self, stage: str, cylinder: int = 0) -> str:
        """Address of a stage."""
        return f"{self.base}/{cylinder or self.look.cylinder}/{stage}"


def seen_of(look: Look, shop: ShopView) -> Seen:
    """A look with the shop around it."""
    return Seen(look, look.plan, shop)


def _missing(seen: Seen) -> tuple[MissingView, ...]:
    """What devices have counted and not handed in."""
    return tuple(
        MissingView(device, named_device(seen.shop.devices, device), count)
        for device, count in seen.folded.missing().items()
    )


def stage_page(seen: Seen, stage: str, *, named: Sequence[str] = ()) -> StagePage:
    """Everything that the page of a stage shows; ``named`` are ports asked for just now."""
    look, folded, sheet = seen.look, seen.folded, sheet_of(stage)
    content = content_of(stage, folded.text("sleeve.flange", cylinder=look.cylinder))
    teller = Teller(folded, look.cylinder, dict(look.living.problems))
    first, more = _parted(single_asks(sheet, teller))
    title, special = stage_named(stage).title, special_of(stage, look, teller, seen.shop)
    return StagePage(
        number=look.number,
        cylinder=look.cylinder,
        title=_title(folded),
        invented=bool(folded.opened.get("invented")),
        units=teller.units,
        store=seen.shop.store,
        last=folded.last,
        stage=stage,
        stage_title=title,
        part=stage if stage in SPECIAL else "plain",
        steps=steps_of(seen, stage),
        cylinders=_cylinders(seen, stage),
        grids=grid_views(sheet.grids, teller, _wants(sheet, seen), stage=stage),
        first=first,
        more=more,
        rows=repeated(sheet, teller, named=tuple(named)),
        ticks=tick_asks(sheet, teller),
        events=_events(seen, sheet),
        presses=content.presses,
        hold=_hold(look.hold(stage), title, seen.shop),
        says=replace(_says(seen, content, stage), remarks=_remarks(seen, stage)),
        pictures=_pictures(seen, stage, teller),
        hazards=STAGE_HAZARDS.get(stage, ()),
        attached=_attached(seen, stage),
        people=seen.shop.people,
        asks_pin=seen.shop.asks_pin,
        next=next_of(seen, stage, special),
        missing=_missing(seen),
        closed=_closed(seen, stage),
        lifted=_lifted(seen),
        base=seen.base,
        here=seen.at(stage),
        special=special,
    )


def _pictures(seen: Seen, stage: str, teller: Teller) -> tuple[PictureView, ...]:
    """Everything that is drawn at a stage, beside its readings."""
    return (
        *pictures_of(stage, teller, seen.plan),
        *proof_pictures(stage, seen.plan),
        *rounds_of(stage, seen.plan),
        *fit_pictures(stage, seen.plan),
        *end_of(stage, seen.plan),
        *cut_pictures(stage, seen.plan),
    )


def _says(seen: Seen, content: Content, stage: str) -> SaysView:
    """What follows from what was told, or why nothing does."""
    viewer = _viewer(seen)
    if viewer is None:
        return SaysView(problem=seen.look.problem)
    said = says_of(Rows(viewer, seen.base, seen.look.cylinder), content, stage)
    # What stops the answers beside the plan is told, or they would only seem not to be there.
    return replace(said, problem=seen.look.problem)


def _remarks(seen: Seen, stage: str) -> tuple[str, ...]:
    """How the readings look that this stage shows or rests on."""
    look = seen.look
    return remarks_of(seen.folded, look.living.job, stage, cylinder=look.cylinder)


def _title(folded: Folded) -> str:
    """What a job is called."""
    return folded.text("job.title", cylinder=0) or str(folded.opened.get("title", ""))


def _closed(seen: Seen, stage: str) -> ClosedView | None:
    """The first open hold before a stage, where its work is not to be done yet."""
    if stage in ("release", AFTER):
        return None  # these two tell of every hold themselves
    for step in seen.look.steps:
        if step.stage == stage:
            return None
        if step.hold.state == NOT_MET:
            why, cure = seen.shop.named(step.hold.lacks[0])
            if seen.look.next.stage == step.stage:
                cure = seen.look.next.words  # one next move on a page
            return ClosedView(step.title, why, cure, seen.at(step.stage))
    return None


def next_of(seen: Seen, stage: str = "", special: object | None = None) -> NextView:
    """The next action of a cylinder and where it is done; at Ports the edge to grind now."""
    action = seen.look.next
    since = moment_words(action.since, now=seen.shop.now)
    if stage == action.stage and isinstance(special, GrindView) and special.first is not None:
        first = special.first
        return NextView(first.done, f"#r-{first.key}", action.waits_for, since, action.turn)
    return NextView(action.words, seen.at(action.stage), action.waits_for, since, action.turn)


def _parted(asks: tuple[AskView, ...]) -> tuple[tuple[AskView, ...], tuple[AskView, ...]]:
    """What stands open, and what waits behind a press."""
    needed = [one for one in asks if one.is_simple or one.rivals or one.problem]
    rest = [one for one in asks if one not in needed]
    usual = [one for one in rest if not one.cell.startswith(ALWAYS_BEHIND)]
    if len(usual) <= MOST_OPEN:
        first = [one for one in asks if one in needed or one in usual]
        return tuple(first), tuple(one for one in rest if one not in usual)
    return tuple(needed), tuple(rest)


def steps_of(seen: Seen, shown: str) -> tuple[StepView, ...]:
    """The route of a cylinder, for the rule at the top of a page."""
    return tuple(_step(seen, step, shown) for step in seen.look.steps)


def _step(seen: Seen, step: LifeStep, shown: str) -> StepView:
    return StepView(
        step.stage,
        step.title,
        step.state,
        step.hold.words,
        step.hold.state,
        seen.at(step.stage),
        step.stage == shown,
    )


def _cylinders(seen: Seen, stage: str) -> tuple[CylinderView, ...]:
    """The cylinders of the job, where it has several."""
    folded = seen.folded
    if folded.cylinders == 1:
        return ()
    return tuple(
        CylinderView(
            number,
            folded.text("job.cylinder", cylinder=number)
            or folded.text("intake.position", cylinder=number),
            seen.at(stage, number),
            number == seen.look.cylinder,
        )
        for number in range(1, folded.cylinders + 1)
    )


def _wants(sheet: StageSheet, seen: Seen) -> Mapping[str, Wants]:
    """What a new set of each feature starts from."""
    choices = tuple(
        InstrumentChoice(gauge.name, gauge.words, gauge.carried, gauge.kind)
        for gauge in seen.shop.gauges
    )
    own = {part: _size_of(identity, seen) for part, identity in ON_PART.items()}
    return {grid.feature: Wants(_nominal(grid, seen), choices, own) for grid in sheet.grids}


def _nominal(grid: StageGrid, seen: Seen) -> str:
    """The size that readings of a feature deviate from, as far as it is known."""
    source = dict(SIZES).get(grid.feature, "")
    if not source or grid.is_deviation:
        return ""
    told = seen.folded.text(source, cylinder=seen.look.cylinder)
    return told or _size_of(source, seen)


def _size_of(identity: str, seen: Seen) -> str:
    """A size that is answered, in figures; empty where it is not known."""
    viewer = _viewer(seen)
    if viewer is None or viewer.number(identity) is None:
        return ""
    shown = viewer.answer(identity).shown
    return f"{shown.figure} {shown.unit}"


def _viewer(seen: Seen) -> Viewer | None:
    return None if seen.plan is None else Viewer(seen.plan, seen.plan.units)


def _hold(hold: Hold, title: str, shop: ShopView) -> HoldView:
    return HoldView(
        hold.stage,
        title,
        hold.words,
        hold.state,
        tuple(LackView(*shop.named(one)) for one in hold.lacks),
        shop.name_of(hold.by),
        hold.reason,
        moment_words(hold.lifted_at, now=shop.now),
        hold.was_told_since,
    )


def _events(seen: Seen, sheet: StageSheet) -> tuple[EventView, ...]:
    """What happened at this stage, in order."""
    own = (0, seen.look.cylinder)
    return tuple(
        EventView(
            str(one.body.get("what", "")),
            _event_words(one.body),
            moment_words(
                str(one.body.get("at") or one.received), now=seen.shop.now, has_seconds=True
            ),
        )
        for one in seen.folded.events
        if one.body.get("stage") == sheet.stage and one.cylinder in own
    )


def _event_words(body: Mapping[str, object]) -> str:
    """What happened, with what it gave."""
    what = str(body.get("what", ""))
    parts = (EVENT_WORDS.get(what, what), body.get("result"), body.get("text"))
    return ": ".join(str(part) for part in parts if part)


def _attached(seen: Seen, stage: str) -> tuple[AttachedView, ...]:
    """Photos and scans of this stage; where no stage is named, those of all."""
    own = (0, seen.look.cylinder)
    return tuple(
        attached_view(one.body, one.received, seen)
        for one in seen.folded.attachments
        if one.cylinder in own and (not stage or one.body.get("stage") == stage)
    )


def attached_view(body: Mapping[str, object], received: str, seen: Seen) -> AttachedView:
    """One photo or scan."""
    kind = str(body.get("type", ""))
    size = body.get("size")
    return AttachedView(
        href=f"/attachments/{body.get('sha256', '')}",
        name=str(body.get("name", "")),
        caption=str(body.get("caption", "")),
        size=_bytes(float(size) if isinstance(size, int) else 0.0),
        when=moment_words(received, now=seen.shop.now),
        is_picture=kind in ("image/jpeg", "image/png", "image/webp"),
    )


def _bytes(size: float) -> str:
    """A size of a file as it is said.

    Examples
    --------
    >>> _bytes(2_500_000.0), _bytes(900.0)
    ('2.4 MB', '1 kB')
    """
    if size >= MANY_BYTES**2:
        return f"{size / MANY_BYTES**2:.1f} MB"
    return f"{max(1.0, size / MANY_BYTES):.0f} kB"


def _lifted(seen: Seen) -> tuple[LiftedView, ...]:
    """Holds of this cylinder that were lifted; they show for ever."""
    titles = {one.key: one.title for one in life_of(seen.folded)}
    own = (0, seen.look.cylinder)
    return tuple(
        LiftedView(
            titles.get(str(one.body["stage"]), str(one.body["stage"])),
            seen.shop.name_of(str(one.body.get("person", ""))),
            str(one.body.get("reason", "")),
            moment_words(str(one.body.get("said") or one.received), now=seen.shop.now),
        )
        for one in seen.folded.lifts
        if one.cylinder in own
    )
