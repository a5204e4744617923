"""What the answers about a boring cut are called, at whichever stage the cut is made."""

from __future__ import annotations

from functools import cache, cached_property

from sleevewright.planning.answers import Quantity
from sleevewright.planning.ledger import Line

Q = Quantity
PREFIXES = {"parent": "cut", "old": "oldcut", "piston": "pistoncut"}
"""How the names of the answers of a stage begin."""

_WORDS: dict[str, tuple[str, Quantity, str, str]] = {
    # sense and remark behind the label
    "diameter": ("Wall that is cut", Q.SIZE, "diametral", ""),
    "tool": ("Edge of", Q.TEXT, "", ""),
    "metal": ("Cut in", Q.TEXT, "", ""),
    "turns": ("Turns of the spindle", Q.TURNING, "", ""),
    "speed": ("Speed at the wall", Q.CUTTING_SPEED, "", ""),
    "says_speed": ("This speed", Q.TEXT, "", ""),
    "feed": ("Feed", Q.FINE, "axial", "by the turn"),
    "feed_speed": ("Feed speed", Q.FEED_SPEED, "axial", ""),
    "time": ("Time of a pass", Q.TIME, "", "under feed alone"),
    "passes_time": ("Cutting time of the passes to come", Q.TIME, "", "under feed alone"),
    "passes_whole": ("The same with setting and gauging", Q.TIME, "", "5 min a pass assumed"),
    "ratio": ("Free length by the bar's diameter", Q.RATIO, "", "most by common practice"),
    "asked": ("Asked of the bar", Q.DEVIATION, "diametral", ""),
    "taken": ("Taken of it, by bar and holder alone", Q.DEVIATION, "diametral",
              "dial, dull edge and heat come on top"),
    "lost": ("Left by the bar's give", Q.FINE, "diametral", "a spring pass takes most of it"),
    "share": ("Share of the ask that is taken", Q.RATIO, "",
              "by bar and holder alone; dial, dull edge and heat come on top"),
    "main_force": ("Force along the wall", Q.LIGHT_FORCE, "", "sharp edge"),
    "force": ("Force that pushes the bar off", Q.LIGHT_FORCE, "radial", "sharp edge"),
    "removal": ("Metal removed", Q.REMOVAL, "", ""),
    "power": ("Power at the edge", Q.POWER, "", "the machine takes more"),
    "torque": ("Torque of the cut", Q.LIGHT_TORQUE, "", ""),
    "rz": ("Roughness Rz by geometry", Q.ROUGHNESS, "radial", "the least that this nose leaves"),
    "rz_thin": ("Rz with the chip that is too thin", Q.ROUGHNESS, "radial", "squeezed, not cut"),
    "ra": ("Roughness Ra by geometry", Q.ROUGHNESS, "radial", "from its mean line"),
    "ra_expected": ("Ra to expect", Q.ROUGHNESS, "radial",
                    "1.5 to 3 times the geometric one, common practice"),
    "cut_share": ("Share of the turn that cuts", Q.RATIO, "", "at the depth most open"),
    "shocks": ("Blows of the edge", Q.FREQUENCY, "", "at the depth most open"),
    "edge_bell": ("Larger beside a window, at most", Q.FINE, "diametral",
                  "the bar springs out where the wall ends"),
    "mark": ("Over an arc of", Q.SIZE, "", "beside each edge of a window"),
    "says_ports": ("Over the ports", Q.TEXT, "", ""),
    "breaks_at": ("First aluminium at", Q.SIZE, "diametral", "between the keys, on one axis"),
    "force_ratio": ("Force in the aluminium by that in the iron", Q.RATIO, "", "same chip"),
    "jump": ("Jumps larger where the iron ends, at most", Q.FINE, "diametral",
             "the bar springs out as the force falls"),
    "says_break": ("Where the iron ends", Q.TEXT, "", ""),
}  # fmt: skip

