"""Files as data loggers write them, made here: one heat of a casting, its oven's air, a battery."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

IN = 180.0
"""When the casting goes in. [s]"""

TIMES = np.arange(0.0, 2400.0, 10.0)
CASTING = 21.0 + 189.0 * (1.0 - np.exp(-np.clip(TIMES - IN, 0.0, None) / 900.0))
"""A lump in an oven at 210 degC. [degC]"""

OVEN = np.where((TIMES > IN) & (TIMES < IN + 80.0), 150.0, 205.0) + 2.0 * np.sin(TIMES / 40.0)


def fahrenheit(celsius: float) -> float:
    """The same in degF."""
    return 1.8 * celsius + 32.0


def clock(seconds: float, begin: float = 36_600.0) -> str:
    """Time of a day in seconds as a clock shows it."""
    at = int(seconds + begin) % 86_400
    return f"{at // 3600:02d}:{at // 60 % 60:02d}:{at % 60:02d}"


def minutes(seconds: float) -> str:
    """Minutes and seconds that passed."""
    return f"{int(seconds) // 60:02d}:{int(seconds) % 60:02d}"


def plain(
    heading: str = "seconds,casting C",
    row: Callable[[float, float], str] = lambda time, degrees: f"{time:.0f},{degrees:.2f}",
) -> bytes:
    """A file of one channel."""
    rows = [row(float(t), float(c)) for t, c in zip(TIMES, CASTING, strict=True)]
    return "\n".join([heading, *rows]).encode()


def troubled() -> bytes:
    """Semicolons, decimal commas, one byte a letter; open sensor, end of a range, a gap."""
    rows = ["Logger, made up;sn 12", "Time;Part (°C);Oven air (°C);Batt V"]
    for i, (time, part, air) in enumerate(zip(TIMES, CASTING, OVEN, strict=True)):
        if 1000.0 < time < 1400.0:
            continue
        told = "OPEN" if i in (30, 31) else "-9999" if i == 33 else f"{part:.1f}"
        rows.append(f"{clock(float(time))};{told};{air:.1f};3.61".replace(".", ","))
    return "\r\n".join(rows).encode("cp1252")
