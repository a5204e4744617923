"""One text of each error class, made by the class itself, for the page of errors.

Of a class that only stands over others the text is one of theirs.
"""

from __future__ import annotations

from collections.abc import Callable

from sleevewright import errors
from sleevewright.core.rubbing.extra import ScanExtraMissing
from sleevewright.core.rubbing.records import RubbingRefused
from sleevewright.jobs.jobfile import JobFileErrors, read_job
from sleevewright.services.tries import TooManyTries
from sleevewright.store import errors as store
from sleevewright.web.trial.entries import EntryErrors


def refused_file() -> str:
    """What is said of a job file with a slip of the pen in it."""
    try:
        read_job('[fit]\nwanted = "3.4 thou"\nleats = "2.6 thou"\n', name="job.toml")
    except JobFileErrors as refusal:
        return str(refusal)
    raise AssertionError("a key that does not exist was taken")


def said(refusal: errors.SleevewrightError) -> Callable[[], str]:
    """The text of a refusal."""
    return lambda: str(refusal)


PAIR = errors.InputError("casting outside diameter", 0.05, "m", "more than that of the fit")
ERROR_EXAMPLES: dict[type[errors.SleevewrightError], Callable[[], str]] = {
    errors.InputError: said(PAIR),
    errors.MissingInput: said(errors.MissingInput("sleeve_od", "sleeve_od=2.480in")),
    errors.OutOfRange: said(errors.OutOfRange("The table of tolerances", "3 to 500 mm")),
    errors.NotConverged: said(errors.NotConverged("The drop model", 200, 3e-4, 1e-6)),
    errors.StateError: said(errors.StateError("D-175", "at intake", "a measured sleeve")),
    errors.NotFound: said(errors.NotFound("material", "alu", ("aluminium-356", "grey-iron"))),
    RubbingRefused: said(RubbingRefused("The scan is mirrored. Scan the face that was rubbed.")),
    ScanExtraMissing: said(ScanExtraMissing()),
    JobFileErrors: refused_file,
    EntryErrors: said(EntryErrors({"casting_od": str(PAIR)}, ())),
    store.StoreError: said(store.StoreLocked("bench", 4711)),
    store.StoreLocked: said(store.StoreLocked("bench", 4711)),
    store.StoreDamaged: said(store.StoreDamaged("its database is not there", "records.db")),
    store.StoreUnavailable: said(store.StoreBusy("database is locked")),
    store.StoreBusy: said(store.StoreBusy("database is locked")),
    store.StoreUnreachable: said(store.StoreUnreachable("connection refused")),
    store.StoreFull: said(store.StoreFull("database or disk is full")),
    store.StoreStopped: said(store.StoreStopped("the store is closed")),
    store.UnknownJob: said(store.UnknownJob("J-99")),
    store.IdUsed: said(store.IdUsed("9f" * 16, 17)),
    store.DeviceNumberUsed: said(store.DeviceNumberUsed("J-31", "tablet-2", 8)),
    store.ChainBroken: said(
        store.ChainBroken("J-31", 5, "it does not continue the chain of the job")
    ),
    TooManyTries: said(TooManyTries("code", 89.0)),
}
"""One text of each kind, made by the class itself."""
