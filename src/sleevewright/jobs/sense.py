"""Do the values of a job make sense beside each other? Each that does not, with its slip.

A value may be believable alone and impossible beside another: a sleeve inside of its
bore, a wall outside of its casting.  Readings that only look odd are left to the plan,
which judges them with their doubt; what stands here is impossible or surely mistyped.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.entries import amount
from sleevewright.jobs.field import Span
from sleevewright.jobs.gaugesetting import master_words, refuse_master
from sleevewright.jobs.griddefects import check_grids
from sleevewright.jobs.model import Entry, Grid, Job
from sleevewright.jobs.places import Place
from sleevewright.jobs.problems import Findings, key_of, nearest
from sleevewright.jobs.sets import DRIFT_NM
from sleevewright.units import Dimension

_SIZE = Span(Dimension.LENGTH, 0.0, 1.0)
_FIT = Span(Dimension.LENGTH, 0.0, 0.001)

GREATEST_FIT = 0.0035
"""Interference over diameter that no shop gives: a mistyped size. Common practice, no
source; usual fits are 0.0005 to 0.002."""

THINNEST_WALL = 0.3e-3
"""Wall of a sleeve below which it is foil or a mistyped size. Common practice, no source;
sleeves are bored to walls of 1.5 mm and more. [m]"""

_Known = tuple[float, Place] | None


def check_sense(job: Job, findings: Findings) -> None:
    """Note everything that cannot be so."""
    _check_names(job, findings)
    check_grids(job, findings)
    if findings.problems:
        return  # sizes are compared only where each stands alone
    _check_rings(job, findings)
    _check_fit(job, findings)
    _check_engine(job, findings)
    _check_ports(job, findings)


def _check_names(job: Job, findings: Findings) -> None:
    """Instruments and ports are named once, and names that are used exist."""
    names = [instrument.name for instrument in job.instruments]
    _refuse_twice(names, "instrument", findings)
    _refuse_twice([port.name for port in job.ports], "port", findings)
    for index, instrument in enumerate(job.instruments):
        place = ("instrument", index, "set_from")
        if instrument.set_from == instrument.name and instrument.name:
            findings.add(
                place, f"{key_of(place)}: {clipped(instrument.name)!r} is set from itself."
            )
        elif instrument.set_from and instrument.set_from not in names:
            findings.add(place, _unknown_name(place, instrument.set_from, names))
    for index, grid in enumerate(job.grids):
        place = ("grid", index, "instrument")
        if grid.instrument and grid.instrument not in names:
            findings.add(place, _unknown_name(place, grid.instrument, names))
        _check_setting(grid, index, names, findings)


def _check_setting(grid: Grid, index: int, names: list[str], findings: Findings) -> None:
    """A gauge was set on a master of the right kind, that is known, with a size."""
    place: Place = ("grid", index, "set_on")
    try:
        refuse_master(grid.feature, grid.set_on, field=key_of(place))
    except InputError as refused:
        findings.add(place, str(refused))
    if grid.set_on and grid.nominal is None:
        allowed = f"the size of the {master_words(grid.set_on)}, as nominal"
        findings.add(place, str(InputError(key_of(place), "no size", "", allowed)))
    if grid.zero_start is not None and grid.zero_end is not None:
        moved = grid.zero_end.value - grid.zero_start.value
        if abs(moved) > DRIFT_NM * 1e-9:
            place = ("grid", index, "zero_end")
            given = f"a zero that moved by {abs(moved) * 1e6:.3g} µm"
            allowed = f"at most {DRIFT_NM / 1000:g} µm (0.2 thou)"
            hint = "Such readings do not count: set the gauge and gauge again."
            findings.add(place, str(InputError(key_of(place), given, "", allowed, hint)))
    if grid.master and grid.master not in names:
        place = ("grid", index, "master")
        findings.add(place, _unknown_name(place, grid.master, names))


def _refuse_twice(names: list[str], table: str, findings: Findings) -> None:
    for index, name in enumerate(names):
        if name in names[:index]:
            place = (table, index, "name")
            findings.add(
                place, f"{key_of(place)}: there are two named {clipped(name)!r}; name them apart."
            )


def _unknown_name(place: Place, name: str, names: list[str]) -> str:
    """An instrument that is not there."""
    if not names:
        return (
            f"{key_of(place)}: no [[instrument]] is named {clipped(name)!r}; add it with its doubt."
        )
    return f"{key_of(place)}: no instrument is named {clipped(name)!r}; {nearest(name, names)}"


def _check_rings(job: Job, findings: Findings) -> None:
    """The rings lie inside of each other in the order that metal does."""
    sleeve_od = _size(job, "sleeve-od", job.sleeve.outside_diameter, "sleeve")
    sleeve_id = _size(job, "sleeve-id", job.sleeve.inside_diameter, "sleeve", "inside_diameter")
    bore = _size(job, "parent-bore", job.casting.inside_diameter, "casting", "inside_diameter")
    flange = _size(job, "flange-od", job.sleeve.flange_diameter, "sleeve", "flange_diameter")
    part = job.casting
    outside = _typed(part.outside_diameter, ("casting", "outside_diameter"))
    low = _typed(part.outside_low, ("casting", "outside_low"))
    high = _typed(part.outside_high, ("casting", "outside_high"))
    steps = [
        (_Ring("the sleeve's inside", sleeve_id), _Ring("its outside", sleeve_od)),
        (_Ring("the sleeve's outside", sleeve_od), _Ring("its flange", flange)),
    ]
    inner = _Ring("the parent bore", bore or sleeve_od)
    steps += [
        (inner, _Ring("the casting's outside; a wall is left between", ring))
        for ring in (outside, low, high)
    ]
    steps += [
        (_Ring("outside_low", low), _Ring("outside_diameter, within its band", outside)),
        (_Ring("outside_diameter", outside), _Ring("outside_high", high)),
    ]
    for small, large in steps:
        _refuse_inside_out(small, large, job.units, findings)
    if sleeve_id is not None and sleeve_od is not None:
        told = thin_wall(key_of(sleeve_id[1]), inside=sleeve_id[0], outside=sleeve_od[0])
        if told is not None:
            findings.add(sleeve_id[1], str(told))


def thin_wall(field: str, *, inside: float, outside: float) -> InputError | None:
    """Why a sleeve's inside diameter leaves no wall; nothing where it does, or is above."""
    wall = 0.5 * (outside - inside)
    if wall <= 0.0 or wall >= THINNEST_WALL - 1e-9:
        return None
    thinnest = f"{THINNEST_WALL * 1e3:.1f} mm ({THINNEST_WALL / 0.0254:.3f} in)"
    most = (outside - 2.0 * THINNEST_WALL) * 1e3
    return InputError(
        field,
        f"{inside * 1e3:.3f} mm ({inside / 0.0254:.4f} in)",
        "",
        f"at most {most:.3f} mm ({most / 25.4:.4f} in): a wall of {thinnest} or more",
        f"The sleeve's wall would be {wall * 1e3:.3f} mm ({wall / 0.0254:.4f} in); "
        "was one of its two diameters mistyped?",
    )


