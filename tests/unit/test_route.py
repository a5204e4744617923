"""Where on its route a job stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sleevewright.jobs.model import Choice, Engine, Entry, Grid, Heat, Job, Part, Port
from sleevewright.jobs.route import ROUTE, next_move, route_of, stage_of, steps_of

A_SIZE = Entry(0.067, "67 mm")


def told(*features: str, kind: str = "two-stroke") -> Job:
    """A job with metals, ports and fit, and a grid for each feature."""
    return Job(
        engine=Engine(kind=kind),
        casting=Part(material="aluminium-356"),
        sleeve=Part(material="grey-iron"),
        choice=Choice(wanted=Entry(8.0e-5, "80 µm"), by="M. Turner"),
        ports=(Port("exhaust", A_SIZE),) if kind == "two-stroke" else (),
        grids=tuple(Grid(feature) for feature in features),
    )


def test_the_route_has_twenty_stages_with_their_own_keys() -> None:
    """Each stage is told apart by its key and its title."""
    assert len(ROUTE) == 20
    assert len({stage.key for stage in ROUTE}) == 20
    assert len({stage.title for stage in ROUTE}) == 20


def test_every_hold_but_three_stages_has_one() -> None:
    """Only drop, facing and rings go on without evidence."""
    assert [stage.key for stage in ROUTE if not stage.hold] == ["drop", "face", "rings"]


@pytest.mark.parametrize("kind", ["four-stroke", "compressor"])
def test_a_cylinder_without_ports_has_no_port_stage(kind: str) -> None:
    """Four-strokes and compressors skip the ports."""
    keys = [stage.key for stage in route_of(told(kind=kind))]
    assert "ports" not in keys
    assert len(keys) == 19


@pytest.mark.parametrize(
    ("job", "stage", "words"),
    [
        (Job(), "intake", "Say what the casting is made of"),
        (replace(told(), ports=()), "found", "Map the ports before anything is bored"),
        (told(), "found", "Gauge the bore as found"),
        (replace(told("as-found-bore"), sleeve=Part()), "choice", "Choose the sleeve"),
        (told("as-found-bore"), "sleeve", "Measure the sleeve"),
        (replace(told("sleeve-od"), choice=Choice()), "fit", "Choose the fit"),
        (told("sleeve-od"), "parent", "Bore the parent to size"),
        (told("sleeve-od", "flange-od", "parent-bore"), "counterbore", "Cut the counterbore"),
        (
            told("sleeve-od", "flange-od", "parent-bore", "counterbore"),
            "counterbore",
            "Measure how deep the counterbore is",
        ),
        (told("sleeve-od", "parent-bore"), "ready", "Make ready: dry and drained"),
        (
            replace(told("sleeve-od", "parent-bore"), heat=Heat(dry=True)),
            "heat",
            "Heat the casting",
        ),
    ],
)
def test_the_next_move_is_the_first_thing_not_told(job: Job, stage: str, words: str) -> None:
    """What is missing names the move and its stage."""
    assert stage_of(job) == stage
    assert next_move(job).startswith(words)


def test_a_fit_without_a_name_is_agreed_before_boring() -> None:
    """A wanted fit that nobody stands for is not a decision."""
    job = replace(told("sleeve-od"), choice=Choice(wanted=A_SIZE))
    assert next_move(job) == "Agree this fit"


def test_an_old_bore_that_is_gone_is_not_asked_for() -> None:
    """Once the parent is bored, nobody can gauge the bore as it was found."""
    job = replace(told("sleeve-od", "parent-bore"), ports=())
    assert stage_of(job) == "ready"


def test_steps_tell_what_is_behind_and_ahead() -> None:
    """Exactly one stage is now; those before are done and those after ahead."""
    states = [step.state for step in steps_of(told("sleeve-od"))]
    now = states.index("now")
    assert states == ["done"] * now + ["now"] + ["ahead"] * (len(states) - now - 1)
    assert steps_of(told("sleeve-od"))[now].stage.key == "parent"


def test_the_stage_of_every_move_is_on_the_route() -> None:
    """A move never points at a stage that this kind of engine skips."""
    for kind in ("two-stroke", "four-stroke"):
        for features in ((), ("sleeve-od",), ("sleeve-od", "parent-bore")):
            job = told(*features, kind=kind)
            assert stage_of(job) in {stage.key for stage in route_of(job)}
