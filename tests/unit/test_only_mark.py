"""A map whose mirror image would look as sound is remarked on where the sleeve is clocked."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sleevewright.services.bench import Bench
from sleevewright.services.demo import tell
from sleevewright.services.jobs import look_afresh
from wrapped_ports import demo_bench


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A bench with the invented ported cylinder."""
    made = demo_bench(tmp_path_factory.mktemp("mark"))
    yield made
    made.close()


def remarks(bench: Bench) -> str:
    """What Make ready says beside its figures."""
    plan = look_afresh(bench, "D-131").plan
    assert plan is not None
    return " ".join(text for stage in plan.stages if stage.key == "ready" for text in stage.advice)


def test_make_ready_says_that_only_the_mark_tells_until_the_ports_can(bench: Bench) -> None:
    """Left and right as found are alike; with a rear port 13 degrees on they no longer are."""
    assert "Only the mark tells which way round this map of the sleeve is" in remarks(bench)
    uneven = {"found": "-125.0 deg", "supplied": "-122.5 deg"}
    told = [
        {"record": "value", "cylinder": 1, "cell": f"port/rear left/{key}.angle", "text": text}
        for key, text in uneven.items()
    ]
    tell(bench, "D-131", told)
    assert "Only the mark tells" not in remarks(bench)
