"""Pages that listen while several devices hand in: each hears everything, once, in order."""

import asyncio
import json
import threading
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import event

from sleevewright.jobs.records import Draft
from sleevewright.services.bench import Bench, opened
from sleevewright.services.hearing import KEPT_OF_A_JOB, Ear, Heard
from sleevewright.services.jobs import open_job

JOB = "J-1"
PAGES, WRITERS, READINGS = 12, 4, 80


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """An open bench with one job."""
    with opened(tmp_path / "data") as made:
        open_job(made, JOB, {"invented": True})
        yield made


def tell(bench: Bench, device: str, count: int) -> None:
    """Keep readings one by one."""
    for number in range(1, count + 1):
        body = {"cylinder": 1, "cell": "casting.mass", "text": f"{number} g", "replaces": []}
        bench.store.append([Draft(JOB, uuid.uuid4().hex, device, number, "value", body)])


async def page(ear: Ear, last: int, *, start: int = 0) -> list[int]:
    """Numbers that one page hears until it has heard the last."""
    heard: list[int] = []
    at = start
    while at < last:
        new = await ear.wait(JOB, at, 10.0)
        assert new, f"nothing came after {at}"
        heard += [one.number for one in new]
        at = heard[-1]
    return heard


def test_every_page_hears_everything_once_and_in_order(bench: Bench) -> None:
    """A dozen pages, four devices at once, more readings than are held ready."""
    ear = Ear(bench.store)
    last = 1 + WRITERS * READINGS
    assert last > KEPT_OF_A_JOB
    writers = [
        threading.Thread(target=tell, args=(bench, f"t{place}", READINGS))
        for place in range(WRITERS)
    ]

    async def listen() -> list[list[int]]:
        pages = [asyncio.create_task(page(ear, last)) for _ in range(PAGES)]
        await asyncio.sleep(0)
        for writer in writers:
            writer.start()
        return await asyncio.gather(*pages)

    heard = asyncio.run(listen())
    for writer in writers:
        writer.join()
    assert heard == [list(range(1, last + 1))] * PAGES
    ear.close()


def test_page_that_comes_late_hears_what_was_before(bench: Bench) -> None:
    """One that resumes far back reads what is no longer held ready."""
    ear = Ear(bench.store)
    tell(bench, "t", KEPT_OF_A_JOB + 20)
    last = bench.store.last(JOB)

    async def listen() -> list[list[int]]:
        return await asyncio.gather(page(ear, last), page(ear, last, start=last - 5))

    late, resumed = asyncio.run(listen())
    assert late == list(range(1, last + 1))
    assert resumed == list(range(last - 4, last + 1))
    ear.close()


def test_pages_in_step_hear_without_a_question_to_the_database(bench: Bench) -> None:
    """Who heard the last record has the next from the writer, as it would read it."""
    ear = Ear(bench.store)
    asked: list[str] = []
    event.listen(
        bench.store.engine, "before_cursor_execute", lambda *told: asked.append(str(told[2]))
    )

    async def listen() -> list[Heard]:
        await ear.wait(JOB, 0, 10.0)
        asked.clear()
        heard: list[Heard] = []
        for number in range(1, 6):
            waiting = asyncio.create_task(ear.wait(JOB, number, 10.0))
            await asyncio.sleep(0)
            body = {"cylinder": 1, "cell": "intake.marks", "text": f"\N{DEGREE SIGN}\u2028{number}"}
            draft = Draft(JOB, uuid.uuid4().hex, "t", number, "value", {**body, "si": 0.1 * number})
            await asyncio.to_thread(bench.store.append, [draft])
            heard += await waiting
        return heard

    heard = asyncio.run(listen())
    assert asked == []
    for one, record in zip(heard, bench.store.records(JOB, after=1), strict=True):
        told = json.loads(one.text)
        assert told.pop("n") == record.device_number
        assert told == {
            "number": one.number, "id": record.id, "device": "t", "received": record.received,
            "kind": "value", "version": 1, "body": dict(record.body),
        }  # fmt: skip
        assert "\n" not in one.text
    ear.close()


def test_gap_in_what_was_heard_is_read_again(bench: Bench) -> None:
    """A commit that was missed, because the records were being read just then, is not left out."""
    ear = Ear(bench.store)
    ear.after(JOB, 0)
    tell(bench, "t", 3)
    recent = ear._recent[JOB]
    with recent.lock:
        tell(bench, "u", 2)
    tell(bench, "v", 2)
    assert [one.number for one in recent.kept] == [7, 8]
    for start in range(8):
        assert [one.number for one in ear.after(JOB, start)] == list(range(start + 1, 9))
    ear.close()
