"""Readings entered in a real browser while the bench freezes, dies, comes back or forgets."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from browser.entry_pages import CELLS, burst, device, ready, states, told, until, waiting
from browser.entry_server import Running

FIFTY = [f"55.{count:03d}" for count in range(100, 150)]
TEN = FIFTY[:10]


@pytest.fixture(scope="module")
def small_bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One bench for all tests of this module."""
    running = Running(tmp_path_factory.mktemp("bench"))
    yield running
    running.kill()


@pytest.fixture
def bench(small_bench: Running, request: pytest.FixtureRequest) -> Running:
    """The bench with an empty file and no trouble."""
    small_bench.afresh(request.node.name)
    return small_bench


def stored(bench: Running) -> list[tuple[str, str]]:
    """Cell and text of what the bench has kept, in its order."""
    return [(row[3], row[4]) for row in bench.rows()]


def in_grid(texts: list[str]) -> list[tuple[str, str]]:
    """The cells of the grid in order with texts."""
    return [(f"set/k3f9/{at // 5}/{at % 5}", text) for at, text in enumerate(texts)]


def test_a_burst_of_fifty_is_stored_once_in_order(browser: Browser, bench: Running) -> None:
    """Fifty readings without pauses: each once, in its own cell, in the order of the keys."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, FIFTY)
        until(lambda: len(bench.rows()) >= len(FIFTY), "not all of the burst came")
        until(lambda: waiting(page) == 0 and states(page) == {"kept"}, "not all are acknowledged")
        assert stored(bench) == in_grid(FIFTY)
        assert [row[2] for row in bench.rows()] == list(range(1, 51))
        assert told(page) == dict(in_grid(FIFTY))


@pytest.mark.parametrize("seconds", [7.0, pytest.param(10.0, marks=pytest.mark.slow)])
def test_a_frozen_bench_loses_nothing(browser: Browser, bench: Running, seconds: float) -> None:
    """No answer for longer than a delivery waits: said within a second, sent again, kept once."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, TEN[:3])
        until(lambda: len(bench.rows()) == 3, "the first did not come")
        bench.freeze(seconds)
        burst(page, TEN[3:])
        line = page.locator("[data-waiting]")
        told_in = until(lambda: "waiting on this device" in line.inner_text(), "it is not said")
        assert told_in < 1.0
        until(lambda: states(page) == {"kept"}, "not all are acknowledged")
        assert stored(bench) == in_grid(TEN)
        sent = [one for post in bench.posts() for one in post]
        assert len(sent) > len(set(sent)) == 10


def test_a_bench_killed_in_mid_entry_loses_nothing(browser: Browser, bench: Running) -> None:
    """Killed after three readings and started again after six: ten, once each, in order."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, TEN[:3])
        bench.kill()
        burst(page, TEN[3:6])
        expect(page.locator("[data-waiting]")).to_contain_text("does not answer")
        bench.start()
        burst(page, TEN[6:])
        until(lambda: len(bench.rows()) == 10, "what waited did not come")
        until(lambda: states(page) == {"kept"}, "not all are acknowledged")
        assert stored(bench) == in_grid(TEN)


def test_a_reload_while_the_bench_is_away_loses_nothing(browser: Browser, bench: Running) -> None:
    """The page cannot come while the bench is down; what waited is sent at the next load."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        bench.kill()
        burst(page, TEN[:4])
        until(lambda: waiting(page) == 4, "not all are on the device")
        with pytest.raises(Exception, match="ERR_"):
            page.reload()
        page.wait_for_url("chrome-error://chromewebdata/")
        bench.start()
        page.goto("/jobs/J-31/1/parent")
        ready(page)
        until(lambda: len(bench.rows()) == 4, "what waited did not come")
        assert stored(bench) == in_grid(TEN[:4])
        assert told(page) == dict(in_grid(TEN[:4]))


def test_a_full_disk_is_said_and_nothing_is_lost(browser: Browser, bench: Running) -> None:
    """A bench that refuses is heard in its own words; what it refused comes when it can."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        bench.switches.set(refuse=True)
        burst(page, TEN[:2])
        expect(page.locator("[data-waiting]")).to_contain_text("The disk is full")
        assert stored(bench) == []
        bench.switches.set(refuse=False)
        until(lambda: len(bench.rows()) == 2, "what waited did not come")
        expect(page.locator("[data-waiting]")).to_contain_text("Nothing waits")


def test_a_name_on_plain_http_is_enough(
    browser: Browser, bench: Running, browser_path: str
) -> None:
    """By a name of the shop's network, which is no secure context, all of it works."""
    flags = ["--no-sandbox", "--disable-gpu", "--host-resolver-rules=MAP shop.test 127.0.0.1"]
    own = browser.browser_type.launch(executable_path=browser_path, args=flags)
    with device(own, bench, f"http://shop.test:{bench.port}") as tablet:
        page = tablet.page()
        assert page.evaluate("[isSecureContext, typeof navigator.locks]") == [False, "undefined"]
        page.locator(CELLS).first.focus()
        burst(page, TEN[:5])
        bench.kill()
        burst(page, TEN[5:])
        bench.start()
        until(lambda: len(bench.rows()) == 10, "not all came")
        until(lambda: states(page) == {"kept"}, "not all are acknowledged")
        assert stored(bench) == in_grid(TEN)
        before = len(bench.posts())
        other = tablet.page()
        burst(page, FIFTY[10:15])
        other.locator(CELLS).nth(15).focus()
        burst(other, FIFTY[15:20])
        until(lambda: len(bench.rows()) == 20, "not all of two tabs came")
        sent = [one for post in bench.posts()[before:] for one in post]
        assert len(sent) == len(set(sent)) == 10
        assert sorted(row[2] for row in bench.rows()) == list(range(1, 21))
    own.close()


