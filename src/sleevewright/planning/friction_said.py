"""What is printed about the friction of shrunk fits: each pairing with its state and source."""

from __future__ import annotations

from sleevewright.core.fits.friction import FrictionRow, friction_band, friction_rows
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Given, Ledger, Line

NONE_OF_ALL = "iron in aluminium is in no table that was found"
EVIDENCE = {"read": "read", "memory": "from memory, not seen again"}


def band_said() -> str:
    """The least and the greatest that is printed, in words."""
    low, high = friction_band(friction_rows())
    return f"printed {low:.2f} to {high:.2f}"


def enter_friction_said(ledger: Ledger) -> None:
    """Enter the band that is taken for friction, with everything that was printed of it."""
    rows = friction_rows()
    line = Line(
        "fit.friction_says",
        "Friction that is taken",
        Quantity.TEXT,
        of=f"{NONE_OF_ALL}, so the band of all is taken: {'; '.join(map(_said, rows))}",
    )
    source = ", ".join(dict.fromkeys(one.source for one in rows))
    ledger.fact(line, Given(band_said(), Kind.ASSUMED, source=source))


def _said(row: FrictionRow) -> str:
    """One row in words."""
    figures = f"{row.low:.2f}" if row.low == row.high else f"{row.low:.2f} to {row.high:.2f}"
    return f"{row.pairing}, {row.state} {figures} ({row.source}, {EVIDENCE[row.evidence]})"
