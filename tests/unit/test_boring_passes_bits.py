"""Many jobs at once give to the last bit what one job after the other gives over plain floats."""

from __future__ import annotations

import numpy as np
import pytest

from plain_passes import plain_closed_loop
from sleevewright.core.cutting.pass_study import StudyShop, closed_loop, fixed_schedule
from sleevewright.core.cutting.passes import CutState, learned_cut
from sleevewright.errors import InputError

THOU = 25.4e-6
SHOP = StudyShop(
    0.067, 0.5 * THOU, 40 * THOU, 2 * THOU, 0.85, 0.1, 0.2 * THOU, 3e-6, 2e-6,
    (14 * THOU, 7 * THOU), 2.5758, 2.3263,
)  # fmt: skip


def test_closed_loop_is_bit_equal_to_plain_floats() -> None:
    """Every bore, count, belief and variance of 300 jobs is the same bits."""
    deviates = np.random.default_rng(4).standard_normal((12, 2, 300))
    found = closed_loop(study_shop=SHOP, cut_deviates=deviates)
    told = np.array(plain_closed_loop(SHOP, deviates.tolist()))
    for column, array in enumerate(
        (found.bore, found.passes, found.believed, found.believed_variance)
    ):
        assert np.array_equal(told[:, column], array)
    assert len(set(found.passes.tolist())) > 1  # jobs that stop early are among them


def test_learning_is_bit_equal_over_arrays() -> None:
    """The state after a pass is the same bits for arrays over jobs and for one after another."""
    generator = np.random.default_rng(9)
    asked, taken = generator.uniform(2, 40, 50) * THOU, generator.uniform(1, 35, 50) * THOU
    prior = CutState(0.85, 0.0, 0.01, 0.0, 2.6e-11)
    many = learned_cut(cut_state=prior, cut_asked=asked, cut_taken=taken, taken_variance=1.3e-11)
    for job in range(asked.size):
        one = learned_cut(
            cut_state=prior, cut_asked=float(asked[job]), cut_taken=float(taken[job]),
            taken_variance=1.3e-11,
        )  # fmt: skip
        assert one.share == np.asarray(many.share)[job]
        assert one.offset_variance == np.asarray(many.offset_variance)[job]


@pytest.mark.parametrize("shape", [(12, 3, 5), (2, 2, 5), (12, 2)])
def test_deviates_of_another_shape_are_refused(shape: tuple[int, ...]) -> None:
    """Both studies take passes and two rows more, by two, by jobs, and nothing else."""
    for study in (closed_loop, fixed_schedule):
        with pytest.raises(InputError, match="deviates"):
            study(study_shop=SHOP, cut_deviates=np.zeros(shape))


def test_the_fixed_schedule_needs_its_four_passes() -> None:
    """Three passes of deviates are too few for rough, semi-finish and two finish passes."""
    with pytest.raises(InputError, match="four passes"):
        fixed_schedule(study_shop=SHOP, cut_deviates=np.zeros((5, 2, 3)))
