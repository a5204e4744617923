"""A job of several cylinders: what was judged of one is known where another is released."""

from __future__ import annotations

from pathlib import Path

from benches import bench_in
from sleevewright.services.jobs import look, open_job
from sleevewright.services.reckoning import reckon
from sleevewright.services.shelf import keep_verdicts, verdicts_kept


def test_a_look_at_one_cylinder_holds_the_verdicts_of_the_others(tmp_path: Path) -> None:
    """They stand under the other's number, and are not handed back and forth for ever."""
    bench = bench_in(tmp_path / "data")
    try:
        number = open_job(bench, "", {"engine_kind": "four-stroke", "cylinders": 2})
        folded = bench.store.folded(number)
        bench.store.write(
            lambda connection: keep_verdicts(
                connection, folded, 2, {"bore.taper": "good", "1/bore.taper": "out"}
            )
        )
        seen = look(bench, number, 1).verdicts
        assert seen["2/bore.taper"] == "good"
        assert not any(answer.startswith(("1/", "2/1/")) for answer in seen)
        for _ in range(3):
            reckon(bench, number)
        kept = bench.store.read(lambda connection: verdicts_kept(connection, number))
        assert all(answer.count("/") <= 1 for said in kept.values() for answer in said)
    finally:
        bench.close()
