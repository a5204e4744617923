"""The shop's settings: what is taken, what is refused, and what a plan makes of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import insert

import sleevewright
from sleevewright.core.materials import default, defaults
from sleevewright.errors import InputError, NotFound
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.shop import THE_SHOP, Shop
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.people import add_person
from sleevewright.services.plans import plan_file
from sleevewright.services.setting_rows import GROUPS
from sleevewright.services.setting_specs import spec_of, specs
from sleevewright.services.settings import (
    change_setting,
    checked,
    price_rates,
    reset_setting,
    setting,
    settings,
    shop_of,
    shop_of_bench,
    units_of,
)
from sleevewright.store.tables import setting as setting_table

THOU = 2.54e-5


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = open_bench(tmp_path / "data")
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def example(root: Path) -> Path:
    """An air-cooled job without readings of its own limits."""
    return root / "examples" / "demo-air-175.toml"


def answer_of(plan: Plan, identity: str) -> Answer:
    """The answer of this name."""
    found = [one for stage in plan.stages for one in stage.answers if one.id == identity]
    assert len(found) == 1, identity
    return found[0]


def value_of(plan: Plan, identity: str) -> float:
    """The SI value of an answer."""
    value = answer_of(plan, identity).value
    assert isinstance(value, float)
    return value


def test_every_setting_has_its_words_range_and_source() -> None:
    """None is without a sentence, a source line or something that stands without it."""
    for one in specs():
        assert one.sentence.endswith("."), one.key
        assert one.source, one.key
        assert one.group in GROUPS
        assert one.allowed_words("inch"), one.key
        assert one.allowed_words("metric"), one.key
        checked(one, one.text)
    assert len({one.key for one in specs()}) == len(specs())


def test_settings_of_the_planner_are_its_defaults() -> None:
    """Each key that the planner takes is the name of a default, with that row's value."""
    for one in specs():
        if one.is_planned_with:
            row = default(one.key)
            assert checked(one, one.text) == pytest.approx(row.value, rel=2e-3, abs=1e-12), one.key
            assert (one.low, one.high) == (row.low, row.high)


def test_the_least_can_be_set_for_every_metal_and_cooling() -> None:
    """All of the planner's wanted and least fits by the inch are among the settings."""
    named = {one.name for one in defaults() if one.name.startswith(("wanted_", "least_"))}
    assert named - {one.key for one in specs()} == set()
    assert len([name for name in named if name.count("_") == 2]) >= 16


def test_nothing_set_is_the_shop_of_the_data(bench: Bench) -> None:
    """Without a setting every row shows the default, and the planner gets its plain shop."""
    assert not any(row.is_own for row in settings(bench))
    assert shop_of({}) == Shop()
    assert shop_of_bench(bench) == Shop()
    assert units_of(bench) == "inch"


def test_a_setting_is_kept_with_who_and_when(bench: Bench) -> None:
    """Text as keyed, person and moment; a second change takes its place."""
    add_person(bench, "Ann")
    row = change_setting(bench, "part_limit", " 220 C ", person="p1")
    assert (row.text, row.is_own, row.person) == ("220 C", True, "p1")
    assert row.said[:4].isdigit()
    assert row.said.endswith("Z")
    assert change_setting(bench, "part_limit", "430 F").text == "430 F"
    assert setting(bench, "part_limit").person == ""


def test_a_setting_goes_back_to_the_default(bench: Bench) -> None:
    """After a reset the data of the tool stand there again, as if nothing had been."""
    change_setting(bench, "least_hot", "0.5 thou")
    assert not reset_setting(bench, "least_hot").is_own
    assert setting(bench, "least_hot").text == default("least_hot").stated
    assert shop_of_bench(bench) == Shop()


@pytest.mark.parametrize(
    ("key", "text", "allowed"),
    [
        ("least_chance_most", "0.5 %", "1 to 20 %"),
        ("least_chance_most", "21 %", "1 to 20 %"),
        ("part_limit", "600 F", "392 to 500 °F"),
        ("least_hot", "5 thou", "0.5 to 2 thou"),
        ("wanted_aluminium_air", "13 thou/in", "1.2 to 2 thou/in"),
        ("wanted_aluminium_air", "1.3", "1.2 to 2 thou/in"),
        ("units", "furlong", "inch or metric"),
        ("price_hour", "85 dollars", "0 to 100000"),
        ("price_hour", "-1", "0 to 100000"),
        ("price_hour", "1e9", "0 to 100000"),
        ("price_tax", "60 %", "0 to 50 %"),
        ("price_currency", "", "1 to 12 letters"),
        ("centring", "9 thou", "0.5 to 3 thou"),
    ],
)
def test_what_is_out_of_range_is_refused_with_the_range(
    bench: Bench, key: str, text: str, allowed: str
) -> None:
    """The refusal names the setting, what was told, what is allowed, and an example."""
    with pytest.raises(InputError) as caught:
        change_setting(bench, key, text)
    said = str(caught.value)
    assert said.startswith(f"{spec_of(key).title}: {text or 'nothing'} cannot be used")
    assert f"allowed is {allowed}." in said
    assert f"As {spec_of(key).text}" in said
    assert not setting(bench, key).is_own


