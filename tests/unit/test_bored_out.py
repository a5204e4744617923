"""What the bar leaves for the hone of the parent bore, and how its rows of passes are called."""

from __future__ import annotations

import pytest
from test_next_cut_stage import FEW, THOU, found, looked, passes, value

from simple_job import FOUR, STATIONS, simple_job, sizes
from sleevewright.core.cutting.next_cut import BoreLimits
from sleevewright.planning.shop import Shop, ShopDefault
from sleevewright.web.stage.asks import Teller
from sleevewright.web.stage.grids import set_view


def test_the_bar_leaves_the_hone_its_stock() -> None:
    """The passes aim short of the fit's bore by the shop's stock, the cell's, or none at 0."""
    boring = looked(passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", "-4.8")))
    target = value(boring, "bore.target")
    assert target - value(boring, "bore.bored") == pytest.approx(0.5 * THOU, abs=1e-10)
    shop = Shop(FEW, chosen=(ShopDefault("fit_hone_stock", 0.0, "0 thou"),))
    job = passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", "-4.8"))
    to_size = looked(job, shop)
    assert value(to_size, "bore.bored") == value(to_size, "bore.target")
    limits = found(boring, "bore.pass_limits").value
    assert isinstance(limits, BoreLimits)
    assert limits.aim == value(boring, "bore.bored")
    assert limits.high == value(boring, "bore.target_high")
    assert value(boring, "bore.next_size") <= value(to_size, "bore.next_size")
    job.value("parent.hone_stock", "1.2 thou")
    more = looked(job, shop)
    assert target - value(more, "bore.bored") == pytest.approx(1.2 * THOU, abs=1e-10)
    assert value(more, "bore.bored_low") < value(more, "bore.bored")
    assert "then hone to 2.6" in found(more, "bore.bored").of


def test_a_bore_past_its_stock_but_inside_is_no_bore_too_large() -> None:
    """Bored to the fit's own size: stop, inside; that nothing is left to hone is said."""
    target = value(looked(simple_job("four-stroke", until="setup")), "bore.target")
    job = simple_job("four-stroke", until="parent")
    full = sizes(target / 0.0254 + 0.0001, 4, 4)
    job.grid("bored", "parent-bore", "parent", full, stations=STATIONS, directions=FOUR)
    seen = looked(job)
    assert "inside" in found(seen, "bore.next_stop").of
    assert not [one for one in seen.cautions if one.code.startswith("pass-above")]
    assert value(seen, "bore.hone_left") == pytest.approx(-0.1 * THOU, abs=0.04 * THOU)
    assert any("Nothing is left to hone" in one for stage in seen.stages for one in stage.advice)


def test_a_row_of_one_reading_a_pass_is_called_a_pass() -> None:
    """Its second place is pass 2, and not 2 down at 0 degrees."""
    job = passes(("", "-20"), ("9 thou", "-12"))
    view = set_view(job.folded.sets["ps"], Teller(job.folded, 1, {}))
    assert [row.cells[0].label for row in view.rows] == ["pass 1, diametral", "pass 2, diametral"]
