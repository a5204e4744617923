"""Addresses of pairing: the code, the devices, the shop's own certificate."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field
from starlette.exceptions import HTTPException

from sleevewright.services.certificates import fingerprint, root_certificate
from sleevewright.services.devices import PairingDesk
from sleevewright.services.network import qr_modules, spaced
from sleevewright.web.bench_of import bench_of
from sleevewright.web.limits import asker, refuse_elsewhere
from sleevewright.web.pair.cookies import DeviceCookies
from sleevewright.web.render import page
from sleevewright.web.times import moment_words

router = APIRouter()

DeviceKey = Annotated[str, Path(max_length=64)]


class CodeIn(BaseModel):
    """A code that was keyed, and what the device is to be called."""

    code: str = Field(max_length=40)
    name: str = Field(default="", max_length=100)
    device: str = Field(default="", max_length=64)
    back: str = Field(default="/", max_length=2000)


class NameIn(BaseModel):
    """What a device is to be called."""

    name: str = Field(max_length=100)


@dataclass(frozen=True)
class DeviceLine:
    """A device of the list."""

    id: str
    name: str
    is_paired: bool
    since: str
    seen: str
    is_this: bool


@router.get("/pair", response_class=HTMLResponse)
def show_pairing(request: Request, back: Annotated[str, Query(max_length=2000)] = "/") -> Response:
    """The code on the bench's own screen; the field for it on a device of the shop."""
    desk = desk_of(request)
    is_own = _is_own(request)
    device = getattr(request.state, "device", "")
    if desk is not None and not is_own and not device:
        desk.asked()
    code = desk.code() if desk is not None and is_own else ""
    place = desk.places[0] if desk is not None and desk.places else ""
    folder = bench_of(request).folder
    context: dict[str, Any] = {
        "is_lan": desk is not None,
        "is_own": is_own,
        "device_name": getattr(request.state, "device_name", ""),
        "code": spaced(code) if code else "",
        "minutes": max(1, round(desk.seconds_left() / 60.0)) if desk is not None and code else 0,
        "places": desk.places if desk is not None and is_own else (),
        "qr": qr_drawing(f"{place}#code={code}") if code and place else None,
        "devices": _lines(request, desk) if is_own or device else (),
        "fingerprint": fingerprint(folder),
        "back": local(back),
        "mark": _mark(desk, code),
    }
    return page("pair/pair.html", **context)


@router.get("/pair/state")
def show_state(request: Request) -> JSONResponse:
    """Whether this device is paired; on the bench's own screen, a mark that changes with it."""
    desk = desk_of(request)
    told: dict[str, object] = {"paired": bool(getattr(request.state, "device", ""))}
    if _is_own(request):
        told["mark"] = _mark(desk, desk.code() if desk is not None else "")
    return JSONResponse(told, headers={"Cache-Control": "no-store"})


@router.post("/pair")
def pair(request: Request, told: CodeIn) -> JSONResponse:
    """Pair the device that sends this, if the code is right."""
    desk = _wanted(request)
    paired = desk.pair(told.code, name=told.name, device=told.device, asker=asker(request))
    device = paired.device
    answer = JSONResponse({"device": device.id, "name": device.name, "href": local(told.back)})
    cookies = DeviceCookies(desk.bench.folder)
    cookies.put(answer, device.id, paired.secret, is_tls=request.url.scheme == "https")
    return answer


@router.post("/pair/devices/{device}")
def rename(request: Request, device: DeviceKey, told: NameIn) -> JSONResponse:
    """Call a device otherwise: itself, or any on the bench's own screen."""
    if getattr(request.state, "device", "") != device:
        refuse_elsewhere(request, "Pair")
    return JSONResponse({"name": _wanted(request).rename(device, told.name).name, "href": "/pair"})


@router.post("/pair/devices/{device}/unpair")
def unpair(request: Request, device: DeviceKey) -> JSONResponse:
    """Let a device go: itself, or any on the bench's own screen."""
    if getattr(request.state, "device", "") != device:
        refuse_elsewhere(request, "Pair")
    return JSONResponse({"name": _wanted(request).unpair(device).name, "href": "/pair"})


@router.get("/pair/root.crt")
def root(request: Request) -> Response:
    """The certificate of the shop's own authority, where there is one."""
    content = root_certificate(bench_of(request).folder)
    if content is None:
        raise HTTPException(404)
    headers = {"Content-Disposition": 'attachment; filename="sleevewright-root.crt"'}
    return Response(content, media_type="application/x-x509-ca-cert", headers=headers)


def desk_of(request: Request) -> PairingDesk | None:
    """The desk of a bench that is on a network; nothing where it is for this machine alone."""
    return getattr(request.app.state, "desk", None)


def local(back: str) -> str:
    """Where to go on, if it is an address of the bench; else the shelf.

    Examples
    --------
    >>> local("/jobs/J-31?part=plan"), local("//evil.test"), local("/pair")
    ('/jobs/J-31?part=plan', '/', '/')
    """
    is_ours = back.startswith("/") and not back.startswith("//") and back.isprintable()
    return back if is_ours and "\\" not in back and not back.startswith("/pair") else "/"


def qr_drawing(text: str) -> dict[str, object]:
    """A QR code as one path of a drawing: a stroke for each run of dark modules."""
    rows = qr_modules(text)
    strokes = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            run = next((k for k in range(x, len(row)) if row[k] != row[x]), len(row)) - x
            if row[x]:
                strokes.append(f"M{x} {y}h{run}v1h-{run}z")
            x += run
    return {"size": len(rows), "path": "".join(strokes)}


def _wanted(request: Request) -> PairingDesk:
    desk = desk_of(request)
    if desk is None:
        raise HTTPException(404)
    return desk


def _is_own(request: Request) -> bool:
    return bool(getattr(request.state, "is_own_screen", True))


def _lines(request: Request, desk: PairingDesk | None) -> tuple[DeviceLine, ...]:
    if desk is None:
        return ()
    now = desk.bench.clock()
    this = getattr(request.state, "device", "")
    return tuple(
        DeviceLine(
            one.id,
            one.name,
            one.is_paired,
            moment_words(one.paired, now=now),
            moment_words(one.last_seen, now=now),
            one.id == this,
        )
        for one in desk.devices()
    )


def _mark(desk: PairingDesk | None, code: str) -> str:
    """Changes when the page of the bench's own screen would look otherwise."""
    if desk is None or not code:
        return ""
    told = [code, *(f"{one.id}{one.name}{one.is_paired}" for one in desk.devices())]
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]
