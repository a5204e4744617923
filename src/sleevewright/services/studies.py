"""Use cases of gauge studies: begun, read blind, looked at whole, accepted by a person.

What a study says goes into the gauge only when somebody accepts it; sets of readings that
are begun from then on carry it.  Entries of a study are never changed and never removed.
"""

from __future__ import annotations

import random
import secrets
from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import Connection

from sleevewright.core.metrology.study import GaugeStudy, adopted_repeatability, gauge_study
from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.jobs.studies import (
    ACCEPTED,
    BEGUN,
    READING,
    SET_ASIDE,
    STATES,
    TAKEN_BACK,
    WITHDRAWN,
    Place,
    Study,
    StudyPlan,
    check_plan,
    folded_studies,
    read_study,
)
from sleevewright.jobs.studyjudging import farthest, refuse_absurd
from sleevewright.planning.answers import Kind, Plan
from sleevewright.planning.gaugestudy import StudyTold, study_plan
from sleevewright.services.bench import Bench
from sleevewright.services.instruments import Instrument, adopt, instrument, range_of, snapshot
from sleevewright.services.people import people
from sleevewright.store.studykeeping import add_study_entry, next_study, study_entries
from sleevewright.units import Dimension, parse

STUDIED = (
    "micrometer",
    "dial-bore-gauge",
    "three-point-gauge",
    "telescoping-gauge",
    "caliper",
    "depth-micrometer",
    "depth-caliper",
    "indicator",
    "height-gauge",
)
"""Kinds of gauges that a hand reads a length with."""

SHORTEST_REASON, LONGEST_REASON = 4, 400


def studies(bench: Bench, *, gauge: str = "") -> tuple[Study, ...]:
    """Every study, or those of one gauge; the newest first."""
    found = folded_studies(bench.store.read(study_entries)).values()
    return tuple(one for one in reversed(found) if not gauge or one.gauge == gauge)


def study(bench: Bench, number: str) -> Study:
    """The study of this number."""
    return _known(folded_studies(bench.store.read(study_entries)), number)


def begin_study(bench: Bench, told: StudyPlan, *, lots: random.Random | None = None) -> Study:
    """Plan a study and draw the order in which it is read.

    Parameters
    ----------
    bench : Bench
        The open bench.
    told : StudyPlan
        What is to be studied.
    lots : random.Random | None
        What the order is drawn with; of the system's own chance where not given.

    Raises
    ------
    InputError
        If such a study could say nothing, or the gauge cannot read it.
    NotFound
        If there is no such gauge or person.
    """
    gauge = instrument(bench, told.gauge)
    if gauge.kind not in STUDIED:
        allowed = "a gauge that a hand reads lengths with"
        raise InputError("gauge", gauge.name, "", allowed, "A master is checked, not studied.")
    readers = _readers(bench, told.people)
    check_plan(replace(told, people=readers), range_of(gauge), gauge.range)
    chance = lots or secrets.SystemRandom()
    body = {
        "gauge": gauge.name,
        "instruments": snapshot(bench, gauge.name),
        "system": told.system,
        "people": list(readers),
        "features": [{"name": one.name, "size": one.size} for one in told.features],
        "repeats": told.repeats,
        "order": drawn_order(len(told.features), len(readers), told.repeats, chance),
    }

    def work(connection: Connection) -> str:
        number = next_study(connection)
        add_study_entry(connection, number, BEGUN, body, made=bench.now())
        return number

    return study(bench, bench.store.write(work))


def drawn_order(
    features: int, people: int, repeats: int, lots: random.Random
) -> list[tuple[int, int, int]]:
    """An order by chance: round by round, in each the people and for each the features.

    A person reads all features in one go, so that the gauge changes hands as seldom as
    can be; who begins and with which feature is drawn anew in every round.
    """
    order: list[tuple[int, int, int]] = []
    for repeat in range(repeats):
        for person in lots.sample(range(people), people):
            own = lots.sample(range(features), features)
            order += [(feature, person, repeat) for feature in own]
    return order


def tell_study(bench: Bench, number: str, text: str, *, place: Place | None = None) -> Study:
    """Keep a reading of a study, of the place that is next.

    ``place`` is what the page asked for: where another was told meanwhile, as on a second
    tablet or by a second press, the reading is refused and not put elsewhere.

    Raises
    ------
    InputError
        If the study is closed, another place is next, or the reading cannot be right there.
    """

    def work(connection: Connection) -> None:
        found = _open(folded_studies(study_entries(connection)), number)
        at = next(iter(found.left), None)
        if at is None:
            allowed = "no more readings: all are told"
            raise InputError("reading", clipped(text), "", allowed, "Look at what it says.")
        if place not in (None, at):
            allowed = "the place that is asked for now"
            raise InputError("reading", clipped(text), "", allowed, "Load the page anew.")
        nm = read_study(found, at, text)
        body = {"place": list(at), "text": text, "nm": nm}
        add_study_entry(connection, number, READING, body, made=bench.now())

    bench.store.write(work)
    return study(bench, number)


def take_back(bench: Bench, number: str) -> Study:
    """Take the reading back that was told last; its place is asked for again."""

    def work(connection: Connection) -> None:
        found = _open(folded_studies(study_entries(connection)), number)
        if found.last is None:
            raise InputError("reading", "none", "", "a reading that was told")
        body = {"place": list(found.last)}
        add_study_entry(connection, number, TAKEN_BACK, body, made=bench.now())

    bench.store.write(work)
    return study(bench, number)


