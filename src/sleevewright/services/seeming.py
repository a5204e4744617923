"""Use case: quiet remarks about the sets of a stage, beside what is reckoned from them.

Nothing waits for a remark: it blocks no entry and no hold.
"""

from __future__ import annotations

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog import grid_of_feature, sheet_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import grid_of_set, instruments_of_set
from sleevewright.jobs.model import Job, Part
from sleevewright.jobs.records import Record
from sleevewright.jobs.seeming import set_seen
from sleevewright.jobs.sets import sets_of, state_of
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.seeming import set_remarks, shrinking

RESTS_ON = {"honefit": ("sleeve-od", "flange-od", "parent-bore")}
"""Features whose readings the hold of a stage rests on, beside those that it gauges itself."""

CUT = {"parent-bore": ("casting", "The parent bore"), "finish-bore": ("sleeve", "The bore")}
"""Features that are cut between one set and the next: the part, and what the bore is called."""


def remarks_of(folded: Folded, job: Job, stage: str, *, cylinder: int = 1) -> tuple[str, ...]:
    """What is remarked of the readings that a stage shows or rests on; mostly nothing.

    Parameters
    ----------
    folded : Folded
        The job.
    job : Job
        The same as the planner takes it, for the growth of its parts.
    stage : str
        The stage that is looked at.
    cylinder : int
        Which cylinder, from 1.

    Returns
    -------
    tuple[str, ...]
        Sentences, each beginning with the feature that it is about.
    """
    own = (grid.feature for grid in sheet_of(stage).grids)
    found: list[str] = []
    for feature in dict.fromkeys((*own, *RESTS_ON.get(stage, ()))):
        read = [
            record
            for record in sets_of(folded, feature, cylinder=cylinder)
            if state_of(folded, record).read
        ]
        if not read:
            continue
        title = _title(read[-1])
        texts = [*set_remarks(set_seen(folded, read[-1]), _gauged(folded, read[-1]))]
        texts += _shrunk(folded, job, read[-2:])
        found += [f"{title}: {text[:1].lower()}{text[1:]}" for text in texts]
    return tuple(found)


def _title(record: Record) -> str:
    """What a feature is called at the stage that it was read at."""
    feature = str(record.body.get("feature", ""))
    grid = grid_of_feature(feature, stage=str(record.body.get("stage", "")))
    return feature.replace("-", " ").capitalize() if grid is None else grid.title


def _gauged(folded: Folded, record: Record) -> Gauged:
    return Gauged(grid_of_set(folded, record), instruments_of_set(record))


def _shrunk(folded: Folded, job: Job, read: list[Record]) -> list[str]:
    """Whether a bore that is cut came out smaller than in the set before."""
    feature = str(read[-1].body.get("feature", ""))
    if len(read) < 2 or feature not in CUT:
        return []
    whose, label = CUT[feature]
    part = job.casting if whose == "casting" else job.sleeve
    known = part if part.material else Part(material="grey-iron" if whose == "sleeve" else "")
    before, after = (_gauged(folded, record) for record in read)
    try:
        text = shrinking(before, after, known, units=job.units, label=label)
    except SleevewrightError:
        return []  # what is wrong with the set or the metal is said where it is reckoned with
    return [text] if text else []
