"""Every record of a job in words, so that what happened can be read like a diary."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sleevewright.jobs.catalog import field_of, grid_of_feature
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.life import LIFE
from sleevewright.jobs.records import (
    ATTACHMENT,
    DECISION,
    EVENT,
    GIVEN_UP,
    JOB,
    LIFT,
    RELEASE,
    SET,
    VALUE,
    WHOLE_JOB,
    Record,
)
from sleevewright.web.stage.content import EVENT_WORDS
from sleevewright.web.stage.shop import ShopView
from sleevewright.web.times import moment_words

TITLES = {stage.key: stage.title for stage in LIFE}


@dataclass(frozen=True)
class HistoryLine:
    """One record as it is read."""

    number: int
    when: str
    words: str
    by: str  # person, else the device
    is_weighty: bool  # a lifted hold, a decision, a release


def history(records: Sequence[Record], folded: Folded, shop: ShopView) -> tuple[HistoryLine, ...]:
    """The records of a job in words, the last first."""
    return tuple(
        HistoryLine(
            one.number,
            moment_words(one.received, now=shop.now),
            words_of(one, folded.sets, shop),
            shop.name_of(str(one.body.get("person", ""))) or one.device,
            one.kind in (LIFT, DECISION, RELEASE, GIVEN_UP),
        )
        for one in sorted(records, key=lambda one: -one.number)
    )


def words_of(record: Record, sets: Mapping[str, Record], shop: ShopView) -> str:
    """One record as a sentence."""
    maker = _WORDS.get(record.kind)
    said = record.kind if maker is None else maker(record.body, sets, shop)
    folded_cylinder = record.cylinder
    return said if folded_cylinder == WHOLE_JOB else f"Cylinder {folded_cylinder}: {said}"


Body = Mapping[str, Any]
Sets = Mapping[str, Record]


def _job(body: Body, _sets: Sets, _shop: ShopView) -> str:
    kind = str(body.get("engine_kind", ""))
    return f"Job opened: {body.get('title') or 'without a name'}, {kind}".rstrip(", ")


def _value(body: Body, sets: Sets, _shop: ShopView) -> str:
    cell, text = str(body.get("cell", "")), str(body.get("text", "")).strip()
    said = text or "taken back"
    kind = str(body.get("kind", "typed"))
    name = _set_words(cell, sets) if cell.startswith("set/") else _cell_words(cell)
    again = ", in place of what stood there" if body.get("replaces") and text else ""
    return f"{name}: {said} ({kind}{again})"


def _cell_words(cell: str) -> str:
    field = field_of(cell)
    if field is None:
        return cell
    if cell.startswith("port/"):
        port = cell.split("/")[1].replace("%2F", "/").replace("%25", "%")
        return "Port" if cell.endswith("/name") else f"Port {port}, {field.title.lower()}"
    return field.title


def _set_words(cell: str, sets: Sets) -> str:
    """Where a reading was taken, in words."""
    _, name, *place = cell.split("/")
    record = sets.get(name)
    if record is None:
        return f"Reading {cell}"
    body = record.body
    grid = grid_of_feature(str(body.get("feature", "")), stage=str(body.get("stage", "")))
    title = grid.title if grid else str(body.get("feature", ""))
    if len(place) == 1:
        said = {"zero-start": "zero at the start", "zero-end": "zero at the end"}
        return f"{title}, {said.get(place[0], 'set void')}"
    where = [
        _named(body.get("stations", ()), place[0], "down"),
        _named(body.get("directions", ()), place[1], ""),
    ]
    return ", ".join((title, *(one for one in where if one)))


def _named(names: Sequence[object], index: str, after: str) -> str:
    known = index.isdigit() and int(index) < len(names)
    return f"{names[int(index)]} {after}".strip() if known else ""


def _set(body: Body, _sets: Sets, _shop: ShopView) -> str:
    grid = grid_of_feature(str(body.get("feature", "")), stage=str(body.get("stage", "")))
    title = grid.title if grid else str(body.get("feature", ""))
    gauge = body.get("instrument")
    nominal = body.get("nominal")
    tail = "".join((f", with {gauge}" if gauge else "", f", from {nominal}" if nominal else ""))
    return f"Readings begun: {title}{tail}"


def _lift(body: Body, _sets: Sets, shop: ShopView) -> str:
    stage = TITLES.get(str(body.get("stage", "")), str(body.get("stage", "")))
    by = shop.name_of(str(body.get("person", "")))
    return f"Hold of {stage} lifted by {by}: “{body.get('reason', '')}”"


def _decision(body: Body, _sets: Sets, _shop: ShopView) -> str:
    price = f"{body.get('price', '')} {body.get('currency', '')}".strip()
    parts = (body.get("option"), price, body.get("agreed_by"), body.get("how"))
    return f"Agreed: {', '.join(str(part) for part in parts if part)}"


def _event(body: Body, _sets: Sets, _shop: ShopView) -> str:
    what = str(body.get("what", ""))
    said = (EVENT_WORDS.get(what, what), body.get("result"), body.get("text"))
    return ": ".join(str(part) for part in said if part)


def _attachment(body: Body, _sets: Sets, _shop: ShopView) -> str:
    return f"Attached: {body.get('caption') or body.get('name', '')}"


def _release(body: Body, _sets: Sets, shop: ShopView) -> str:
    return f"Released by {shop.name_of(str(body.get('person', '')))}"


def _given_up(body: Body, _sets: Sets, _shop: ShopView) -> str:
    return f"An entry was given up: {body.get('reason', '')}"


_WORDS: Mapping[str, Callable[[Body, Sets, ShopView], str]] = {
    JOB: _job,
    VALUE: _value,
    SET: _set,
    LIFT: _lift,
    DECISION: _decision,
    EVENT: _event,
    ATTACHMENT: _attachment,
    RELEASE: _release,
    GIVEN_UP: _given_up,
}
