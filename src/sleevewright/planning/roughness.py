"""What the roughness of both faces takes off the fit, under each of the printed shares."""

from __future__ import annotations

from sleevewright.core.fits.flattened import roughness_words
from sleevewright.core.fits.interference import effective_interference
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import assumed, given
from sleevewright.planning.fit_sides import FitRecord
from sleevewright.planning.ledger import CENTRALLY, SHALLOWLY, Given, How, Ledger, Line

Q = Quantity

FIT_FLATTENING = Line(
    "fit.flattening",
    "Share of Rz that flattens",
    Q.RATIO,
    of="of the sum of both Rz, on the diameter",
    is_detail=True,
)
FIT_EFFECTIVE = Line(
    "fit.effective",
    "Fit that works",
    Q.DEVIATION,
    "diametral",
    of="after the roughness has flattened",
    is_detail=True,
)
ROUGHNESS = Line("fit.roughness", "Roughness", Q.TEXT, of="what it takes off the fit")
PRINTED = (("none", 0.0, "k = 0"), ("low", 0.4, "k = 0.4"), ("high", 0.8, "k = 0.8"))
"""Ending of the id, the share, and how it is told: the three that are printed."""


def enter_roughness(ledger: Ledger, record: FitRecord) -> None:
    """Enter what the roughness of both faces takes off the fit, and what others would take."""
    parts = (("sleeve", record.sleeve), ("casting", record.casting))
    for prefix, part in parts:
        zero = assumed(0.0, source="practice", note="none entered: nothing is taken off")
        told = zero if part.roughness is None else given(part.roughness, need="roughness")
        ledger.fact(
            Line(f"fit.{prefix}_roughness", f"Rz of the {prefix}", Q.DEVIATION, is_detail=True),
            told,
        )
    flattening = ledger.default("roughness_flattening")
    ledger.fact(
        FIT_FLATTENING,
        Given(flattening.value, Kind.ASSUMED, source=flattening.source, typed=flattening.note),
    )
    ledger.compute(
        ROUGHNESS,
        roughness_words,
        CENTRALLY,
        sleeve_roughness="fit.sleeve_roughness",
        casting_roughness="fit.casting_roughness",
        flattening="fit.flattening",
    )
    _enter_left(ledger, FIT_EFFECTIVE, "fit.flattening", SHALLOWLY)
    if any(part.roughness is not None for _, part in parts):
        _enter_printed(ledger)


def _enter_printed(ledger: Ledger) -> None:
    """Enter the fit that works under each printed share, side by side."""
    for key, share, words in PRINTED:
        ledger.fact(
            Line(f"fit.flattening_{key}", words, Q.RATIO, is_detail=True),
            Given(share, Kind.CHOSEN, source="din-7190-1"),
        )
        line = Line(
            f"fit.effective_{key}",
            f"Fit that works, {words}",
            Q.DEVIATION,
            "diametral",
            of="what one of the printed shares would leave",
        )
        _enter_left(ledger, line, f"fit.flattening_{key}", CENTRALLY)


def _enter_left(ledger: Ledger, line: Line, share: str, how: How) -> None:
    """Enter what is left of the fit when a share of both Rz has flattened."""
    ledger.compute(
        line,
        effective_interference,
        how,
        interference="fit.as_cut",
        sleeve_roughness="fit.sleeve_roughness",
        casting_roughness="fit.casting_roughness",
        flattening=share,
    )
