"""One go: the live page, Heat's own page and the drop screen say the same of the same readings."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from benches import EXAMPLES, bench_in
from sleevewright.planning.oven_stand import IS_GO, NOT_YET, STALE, WARM
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.demo import tell
from sleevewright.services.drop_screen import drop_screen
from sleevewright.services.jobs import folded_job, look
from sleevewright.services.oven_live import oven_live
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.hot.ready_views import ready_now

JOB, FILES = "D-246", (EXAMPLES / "demo-water.toml",)
LATER = timedelta(minutes=6)
Cells = dict[str, str]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a casting that went in 31 minutes ago."""
    opened = bench_in(tmp_path, FILES)
    at = opened.clock() - timedelta(minutes=31)
    tell(opened, JOB, [_event("oven-in", at=at.isoformat())])
    yield opened
    opened.close()


def _event(what: str, **more: str) -> dict[str, object]:
    """Something that happened at the oven."""
    return {"record": "event", "cylinder": 1, "stage": "heat", "what": what, **more}


def _row(number: int, minutes: str, body: str, flange: str) -> Cells:
    """Both fits gauged at a minute."""
    start = f"heat.log/{number}/"
    return {f"{start}minutes": minutes, f"{start}body": body, f"{start}flange": flange}


def _told(bench: Bench, cells: Cells) -> None:
    """Tell cells."""
    rows = [{"record": "value", "cylinder": 1, "cell": k, "text": v} for k, v in cells.items()]
    tell(bench, JOB, rows)


def _stands(bench: Bench, after: timedelta = timedelta(0)) -> list[str]:
    """What the live page, Heat's page and the drop screen say so long from now."""
    now = bench.clock() + after
    live = oven_live(bench, JOB, 1)
    seen = look(bench, JOB, 1)
    told = CutTold(seen.living.job, folded_job(bench, JOB), 1, shop_of_bench(bench))
    later: Callable[[], object] = lambda: now  # noqa: E731 # a clock that stands
    del later
    plan = seen.plan
    assert plan is not None
    assert live.plan is not None
    screen = drop_screen(plan, told, now=now)
    return [live.watch.stand, str(plan.answer("oven.stand").value), screen.stand]
