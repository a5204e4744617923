"""What a data folder may look like after the power failed: recorded steps, and images of them.

Modelled: of each file, what was written before its last sync is there; of what was written
since, any part may be there, sector by sector of 512 bytes, an older or a newer one; a file
may be shorter than it was, or longer with zeros between; cuts (truncate) since the last sync
happened or did not; a file's name outlasts the cut once the file was synced and, in the
journal's folder, once the folder was and the data folder over it; a deleted file may be
back until something was synced.

Not modelled: a disk that acknowledges a sync and lies; damage of sectors that nobody wrote;
shared memory of the write-ahead log, which SQLite makes anew after a cut.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from file_layer import Watcher

SECTOR = 512


@dataclass(frozen=True)
class Step:
    """One thing that happened to a file, or that was told to whoever handed records in."""

    what: str  # opened, write, truncate, sync, folder, deleted, told
    name: str = ""
    offset: int = 0  # of a write; the size of a truncate
    data: bytes = b""
    ids: tuple[str, ...] = ()


class Unsynced(Watcher):
    """Leaves every sync out: what is only looked at need not outlast anything."""

    def before(self, what: str, name: str) -> str:
        """Skip what is a sync."""
        del name
        return "skip" if what == "sync" else ""


class Recorder(Unsynced):
    """Notes every step in its order; the syncs are noted and left out."""

    def __init__(self) -> None:
        self.steps: list[Step] = []

    def opened(self, name: str) -> None:
        """A file was opened."""
        self.steps.append(Step("opened", name))

    def wrote(self, name: str, offset: int, data: bytes) -> None:
        """Bytes were written."""
        self.steps.append(Step("write", name, offset, data))

    def truncated(self, name: str, size: int) -> None:
        """A file was cut."""
        self.steps.append(Step("truncate", name, size))

    def synced(self, name: str) -> None:
        """A file was synced."""
        self.steps.append(Step("sync", name))

    def folder_synced(self, name: str) -> None:
        """A folder's names were synced."""
        self.steps.append(Step("folder", name))

    def deleted(self, name: str) -> None:
        """A file was deleted."""
        self.steps.append(Step("deleted", name))

    def told(self, ids: Iterable[str]) -> None:
        """These records were acknowledged."""
        self.steps.append(Step("told", ids=tuple(ids)))


@dataclass
class _File:
    """One file: what is surely on the disk, and what may be."""

    sure: bytearray = field(default_factory=bytearray)
    since: list[Step] = field(default_factory=list)
    has_name: bool = False  # whether its name outlasts a cut
    is_synced: bool = False
    is_there: bool = True


class Platter:
    """The disk as it stands after some steps."""

    def __init__(self) -> None:
        self.told: set[str] = set()
        self._files: dict[str, _File] = {}
        self._folders: set[str] = set()  # whose own name outlasts a cut

    def take(self, step: Step) -> None:
        """One more step."""
        if step.what == "told":
            self.told.update(step.ids)
        elif step.what == "folder":
            self._sync_folder(step.name)
        elif step.what == "opened":
            known = self._files.get(step.name)
            if known is None or not known.is_there:
                self._files[step.name] = _File()
        else:
            self._change(self._files[step.name], step)

    def _sync_folder(self, folder: str) -> None:
        """The names of files in a folder outlast a cut; those of folders in the data folder."""
        folders = {name.partition("/")[0] for name in self._files if "/" in name}
        if folder not in folders:
            self._folders |= folders
        for name, one in self._files.items():
            if name.partition("/")[0] == folder:
                one.has_name = one.is_there

    def _has_folder(self, name: str, chance: random.Random | None, share: float) -> bool:
        """Whether the folder of a file is there after a cut."""
        folder = name.rpartition("/")[0]
        return chance is None or not folder or folder in self._folders or chance.random() < share

    def _change(self, one: _File, step: Step) -> None:
        if step.what == "deleted":
            one.is_there = False
        elif step.what == "sync":
            for earlier in one.since:
                _apply(one.sure, earlier)
            one.since.clear()
            one.is_synced = True
            one.has_name = one.has_name or "/" not in step.name
            for other in self._files.values():  # a journal of the file system takes all along
                other.has_name = other.has_name and other.is_there
        else:
            one.since.append(step)

    def image(self, chance: random.Random | None, share: float) -> dict[str, bytes]:
        """Files as they may be after a cut here.

        ``share`` of what was not synced is there; without ``chance`` all of it is.
        """
        found: dict[str, bytes] = {}
        for name, one in self._files.items():
            if chance is None:
                is_there = one.is_there
            elif one.is_there:
                is_there = one.has_name or chance.random() < share
            else:
                is_there = one.has_name and chance.random() >= share
            if is_there and self._has_folder(name, chance, share):
                content = bytearray(one.sure)
                for step in one.since:
                    for part in _parts(step, chance, share):
                        _apply(content, part)
                found[name] = bytes(content)
        return found


def _parts(step: Step, chance: random.Random | None, share: float) -> Iterator[Step]:
    """The sectors of a step that got to the disk."""
    if chance is None:
        yield step
    elif step.what == "truncate":
        if chance.random() < share:
            yield step
    else:
        place = step.offset
        end = step.offset + len(step.data)
        while place < end:
            until = min(end, (place // SECTOR + 1) * SECTOR)
            if chance.random() < share:
                data = step.data[place - step.offset : until - step.offset]
                yield Step("write", step.name, place, data)
            place = until


def _apply(content: bytearray, step: Step) -> None:
    if step.what == "truncate":
        del content[step.offset :]
        content.extend(bytes(step.offset - len(content)))
    else:
        content.extend(bytes(max(0, step.offset - len(content))))
        content[step.offset : step.offset + len(step.data)] = step.data


@dataclass(frozen=True)
class Cut:
    """A folder after a cut: its files, what had been acknowledged, and how it came about."""

    files: dict[str, bytes]
    told: frozenset[str]
    words: str

    def put(self, folder: Path) -> None:
        """Write the files."""
        for name, content in self.files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)


SHARES = (0.0, 0.1, 0.5, 0.9)


def cuts(steps: Sequence[Step], places: Iterable[int], seed: int) -> Iterator[Cut]:
    """At each place, counted in steps, one cut after another way.

    In turn: all that was written is there; none of what was not synced; a tenth, a half and
    nine tenths of its sectors.
    """
    chance = random.Random(seed)  # noqa: S311 - a repeatable choice, no secret
    platter, done = Platter(), 0
    for turn, place in enumerate(sorted(places)):
        for step in steps[done:place]:
            platter.take(step)
        done = max(done, place)
        way = turn % (len(SHARES) + 1)
        share = 1.0 if way == len(SHARES) else SHARES[way]
        files = platter.image(None if share == 1.0 else chance, share)
        words = f"before step {place} of {len(steps)}, {share:.0%} of what was not synced"
        yield Cut(files, frozenset(platter.told), words)


def places_to_cut(steps: Sequence[Step], count: int, seed: int) -> list[int]:
    """Places for cuts: half of them right after a sync, the others anywhere."""
    chance = random.Random(seed)  # noqa: S311 - likewise
    syncs = [place + 1 for place, step in enumerate(steps) if step.what == "sync"]
    first = chance.sample(syncs, min(count // 2, len(syncs)))
    anywhere = chance.sample(range(1, len(steps)), min(count - len(first), len(steps) - 1))
    return sorted(first + anywhere)
