"""A relation as it is written in the registry, set with its subscripts and powers."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

SIGNS = {
    "alpha": "α",
    "delta": "δ",
    "eps": "ε",
    "inf": "∞",
    "int": "∫",
    "mu": "μ",
    "nu": "ν",
    "pi": "π",
    "prod": "Π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "theta": "θ",
    "phi": "φ",
}
_PART = re.compile(
    r"(?P<name>[A-Za-z]+)(?:_(?P<sub>[A-Za-z0-9]+))?|\^(?P<power>-?\w+|\([^()]*\))"
    r"|(?P<minus>(?<=\s)-(?=\s))|(?P<times>\s?\*\s?)"
)


def typeset(expression: str) -> Markup:
    """An expression as markup: Greek letters, true minus signs, subscripts and powers.

    Examples
    --------
    >>> typeset("eps_s - D^2")
    Markup('ε<sub>s</sub> − D<sup>2</sup>')
    >>> typeset("int_out g(y) dy")
    Markup('∫<sub>out</sub> g(y) dy')
    """
    parts: list[Markup] = []
    at = 0
    for found in _PART.finditer(expression):
        parts.append(escape(expression[at : found.start()]))
        parts.append(_set(found))
        at = found.end()
    parts.append(escape(expression[at:]))
    return Markup("").join(parts)


def _set(found: re.Match[str]) -> Markup:
    if found["minus"]:
        return Markup("\N{MINUS SIGN}")
    if found["times"]:
        return Markup("\N{DOT OPERATOR}")
    if found["power"]:
        power = found["power"].strip("()")
        return Markup("<sup>{}</sup>").format(SIGNS.get(power, power))
    name = escape(SIGNS.get(found["name"], found["name"]))
    return name + Markup("<sub>{}</sub>").format(found["sub"]) if found["sub"] else name