@dataclass(frozen=True)
class _Ring:
    """A diameter with the words for it."""

    words: str
    known: _Known


def _refuse_inside_out(small: _Ring, large: _Ring, system: str, findings: Findings) -> None:
    """Note where the second of two diameters is not above the first.

    A size that was typed is more likely wrong than one that was gauged.
    """
    if small.known is None or large.known is None or large.known[0] > small.known[0]:
        return
    is_small_blamed = large.known[1][0] == "grid" and small.known[1][0] != "grid"
    blamed, other = (small, large) if is_small_blamed else (large, small)
    value, place = blamed.known or large.known
    bound = amount((other.known or small.known)[0], _SIZE, system)
    allowed = f"{'less' if is_small_blamed else 'more'} than {bound}, {other.words}"
    hint = f"This is {blamed.words}. Were the two swapped, or a radius entered for a diameter?"
    told = InputError(key_of(place), amount(value, _SIZE, system), "", allowed, hint)
    findings.add(place, str(told))


def _check_fit(job: Job, findings: Findings) -> None:
    """The fit is one: not loose, not absurd, and its least not above what is wanted."""
    sleeve = _size(job, "sleeve-od", job.sleeve.outside_diameter, "sleeve")
    bore = _size(job, "parent-bore", job.casting.inside_diameter, "casting", "inside_diameter")
    if sleeve is not None and bore is not None:
        _check_measured_fit(job, sleeve, bore, findings)
    wanted, least = job.choice.wanted, job.choice.least
    if wanted is not None and sleeve is not None:
        _check_wanted(job, wanted, sleeve[0], findings)
    if wanted is not None and least is not None and least.value > wanted.value > 0.0:
        place: Place = ("fit", "least")
        allowed = f"at most the wanted fit, {wanted.text}"
        told = InputError(key_of(place), least.text, "", allowed, "Were the two swapped?")
        findings.add(place, str(told))


