"""Write the demonstration jobs of ``examples/`` and their truths, always the same.

Run ``python tools/make_demo.py`` from the folder of the project.  Each job is a head
written by hand (``tools/demo/``) and reading grids drawn here from stated truths: a true
mean diameter with its form, an instrument with its bias, its resolution and its play, and
parts at their own temperatures.  Two mistakes are made on purpose in the first job.  All
of it is invented.
"""

from __future__ import annotations

import json
import math
import random
import sys
from dataclasses import dataclass, field
from pathlib import Path

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "examples"
INCH = 25.4
STEEL = 11.5e-6  # expansion of the gauges [1/K]
ALUMINIUM = 21.0e-6  # true expansion of the invented castings near room temperature [1/K]
IRON = 10.7e-6
DIRECTIONS = (0.0, 45.0, 90.0, 135.0)


@dataclass(frozen=True)
class Gauge:
    """An instrument with the truth about it; the bias includes what it was set from."""

    name: str
    bias_um: float
    play_um: float  # standard deviation of one reading
    resolution_um: float
    turn_um: float


@dataclass(frozen=True)
class Surface:
    """A true surface at 20 degC: mean over its length, and its form, all diametral."""

    feature: str
    mean_mm: float
    expansion: float
    taper_um: float = 0.0  # bottom minus top
    barrel_um: float = 0.0  # ends minus middle
    oval_um: float = 0.0  # greatest minus least of one level
    oval_at_deg: float = 0.0
    lobe_um: float = 0.0  # three lobes: a two-point gauge does not see them

    def diameter_mm(self, *, along: float, angle_deg: float) -> float:
        """Two-point diameter at ``along`` (-0.5 top to 0.5 bottom) and an angle."""
        barrel = self.barrel_um * (4.0 * along * along - 1.0 / 3.0)
        turned = math.radians(2.0 * (angle_deg - self.oval_at_deg))
        form = self.taper_um * along + barrel + 0.5 * self.oval_um * math.cos(turned)
        return self.mean_mm + form / 1000.0


@dataclass(frozen=True)
class Mistake:
    """What went wrong at one reading."""

    station: int
    direction: int
    turns: int = 0  # whole turns of the dial
    part_c: float | None = None  # true temperature where it was not the stated one


@dataclass(frozen=True)
class Sheet:
    """One grid as it was taken."""

    surface: Surface
    gauge: Gauge
    nominal: str
    nominal_mm: float
    part: str
    part_c: float
    tool: str
    tool_c: float
    stations: tuple[str, ...] = ()
    length: float = 0.0  # from the first depth to the last, in the unit of the stations
    sizes: bool = False  # read as whole sizes, not as differences from the nominal
    blanks: tuple[tuple[int, int], ...] = ()
    mistakes: tuple[Mistake, ...] = ()


@dataclass(frozen=True)
class Scenario:
    """One demonstration job."""

    name: str
    head: str
    seed: int
    inch: bool
    sheets: tuple[Sheet, ...]
    extra: dict[str, object] = field(default_factory=dict)


def reading_mm(sheet: Sheet, station: int, direction: int, rng: random.Random) -> float:
    """What the gauge shows: the part at its temperature, seen through the gauge."""
    count = max(len(sheet.stations), 1)
    along = 0.0 if count == 1 else station / (count - 1) * 0.9 - 0.45
    true = sheet.surface.diameter_mm(along=along, angle_deg=DIRECTIONS[direction])
    slip = next(
        (m for m in sheet.mistakes if (m.station, m.direction) == (station, direction)), None
    )
    part_c = sheet.part_c if slip is None or slip.part_c is None else slip.part_c
    grown = true * (1.0 + sheet.surface.expansion * (part_c - 20.0))
    seen = grown - true * STEEL * (sheet.tool_c - 20.0)
    turned = 0.0 if slip is None else slip.turns * sheet.gauge.turn_um
    shown_um = 1000.0 * seen + sheet.gauge.bias_um + rng.gauss(0.0, sheet.gauge.play_um) + turned
    steps = round(shown_um / sheet.gauge.resolution_um)
    return steps * sheet.gauge.resolution_um / 1000.0


def spoken(sheet: Sheet, value_mm: float, *, inch: bool) -> str:
    """A reading as it is pencilled on the sheet."""
    if sheet.sizes:
        return f"{value_mm / INCH:.4f} in" if inch else f"{value_mm:.3f} mm"
    off = (value_mm - sheet.nominal_mm) * (1000.0 / INCH if inch else 1000.0)
    figure = f"{off:+.1f}" if inch else f"{off:+.0f}"
    return figure.replace("-0.0", "+0.0") if float(figure) == 0.0 else figure


