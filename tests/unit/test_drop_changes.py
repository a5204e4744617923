"""What changes the seconds of a drop: paired, above the noise, and in words."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from starlette.testclient import TestClient

import heat_examples as shop
from benches import EXAMPLES, app_in
from heat_examples import THOU
from ported_jobs import ported_bench, told_of
from sleevewright.core.heat.chances import drop_samples
from sleevewright.core.heat.sensitivity import (
    Band,
    Change,
    Sensitivity,
    sensitivities,
    usual_changes,
)
from sleevewright.errors import InputError
from sleevewright.planning.drop_words import NOTHING, change_words
from sleevewright.planning.shop import Shop
from sleevewright.services.drop_changes import seconds_changed
from sleevewright.services.jobfiles import load_job
from sleevewright.services.settings import shop_of_bench

DROPS = 400
ALUMINIUM = shop.case("aluminium", interference=3.2, slip=5.4)


@pytest.fixture(scope="module")
def found() -> dict[str, Sensitivity]:
    """The usual changes of the aluminium drop, by name."""
    changes = usual_changes(ALUMINIUM)
    return {one.key: one for one in sensitivities(ALUMINIUM, changes, count=DROPS)}


def test_base_is_the_drop_itself(found: dict[str, Sensitivity]) -> None:
    """What it is compared with are the quantiles of the same drops reckoned alone."""
    alone = drop_samples(ALUMINIUM, count=DROPS).seconds
    low, middle, high = np.quantile(alone, (0.05, 0.5, 0.95), method="inverted_cdf")
    before = found["oil"].before
    reckoned = (before.low, before.middle, before.high)
    assert reckoned == pytest.approx((low, middle, high), rel=1e-9)


def test_every_change_goes_the_way_of_physics(found: dict[str, Sensitivity]) -> None:
    """Oil, shape and a cooler casting take seconds; slip, chill, the middle, dryness give."""
    for key in ("oil", "more-form", "cooler"):
        assert found[key].after.middle < found[key].before.middle
    for key in ("more-slip", "chilled", "centred", "dry"):
        assert found[key].after.middle > found[key].before.middle


def test_strongest_stands_first(found: dict[str, Sensitivity]) -> None:
    """The order is that of the ratio of the medians, up or down."""
    strengths = [one.strength for one in found.values()]
    assert strengths == sorted(strengths, reverse=True)


def test_measuring_narrows_the_band(found: dict[str, Sensitivity]) -> None:
    """A measured form, a weighed casting and dry parts leave less than half of the ratio."""
    one = found["measured"]
    assert one.after.high / one.after.low < 0.5 * one.before.high / one.before.low


def test_what_changes_nothing_is_not_named() -> None:
    """The same drop again, and a change far below the noise, are left out."""
    tiny = replace(ALUMINIUM, room=294.16)
    assert sensitivities(ALUMINIUM, [Change("again", ALUMINIUM)], count=DROPS) == ()
    assert all(
        abs(one.after.middle - one.before.middle) > 3.0 * one.noise
        for one in sensitivities(ALUMINIUM, [Change("room", tiny)], count=DROPS)
    )


def test_what_passes_the_horizon_is_named_without_seconds() -> None:
    """A middle that stays loose comes back with more lost to shape; of an endless one, no claim."""
    loose = replace(ALUMINIUM, slip=12.0 * THOU)
    burr = sensitivities(loose, [Change("more-form", loose, added_form=THOU)], count=DROPS)
    assert [one.key for one in burr] == ["more-form"]
    assert math.isinf(burr[0].before.middle)
    assert "instead of more than 120 s" in change_words(burr, system="inch")[0]
    endless = replace(ALUMINIUM, slip=20.0 * THOU)
    assert sensitivities(endless, usual_changes(endless), count=DROPS) == ()


def test_known_dryness_is_not_offered_again() -> None:
    """A drop that is dry for certain has no dryness to gain, a chilled one no freezer."""
    told = replace(ALUMINIUM, dry=True, sleeve_temperature=255.15)
    keys = {one.key for one in usual_changes(told)}
    assert keys & {"dry", "chilled"} == set()
    assert "oil" in keys


def test_cooler_casting_loses_the_slip_that_it_shrinks() -> None:
    """20 K of aluminium on 62.9 mm near 176 degC: 1.18 thou of slip, by hand."""
    cooler = next(one for one in usual_changes(ALUMINIUM) if one.key == "cooler")
    # mean law 20.7 + 0.010 (T - 20) ppm: local 20.7 + 0.020 x 146.4 = 23.63 ppm/K at 166.4 degC
    by_hand = 62.911e-3 * 23.63e-6 * 20.0
    assert float(ALUMINIUM.slip - cooler.case.slip) == pytest.approx(by_hand, rel=2e-3)


def test_too_few_drops_are_refused() -> None:
    """Fewer than 200 drops cannot say what is noise."""
    with pytest.raises(InputError, match="drops"):
        sensitivities(ALUMINIUM, usual_changes(ALUMINIUM), count=100)


def test_words_name_halves_and_ends() -> None:
    """Half is called half, the horizon is said, and nothing is said to be nothing."""
    before = Band(4.0, 13.0, 34.0)
    half = Sensitivity("oil", before, Band(2.0, 6.5, 20.0), 0.1)
    taken = Sensitivity("cooler", before, Band(2.0, 9.4, 20.0), 0.1)
    loose = Sensitivity("measured", before, Band(9.0, 15.0, math.inf), 0.1)
    assert change_words([half], system="inch") == (
        "Oil in the gap would halve it: 6 s instead of 15 s.",
    )
    assert change_words([taken], system="inch") == (
        "A casting 36 °F cooler takes about 4 s off 15 s.",
    )
    assert "to (9 s … more than 120 s)" in change_words([loose], system="metric")[0]
    assert change_words([], system="metric") == (NOTHING,)


def test_job_answers_in_its_own_units() -> None:
    """The same job in inches and in millimetres: thou and °F, micrometres and °C."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    metric, inch = (
        seconds_changed(replace(job, units=units), Shop()).words for units in ("metric", "inch")
    )
    assert len(metric) == len(inch) >= 4
    assert any(text.startswith("25 µm more slip") for text in metric)
    assert any(text.startswith("1.0 thou more slip") for text in inch)
    assert not any("thou" in text or "°F" in text for text in metric)


def test_job_without_seconds_says_what_it_wants(tmp_path: Path) -> None:
    """The ported barrel has not told all that a drop is reckoned from: no word, but a need."""
    bench = ported_bench(tmp_path)
    _, told = told_of(bench)
    changed = seconds_changed(told.job, shop_of_bench(bench))
    bench.close()
    assert changed.words == ()
    assert changed.needs


def test_page_of_a_job_says_what_gives_seconds(tmp_path: Path) -> None:
    """The drop of a worked job leads to its changes, with what they rest on."""
    app = app_in(tmp_path, [EXAMPLES / "demo-air-175.toml"])
    with TestClient(app, base_url="http://127.0.0.1:8000") as client:
        jobs = client.get("/").text
        number = jobs.split("/jobs/")[1].split("/")[0].split('"')[0]
        shown = client.get(f"/jobs/{number}/1/drop/seconds")
        stage = client.get(f"/jobs/{number}/1/drop")
    app.state.bench.close()
    assert shown.status_code == 200
    assert "more slip on diameter" in shown.text
    assert "checked against no measured drop" in " ".join(shown.text.split())
    assert f"/jobs/{number}/1/drop/seconds" in stage.text
