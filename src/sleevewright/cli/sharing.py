"""How the process of a bench shares its time: who waits for an answer comes first.

Plans are reckoned beside the keeping of readings, by the same interpreter, one step of one
thread at a time.  Three things of the interpreter and of its number library would let a
reading wait for far longer than its own work takes, and are set here.
"""

from __future__ import annotations

import gc
import os
import sys

TURN = 0.0005
"""Seconds that a thread computes before another that waits has its turn. A reading takes some
six turns; with the usual 5 ms it would wait 30 ms while a plan is reckoned. [s]"""

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""A second thread of the number library spins while it waits for work, on the core that readings
are kept by; the small tables of a plan gain nothing from it."""


def share_time() -> None:
    """Set turns and threads; before the number library is loaded, which reads it then."""
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")
    sys.setswitchinterval(TURN)


def leave_out_what_is_loaded() -> None:
    """Keep what was loaded by now out of every later round of the collector.

    A round through everything stops all threads for 60 to 130 ms, and nearly all of it is code.
    """
    gc.collect()
    gc.freeze()
