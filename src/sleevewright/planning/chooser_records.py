"""The records of the picture of a fit: curves over the interference, marks, and what is against.

Interferences are diametral, at 20 degC; values are SI, nan where there is none.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.errors import Caution
from sleevewright.planning.answers import Basis, Kind, Quantity, Verdict

_WEIGHTS = {Verdict.OUT: 0, Verdict.TOO_CLOSE: 1, Verdict.GOOD: 2}


@dataclass(frozen=True)
class Curve:
    """One answer over the interference, SI; nan where there is no value.

    ``low``, ``middle`` and ``high`` are what 5, 50 and 95 in 100 stay below; for a chance
    they are the chance and what counting leaves open.  ``central`` is the answer at central
    inputs, as the plan tells it.
    """

    id: str
    label: str
    quantity: Quantity
    sense: str
    of: str
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]
    central: tuple[float, ...]
    limit: float | None = None
    side: str = ""  # "least", "most" or empty
    limit_source: str = ""
    limit_words: str = ""
    chance_out: tuple[float, ...] = ()
    verdicts: tuple[Verdict, ...] = ()
    basis: tuple[Basis, ...] = ()
    assumptions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Mark:
    """One interference that means something: the least, the wish, today's, a part's limit."""

    id: str
    label: str
    interference: float
    kind: Kind
    source: str


@dataclass(frozen=True)
class Against:
    """What stands against one interference: the worst verdict, and the curves that say so."""

    verdict: Verdict
    curves: tuple[str, ...]  # ids of those that are not good, the worst first


@dataclass(frozen=True)
class Chooser:
    """One picture: curves over the interferences, and where the fit stands now.

    Without the sleeve's size there is no picture: everything is empty but ``needs``.
    """

    interferences: tuple[float, ...]
    curves: tuple[Curve, ...]
    chosen: float
    least: float
    diameter: float
    samples: int
    cautions: tuple[Caution, ...]
    needs: tuple[str, ...]
    marks: tuple[Mark, ...] = ()

    def against(self) -> tuple[Against, ...]:
        """What stands against each interference; good where every curve with a limit is."""
        judged = [one for one in self.curves if one.verdicts]
        return tuple(
            _weighed([(one.verdicts[at], one.id) for one in judged])
            for at in range(len(self.interferences))
        )

    def curve(self, identity: str) -> Curve | None:
        """The curve of this answer, if it can be drawn."""
        return next((one for one in self.curves if one.id == identity), None)


def _weighed(said: list[tuple[Verdict, str]]) -> Against:
    """The worst of several verdicts and whose it is."""
    ranked = sorted(said, key=lambda one: _WEIGHTS[one[0]])
    bad = tuple(name for verdict, name in ranked if verdict is not Verdict.GOOD)
    return Against(ranked[0][0] if bad else Verdict.GOOD, bad)
