"""How pages and settings tell a doubt: chance, ways to settle, k and what it holds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from browser.sample_plan import sample_plan
from sleevewright.core.uncertainty.decision import GUARD_FACTOR
from sleevewright.errors import InputError
from sleevewright.planning.answers import Contributor, Doubt, Plan, SettlingWay, Verdict
from sleevewright.planning.shop import default_in
from sleevewright.services.setting_specs import spec_of
from sleevewright.services.settings import checked, shop_of
from sleevewright.web.plan.address import Place
from sleevewright.web.plan.page import opened_basis
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.render import render

THOU = 25.4e-6
WAYS = (
    SettlingWay("about 6 more readings of the bore", 6, 3e-6, 0.62),
    SettlingWay("the bore read anew with gauge 2, 8 readings", 8, 2e-6, 0.71),
)


def basis_of(plan: Plan, identity: str = "fit.running") -> str:
    """The opened basis of an answer as a page has it."""
    place = Place("/jobs/J-31", "inch", "inch", more=(identity,))
    return render("plan/basis.html", basis=opened_basis(plan, place), param="more")


def changed(judgement: dict[str, Any], **answer: Any) -> Plan:
    """The sample plan with another verdict on the running fit."""
    plan = sample_plan()
    old = plan.answer("fit.running")
    assert old.judgement is not None
    told = replace(old, judgement=replace(old.judgement, **judgement), **answer)
    stages = tuple(
        replace(one, answers=tuple(told if a.id == old.id else a for a in one.answers))
        for one in plan.stages
    )
    return replace(plan, stages=stages, _index={})


def test_an_opened_verdict_tells_its_chance_and_its_ways() -> None:
    """The cheapest way first, each with how likely it settles; then the chance of being out."""
    text = basis_of(
        changed({"verdict": Verdict.TOO_CLOSE, "chance_out": 0.31, "remedy": "x", "ways": WAYS})
    )
    assert text.index(WAYS[0].words) < text.index(WAYS[1].words)
    assert "settles it with 62 % chance" in text
    assert "31 % chance that it is out." in text


def test_one_way_alone_says_that_the_value_may_move() -> None:
    """A forecast is no promise, and says so."""
    text = basis_of(changed({"verdict": Verdict.TOO_CLOSE, "remedy": "x", "ways": WAYS[:1]}))
    assert "It settles it with 62 % chance: the value may move when it is read again." in text


def test_a_verdict_without_a_chance_says_nothing_of_one() -> None:
    """Where nothing was in doubt there is nothing to tell."""
    assert "chance that it is" not in basis_of(changed({"chance_out": None, "ways": ()}))


def test_the_rule_stands_beside_the_verdict() -> None:
    """Whatever the rule was, it is named."""
    assert "Verdict: no guard band, risk shared." in basis_of(
        changed({"rule": "no guard band, risk shared"})
    )


def test_an_opened_doubt_tells_its_k_and_drops_bars_that_read_as_nought() -> None:
    """Of three contributors the one of a hundredth of a thou is no bar."""
    parts = tuple(
        Contributor(f"g{n}", f"cause {n}", size * THOU) for n, size in enumerate((0.3, 0.2, 0.004))
    )
    half = 0.8 * THOU
    doubt = Doubt(
        0.36 * THOU, -half, half, 0.95, "linear", degrees_of_freedom=6.0, contributors=parts
    )
    plan = changed({}, doubt=doubt)
    bars = Viewer(plan, "inch").basis(("fit.running",), lambda _: "").bars
    assert [one.label for one in bars] == ["cause 0", "cause 1"]
    assert "k 2.22 at 6 degrees of freedom, holds 95 %" in basis_of(plan)


def test_the_shop_sets_its_guard_band() -> None:
    """Nought shares the risk; what nobody would set is refused with what is allowed."""
    spec = spec_of("guard_factor")
    assert checked(spec, "0") == 0.0
    assert default_in(shop_of({"guard_factor": "2"}).chosen, "guard_factor").value == 2.0
    assert default_in(shop_of({}).chosen, "guard_factor").value == GUARD_FACTOR
    with pytest.raises(InputError) as refused:
        checked(spec, "7")
    assert "0 to 3" in str(refused.value)
