"""An exported job: the same bytes each time, read back whole, refused when anything changed."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from packed_jobs import JPEG, linked, packed, taken, whole
from sleevewright.errors import InputError
from sleevewright.jobs.folding import Folded
from sleevewright.store.chain import Link, link_hash
from sleevewright.store.packing import MANIFEST, RECORDS
from sleevewright.store.plainzip import Member, NotAsWritten, read_zip, write_zip


def test_an_export_comes_back_byte_for_byte(tmp_path: Path) -> None:
    """Records, seals and photo are read as they were written."""
    job = whole(tmp_path)
    package = taken(packed(job))
    assert package.links == job.links
    assert package.seals == job.seals
    assert package.content(package.attachments[0].sha256) == JPEG
    assert (package.job, package.last, package.head) == ("J-31", 8, job.links[-1].hash)


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    """Nothing of an export hangs on the hour or the machine."""
    first, second = packed(whole(tmp_path / "a")), packed(whole(tmp_path / "b"))
    assert first == second


def test_any_unzip_program_reads_it(tmp_path: Path) -> None:
    """The zip module of Python finds every member whole, and plain names only."""
    with zipfile.ZipFile(io.BytesIO(packed(whole(tmp_path)))) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        assert names[:3] == [MANIFEST, "job-1.toml", RECORDS]
        manifest = json.loads(archive.read(MANIFEST))
        for name, told in manifest["members"].items():
            content = archive.read(name)
            assert told == {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}
        assert archive.comment.decode() == hashlib.sha256(archive.read(MANIFEST)).hexdigest()


def repacked(content: bytes, change: Callable[[dict[str, bytes]], None]) -> bytes:
    """An export whose members were changed, with manifest and sums made to fit."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    change(members)
    manifest = json.loads(members.pop(MANIFEST))
    manifest["members"] = {
        name: {"size": len(said), "sha256": hashlib.sha256(said).hexdigest()}
        for name, said in members.items()
    }
    lines = members[RECORDS].decode().splitlines()
    if lines:
        last = json.loads(lines[-1])
        manifest |= {"last": last["number"], "head": last["hash"], "job": last["job"]}
    text = (json.dumps(manifest, indent=1) + "\n").encode()
    file = io.BytesIO()
    write_zip(
        file,
        [Member(MANIFEST, text), *(Member(name, said) for name, said in members.items())],
        comment=hashlib.sha256(text).hexdigest(),
    )
    return file.getvalue()


def with_records(links: tuple[Link, ...]) -> Callable[[dict[str, bytes]], None]:
    """A change that puts other records in."""

    def change(members: dict[str, bytes]) -> None:
        lines = [
            json.dumps(vars(link), ensure_ascii=False, separators=(",", ":")) for link in links
        ]
        members[RECORDS] = "".join(f"{line}\n" for line in lines).encode()

    return change


def test_a_change_that_fits_itself_is_still_taken(tmp_path: Path) -> None:
    """The helper of the next tests makes exports that are read where nothing is wrong."""
    job = whole(tmp_path)
    assert taken(repacked(packed(job), with_records(job.links))).links == job.links


def kind_changed(links: tuple[Link, ...], kind: str, body: dict[str, Any]) -> tuple[Link, ...]:
    """The records with one more, of which the chain is whole."""
    return (*links, linked("J-31", len(links) + 1, kind, body, links[-1].hash))


@pytest.mark.parametrize(
    ("kind", "body", "told"),
    [
        ("value", {"cell": "casting.mass"}, "text"),
        ("value", {"cell": "", "text": "x"}, "cell"),
        ("value", {"cell": "a", "text": "x", "cylinder": "one"}, "cylinder"),
        ("value", {"cell": "a", "text": "x", "cylinder": -1}, "cylinder"),
        ("value", {"cell": "a", "text": "x", "replaces": ["no id"]}, "replaces"),
        ("value", {"cell": "a", "text": "x", "nm": 1.5}, "nm"),
        ("value", {"cell": "a", "text": "x", "si": True}, "si"),
        ("set", {"set": "k", "stage": "parent"}, "feature"),
        ("lift", {"stage": "parent", "reason": ""}, "reason"),
        ("attachment", {"sha256": "../../x", "size": 1, "type": "image/png"}, "sha256"),
        ("job", {"cylinders": 0}, "cylinders"),
        ("job", {"cylinders": 10**9}, "cylinders"),
        ("secret", {}, "kind"),
    ],
)
def test_a_body_that_cannot_be_read_is_refused(
    tmp_path: Path, kind: str, body: dict[str, Any], told: str
) -> None:
    """A whole chain does not help a record that no fold could take."""
    job = whole(tmp_path)
    content = repacked(packed(job), with_records(kind_changed(job.links, kind, body)))
    with pytest.raises(InputError, match=told):
        taken(content)