def test_a_restored_bench_gets_the_kept_ones_again(browser: Browser, bench: Running) -> None:
    """After a backup was put back the device sends what the backup lacks, once."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, TEN[:6])
        until(lambda: states(page) == {"kept"} and len(told(page)) == 6, "not all are kept")
        before = bench.rows()
        bench.kill()
        bench.forget(after=2)
        bench.start()
        until(lambda: len(bench.rows()) == 6, "the kept ones were not sent again")
        assert {row[0] for row in bench.rows()} == {row[0] for row in before}
        assert stored(bench) == in_grid(TEN[:6])


@pytest.mark.parametrize(
    "store", ["store-one-1", pytest.param("store-two", marks=pytest.mark.slow)]
)
def test_another_identity_gets_the_kept_ones_again(
    browser: Browser, bench: Running, store: str
) -> None:
    """A store that counts its restorings, or holds the same first record, is the same one."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, TEN[:4])
        until(lambda: states(page) == {"kept"} and len(told(page)) == 4, "not all are kept")
        until(
            lambda: page.evaluate("window.sleevewright.outbox.fact('root/J-31')") is not None,
            "the first record was not learnt",
        )
        bench.kill()
        bench.forget(after=1)
        bench.switches.set(store=store)
        bench.start()
        until(lambda: len(bench.rows()) == 4, "the kept ones were not sent again")
        assert stored(bench) == in_grid(TEN[:4])


def test_another_bench_gets_nothing_of_this_one(
    browser: Browser, bench: Running, tmp_path: Path
) -> None:
    """Another store on the same address, whose job of that number is another one."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        burst(page, TEN[:2])
        until(lambda: states(page) == {"kept"}, "not all are kept")
        until(
            lambda: page.evaluate("window.sleevewright.outbox.fact('root/J-31')") is not None,
            "the first record was not learnt",
        )
        bench.kill()
        bench.records = tmp_path / "other.db"
        bench.switches.set(store="store-other", records=str(bench.records))
        bench.start()
        with device(browser, bench) as other:
            there = other.page()
            there.locator(CELLS).first.focus()
            burst(there, ["55.400"])
            until(lambda: len(bench.rows()) == 1, "the other device's own did not come")
        page.reload()
        ready(page)
        expect(page.locator("[data-waiting]")).to_contain_text("2 of another bench")
        assert stored(bench) == in_grid(["55.400"])


def test_two_tabs_send_once(browser: Browser, bench: Running) -> None:
    """Two tabs of one device: one count of entries, nothing twice, both see all of it kept."""
    with device(browser, bench) as tablet:
        one, other = tablet.page(), tablet.page("/jobs/J-31/1/parent?hearing=poll")
        one.bring_to_front()
        one.locator(CELLS).first.focus()
        burst(one, TEN[:5])
        other.bring_to_front()
        until(lambda: len(told(other)) == 5, "the other tab did not hear")
        other.locator(CELLS).nth(5).focus()
        burst(other, TEN[5:])
        until(lambda: len(bench.rows()) == 10, "not all came")
        until(lambda: states(one) == states(other) == {"kept"}, "not all are acknowledged")
        assert sorted(row[2] for row in bench.rows()) == list(range(1, 11))
        sent = [id_ for post in bench.posts() for id_ in post]
        assert len(sent) == len(set(sent)) == 10


@pytest.mark.parametrize("hearing", ["poll", pytest.param("stream", marks=pytest.mark.slow)])
def test_another_device_is_heard_within_a_second(
    browser: Browser, bench: Running, hearing: str
) -> None:
    """What one tablet tells stands in the other's cells within a second, either way."""
    with device(browser, bench) as tablet, device(browser, bench) as second:
        one, other = tablet.page(), second.page(f"/jobs/J-31/1/parent?hearing={hearing}")
        one.locator(CELLS).first.focus()
        burst(one, TEN[:1])
        until(lambda: len(bench.rows()) == 1, "it did not come")
        seconds = until(lambda: len(told(other)) == 1, "it was not heard")
        assert seconds < 1.0
        expect(other.locator('[data-part="answers"]')).to_have_text("1 records")
        burst_at = other.locator(CELLS).first
        burst_at.focus()
        assert told(other) == dict(in_grid(TEN[:1]))


