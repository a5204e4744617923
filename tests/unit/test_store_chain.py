"""The chains: their hash as it is written down, and what breaks them."""

import hashlib
import json
from dataclasses import replace

import pytest

from sleevewright.store.chain import (
    START,
    Link,
    Seal,
    link_hash,
    seal_hash,
    verify_chain,
    verify_seals,
)


def chain(count: int) -> list[Link]:
    """A chain of invented records."""
    links: list[Link] = []
    for number in range(1, count + 1):
        body = json.dumps({"cell": "sleeve.od", "text": f"5{number},01 mm ½"}, ensure_ascii=False)
        previous = links[-1].hash if links else START
        bare = Link(
            "N-1", number, f"{number:032x}", "tablet", number, "2031-05-04T12:00:00.000Z",
            "value", 1, body, previous, "",
        )  # fmt: skip
        links.append(replace(bare, hash=link_hash(bare)))
    return links


def seals(count: int) -> list[Seal]:
    """A chain of invented seals."""
    made: list[Seal] = []
    for number in range(1, count + 1):
        previous = made[-1].hash if made else START
        bare = Seal(number, "2031-05-04T12:00:00.000Z", "backup", "N-1", number, "ab", previous, "")
        made.append(replace(bare, hash=seal_hash(bare)))
    return made


def test_hash_is_what_the_written_form_says() -> None:
    """Three lines, hashed by hand as the description says, give the same digits."""
    link = chain(1)[0]
    text = (
        f"{'0' * 64}\n"
        '["N-1",1,"00000000000000000000000000000001","tablet",1,"2031-05-04T12:00:00.000Z",'
        '"value",1]\n'
        '{"cell": "sleeve.od", "text": "51,01 mm ½"}'
    )
    assert link.hash == hashlib.sha256(text.encode("utf-8")).hexdigest()


def test_hash_of_a_seal_is_what_the_written_form_says() -> None:
    """Two lines, hashed by hand."""
    text = f'{"0" * 64}\n[1,"2031-05-04T12:00:00.000Z","backup","N-1",1,"ab"]'
    assert seals(1)[0].hash == hashlib.sha256(text.encode("utf-8")).hexdigest()


def test_good_chain_verifies_whole_and_in_part() -> None:
    """From the beginning, and from any record that is known to be good."""
    links = chain(5)
    assert verify_chain(links) is None
    assert verify_chain(links[3:], after=3, head=links[2].hash) is None
    assert verify_chain([]) is None
    assert verify_seals(seals(4)) is None


COLUMNS = {
    "job": "N-2",
    "number": 4,
    "id": "f" * 32,
    "device": "other",
    "device_number": 9,
    "received": "2031-05-04T12:00:00.001Z",
    "kind": "event",
    "version": 2,
    "body": '{"cell": "sleeve.od", "text": "53,02 mm ½"}',
    "previous": "1" * 64,
    "hash": "1" * 64,
}


@pytest.mark.parametrize("column", COLUMNS)
def test_change_of_any_column_is_seen_at_its_place(column: str) -> None:
    """Whatever is changed in record 3, the first bad number is 3."""
    links = chain(5)
    links[2] = replace(links[2], **{column: COLUMNS[column]})
    assert verify_chain(links) == 3


def test_change_that_is_hashed_anew_is_seen_at_the_next() -> None:
    """Who forges a record and its hash still has to forge all that follow."""
    links = chain(5)
    forged = replace(links[2], body=str(COLUMNS["body"]))
    links[2] = replace(forged, hash=link_hash(forged))
    assert verify_chain(links) == 4


def test_missing_doubled_and_swapped_records_are_seen() -> None:
    """The chain tells where it does not go on."""
    one, two, three, four = chain(4)
    assert verify_chain([one, three, four]) == 2
    assert verify_chain([one, two, two, three]) == 3
    assert verify_chain([one, three, two, four]) == 2
    assert verify_chain([two, three]) == 1


def test_text_cannot_move_between_columns() -> None:
    """Columns that run together would have one hash; quoted ones do not."""
    link = chain(1)[0]
    moved = replace(link, device='tab","let', kind="value")
    assert link_hash(moved) != link_hash(replace(link, device="tab", kind='let","value'))


def test_broken_seals_are_seen() -> None:
    """A seal that was changed or taken out breaks the chain of the seals."""
    made = seals(4)
    assert verify_seals([*made[:1], *made[2:]]) == 2
    assert verify_seals([*made[:2], replace(made[2], head="cd"), made[3]]) == 3
