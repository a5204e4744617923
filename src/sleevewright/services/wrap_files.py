"""Use case: a wrap as a file: for a printer, for a drawing program, for a machine."""

from __future__ import annotations

from collections.abc import Mapping

from sleevewright.errors import InputError, StateError
from sleevewright.planning.answers import Plan
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import Look, look
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.wraps import MadeWrap, Wanted, paper_named_or_first, rim_of, wrap_of
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


RIM = "rim"
"""What is asked for as a map where the scale of the flange is wanted."""


def written(
    bench: Bench, number: str, cylinder: int, texts: Mapping[str, str], kind: str
) -> tuple[bytes, tuple[str, ...]]:
    """A file of a cylinder's ports, and what is to be known of it.

    Raises
    ------
    NotFound
        If there is no such job or cylinder.
    StateError
        If what was told contradicts itself, so that there is no plan.
    InputError
        If something that was typed cannot be, or the map was not told.
    """
    seen = look(bench, number, cylinder)
    plan, told = told_of(bench, seen)
    if texts.get("map") == RIM:
        if kind != "pdf":
            raise InputError("file", kind, "", "pdf", "The scale of the rim is paper alone.")
        return rim_file(*rim_of(plan, told, wanted_of(seen), texts), texts), ()
    made = wrap_of(plan, told, wanted_of(seen), texts)
    return wrap_file(made, kind), made.words


def told_of(bench: Bench, seen: Look) -> tuple[Plan, CutTold]:
    """The plan of a look with what was told of its cylinder.

    Raises
    ------
    StateError
        If there is no plan.
    """
    if seen.plan is None:
        raise StateError(seen.number, "not to be planned", seen.problem)
    living = seen.living
    return seen.plan, CutTold(living.job, seen.folded, seen.cylinder, shop_of_bench(bench))


def wanted_of(seen: Look) -> Wanted:
    """Whose sheet it is."""
    number = seen.number
    if seen.folded.cylinders > 1:
        number = f"{number}, cylinder {seen.cylinder}"
    return Wanted(number, bool(seen.folded.opened.get("invented")))
