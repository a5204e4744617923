"""How a heat stands, in one word: by what was gauged or tried just now, never by the clock."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import datetime

from sleevewright.core.heat.heating import Heating, OvenReading, ReadyForecast
from sleevewright.core.heat.ready_said import FRESH, GO, STOP, ready_word
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, known_in, ledger_of
from sleevewright.planning.ledger import Given, Line

UNREAD = "nothing read yet"
IS_GO = "go"
NOT_YET = "not yet"
NEVER = "never, as the oven is set"
OVER = "over the limit: out"
STALE = "stale: gauge again"
WARM = "not yet: zero set on a warm gauge"

STAND = Line(
    "oven.stand",
    "Go or not",
    Quantity.TEXT,
    of="by needle or plug, as gauged last; no proof 5 minutes after that",
)
WENT_IN = Line("oven.went_in", "when it went in", Quantity.RECORD, is_detail=True)

ENTERS, TIGHT = "enters freely", "does not enter"
LIKELY_NEVER = 0.5
"""Above this chance an oven that never brings it there is said to be one."""

PLUGS = {"body": "heat.plug", "flange": "heat.plug_flange"}
"""For each fit the size of plug that the plan asks for."""


def oven_stand(
    plan: Plan,
    *,
    age: float | None,
    gauged: Mapping[str, float] | None = None,
    plugs: Mapping[str, bool] | None = None,
    is_held: bool = False,
) -> str:
    """How the heat stands.

    Parameters
    ----------
    plan : Plan
        The plan with the forecast beside it.
    age : float | None
        How long ago the newest reading or plug was; nothing where there is none. [s]
    gauged : Mapping[str, float] | None
        How long ago each fit was gauged; as ``age`` says where nothing is said of it. [s]
    plugs : Mapping[str, bool] | None
        For each fit that was tried just now, whether a plug of its size entered freely.
    is_held : bool
        Whether the gauge was set to zero while it was warm: it then shows slip that is not there.
    """
    said = _value(plan, "ready_when.say")
    if said == STOP:
        return OVER
    if age is None:
        return UNREAD
    if age > FRESH:
        return STALE
    old = frozenset(fit for fit, one in (gauged or {}).items() if is_held or one > FRESH)
    if _is_go(plan, plugs or {}, old):
        return IS_GO
    if said == GO and old and not plugs:
        return WARM if is_held else STALE  # the probe was read just now, but not the slip
    # A figure without its minutes is no reading yet.
    return UNREAD if said is None else _waiting(plan)


def _waiting(plan: Plan) -> str:
    """Not yet, or more likely than not never."""
    never = _value(plan, "ready_when.never")
    return NEVER if isinstance(never, float) and never > LIKELY_NEVER else NOT_YET


def _is_go(plan: Plan, plugs: Mapping[str, bool], old: Collection[str]) -> bool:
    """Whether every fit is let go by its needle or its plug; a plug that sticks forbids it."""
    if any(not enters for enters in plugs.values()):
        return False
    fits = [fit for fit, name in PLUGS.items() if _value(plan, name) is not None]
    heating = _value(plan, "ready_when.heating")
    if isinstance(heating, Heating):
        fits = [fit for fit, _ in heating.fits]
    by_plug = [fit for fit in fits if plugs.get(fit, False)]
    rest = [fit for fit in fits if fit not in by_plug]
    if not rest:
        return bool(fits)
    return not any(fit in old for fit in rest) and _needle_lets(plan, rest)


def _needle_lets(plan: Plan, fits: Collection[str]) -> bool:
    """Whether the needle lets some of the fits go; all of them where the plan says no more."""
    heating, readings, guard = (
        _value(plan, f"ready_when.{one}") for one in ("heating", "judged", "guard")
    )
    if not isinstance(heating, Heating) or not isinstance(readings, tuple):
        own = [fit for fit, name in PLUGS.items() if _value(plan, name) is not None]
        return len(fits) >= len(own) and _value(plan, "ready_when.say") == GO
    if not isinstance(guard, float):
        return False
    only = tuple(one for one in heating.fits if one[0] in fits)
    if any(not _is_borne_out(plan, fit, go.go, readings) for fit, go in only):
        return False
    forecast = _value(plan, "ready_when.curve")
    known = forecast if isinstance(forecast, ReadyForecast) else None
    narrowed = replace(heating, fits=only)
    word = ready_word(heating=narrowed, readings=readings, guard=guard, forecast=known)
    return word == GO


def is_odd(plan: Plan) -> bool:
    """Whether a newest slip is past its go, but does not go with the others and stands alone.

    Parameters
    ----------
    plan : Plan
        The plan with the forecast beside it.
    """
    heating, readings = (_value(plan, f"ready_when.{one}") for one in ("heating", "judged"))
    if not isinstance(heating, Heating) or not isinstance(readings, tuple):
        return False
    return any(not _is_borne_out(plan, fit, go.go, readings) for fit, go in heating.fits)


def _is_borne_out(plan: Plan, fit: str, go: float, readings: tuple[OvenReading, ...]) -> bool:
    """Whether a fit's newest slip goes with the others, or was gauged past its go twice."""
    own = sorted(
        (one for one in readings if one.fit == fit and one.growth is not None),
        key=lambda one: one.time,
    )
    if not own:
        return True
    forecast, last = _value(plan, "ready_when.curve"), own[-1]
    if isinstance(forecast, ReadyForecast):
        held = {(one.time, one.read) for one in forecast.remarks if one.is_held_out}
        if (last.time, last.growth) not in held:
            return True
    again = [one for one in own[:-1] if last.time - one.time <= FRESH]
    return any(float(one.growth or 0.0) >= go for one in again)


def plug_says(plan: Plan, fit: str, *, word: str, size: float | None) -> bool | None:
    """Whether a plug that was tried lets a fit go; nothing where it says nothing.

    A smaller plug than the plan's that enters proves nothing; a larger one that does not
    enter neither.

    Parameters
    ----------
    plan : Plan
        The plan, for the size of its plug.
    fit : str
        ``body`` or ``flange``.
    word : str
        ``enters freely``, ``does not enter``, or empty.
    size : float | None
        Size of the plug at 20 degC; the plan's where none was told. [m]
    """
    wanted = _value(plan, PLUGS[fit])
    if not isinstance(wanted, float) or word not in (ENTERS, TIGHT):
        return None
    told = wanted if size is None else size
    if word == ENTERS:
        return True if told >= wanted else None
    return False if told <= wanted else None


def _value(plan: Plan, name: str) -> object:
    """An answer's value; nothing where there is none."""
    known = known_in(plan, name)
    return None if known is None else known.value


def oven_said(plan: Plan, stand: str, went_in: datetime | None) -> StageAnswers:
    """How the heat stood at its newest look, as an answer beside the plan.

    Parameters
    ----------
    plan : Plan
        The plan with the forecast beside it.
    stand : str
        How it stood when it was gauged or tried last.
    went_in : datetime | None
        When the casting went in, where that is known.
    """
    ledger = ledger_of(plan)
    ledger.fact(STAND, Given(stand, Kind.COMPUTED, "derived"))
    if went_in is not None:
        ledger.fact(WENT_IN, Given(went_in, Kind.MEASURED, "the job"))
    return beside(plan, "heat", "Heat", ledger.result())
