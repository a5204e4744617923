"""The shelf as records: rows by who must act, how the bench stands, what was put away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import quote

from sleevewright.jobs.route import ROUTE
from sleevewright.services.shelf import MOST_AWAY, ShelfRow
from sleevewright.web.times import day_words, moment_words

FIRST_MARK, MARK_STEP, PAST_MARK = 2, 9, 4
"""Where the small rule begins, its step, and how far the pointer stands past its mark."""

ROOMY = 4
"""Letters of a number that stand large; where one is longer, all are smaller."""

TURNS = (
    ("yours", "Yours now", "Nothing is yours now."),
    ("heat", "Waits for heat or cold", ""),
    ("people", "Waits for people", ""),
)
"""Who must act: the key of a row's turn, the heading, and what stands where nobody has to."""


@dataclass(frozen=True)
class Standing:
    """How the copies of the bench stand: "last drill: yesterday 02:00, 41 s, chain good"."""

    words: str
    is_good: bool


@dataclass(frozen=True)
class ShelfLine:
    """A row of the shelf: where it leads and how far along the route it stands."""

    row: ShelfRow
    href: str
    shown: str  # the number as it is shown
    size: str  # class of the number: smaller where one of the shelf is long
    stage_title: str
    pointer: int  # where the small rule's pointer stands
    marks: tuple[tuple[int, int, str], ...]  # place, height, past or ahead
    when: str
    when_note: str


@dataclass(frozen=True)
class ShelfGroup:
    """Rows of one turn."""

    key: str
    title: str
    lines: tuple[ShelfLine, ...]
    empty: str


@dataclass(frozen=True)
class ShelfPage:
    """Everything that the shelf shows."""

    groups: tuple[ShelfGroup, ...]
    put_away: tuple[ShelfLine, ...]
    has_older: bool  # whether more were released than stand here
    count: int
    standing: Standing
    damage: str  # why nothing can be written, or what is damaged; empty where all is well
    is_empty: bool


def shelf_page(
    rows: Sequence[ShelfRow],
    released: Sequence[ShelfRow],
    standing: Standing,
    *,
    now: datetime,
    damage: str = "",
) -> ShelfPage:
    """The shelf from its rows, in their order."""
    size = "long" if any(len(row.number) > ROOMY for row in (*rows, *released)) else ""
    out = tuple(_line(row, now, size) for row in rows)
    groups = []
    for key, title, empty in TURNS:
        own = tuple(one for one in out if one.row.turn == key)
        if own or (empty and out):
            groups.append(ShelfGroup(key, title, own, empty))
    return ShelfPage(
        groups=tuple(groups),
        put_away=tuple(_line(row, now, size) for row in released),
        has_older=len(released) >= MOST_AWAY,
        count=len({one.row.number for one in out}),
        standing=standing,
        damage=damage,
        is_empty=not out and not released,
    )


def _line(row: ShelfRow, now: datetime, size: str) -> ShelfLine:
    keys = [stage.key for stage in ROUTE]
    position = keys.index(row.stage) if row.stage in keys else len(keys) - 1
    when, note = _when(row, now)
    return ShelfLine(
        row=row,
        href=address(row.number, row.cylinder, of=row.of_cylinders),
        shown=row.number,
        size=size,
        stage_title=next((one.title for one in ROUTE if one.key == row.stage), "Afterwards"),
        pointer=FIRST_MARK + PAST_MARK + MARK_STEP * position,
        marks=tuple(
            (
                FIRST_MARK + MARK_STEP * k,
                16 if k % 5 == 0 else 11,
                "past" if k <= position else "ahead",
            )
            for k in range(len(keys))
        ),
        when=when,
        when_note=note,
    )


def address(number: str, cylinder: int = 1, *, of: int = 1) -> str:
    """Where a job is shown; a cylinder is named where there are several.

    Examples
    --------
    >>> address("J-31"), address("J-31", 2, of=3)
    ('/jobs/J-31', '/jobs/J-31/2')
    """
    base = f"/jobs/{quote(number, safe='')}"
    return base if of == 1 else f"{base}/{cylinder}"


def _when(row: ShelfRow, now: datetime) -> tuple[str, str]:
    """What stands at the right end: when it was promised, else since when it waits."""
    since = moment_words(row.since, now=now)
    if row.promised:
        note = f"promised; since {since}" if since else "promised"
        return day_words(row.promised, now=now), note
    if since and row.waits_for:
        return since, f"since then: {row.waits_for}"
    return since, "since" if since else row.waits_for
