"""Use case: seal what was told before it goes on paper, and the head that is printed there.

Who holds the sheet holds an anchor: a store whose chain of seals does not contain this head
has lost or changed something that was there when the sheet was printed.
"""

from __future__ import annotations

from sleevewright.services.bench import Bench
from sleevewright.store.errors import StoreUnavailable

SHOWN = 16
"""Letters of a head that are printed; they tell one of 10^19 heads from another."""


def head_for_paper(bench: Bench) -> str:
    """The head of the seals, as it is printed; empty where nothing can be written now.

    A sheet is not refused because the disk is full: it then carries no head, and says so by
    its absence.
    """
    try:
        return bench.store.seal("print")[:SHOWN]
    except StoreUnavailable:
        return ""


def sealed_words(version: str, head: str) -> str:
    """Version of the code and the head, as they stand at the foot of a sheet.

    Examples
    --------
    >>> sealed_words("0.2", "3f2a91c0b77e01aa"), sealed_words("0.2", "")
    ('0.2, sealed 3f2a91c0b77e01aa', '0.2')
    """
    return f"{version}, sealed {head}" if head else version
