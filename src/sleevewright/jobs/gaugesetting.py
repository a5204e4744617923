"""How a gauge that compares was set: on what, how large, how warm, and which way its dial runs.

A set of readings keeps it beside its gauge.  The nominal of such a set is the size at which
the dial shows nought.  Some dials run backwards: that is told once for a set, and its signed
readings are turned round where they are read, nowhere else.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.entries import disbelief
from sleevewright.jobs.field import Field, Sort, Span
from sleevewright.jobs.fields import fields_of
from sleevewright.jobs.fields_readings import MASTERS, SLEEVE_MASTERS
from sleevewright.jobs.stagefield import StageGrid
from sleevewright.units import Dimension, parse
from sleevewright.units.dictation import decimal_of
from sleevewright.units.exact import NM, nanometres
from sleevewright.units.keyed import keyed

PLUS_LARGER, PLUS_SMALLER = "plus-larger", "plus-smaller"
SIGNS = (PLUS_LARGER, PLUS_SMALLER)
"""Which way a dial runs: most show plus for the larger bore."""

TOLD = (
    "gauge_expansion",
    "set_on",
    "master",
    "master_temperature",
    "master_expansion",
    "set_by",
    "set_at",
)
"""What of a setting a job file holds too."""

_BLOCK = ("gauge-block",)
_INSIDE = ("micrometer", "setting-ring", "gauge-block")
_SUITED = {
    "parent-bore": (*_INSIDE, "sleeve"),
    "parent-pass": (*_INSIDE, "sleeve"),
    "counterbore": (*_INSIDE, "flange"),
    "as-found-bore": _INSIDE,
    "sleeve-id": _INSIDE,
    "cooled-bore": _INSIDE,
    "finish-bore": _INSIDE,
    "sleeve-od": _BLOCK,
    "sleeve-od-again": _BLOCK,
    "flange-od": _BLOCK,
}
_WORDS = {"sleeve": "this sleeve", "flange": "this flange"}
_SHOWS = Span(Dimension.LENGTH, -0.002, 0.002)
_SIZE = Span(Dimension.LENGTH, 0.3e-3, 0.400)
_LONGEST = 60
_INCH = frozenset({"in", "thou", "tenths"})
_ALIKE_NM = 500
"""A nominal and a master that differ by less are the same size, written twice. [nm]"""


def masters_of(feature: str) -> tuple[str, ...]:
    """What a gauge of this feature can be set on; nothing where none compares."""
    return _SUITED.get(feature, ())


def master_words(set_on: str) -> str:
    """A master as it is said.

    Examples
    --------
    >>> master_words("setting-ring"), master_words("sleeve")
    ('setting ring', 'this sleeve')
    """
    return _WORDS.get(set_on, set_on.replace("-", " "))


def refuse_master(feature: str, set_on: str, *, field: str = "set_on") -> None:
    """Refuse a master of another kind than the feature.

    Raises
    ------
    InputError
        If a gauge of this feature cannot be set on such a master.
    """
    suited = masters_of(feature)
    if set_on and set_on not in suited:
        allowed = ", ".join(suited) or "nothing: its gauge has a scale of its own"
        hint = "A ring or a sleeve for a bore, a block for an outside; each flange for its own."
        shown = f"{master_words(set_on)} for {feature}"
        raise InputError(field, clipped(shown), "", allowed, hint)


def turned(plain: str, body: Mapping[str, Any]) -> str:
    """A signed reading as over the nominal: of a dial that runs backwards the sign is turned.

    Examples
    --------
    >>> turned("+0.8", {"sign": "plus-smaller"}), turned("2.6368 in", {"sign": "plus-smaller"})
    ('-0.8', '2.6368 in')
    """
    if body.get("sign") != PLUS_SMALLER or plain[:1] not in ("+", "-"):
        return plain
    return ("-" if plain[0] == "+" else "+") + plain[1:]


def read_setting(
    body: Mapping[str, Any], kept: Mapping[str, Any], grid: StageGrid, system: str
) -> dict[str, Any]:
    """How the gauge of a set was set, as it is kept; the nominal where it follows from it.

    Parameters
    ----------
    body : Mapping[str, Any]
        ``set_on``, ``master`` (its name), ``master_size``, ``master_reads`` (what the dial
        showed on it), ``master_temperature``, ``master_expansion``, ``gauge_expansion``,
        ``sign``, ``set_by``, ``set_at``; what is left out was not told.
    kept : Mapping[str, Any]
        What is kept of the set already, its nominal and unit among it.
    grid : StageGrid
        The feature.
    system : str
        ``inch`` or ``metric``.

    Returns
    -------
    dict[str, Any]
        The same, all of it usable.

    Raises
    ------
    InputError
        If a part of it cannot be taken, or the size of the master is not told.
    """
    found: dict[str, Any] = {}
    for key in ("set_on", "sign"):
        allowed = MASTERS if key == "set_on" else SIGNS
        if body.get(key):
            found[key] = _one_of(key, body[key], allowed)
    refuse_master(grid.feature, found.get("set_on", ""))
    for key in ("master", "set_by", "set_at"):
        if body.get(key):
            found[key] = _words(key, body[key])
    for key in ("gauge_expansion", "master_temperature", "master_expansion"):
        if body.get(key):
            found[key] = _quantity(fields_of("grid")[key], body[key], system)
    if body.get("master_size"):
        found["master_size"] = _quantity(_as_field("master_size", _SIZE), body["master_size"], "")
    if body.get("master_reads"):
        found["master_reads"] = _words("master_reads", body["master_reads"])
    if found.get("sign") and grid.is_deviation:
        raise InputError("sign", found["sign"], "", "nothing: this feature is read around zero")
    found |= _zero_size(found, kept)
    _refuse_without_size(found, kept)
    return found


def _zero_size(found: Mapping[str, Any], kept: Mapping[str, Any]) -> dict[str, str]:
    """The size at which the dial shows nought, from the master and what it showed there."""
    if "master_size" not in found:
        if "master_reads" in found:
            hint = "Give the size of the master, or leave out what the dial showed."
            raise InputError("master_size", "nothing", "", "a size as 2.6360 in", hint)
        return {}
    shown = 0
    if "master_reads" in found:
        shown = nanometres(keyed(found["master_reads"]), kept["unit"], field="master_reads")
        _refuse_odd("master_reads", found["master_reads"], shown)
    side = -1 if found.get("sign") == PLUS_SMALLER else 1
    zero = nanometres(keyed(found["master_size"]), field="master_size") - side * shown
    if "nominal" not in kept:
        return {"nominal": _size_text(zero, kept["unit"])}
    told = nanometres(keyed(str(kept["nominal"])), field="nominal")
    if abs(told - zero) > _ALIKE_NM:
        hint = "Leave Dial at nought empty: it follows from the master."
        allowed = f"{_size_text(zero, kept['unit'])}, as the master and its reading say"
        raise InputError("nominal", clipped(str(kept["nominal"])), "", allowed, hint)
    return {}


def _refuse_odd(key: str, text: str, nm: int) -> None:
    """A dial shows little on its master, or the master is another one."""
    low, high = round(_SHOWS.low * 1e9), round(_SHOWS.high * 1e9)
    if not low <= nm <= high:
        hint = "Look at the unit, or take a master that is nearer."
        raise InputError(key, clipped(text), "", "within 2 mm (79 thou) of nought", hint)


def _refuse_without_size(found: Mapping[str, Any], kept: Mapping[str, Any]) -> None:
    """A gauge that was set on something was set to a size."""
    if "set_on" in found and not ("nominal" in kept or "nominal" in found):
        words = master_words(found["set_on"])
        hint = "For a sleeve it is its outside as the micrometer has it."
        raise InputError("master_size", "nothing", "", f"the size of the {words}, with unit", hint)


def _size_text(nm: int, unit: str) -> str:
    """A size with its unit, all its digits and as many as a gauge shows.

    In inches where they end there, else in millimetres.
    """
    inches = Fraction(nm, 1) / NM["in"]
    is_inch = unit in _INCH and (inches * 10**8).denominator == 1
    number, digits = (inches, 4) if is_inch else (Fraction(nm, 10**6), 3)
    whole, _, part = decimal_of(number).partition(".")
    return f"{whole}.{part.ljust(digits, '0')} {'in' if is_inch else 'mm'}"


def _as_field(key: str, span: Span) -> Field:
    return Field(key, Sort.QUANTITY, "", "2.6360 in", span)


def _one_of(key: str, said: object, allowed: tuple[str, ...]) -> str:
    if said not in allowed:
        raise InputError(key, clipped(repr(said)), "", ", ".join(allowed))
    return str(said)


def _words(key: str, said: object) -> str:
    if not isinstance(said, str) or len(said) > _LONGEST or not said.isprintable():
        raise InputError(key, clipped(repr(said)), "", f"at most {_LONGEST} letters")
    return said.strip()


def _quantity(field: Field, said: object, system: str) -> str:
    """A size, a temperature or a coefficient of the master, as it was keyed."""
    key = field.path.rpartition(".")[2]
    if not isinstance(said, str) or field.span is None:
        raise InputError(key, clipped(repr(said)), "", f"as {field.example}")
    spoken = parse(keyed(said), field=key, dimension=field.span.dimension)
    refused = disbelief(field, spoken, key, system or "metric")
    if refused is not None:
        raise refused
    return said.strip()


def is_on_sleeve(set_on: str) -> bool:
    """Whether a gauge was zeroed on the very part that the bore is for."""
    return set_on in SLEEVE_MASTERS
