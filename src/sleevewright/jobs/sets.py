"""Sets of readings: which places are asked for, which are told, and whether a set counts.

Nothing here reads a number but the two zero checks of a set: whether the gauge drifted
decides whether its readings count at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog import grid_of_feature
from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import Body, Record
from sleevewright.jobs.stagefield import YES
from sleevewright.units.exact import nanometres

DRIFT_NM = 5_080
"""Two tenths of a thou: a zero that moved more voids the set, unless its instrument names
a limit of its own. Common practice, no source. [nm]"""

BURR, LEDGE_DEPTHS = "counterbore.burr", "counterbore-depth"

_SIZE = "size"
_ZERO_TEXT = re.compile(r"[+-]?\d+(\.\d+)?\s*(thou|um|µm|mm|in)")
_USUAL_UNIT = {"inch": "thou", "metric": "µm"}


@dataclass(frozen=True)
class SetState:
    """How far a set of readings has come."""

    record: Record
    asked: int  # places where something can be read
    told: int  # of these, told; a dash counts
    read: int  # of these, with a reading
    conflicts: int  # places with two different values
    rows: tuple[int, ...] = ()  # readings at each depth
    least: tuple[int, int] = (1, 1)  # depths that are asked, and directions at each of them
    has_lands: bool = False  # whether a place may lie in a port, so that a dash answers it
    zeroes: tuple[bool, bool] = (False, False)  # whether the zero was told at start and end

    @property
    def left(self) -> int:
        """Places that are not answered: a dash answers only where a port may lie."""
        return self.asked - (self.told if self.has_lands else self.read)

    @property
    def is_zero_checked(self) -> bool:
        """Whether the gauge was on its master before and after."""
        return all(self.zeroes)

    @property
    def is_zero_open(self) -> bool:
        """Whether the zero was told at the start and not at the end."""
        return self.zeroes == (True, False)

    @property
    def is_mostly_read(self) -> bool:
        """Whether at least half of the places hold a reading."""
        return 2 * self.read >= self.asked

    @property
    def depths(self) -> int:
        """Depths that hold as many readings as are asked at each."""
        return sum(count >= self.least[1] for count in self.rows)

    @property
    def is_full(self) -> bool:
        """Whether as many depths and directions hold a reading as are asked at the least."""
        return self.depths >= self.least[0]

    @property
    def is_whole(self) -> bool:
        """Whether each place is answered, most by a reading, at the least that is asked."""
        is_answered = self.left == 0 and self.conflicts == 0
        return is_answered and self.is_mostly_read and self.is_full


def said_in(body: Body, key: str) -> str:
    """Text of a quantity of a set; one with its kind beside it is told as a small table."""
    told = body.get(key) or ""
    return str(told.get("value", "") if isinstance(told, Mapping) else told).strip()


def shape_of(body: Body) -> tuple[int, int]:
    """Rows and columns of a set; one whose directions are not known says how many it has."""
    columns = len(body.get("directions", ())) or int(body.get("columns", 1))
    return max(1, len(body.get("stations", ()))), max(1, columns)


def blanks_of(body: Body) -> frozenset[tuple[int, int]]:
    """Places where a port lies and nothing can be read."""
    return frozenset((int(place[0]), int(place[1])) for place in body.get("blank", ()))


def places_of(body: Body) -> Iterator[tuple[int, int]]:
    """Every place of a set where something can be read, row by row."""
    rows, columns = shape_of(body)
    blank = blanks_of(body)
    for row in range(rows):
        for column in range(columns):
            if (row, column) not in blank:
                yield row, column


def reading_cell(name: str, row: int, column: int) -> str:
    """The cell of one reading."""
    return f"set/{name}/{row}/{column}"


def state_of(folded: Folded, record: Record) -> SetState:
    """How far a set has come."""
    name, cylinder = str(record.body["set"]), record.cylinder
    asked = told = read = conflicts = 0
    rows = [0] * shape_of(record.body)[0]
    for row, column in places_of(record.body):
        asked += 1
        heads = folded.heads(reading_cell(name, row, column), cylinder=cylinder)
        conflicts += len(heads) > 1
        if len(heads) == 1 and heads[0].text.strip():
            told += 1
            is_read = heads[0].text.strip() not in BLANKS
            read += is_read
            rows[row] += is_read
    grid = grid_of_feature(
        str(record.body.get("feature", "")), stage=str(record.body.get("stage", ""))
    )
    least, has_lands = ((1, 1), False) if grid is None else (grid.least, grid.has_port_lands)
    start, end = (
        folded.value(f"set/{name}/zero-{which}", cylinder=cylinder) is not None
        for which in ("start", "end")
    )
    return SetState(
        record, asked, told, read, conflicts, tuple(rows), least, has_lands, (start, end)
    )


def is_void(folded: Folded, record: Record) -> bool:
    """Whether a set does not count: voided in words, or by the drift of its gauge."""
    return why_void(folded, record) != ""


def why_void(folded: Folded, record: Record) -> str:
    """Why a set does not count; empty where it does."""
    name, cylinder = str(record.body["set"]), record.cylinder
    reason = folded.text(f"set/{name}/void", cylinder=cylinder).strip()
    if reason:
        return reason
    drift = drift_of(folded, record)
    if drift is None or abs(drift) <= drift_limit(record.body):
        return ""
    far = f"{abs(drift) / 1000:g} µm ({abs(drift) / 25_400:.2g} thou)"
    if folded.value(f"set/{name}/zero-start", cylinder=cylinder) is None:
        return f"the zero is off by {far} at the end"
    return f"the zero moved by {far} between start and end"


def drift_of(folded: Folded, record: Record) -> int | None:
    """How far the zero moved from start to end, in nanometres; nothing where it is not known.

    Readings that are keyed over a master begin at nought: an end without a start is judged
    from there.
    """
    name, cylinder = str(record.body["set"]), record.cylinder
    ends = [
        zero_nm(folded.value(f"set/{name}/zero-{which}", cylinder=cylinder), record.body, folded)
        for which in ("start", "end")
    ]
    if ends[1] is None:
        return None
    if ends[0] is None:
        is_over_master = _entry_of(record.body) != _SIZE
        is_untold = folded.value(f"set/{name}/zero-start", cylinder=cylinder) is None
        return ends[1] if is_over_master and is_untold else None
    return ends[1] - ends[0]


def _entry_of(body: Body) -> str:
    """How the readings of a set are keyed: as sizes where nothing else is told."""
    return str(body.get("entry") or _SIZE)


def zero_nm(told: Told | None, body: Body, folded: Folded) -> int | None:
    """A zero check in nanometres; nothing where it is not told or says nothing."""
    if told is None:
        return None
    if isinstance(told.body.get("nm"), int):
        return int(told.body["nm"])
    try:
        return nanometres(told.text, unit_of(body, folded))
    except SleevewrightError:
        return None


def zero_over(folded: Folded, record: Record, end: str) -> int | None:
    """What a zero check showed at ``start`` or ``end``, larger bore positive; nothing untold."""
    told = folded.value(f"set/{record.body['set']}/zero-{end}", cylinder=record.cylinder)
    nm = zero_nm(told, record.body, folded)
    return nm if nm is None or record.body.get("sign") != "plus-smaller" else -nm


def zero_text(folded: Folded, record: Record, end: str) -> str:
    """A zero check as a job file tells it, larger bore positive; empty where it is not told."""
    nm = zero_over(folded, record, end)
    if nm is None:
        return ""
    told = folded.value(f"set/{record.body['set']}/zero-{end}", cylinder=record.cylinder)
    text = "" if told is None else told.text.strip()
    is_plain = _ZERO_TEXT.fullmatch(text) and record.body.get("sign") != "plus-smaller"
    return text if is_plain else f"{nm / 1000:g} um"


def unit_of(body: Body, folded: Folded) -> str:
    """Unit of a bare reading with a sign."""
    return str(body.get("unit") or _USUAL_UNIT.get(str(folded.opened.get("units")), "thou"))


def drift_limit(body: Body) -> int:
    """How far a zero may move before the set is void, in nanometres."""
    for one in body.get("instruments", ()):
        if one.get("name") == body.get("instrument") and one.get("drift"):
            try:
                return abs(nanometres(str(one["drift"])))
            except SleevewrightError:
                break
    return DRIFT_NM


def sets_of(
    folded: Folded, feature: str, *, cylinder: int = 1, stage: str = ""
) -> tuple[Record, ...]:
    """Sets of a feature that count, in the order in which they were begun."""
    found = (
        record
        for record in folded.sets.values()
        if record.body.get("feature") == feature
        and record.cylinder in (0, cylinder)
        and (not stage or record.body.get("stage") == stage)
        and not is_void(folded, record)
    )
    return tuple(sorted(found, key=lambda record: record.number))


def newest(folded: Folded, feature: str, *, cylinder: int = 1, stage: str = "") -> SetState | None:
    """The newest set of a feature that counts and holds a reading."""
    for record in reversed(sets_of(folded, feature, cylinder=cylinder, stage=stage)):
        state = state_of(folded, record)
        if state.read or state.conflicts:
            return state
    return None


def burr_is_off(folded: Folded, *, cylinder: int = 1) -> bool:
    """Whether the burr was knocked off before the newest depths of the ledge.

    One tick serves one set of depths: of several sets, the tick must be newer than the first
    reading of the set before the last.
    """
    tick = folded.value(BURR, cylinder=cylinder)
    if tick is None or tick.text.strip().lower() != YES:
        return False
    begun = sorted(
        record.number
        for record in folded.sets.values()
        if record.body.get("feature") == LEDGE_DEPTHS and record.cylinder in (0, cylinder)
    )
    return len(begun) < 2 or tick.number > begun[-2]
