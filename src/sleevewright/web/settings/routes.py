"""Addresses of the shop's settings: the one list, a change, the way back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.services.bench import Bench
from sleevewright.services.people import Person, name_of, people
from sleevewright.services.setting_rows import GROUPS
from sleevewright.services.setting_specs import Sort, Spec
from sleevewright.services.settings import (
    SettingRow,
    change_setting,
    reset_setting,
    setting,
    settings,
    units_of,
)
from sleevewright.web.bench_of import bench_of
from sleevewright.web.limits import refuse_elsewhere
from sleevewright.web.render import page
from sleevewright.web.times import moment_words

router = APIRouter()

HERE = "/settings"
SettingKey = Annotated[str, Path(max_length=60)]


class SettingIn(BaseModel):
    """A text for a setting, and who says so."""

    text: str = Field(default="", max_length=200)
    person: str = Field(default="", max_length=12)


@dataclass(frozen=True)
class SettingLine:
    """A setting as the page shows it."""

    row: SettingRow
    allowed: str
    by: str
    when: str

    @property
    def spec(self) -> Spec:
        """What it is."""
        return self.row.spec

    @property
    def is_choice(self) -> bool:
        """Whether it is chosen from a list."""
        return self.row.spec.sort is Sort.CHOICE


@router.get(HERE, response_class=HTMLResponse)
def show_settings(request: Request) -> Response:
    """Every setting, group by group."""
    bench = bench_of(request)
    system = units_of(bench)
    lines = [_line(bench, row, system) for row in settings(bench)]
    groups = [(group, [one for one in lines if one.spec.group == group]) for group in GROUPS]
    return page(
        "settings/settings.html",
        groups=groups,
        own=sum(one.row.is_own for one in lines),
        people=people(bench),
    )


@router.post(f"{HERE}/{{key}}")
def change(request: Request, key: SettingKey, told: SettingIn) -> JSONResponse:
    """Set one, on the bench's own screen only."""
    refuse_elsewhere(request, "Settings")
    bench = bench_of(request)
    row = change_setting(bench, key, told.text, person=_known(people(bench), told.person))
    return _answer(row)


@router.post(f"{HERE}/{{key}}/reset")
def reset(request: Request, key: SettingKey) -> JSONResponse:
    """Go back to what stands without it, on the bench's own screen only."""
    refuse_elsewhere(request, "Settings")
    return _answer(reset_setting(bench_of(request), key))


@router.get("/api/settings/{key}")
def show_one(request: Request, key: SettingKey) -> JSONResponse:
    """One setting as data."""
    return _answer(setting(bench_of(request), key))


def _known(found: tuple[Person, ...], told: str) -> str:
    """Who says so: of several the one that was chosen, alone the one that is there."""
    if len(found) == 1:
        return found[0].key
    return told if told in {one.key for one in found} else ""


def _answer(row: SettingRow) -> JSONResponse:
    href = f"{HERE}#{row.spec.key}"
    told = {"key": row.spec.key, "text": row.text, "is_own": row.is_own, "href": href}
    return JSONResponse(told)


def _line(bench: Bench, row: SettingRow, system: str) -> SettingLine:
    by = name_of(bench, row.person) if row.person else ""
    when = moment_words(row.said, now=bench.clock()) if row.said else ""
    return SettingLine(row, row.spec.allowed_words(system), by, when)
