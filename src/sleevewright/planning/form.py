"""Form of a gauged feature: taper, out-of-round, the shape along its depth, the oval round it.

A largest-less-smallest grows with scatter alone: it is shown with bounds that take that off,
and judged by them.  Diametral, at 20 degC.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.metrology.answers import deviations, out_of_round_spread, taper_spread
from sleevewright.core.metrology.form import FormDoubt, Range, form_doubt
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference
from sleevewright.core.metrology.ovals import Ovals, ovals_of, tells_an_oval
from sleevewright.core.metrology.profile import (
    FALSE_CALLS,
    NO_PORTS,
    PortBand,
    Ports,
    Profile,
    profile_of,
)
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.shape_words import (
    bore_shape,
    bow_of,
    first_amount,
    outside_shape,
    oval_amount,
    round_words,
    second_amount,
    shape_title,
)
from sleevewright.core.metrology.stations import station_spread
from sleevewright.errors import InputError
from sleevewright.jobs.model import Port
from sleevewright.planning.answers import Contributor, Doubt, Judgement, Kind, Quantity, Verdict
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
LESS = "largest less smallest"
ONE_SIDED = 0.90
"""Coverage of two bounds that hold with 95 % each."""

FORM_RULE = (
    "good where the upper bound is within the limit, out where the lower one is past it; "
    "95 % each, what scatter alone shows taken off (ISO 14253-1)"
)
THREE_CONTACTS = "three-point-gauge"
SHAPE_COVERAGE = 1.0 - FALSE_CALLS


@dataclass(frozen=True)
class Formed:
    """A feature whose form is told: its ids and words, how it was read."""

    id: str  # of its size
    label: str
    part: str  # prefix of the part's growth
    sense: str
    is_bore: bool
    contacts: int
    scatter: Repeatability
    ports: Ports = NO_PORTS

    @property
    def base(self) -> str:
        """Beginning of the ids of its form."""
        return self.id.removesuffix(".size")

    @property
    def inputs(self) -> dict[str, str]:
        """What every relation of its readings starts from."""
        return {
            "readings": f"{self.id}.used",
            "part_expansion": f"{self.part}.expansion",
            "gauge_expansion": "gauge.expansion",
        }


def ports_of(told: tuple[Port, ...]) -> Ports:
    """The ports whose roof and floor were both told."""
    return Ports(
        tuple(
            PortBand(one.name, one.roof.value, one.floor.value)
            for one in told
            if one.roof is not None and one.floor is not None
        )
    )


def enter_form(ledger: Ledger, formed: Formed, used: GridReadings) -> None:
    """Enter taper, out-of-round, shape, oval and the map, with honest bounds."""
    stations, directions = read_of(used)
    for name, label, function, kind, enough in (
        ("taper", "taper", taper_spread, Range.TAPER, stations > 1),
        ("out_of_round", "out-of-round", out_of_round_spread, Range.OUT_OF_ROUND, directions > 1),
    ):
        if not enough:
            continue
        identity = f"{formed.base}.{name}"
        line = Line(identity, f"{formed.label}, {label}", Q.DEVIATION, formed.sense, LESS)
        entry = ledger.compute(line, function, **formed.inputs)
        bounds = bounds_of(float(entry.point), kind, used, formed.scatter, coverage=0.95)
        doubt = _budget(ledger, formed, bounds)
        ledger.amend(identity, doubt=doubt, of=_beside_noise(float(entry.point), bounds))
    line = Line(f"{formed.base}.scatter", f"{formed.label}, scatter", Q.RECORD, is_detail=True)
    ledger.fact(line, Given(formed.scatter, Kind.MEASURED, source="the readings"))
    if stations > 1:
        _enter_shape(ledger, formed, used)
    _enter_ovals(ledger, formed, used)
    ledger.compute(
        Line(
            f"{formed.base}.map",
            f"{formed.label}, reading by reading",
            Q.RECORD,
            formed.sense,
            of="deviation from the mean",
            is_detail=True,
        ),
        deviations,
        **formed.inputs,
    )


def _budget(ledger: Ledger, formed: Formed, bounds: FormDoubt) -> Doubt:
    """The doubt of a form: scatter alone, as setting and temperature are common to all readings."""
    freedom = formed.scatter.degrees_of_freedom
    scatter = f"{formed.id}.repeat"
    return Doubt(
        bounds.standard,
        bounds.low,
        bounds.high,
        bounds.coverage,
        "linear",
        degrees_of_freedom=freedom if math.isfinite(freedom) else None,
        contributors=(Contributor(scatter, ledger.label(scatter), bounds.standard),),
    )


def bounds_of(
    spread: float, kind: Range, used: GridReadings, scatter: Repeatability, *, coverage: float
) -> FormDoubt:
    """Bounds of a taper or an out-of-round of these readings."""
    stations, directions = read_of(used)
    return form_doubt(
        spread,
        kind=kind,
        stations=stations,
        directions=directions,
        reading=scatter,
        coverage=coverage,
    )


def read_of(used: GridReadings) -> tuple[int, int]:
    """How many stations were read, and directions at the fullest: of a grid that is begun."""
    read = np.isfinite(used.readings)
    depths = np.unique(used.stations[read.any(axis=1)])
    return int(depths.size), int(read.sum(axis=1).max())


def judged_form(bounds: FormDoubt, limit: float, remedy: str) -> Judgement:
    """The verdict on a largest-less-smallest, by its one-sided bounds."""
    if bounds.high <= limit:
        return Judgement(Verdict.GOOD, limit, "most", FORM_RULE)
    verdict = Verdict.OUT if bounds.low > limit else Verdict.TOO_CLOSE
    return Judgement(verdict, limit, "most", FORM_RULE, remedy)


def _beside_noise(spread: float, bounds: FormDoubt) -> str:
    """How much of a range scatter alone would show of a perfect part."""
    if spread <= bounds.noise_alone:
        return f"{LESS}; scatter alone shows as much"
    return f"{LESS}; {100.0 * bounds.noise_alone / spread:.0f} % could be scatter"


def _enter_shape(ledger: Ledger, formed: Formed, used: GridReadings) -> None:
    """Enter the shape along the depth: words, and an amount for each shape that is named."""
    if not _can_be_compared(ledger, formed, used):
        return
    base = formed.base
    ledger.fact(
        Line(f"{base}.ports", f"ports beside {formed.label}", Q.RECORD, is_detail=True),
        Given(formed.ports, Kind.MEASURED, source="the port map"),
    )
    profile: Profile = ledger.compute(
        Line(f"{base}.profile", f"{formed.label}, by depth", Q.RECORD, is_detail=True),
        profile_of,
        CENTRALLY,
        reading=f"{base}.scatter",
        ports=f"{base}.ports",
        **formed.inputs,
    ).point
    if profile.bow is not None:
        line = Line(f"{base}.bow", f"{formed.label}, middle over ends", Q.DEVIATION, formed.sense,
                    is_detail=True)  # fmt: skip
        ledger.compute(line, bow_of, CENTRALLY, profile=f"{base}.profile")
    ledger.compute(
        Line(f"{base}.shape", f"{formed.label}, shape", Q.TEXT),
        bore_shape if formed.is_bore else outside_shape,
        CENTRALLY,
        profile=f"{base}.profile",
    )
    for index, function in enumerate((first_amount, second_amount)[: len(profile.named)]):
        one = profile.named[index]
        identity = f"{base}.shape_{index + 1}"
        title = shape_title(one, is_bore=formed.is_bore)
        line = Line(identity, f"{formed.label}, {title}", Q.DEVIATION, formed.sense)
        ledger.compute(line, function, CENTRALLY, profile=f"{base}.profile")
        low, high = sorted((abs(one.low), abs(one.high)))
        ledger.amend(identity, doubt=Doubt(one.standard, low, high, SHAPE_COVERAGE, "linear"))


def _can_be_compared(ledger: Ledger, formed: Formed, used: GridReadings) -> bool:
    """Whether the stations say something of each other; a grid of lands may not."""
    grid = sizes_at_reference(used, part_expansion=0.0, gauge_expansion=0.0)
    if not (np.diff(used.stations) > 0.0).all():
        return False
    try:
        station_spread(grid)
    except InputError:
        ledger.caution(
            f"lands-apart:{formed.id}",
            f"{formed.label}: no direction is shared by the depths that were read, so that an oval "
            "cannot be told from a taper. Read one direction at several depths.",
            "derived",
        )
        return False
    return formed.scatter.standard > 0.0


def _enter_ovals(ledger: Ledger, formed: Formed, used: GridReadings) -> None:
    """Enter the oval and its axis, where three directions of one station were read."""
    grid = sizes_at_reference(used, part_expansion=0.0, gauge_expansion=0.0)
    contacts = float(formed.contacts)
    able = [tells_an_oval(grid, station, contacts) for station in range(grid.stations.size)]
    if not any(able) or not formed.scatter.standard > 0.0:
        return
    base = formed.base
    ledger.fact(
        Line(f"{base}.contacts", f"contacts of the gauge, {formed.label}", Q.RATIO, is_detail=True),
        Given(contacts, Kind.MEASURED, source="the gauge"),
    )
    ovals: Ovals = ledger.compute(
        Line(f"{base}.ovals", f"{formed.label}, lobes", Q.RECORD, is_detail=True),
        ovals_of,
        CENTRALLY,
        reading=f"{base}.scatter",
        contacts=f"{base}.contacts",
        **formed.inputs,
    ).point
    unread = sum(row.any() for row in grid.present) - sum(able)
    some = f"{unread} of the depths read in too few directions for it" if unread else ""
    ledger.compute(
        Line(f"{base}.round", f"{formed.label}, round", Q.TEXT, of=some),
        round_words,
        CENTRALLY,
        ovals=f"{base}.ovals",
    )
    shape = "oval" if formed.contacts == 2 else "three lobes"
    line = Line(f"{base}.oval", f"{formed.label}, {shape}", Q.DEVIATION, formed.sense, LESS)
    ledger.compute(line, oval_amount, CENTRALLY, ovals=f"{base}.ovals")
    doubt = Doubt(ovals.standard, ovals.low, ovals.high, ONE_SIDED, "linear")
    ledger.amend(f"{base}.oval", doubt=doubt)
