"""The errors and cautions that every layer shares.

One base and a few children.  The text of each says what was wrong, the value with its
unit, what is allowed and what to do next, so that a surface only has to print it.
Impossible input raises; input that is merely outside the range of a source returns its
number together with a :class:`Caution`, which each surface must show.
"""

from __future__ import annotations

from dataclasses import dataclass

LONGEST_ECHO = 60
"""Letters of a text that a message repeats; what was meant is seen from fewer."""


def clipped(text: str) -> str:
    """A text as a message repeats it: whole, or its beginning and an ellipsis.

    Halves of letters (lone surrogates), which no message can carry, become question marks.

    Examples
    --------
    >>> clipped("3.5 thou"), len(clipped("3" * 200_000))
    ('3.5 thou', 60)
    """
    is_whole = len(text) <= LONGEST_ECHO
    begun = text if is_whole else text[: LONGEST_ECHO - 1]
    sound = begun.encode("utf-8", "replace").decode()
    return sound if is_whole else f"{sound}\N{HORIZONTAL ELLIPSIS}"


class SleevewrightError(Exception):
    """Anything that the tool refuses to do, with a text fit for the person at the bench."""


class InputError(SleevewrightError):
    """A value that cannot be right."""

    def __init__(self, field: str, value: object, unit: str, allowed: str, hint: str = "") -> None:
        self.field = field
        self.value = value
        self.unit = unit
        self.allowed = allowed
        self.hint = hint
        shown = f"{value:.6g}" if isinstance(value, float) else f"{value}"
        stated = f"{clipped(shown)} {unit}".strip()
        text = f"{field}: {stated} cannot be used; allowed is {allowed}."
        super().__init__(f"{text} {hint}".strip())


class MissingInput(InputError):
    """An input that was not given; the text carries an example of it."""

    def __init__(self, field: str, example: str) -> None:
        self.example = example
        super().__init__(field, "nothing", "", "a value with its unit", f"Give it as {example}.")
        self.args = (f"{field}: it is missing. Give it as {example}.",)


class OutOfRange(SleevewrightError):
    """A source was asked for a value where it says nothing, and no number can be given."""

    def __init__(self, source: str, allowed: str) -> None:
        self.source = source
        self.allowed = allowed
        super().__init__(f"{source} says nothing here; it covers {allowed}.")


class NotConverged(SleevewrightError):
    """A solver stopped before it reached the wanted residual; no number is given."""

    def __init__(self, solver: str, iterations: int, residual: float, wanted: float) -> None:
        self.solver = solver
        self.iterations = iterations
        self.residual = residual
        self.wanted = wanted
        super().__init__(
            f"{solver} did not converge: after {iterations} steps the residual is "
            f"{residual:.3g}, wanted {wanted:.3g}. No number is given; check the inputs."
        )


class StateError(SleevewrightError):
    """A job is not where it must be for what was asked.

    ``state`` goes on from "Job J-31 is": "at intake", "not ready for release".
    """

    def __init__(self, job: str, state: str, wanted: str) -> None:
        self.job = job
        self.state = state
        self.wanted = wanted
        super().__init__(f"Job {job} is {state}; this needs {wanted}.")


class NotFound(SleevewrightError):
    """A name that is not known, with the names that are."""

    def __init__(self, what: str, name: str, known: tuple[str, ...] = ()) -> None:
        self.what = what
        self.name = name
        self.known = known
        listed = f" Known are: {', '.join(known)}." if known else ""
        super().__init__(f"There is no {what} named {clipped(name)!r}.{listed}")


@dataclass(frozen=True)
class Caution:
    """A warning that travels with a number: shown wherever the number is shown."""

    code: str
    text: str
    source: str = ""