def _check_measured_fit(
    job: Job, sleeve: tuple[float, Place], bore: tuple[float, Place], findings: Findings
) -> None:
    """Sleeve over bore as gauged."""
    fit = sleeve[0] - bore[0]
    sizes = f"the sleeve is {amount(sleeve[0], _SIZE, job.units)}"
    told_bore = amount(bore[0], _SIZE, job.units)
    if fit <= 0.0:
        hint = (
            "There is no interference: was a reading a turn of the dial off, or the nominal "
            "of one grid wrong? Else the next larger sleeve is wanted."
        )
        told = InputError(key_of(bore[1]), told_bore, "", f"less than the sleeve: {sizes}", hint)
        findings.add(bore[1], str(told))
    elif fit > GREATEST_FIT * sleeve[0]:
        most = amount(GREATEST_FIT * sleeve[0], _FIT, job.units)
        allowed = f"0 to {most} of interference; {sizes}"
        hint = f"That would be {amount(fit, _FIT, job.units)}: was one nominal mistyped?"
        findings.add(bore[1], str(InputError(key_of(bore[1]), told_bore, "", allowed, hint)))


def _check_wanted(job: Job, wanted: Entry, diameter: float, findings: Findings) -> None:
    """A wanted fit that a shop could give."""
    place: Place = ("fit", "wanted")
    most = GREATEST_FIT * diameter
    if 0.0 < wanted.value <= most:
        return
    allowed = (
        f"more than 0, up to {amount(most, _FIT, job.units)} on "
        f"{amount(diameter, _SIZE, job.units)}"
    )
    hint = (
        "Was it entered in hundredths, or thou for tenths?"
        if wanted.value > 0.0
        else "A sleeve without interference is not shrunk in."
    )
    findings.add(place, str(InputError(key_of(place), wanted.text, "", allowed, hint)))


def _check_engine(job: Job, findings: Findings) -> None:
    """Rod and stroke make a crank; the finished bore lies inside of the sleeve."""
    engine = job.engine
    if engine.rod is not None and engine.stroke is not None:
        place: Place = ("engine", "rod")
        if engine.rod.value <= 0.75 * engine.stroke.value:
            allowed = f"more than three quarters of the stroke, {engine.stroke.text}"
            hint = "Were rod and stroke swapped?"
            findings.add(place, str(InputError(key_of(place), engine.rod.text, "", allowed, hint)))
    sleeve = _size(job, "sleeve-od", job.sleeve.outside_diameter, "sleeve")
    if engine.bore is not None and sleeve is not None and engine.bore.value >= sleeve[0]:
        place = ("engine", "bore")
        allowed = f"less than the sleeve's outside, {amount(sleeve[0], _SIZE, job.units)}"
        hint = "The finished bore lies inside of the sleeve."
        findings.add(place, str(InputError(key_of(place), engine.bore.text, "", allowed, hint)))


def _check_ports(job: Job, findings: Findings) -> None:
    """A port's roof lies above its floor and within the stroke."""
    stroke, deck = job.engine.stroke, job.engine.deck
    for index, port in enumerate(job.ports):
        if port.roof is None:
            continue
        place = ("port", index, "roof")
        if port.floor is not None and port.roof.value >= port.floor.value:
            allowed = f"less than the floor, {port.floor.text}: depths count from the deck"
            hint = "Were roof and floor swapped?"
            findings.add(place, str(InputError(key_of(place), port.roof.text, "", allowed, hint)))
        elif stroke is not None:
            lowest = stroke.value + (deck.value if deck is not None else 0.0)
            if port.roof.value >= lowest:
                allowed = f"less than stroke and deck, {amount(lowest, _SIZE, job.units)}"
                hint = "The piston never opens such a port."
                told = InputError(key_of(place), port.roof.text, "", allowed, hint)
                findings.add(place, str(told))


def _typed(entry: Entry | None, place: Place) -> _Known:
    return None if entry is None else (entry.value, place)


def _size(
    job: Job, feature: str, typed: Entry | None, table: str, key: str = "outside_diameter"
) -> _Known:
    """Middle reading of the last grid of a feature, else the typed size."""
    for index in reversed(range(len(job.grids))):
        grid = job.grids[index]
        cells = [cell.value for row in grid.readings for cell in row if cell is not None]
        if grid.feature == feature and cells:
            return median(cells), ("grid", index, "readings")
    return _typed(typed, (table, key))
