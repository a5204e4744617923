"""The records that a plan is made of.

A plan is a tree: stages hold answers, an answer's basis names the answers that it was
computed from.  Values are SI.  Whatever shows a plan, be it page, terminal, paper or
JSON, reads these records and computes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from sleevewright.errors import Caution, NotFound
from sleevewright.planning.shop import Chosen


class Kind(StrEnum):
    """Where a number comes from."""

    MEASURED = "measured"
    TYPED = "typed"
    CHOSEN = "chosen"
    ASSUMED = "assumed"
    COMPUTED = "computed"


class Verdict(StrEnum):
    """The three answers against a limit (decision rule after ISO 14253-1)."""

    GOOD = "good"
    TOO_CLOSE = "too close to call"
    OUT = "out"


class Quantity(StrEnum):
    """What a number is, so that a shell knows in which unit and digits to show it."""

    SIZE = "size"  # [m], a diameter or length in inches or millimetres
    DEVIATION = "deviation"  # [m], a small difference, in thou or micrometres
    READING = "dial reading"  # [m], a deviation with its sign always shown
    TEMPERATURE = "temperature"  # [degC held as kelvin: K]
    TEMPERATURE_DIFFERENCE = "temperature difference"  # [K]
    MASS = "mass"  # [kg]
    PRESSURE = "pressure"  # [Pa]
    MODULUS = "modulus"  # [Pa]
    FORCE = "force"  # [N]
    TORQUE = "torque"  # [N m]
    TIME = "time"  # [s]
    TIME_AT_LEAST = "time at least"  # [s], rounded down where it is shown
    TIME_AT_MOST = "time at most"  # [s], rounded up where it is shown
    ANGLE = "angle"  # [rad]
    EXPANSION = "expansion"  # [1/K]
    EXPANSION_SLOPE = "expansion slope"  # [1/K^2]
    HEAT_CAPACITY = "heat capacity"  # [J/K]
    SPECIFIC_HEAT = "specific heat"  # [J/(kg K)]
    CONDUCTIVITY = "conductivity"  # [W/(m K)]
    DENSITY = "density"  # [kg/m^3]
    PROBABILITY = "probability"  # [1], shown in per cent
    RATIO = "ratio"  # [1]
    COUNT = "count"  # [1], of things that are counted, shown whole
    SLOPE = "slope"  # [1], a lean or a taper by length, in thou by the inch or µm by the mm
    SWELL = "degrees per thou"  # [rad/m]
    VOLUME = "volume"  # [m^3]
    FINE = "fine deviation"  # [m], a feed or a roughness: two digits
    TURNING = "turning speed"  # [1/s], in turns by the minute
    CUTTING_SPEED = "cutting speed"  # [m/s], along the wall
    FEED_SPEED = "feed speed"  # [m/s], along the bore
    POWER = "power"  # [W]
    LIGHT_FORCE = "light force"  # [N], of a cut
    FREQUENCY = "frequency"  # [1/s]
    REMOVAL = "removal rate"  # [m^3/s]
    LIGHT_TORQUE = "light torque"  # [N m], of a cut
    GIVE = "give"  # [m/N], deflection by force
    RATE = "rate"  # [1/s], turns or cycles by the minute
    METAL = "metal to grind"  # [m], in whole thou or hundredths of a millimetre
    ROUGHNESS = "roughness"  # [m], a height of a profile, in microinches or micrometres
    AREA = "area"  # [m^2]
    ANGLE_AREA = "angle-area"  # [m^2 rad], open area times crank angle
    TIME_AREA = "time-area"  # [s/m], specific: with a volume that is named
    CHANGE = "change"  # [1], more or less than before, in per cent
    RECORD = "record"  # a structured input, not a single number
    TEXT = "text"


Value = float | str | tuple[float, ...] | tuple[tuple[float, ...], ...] | object | None


@dataclass(frozen=True)
class Contributor:
    """One input's part of a doubt, as the standard uncertainty that it alone would cause."""

    input: str
    label: str
    standard: float