def accept_study(bench: Bench, number: str, *, person: str = "") -> Study:
    """Put what a whole study says into its gauge, in the place of what stood there.

    Raises
    ------
    InputError
        If readings are missing, with how many and of whom; nobody is named; or one hand
        repeats worse than a set can carry, with the reading that stands apart.
    """
    who = _one_reader(bench, person)
    named = {one.key: one.shown for one in people(bench, with_removed=True)}

    def work(connection: Connection) -> None:
        known = folded_studies(study_entries(connection))
        found = _open(known, number)
        result = result_of(found)
        worth = adopted_repeatability(result, resolution=step_of(found)[0])
        reader = named.get(found.people[farthest(found)[1]], "")
        refuse_absurd(found, worth.standard, reader=reader)
        made = bench.now()
        adopt(
            connection,
            found.gauge,
            {
                "repeatability": f"{worth.standard * 1e6:.4g} µm",
                "repeatability_freedom": f"{worth.degrees_of_freedom:.4g}",
                "repeatability_from": f"study {number}, {made[:10]}",
            },
        )
        older = [one.id for one in known.values() if _holds(one, found.gauge)]
        body = {"person": who, "supersedes": older, "standard": worth.standard}
        add_study_entry(connection, number, ACCEPTED, body, made=made)

    bench.store.write(work)
    bench.on_change()
    return study(bench, number)


def withdraw_study(bench: Bench, number: str, reason: str, *, person: str = "") -> Study:
    """Take an accepted study out of its gauge, which goes back to what is usual."""
    who, why = _one_reader(bench, person), _said(reason)

    def work(connection: Connection) -> None:
        found = _known(folded_studies(study_entries(connection)), number)
        if found.state != "accepted":
            raise InputError("study", f"{number}, {STATES[found.state]}", "", "an accepted one")
        adopt(connection, found.gauge, {})
        body = {"person": who, "reason": why}
        add_study_entry(connection, number, WITHDRAWN, body, made=bench.now())

    bench.store.write(work)
    bench.on_change()
    return study(bench, number)


def set_aside(bench: Bench, number: str, reason: str, *, person: str = "") -> Study:
    """End a study that is not to count; it stays on the list with the reason."""
    who, why = _one_reader(bench, person), _said(reason)

    def work(connection: Connection) -> None:
        _open(folded_studies(study_entries(connection)), number)
        body = {"person": who, "reason": why}
        add_study_entry(connection, number, SET_ASIDE, body, made=bench.now())

    bench.store.write(work)
    return study(bench, number)


def result_of(found: Study) -> GaugeStudy:
    """What a whole study comes to.

    Raises
    ------
    InputError
        If readings are missing; it says how many, and of which feature the first is.
    """
    if found.left:
        feature, _, repeat = found.left[0]
        said = f"{len(found.left)} of {len(found.order)} readings are missing"
        first = f"{found.features[feature].name}, round {repeat + 1}"
        hint = f"Take them; the next is {first}."
        raise InputError(f"study {found.id}", said, "", "a reading at every place", hint)
    return gauge_study(found.values())


def answers_of(found: Study) -> Plan:
    """The answers of a whole study, ready to be shown."""
    result_of(found)
    step, kind = step_of(found)
    setting = found.snapshot[0].get("setting", "")
    half = None
    if setting:
        half = parse(setting, field="setting", dimension=Dimension.LENGTH).value
    told = StudyTold(
        found.id, found.made[:10], found.gauge, found.values(), step, kind, half, found.system
    )
    return study_plan(told)


def step_of(found: Study) -> tuple[float, Kind]:
    """The step of a study's gauge as it was when the study was begun, and who says so."""
    from sleevewright.core.materials import default

    text = found.snapshot[0].get("resolution", "")
    if not text:
        return default("gauge_resolution").value, Kind.ASSUMED
    return parse(text, field="resolution", dimension=Dimension.LENGTH).value, Kind.TYPED


def can_be_studied(gauge: Instrument) -> bool:
    """Whether a hand reads lengths with a gauge."""
    return gauge.kind in STUDIED


def _holds(one: Study, gauge: str) -> bool:
    return one.gauge == gauge and one.state == "accepted"


def _readers(bench: Bench, told: Sequence[str]) -> tuple[str, ...]:
    """Keys of who reads; one empty key where the shop names nobody."""
    known = {one.key for one in people(bench)}
    if not told and len(known) <= 1:
        return tuple(known) or ("",)
    for key in told:
        if key not in known:
            raise NotFound("person", key, tuple(one.name for one in people(bench)))
    return tuple(told)


def _one_reader(bench: Bench, person: str) -> str:
    """Who judges a study; among several somebody has to be named."""
    found = _readers(bench, (person,) if person else ())
    if len(found) != 1:
        hint = "Say who accepts or ends it."
        raise InputError("person", "nobody", "", "one who works here", hint)
    return found[0]


def _said(reason: str) -> str:
    words = " ".join(reason.split())
    if not SHORTEST_REASON <= len(words) <= LONGEST_REASON:
        allowed = f"a reason of {SHORTEST_REASON} to {LONGEST_REASON} letters"
        raise InputError("reason", clipped(words) or "nothing", "", allowed, "As gauge was cold.")
    return words


def _known(known: dict[str, Study], number: str) -> Study:
    if number not in known:
        raise NotFound("gauge study", number, tuple(known)[-5:])
    return known[number]


def _open(known: dict[str, Study], number: str) -> Study:
    """A study that can still be told of."""
    found = _known(known, number)
    if not found.is_open:
        said = f"{number}, {STATES[found.state]}"
        hint = "What was judged stays as it is; begin a new one."
        raise InputError("study", said, "", "one that is not judged yet", hint)
    return found
