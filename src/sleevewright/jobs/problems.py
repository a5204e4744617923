"""What is wrong in a job file: every problem with its line, told together."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field

from sleevewright.errors import SleevewrightError, clipped
from sleevewright.jobs.places import Place


@dataclass(frozen=True)
class Problem:
    """One thing to put right: where it stands and what it is, in full sentences."""

    line: int  # 0 where no line can be named
    key: str
    text: str


class JobFileErrors(SleevewrightError):
    """A job file that cannot be taken, with everything that is wrong in it."""

    def __init__(self, name: str, problems: tuple[Problem, ...]) -> None:
        self.name = name
        self.problems = problems
        head = "" if len(problems) == 1 else f"{len(problems)} things to put right. "
        told = " ".join(_told(problem) for problem in problems)
        super().__init__(f"{name}: {head}{told}")

    def lines(self) -> tuple[str, ...]:
        """One line of text for each problem."""
        return tuple(f"{self.name}: {_told(problem)}" for problem in self.problems)


def _told(problem: Problem) -> str:
    """A problem with its line in front."""
    return f"line {problem.line}: {problem.text}" if problem.line else problem.text


@dataclass
class Findings:
    """The problems found so far, and the lines that they may point at."""

    name: str
    lines: dict[Place, int]
    system: str = "inch"  # units in which the messages speak
    problems: list[Problem] = field(default_factory=list)

    def add(self, place: Place, text: str) -> None:
        """Note a problem at a place; the line is that of the nearest place that has one."""
        at = place
        while at and at not in self.lines:
            at = at[:-1]
        self.problems.append(Problem(self.lines.get(at, 0), key_of(place), text))

    def refuse(self) -> None:
        """Raise everything that was found, in the order of the lines."""
        if self.problems:
            ordered = sorted(self.problems, key=lambda problem: problem.line)
            raise JobFileErrors(self.name, tuple(ordered))


def key_of(place: Place) -> str:
    """A place as a person names it: ``grid 2, readings 3.1``; rows and cells count from 1.

    Examples
    --------
    >>> key_of(("grid", 1, "readings", 2, 0)), key_of(("fit", "wanted"))
    ('grid 2.readings 3.1', 'fit.wanted')
    """
    words: list[str] = []
    numbered = False
    for part in place:
        if isinstance(part, str):
            words.append(f".{clipped(part)}" if words else clipped(part))
            numbered = False
        else:
            words.append(f".{part + 1}" if numbered else f" {part + 1}")
            numbered = True
    return "".join(words)


def nearest(word: str, known: Iterable[str]) -> str:
    """``did you mean ...`` with the nearest known word, else the list of them."""
    words = tuple(clipped(one) for one in known)
    near = difflib.get_close_matches(clipped(word).lower(), words, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}?"
    return f"known are {', '.join(words)}."
