"""What is to be said of a heat's readings: which are held out and why, never, over the limit."""

from __future__ import annotations

from sleevewright.core.heat.heating import Heating, ReadyForecast, Remark
from sleevewright.core.heat.ready_said import STOP
from sleevewright.planning.answers import Plan
from sleevewright.planning.ledger import Ledger
from sleevewright.units import shown

MUCH, LIKELY_NEVER = 0.05, 0.5
SOURCE = "derived"
WORDS = {
    "f-as-c": "it fits a reading in °F that was told as °C: tell it again with its unit",
    "c-as-f": "it fits a reading in °C that was told as °F: tell it again with its unit",
    "thou-as-mm": "it fits thou that were told as mm: tell it again with its unit",
    "mm-as-thou": "it fits mm that were told as thou: tell it again with its unit",
    "thou-as-um": "it fits thou that were told as µm: tell it again with its unit",
    "um-as-thou": "it fits µm that were told as thou: tell it again with its unit",
    "sign": "it fits with the other sign: minus is still tight",
    "still": "the probe does not move while the casting warms: look for an open thermocouple",
    "fin": "the probe runs far ahead of the growth: it sits on a fin or thin metal; put it in the "
    "bore",
    "off": "it does not go with the others: read it again",
    "hours": "so long after the loading it would be hotter: minutes told as hours, or the oven far "
    "under its dial",
}


def say_of(
    ledger: Ledger,
    plan: Plan,
    heating: Heating,
    told: ReadyForecast,
    zeros: tuple[tuple[str, float], ...],
) -> None:
    """Say what is odd, what cannot be and what to do."""
    for one in told.remarks:
        ledger.caution(f"reading-{one.code}:ready_when.in", remark_words(one, plan.units), SOURCE)
    _say_never(ledger, plan, heating, told)
    if ledger.value("ready_when.say") == STOP:
        limit = _shown(heating.limit, "temperature", plan.units)
        ledger.caution(
            "over-limit:ready_when.say",
            f"The casting is over its limit of {limit}: take it out of the oven now, "
            "and test its hardness before it is used.",
            SOURCE,
        )
    for fit, value in zeros:
        off = _shown(value, "deviation", plan.units)
        ledger.advise(f"The gauge went back on the sleeve at {off} ({fit}): {_taken_off(value)}")
    ratio = told.expansion
    ledger.advise(
        f"The book's alloy grows 1, this casting grew {ratio:.3f} ± "
        f"{2.0 * told.expansion_standard:.3f} (about 95 %). The plan itself still stands on the "
        "book."
    )


def _taken_off(value: float) -> str:
    """Off which readings a gauge that is off its zero is taken."""
    if value > 0.0:
        return (
            "it was zeroed warm and shows slip that is not there. Taken off that fit's last "
            "reading and every other told after it."
        )
    return "taken off that fit's last reading only, as a gauge cools between two looks."


def _say_never(ledger: Ledger, plan: Plan, heating: Heating, told: ReadyForecast) -> None:
    """Say where the oven may never bring it there, and what would."""
    if told.chance_never < MUCH:
        return
    word = "never brings" if told.chance_never > LIKELY_NEVER else "may never bring"
    wanted = min(told.target + 35.0, heating.limit)
    oven = _shown(wanted, "temperature", plan.units)
    text = f"This oven as it is set {word} the casting to its slip. "
    if wanted > heating.oven + 1.0:
        text += f"Set it to {oven}, within the casting's limit"
    else:
        text += "It stands at the casting's limit already"
    ledger.caution(
        "oven-never:ready_when.in", text + "; else chill the sleeve or take less slip.", SOURCE
    )


def remark_words(one: Remark, system: str) -> str:
    """One odd reading in words: when, what was read, what the others say, what to do."""
    minutes = f"{one.time / 60.0:.0f} min"
    if one.what == "time":
        if one.code == "order":
            return f"The reading at {minutes} was told after a later one: sorted by its time."
        return f"The reading at {minutes} is left out: {WORDS[one.code]}. It is kept as told."
    quantity = "temperature" if one.what == "temperature" else "deviation"
    name = "probe" if one.what == "temperature" else "growth"
    read, expected = (_shown(value, quantity, system) for value in (one.read, one.expected))
    if one.code == "twice":
        return f"Two readings of the {name} at {minutes}: both are used. Is one time wrong?"
    if one.code == "fell":
        return (
            f"The growth at {minutes} ({read}) is less than before ({expected}): a reading, or the "
            "door? Read it again; press the door where it was open."
        )
    return (
        f"The {name} at {minutes} ({read}; the others say {expected}) is left out: "
        f"{WORDS[one.code]}. It is kept as told."
    )


def _shown(value: float, quantity: str, system: str) -> str:
    """A value with its unit."""
    figures = shown(value, quantity=quantity, system=system)
    return f"{figures.figure} {figures.unit}"
