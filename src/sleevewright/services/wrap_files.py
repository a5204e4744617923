"""Use case: a wrap as a file: for a printer, for a drawing program, for a machine."""

from __future__ import annotations

from collections.abc import Mapping

from sleevewright.errors import InputError
from sleevewright.services.wraps import MadeWrap, paper_named_or_first
from sleevewright.sheets.rim_scale import Rim, rim_sheets
from sleevewright.sheets.wrap_sheets import Titled, sheets_of

KINDS = {
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
    "dxf": "image/vnd.dxf",
}


def wrap_file(made: MadeWrap, kind: str) -> bytes:
    """A wrap as the bytes of a file.

    Raises
    ------
    InputError
        If there is no such kind of file, or the strip does not go on the paper.
    """
    if kind == "pdf":
        from sleevewright.sheets.wrap_pdf import pdf_of

        sheets = sheets_of(made.wrapped, made.titled, paper=made.paper)
        return pdf_of(sheets, title=made.titled.title)
    if kind == "svg":
        from sleevewright.sheets.wrap_svg import wrap_svg

        return wrap_svg(made.wrapped, made.titled).encode()
    if kind == "dxf":
        from sleevewright.sheets.wrap_dxf import wrap_dxf

        return wrap_dxf(made.wrapped).encode()
    raise InputError("file", kind, "", ", ".join(f".{one}" for one in KINDS))


def rim_file(rim: Rim, titled: Titled, texts: Mapping[str, str]) -> bytes:
    """The scale of a rim as a PDF: its rose and its strip."""
    from sleevewright.sheets.wrap_pdf import pdf_of

    return pdf_of(rim_sheets(rim, titled, paper=paper_named_or_first(texts)), title=titled.title)
