"""Rows of answers on a stage's page: where each is opened, in the plan or on the spot."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.planning.plan import STAGES
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import AnswerView

OPENED = tuple(prefix for _, _, prefixes in STAGES for prefix in prefixes)
"""Beginnings of the answers that the plan's own page opens."""


@dataclass(frozen=True)
class Rows:
    """The answers of one cylinder as rows; ``base`` is the address of the job."""

    viewer: Viewer
    base: str
    cylinder: int

    def opened_at(self, identity: str) -> str:
        """Where a number of the plan is opened; nothing for what stands beside the plan."""
        beside = any(
            stage.is_beside and any(answer.id == identity for answer in stage.answers)
            for stage in self.viewer.plan.stages
        )
        if beside or not identity.startswith(OPENED):
            return ""
        cylinder = f"cylinder={self.cylinder}&" if self.cylinder > 1 else ""
        return f"{self.base}/plan?{cylinder}more={identity}#{identity}-row"

    def lead(self, identity: str) -> AnswerView:
        """An answer that stands large."""
        return self.viewer.answer(identity, self.opened_at(identity))

    def row(self, identity: str) -> AnswerView:
        """One answer; what stands beside the plan is opened on the spot."""
        shown = self.lead(identity)
        if shown.href or shown.is_blank or self.viewer.plan.answer(identity).basis is None:
            return shown
        basis = self.viewer.basis((identity,), lambda _: "")
        # A record has no figure of its own: what it is made of is told in its place.
        inputs = (
            part
            for one in basis.inputs
            for part in (
                self.viewer.basis((one.id,), lambda _: "").inputs if one.is_record else (one,)
            )
        )
        return replace(shown, basis=replace(basis, inputs=tuple(inputs)))
