"""A whole simple job told with as little as it needs, and what that is, counted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sleevewright.jobs.catalog import field_of
from sleevewright.jobs.records import Record
from sleevewright.jobs.stagefield import CHOICE, TICK
from told_jobs import MIC, Teller

STATIONS = ["0.4 in", "1.3 in", "2.2 in", "3.1 in"]
FOUR = ["0 deg", "45 deg", "90 deg", "135 deg"]
ROUND = ["0 deg", "90 deg", "180 deg", "270 deg"]
TWO = ["0.5 in", "3.0 in"]
SMALL_MIC = {"name": "mic 0-1", "kind": "micrometer", "resolution": "0.0001 in",
             "setting": "0.1 thou"}  # fmt: skip
DEPTH = {"name": "depth mic", "kind": "depth-micrometer", "resolution": "0.0001 in",
         "setting": "0.2 thou"}  # fmt: skip
INDICATOR = {"name": "indicator", "kind": "indicator", "resolution": "0.0001 in",
             "setting": "0.05 thou"}  # fmt: skip


class Counting(Teller):
    """A teller that counts what the person at the bench did."""

    def __init__(self, kind: str, **more: Any) -> None:
        super().__init__(kind, **more)
        self.typed = ["job.title"]
        self.chosen = ["engine.kind", "engine.cooling"]
        self.ticked: list[str] = []
        self.read: list[str] = []

    def value(self, cell: str, text: str, **more: Any) -> Record:
        """Tell a value and count it by its sort."""
        field = field_of(cell)
        if field is None or field.is_gauged:
            self.read.append(cell)
        elif field.sort == TICK:
            self.ticked.append(cell)
        elif field.sort == CHOICE:
            self.chosen.append(cell)
        else:
            self.typed.append(cell)
        return super().value(cell, text, **more)

    def begin(self, name: str, feature: str, stage: str, **body: Any) -> Record:
        """Begin a set; a nominal is typed, the rest stands ready."""
        if body.get("nominal"):
            self.typed.append(f"set/{name}/nominal")
        return super().begin(name, feature, stage, **body)

    def agree(self, option: str = "sleeve", by: str = "p1") -> Record:
        """Note what is agreed."""
        self.chosen += ["decision.option", "decision.agreed_by"]
        return super().agree(option, by)

    def release(self, *, cylinder: int = 1) -> Record:
        """Sign out."""
        self.chosen.append("release.person")
        return super().release(cylinder=cylinder)


def sizes(middle: float, rows: int, columns: int) -> list[list[str]]:
    """Whole sizes around a middle, a tenth of a thou off here and there."""
    return [
        [f"{middle + 0.0001 * (((row + column) % 3) - 1):.4f} in" for column in range(columns)]
        for row in range(rows)
    ]


PORTS = {"exhaust": "1.345 in", "main left": "1.800 in", "main right": "1.800 in"}


def intake(job: Counting) -> None:
    """What is told when the cylinder comes in."""
    job.value("casting.material", "aluminium-356", cylinder=0)
    job.value("casting.mass", "3.2 lb", cylinder=0)
    job.value("intake.piston", "with the job")
    job.value("intake.agreed", "in person", cylinder=0)


def found(job: Counting) -> None:
    """Cracks, and the ports where there are any."""
    job.value("found.cracks", "none found")
    if job.folded.opened["engine_kind"] == "two-stroke":
        for name, roof in PORTS.items():
            job.value(f"port/{name}/name", name)
            job.value(f"port/{name}/found.roof", roof)


def choice(job: Counting) -> None:
    """The option."""
    job.agree()


def sleeve(job: Counting) -> None:
    """The sleeve in hand."""
    job.value("sleeve.flange", "flanged")
    job.value("sleeve.length", "3.50 in")
    job.grid("od", "sleeve-od", "sleeve", sizes(2.6402, 4, 4), stations=STATIONS,
             directions=FOUR, instrument="mic 2-3", instruments=[MIC])  # fmt: skip
    job.grid("id", "sleeve-id", "sleeve", sizes(2.3400, 2, 2), stations=TWO,
             directions=FOUR[::2])  # fmt: skip
    job.grid("fod", "flange-od", "sleeve", sizes(2.8405, 1, 4), directions=FOUR,
             instrument="mic 2-3", instruments=[MIC])  # fmt: skip
    job.grid("ft", "flange-thickness", "sleeve", sizes(0.1570, 1, 4), directions=ROUND,
             instrument="mic 0-1", instruments=[SMALL_MIC])  # fmt: skip


def fit(job: Counting) -> None:
    """The fit and who stands for it."""
    job.value("fit.wanted", "3.4 thou")
    job.value("fit.stand_out", "2 thou")
    job.value("fit.by", "p1")
    job.value("casting.outside_diameter", "3.70 in", cylinder=0)


def setup(job: Counting) -> None:
    """Both sweeps."""
    for name, depth in (("top", "0.4 in"), ("bottom", "3.0 in")):
        job.grid(name, f"sweep-{name}", "setup", [["+0.2", "+0.1", "-0.2", "-0.1"]],
                 stations=[depth], directions=ROUND, unit="thou", instrument="indicator",
                 instruments=[INDICATOR])  # fmt: skip


def old(job: Counting) -> None:
    """The old sleeve is out."""
    job.value("old.clean", "clean all round")


def parent(job: Counting) -> None:
    """The full grid before the hone."""
    job.grid("bored", "parent-bore", "parent", sizes(2.6353, 4, 4), stations=STATIONS,
             directions=FOUR)  # fmt: skip


def counterbore(job: Counting) -> None:
    """Across and deep."""
    job.grid("cb", "counterbore", "counterbore", sizes(2.8445, 1, 4), directions=FOUR)
    job.value("counterbore.burr", "yes")
    job.grid("cbd", "counterbore-depth", "counterbore", sizes(0.1550, 1, 4), directions=ROUND,
             instrument="depth mic", instruments=[DEPTH])  # fmt: skip


def honefit(job: Counting) -> None:
    """The full grid at size."""
    job.grid("honed", "parent-bore", "honefit", sizes(2.6366, 4, 4), stations=STATIONS,
             directions=FOUR)  # fmt: skip


def ready(job: Counting) -> None:
    """Dry, drained, and the sleeve as it was."""
    if job.folded.opened["engine_kind"] == "two-stroke":
        job.grid("again", "sleeve-od-again", "ready", sizes(2.6403, 2, 4),
                 stations=["1.3 in", "2.2 in"], directions=FOUR, instrument="mic 2-3",
                 instruments=[MIC])  # fmt: skip
    else:
        job.value("ready.unchanged", "yes")
    job.value("ready.dry", "yes")
    job.value("ready.drained", "yes")


def heat(job: Counting) -> None:
    """The slip, gauged."""
    job.value("heat.slip_body", "6.5 thou")
    job.value("heat.slip_flange", "6.5 thou")


def drop(job: Counting) -> None:
    """Down."""
    job.event("drop", "seated")


def cool(job: Counting) -> None:
    """Stand-out, feeler and the bore again."""
    job.grid("so", "stand-out", "cool", [["+2.0", "+2.1", "+2.0", "+1.9"]], directions=ROUND,
             unit="thou", instrument="indicator", instruments=[INDICATOR])  # fmt: skip
    job.value("cool.feeler", "does not enter")
    job.grid("closed", "cooled-bore", "cool", sizes(CLOSED, 2, 2), stations=TWO,
             directions=FOUR[::2])  # fmt: skip


CLOSED = 2.3379


def face(job: Counting) -> None:
    """The deck."""
    job.value("face.done", "left as it is")


def piston(job: Counting) -> None:
    """The piston, and bored to it."""
    job.value("piston.diameter", "2.3992 in")
    job.value("piston.clearance", "2.8 thou")
    job.value("piston.bored", "yes")


def ports(job: Counting) -> None:
    """The chamfers."""
    if job.folded.opened["engine_kind"] == "two-stroke":
        for name in PORTS:
            job.value(f"port/{name}/left.chamfer", "yes")


def hone(job: Counting) -> None:
    """The finished bore."""
    job.grid("fin", "finish-bore", "hone", sizes(2.4020, 3, 4), stations=STATIONS[:3],
             directions=FOUR)  # fmt: skip


def rings(job: Counting) -> None:
    """The gap."""
    job.value("rings.top_gap", "11 thou")


def release(job: Counting) -> None:
    """Washed, and signed out."""
    for tick in ("washed", "tag", "photos"):
        job.value(f"release.{tick}", "yes")
    job.release()


STAGES = (intake, found, choice, sleeve, fit, setup, old, parent, counterbore, honefit, ready,
          heat, drop, cool, face, piston, ports, hone, rings, release)  # fmt: skip
"""What each stage needs told, in the order of the route."""


def simple_job(kind: str, *, until: str = "", without: Sequence[str] = ()) -> Counting:
    """A simple job told up to a stage (that stage left out), or whole."""
    job = Counting(kind)
    for stage in STAGES:
        if stage.__name__ == until:
            break
        if stage.__name__ not in without:
            stage(job)
    return job
