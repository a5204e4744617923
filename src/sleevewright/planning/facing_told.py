"""What was told at Face and before it, as facts of a ledger; refusals in the job's own units."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.seats import seat_depth
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.model import Engine, Entry, Port
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import told_size
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, assumed, enter_default, given
from sleevewright.planning.ledger import SHALLOWLY, Given, How, Ledger, Line
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE
from sleevewright.units import shown

Q = Quantity
BORE = Line("face.bore", "Bore of the engine", Q.SIZE, "diametral", is_detail=True)
DECK_CUT = Line("face.deck_cut", "Off the deck", Q.DEVIATION, "axial")
BASE_CUT = Line("face.base_taken", "Off the base", Q.DEVIATION, "axial")
BASE_THICKER = Line("face.base_thicker", "Base gasket thicker by", Q.READING, "axial")
HEAD_THICKER = Line("face.head_thicker", "Head gasket thicker by", Q.READING, "axial")
SUNK = Line("face.sunk", "Sleeve deeper than planned", Q.READING, "axial", is_detail=True)

SEAT_READ, SEAT_PLANNED = "cool.stand_out_read", "counterbore.stand_out"

_SI = re.compile(r"(-?\d[\d.]*(?:e-?\d+)?) (m\^3|m)\b")


@dataclass(frozen=True)
class FaceTold:
    """Everything that the stage reads: SI entries, empty where nothing was told."""

    engine: Engine = field(default_factory=Engine)
    ports: tuple[Port, ...] = ()
    deck_cut: Entry | None = None
    base_cut: Entry | None = None
    is_asked: bool = False  # the cut is a question: nothing is cut yet
    is_left: bool = False  # the deck is left as it is
    base_was: Entry | None = None
    base_now: Entry | None = None
    head_was: Entry | None = None
    head_now: Entry | None = None
    step: Entry | None = None  # of the head's band; negative: it reaches into the bore
    bowl: Entry | None = None
    hole: Entry | None = None  # of the head gasket
    chamber: Entry | None = None  # of the head, by burette
    crown: Entry | None = None  # volume above the piston's edge
    crown_rise: Entry | None = None
    in_place: Entry | None = None  # volume by burette, engine together
    solder: tuple[Entry, ...] = ()  # before: one reading, or both ends of the pin
    solder_after: tuple[Entry, ...] = ()
    is_cocked: bool = False  # solder through one plug hole
    flat: Entry | None = None
    stand_out: Entry | None = None
    roughness: Entry | None = None
    gasket_kind: str = ""
    base_gaskets: tuple[float, ...] = ()
    head_gaskets: tuple[float, ...] = ()
    refused: tuple[str, ...] = ()  # what could not be read
    has_ports_cut: bool = False  # the sleeve came with its ports: a seat too deep moves them
    is_deck_late: bool = False  # the piston's place was told after the cut
    old_maps: tuple[str, ...] = ()
    new_maps: tuple[str, ...] = ()

    @property
    def has_change(self) -> bool:
        """Whether a cut or another gasket was told or asked."""
        entries = (self.deck_cut, self.base_cut, self.base_now, self.head_now)
        return self.is_left or any(one is not None for one in entries)


def enter_known(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter the engine, the gaskets and the cuts."""
    ledger.fact(BORE, given(told.engine.bore, need="the engine's bore"))
    ledger.fact(ENGINE_STROKE, given(told.engine.stroke, need="stroke"))
    ledger.fact(ENGINE_ROD, given(told.engine.rod, need="rod, centre to centre"))
    enter_default(ledger, ENGINE_DECK, told.engine.deck, "deck_clearance")
    for line, entry in ((DECK_CUT, told.deck_cut), (BASE_CUT, told.base_cut)):
        ledger.fact(line, _cut(ledger, entry, told))
    _enter_gasket(ledger, "base", told.base_was, told.base_now, BASE_THICKER)
    _enter_gasket(ledger, "head", told.head_was, told.head_now, HEAD_THICKER)
    _enter_sunk(ledger, plan, told)
    for text in told.refused:
        ledger.caution("face.list:face.gaskets", text, "practice")


