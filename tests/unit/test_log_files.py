"""Files of data loggers: what is read, what is left out and said, what must be asked.

No published value exists for this; what was written into the made files is the other road.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from benches import app_in
from logger_files import CASTING, IN, TIMES, clock, fahrenheit, minutes, plain, troubled
from sleevewright.errors import InputError
from sleevewright.jobs.serieslog import series_of_text, told_series
from sleevewright.services.jobs import open_job
from sleevewright.services.log_desk import Asked, look_at, packed_log, unpacked

ZERO = 273.15


def far_off(text: str) -> float:
    """How far the lines of a series lie from the casting that was written, at most [K]."""
    series = series_of_text(text)
    at = TIMES - IN
    inside = (at >= series.seconds[0]) & (at <= series.seconds[-1])
    for begin, end in series.casting.gaps:
        inside &= (at <= begin) | (at >= end)
    line = np.interp(at[inside], series.seconds, series.kelvin)
    return float(np.abs(line - ZERO - CASTING[inside]).max())


@pytest.mark.parametrize(
    "content",
    [
        plain(),
        plain("time_min,part_temp_f", lambda t, c: f"{t / 60.0:.4f},{fahrenheit(c):.2f}"),
        plain("time;casting (C)", lambda t, c: f"{clock(t)};{c:.2f}".replace(".", ",")),
        plain("time,casting C", lambda t, c: f"{clock(t, 85_000.0)},{c:.2f}"),
        plain("elapsed,casting C", lambda t, c: f"{minutes(t)},{c:.2f}"),
        plain("when\tcasting °C", lambda t, c: f"2026-03-01T{clock(t)}\t{c:.2f}"),
        plain("when,clock,casting C", lambda t, c: f"03/14/2026,{clock(t)},{c:.2f}"),
        plain().decode().encode("utf-16"),
        b"\xef\xbb\xbf" + plain(),
    ],
    ids=[
        "seconds",
        "headings with bars",
        "comma",
        "midnight",
        "mm:ss",
        "iso",
        "us date",
        "utf-16",
        "bom",
    ],
)
def test_a_heat_reads_back_whatever_wrote_it(content: bytes) -> None:
    """Times, decimals, letters and units differ; the series is the same heat within 0.4 K."""
    seen = look_at(content, "heat", Asked(start="3.0"))
    assert seen.asks == ()
    assert far_off(seen.text) < 0.4
    assert len(seen.text) <= 4000


def test_the_start_is_where_the_casting_begins_to_warm() -> None:
    """Nobody said when it went in: the row before it had warmed by 3 K, and it is said."""
    seen = look_at(plain(), "heat", Asked())
    assert seen.start is not None
    assert seen.start.seconds == pytest.approx(IN, abs=30.0)
    assert "warmed" in seen.start.why


def test_what_is_no_reading_is_left_out_and_said() -> None:
    """Open sensor, end of a range, silence: none of it is in the series, all of it is said."""
    seen = look_at(troubled(), "heat", Asked(start="3.0"))
    assert seen.casting is not None
    assert seen.oven is not None
    said = " ".join((*seen.casting.remarks, *seen.remarks))
    assert "2 rows left out, no number" in said
    assert "end of a range" in said
    assert "silent from 14 to 20 min" in said
    assert seen.series is not None
    assert len(seen.series.casting.gaps) == 1
    assert far_off(seen.text) < 0.5
    refused = {one.name: one.refused for one in seen.columns if one.refused}
    assert "names no temperature" in refused["Batt V"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (plain("x,temp", lambda t, c: f"{t / 60.0:.3f},{c + 25.0:.1f}"), "°C or °F"),
        (plain("x,temp", lambda t, c: f"{t / 60.0:.3f},{c:.1f}"), "seconds, minutes or hours"),
        (plain("x,T C", lambda t, c: f"{minutes(t / 2.0)},{c:.1f}"), "minutes and seconds"),
        (plain("s,Channel C", lambda t, c: f"{t:.0f},{c + 25.0:.1f}"), "°C or °F"),
        (plain("s,casting C", lambda t, c: f"{t:.0f},{fahrenheit(c):.1f}"), "°C or °F"),
        (plain("s,no", lambda t, _: f"{t:.0f},{t / 10.0:.0f}"), "Which column is the casting"),
        (plain("s,temp C", lambda t, _: f"{t:.0f},21.5"), "Which column is the casting"),
    ],
    ids=["unit", "time unit", "two parts", "channel", "wrong unit", "counter", "still"],
)
def test_what_is_not_clear_is_asked(content: bytes, words: str) -> None:
    """Nothing is guessed where two answers would do, and nothing is taken before the answer."""
    seen = look_at(content, "heat", Asked())
    assert any(words in one for one in seen.asks)
    assert seen.text == ""


def test_an_answer_settles_what_was_asked() -> None:
    """Unit and unit of time as told; another unit than the name says is taken and doubted."""
    content = plain("x,temp", lambda t, c: f"{t / 60.0:.4f},{c + 25.0:.2f}")
    seen = look_at(content, "heat", Asked(time_unit="min", units={1: "C"}))
    assert seen.asks == ()
    wrong = look_at(plain("s,casting F"), "heat", Asked())
    assert wrong.casting is not None
    assert any("would be right in °C" in one for one in wrong.casting.remarks)
    assert wrong.asks


def test_a_cooling_without_a_unit_is_asked() -> None:
    """From 230 down to 58: a cooling need not reach the room, so that both units would do."""
    rows = "\n".join(f"{t:.0f},{58.0 + 172.0 * np.exp(-t / 900.0):.1f}" for t in TIMES)
    seen = look_at(f"s,casting\n{rows}".encode(), "cool", Asked())
    assert any("°C or °F" in one for one in seen.asks)
    told = look_at(f"s,casting\n{rows}".encode(), "cool", Asked(units={1: "C"}))
    assert told.series is not None
    assert told.series.kelvin[0] == pytest.approx(230.0 + ZERO, abs=0.5)


def test_a_noisy_log_of_many_rows_is_kept() -> None:
    """A row a second with 1 K of noise: the middles of neighbours are kept, soon and near."""
    noise = np.random.default_rng(5).normal(0.0, 1.0, 20_000)
    at = np.arange(20_000) * 0.12
    told = np.interp(at, TIMES, CASTING) + noise
    rows = "\n".join(f"{t:.2f},{c:.1f}" for t, c in zip(at, told, strict=True))
    seen = look_at(f"seconds,casting C\n{rows}".encode(), "heat", Asked(start="3.0"))
    assert far_off(seen.text) < 3.0


def test_air_and_fins_are_doubted() -> None:
    """A channel that warms in seconds is no bore: it is said where it is to be the casting."""
    fast = plain(
        "s,T C", lambda t, _: f"{t:.0f},{21 + 180 * (1 - np.exp(-max(t - IN, 0) / 40)):.1f}"
    )
    seen = look_at(fast, "heat", Asked())
    assert seen.casting is not None
    assert any("where was the probe" in one for one in seen.casting.remarks)


def test_a_stuck_full_scale_and_a_spike_are_left_out() -> None:
    """A jump to one value that stays, and a lone spike, are no temperatures."""
    told = CASTING.copy()
    told[100:120], told[60] = 480.0, 400.0
    rows = "\n".join(f"{t:.0f},{c:.1f}" for t, c in zip(TIMES, told, strict=True))
    seen = look_at(f"s,casting C\n{rows}".encode(), "heat", Asked(start="3.0"))
    assert seen.casting is not None
    said = " ".join(seen.casting.remarks)
    assert "open or shorted sensor" in said
    assert "far from both neighbours" in said
    assert far_off(seen.text) < 0.5


@pytest.mark.parametrize(
    "content",
    [b"", b"PK\x03\x04rest", b"hello\nworld\n", bytes(range(256)) * 40, b"a,b\n1,2\n"],
    ids=["empty", "spreadsheet", "prose", "binary", "one row"],
)
def test_what_is_no_log_is_refused_in_words(content: bytes) -> None:
    """Each with what it is and what to do; none is kept."""
    with pytest.raises(InputError):
        packed_log(content)


def test_a_typed_start_beyond_the_log_is_refused() -> None:
    """Minutes that the file does not have, and words, name the field."""
    for told in ("900", "soon", "-2000"):
        with pytest.raises(InputError, match="start"):
            look_at(plain(), "heat", Asked(start=told))


def test_a_kept_file_comes_back_as_it_was_handed_in() -> None:
    """Packed and unpacked to the byte, and the same pack each time."""
    content = troubled()
    assert unpacked(packed_log(content)) == content
    assert packed_log(content) == packed_log(content)
    with pytest.raises(InputError, match="file"):
        unpacked(b"\x1f\x8b\x08nothing")


def refused_or_read(content: bytes) -> bool:
    """Whether a file was read; nothing but a refusal in words may come of it else."""
    with suppress(InputError):
        look_at(content, "heat", Asked())
        return True
    return False


@settings(max_examples=40, deadline=None)
@given(st.binary(max_size=300), st.integers(0, 5000))
def test_no_file_breaks_the_reader(rubbish: bytes, place: int) -> None:
    """Bytes of any kind, alone and in the middle of a good file, are read or refused."""
    content = troubled()
    for one in (rubbish, content[:place] + rubbish + content[place:]):
        assert refused_or_read(one) in (True, False)
    assert look_at(content, "heat", Asked()).text


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[TestClient]:
    """A bench with one empty job."""
    with TestClient(app_in(tmp_path / "data"), base_url="http://localhost") as client:
        open_job(client.app.state.bench, "L-1", {"title": "invented", "invented": True})
        yield client


def test_a_file_is_kept_looked_at_and_taken(bench: TestClient) -> None:
    """Handed in, shown with its proposal, taken as a series; the dose and the pages see it."""
    sent = bench.post(
        "/api/jobs/L-1/attachments",
        data={"stage": "heat", "cylinder": "1", "kind": "log"},
        files={"file": ("oven.csv", troubled())},
    )
    record = sent.json()["number"]
    shown = bench.get(f"/jobs/L-1/1/heat/log-file?file={record}")
    assert "Take it" in shown.text
    assert "end of a range" in shown.text
    body = {"cylinder": 1, "stage": "heat", "file": record, "texts": {"start": "3.0"}}
    assert bench.post("/api/jobs/L-1/logs", json=body).status_code == 201
    folded = bench.app.state.bench.store.folded("L-1")
    series = told_series(folded, "heat")
    assert series is not None
    assert far_off(folded.text("heat.series", cylinder=1)) < 0.5
    assert "begun 3.0 min after its first row" in folded.text("heat.series_from", cylinder=1)
    body["texts"] = {"start": "4.0"}
    assert bench.post("/api/jobs/L-1/logs", json=body).status_code == 201
    again = told_series(bench.app.state.bench.store.folded("L-1"), "heat")
    assert again is not None
    assert again.seconds[-1] == pytest.approx(series.seconds[-1] - 60.0)
    assert len(bench.app.state.bench.store.folded("L-1").heads("heat.series", cylinder=1)) == 1


def test_a_file_that_is_not_clear_is_not_taken(bench: TestClient) -> None:
    """What must be asked is refused as a whole, and the page says it; the file stays kept."""
    content = plain("s,temp", lambda t, c: f"{t:.0f},{c + 25.0:.1f}")
    sent = bench.post(
        "/api/jobs/L-1/attachments",
        data={"stage": "cool", "cylinder": "1", "kind": "log"},
        files={"file": ("a.txt", content)},
    )
    record = sent.json()["number"]
    body = {"cylinder": 1, "stage": "cool", "file": record, "texts": {}}
    answer = bench.post("/api/jobs/L-1/logs", json=body)
    assert answer.status_code == 422
    assert "°C or °F" in answer.text
    assert "°C or °F" in bench.get(f"/jobs/L-1/1/cool/log-file?file={record}").text
    assert bench.get(f"/jobs/L-1/1/cool/log-file?file={record}&unit2=C&start=x").status_code == 422
    assert not bench.app.state.bench.store.folded("L-1").text("cool.series", cylinder=1)