def grid_toml(sheet: Sheet, rng: random.Random, *, inch: bool) -> str:
    """One grid as a table of the job file."""
    rows: list[str] = []
    for station in range(max(len(sheet.stations), 1)):
        cells = [
            "-"
            if (station, direction) in sheet.blanks
            else spoken(sheet, reading_mm(sheet, station, direction, rng), inch=inch)
            for direction in range(len(DIRECTIONS))
        ]
        rows.append("  [" + ", ".join(f'"{cell}"' for cell in cells) + "],")
    lines = [
        "",
        "[[grid]]",
        f'feature = "{sheet.surface.feature}"',
        f'instrument = "{sheet.gauge.name}"',
        f'nominal = "{sheet.nominal}"',
        f'part_temperature = "{sheet.part}"',
        f'gauge_temperature = "{sheet.tool}"',
    ]
    if sheet.stations:
        lines.append("stations = [" + ", ".join(f'"{depth}"' for depth in sheet.stations) + "]")
    angles = ", ".join(f'"{angle:.0f} deg"' for angle in DIRECTIONS)
    return "\n".join([*lines, f"directions = [{angles}]", "readings = [", *rows, "]", ""])


def truth(scenario: Scenario) -> dict[str, object]:
    """What really is, for the test that asks the plan."""
    surfaces = {
        sheet.surface.feature: {
            "mean_mm": sheet.surface.mean_mm,
            "taper_um": sheet.surface.taper_um,
            "out_of_round_um": sheet.surface.oval_um,
            "three_lobes_um": sheet.surface.lobe_um,
            "expansion_per_k": sheet.surface.expansion,
        }
        for sheet in scenario.sheets
    }
    gauges = {sheet.gauge.name: {"bias_um": sheet.gauge.bias_um} for sheet in scenario.sheets}
    mistakes = [
        {
            "feature": sheet.surface.feature,
            "station": slip.station,
            "direction": slip.direction,
            "what": "whole turn of the dial" if slip.turns else "casting was warm",
            "turns": slip.turns,
            "casting_c": slip.part_c,
        }
        for sheet in scenario.sheets
        for slip in sheet.mistakes
    ]
    facts: dict[str, object] = {
        "invented": True,
        "seed": scenario.seed,
        "note": "true sizes at 20 degC, diametral; stations and directions count from 0",
        "surfaces": surfaces,
        "gauges": gauges,
        "mistakes": mistakes,
    }
    if "parent-bore" in surfaces:
        sizes = {sheet.surface.feature: sheet.surface.mean_mm for sheet in scenario.sheets}
        gap = (sizes["sleeve-od"] - sizes["parent-bore"]) * 1000.0
        facts["interference_um"] = round(gap, 3)
    return facts | scenario.extra


def write(scenario: Scenario, folder: Path) -> None:
    """Write the job and its truth."""
    rng = random.Random(scenario.seed)  # noqa: S311 - repeatable on purpose, hides nothing
    head = (HERE / "demo" / scenario.head).read_text(encoding="utf-8")
    grids = "".join(grid_toml(sheet, rng, inch=scenario.inch) for sheet in scenario.sheets)
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / f"{scenario.name}.toml"
    target.write_text(head + grids, encoding="utf-8", newline="\n")
    facts = json.dumps(truth(scenario), indent=2) + "\n"
    (folder / f"{scenario.name}.truth.json").write_text(facts, encoding="utf-8", newline="\n")


def inch_gauges(mic_bias_um: float, own_bias_um: float) -> tuple[Gauge, Gauge, Gauge]:
    """Micrometers of 2-3 in and 0-1 in, and the bore gauge set from the first."""
    tenth = INCH / 10.0
    return (
        Gauge("mic 2-3", mic_bias_um, 1.2, tenth, 25.0 * INCH),
        Gauge("mic 0-1", 0.9, 0.8, tenth, 25.0 * INCH),
        Gauge("bore gauge", mic_bias_um + own_bias_um, 1.5, tenth, 10.0 * INCH),
    )


