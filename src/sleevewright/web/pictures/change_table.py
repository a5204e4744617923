"""Before, after and change of several quantities, as a table that is read row by row."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup, escape


@dataclass(frozen=True)
class ChangeRow:
    """One quantity in figures; empty where a figure is not known."""

    words: str
    unit: str
    before: str
    after: str
    change: str


def change_table(rows: tuple[ChangeRow, ...], *, caption: str, heads: tuple[str, ...]) -> Markup:
    """The rows under their heads; a figure that is not known is a dash."""
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in heads)
    body = "".join(_row(one) for one in rows)
    return Markup(  # noqa: S704 - every word put in was escaped
        f'<table class="figures changes"><caption class="note">{escape(caption)}</caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
    )


def _row(row: ChangeRow) -> str:
    """One row."""
    cells = "".join(
        f'<td class="fig">{escape(one or "–")}</td>' for one in (row.before, row.after, row.change)
    )
    unit = f' <span class="note">{escape(row.unit)}</span>' if row.unit else ""
    return f'<tr><th scope="row">{escape(row.words)}{unit}</th>{cells}</tr>'
