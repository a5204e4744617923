"""A job as it was told: frozen records of entries, each with its text and its kind.

An entry that was not given is ``None``; the plan supplies named assumptions or says what
is missing.  Diameters are diametral.  Depths count from the deck downwards.
"""

from __future__ import annotations

from dataclasses import dataclass

EntryKind = str  # "measured", "typed", "chosen" or "assumed"


@dataclass(frozen=True)
class Entry:
    """One number as it was given: SI value, the text as typed, and what is known of it.

    ``value`` is SI (temperatures in kelvin); ``doubt`` is a stated half-width (about
    95 %), SI, where the text carried one (``300 F +-20 F``).
    """

    value: float
    text: str
    kind: EntryKind = "typed"
    doubt: float | None = None


@dataclass(frozen=True)
class Engine:
    """The engine that the cylinder belongs to."""

    description: str = ""
    kind: str = "two-stroke"  # or "four-stroke", "compressor"
    cooling: str = "air"  # "air", "fan", "water", "racing"
    stroke: Entry | None = None
    rod: Entry | None = None  # centre to centre
    deck: Entry | None = None  # piston below the deck at top dead centre
    bore: Entry | None = None  # finished, nominal


@dataclass(frozen=True)
class Part:
    """A casting or a sleeve: geometry, mass, metal and any constant that is overridden."""

    material: str = ""
    outside_diameter: Entry | None = None  # casting: effective; sleeve: see its grid
    outside_low: Entry | None = None  # casting: without fins
    outside_high: Entry | None = None  # casting: volume-equivalent
    inside_diameter: Entry | None = None
    length: Entry | None = None  # of contact between sleeve and casting
    mass: Entry | None = None
    limit: Entry | None = None  # highest temperature allowed for the part
    modulus: Entry | None = None
    poisson: Entry | None = None
    expansion: Entry | None = None  # mean, 20 degC to 200 degC, used as constant
    roughness: Entry | None = None  # Rz
    temperature: Entry | None = None  # sleeve at the drop
    flange_diameter: Entry | None = None
    flange_thickness: Entry | None = None
    web: Entry | None = None  # casting: metal between two bores, where it is thinnest
    centres: Entry | None = None  # casting: from the axis of a bore to its neighbour's
    ring_diameter: Entry | None = None  # casting: outside of a ring shrunk round it
    ring_fit: Entry | None = None  # interference of that ring
    ring_material: str = ""


@dataclass(frozen=True)
class Choice:
    """What was decided for the fit, and why."""

    wanted: Entry | None = None  # body interference
    least: Entry | None = None  # the shop's least, body
    flange_wanted: Entry | None = None  # interference at the flange, negative is clearance
    stand_out: Entry | None = None  # of the flange above the deck, negative is below
    tolerance: Entry | None = None  # half-width that the cut is asked to keep
    hold_down: str = ""  # of the flange while it cools: held or free
    reason: str = ""
    by: str = ""


@dataclass(frozen=True)
class Running:
    """The temperatures that the fit must bear in the running engine."""

    casting: Entry | None = None
    sleeve: Entry | None = None
    hard_casting: Entry | None = None
    hard_sleeve: Entry | None = None


@dataclass(frozen=True)
class Heat:
    """What is known and wanted for oven and drop."""

    slip: Entry | None = None  # wanted clearance over the sleeve
    ambient: Entry | None = None
    oven_margin: Entry | None = None
    form: Entry | None = None  # hot out-of-round, taper and burr that use up slip
    carry: Entry | None = None  # seconds from oven to entry
    dry: bool | None = None
    friction: Entry | None = None
    contact: Entry | None = None  # fraction of the surface that touches


@dataclass(frozen=True)
class Port:
    """One port: its name and the depth of its roof below the deck."""

    name: str
    roof: Entry | None = None
    floor: Entry | None = None
    width: Entry | None = None  # chord


@dataclass(frozen=True)
class Piston:
    """The piston that the bore is finished to."""

    diameter: Entry | None = None
    clearance: Entry | None = None
    hone_stock: Entry | None = None


@dataclass(frozen=True)
class Instrument:
    """A gauge with its honest doubt (half-widths of about 95 %)."""

    name: str
    kind: str = ""
    resolution: Entry | None = None
    setting: Entry | None = None  # doubt of its setting
    set_from: str = ""  # name of the instrument or master that it was set from
    turn: Entry | None = None  # one whole turn of its dial
    repeatability: Entry | None = None  # standard deviation of one reading, from a study
    repeatability_freedom: Entry | None = None  # its degrees of freedom
    repeatability_from: str = ""  # the study and its day


@dataclass(frozen=True)
class Grid:
    """Readings of one feature: stations (depths) by directions (angles).

    ``readings[s][d]`` is ``None`` where nothing was read.  ``temperatures`` has the
    same shape where a reading has its own; else ``part_temperature`` holds for all.
    """

    feature: str  # a name of FEATURES
    instrument: str = ""
    nominal: Entry | None = None
    part_temperature: Entry | None = None
    gauge_temperature: Entry | None = None
    gauge_expansion: Entry | None = None
    set_on: str = ""  # what a gauge that compares was set on
    master: str = ""  # its name
    master_temperature: Entry | None = None  # of master and gauge while it was set
    master_expansion: Entry | None = None
    set_by: str = ""
    set_at: str = ""
    zero_start: Entry | None = None  # on the master before, larger bore positive
    zero_end: Entry | None = None
    stations: tuple[Entry, ...] = ()
    directions: tuple[Entry, ...] = ()
    readings: tuple[tuple[Entry | None, ...], ...] = ()
    temperatures: tuple[tuple[Entry | None, ...], ...] = ()
    land_only: bool = False
    repeatability: Entry | None = None  # of the gauge as it was read: standard deviation
    repeatability_freedom: Entry | None = None  # degrees of freedom of that
    repeatability_from: str = ""  # the study that it is from, and its day


FEATURES = (
    "sleeve-od",
    "sleeve-id",
    "parent-bore",
    "flange-od",
    "flange-thickness",
    "counterbore",
    "counterbore-depth",
    "as-found-bore",
)


@dataclass(frozen=True)
class Job:
    """A cylinder on its way through the shop, as far as it has been told."""

    number: str = ""
    title: str = ""
    units: str = "inch"
    invented: bool = False
    cylinder: str = ""
    note: str = ""
    engine: Engine = Engine()
    casting: Part = Part()
    sleeve: Part = Part()
    choice: Choice = Choice()
    running: Running = Running()
    heat: Heat = Heat()
    ports: tuple[Port, ...] = ()
    piston: Piston = Piston()
    instruments: tuple[Instrument, ...] = ()
    grids: tuple[Grid, ...] = ()

    def grid(self, feature: str) -> Grid | None:
        """The last grid of this feature: a later one supersedes an earlier."""
        found = [grid for grid in self.grids if grid.feature == feature]
        return found[-1] if found else None
