"""Readings of scans that go on beside the pages: begun, asked after, looked at, forgotten."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace

from sleevewright.core.rubbing.records import Tell
from sleevewright.errors import NotFound, SleevewrightError, StateError
from sleevewright.services.rubbings import ReadScan

MOST_KEPT = 6
"""Outcomes that are remembered; the oldest is forgotten for the next."""

MOST_AT_ONCE = 2
"""Readings that go on at the same time."""

BROKEN = (
    ArithmeticError, AssertionError, AttributeError, EOFError, ImportError, LookupError,
    MemoryError, OSError, RuntimeError, SyntaxError, TypeError, ValueError,
)  # fmt: skip
"""What a scan that nobody foresaw can raise: it is told on the page, a thread has nobody else."""

Work = Callable[[Tell], ReadScan]


@dataclass(frozen=True)
class Progress:
    """How far a reading is.

    Attributes
    ----------
    owner : str
        The page that it was begun on.
    share : float
        Part that is done, 1 at the end.
    words : str
        What it does now.
    read : ReadScan | None
        The outcome; nothing while it goes on or where it was refused.
    refused : str
        Why there is no outcome; empty where there may be one.
    sha256 : str
        The scan that is read.
    """

    owner: str
    share: float = 0.0
    words: str = "begun"
    read: ReadScan | None = None
    refused: str = ""
    sha256: str = ""

    @property
    def is_done(self) -> bool:
        """Whether nothing more will come."""
        return self.read is not None or bool(self.refused)


class RubbingDesk:
    """Readings by their key; each goes on in a thread of its own."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._found: OrderedDict[str, Progress] = OrderedDict()

    def begin(self, owner: str, work: Work, *, sha256: str = "") -> str:
        """Begin a reading; returns its key.

        Raises
        ------
        StateError
            If as many go on already as this machine can do beside its pages.
        """
        with self._lock:
            going = sum(not one.is_done for one in self._found.values())
            if going >= MOST_AT_ONCE:
                raise StateError(owner, "waiting: other scans are read now", "a moment's patience")
            key = secrets.token_hex(12)
            self._found[key] = Progress(owner, sha256=sha256)
            done = [name for name, one in self._found.items() if one.is_done]
            for name in done[: max(0, len(self._found) - MOST_KEPT)]:
                del self._found[name]
        threading.Thread(target=self._run, args=(key, work), name="rubbing", daemon=True).start()
        return key

    def progress(self, key: str, owner: str) -> Progress:
        """How far a reading is.

        Raises
        ------
        NotFound
            If there is none with this key on this page: the bench was started anew, or it was
            read long ago.
        """
        with self._lock:
            found = self._found.get(key)
        if found is None or found.owner != owner:
            raise NotFound("reading of a scan", key)
        return found

    def _run(self, key: str, work: Work) -> None:
        """Read, and remember what came of it."""

        def tell(share: float, words: str) -> None:
            self._set(key, lambda one: replace(one, share=min(share, 0.99), words=words))

        try:
            read = work(tell)
        except SleevewrightError as refused:
            said = str(refused)
            self._set(key, lambda one: replace(one, refused=said))
        except BROKEN as broken:
            name = type(broken).__name__
            self._set(
                key, lambda one: replace(one, refused=f"The scan could not be read ({name}).")
            )
        else:
            self._set(key, lambda one: replace(one, read=read, share=1.0, words="done"))

    def _set(self, key: str, change: Callable[[Progress], Progress]) -> None:
        """Note how far a reading is, unless it was forgotten."""
        with self._lock:
            if key in self._found:
                self._found[key] = change(self._found[key])
