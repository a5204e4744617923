"""A tester's profile from a file: its parameters, how it may be written, what is refused."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from sleevewright.cli.main import main
from sleevewright.errors import InputError
from sleevewright.services.profiles import profile_lines, worked_profile

PLACES = np.arange(8000) * 0.5e-3
WAVE = 2.0 * np.sin(2.0 * math.pi * PLACES / 0.16)


def written(folder: Path, lines: list[str]) -> Path:
    """A profile in a file."""
    path = folder / "wall.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_place_and_height_come_to_heights_and_length(tmp_path: Path) -> None:
    """A sine of 2 µm over 4 mm, with a heading: Ra 4/pi, Rz 4, and 4 mm told."""
    lines = ["mm,mm", *(f"{x:.4f},{z * 1e-3:.7f}" for x, z in zip(PLACES, WAVE, strict=True))]
    found = worked_profile(written(tmp_path, lines), "mm")
    assert found.heights.mean == pytest.approx(4e-6 / math.pi, rel=2e-3)
    # a straight line through a sine leans a little, more at the ends
    assert found.heights.peak_to_valley == pytest.approx(4e-6, rel=6e-3)
    assert found.length == pytest.approx(4e-3, rel=1e-3)
    assert found.section == 0.8e-3
    text = "\n".join(profile_lines(found, "metric"))
    assert "4.00 mm" in text
    assert "this one is another" not in text


def test_places_and_heights_may_have_units_of_their_own(tmp_path: Path) -> None:
    """Millimetres along, micrometres up: the same 4 mm and the same Ra."""
    lines = [f"{x:.4f},{z:.6f}" for x, z in zip(PLACES, WAVE, strict=True)]
    found = worked_profile(written(tmp_path, lines), "um", along="mm")
    assert found.length == pytest.approx(4e-3, rel=1e-3)
    assert found.heights.mean == pytest.approx(4e-6 / math.pi, rel=2e-3)


def test_so_few_heights_are_called_too_few(tmp_path: Path) -> None:
    """60 heights come to figures, with what is wanted beside them; 8000 have no such line."""
    few = worked_profile(written(tmp_path, [f"{z:.6f}" for z in WAVE[::130]]), "um")
    assert "too few heights to go by: 62" in "\n".join(profile_lines(few, "metric"))
    many = worked_profile(written(tmp_path, [f"{z:.6f}" for z in WAVE]), "um")
    assert "too few" not in "\n".join(profile_lines(many, "metric"))


def test_what_a_profile_means_for_a_wall_is_said(tmp_path: Path) -> None:
    """Ra 1.27 µm is twice what plain iron rings are run on: too rough, and what to do; as JSON."""
    path = str(written(tmp_path, [f"{z:.6f}" for z in WAVE]))
    told = CliRunner().invoke(main, ["roughness", path, "--for", "plain iron"])
    line = next(one for one in told.output.splitlines() if one.startswith("Roughness Ra:"))
    assert "out; usual 15 to 25 µin" in line
    assert "finer stone" in line
    as_json = CliRunner().invoke(main, ["roughness", path, "--for", "plain iron", "--json"])
    assert line in json.loads(as_json.output)["means"]
    wrong = CliRunner().invoke(main, ["roughness", path, "--for", "brass"])
    assert wrong.exit_code != 0
    assert "plain iron" in wrong.output


def test_one_column_needs_no_places(tmp_path: Path) -> None:
    """The same heights alone, in micrometres; the length is not made up."""
    found = worked_profile(written(tmp_path, [f"{z:.6f}" for z in WAVE]), "um")
    assert found.length is None
    assert "length not told" in "\n".join(profile_lines(found, "inch"))
    assert found.curve.peaks == 0.0


def test_the_command_tells_all_of_it(tmp_path: Path) -> None:
    """Nine parameters in words, and as JSON in metres."""
    path = written(tmp_path, [f"{z:.6f}" for z in WAVE])
    told = CliRunner().invoke(main, ["roughness", str(path)])
    assert told.exit_code == 0
    for name in ("Ra", "Rq", "Rz", "Rt", "Rk", "Rpk", "Rvk", "Mr1", "Mr2"):
        assert f"\n{name} " in f"\n{told.output}", name
    as_json = CliRunner().invoke(main, ["roughness", str(path), "--json"])
    heights = json.loads(as_json.output)["heights"]
    assert heights["root_mean_square"] == pytest.approx(2e-6 / math.sqrt(2.0), rel=2e-3)


@pytest.mark.parametrize(
    ("lines", "match"),
    [
        (["a", "b"], "no numbers"),
        (["0.0,1.0", "0.1,0.5", "0.2,x"], "line 3"),
        (["1,2,3"], "place and height"),
        (["0.0,1.0", "0.5"], "line 2"),
        ([f"{x * x},{z}" for x, z in enumerate(WAVE[:100])], "uneven"),
        (["1.0"] * 60, "differ"),
        (["1.0", "2.0"], "at least 50"),
    ],
)
def test_what_is_no_profile_is_refused(tmp_path: Path, lines: list[str], match: str) -> None:
    """By line where one is at fault."""
    with pytest.raises(InputError, match=match):
        worked_profile(written(tmp_path, lines), "um")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """By its name."""
    with pytest.raises(InputError, match="no such file"):
        worked_profile(tmp_path / "none.csv", "um")
