"""What the shop remembers of a cylinder that it released: fit, proof, and how it came out.

The figures are those of the plan that the release signed, not of a plan made anew; the
outcome is what was told afterwards.  A come-back outweighs everything else that was told,
before it or after it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sleevewright.core.fits.closeratio import opening_default
from sleevewright.core.materials import default, material
from sleevewright.errors import NotFound
from sleevewright.jobs.comebacks import OUTCOME_BAD, OUTCOME_CELL, come_backs, standing_words
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import JOB, RELEASE, VALUE, WHOLE_JOB, Record
from sleevewright.units import unit_suffix

WELL, BACK, UNHEARD = "runs well", OUTCOME_BAD, "not heard of"
OUTCOMES = (WELL, BACK, UNHEARD)

NOT_TOLD = "not told"
PARTS = 3
"""Parts of the key of a pairing."""
USUAL_SLEEVE = "grey-iron"
DAY = 86_400.0
EXPANSION_UNIT = unit_suffix("expansion")
_TOLD_CELLS = ("after.", "casting.material", "sleeve.material", "engine.cooling", "job.title")


@dataclass(frozen=True)
class Pairing:
    """What makes two jobs alike: families of both metals, and how it is cooled."""

    casting: str
    sleeve: str
    cooling: str

    @classmethod
    def from_key(cls, key: str) -> Pairing | None:
        """The pairing that a key names; nothing where it is none.

        Examples
        --------
        >>> Pairing.from_key("aluminium|iron|air")
        Pairing(casting='aluminium', sleeve='iron', cooling='air')
        >>> Pairing.from_key("aluminum-iron-air") is None
        True
        """
        parts = key.split("|")
        return cls(*parts) if len(parts) == PARTS and all(parts) else None

    @property
    def key(self) -> str:
        """As it stands in tables and records."""
        return f"{self.casting}|{self.sleeve}|{self.cooling}"

    @property
    def words(self) -> str:
        """As it is said."""
        cooled = {"water": "water-cooled", "air": "air-cooled", "fan": "fan-cooled"}
        how = cooled.get(self.cooling, self.cooling)
        return f"{_named(self.sleeve)} sleeve in {_named(self.casting)}, {how}"


@dataclass(frozen=True)
class Obtained:
    """What the close-up alone says of the fit that was obtained, beside the one measured. SI.

    ``shared`` is what jobs of a shop have in common: how stiff castings are taken to be, and
    what friction along the fit takes off.
    """

    difference: float  # obtained less measured, diametral
    standard: float
    shared: float


@dataclass(frozen=True)
class PastJob:
    """One released cylinder; sizes in metres, diametral."""

    job: str
    cylinder: int
    title: str
    pairing: Pairing
    released: str  # the day, ISO
    outcome: str
    heard_after: float = 0.0  # days from the release to the come-back, or to the last word
    diameter: float | None = None
    fit: float | None = None  # cold, as measured
    fit_standard: float | None = None
    proved: float | None = None  # cold, as the signed plan holds it proved
    proved_standard: float | None = None
    obtained: Obtained | None = None
    hours: float | None = None
    symptom: str = ""
    cause: str = ""
    is_invented: bool = False

    @property
    def per_diameter(self) -> float | None:
        """Cold fit by the diameter."""
        return self.fit / self.diameter if self.fit is not None and self.diameter else None


def pairing_of(casting: str, sleeve: str, cooling: str) -> Pairing:
    """The pairing of two metals by name; a sleeve of which nothing is told is iron.

    Examples
    --------
    >>> pairing_of("aluminium-356", "grey-iron", "air").key
    'aluminium|iron|air'
    """
    return Pairing(_family(casting), _family(sleeve or USUAL_SLEEVE), cooling or "air")


def pairing_words(key: str) -> str:
    """A key as it is said; one that cannot be read as it stands, because records keep it for ever.

    Examples
    --------
    >>> pairing_words("aluminum-iron-air")
    'aluminum-iron-air, which is no pairing'
    """
    found = Pairing.from_key(key)
    return f"{key}, which is no pairing" if found is None else found.words


def past_job(folded: Folded, cylinder: int) -> PastJob | None:
    """What is remembered of a cylinder; nothing where it was never released."""
    bad = next(iter(come_backs(folded, cylinder=cylinder)), None)
    release = standing_release(folded, cylinder, before=None if bad is None else bad.number)
    if release is None:
        return None
    outcome, word = _outcome(folded, cylinder, bad)
    leaves = signed_leaves(release.body)
    fit, fit_standard = _figure(leaves, "fit.cold")
    proved, proved_standard = _figure(leaves, "cool.proved")
    obtained = obtained_fit(leaves)
    if proved is None and obtained is not None and fit is not None:
        proved, proved_standard = (
            fit + obtained.difference,
            math.hypot(obtained.standard, obtained.shared),
        )
    opened = folded.opened
    return PastJob(
        job=folded.job,
        cylinder=cylinder,
        title=folded.text("job.title", cylinder=WHOLE_JOB) or str(opened.get("title", "")),
        pairing=_pairing(folded, cylinder),
        released=release.received[:10],
        outcome=outcome,
        heard_after=_days(folded, cylinder, release.received, word),
        diameter=_figure(leaves, "sleeve.od")[0],
        fit=fit,
        fit_standard=fit_standard,
        proved=proved,
        proved_standard=proved_standard,
        obtained=obtained,
        hours=_hours(folded, cylinder),
        symptom=standing_words(folded, "after.symptom", cylinder=cylinder),
        cause=standing_words(folded, "after.cause", cylinder=cylinder),
        is_invented=bool(opened.get("invented")),
    )


def adds_memory(record: Record) -> bool:
    """Whether a record may change what is remembered of a released cylinder."""
    if record.kind == VALUE:
        return str(record.body["cell"]).startswith(_TOLD_CELLS)
    return record.kind in (JOB, RELEASE)


def obtained_fit(leaves: Mapping[str, Mapping[str, Any]]) -> Obtained | None:
    """The fit by the close-up alone less the fit measured, from the answers of a signed plan.

    What the bore closed by, over what it closes for each metre of fit, is the fit that works;
    what the roughness took is put back.  The measured fit is no part of it, so that nothing
    counts twice.  Friction along the fit is taken off as the proof takes it: it is no habit.
    """
    cold, u_cold = _figure(leaves, "fit.cold")
    closed, u_closed = _figure(leaves, "cool.closed")
    gain = _gain(leaves)
    if cold is None or closed is None or not u_closed or gain is None:
        return None
    working = closed / gain.ratio
    return Obtained(
        difference=working + gain.loss - cold,
        standard=math.hypot(u_closed / gain.ratio, u_cold or 0.0),
        shared=abs(working) * gain.relative,
    )


@dataclass(frozen=True)
class _Gain:
    """What a bore closes by for each metre of fit that works, friction taken off."""

    ratio: float
    relative: float  # standard uncertainty of it, by itself
    loss: float  # what roughness takes off the fit


def _gain(leaves: Mapping[str, Mapping[str, Any]]) -> _Gain | None:
    """The ratio as the proof signed it; of an older release, from the plan's own close-up."""
    told = [_figure(leaves, f"cool.{one}", "1")[0] for one in ("ratio", "ratio_doubt")]
    ratio, relative = told
    loss = _figure(leaves, "cool.loss")[0]
    if ratio is not None and relative is not None and loss is not None:
        return _Gain(ratio, relative, loss) if ratio > 0.0 else None
    return _older_gain(leaves)


