"""The bench: a data folder with its store opened, as every use case takes it.

One process serves one folder.  What is reckoned from records in the same transaction, as
the shelf and the search, is named here once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sleevewright.services.kept import Kept
from sleevewright.store.store import Store, open_store

SERVER = "bench"
"""The device under whose name the server itself writes records."""


def _now() -> datetime:
    return datetime.now(UTC)


def nobody(*_told: object) -> None:
    """Nobody is told."""


@dataclass
class Bench:
    """A folder with its open store, and the clock that the folder's use cases go by."""

    store: Store
    clock: Callable[[], datetime] = field(default=_now)
    on_look: Callable[[Any], None] = nobody
    """Told of each look at a cylinder, after it was made; returns at once."""
    on_change: Callable[[], None] = nobody
    """Told when a setting or a gauge of the shop was changed; returns at once."""
    kept: Kept = field(default_factory=Kept)
    """What was reckoned of jobs last."""

    @property
    def folder(self) -> Path:
        """Where the data lie."""
        return self.store.folder

    def now(self) -> str:
        """The moment, UTC, as it is written in records."""
        return self.clock().isoformat(timespec="milliseconds").replace("+00:00", "Z")

    @property
    def trouble(self) -> str:
        """What is wrong with the store, in words that are shown first; empty where all is well."""
        store = self.store
        if store.stopped:
            return f"Nothing is written now. {store.stopped}"
        if store.verdict is not None and not store.verdict.is_good:
            return (
                f"The store is damaged: {store.verdict.problem}. Export what you need, then "
                "restore the last good backup; nothing was set aside or replaced."
            )
        return " ".join(store.cautions)

    def close(self) -> None:
        """Let the folder go."""
        self.store.close()


def open_bench(folder: Path, *, url: str | None = None) -> Bench:
    """Open a data folder for writing; it is made where there is none.

    Raises
    ------
    StoreLocked
        If another process writes in it; the text names it.
    StoreDamaged
        If what lies there cannot be trusted; the text says what to do.
    """
    from sleevewright.services.shelf import ShelfProjection, VerdictProjection
    from sleevewright.store.dropmemory import DropMemoryProjection
    from sleevewright.store.memory import MemoryProjection
    from sleevewright.store.portlibrary import PortLibraryProjection
    from sleevewright.store.search import SearchProjection

    folder.mkdir(parents=True, exist_ok=True)
    projections = (
        VerdictProjection(),
        ShelfProjection(),
        SearchProjection(),
        MemoryProjection(),
        DropMemoryProjection(),
        PortLibraryProjection(),
    )
    store = open_store(folder, url=url, projections=projections)
    return Bench(store)


@contextmanager
def opened(folder: Path, *, url: str | None = None) -> Iterator[Bench]:
    """A bench for the length of a block."""
    bench = open_bench(folder, url=url)
    try:
        yield bench
    finally:
        bench.close()