@pytest.mark.parametrize(
    ("key", "text"),
    [("part_limit", "220"), ("least_hot", "1 lb"), ("least_chance_most", "5"), ("centring", "mm")],
)
def test_what_cannot_be_read_is_refused_by_the_parser(bench: Bench, key: str, text: str) -> None:
    """A number without its unit, or with another kind of unit, is never guessed."""
    with pytest.raises(InputError, match="cannot be used"):
        change_setting(bench, key, text)
    assert not setting(bench, key).is_own


def test_the_range_is_told_in_the_shops_units(bench: Bench) -> None:
    """A metric shop reads micrometres and Celsius in a refusal."""
    change_setting(bench, "units", "metric")
    with pytest.raises(InputError, match=r"allowed is 12\.7 to 50\.8 µm\."):
        change_setting(bench, "least_hot", "500 µm")
    with pytest.raises(InputError, match="allowed is 200 to 260 °C"):
        change_setting(bench, "part_limit", "300 C")


def test_no_range_is_told_with_a_power_of_ten(bench: Bench) -> None:
    """5 to 60 kN are 1124.04 to 13488.5 lbf: whole numbers that lie within are told."""
    for one in specs():
        for system in ("inch", "metric"):
            assert not re.search(r"\de[+-]\d", one.allowed_words(system)), one.key
    assert spec_of("flange_clamp_load").allowed_words("inch") == "1125 to 13488 lbf"
    assert change_setting(bench, "flange_clamp_load", "13488 lbf").is_own


def test_ends_of_a_range_are_allowed(bench: Bench) -> None:
    """The limits themselves can be set, in either system."""
    for text in ("1 %", "20 %"):
        assert change_setting(bench, "least_chance_most", text).is_own
    for text in ("392 F", "500 F", "260 C"):
        assert change_setting(bench, "part_limit", text).is_own


@pytest.mark.parametrize(
    ("first", "then", "allowed"),
    [
        (("wanted_aluminium_fan", "1.1 thou/in"), ("least_aluminium_fan", "1.2 thou/in"),
         r"at most 1\.1 thou/in, which stands for Aluminium casting, fan-cooled: wanted"),
        (("least_aluminium_fan", "1.2 thou/in"), ("wanted_aluminium_fan", "1.1 thou/in"),
         r"at least 1\.2 thou/in, which stands for"),
        (("drop_good_below", "5 %"), ("drop_out_above", "1 %"), "at least 5 %"),
        (("drop_out_above", "1 %"), ("drop_good_below", "2 %"), "at most 1 %"),
    ],
)  # fmt: skip
def test_two_that_belong_together_cannot_be_crossed(
    bench: Bench, first: tuple[str, str], then: tuple[str, str], allowed: str
) -> None:
    """A least above what is wanted is refused, and the text says which comes first."""
    change_setting(bench, *first)
    with pytest.raises(InputError, match=f"{allowed}.*Set the other one first"):
        change_setting(bench, *then)
    assert not setting(bench, then[0]).is_own


def test_an_unknown_setting_is_told_with_those_that_are(bench: Bench) -> None:
    """A key that is not on the list is refused on reading, setting and resetting."""
    for act in (lambda: setting(bench, "x"), lambda: reset_setting(bench, "x"),
                lambda: change_setting(bench, "x", "1")):  # fmt: skip
        with pytest.raises(NotFound, match="least_hot"):
            act()


def test_what_a_newer_range_no_longer_takes_is_shown_and_not_used(bench: Bench) -> None:
    """A stored text that cannot be taken any more leaves the default in its place, and says so."""
    row = {
        "key": "least_hot",
        "value": "9 thou",
        "said": "2026-01-01T00:00:00.000Z",
        "person": None,
    }
    bench.store.write(lambda connection: connection.execute(insert(setting_table).values(row)))
    found = setting(bench, "least_hot")
    assert (found.text, found.is_own) == (default("least_hot").stated, False)
    assert "9 thou cannot be used" in found.problem
    assert shop_of_bench(bench) == Shop()


