"""Jobs whose set-up is swept, for tests: sweeps in thou, and what the stage answers of them."""

from __future__ import annotations

import math
from pathlib import Path

from benches import EXAMPLES
from sleevewright.jobs.jobfile import read_job
from sleevewright.planning.answers import Answer, Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame
from sleevewright.planning.setting_up import set_up
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.swept import setup_sets, setup_told
from told_jobs import Teller

THOU = 25.4e-6
QUARTERS = (0, 90, 180, 270)
EIGHT = tuple(range(0, 360, 45))
INDICATOR = {"name": "lever 1", "kind": "indicator", "resolution": "0.0001 in",
             "setting": "0.05 thou"}  # fmt: skip


class Setup(Teller):
    """A job that is swept: each sweep asks for a move in thou."""

    def swept(self, name: str, where: str, move: tuple[float, float], **more: object) -> None:
        """Tell a sweep of a round bore; ``lobes`` puts three lobes on it."""
        around = more.pop("around", QUARTERS)
        lobes = more.pop("lobes", 0.0)
        turns = [math.radians(a) for a in around]  # type: ignore[attr-defined] # angles
        readings = [
            move[0] * math.cos(t) + move[1] * math.sin(t) + lobes * math.cos(3 * t)  # type: ignore[operator] # a number
            for t in turns
        ]
        self.told(name, where, readings, tuple(around), **more)  # type: ignore[arg-type] # angles

    def told(
        self,
        name: str,
        where: str,
        readings: list[float],
        around: tuple[int, ...],
        **more: object,
    ) -> None:
        """Tell a sweep as it was read, in thou."""
        depth = {"top": "0.4 in", "bottom": "3.0 in"}.get(where)
        gauge = {"instrument": "lever 1", "instruments": [INDICATOR], **more}
        self.grid(name, f"sweep-{where}", "setup", [[f"{one:+.4f}" for one in readings]],
                  unit="thou", stations=[depth] if depth else [],
                  directions=[f"{a} deg" for a in around], **gauge)  # type: ignore[arg-type] # as above  # fmt: skip

    def answered(self, made: Plan) -> StageAnswers:
        """What the stage answers of what was told."""
        return set_up(Frame(made), setup_sets(self.folded, 1), setup_told(self.folded, 1))


def both(top: tuple[float, float], bottom: tuple[float, float], **more: object) -> Setup:
    """A job that was swept at both depths."""
    job = Setup()
    job.swept("a1", "top", top, **more)
    job.swept("b1", "bottom", bottom, **more)
    return job


def one(stage: StageAnswers, name: str) -> Answer:
    """An answer of the stage."""
    return next(answer for answer in stage.answers if answer.id == f"setup.{name}")


def thou(stage: StageAnswers, name: str) -> float:
    """A length of the stage in thou."""
    value = one(stage, name).value
    assert isinstance(value, float)
    return value / THOU


def verdict(stage: StageAnswers, name: str) -> str:
    """Verdict of an answer; empty where there is none."""
    judged = one(stage, name).judgement
    return "" if judged is None else judged.verdict.value


def worked_plan() -> Plan:
    """The plan of the worked job, on few samples."""
    text = Path(EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    shop = Shop(Settings(budget_samples=4000, drop_samples=100))
    return plan(read_job(text, name="demo"), shop)


def with_setup(made: Plan, job: Setup) -> Plan:
    """The plan with what the stage answers."""
    return with_stage(made, job.answered(made))
