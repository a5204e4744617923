"""Addresses of the shop's gauges: the list, a new one, a change, out of use and back."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.core.gauges import GaugeKind, gauge_kind, gauge_kinds
from sleevewright.core.materials import default
from sleevewright.services.instruments import (
    TOLD,
    Instrument,
    instruments,
    retire_instrument,
    revive_instrument,
    save_instrument,
    snapshot,
)
from sleevewright.services.setting_specs import PRACTICE
from sleevewright.services.studies import can_be_studied
from sleevewright.web.bench_of import bench_of
from sleevewright.web.render import page

router = APIRouter()

HERE = "/instruments"


class GaugeIn(BaseModel):
    """What is told of a gauge; ``was`` names the one that is changed."""

    was: str = Field(default="", max_length=100)
    name: str | None = Field(default=None, max_length=200)
    kind: str | None = Field(default=None, max_length=60)
    range: str | None = Field(default=None, max_length=100)
    resolution: str | None = Field(default=None, max_length=100)
    setting: str | None = Field(default=None, max_length=100)
    set_from: str | None = Field(default=None, max_length=100)
    turn: str | None = Field(default=None, max_length=100)
    last_check: str | None = Field(default=None, max_length=40)
    next_due: str | None = Field(default=None, max_length=40)


class NameIn(BaseModel):
    """The gauge that is meant."""

    was: str = Field(max_length=100)


@dataclass(frozen=True)
class GaugeLine:
    """A gauge as the page shows it."""

    gauge: Instrument
    kind: GaugeKind
    is_overdue: bool

    @property
    def repeats(self) -> str:
        """What one reading repeats to and who says so; empty where no hand reads it."""
        one = self.gauge
        if not can_be_studied(one):
            return ""
        if one.repeatability:
            known = f"{one.repeatability}, {one.repeatability_freedom} degrees of freedom"
            return f"One reading repeats to {known}, by {one.repeatability_from}."
        usual = default("reading_repeatability")
        return f"One reading repeats to {usual.stated}, assumed: {PRACTICE}."


@router.get(HERE, response_class=HTMLResponse)
def show_instruments(request: Request) -> Response:
    """Every gauge of the shop, and a new one."""
    bench = bench_of(request)
    today = bench.clock().date()
    known = instruments(bench, with_retired=True)
    lines = [GaugeLine(one, gauge_kind(one.kind), one.is_overdue(today)) for one in known]
    used = [line for line in lines if line.gauge.is_active]
    return page(
        "instruments/instruments.html",
        lines=used,
        retired=[line for line in lines if not line.gauge.is_active],
        kinds=gauge_kinds(),
        names=[line.gauge.name for line in used],
        overdue=sum(line.is_overdue for line in used),
        practice=PRACTICE,
    )


@router.post(HERE)
def save(request: Request, told: GaugeIn) -> JSONResponse:
    """Enter a gauge, or change one."""
    texts = {key: text for key in TOLD if (text := getattr(told, key)) is not None}
    return _answer(save_instrument(bench_of(request), texts, name=told.was))


@router.post(f"{HERE}/retire")
def retire(request: Request, told: NameIn) -> JSONResponse:
    """Take a gauge out of use."""
    return _answer(retire_instrument(bench_of(request), told.was))


@router.post(f"{HERE}/revive")
def revive(request: Request, told: NameIn) -> JSONResponse:
    """Put it back."""
    return _answer(revive_instrument(bench_of(request), told.was))


@router.get("/api/instruments")
def list_instruments(request: Request) -> JSONResponse:
    """The gauges in use, each with what a set of readings carries of it."""
    bench = bench_of(request)
    told = [{**asdict(one), "snapshot": snapshot(bench, one.name)} for one in instruments(bench)]
    return JSONResponse({"instruments": told})


def _answer(one: Instrument) -> JSONResponse:
    return JSONResponse({"name": one.name, "is_active": one.is_active, "href": HERE})