_INNER: dict[str, tuple[str, Quantity, str, str]] = {
    "turns_low": ("Turns, slow end", Q.TURNING, "", "a range to start from"),
    "turns_high": ("Turns, fast end", Q.TURNING, "", "a range to start from"),
    "speed_low": ("speed at the wall, slow end", Q.CUTTING_SPEED, "", ""),
    "speed_high": ("speed at the wall, fast end", Q.CUTTING_SPEED, "", ""),
    "feed_low": ("Feed, fine end", Q.FINE, "axial", "by the turn, common practice"),
    "feed_high": ("Feed, coarse end", Q.FINE, "axial", "by the turn, common practice"),
    "ask_low": ("Ask of a pass, light end", Q.DEVIATION, "diametral", "common practice"),
    "ask_high": ("Ask of a pass, heavy end", Q.DEVIATION, "diametral", "common practice"),
    "run_out": ("run-in and run-out", Q.SIZE, "axial", "together"),
    "passes_left": ("passes to come", Q.RATIO, "", ""),
    "between": ("setting and gauging by the pass", Q.TIME, "", "assumed"),
    "none_between": ("nothing between passes", Q.TIME, "", ""),
    "bar": ("bar", Q.SIZE, "diametral", ""),
    "overhang": ("free length of the bar", Q.SIZE, "axial", ""),
    "bar_metal": ("bar of", Q.TEXT, "", ""),
    "bar_modulus": ("stiffness of the bar's metal", Q.MODULUS, "", ""),
    "own_give": ("give of the bar", Q.GIVE, "radial", ""),
    "holder_give": ("give of head, quill and table", Q.GIVE, "radial", "own estimate"),
    "nose": ("nose of the edge", Q.FINE, "radial", ""),
    "lead": ("angle of the main edge", Q.ANGLE, "", "against the way of the feed"),
    "end_angle": ("angle of the edge behind the nose", Q.ANGLE, "", "against the wall"),
    "thrust": ("force square to the edge by main force", Q.RATIO, "", ""),
    "kc11": ("force by area of a chip of 1 mm", Q.PRESSURE, "", ""),
    "mc": ("how it rises as chips grow thin", Q.RATIO, "", ""),
    "edge": ("the edge at work", Q.RECORD, "", ""),
    "depth": ("depth of the cut", Q.DEVIATION, "radial", "half of what was asked"),
    "chip": ("thickness of the chip", Q.FINE, "", "mean along the edge"),
    "specific": ("force by area of this chip", Q.PRESSURE, "", ""),
    "largest_feed": ("largest feed that the nose alone shapes", Q.FINE, "axial", "by the turn"),
    "least_chip": ("thinnest chip that is cut", Q.FINE, "", ""),
    "factor": ("roughness that is read by that of geometry", Q.RATIO, "", "common practice"),
    "windows": ("ports in the way", Q.RECORD, "", ""),
    "most_open": ("where most is open", Q.RECORD, "", ""),
    "window_count": ("windows at that depth", Q.RATIO, "", ""),
    "frequency": ("lowest swing of the bar", Q.FREQUENCY, "", ""),
    "nothing": ("no force over a window", Q.LIGHT_FORCE, "", ""),
    "behind": ("metal behind the liner", Q.TEXT, "", ""),
    "key_depth": ("keys stand out", Q.FINE, "radial", ""),
    "soft_kc11": ("force by area of a chip of 1 mm, behind", Q.PRESSURE, "", ""),
    "soft_mc": ("how it rises as chips grow thin, behind", Q.RATIO, "", ""),
    "soft_edge": ("the edge at work behind the liner", Q.RECORD, "", ""),
    "soft_specific": ("force by area of this chip, behind", Q.PRESSURE, "", ""),
    "soft_force": ("force that pushes the bar off, behind", Q.LIGHT_FORCE, "radial", ""),
}
_SHOWN_RANGES = ("turns_low", "turns_high", "feed_low", "feed_high", "ask_low", "ask_high")


@cache
def _line(prefix: str, name: str) -> Line:
    """The line of one short name at one stage."""
    label, quantity, sense, of = (_WORDS | _INNER)[name]
    is_detail = name in _INNER and name not in _SHOWN_RANGES
    return Line(f"{prefix}.{name}", label, quantity, sense, of, is_detail=is_detail)


class CutLines:
    """Lines of one stage's cut, asked by their short name."""

    def __init__(self, stage: str) -> None:
        self.prefix = PREFIXES[stage]

    def __getattr__(self, name: str) -> Line:
        """The line of this short name."""
        if name not in _WORDS and name not in _INNER:
            raise AttributeError(name)
        return _line(self.prefix, name)

    @cached_property
    def turns_range(self) -> tuple[Line, Line]:
        """Turns at both ends of the range."""
        return self.turns_low, self.turns_high

    @cached_property
    def speeds(self) -> tuple[Line, Line]:
        """Speeds at the wall at both ends of the range."""
        return self.speed_low, self.speed_high

    @cached_property
    def usual(self) -> tuple[Line, Line, Line, Line]:
        """Feed and ask at both ends of their ranges."""
        return self.feed_low, self.feed_high, self.ask_low, self.ask_high


def cut_rows(stage: str) -> tuple[str, ...]:
    """Names of the answers that the page of a stage shows, in their order."""
    shown = (
        "says_break", "says_ports", "turns_low", "turns_high", "turns", "speed", "says_speed",
        "feed_low", "feed_high", "ask_low", "ask_high", "feed_speed", "time", "passes_time",
        "passes_whole", "ratio", "taken", "lost", "share", "force", "main_force", "removal",
        "power", "torque", "rz", "rz_thin", "ra", "ra_expected", "breaks_at", "force_ratio",
        "jump", "edge_bell", "mark", "cut_share", "shocks",
    )  # fmt: skip
    passes = ("passes_time", "passes_whole")  # of the old sleeve no passes are planned
    names = (one for one in shown if stage != "old" or one not in passes)
    return tuple(f"{PREFIXES[stage]}.{one}" for one in names)
