"""Pages that listen while several devices hand in: each hears everything, once, in order."""

import asyncio
import threading
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest

from sleevewright.jobs.records import Draft
from sleevewright.services.bench import Bench, opened
from sleevewright.services.hearing import KEPT_OF_A_JOB, Ear
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
