"""One flipped bit in an export or in a kept record: seen, wherever it is."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest

from packed_jobs import packed, taken, whole
from sleevewright.errors import InputError
from sleevewright.store.chain import verify_chain

EVERYDAY_FLIPS = 400


def drawn(seed: int) -> random.Random:
    """Draws that are the same in every run."""
    return random.Random(seed)  # noqa: S311 - places of flips are repeated, not secret


def flips(content: bytes, places: list[int], generator: random.Random) -> list[int]:
    """Places at which one flipped bit was not seen."""
    unseen = []
    for place in places:
        changed = bytearray(content)
        changed[place] ^= 1 << generator.randrange(8)
        try:
            taken(bytes(changed))
        except InputError:
            continue
        unseen.append(place)
    return unseen


def test_a_flipped_bit_anywhere_in_an_export_is_seen(tmp_path: Path) -> None:
    """One bit flipped at places drawn over the whole file: refused each time."""
    content = packed(whole(tmp_path))
    generator = drawn(31)
    places = generator.sample(range(len(content)), EVERYDAY_FLIPS)
    assert flips(content, places, generator) == []


@pytest.mark.slow
def test_every_byte_of_an_export_flipped_in_turn_is_seen(tmp_path: Path) -> None:
    """Each byte of the file in turn, one bit of it: refused each time."""
    content = packed(whole(tmp_path))
    assert len(content) > 4000
    assert flips(content, list(range(len(content))), drawn(32)) == []


def flipped_text(text: str, generator: random.Random) -> str:
    """A text with one bit of its bytes flipped, which may be no text any more."""
    raw = bytearray(text.encode())
    raw[generator.randrange(len(raw))] ^= 1 << generator.randrange(8)
    return raw.decode(errors="surrogateescape")


@pytest.mark.parametrize(
    "count", [EVERYDAY_FLIPS, pytest.param(5000, marks=pytest.mark.slow)], ids=str
)
def test_a_flipped_bit_in_a_kept_record_breaks_its_chain(tmp_path: Path, count: int) -> None:
    """The chain alone sees a flip in any column of any record, at that record."""
    links = whole(tmp_path).links
    generator = drawn(33)
    columns = ("job", "id", "device", "received", "kind", "body", "previous", "hash")
    for _ in range(count):
        place = generator.randrange(len(links))
        column = generator.choice((*columns, "number", "device_number", "version"))
        said = getattr(links[place], column)
        fresh = (
            flipped_text(said, generator)
            if isinstance(said, str)
            else said ^ (1 << generator.randrange(8))
        )
        try:
            broken = verify_chain([*links[:place], replace(links[place], **{column: fresh})])
        except UnicodeEncodeError:
            continue  # bytes that are no text never come out of the database as text
        assert broken == place + 1, (column, said, fresh)
