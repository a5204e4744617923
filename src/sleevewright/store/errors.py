"""What the store refuses, each with what to do next.

``StoreFull`` passes when there is room again; ``StoreStopped`` lasts until the program is
started anew, because after a failed write nobody knows what the disk holds.
"""

from __future__ import annotations

from sleevewright.errors import NotFound, SleevewrightError, clipped


class StoreError(SleevewrightError):
    """Something that the keeping of records cannot do."""


class StoreLocked(StoreError):
    """Another process writes in the data folder."""

    def __init__(self, folder: str, pid: int = 0, address: str = "") -> None:
        self.folder = folder
        self.pid = pid
        self.address = address
        who = f"process {pid}" if pid else "another process"
        where = f", which answers at {address}" if address else ""
        super().__init__(
            f"The data folder {folder} is written by {who}{where}. "
            "One process writes at a time: use that one, or stop it first."
        )


class StoreDamaged(StoreError):
    """What lies in the data folder cannot be trusted; nothing in it was changed."""

    def __init__(self, what: str, where: str = "") -> None:
        self.what = what
        self.where = where
        place = f" ({where})" if where else ""
        super().__init__(
            f"The store is damaged: {what}{place}. Its files were left as they are. "
            "Restore the last backup; the journal then brings what the backup lacks."
        )


class StoreUnavailable(StoreError):
    """Nothing can be kept now; what was handed in must be handed in again later."""


class StoreBusy(StoreUnavailable):
    """Another program holds the database; nothing was kept."""

    def __init__(self, detail: str = "") -> None:
        self.detail = detail
        said = f" ({clipped(detail)})" if detail else ""
        super().__init__(
            f"Another program holds the database{said}: nothing of this was kept. Close it and "
            "hand it in again; what waits on the devices is not lost."
        )


class StoreUnreachable(StoreUnavailable):
    """The database server does not answer."""

    def __init__(self, detail: str) -> None:
        self.detail = detail
        super().__init__(
            f"The database server does not answer ({clipped(detail)}). Start it, then start "
            "the program anew; what waits on the devices is not lost."
        )


class StoreFull(StoreUnavailable):
    """The disk is full; nothing was kept, and keeping goes on when there is room."""

    def __init__(self, detail: str = "") -> None:
        self.detail = detail
        said = f" ({clipped(detail)})" if detail else ""
        super().__init__(
            f"The disk is full{said}: nothing of this was kept. Make room on it and hand it "
            "in again; what waits on the devices is not lost."
        )


class StoreStopped(StoreUnavailable):
    """Writing was stopped after a fault of the disk, until the program is started anew."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(
            f"Nothing is written any more: {reason}. Look to the disk, then start the program "
            "anew; what waits on the devices is not lost."
        )


class UnknownJob(NotFound):
    """A job of which the store holds no record."""

    def __init__(self, job: str) -> None:
        super().__init__("job", job)


class IdUsed(StoreError):
    """A record's id came a second time with another content."""

    def __init__(self, told: str, number: int) -> None:
        self.id = told
        self.number = number
        super().__init__(
            f"The id {clipped(told)} is kept already as record {number} with another content. "
            "What is told anew needs an id of its own."
        )


class DeviceNumberUsed(StoreError):
    """A device's number of a job came a second time with another id."""

    def __init__(self, job: str, device: str, device_number: int) -> None:
        self.job = job
        self.device = device
        self.device_number = device_number
        super().__init__(
            f"Number {device_number} of device {clipped(device)!r} is kept already for job "
            f"{clipped(job)!r} under another id. The device must count on from its last number."
        )


class ChainBroken(StoreError):
    """Records handed in with their hashes do not continue the chain of the job."""

    def __init__(self, job: str, number: int, why: str) -> None:
        self.job = job
        self.number = number
        super().__init__(
            f"Record {number} of job {clipped(job)!r} does not fit: {why}. Nothing of it was "
            "taken; ask for the file anew from where it was exported."
        )
