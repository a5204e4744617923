"""Commands print in the encodings of old consoles without a word lost to a traceback."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from project_files import ROOT

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
QUICK_FIT = (
    "quick", "fit", "sleeve_od=66.05mm", "sleeve_id=61mm", "parent_bore=66mm",
    "casting_od=90mm", "length=90mm", "casting=aluminium-356", "sleeve=grey-iron",
)  # fmt: skip
COMMANDS = (
    ("--help",),
    QUICK_FIT,
    (*QUICK_FIT, "--json"),
    ("quick", "fit", "sleeve_od=66°"),
    *(("plan", str(path)) for path in EXAMPLES),
)


def printed(words: tuple[str, ...], encoding: str, folder: Path) -> tuple[int, str, str]:
    """Exit code and both outputs of the command under an old console's encoding."""
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    done = subprocess.run(
        [sys.executable, "-m", "sleevewright", *words],
        cwd=folder,
        env=environment,
        capture_output=True,
        check=False,
    )
    return done.returncode, done.stdout.decode(encoding), done.stderr.decode(encoding)


@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: Path(words[-1]).name)
def test_command_prints_under_an_old_encoding(
    words: tuple[str, ...], encoding: str, tmp_path: Path
) -> None:
    """An answer or a one-line refusal comes out, decodable, and never a traceback."""
    code, out, err = printed(words, encoding, tmp_path)
    assert code in (0, 1, 2)
    assert "Traceback" not in err
    assert (out if code < 2 else err).strip()


def test_there_are_examples_to_print() -> None:
    """The worked jobs are among the commands."""
    assert len(EXAMPLES) >= 3
