"""Half a per cent of the diameter is the most that is believed of a fit: one figure, one home."""

from __future__ import annotations

import ast
import inspect

import pytest

from sleevewright.core.fits import interference
from sleevewright.core.materials import default
from sleevewright.errors import InputError
from sleevewright.planning import believed
from sleevewright.planning.fit_advice import is_believable
from sleevewright.planning.fit_statements import statements
from sleevewright.services.quick import quick

ASKED = ("diameter=3in", "cooling=air", "casting=aluminium")


def test_share_is_told_once_in_the_data() -> None:
    """The relation takes its share from the named default, and writes no figure of its own."""
    assert default("interference_most").value == interference.PLAUSIBLE_SHARE
    written = [
        node.value
        for module in (interference, believed)
        for node in ast.walk(ast.parse(inspect.getsource(module)))
        if isinstance(node, ast.Constant) and isinstance(node.value, float)
    ]
    assert 0.005 not in written


def test_statements_and_refusals_follow_the_same_share(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a tenth of the share, 6 thou on 3 in are neither believed nor taken as a fit."""
    muff = next(one for one in statements() if one.id == "owners-muff")
    assert is_believable(muff, 3.0 * 0.0254)
    monkeypatch.setattr(believed, "PLAUSIBLE_SHARE", 0.0005)
    assert not is_believable(muff, 3.0 * 0.0254)
    with pytest.raises(InputError, match=r"up to 1\.5 thou, 0\.05 % of the diameter"):
        quick("advice", (*ASKED, "wanted=6thou"))


@pytest.mark.parametrize(("word", "field"), [("wanted", "wanted"), ("least", "least")])
def test_a_fit_beyond_the_share_is_read_both_ways(word: str, field: str) -> None:
    """20 thou on 3 in, 0.67 %: more than 15 thou is refused; 20 hundredths would be 7.9 thou."""
    with pytest.raises(InputError) as refused:
        quick("advice", (*ASKED, f"{word}=20thou"))
    assert refused.value.field == field
    assert "15.0 thou, 0.5 %" in refused.value.allowed
    assert "20.0 thou" in refused.value.hint
    assert "7.9 thou" in refused.value.hint


def test_a_fit_at_the_share_is_advised_on() -> None:
    """14 thou is foolish, and goes against all: it is told so and not refused."""
    said = quick("advice", (*ASKED, "wanted=14thou")).said
    assert any(one.startswith("goes against") for one in said)
