"""Use case: a rubbing from a file on the disk, for the command line."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sleevewright.errors import InputError
from sleevewright.services.rubbings import ReadScan, read_scan, told_of


def rubbing_of_files(file: Path, second: Path | None, texts: Mapping[str, str]) -> ReadScan:
    """Read a scan, and a second one where it is named.

    Raises
    ------
    InputError
        If a file cannot be opened, or what was told of the sheet cannot be used.
    """
    told = told_of(texts, "metric")
    return read_scan(_content(file), told, second=b"" if second is None else _content(second))


def _content(path: Path) -> bytes:
    """All of a file."""
    try:
        return path.read_bytes()
    except OSError as missing:
        raise InputError("FILE", path.name, "", "a scan that can be opened") from missing


def rubbing_document(read: ReadScan) -> dict[str, object]:
    """A rubbing as plain data: lengths in metres, angles in radians."""
    rubbing, scale = read.rubbing, read.rubbing.scale
    return {
        "ports": [
            {
                "name": port.name,
                "roof": port.shape.roof,
                "floor": port.shape.floor,
                "angle": port.angle,
                "outline": port.points.tolist(),
                "without_edge": port.weak,
            }
            for port in rubbing.ports
        ],
        "doubt": {"roof": read.doubt.roof, "width": read.doubt.width},
        "skew": scale.skew,
        "scales_apart": scale.inequality,
        "out_of_square": scale.out_of_square,
        "round": rubbing.round,
        "round_wanted": rubbing.round_wanted,
        "refused": list(rubbing.refused),
        "asks": list(rubbing.asks),
    }
