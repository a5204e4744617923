"""The manifest of a backup: what lies in it, with size and SHA-256, and the ends of all chains.

A backup is a folder named by the moment it was made.  In it lie ``manifest.json`` and
``data/``, which has the form of a data folder.  The manifest holds the sum of itself, so
that nothing in a backup can change unseen.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sleevewright.jobs.records import canonical
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.wholefile import file_sha256, write_whole

FORMAT = "sleevewright backup"
FORMAT_VERSION = 1
MANIFEST = "manifest.json"
DATA = "data"
_NAME = re.compile(r"(\d{8}T\d{6}Z)(-\d+)?")
_STAMP = "%Y%m%dT%H%M%SZ"
_LARGEST = 200_000_000


@dataclass(frozen=True)
class Backup:
    """A backup as it lies on a disk, its manifest read and found as it was written."""

    path: Path
    made: str
    manifest: Mapping[str, Any]

    @property
    def name(self) -> str:
        """Name of its folder, which is how it is asked for."""
        return self.path.name

    @property
    def data(self) -> Path:
        """Where the data lie in it."""
        return self.path / DATA

    @property
    def files(self) -> Mapping[str, Mapping[str, Any]]:
        """Size and SHA-256 of each file, by its place within the data."""
        files: Mapping[str, Mapping[str, Any]] = self.manifest["files"]
        return files

    @property
    def size(self) -> int:
        """Bytes of all files."""
        return sum(int(told["size"]) for told in self.files.values())


def backup_name(made: datetime) -> str:
    """Name of the folder of a backup.

    Examples
    --------
    >>> backup_name(datetime(2031, 5, 2, 8, 0, 5, tzinfo=UTC))
    '20310502T080005Z'
    """
    return made.astimezone(UTC).strftime(_STAMP)


def time_of(name: str) -> datetime | None:
    """When a backup was made, by its name; nothing for a folder that is none."""
    found = _NAME.fullmatch(name)
    if found is None:
        return None
    try:
        return datetime.strptime(found[1], _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def backup_folders(home: Path) -> tuple[Path, ...]:
    """Folders of all finished backups, oldest first; what was broken off is passed by."""
    if not home.is_dir():
        return ()
    found = [path for path in home.iterdir() if time_of(path.name) and path.is_dir()]
    return tuple(sorted(found, key=_order))


def _order(path: Path) -> tuple[str, int]:
    found = _NAME.fullmatch(path.name)
    return (found[1], int((found[2] or "-0")[1:])) if found else ("", 0)


def write_manifest(folder: Path, told: Mapping[str, Any]) -> None:
    """Write the manifest of a backup, with the sum of itself."""
    whole = {"format": FORMAT, "version": FORMAT_VERSION, **told}
    whole["sum"] = _sum(whole)
    write_whole(folder / MANIFEST, _text(whole))


def read_backup(path: Path) -> Backup:
    """Read the manifest of a backup.

    Raises
    ------
    StoreDamaged
        If it is not there, or not as it was written.
    """
    place = path / MANIFEST
    try:
        if place.stat().st_size > _LARGEST:
            raise StoreDamaged("the manifest of the backup is too large", path.name)
        text = place.read_bytes()
        told = json.loads(text)
    except (OSError, ValueError, RecursionError) as error:
        raise StoreDamaged("the manifest of the backup cannot be read", path.name) from error
    if not isinstance(told, dict) or told.get("sum") != _sum(told) or _text(told) != text:
        raise StoreDamaged("the manifest of the backup was changed", path.name)
    if (told.get("format"), told.get("version")) != (FORMAT, FORMAT_VERSION):
        raise StoreDamaged("the backup has a format that is not read here", path.name)
    return Backup(path, str(told["made"]), told)


def check_files(backup: Backup) -> None:
    """Hold every file of a backup against its manifest.

    Raises
    ------
    StoreDamaged
        If one is missing, too many, or not what it was; the text names it.
    """
    there = set(files_under(backup.data))
    for name in sorted(there ^ set(backup.files)):
        what = "lacks" if name in backup.files else "has, of which its manifest knows nothing,"
        raise StoreDamaged(f"the backup {what} {name}", backup.name)
    for name, told in backup.files.items():
        path = backup.data / name
        if path.stat().st_size != told["size"] or file_sha256(path) != told["sha256"]:
            raise StoreDamaged(f"{name} of the backup is not what was written", backup.name)


def files_under(folder: Path) -> tuple[str, ...]:
    """Places of all files under a folder, with slashes; links are passed by."""
    return tuple(
        sorted(
            path.relative_to(folder).as_posix()
            for path in folder.rglob("*")
            if path.is_file() and not path.is_symlink()
        )
    )


def _sum(told: Mapping[str, Any]) -> str:
    rest = {key: value for key, value in told.items() if key != "sum"}
    return hashlib.sha256(canonical(rest).encode("utf-8", "surrogatepass")).hexdigest()


def _text(told: Mapping[str, Any]) -> bytes:
    return (json.dumps(told, indent=1, sort_keys=True, ensure_ascii=True) + "\n").encode()
