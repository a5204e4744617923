"""Addresses of a job's price: the page, its paper, and what is written from it."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, Response

from sleevewright.services.invoices import make_invoice
from sleevewright.services.jobs import folded_job, look
from sleevewright.services.pricepaper import invoice_paper, offer_paper
from sleevewright.services.quotes import Agreeing, agree, make_quote
from sleevewright.web.bench_of import bench_of
from sleevewright.web.plan.routes import named
from sleevewright.web.price.entries import AgreeIn, InvoiceIn, OfferIn, changes_of, wanted_of
from sleevewright.web.price.views import price_page
from sleevewright.web.render import page

router = APIRouter()

JobNumber = Annotated[str, Path(max_length=64)]
Identity = Annotated[str, Path(max_length=80)]


@router.get("/jobs/{number}/price", response_class=HTMLResponse)
def show_price(request: Request, number: JobNumber) -> Response:
    """Options side by side with their prices, what is agreed, the invoice."""
    bench = bench_of(request)
    return page("price/price.html", page=price_page(bench, look(bench, number)))


@router.get("/jobs/{number}/offers/{identity}/offer.pdf")
def show_offer(request: Request, number: JobNumber, identity: Identity) -> Response:
    """An offer for paper."""
    return _paper(offer_paper(bench_of(request), number, identity), f"offer-{identity}.pdf")


@router.get("/jobs/{number}/invoices/{identity}/invoice.pdf")
def show_invoice(request: Request, number: JobNumber, identity: Identity) -> Response:
    """An invoice for paper."""
    return _paper(invoice_paper(bench_of(request), number, identity), f"invoice-{identity}.pdf")


@router.post("/api/jobs/{number}/offers")
async def make_offer(request: Request, number: JobNumber, offer: OfferIn) -> Response:
    """Make an offer of the options, or its next revision."""
    bench, fields = bench_of(request), offer.root

    def made() -> str:
        wanted = wanted_of(fields)
        until, note = fields.get("until", ""), fields.get("note", "")
        return make_quote(bench, number, wanted, valid_until=until, note=note).id

    return _done(number, await run_in_threadpool(made))


@router.post("/api/jobs/{number}/offers/{identity}/agree")
async def agree_offer(
    request: Request, number: JobNumber, identity: Identity, agreed: AgreeIn
) -> Response:
    """Note that the customer agreed to an option."""
    bench = bench_of(request)

    def noted() -> str:
        told = Agreeing(identity, agreed.option, agreed.how, agreed.person)
        return str(agree(bench, number, told))

    return _done(number, await run_in_threadpool(noted))


@router.post("/api/jobs/{number}/invoices")
async def issue_invoice(request: Request, number: JobNumber, invoice: InvoiceIn) -> Response:
    """Make the invoice of what was agreed."""
    bench, fields = bench_of(request), invoice.root

    def made() -> str:
        folded_job(bench, number)
        changes = changes_of(fields)
        return make_invoice(bench, number, changes, paid=fields.get("paid", "")).id

    return _done(number, await run_in_threadpool(made))


def _done(number: str, identity: str) -> Response:
    """What was made, and the page that shows it."""
    href = f"/jobs/{quote(number, safe='')}/price"
    return JSONResponse({"id": identity, "href": href}, status_code=201)


def _paper(sheet: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f"inline; {named(name)}"}
    return Response(sheet, media_type="application/pdf", headers=headers)
