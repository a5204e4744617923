"""A gauge zeroed on the sleeve: whose micrometer stands behind the size keyed, and how often."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from comparator_examples import ON_SLEEVE, THOU, job_of, text_of
from sleevewright.core.materials import material
from sleevewright.jobs.jobfile import read_job
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop

FEW = Shop(Settings(budget_samples=4000, drop_samples=100))


def planned(setting: str, **more: str) -> Plan:
    """The plan of a job whose bore was gauged so, on few samples."""
    return plan(job_of(setting, **more), FEW)


def answers(setting: str, **more: str) -> Mapping[str, Answer]:
    """Its answers by their ids."""
    return {one.id: one for one in planned(setting, **more).answers()}


def without_outside(setting: str) -> Mapping[str, Answer]:
    """The answers of the job whose sleeve's outside was not entered."""
    text = text_of(setting)
    start = text.index('[[grid]]\nfeature = "sleeve-od"')
    bare = text[:start] + text[text.index("[[grid]]", start + 5) :]
    return {one.id: one for one in plan(read_job(bare, name="t.toml"), FEW).answers()}


def test_a_zero_on_a_sleeve_of_no_known_size_keeps_the_micrometer_s_doubt() -> None:
    """The size keyed came from a micrometer: the bore is known no better than set from it."""
    doubts = [
        without_outside(f'set_on = "{one}"')["bore.size"].doubt for one in ("micrometer", "sleeve")
    ]
    assert doubts[0] is not None
    assert doubts[1] is not None
    assert doubts[1].standard > doubts[0].standard
    assert "gauge.mic-2-3.setting" in {one.input for one in doubts[1].contributors}


def test_a_sleeve_of_no_known_size_grows_as_iron_does() -> None:
    """ISO 1: zeroed on a sleeve 10 K warm, the bore by 10.7e-6/K and not as gauge steel."""
    told = [
        without_outside(f'{ON_SLEEVE}\nmaster_temperature = "{warm} C"{of}')["bore.size"]
        for warm, of in ((30, ""), (30, '\nmaster_expansion = "11.5e-6/K"'))
    ]
    iron, steel = (float(str(one.value)) for one in told)
    grown = float(material("grey-iron").expansion.reference)
    assert iron - steel == pytest.approx((grown - 11.5e-6) * 10.0 * 0.06704, rel=0.02)


def test_one_micrometer_for_both_sizes_is_counted_once() -> None:
    """JCGM 100 F.1.2.3: where the sleeve's micrometer also gave the size keyed, it cancels."""
    shared, own = answers(ON_SLEEVE), answers(ON_SLEEVE, set_from="ring")
    for one, is_shared in ((shared, True), (own, False)):
        doubt = one["fit.by_sizes"].doubt
        assert doubt is not None
        assert ("gauge.mic-2-3.setting" in {part.input for part in doubt.contributors}) != is_shared
    doubts = [one["fit.dial_off"].doubt for one in (shared, own)]
    assert doubts[0] is not None
    assert doubts[1] is not None
    twice = 2.0 * (0.2 * THOU / 1.96) ** 2
    lost = doubts[1].standard ** 2 - doubts[0].standard ** 2
    assert lost == pytest.approx(twice, rel=0.05)


def test_a_size_three_tenths_off_is_noticed_where_one_micrometer_gave_both() -> None:
    """What the micrometer is off by cannot hide it then."""
    codes = [
        {one.code for one in planned(ON_SLEEVE, zero="2.6390 in", set_from=told).cautions}
        for told in ("mic 2-3", "ring")
    ]
    assert ["dial-and-sizes-differ" in one for one in codes] == [True, False]


def test_what_temperature_did_holds_no_keyed_size_and_no_drift() -> None:
    """ISO 1: 20 °F of aluminium over iron; a size keyed two thou off and a zero change nothing."""
    moved = f'{ON_SLEEVE}\nzero_start = "0 thou"\nzero_end = "0.2 thou"'
    right, off = (answers(ON_SLEEVE, part="90 F", zero=one) for one in ("2.6393 in", "2.6373 in"))
    worths = [one["bore.warmth_worth"] for one in (right, off, answers(moved, part="90 F"))]
    aluminium, iron = (
        float(material(one).expansion.reference) for one in ("aluminium-356", "grey-iron")
    )
    plain = 0.06695 * (aluminium * 110.0 / 9.0 - iron * 10.0 / 9.0)
    for one in worths:
        assert float(str(one.value)) == pytest.approx(plain, rel=2e-3)
    doubt = worths[0].doubt
    assert doubt is not None
    names = {one.input for one in doubt.contributors}
    assert "casting.growth_scale" in names
    assert not {"bore.size.repeat", "bore.size.place", "gauge.mic-2-3.setting"} & names
    read = [float(str(one["bore.as_read"].value)) for one in (right, off)]
    assert read[0] - read[1] == pytest.approx(2.0 * THOU, rel=1e-3)
