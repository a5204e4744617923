"""The installed wheel works in an empty folder with the runtime packages alone."""

import json
import re
import subprocess
import zipfile
from pathlib import Path

import httpx2
import pytest

from project_files import BUILT_MANUAL, MADE, ROOT
from wheel_environment import Installed, clean_environment

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
EVERY_MODULE = """
import importlib, pkgutil, sleevewright
print(sleevewright.__file__)
for module in pkgutil.walk_packages(sleevewright.__path__, "sleevewright."):
    if not module.name.endswith("__main__"):
        importlib.import_module(module.name)
        print(module.name)
"""
EVERY_COMMAND = """
import click
from sleevewright.cli.main import main

def walk(command, words):
    print(" ".join(words))
    context = click.Context(command)
    for name in command.list_commands(context) if isinstance(command, click.Group) else ():
        walk(command.get_command(context, name), (*words, name))

walk(main, ("--",))
"""
HELP_OF_ALL = """
import sys
from sleevewright.cli.main import main

for line in sys.stdin:
    words = line.split()[1:]
    try:
        main([*words, "--help"], standalone_mode=False)
    except SystemExit as left:
        assert not left.code, words
    print("== shown", *words)
"""


def test_wheel_holds_every_file_of_the_package(installed: Installed) -> None:
    """Each module, table, template, script and lettering of the tree is in the wheel."""
    package = ROOT / "src" / "sleevewright"
    written = {
        path.relative_to(package.parent).as_posix()
        for path in package.rglob("*")
        if path.is_file() and not MADE & set(path.parts) and BUILT_MANUAL not in path.parents
    }
    with zipfile.ZipFile(installed.wheel) as wheel:
        held = {name for name in wheel.namelist() if name.startswith("sleevewright/")}
    assert sorted(written - held) == []
    assert any(name.endswith(".csv") for name in held)
    assert any(name.endswith(".html") for name in held)
    assert any(name.endswith(".typ") for name in held)


def test_every_module_is_imported_from_the_wheel(installed: Installed, tmp_path: Path) -> None:
    """All modules import with the runtime packages alone, none from the source tree."""
    done = installed.run(installed.python, "-I", "-c", EVERY_MODULE, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    home, *names = done.stdout.split()
    assert Path(home).resolve().is_relative_to(installed.home.resolve())
    modules = [path for path in (ROOT / "src").rglob("*.py") if path.name != "__main__.py"]
    assert len(names) == len(modules) - 1  # the package itself is not below itself


def test_runtime_packages_are_enough(installed: Installed, tmp_path: Path) -> None:
    """Nothing that the wheel asks for is missing from the core list, and no test package shows."""
    code = (
        "from importlib import metadata, util\n"
        "for one in metadata.requires('sleevewright'):\n"
        "    if 'extra ==' not in one:\n"
        "        metadata.distribution(one.split('>')[0])\n"
        "print(util.find_spec('pytest'), util.find_spec('hypothesis'))\n"
    )
    done = installed.run(installed.python, "-I", "-c", code, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["None", "None"]


def test_every_command_shows_its_help(installed: Installed, tmp_path: Path) -> None:
    """The console script and each command below it answer to ``--help``."""
    top = installed.run(installed.command, "--help", folder=tmp_path)
    assert top.returncode == 0, top.stderr
    listed = installed.run(installed.python, "-I", "-c", EVERY_COMMAND, folder=tmp_path)
    assert listed.returncode == 0, listed.stderr
    commands = listed.stdout.splitlines()
    assert len(commands) > 4
    shown = subprocess.run(
        [str(installed.python), "-I", "-c", HELP_OF_ALL],
        input=listed.stdout,
        cwd=tmp_path,
        env=clean_environment(),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert shown.returncode == 0, shown.stderr
    assert shown.stdout.count("== shown") == len(commands)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_each_example_is_planned(installed: Installed, tmp_path: Path, example: Path) -> None:
    """The plan of each worked job comes out as JSON; a verdict may be out, nothing is refused."""
    done = installed.run(installed.command, "plan", example, "--json", folder=tmp_path)
    assert done.returncode in (0, 1), done.stderr
    assert json.loads(done.stdout)


def test_one_sheet_is_made(installed: Installed, tmp_path: Path) -> None:
    """The ticket of a worked job is a PDF."""
    sheet = tmp_path / "ticket.pdf"
    done = installed.run(installed.command, "plan", EXAMPLES[0], "--pdf", sheet, folder=tmp_path)
    assert done.returncode in (0, 1), done.stderr
    assert sheet.read_bytes().startswith(b"%PDF-")


def test_one_page_is_shown(bench: str) -> None:
    """The shelf comes with its template, and its styles with it."""
    page = httpx2.get(bench, follow_redirects=True)
    assert page.status_code == 200
    (style, *_) = re.findall(r'<link[^>]*rel="stylesheet"[^>]*href="([^"]+)"', page.text)
    assert httpx2.get(bench + style).headers["content-type"].startswith("text/css")
