"""One place that turns what went wrong into a page, or into data where data was asked for."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException

from sleevewright.errors import (
    InputError,
    NotConverged,
    NotFound,
    OutOfRange,
    SleevewrightError,
    StateError,
)
from sleevewright.services.tries import TooManyTries
from sleevewright.store.errors import StoreUnavailable
from sleevewright.web.limits import wait_answer
from sleevewright.web.render import page
from sleevewright.web.security import HEADERS

STATUS: tuple[tuple[type[SleevewrightError], int], ...] = (
    (NotFound, 404),
    (StateError, 409),
    (InputError, 422),
    (OutOfRange, 422),
    (NotConverged, 422),
    (StoreUnavailable, 503),
)
HEADINGS = {
    404: "There is nothing at this address",
    409: "The job is not there yet",
    422: "This cannot be planned as it stands",
    503: "Nothing can be kept at the moment",
}
log = logging.getLogger(__name__)


def answer_errors(app: FastAPI) -> None:
    """Give an app its error pages."""
    app.add_exception_handler(SleevewrightError, _refused)
    app.add_exception_handler(TooManyTries, _too_early)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(RequestValidationError, _wrong_address)
    app.add_exception_handler(Exception, _broken)


def _answer(
    request: Request,
    status: int,
    heading: str,
    lines: Sequence[str],
    choices: Sequence[dict[str, str]] = (),
) -> Response:
    is_data = request.url.path.endswith(".json") or request.url.path.startswith("/api/")
    if is_data or request.method != "GET":
        told = " ".join(lines)
        return JSONResponse({"error": told, "text": told}, status_code=status)
    return page(
        "shared/message.html",
        status=status,
        heading=heading,
        lines=lines,
        choices=choices,
        place=request.app.state.folder.name,
    )


def _too_early(request: Request, error: Exception) -> Response:
    """A code or PIN is tried again before its time."""
    if isinstance(error, TooManyTries):
        return wait_answer(error)
    return _broken(request, error)


def _refused(request: Request, error: Exception) -> Response:
    status = next((code for kind, code in STATUS if isinstance(error, kind)), 422)
    heading = HEADINGS.get(status, HEADINGS[422])
    choices: list[dict[str, str]] = []
    if isinstance(error, NotFound):
        heading = f"There is no {error.what} {error.name}"
        if error.what == "job":
            known = [(f"/jobs/{quote(one, safe='')}", one) for one in error.known]
            choices = [{"href": href, "words": words} for href, words in known]
    return _answer(request, status, heading, [str(error)], choices)


def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    line = "The shelf lists every job of the folder; the address may have changed with its number."
    return _answer(request, status, HEADINGS.get(status, "This cannot be answered"), [line])


def _wrong_address(request: Request, error: Exception) -> Response:
    problems = error.errors() if isinstance(error, RequestValidationError) else []
    lines = [f"{problem['loc'][-1]}: {problem['msg']}." for problem in problems]
    return _answer(request, 422, "This address asks for something that is not there", lines)


def _broken(request: Request, error: Exception) -> Response:
    log.error("a page failed", exc_info=error)
    lines = [
        "The tool failed here; the mistake is its own and not in the job. No number is given.",
        "What was written stands in the window that the bench was started from.",
    ]
    answer = _answer(request, 500, "This page failed", lines)
    # What failed has left the door behind: its headers are put on here.
    answer.headers.update(HEADERS)
    return answer