def _older_gain(leaves: Mapping[str, Mapping[str, Any]]) -> _Gain | None:
    """The close-up over the fit that works, less what friction usually takes off."""
    need = ("fit.effective", "fit.as_cut", "fit.close_up")
    told = {name: _figure(leaves, name) for name in need}
    if any(value is None for value, _ in told.values()):
        return None
    effective, as_cut, predicted = (float(told[one][0] or 0.0) for one in need)
    _, u_cut, u_predicted = (float(told[one][1] or 0.0) for one in need)
    if effective <= 0.0 or predicted <= 0.0:
        return None
    free = predicted / effective
    stiffness = math.sqrt(max(0.0, u_predicted**2 - (free * u_cut) ** 2)) / predicted
    casting, sleeve = (
        _figure(leaves, f"{part}.expansion", EXPANSION_UNIT)[0] for part in ("casting", "sleeve")
    )
    usual = default(opening_default(casting=casting, sleeve=sleeve))
    left = 1.0 - usual.value
    relative = math.hypot(stiffness, (usual.doubt or 0.0) / left)
    return _Gain(free * left, relative, as_cut - effective)


def signed_leaves(body: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    """The answers of a signed plan by their ids."""
    found: dict[str, Mapping[str, Any]] = {}
    for stage in _listed(body.get("plan"), "stages"):
        for leaf in _listed(stage, "answers"):
            if isinstance(leaf, Mapping):
                found[str(leaf.get("id", ""))] = leaf
    return found


def _listed(body: object, key: str) -> Sequence[Any]:
    """A list in a document that another release may have written; empty where there is none."""
    told = body.get(key) if isinstance(body, Mapping) else None
    return told if isinstance(told, list | tuple) else ()


def _figure(
    leaves: Mapping[str, Mapping[str, Any]], name: str, unit: str = "m"
) -> tuple[float | None, float | None]:
    """Value and standard uncertainty of a number; nothing where it was not known."""
    leaf = leaves.get(name, {})
    value, doubt = leaf.get(f"value_{unit}"), leaf.get("doubt")
    if not isinstance(value, float) or not math.isfinite(value):
        return None, None
    standard = doubt.get(f"standard_{unit}") if isinstance(doubt, Mapping) else None
    return value, float(standard) if isinstance(standard, float) else None


def standing_release(folded: Folded, cylinder: int, *, before: int | None) -> Record | None:
    """The last release before a come-back; the last of all where there was none."""
    own = [one for one in folded.releases if one.cylinder in (cylinder, WHOLE_JOB)]
    earlier = [one for one in own if before is None or one.number < before]
    kept = earlier or own
    return kept[-1] if kept else None


def _outcome(folded: Folded, cylinder: int, bad: Told | None) -> tuple[str, Told | None]:
    """How it came out, and the word that says so."""
    if bad is not None:
        return BACK, bad
    heads = folded.heads(OUTCOME_CELL, cylinder=cylinder)
    well = [one for one in heads if one.text.strip() == WELL]
    return (WELL, well[-1]) if well else (UNHEARD, None)


def _days(folded: Folded, cylinder: int, released: str, word: Told | None) -> float:
    """Days from a release to a word of it; nought where there was none."""
    if word is None:
        return 0.0
    said = folded.text("after.came_back", cylinder=cylinder)
    for moment in (said, word.received):
        try:
            then = datetime.fromisoformat(moment[:10])
        except ValueError:
            continue
        days = (then - datetime.fromisoformat(released[:10])).total_seconds() / DAY
        if days >= 0.0:
            return days
    return 0.0


def _hours(folded: Folded, cylinder: int) -> float | None:
    """Hours that it ran, as they were told."""
    told = folded.value("after.ran", cylinder=cylinder)
    seconds = None if told is None else told.body.get("si")
    return float(seconds) / 3600.0 if isinstance(seconds, int | float) else None


def _pairing(folded: Folded, cylinder: int) -> Pairing:
    cooling = folded.text("engine.cooling", cylinder=cylinder) or folded.opened.get("cooling")
    casting = folded.text("casting.material", cylinder=cylinder)
    sleeve = folded.text("sleeve.material", cylinder=cylinder)
    return pairing_of(casting, sleeve, str(cooling or "air"))


def _family(name: str) -> str:
    """Family of a metal; that it was not told where it was not, or nobody knows it."""
    try:
        return material(name).family if name else NOT_TOLD
    except NotFound:
        return NOT_TOLD


def _named(family: str) -> str:
    return f"metal {NOT_TOLD}" if family == NOT_TOLD else family
