"""Job files as they lie on disk: each read once, and again when it was changed."""

from __future__ import annotations

import os
import threading
from collections import OrderedDict
from pathlib import Path

from sleevewright.errors import InputError, NotFound, SleevewrightError
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Job

LARGEST_JOB_FILE = 2_000_000
"""Bytes; a written job is a few thousand. Beyond this it is some other file."""

FILES_KEPT = 512
"""More than lie on a shelf; a job that was read is small beside its plan."""

_Version = tuple[str, int, int]  # path, time of change in nanoseconds, size


class JobFiles:
    """What was read of each file, be it a job or a refusal, until the file changes."""

    def __init__(self, kept: int = FILES_KEPT) -> None:
        self._kept = kept
        self._read: OrderedDict[_Version, Job | SleevewrightError] = OrderedDict()
        self._lock = threading.Lock()

    def load(self, path: Path) -> Job:
        """The job of a file; every problem in it is an error that names its line."""
        version = _version(path)
        with self._lock:
            found = self._read.get(version)
            if found is not None:
                self._read.move_to_end(version)
        if found is None:
            found = _read(path, version[2])
            with self._lock:
                self._read[version] = found
                while len(self._read) > self._kept:
                    self._read.popitem(last=False)
        if isinstance(found, SleevewrightError):
            raise found.with_traceback(None)
        return found


_files = JobFiles()


def load_job(path: Path) -> Job:
    """Read a job file; every problem in it is an error that names its line."""
    return _files.load(path)


def printable(name: str) -> str:
    """A file's name as it can be shown: what is no text in it is a question mark."""
    return name.encode(errors="replace").decode()


def _version(path: Path) -> _Version:
    """What changes when the file does."""
    try:
        stated = path.stat()
    except FileNotFoundError as missing:
        raise NotFound("job file", printable(path.name)) from missing
    except OSError as refused:
        raise _unreadable(path, refused) from refused
    return os.fspath(path.absolute()), stated.st_mtime_ns, stated.st_size


def _read(path: Path, size: int) -> Job | SleevewrightError:
    """The job, or why there is none; what the disk refuses is raised and not kept."""
    name = printable(path.name)
    if size > LARGEST_JOB_FILE:
        allowed = f"a job file of at most {LARGEST_JOB_FILE} bytes"
        return InputError(name, f"{size} bytes", "", allowed)
    try:
        return read_job(path.read_text(encoding="utf-8"), name=name)
    except UnicodeDecodeError:
        return InputError(name, "not text", "", "a text file in UTF-8")
    except FileNotFoundError as missing:
        raise NotFound("job file", name) from missing
    except OSError as refused:
        raise _unreadable(path, refused) from refused
    except SleevewrightError as refused:
        return refused


def _unreadable(path: Path, refused: OSError) -> InputError:
    """What the disk said."""
    reason = refused.strerror or "not readable"
    return InputError(printable(path.name), reason, "", "a job file that can be read")
