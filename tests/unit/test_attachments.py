"""Attachments: what is taken by its first bytes, named by its hash, found by nothing else."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from sleevewright.errors import InputError, NotFound
from sleevewright.store.attachments import (
    FOLDER,
    LARGEST_ATTACHMENT,
    attachment_names,
    attachment_path,
    keep_attachment,
    read_attachment,
    type_of,
)
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.wholefile import UNFINISHED, whole_file

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00 invented photo"
PNG = b"\x89PNG\r\n\x1a\n invented drawing"
WEBP = b"RIFF\x24\x00\x00\x00WEBPVP8 invented"
PDF = b"%PDF-1.7 invented scan"


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (JPEG, "image/jpeg"),
        (PNG, "image/png"),
        (WEBP, "image/webp"),
        (PDF, "application/pdf"),
    ],
)
def test_a_kept_file_comes_back_as_it_was(tmp_path: Path, content: bytes, kind: str) -> None:
    """Content and type come back by the SHA-256 of the content, which is the file's name."""
    one = keep_attachment(tmp_path, content)
    assert (one.sha256, one.size, one.type) == (
        hashlib.sha256(content).hexdigest(),
        len(content),
        kind,
    )
    assert read_attachment(tmp_path, one.sha256) == (content, kind)
    assert attachment_names(tmp_path) == (one.sha256,)
    assert (tmp_path / FOLDER / one.sha256).read_bytes() == content


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"MZ\x90\x00",
        b"<svg onload='x()'>",
        b"<!DOCTYPE html>",
        b"GIF89a",
        b"PK\x03\x04",
        b"RIFF\x24\x00\x00\x00WAVE",
        b" %PDF-1.7",
        b"\xff\xd8",
        b"\x89PNG",
    ],
)
def test_what_is_neither_photo_nor_pdf_is_refused(tmp_path: Path, content: bytes) -> None:
    """The first bytes decide; nothing is written of what is refused."""
    with pytest.raises(InputError, match="JPEG"):
        keep_attachment(tmp_path, content)
    assert attachment_names(tmp_path) == ()
    assert list(tmp_path.iterdir()) == []


def test_what_is_too_large_is_refused(tmp_path: Path) -> None:
    """The limit stands in the refusal."""
    with pytest.raises(InputError, match=str(LARGEST_ATTACHMENT)):
        keep_attachment(tmp_path, PNG + bytes(LARGEST_ATTACHMENT))


@pytest.mark.parametrize(
    "name",
    ["", "..", "../records.db", "a" * 63, "A" * 64, "g" * 64, "a" * 64 + "\n", "/etc/hosts", "\0"],
)
def test_only_a_hash_is_ever_looked_up(tmp_path: Path, name: str) -> None:
    """No name but 64 small hexadecimal digits reaches the disk."""
    (tmp_path / FOLDER).mkdir()
    (tmp_path / "records.db").write_bytes(b"x")
    with pytest.raises(NotFound):
        attachment_path(tmp_path, name)


def test_a_damaged_attachment_is_not_handed_out_and_can_be_kept_anew(tmp_path: Path) -> None:
    """A changed byte is told; the same photo taken in again puts it right."""
    one = keep_attachment(tmp_path, JPEG)
    path = attachment_path(tmp_path, one.sha256)
    path.write_bytes(JPEG[:-1] + b"X")
    with pytest.raises(StoreDamaged, match=one.sha256):
        read_attachment(tmp_path, one.sha256)
    keep_attachment(tmp_path, JPEG)
    assert read_attachment(tmp_path, one.sha256)[0] == JPEG


def test_the_same_content_is_written_once(tmp_path: Path) -> None:
    """A photo that comes twice is one file, and the first stays untouched."""
    path = attachment_path(tmp_path, keep_attachment(tmp_path, PNG).sha256)
    os.utime(path, (1, 1))
    keep_attachment(tmp_path, PNG)
    assert path.stat().st_mtime == 1
    assert attachment_names(tmp_path) == (path.name,)


def test_a_write_that_breaks_off_leaves_nothing(tmp_path: Path) -> None:
    """A file takes its name only when it is whole; the unfinished one goes."""
    place = tmp_path / "ticket.pdf"
    place.write_bytes(b"old")

    def write() -> None:
        with whole_file(place) as file:
            file.write(b"half of it")
            assert [one.name.endswith(UNFINISHED) for one in tmp_path.iterdir()].count(True) == 1
            raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        write()
    assert [one.name for one in tmp_path.iterdir()] == ["ticket.pdf"]
    assert place.read_bytes() == b"old"


def test_the_type_is_that_of_the_content_alone() -> None:
    """A PDF that calls itself a photo is a PDF."""
    assert type_of(PDF + JPEG) == "application/pdf"
    assert type_of(b"JFIF" + JPEG) == ""
