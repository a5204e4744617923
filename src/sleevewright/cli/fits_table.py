"""The picture of a fit as rows of text: one interference a row, its answers in columns.

Figures come from the document that the page draws from; nothing is computed or rounded
here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sleevewright.cli.plan_table import room, wrapped
from sleevewright.planning.answers import Verdict

Document = Mapping[str, Any]

HEADS = {
    "fit.running": "left running",
    "fit.hard": "left pulling",
    "fit.below_least": "below least",
    "fit.pressure": "contact pressure",
    "fit.casting_hoop": "casting pull",
    "fit.limit_margin": "to limit",
    "heat.casting": "heat to",
    "fit.grip": "lets go",
    "fit.close_up": "closes by",
    "finish.stock": "stock left",
}
"""Columns, in order, and the two short words over them."""

MARKS = {Verdict.GOOD.value: " ", Verdict.TOO_CLOSE.value: "?", Verdict.OUT.value: "!"}
SPARED = ("fit.casting_hoop", "finish.stock", "fit.pressure", "fit.grip", "fit.limit_margin")
"""Columns that go first where there is no room for all."""

GAP = " "

LEGEND = "? too close to call   ! out   > the fit as it stands, or the row nearest to it"


def fits_lines(picture: Document, seconds: Document, *, title: str) -> list[str]:
    """The picture as lines: a table, what it is held against, what to mind."""
    if not picture["interferences"]["values"]:
        return [title, *wrapped("needs", ", ".join(picture["needs"]))]
    columns = _columns(picture, seconds)
    rows = [f"{mark} {row}".rstrip() for mark, row in zip(_marks(picture), columns, strict=True)]
    chosen, least, across = (_figure(picture[key]) for key in ("chosen", "least", "diameter"))
    lines = [
        title,
        f"fit now {chosen}, the least {least}, all diametral, both parts at 20 °C, on {across}",
        f"middle of {picture['samples']} draws; --json has the band that 9 in 10 lie in, and all",
        "",
        *rows,
        "",
        LEGEND,
        _good(picture),
    ]
    for curve in picture["curves"]:
        if curve["limit"] is not None and curve["id"] in HEADS:
            lines += _limit(curve)
    return lines + _said(picture, seconds)


def _columns(picture: Document, seconds: Document) -> list[str]:
    """Heads, units and rows, each column as wide as it must be, as many as there is room for."""
    axis = picture["interferences"]
    columns = {"": ["the", "fit", axis["unit"], *axis["figures"]]}
    columns |= {one["id"]: _curve_cells(one) for one in _drawn(picture)}
    if seconds["low"]["figures"]:
        columns["seconds"] = ["free", "for", "s", *seconds["low"]["figures"]]
    widths = {name: max(map(len, column)) for name, column in columns.items()}
    for name in SPARED:
        if sum(widths.values()) + len(GAP) * len(widths) <= room():
            break
        widths.pop(name, None)
    kept = [(columns[name], width) for name, width in widths.items()]
    height = len(columns[""])
    return [GAP.join(f"{column[at]:>{width}}" for column, width in kept) for at in range(height)]


def _drawn(picture: Document) -> list[Document]:
    """The curves that have a column, in its order."""
    known = {one["id"]: one for one in picture["curves"]}
    return [known[name] for name in HEADS if name in known]


def _curve_cells(curve: Document) -> list[str]:
    """Two words, unit and figures with the mark of their verdict."""
    line = curve["middle"]
    verdicts = curve["verdicts"] or [Verdict.GOOD.value] * len(line["figures"])
    cells = [f"{one}{MARKS[said]}" for one, said in zip(line["figures"], verdicts, strict=True)]
    return [*(f"{word} " for word in (*HEADS[curve["id"]].split(), line["unit"])), *cells]


def _marks(picture: Document) -> list[str]:
    """A pointer before the row nearest to the fit as it stands, after three head lines."""
    values, chosen = picture["interferences"]["values"], picture["chosen"]["value"]
    nearest = min(range(len(values)), key=lambda at: abs(values[at] - chosen))
    return [" "] * 3 + [*(">" if at == nearest else " " for at in range(len(values)))]


def _good(picture: Document) -> str:
    """The fits that are good against every limit, or that there is none among these."""
    axis = picture["interferences"]
    pairs = zip(axis["figures"], picture["against"], strict=True)
    good = [figure for figure, one in pairs if not one["curves"]]
    if not good:
        return "none of these fits is good against every limit"
    return f"good against every limit: {', '.join(good)} {axis['unit']}"


def _figure(number: Document) -> str:
    """Figure and unit."""
    return f"{number['figure']} {number['unit']}"


def _limit(curve: Document) -> list[str]:
    """What a column is held against, and who says so."""
    words = f"at {curve['side']} {_figure(curve['limit'])}: {curve['limit_words']}"
    return wrapped(HEADS[curve["id"]], f"{words} ({curve['limit_source']})")


def _said(picture: Document, seconds: Document) -> list[str]:
    """Assumptions, needs and cautions, each once."""
    told = (*picture["curves"], seconds)
    assumed = dict.fromkeys(text for one in told for text in one["assumptions"])
    lines: list[str] = []
    heads: tuple[tuple[str, Sequence[str]], ...] = (
        ("assumed", list(assumed)),
        ("needs", list(dict.fromkeys([*picture["needs"], *seconds["needs"]]))),
        ("seconds", [seconds["heat"]] if seconds["low"]["figures"] else []),
        ("caution", [one["text"] for one in (*picture["cautions"], *seconds["cautions"])]),
    )
    for head, texts in heads:
        for text in texts:
            lines += wrapped(head, text)
    return lines