def test_prices_are_reckoned_with_what_was_set(bench: Bench) -> None:
    """Hour, risk, tax and currency; a decimal comma is a decimal sign."""
    rates = price_rates(bench)
    assert (rates.hour, rates.risk, rates.tax) == (85.0, pytest.approx(0.1), 0.0)
    for key, text in (("price_hour", "92,50"), ("price_tax", "19 %"), ("price_currency", "CHF")):
        change_setting(bench, key, text)
    rates = price_rates(bench)
    assert (rates.hour, rates.tax, rates.currency) == (92.5, pytest.approx(0.19), "CHF")
    assert shop_of_bench(bench) == Shop(), "prices change no plan"


def test_a_shop_without_settings_plans_as_before(example: Path) -> None:
    """An empty snapshot changes no number."""
    assert plan_file(example, shop=shop_of({})) == plan_file(example)


def test_the_plan_takes_what_the_shop_has_set(example: Path) -> None:
    """The hot least, the unclamping, the tolerance and the chance arrive, with their source."""
    texts = {
        "least_hot": "0.5 thou",
        "unclamp_temperature": "55 C",
        "depth_tolerance": "0.8 thou",
        "least_chance_most": "12 %",
    }
    shop = shop_of(texts)
    plan = plan_file(example, shop=shop)
    assert shop.settings.least_chance_most == pytest.approx(0.12)
    assert value_of(plan, "running.least") == pytest.approx(0.5 * THOU)
    assert value_of(plan, "cool.unclamp") == pytest.approx(273.15 + 55.0)
    assert value_of(plan, "counterbore.above") == pytest.approx(0.8 * THOU)
    least = answer_of(plan, "running.least")
    assert (least.source, least.typed) == (THE_SHOP, "set here to 0.5 thou")


def test_what_the_job_tells_goes_before_what_the_shop_has_set(tmp_path: Path) -> None:
    """A setting stands in only where the job says nothing."""
    job = tmp_path / "job.toml"
    told = '[sleeve]\noutside_diameter = "2.600 in"\n[fit]\nleast = "2.0 thou"\n'
    job.write_text(told, encoding="utf-8")
    shop = shop_of({"least_fit": "3 thou", "wanted_aluminium_air": "1.6 thou/in"})
    plan = plan_file(job, shop=shop)
    assert value_of(plan, "fit.least") == pytest.approx(2.0 * THOU)
    assert value_of(plan, "fit.wanted") == pytest.approx(2.6 * 1.6 * THOU)


def test_a_least_as_a_fit_goes_before_a_smaller_one_by_the_inch(tmp_path: Path) -> None:
    """The larger of both counts: 3 thou over 1.0 thou/in at 2.6 in, and not at 0.5 thou."""
    job = tmp_path / "job.toml"
    job.write_text(
        '[job]\nnumber = "T-1"\n[engine]\ncooling = "air"\n[casting]\nmaterial = "aluminium-356"\n'
        '[sleeve]\noutside_diameter = "2.600 in"\n',
        encoding="utf-8",
    )
    by_inch = value_of(plan_file(job), "fit.least")
    assert by_inch == pytest.approx(2.6 * THOU)
    assert value_of(plan_file(job, shop=shop_of({"least_fit": "3 thou"})), "fit.least") == (
        pytest.approx(3.0 * THOU)
    )
    assert value_of(plan_file(job, shop=shop_of({"least_fit": "0.5 thou"})), "fit.least") == (
        pytest.approx(by_inch)
    )


def test_no_setting_of_a_plan_is_set_in_vain() -> None:
    """Each default that a shop may set is asked for by its name where the shop's own counts."""
    planning = Path(sleevewright.__file__).parent / "planning"
    code = "\n".join(path.read_text(encoding="utf-8") for path in sorted(planning.glob("*.py")))
    vain = [
        one.key
        for one in specs()
        if one.is_planned_with
        and not one.key.startswith(("wanted_", "least_aluminium", "least_iron"))
        and not re.search(
            rf'(?:ledger\.default\(|most\(\s*ledger, |within\(\s*ledger, |name = )[^)]*"{one.key}"'
            rf'|enter_default\([^)]*"{one.key}"|"{one.key}" if record',
            code,
        )
    ]
    assert set(vain) <= {"least_chance_most", "flange_feeler"}, "taken apart, and told as kept only"
    assert "no stage judges by it yet" in spec_of("flange_feeler").sentence