def _cut(ledger: Ledger, entry: Entry | None, told: FaceTold) -> Given:
    """A cut as told or asked; nothing taken where something else was told."""
    if entry is not None and told.is_asked:
        return Given(entry.value, Kind.CHOSEN, source="the job", typed=entry.text)
    if entry is not None:
        doubt = ledger.default("depth_micrometer_setting").value
        return told_size(entry, doubt=doubt, need="cut")
    if told.has_change:
        return assumed(0.0, source="practice", note="nothing was told")
    return Given(None, Kind.MEASURED, need="what was taken off the deck or the base")


def _enter_gasket(
    ledger: Ledger, key: str, was: Entry | None, now: Entry | None, thicker: Line
) -> None:
    """Enter a gasket before and after; the same one goes back where only one was told."""
    doubt = ledger.default("depth_micrometer_setting").value
    before = Line(f"face.{key}_was", f"{key} gasket as it came", Q.SIZE, "axial", is_detail=True)
    after = Line(f"face.{key}_now", f"{key} gasket to fit", Q.SIZE, "axial", is_detail=True)
    need = f"thickness of the {key} gasket, pressed"
    came = was if was is not None else now
    ledger.fact(before, _pressed(came, doubt, need))
    ledger.fact(after, _pressed(now if now is not None else was, doubt, need))
    if was is not None and now is not None:
        ledger.compute(thicker, rest_of, whole=after.id, part=before.id)
    else:
        ledger.fact(thicker, assumed(0.0, source="practice", note="the same gasket goes back"))


def _pressed(entry: Entry | None, doubt: float, need: str) -> Given:
    """A thickness with its doubt; no gasket at all is not in doubt."""
    is_there = entry is None or entry.value > 0.0
    return told_size(entry, doubt=doubt if is_there else 0.0, need=need)


def _enter_sunk(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter how much deeper a sleeve with ready ports sits than it was planned."""
    known = {one.id: one.value for one in plan.answers() if one.id in (SEAT_READ, SEAT_PLANNED)}
    readings, planned = known.get(SEAT_READ), known.get(SEAT_PLANNED)
    if not (
        told.has_ports_cut and isinstance(readings, GridReadings) and isinstance(planned, float)
    ):
        ledger.fact(SUNK, assumed(0.0, source="practice", note="ports are cut where they belong"))
        return
    deep = seat_depth(readings=readings, planned=planned)
    standard = ledger.default("depth_micrometer_setting").value / STATED_COVERAGE_FACTOR
    note = "mean of the stand-out against its plan; the sleeve had its ports before"
    ledger.fact(SUNK, Given(deep, Kind.MEASURED, "the job", note, standard))


def tried(
    ledger: Ledger,
    plan: Plan,
    line: Line,
    function: Callable[..., Any],
    how: How = SHALLOWLY,
    /,
    **inputs: str,
) -> None:
    """Compute, or say why it cannot be: the page then shows the reason, and no figure.

    Where only draws of the doubt cannot be, the figure stands without its doubt and says so.
    """
    try:
        ledger.compute(line, function, how, **inputs)
    except SleevewrightError as refused:
        _without(ledger, line, function, How(judge=how.judge, is_sampled=False), inputs)
        why = in_units(str(refused), plan.units)
        known = ledger.has(line.id)
        word = "within its doubt it cannot be" if known else "not worked out"
        code = f"face.{'near' if known else 'refused'}:{line.id}"
        ledger.caution(code, f"{line.label}: {word}. {why}", "derived")


def _without(
    ledger: Ledger,
    line: Line,
    function: Callable[..., Any],
    how: How,
    inputs: Mapping[str, str],
) -> None:
    """Enter a figure without its doubt, or as missing where the figure itself was refused."""
    try:
        ledger.compute(line, function, how, **inputs)
    except SleevewrightError:
        ledger.fact(line, Given(None, Kind.COMPUTED, need="what was refused put right"))


def in_units(text: str, system: str) -> str:
    """A refusal of the core in the units of the job."""

    def restate(found: re.Match[str]) -> str:
        quantity = Q.SIZE if found[2] == "m" else Q.VOLUME
        figures = shown(float(found[1]), quantity=quantity.value, system=system)
        return f"{figures.figure} {figures.unit}"

    return _SI.sub(restate, text)


def given_depth(entry: Entry | None, doubt: float) -> Given:
    """A depth of a port, with what a hook rule is honestly worth."""
    return told_size(entry, doubt=doubt, need="depth of the roof")