@dataclass(frozen=True)
class Road:
    """The same doubt found another way, and how it stands to the first: SI.

    ``gap`` is how far the ends of the two intervals lie apart at the worse end, and
    ``allowed`` what ``digits`` meant digits of the doubt leave open.
    """

    name: str
    source: str
    standard: float
    low: float
    high: float
    gap: float
    allowed: float
    digits: int
    says: str  # "agrees", "differs", or that there are too few samples to tell


@dataclass(frozen=True)
class Doubt:
    """What is not known about a value: SI, same unit as the value."""

    standard: float
    low: float
    high: float
    coverage: float
    method: str  # "sampled", "linear", "stated"; "counted": sampling error of a count; or "length":
    # of two components, uneven and never below nought
    shape: str = "normal"  # of a stated doubt: what is drawn from
    degrees_of_freedom: float | None = None
    samples: int | None = None
    contributors: tuple[Contributor, ...] = ()
    sampling_error: float = 0.0  # of the worse known end, where it is sampled
    second: Road | None = None


@dataclass(frozen=True)
class Basis:
    """How a computed value came about: enough to compute it again."""

    name: str
    expression: str
    function: str
    inputs: tuple[tuple[str, str], ...]  # parameter of the function, id of the answer
    sources: tuple[str, ...]
    validity: str


@dataclass(frozen=True)
class SettlingWay:
    """One way to read again that is expected to settle a verdict."""

    words: str
    readings: int
    standard: float  # doubt that it would leave, as a standard uncertainty
    chance: float | None  # that it settles, as the value may move; None: if the figure stays


@dataclass(frozen=True)
class Judgement:
    """A value against its limit.

    ``chance_out`` is how probable it is that the true value lies beyond the limit, whatever
    the verdict says; ``None`` where that is not reckoned.
    """

    verdict: Verdict
    limit: float
    side: str  # "least" or "most"
    rule: str
    remedy: str = ""
    chance_out: float | None = None
    ways: tuple[SettlingWay, ...] = ()  # the cheapest first


@dataclass(frozen=True)
class Answer:
    """One named value of a plan.

    ``value`` is ``None`` where an input is missing; ``needs`` then lists what to give.
    """

    id: str
    label: str
    value: Value
    quantity: Quantity
    kind: Kind
    sense: str = ""  # "diametral", "radial", "axial" or empty
    of: str = ""  # of what, at what temperature; one short line
    typed: str = ""  # as it was typed, where it was
    source: str = ""  # for typed, chosen and assumed values: who says so
    doubt: Doubt | None = None
    judgement: Judgement | None = None
    basis: Basis | None = None
    cautions: tuple[Caution, ...] = ()
    needs: tuple[str, ...] = ()
    absent: str = ""  # what stands for a value that does not exist, as "none"
    would_change: str = ""  # what would halve the doubt, or change the value
    is_detail: bool = False  # an input behind another answer: shown when that one is opened


@dataclass(frozen=True)
class StageAnswers:
    """The answers of one stage of the route, with the cautions that belong to the work."""

    key: str
    title: str
    answers: tuple[Answer, ...]
    hazards: tuple[Caution, ...] = ()
    advice: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()  # of a stage beside the plan; the plan has its own
    is_beside: bool = False  # whether it stands beside the plan, so that its page lacks it


@dataclass(frozen=True)
class Plan:
    """Everything that one look at a job answers."""

    job: str
    title: str
    units: str  # "inch" or "metric"
    invented: bool
    next_move: str
    seven: tuple[str, ...]  # ids of the headline answers, in order
    orders: tuple[str, ...]  # ids of what is to be cut and done, for the ticket
    stages: tuple[StageAnswers, ...]
    cautions: tuple[Caution, ...] = ()
    code_version: str = ""
    samples: int = 0  # draws behind each sampled doubt
    seed: int = 0
    chosen: Chosen = ()  # what the shop has set itself, for answers beside the plan
    _index: dict[str, Answer] = field(default_factory=dict, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the answers once; the records themselves stay frozen."""
        for stage in self.stages:
            for answer in stage.answers:
                self._index[answer.id] = answer

    def answer(self, identity: str) -> Answer:
        """The answer with this id; :class:`NotFound` where there is none."""
        if identity not in self._index:
            raise NotFound("answer", identity)
        return self._index[identity]

    def answers(self) -> tuple[Answer, ...]:
        """All answers in the order of the route."""
        return tuple(self._index.values())