@pytest.mark.slow
def test_the_same_cell_twice_is_asked(browser: Browser, bench: Running) -> None:
    """Two devices tell one cell while neither hears the other: both show, a press decides."""
    with device(browser, bench) as tablet, device(browser, bench) as second:
        one, other = tablet.page(), second.page()
        bench.kill()
        for page, text in ((one, "55.001"), (other, "55.004")):
            page.locator(CELLS).first.focus()
            burst(page, [text])
            until(lambda shown=page: waiting(shown) == 1, "it does not wait")
        bench.start()
        until(lambda: len(bench.rows()) == 2, "not both came")
        for page in (one, other):
            expect(page.locator("output[data-state=conflict] button")).to_have_count(2)
        other.locator("output[data-state=conflict] button", has_text="55.004").click()
        until(lambda: len(bench.rows()) == 3, "the choice did not come")
        for page in (one, other):
            expect(page.locator("output[data-state=conflict]")).to_have_count(0)
            assert told(page) == dict(in_grid(["55.004"]))


def test_a_browser_that_keeps_nothing_says_so(browser: Browser, bench: Running) -> None:
    """Where IndexedDB is refused, entry goes on from memory under a loud notice."""
    with device(browser, bench) as tablet:
        refuse = (
            "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError') }"
        )
        tablet.context.add_init_script(refuse)
        page = tablet.page()
        expect(page.locator("[data-waiting][data-loud]")).to_contain_text("keeps nothing")
        page.locator(CELLS).first.focus()
        burst(page, TEN[:3])
        until(lambda: len(bench.rows()) == 3, "not all came")
        assert stored(bench) == in_grid(TEN[:3])


def test_waiting_for_a_minute_is_told_as_a_warning(browser: Browser, bench: Running) -> None:
    """What the bench has not taken for more than a minute is said, with what to do."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        bench.kill()
        burst(page, TEN[:1])
        until(lambda: waiting(page) == 1, "it does not wait")
        line = page.locator("[data-waiting]")
        assert line.get_attribute("data-warning") is None
        page.evaluate("""async () => { const {outbox, status} = window.sleevewright;
            const [one] = await outbox.waiting();
            await outbox.storage.change(tx => tx.keep({...one, since: Date.now() - 61000}));
            await status.show() }""")
        expect(line).to_have_attribute("data-warning", "")
        expect(line).to_contain_text("more than a minute")
        bench.start()
        until(lambda: len(bench.rows()) == 1, "what waited did not come")


def test_only_the_last_five_hundred_are_kept_on(browser: Browser, bench: Running) -> None:
    """Of what was acknowledged the device keeps the newest 500."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.evaluate("""() => window.sleevewright.outbox.storage.change(async tx => {
            for (let at = 1; at <= 520; at += 1) await tx.keep({
                id: at.toString(16).padStart(32, '0'), job: 'J-9', n: at, kind: 'value',
                version: 1, body: {}, order: at, state: 'kept', number: at, at});
            await tx.setFact('kept', 520) })""")
        page.locator(CELLS).first.focus()
        burst(page, TEN[:1])
        until(lambda: states(page) == {"kept"}, "it is not kept")
        kept = page.evaluate("""async () => { const {outbox} = window.sleevewright;
            const kept = await outbox.storage.look(tx => tx.entries('kept'));
            return kept.map(one => one.at).sort((one, other) => one - other) }""")
        assert kept == list(range(22, 522))


def test_what_waits_can_be_carried_as_a_file(browser: Browser, bench: Running) -> None:
    """The file names the device and holds each waiting entry as it would be sent."""
    with device(browser, bench) as tablet:
        page = tablet.page()
        page.locator(CELLS).first.focus()
        bench.kill()
        burst(page, TEN[:2])
        expect(page.locator("[data-unsent] li")).to_have_count(2)
        with page.expect_download() as saved:
            page.locator("[data-press=export-json]").click()
        document = json.loads(Path(saved.value.path()).read_text(encoding="utf-8"))
        assert [one["body"]["text"] for one in document["entries"]] == TEN[:2]
        assert [one["n"] for one in document["entries"]] == [1, 2]
        with page.expect_download() as saved:
            page.locator("[data-press=export-text]").click()
        assert "set/k3f9/0/0: 55.100" in Path(saved.value.path()).read_text(encoding="utf-8")
        bench.start()
        until(lambda: len(bench.rows()) == 2, "what waited did not come")
