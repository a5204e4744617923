"""A casting in the oven: what is known of it, what was read, when the door stood open.

Times count from when the casting went in.  Growth is what a bore gauge zeroed on the sleeve
shows: bore less sleeve, diametral, negative while the parts are still tight.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.expansion import ExpansionLaw

GROWTH_DOUBT = 5.1e-6
"""Standard uncertainty of one reading of a hot bore: 0.2 thou. [m]"""

PROBE_DOUBT = 3.0
"""Standard uncertainty of one reading of a probe on the casting. [K]"""

DOOR_SECONDS = 15.0
"""How long a door stands open for one look. [s]"""


@dataclass(frozen=True)
class OvenReading:
    """One look at the casting: slip on the gauge, temperature, or both.

    Parameters
    ----------
    time : float
        Time since the casting went in. [s]
    growth : float or None
        Needle over its zero on this sleeve, diametral; negative is still tight. [m]
    temperature : float or None
        Probe on the casting. [K]
    growth_standard : float
        Standard uncertainty of the growth. [m]
    temperature_standard : float
        Standard uncertainty of the temperature. [K]
    fit : str
        ``body`` or ``flange``: where the gauge was. [text]
    """

    time: float
    growth: float | None = None
    temperature: float | None = None
    growth_standard: float = GROWTH_DOUBT
    temperature_standard: float = PROBE_DOUBT
    fit: str = "body"


@dataclass(frozen=True)
class DoorOpening:
    """The door stood open, with the casting inside or taken out.

    Parameters
    ----------
    time : float
        When it was opened; later than now is a look that is planned. [s]
    seconds : float
        How long it was open, or the casting outside. [s]
    is_out : bool
        Whether the casting was taken out. [1]
    """

    time: float
    seconds: float = DOOR_SECONDS
    is_out: bool = False


@dataclass(frozen=True)
class HeatedFit:
    """One of the two fits: its sizes at 20 degC and what the needle must show.

    Parameters
    ----------
    diameter : float
        Outside diameter of the sleeve, or of its flange, at 20 degC. [m]
    interference : float
        Diametral interference at 20 degC. [m]
    go : float
        Needle over its zero at which the drop may begin, diametral. [m]
    interference_standard : float
        Standard uncertainty of the interference. [m]
    """

    diameter: float
    interference: float
    go: float
    interference_standard: float = 0.0


@dataclass(frozen=True)
class Heating:
    """What is known of a heat before anything was read.

    Parameters
    ----------
    fits : tuple[tuple[str, HeatedFit], ...]
        ``body`` and, where it has one, ``flange``; the slower decides. [record]
    casting_law : ExpansionLaw
        Expansion of the alloy, as the book has it. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    zero_temperature : float
        Sleeve as the gauge was zeroed on it. [K]
    start : float
        Casting as it went in. [K]
    room : float
        Air of the room. [K]
    oven : float
        Setting of the oven. [K]
    limit : float
        Hottest that the casting may get. [K]
    time_constant : float
        Time constant in this oven, the middle of what is believed. [s]
    time_constant_spread : float
        Standard uncertainty of its logarithm. [1]
    oven_standard : float
        Standard uncertainty of the air against the dial. [K]
    expansion_standard : float
        Relative standard uncertainty of the alloy's expansion. [1]
    start_standard : float
        Standard uncertainty of the start. [K]
    air_time_constant : float
        Time constant of the casting outside the oven. [s]
    """

    fits: tuple[tuple[str, HeatedFit], ...]
    casting_law: ExpansionLaw
    sleeve_law: ExpansionLaw
    zero_temperature: float
    start: float
    room: float
    oven: float
    limit: float
    time_constant: float = 900.0
    time_constant_spread: float = 0.4
    oven_standard: float = 6.0
    expansion_standard: float = 0.03
    start_standard: float = 2.0
    air_time_constant: float = 1400.0


@dataclass(frozen=True)
class Remark:
    """What is odd about a reading, and what to do about it.

    Parameters
    ----------
    code : str
        What kind of oddity. [text]
    time : float
        Time of the reading it is about. [s]
    what : str
        ``growth``, ``temperature`` or ``time``. [text]
    read, expected : float
        What was read and what the rest says, in SI. [m, K or s]
    is_held_out : bool
        Whether the forecast leaves this value out. [1]
    """

    code: str
    time: float
    what: str
    read: float
    expected: float
    is_held_out: bool = True


@dataclass(frozen=True)
class ReadyForecast:
    """When a casting is ready, as far as the readings say.

    Parameters
    ----------
    now : float
        Time at which it was asked. [s]
    levels : tuple[float, ...]
        Shares of the ready times below: 0.05, 0.25, 0.5, 0.75 and 0.95. [1]
    ready : tuple[float, ...]
        Ready times at those shares, since the casting went in; infinite is never. [s]
    look_again : float
        When a tenth of all courses are ready, not before now. [s]
    chance_never : float
        Chance that this oven never brings it there. [1]
    times : tuple[float, ...]
        Times of the rows below. [s]
    slips : tuple[tuple[float, ...], ...]
        For each level a row of slips on the gauge of the fit that decides. [m]
    temperatures : tuple[float, ...]
        Casting, in the middle. [K]
    temperature_now : float
        Casting now, in the middle. [K]
    temperature_now_standard : float
        Its standard uncertainty. [K]
    slip_now : tuple[tuple[str, float, float], ...]
        For each fit its slip on the gauge now and the standard uncertainty. [m]
    decides : str
        The fit that is ready last. [text]
    expansion : float
        Growth of this casting over that of its alloy in the book. [1]
    expansion_standard : float
        Its standard uncertainty. [1]
    oven : float
        Air of the oven as the readings have it. [K]
    oven_standard : float
        Its standard uncertainty. [K]
    time_constant : float
        Time constant as the readings have it. [s]
    time_constant_spread : float
        Standard uncertainty of its logarithm. [1]
    target : float
        Temperature at which the needle is at its go, in the middle. [K]
    used : int
        How many values the forecast rests on. [1]
    remarks : tuple[Remark, ...]
        What is odd about the readings. [record]
    """

    now: float
    levels: tuple[float, ...]
    ready: tuple[float, ...]
    look_again: float
    chance_never: float
    times: tuple[float, ...]
    slips: tuple[tuple[float, ...], ...]
    temperatures: tuple[float, ...]
    temperature_now: float
    temperature_now_standard: float
    slip_now: tuple[tuple[str, float, float], ...]
    decides: str
    expansion: float
    expansion_standard: float
    oven: float
    oven_standard: float
    time_constant: float
    time_constant_spread: float
    target: float
    used: int
    remarks: tuple[Remark, ...] = ()