def without_one(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """The third record left out."""
    return (*links[:2], *links[3:])


def twice(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """A record whose id and number of its device were used before, well chained."""
    last = links[-1]
    bare = replace(links[1], number=last.number + 1, previous=last.hash)
    return (*links, replace(bare, hash=link_hash(bare)))


def of_another_job(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """The last record belongs to another job."""
    return (*links, linked("J-32", len(links) + 1, "given-up", {"reason": "x"}, links[-1].hash))


def in_another_version(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """A record of a format that is not read here."""
    bare = replace(links[-1], version=2)
    return (*links[:-1], replace(bare, hash=link_hash(bare)))


def not_canonical(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """A body with a space more."""
    bare = replace(links[-1], body=links[-1].body.replace(":", ": ", 1))
    return (*links[:-1], replace(bare, hash=link_hash(bare)))


def with_nan(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """A body with what is no number."""
    bare = replace(links[1], body='{"cell":"a","si":NaN,"text":"x"}', previous=links[0].hash)
    return (links[0], replace(bare, hash=link_hash(bare)))


def deep(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """A body nested beyond reason."""
    bare = replace(links[1], body="[" * 100_000 + "]" * 100_000)
    return (links[0], replace(bare, hash=link_hash(bare)))


def nothing(_links: tuple[Link, ...]) -> tuple[Link, ...]:
    """No record at all."""
    return ()


@pytest.mark.parametrize(
    "change",
    [
        without_one,
        twice,
        of_another_job,
        in_another_version,
        not_canonical,
        with_nan,
        deep,
        nothing,
    ],
)
def test_records_that_are_no_whole_job_are_refused(
    tmp_path: Path, change: Callable[[tuple[Link, ...]], tuple[Link, ...]]
) -> None:
    """A gap, a repetition, another job, another format, another spelling, nothing."""
    job = whole(tmp_path)
    content = repacked(packed(job), with_records(change(job.links)))
    with pytest.raises(InputError, match=r"J-31\.zip"):
        taken(content)


def no_photo(members: dict[str, bytes]) -> None:
    """The photo left out."""
    del members[next(name for name in members if name.startswith("attachments/"))]


def one_photo_more(members: dict[str, bytes]) -> None:
    """A photo that no record speaks of."""
    members["attachments/" + hashlib.sha256(JPEG + b"x").hexdigest()] = JPEG + b"x"


def a_program(members: dict[str, bytes]) -> None:
    """The photo is something else now."""
    name = next(name for name in members if name.startswith("attachments/"))
    members[name] = b"MZ program"


def a_stranger(members: dict[str, bytes]) -> None:
    """A member that no export has."""
    members["notes.txt"] = b"x"


def no_seals(members: dict[str, bytes]) -> None:
    """The seals left out."""
    del members["seals.jsonl"]


def another_seal(members: dict[str, bytes]) -> None:
    """A seal over another head."""
    seal = json.loads(members["seals.jsonl"])
    seal["head"] = "0" * 64
    members["seals.jsonl"] = (json.dumps(seal, separators=(",", ":")) + "\n").encode()


@pytest.mark.parametrize(
    "change", [no_photo, one_photo_more, a_program, a_stranger, no_seals, another_seal]
)
def test_members_that_do_not_belong_together_are_refused(
    tmp_path: Path, change: Callable[[dict[str, bytes]], None]
) -> None:
    """Sums that fit do not help members that an export does not have."""
    content = repacked(packed(whole(tmp_path)), change)
    with pytest.raises(InputError, match=r"J-31\.zip"):
        taken(content)


@pytest.mark.parametrize(
    "name", ["../x", "/x", "a/../b", "a\\b", "C:x", ".x", "a//b", "", "a/b/c", "a\0b", "ä"]
)
def test_a_name_that_could_lead_elsewhere_is_neither_written_nor_read(name: str) -> None:
    """Names are plain on both sides, and nothing is ever unpacked by its name."""
    with pytest.raises(ValueError, match="name of a member"):
        write_zip(io.BytesIO(), [Member(name, b"x")], comment="")
    if not name or "\0" in name:
        return
    foreign = io.BytesIO()
    with zipfile.ZipFile(foreign, "w") as archive:
        archive.writestr(name, b"x")
    with pytest.raises(NotAsWritten):
        read_zip(foreign)


def test_a_zip_of_another_program_is_refused_with_what_to_do(tmp_path: Path) -> None:
    """Unpacked and packed again is not as it was written; the text says so."""
    foreign = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(packed(whole(tmp_path)))) as archive,
        zipfile.ZipFile(foreign, "w", zipfile.ZIP_DEFLATED) as other,
    ):
        for name in archive.namelist():
            other.writestr(name, archive.read(name))
    with pytest.raises(InputError, match="Ask for the export anew"):
        taken(foreign.getvalue())


@pytest.mark.parametrize("length", [0, 1, 3, 22, 29, 200, -1, -65, -400])
def test_a_file_that_was_cut_off_is_refused(tmp_path: Path, length: int) -> None:
    """However much is there of it."""
    content = packed(whole(tmp_path))
    with pytest.raises(InputError, match=r"J-31\.zip"):
        taken(content[:length])


def test_what_is_read_back_folds_to_the_same_job(tmp_path: Path) -> None:
    """The records of an export tell what they told before."""
    package = taken(packed(whole(tmp_path)))
    folded = Folded(link.record() for link in package.links)
    assert folded.text("casting.mass") == "5 lb"
    assert folded.last == 8