def air() -> Scenario:
    """Air-cooled aluminium, honed to size: one turn of the dial and one warm reading."""
    mic, small, bore = inch_gauges(1.6, -3.1)
    deck = {"part": "73 F", "part_c": 22.78, "tool": "71 F", "tool_c": 21.67}
    bench = {"part": "71 F", "part_c": 21.67, "tool": "71 F", "tool_c": 21.67}
    depths = ("0.40 in", "1.30 in", "2.20 in", "3.10 in")
    sleeve = Surface("sleeve-od", 67.0612, IRON, 2.0, 1.0, 4.5, 30.0, 2.0)
    parent = Surface("parent-bore", 66.9746, ALUMINIUM, -3.0, 1.5, 3.5, 70.0, 3.0)
    flange = Surface("flange-od", 72.1445, IRON, oval_um=3.0, oval_at_deg=15.0)
    thick = Surface("flange-thickness", 3.9920, IRON, oval_um=3.0)
    found = Surface("as-found-bore", 61.1450, IRON, -70.0, 10.0, 38.0, 85.0)
    slips = (Mistake(1, 2, turns=1), Mistake(3, 1, part_c=40.0))
    return Scenario(
        "demo-air-175",
        "air-175.toml",
        175,
        inch=True,
        sheets=(
            Sheet(found, bore, "2.402 in", 2.402 * INCH, stations=("0.50 in", "1.20 in", "2.90 in"),
                  blanks=((1, 2),), **deck),
            Sheet(sleeve, mic, "2.640 in", 2.640 * INCH, stations=depths, sizes=True, **bench),
            Sheet(flange, mic, "2.840 in", 2.840 * INCH, sizes=True, **bench),
            Sheet(thick, small, "0.157 in", 0.157 * INCH, sizes=True, **bench),
            Sheet(parent, bore, "2.6360 in", 2.6360 * INCH, stations=depths, mistakes=slips,
                  **deck),
        ),
    )  # fmt: skip


def water() -> Scenario:
    """Water-cooled aluminium in millimetres, not bored yet: the fit is the chosen one."""
    mic = Gauge("mic 50-75", -1.4, 1.0, 1.0, 500.0)
    wide = Gauge("mic 75-100", 1.9, 1.0, 1.0, 500.0)
    small = Gauge("mic 0-25", 0.8, 0.7, 1.0, 500.0)
    bore = Gauge("bore gauge", 1.2, 1.5, 2.0, 200.0)
    cool = {"part": "21 C", "part_c": 21.0, "tool": "21 C", "tool_c": 21.0}
    sleeve = Surface("sleeve-od", 72.0124, IRON, -2.5, 1.2, 5.0, 55.0, 2.0)
    flange = Surface("flange-od", 77.0030, IRON, oval_um=4.0, oval_at_deg=20.0)
    thick = Surface("flange-thickness", 4.0110, IRON, oval_um=3.0)
    found = Surface("as-found-bore", 66.1080, IRON, -55.0, 8.0, 30.0, 95.0)
    return Scenario(
        "demo-water",
        "water.toml",
        246,
        inch=False,
        sheets=(
            Sheet(found, bore, "66.00 mm", 66.0, stations=("12 mm", "32 mm", "85 mm"), **cool),
            Sheet(sleeve, mic, "72.000 mm", 72.0, stations=("12 mm", "48 mm", "84 mm"),
                  **cool),
            Sheet(flange, wide, "77.000 mm", 77.0, sizes=True, **cool),
            Sheet(thick, small, "4.000 mm", 4.0, sizes=True, **cool),
        ),
    )  # fmt: skip


def thin_iron() -> Scenario:
    """Iron in thin iron, honed to size: the wanted slip is out of reach."""
    mic, small, bore = inch_gauges(-1.3, 2.2)
    cool = {"part": "69 F", "part_c": 20.56, "tool": "70 F", "tool_c": 21.11}
    depths = ("0.40 in", "1.60 in", "2.80 in")
    sleeve = Surface("sleeve-od", 57.1562, IRON, 1.5, 0.8, 4.0, 10.0)
    parent = Surface("parent-bore", 57.1050, IRON, -2.0, 1.0, 4.0, 120.0, 4.0)
    flange = Surface("flange-od", 60.9630, IRON, oval_um=3.0, oval_at_deg=40.0)
    thick = Surface("flange-thickness", 3.0450, IRON, oval_um=2.0)
    return Scenario(
        "demo-thin-iron",
        "thin-iron.toml",
        123,
        inch=True,
        sheets=(
            Sheet(sleeve, mic, "2.250 in", 2.250 * INCH, stations=depths, sizes=True, **cool),
            Sheet(flange, mic, "2.400 in", 2.400 * INCH, sizes=True, **cool),
            Sheet(thick, small, "0.120 in", 0.120 * INCH, sizes=True, **cool),
            Sheet(parent, bore, "2.2480 in", 2.2480 * INCH, stations=depths, **cool),
        ),
    )  # fmt: skip


def main(folder: Path = EXAMPLES) -> None:
    """Write all three."""
    for scenario in (air(), water(), thin_iron()):
        write(scenario, folder)
        print(f"{scenario.name}: written")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else EXAMPLES)
