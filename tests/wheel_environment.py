"""Builds the wheel, and installs it into an environment of runtime packages alone."""

import os
import shutil
import subprocess
import sys
import sysconfig
import venv
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from project_files import ROOT, text_of

WHAT_A_WHEEL_IS_MADE_OF = ("pyproject.toml", "README.md", "LICENSE", "src")
SCRIPTS = "Scripts" if os.name == "nt" else "bin"


@dataclass(frozen=True)
class Installed:
    """A built wheel and the environment that it was installed into."""

    wheel: Path
    home: Path

    @property
    def python(self) -> Path:
        """The environment's interpreter."""
        return self.home / SCRIPTS / ("python.exe" if os.name == "nt" else "python")

    @property
    def command(self) -> Path:
        """The console script that the wheel brings."""
        return self.home / SCRIPTS / ("sleevewright.exe" if os.name == "nt" else "sleevewright")

    def run(self, *words: str | Path, folder: Path) -> subprocess.CompletedProcess[str]:
        """A program of this environment, in ``folder``, seeing nothing of the project."""
        return subprocess.run(
            [str(word) for word in words],
            cwd=folder,
            env=clean_environment(),
            capture_output=True,
            encoding="utf-8",
            check=False,
        )


def clean_environment() -> dict[str, str]:
    """Variables of this process without those that lead Python elsewhere."""
    led = ("PYTHONPATH", "PYTHONHOME", "PYTHONIOENCODING", "VIRTUAL_ENV")
    kept = {name: value for name, value in os.environ.items() if name not in led}
    return {**kept, "PYTHONIOENCODING": "utf-8"}


def pip(*words: str | Path) -> None:
    """Run the installer of this environment; it never reaches for the network."""
    command = [sys.executable, "-m", "pip", "--disable-pip-version-check", *map(str, words)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def link_runtime_packages(site_packages: Path) -> None:
    """Let the environment see the packages of the core list, and no other."""
    listed = text_of(ROOT / "requirements" / "core.txt").splitlines()
    names = [line.split("==")[0] for line in listed if "==" in line and not line.startswith(" ")]
    for name in names:
        try:
            one = metadata.distribution(name)
        except metadata.PackageNotFoundError:
            continue  # a package of another system or another Python
        tops = {file.parts[0] for file in one.files or ()} - {"..", "__pycache__"}
        for top in tops:
            source, target = Path(str(one.locate_file(top))), site_packages / top
            if source.exists() and not target.exists():
                link_or_copy(source, target)


def link_or_copy(source: Path, target: Path) -> None:
    """A link, or a copy where the system hands out no links."""
    try:
        target.symlink_to(source, target_is_directory=source.is_dir())
    except OSError:
        (shutil.copytree if source.is_dir() else shutil.copy2)(source, target)


def build_and_install(base: Path) -> Installed:
    """Build from a copy, so that nothing is left in the tree, and install the result."""
    copy, home = base / "project", base / "environment"
    copy.mkdir()
    leave = shutil.ignore_patterns("__pycache__", "*.egg-info")
    for name in WHAT_A_WHEEL_IS_MADE_OF:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, copy / name, ignore=leave)
        else:
            shutil.copy2(source, copy / name)
    pip("wheel", "--no-deps", "--no-build-isolation", "--no-index", "-w", base / "dist", copy)
    (wheel,) = (base / "dist").glob("*.whl")
    venv.create(home, with_pip=False, symlinks=os.name != "nt")
    whole = Installed(wheel, home)
    pip("--python", whole.python, "install", "--no-deps", "--no-index", "--no-compile", wheel)
    places = {"base": str(home), "platbase": str(home)}
    link_runtime_packages(Path(sysconfig.get_path("purelib", "venv", vars=places)))
    return whole
