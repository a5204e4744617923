"""What was reckoned last, kept ready as long as all that it was reckoned from is the same.

A page, its figures as data and the next press all look at the same cylinder; each of them would
else reckon it anew.  What a thing was made from is kept beside it and compared, so that nothing
has to be told when something changes.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar, cast

Made = TypeVar("Made")

MOST = 48
"""Things kept; a look at a cylinder without the draws behind it is some 0.4 MB."""


class Kept:
    """The things that were asked for last, each with what it was made from."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._known: OrderedDict[Hashable, tuple[tuple[object, ...], object]] = OrderedDict()

    def get(self, key: Hashable, basis: tuple[object, ...], make: Callable[[], Made]) -> Made:
        """What is kept under a key if it was made from the same, else what is made now.

        Two who ask at one time may both make it, and get the same.

        Parameters
        ----------
        key : Hashable
            Name of what is asked for.
        basis : tuple[object, ...]
            Everything that it depends on, compared by ``==``; never changed in place.
        make : Callable[[], Made]
            Makes it from the basis and nothing else; what it raises is not kept.
        """
        with self._lock:
            found = self._known.get(key)
            if found is not None and found[0] == basis:
                self._known.move_to_end(key)
                return cast("Made", found[1])
        made = make()
        with self._lock:
            self._known[key] = (basis, made)
            self._known.move_to_end(key)
            while len(self._known) > self._most:
                self._known.popitem(last=False)
        return made
