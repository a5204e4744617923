"""What the form of a new set starts from: a gauge that fits, and the places of the last set."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.catalog import grid_of_feature
from sleevewright.web.stage.asks import Teller as Reader
from sleevewright.web.stage.newset import Wants, new_set
from sleevewright.web.stage.views import InstrumentChoice, NewSetView
from told_jobs import GAUGE, MIC, Teller

LEVER = {"name": "lever 1", "kind": "indicator", "resolution": "0.0001 in"}
SHOP = (
    ("mic 0-1", "micrometer"),
    ("mic 2-3", "micrometer"),
    ("bore gauge", "dial-bore-gauge"),
    ("three-point", "three-point-gauge"),
    ("lever 0.5", "indicator"),
    ("lever 1", "indicator"),
)
STAGE = {"sleeve-od": "sleeve", "parent-bore": "parent", "found-wear": "found"}


def offered(
    job: Teller,
    feature: str,
    *,
    cylinder: int = 1,
    shop: tuple[tuple[str, str], ...] = SHOP,
    stage: str = "",
) -> NewSetView:
    """The form of a new set, as the page of its stage would open it."""
    grid = grid_of_feature(feature, stage=stage or STAGE.get(feature, "setup"))
    assert grid is not None
    choices = tuple(InstrumentChoice(name, name, "[]", kind) for name, kind in shop)
    return new_set(grid, Reader(job.folded, cylinder, {}), Wants("2.6360 in", choices), [])


@pytest.mark.parametrize(
    ("feature", "gauge"),
    [
        ("sweep-top", "lever 0.5"),
        ("sweep-base", "lever 0.5"),
        ("found-wear", "lever 0.5"),
        ("parent-bore", "bore gauge"),
        ("sleeve-od", "mic 0-1"),
    ],
)
def test_the_first_set_is_offered_the_first_gauge_that_fits(feature: str, gauge: str) -> None:
    """An indicator sweeps, a bore gauge gauges bores, a micrometer an outside."""
    assert offered(Teller(), feature).instrument == gauge


def test_the_gauge_used_last_goes_before_the_first_that_fits() -> None:
    """Of that feature in this job, on whichever cylinder; a gauge that was sold is not offered."""
    job = Teller(cylinders=2)
    job.begin("s1", "sweep-top", "setup", instrument="lever 1", instruments=[LEVER])
    job.begin("o1", "sleeve-od", "sleeve", instrument="mic 2-3", instruments=[MIC])
    assert offered(job, "sweep-top").instrument == "lever 1"
    assert offered(job, "sweep-top", cylinder=2).instrument == "lever 1"
    assert offered(job, "sleeve-od").instrument == "mic 2-3"
    assert offered(job, "sweep-bottom").instrument == "lever 0.5"
    assert offered(job, "sweep-top", shop=SHOP[:5]).instrument == "lever 0.5"


def test_a_shop_without_an_indicator_is_offered_none_for_a_sweep() -> None:
    """No gauge that would be refused is filled in."""
    assert offered(Teller(), "sweep-top", shop=SHOP[:2]).instrument == ""
    assert offered(Teller(), "parent-bore", shop=SHOP[:2]).instrument == "mic 0-1"


@pytest.mark.parametrize("feature", ["sweep-top", "sweep-bottom", "sweep-base", "found-wear"])
@pytest.mark.parametrize("kind", ["micrometer", "caliper"])
def test_a_sweep_is_not_read_with_a_gauge_of_sizes(feature: str, kind: str) -> None:
    """Nothing swings as a micrometer goes round: the text names it and says what to take."""
    gauge = {"name": "mic 0-1", "kind": kind}
    with pytest.raises(InputError) as refused:
        Teller().begin("s1", feature, STAGE.get(feature, "setup"), instrument="mic 0-1",
                       instruments=[gauge])  # fmt: skip
    assert refused.value.field == "instrument"
    for words in (f"mic 0-1, a {kind}", "an indicator", "the shop's list of gauges"):
        assert words in str(refused.value)


def test_what_a_gauge_can_read_is_not_refused() -> None:
    """An indicator sweeps, one of no known kind is believed, a micrometer reads an outside."""
    job = Teller()
    job.begin("s1", "sweep-top", "setup", instrument="lever 1", instruments=[LEVER])
    job.begin("s2", "sweep-top", "setup", instrument="the old one", instruments=[])
    job.begin("s3", "sleeve-od", "sleeve", instrument="mic 2-3", instruments=[MIC, GAUGE])
    assert len(job.folded.sets) == 3


def test_a_second_set_starts_at_the_places_of_the_newest() -> None:
    """Depths and directions of this cylinder's newest set; another cylinder's are its own."""
    job = Teller(cylinders=2)
    usual = offered(job, "sweep-top")
    job.begin("s1", "sweep-top", "setup", instrument="lever 1", instruments=[LEVER],
              stations=["0.7 in"], directions=["0 deg", "120 deg", "240 deg"])  # fmt: skip
    job.begin("s2", "sweep-top", "setup", instrument="lever 1", instruments=[LEVER],
              stations=["12,5 mm"], directions=["30 deg", "150 deg", "270 deg"])  # fmt: skip
    job.begin("b1", "parent-bore", "parent", cylinder=2, nominal="2.6360 in",
              stations=["0.6 in", "2.8 in"], directions=["0 deg", "60 deg"])  # fmt: skip
    again = offered(job, "sweep-top")
    assert (again.stations, again.directions) == ("12,5 mm", "30 deg; 150 deg; 270 deg")
    other = offered(job, "sweep-top", cylinder=2)
    assert (other.stations, other.directions) == (usual.stations, usual.directions)
    bored = offered(job, "parent-bore", cylinder=2)
    assert (bored.stations, bored.directions) == ("0.6 in; 2.8 in", "0 deg; 60 deg")


def test_a_set_that_named_no_places_leaves_the_usual_ones() -> None:
    """A job file may tell readings without depths: the form is not emptied by it."""
    job = Teller()
    usual = offered(job, "parent-bore")
    job.begin("b1", "parent-bore", "parent", nominal="2.6360 in")
    again = offered(job, "parent-bore")
    assert (again.stations, again.directions) == (usual.stations, usual.directions)
    assert usual.stations


@pytest.mark.parametrize(
    ("feature", "stage", "inch", "metric"),
    [
        ("wall-left", "old", "0.3750 in", "9.500 mm"),
        ("counterbore-depth", "counterbore", "0.1570 in", "4.000 mm"),
        ("parent-bore", "parent", "2.6360 in", "66.950 mm"),
    ],
)
def test_the_example_of_a_master_is_a_size_of_the_feature(
    feature: str, stage: str, inch: str, metric: str
) -> None:
    """A wall is no bore; the example speaks the units of the job."""
    assert offered(Teller(), feature, stage=stage).example == inch
    assert offered(Teller(units="metric"), feature, stage=stage).example == metric
