"""Use case: what was told at the counterbore, handed to the planner."""

from __future__ import annotations

from decimal import Decimal

from sleevewright.core.cutting.stopsets import StopSet, set_of_sizes, stop_set
from sleevewright.errors import InputError, SleevewrightError
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.ledge_cut import CounterboreTold, counterbore_cut
from sleevewright.planning.ledge_depths import DepthTold
from sleevewright.planning.ledge_register import RegisterTold
from sleevewright.planning.ledge_seat import CornerTold
from sleevewright.services.cut_told import CutTold
from sleevewright.units import Dimension, Spoken, parse

DEPTHS = "counterbore-depth"
BURR = "counterbore.burr"
PLAIN = "plain"
NM_OF = {"mm": 1_000_000, "in": 25_400_000, "thou": 25_400, "um": 1_000, "µm": 1_000}
"""Nanometres in the units that a piece is marked in."""
FINEST = {"mm": 100, "um": 100, "µm": 100, "in": 254, "thou": 254}
"""Finest division that a piece is marked in: a tenth of a micrometre, a hundredth of a thou."""


def counterbore_told(plan: Plan, told: CutTold) -> StageAnswers:
    """The answers of stage Counterbore beside the plan."""
    flat = told.length("face.flat") or told.length("found.deck_flat")
    stop, problem = None, ""
    try:
        stop = stop_of(told.text("counterbore.stop_set"), told.text("counterbore.stop_own"))
    except SleevewrightError as refused:
        problem = str(refused)
    return counterbore_cut(
        plan,
        CounterboreTold(
            DepthTold(
                told.gauged(DEPTHS),
                burr_is_off(told),
                flat,
                told.length("counterbore.faced"),
                told.text("counterbore.datum"),
                told.length("counterbore.datum_off"),
                told.length("counterbore.deck_thickness"),
            ),
            RegisterTold(
                told.length("counterbore.register"),
                told.length("counterbore.body_below"),
                told.length("sleeve.overall"),
                told.text("counterbore.sits_on"),
                told.length("counterbore.step_depth"),
            ),
            CornerTold(
                told.length("sleeve.under_radius"),
                told.length("counterbore.corner"),
                told.text("counterbore.corner_form"),
            ),
            stop,
            told.text("sleeve.flange") == PLAIN,
            told.shop.settings.least_chance_most,
            problem,
        ),
    )


def burr_is_off(told: CutTold) -> bool:
    """Whether the burr was knocked off before the newest depths: after the set before them.

    One tick serves one set of depths: of several sets, the tick must be newer than the first
    reading of the set before the last.
    """
    tick = told.folded.value(BURR, cylinder=told.cylinder)
    if tick is None or tick.text != "yes":
        return False
    sets = sorted(
        record.number
        for record in told.folded.sets.values()
        if record.body.get("feature") == DEPTHS and record.cylinder in (0, told.cylinder)
    )
    return len(sets) < 2 or tick.number > sets[-2]


def stop_of(named: str, own: str) -> StopSet | None:
    """The set that the stop is set with: the shop's own pieces before a usual set."""
    if own.strip():
        return own_set(own, field="own blocks or pins")
    return stop_set(named) if named else None


def own_set(text: str, *, field: str) -> StopSet:
    """A set from sizes with a comma between; a unit behind the last stands for all."""
    parts = [one.strip() for one in text.split(",")]
    if not all(parts):
        hint = "Write them as 1.00, 1.05, 2.00 mm."
        raise InputError(field, text, "", "sizes with a comma between", hint)
    last = parse(parts[-1], field=field, dimension=Dimension.LENGTH)
    said = [_size(one, last.unit, field) for one in parts]
    return set_of_sizes(said, marked="in" if last.unit in ("in", "thou") else "mm")


def _size(text: str, unit: str, field: str) -> int:
    """Nanometres of one piece, exactly as it is marked."""
    number = text.removesuffix(unit).strip()
    whole = f"{number} {unit}" if _is_number(number) else text
    said: Spoken = parse(whole, field=field, dimension=Dimension.LENGTH)
    figure = whole.removesuffix(said.unit).strip()
    if not _is_number(figure) or said.unit not in NM_OF:
        raise InputError(field, text, "", "sizes in mm, µm, in or thou")
    exact = Decimal(figure) * NM_OF[said.unit]
    if exact != exact.to_integral_value() or exact % FINEST[said.unit]:
        raise InputError(field, text, "", "steps of 0.1 µm, or of a hundredth of a thou")
    return int(exact)


def _is_number(text: str) -> bool:
    """Whether a text is a plain decimal number."""
    return bool(text) and text.replace(".", "", 1).isdecimal()
