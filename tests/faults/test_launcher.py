"""The launcher says in one line what is missing, and does its work once."""

import ast
import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
import venv
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

from project_files import ROOT, text_of

FAILED = 3
ECHO = "import json, sys\nprint(json.dumps(sys.argv[1:]))\nsys.exit(7)\n"
"""A stand-in for the command: prints what it was given and leaves with a code of its own."""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A small project with the real launcher, empty lists and a stand-in for the command."""
    folder = tmp_path / "a project"
    (folder / "requirements").mkdir(parents=True)
    for name in ("core.txt", "test.txt"):
        (folder / "requirements" / name).write_text("", encoding="utf-8")
    package = folder / "src" / "sleevewright"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("", encoding="utf-8")
    (package / "__main__.py").write_text(ECHO, encoding="utf-8")
    (folder / "docs").mkdir()
    shutil.copy2(ROOT / "run.py", folder)
    return folder


def launcher(project: Path) -> ModuleType:
    """The launcher of a project as a module, to be looked at from inside."""
    spec = importlib.util.spec_from_file_location("run_under_test", project / "run.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def start(
    project: Path, *words: str, before: str = "", **variables: str
) -> subprocess.CompletedProcess[str]:
    """Start the launcher in its project, after some lines that change what it finds."""
    code = f"import runpy, sys\n{before}\nsys.argv = ['run.py', *{words!r}]\n"
    code += "runpy.run_path('run.py', run_name='__main__')"
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=project,
        env={**os.environ, **variables},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def made(project: Path) -> ModuleType:
    """A project whose set-up stands, without the cost of an installer."""
    run = launcher(project)
    venv.create(run.VENV, with_pip=False, symlinks=os.name != "nt")
    run.link_source()
    for kind, lists in run.LISTS.items():
        files = [run.HERE / "requirements" / name for name in lists]
        run.keep_stamp({kind: run.fingerprint(files)})
    return run


def test_old_python_is_told_what_is_needed(project: Path) -> None:
    """Python 3.9 gets one line with both versions, and no traceback."""
    done = start(project, before="sys.version_info = (3, 9, 2, 'final', 0)")
    assert done.returncode == FAILED
    assert len(done.stderr.splitlines()) == 1
    assert "3.11" in done.stderr
    assert "3.9" in done.stderr


def test_launcher_is_readable_for_an_old_python() -> None:
    """The grammar of Python 3.6 reads the launcher, so that the line above can be said."""
    assert ast.parse(text_of(ROOT / "run.py"), feature_version=(3, 6))
    assert "from __future__ import annotations" not in text_of(ROOT / "run.py")


def test_missing_venv_module_is_named(project: Path) -> None:
    """A Debian Python without its venv package gets the name of that package."""
    done = start(project, before="sys.modules['ensurepip'] = None")
    assert done.returncode == FAILED
    assert "has no venv module" in done.stderr
    assert f"apt install python3.{sys.version_info.minor}-venv" in done.stderr
    assert "Traceback" not in done.stderr


def test_something_in_the_way_is_named(project: Path) -> None:
    """A file where the environment should go is refused with its place."""
    (project / ".venv").write_text("in the way", encoding="utf-8")
    done = start(project)
    assert done.returncode == FAILED
    assert "cannot be written" in done.stderr
    assert str(project / ".venv") in done.stderr
    assert "Traceback" not in done.stderr


def test_folder_without_right_to_write_is_named(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where the system refuses the folder, its reason and the cure are said."""

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(venv, "create", refused)
    with pytest.raises(SystemExit) as left:
        launcher(project).prepare("core")
    assert left.value.code == FAILED
    assert "cannot be written (Permission denied)" in capsys.readouterr().err


def test_no_network_is_said_and_nothing_is_kept(project: Path) -> None:
    """Without a registry the set-up stops in one line, and the next start tries again."""
    digest = "0" * 64
    text = f"absent-package==1.0 \\\n    --hash=sha256:{digest}\n"
    (project / "requirements" / "core.txt").write_text(text, encoding="utf-8")
    nowhere = {
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_INDEX_URL": "http://127.0.0.1:9/simple",
        "PIP_EXTRA_INDEX_URL": "",
        "PIP_FIND_LINKS": "",
        "PIP_RETRIES": "1",
    }
    for _ in range(2):
        done = start(project, **nowhere)
        assert done.returncode == FAILED
        assert "could not be fetched" in done.stderr.splitlines()[-1]
        assert "Traceback" not in done.stderr
        assert (project / ".venv" / "set-up.log").exists()
        assert not (project / ".venv" / "set-up.json").exists()


def wheel_of(folder: Path) -> str:
    """Write a smallest possible wheel named ``oneword`` and return its hash."""
    record = "oneword.py,,\noneword-1.0.dist-info/METADATA,,\noneword-1.0.dist-info/WHEEL,,\n"
    files = {
        "oneword.py": "WORD = 'found'\n",
        "oneword-1.0.dist-info/METADATA": "Metadata-Version: 2.1\nName: oneword\nVersion: 1.0\n",
        "oneword-1.0.dist-info/WHEEL": (
            "Wheel-Version: 1.0\nGenerator: test\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
        ),
        "oneword-1.0.dist-info/RECORD": record + "oneword-1.0.dist-info/RECORD,,\n",
    }
    path = folder / "oneword-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        for name, text in files.items():
            wheel.writestr(name, text)
    return hashlib.sha256(path.read_bytes()).hexdigest()


@pytest.mark.parametrize("is_right", [True, False], ids=["right hash", "wrong hash"])
def test_only_a_wheel_with_the_listed_hash_is_installed(project: Path, is_right: bool) -> None:
    """The whole set-up runs from a folder of wheels; another hash stops it in one line."""
    digest = (
        wheel_of(project) if is_right else hashlib.sha256(wheel_of(project).encode()).hexdigest()
    )
    text = f"oneword==1.0 \\\n    --hash=sha256:{digest}\n"
    (project / "requirements" / "core.txt").write_text(text, encoding="utf-8")
    local = {"PIP_CONFIG_FILE": os.devnull, "PIP_NO_INDEX": "1", "PIP_FIND_LINKS": "."}
    done = start(project, "plan", "a job", **local)
    if is_right:
        assert done.returncode == 7
        assert json.loads(done.stdout) == ["plan", "a job"]
        asked = [str(launcher(project).PYTHON), "-c", "import oneword; print(oneword.WORD)"]
        assert subprocess.run(asked, capture_output=True, check=True).stdout.strip() == b"found"
    else:
        assert done.returncode == FAILED
        assert "HASH" in done.stderr.splitlines()[-1]
        assert "Traceback" not in done.stderr


def test_second_start_hands_over_at_once(project: Path) -> None:
    """With a stamp nothing is set up: words and exit code pass through, in under a second."""
    made(project)
    began = time.perf_counter()
    done = start(project, "quick", "fit", "casting=Ü", PYTHONIOENCODING="utf-8")
    assert time.perf_counter() - began < 1.0
    assert done.returncode == 7
    assert json.loads(done.stdout) == ["quick", "fit", "casting=Ü"]
    assert done.stderr == ""


def test_project_may_be_moved_after_set_up(project: Path) -> None:
    """The environment finds the source by a relative path."""
    made(project)
    moved = project.rename(project.with_name("moved"))
    assert start(moved, "plan").returncode == 7


@pytest.mark.parametrize(
    ("changed", "expected"),
    [("nothing", 0), ("list", 1), ("python", 1), ("stamp", 1)],
)
def test_set_up_is_done_again_when_its_ground_changed(
    project: Path, monkeypatch: pytest.MonkeyPatch, changed: str, expected: int
) -> None:
    """Another list, another Python or a torn stamp sets up once more; nothing changed does not."""
    run = made(project)
    if changed == "list":
        (run.HERE / "requirements" / "core.txt").write_text("# other\n", encoding="utf-8")
    if changed == "python":
        run.keep_stamp({})
        monkeypatch.setattr(sys, "version", "3.99.0")
    if changed == "stamp":
        run.STAMPS.write_text('{"core": "', encoding="utf-8")
    installs: list[Path] = []
    monkeypatch.setattr(run, "install", installs.append)
    monkeypatch.setattr(venv, "create", lambda *_, **__: None)
    run.prepare("core")
    run.prepare("core")
    assert len(installs) == expected


def test_bench_opens_with_the_worked_jobs(project: Path) -> None:
    """Without words the bench is served from the examples, and a browser is asked for."""
    made(project)
    done = start(project)
    assert json.loads(done.stdout) == ["serve", "--demo", str(project / "examples"), "--open"]


def test_manual_is_built_once_and_again_after_a_change(project: Path) -> None:
    """The manual is built at the first bench, not at the second, and after an edited page."""
    made(project)
    builder = project / "tools" / "build_manual.py"
    builder.parent.mkdir()
    builder.write_text(
        "from pathlib import Path\n"
        "html = Path('docs/_build/html')\n"
        "html.mkdir(parents=True, exist_ok=True)\n"
        "(html / 'index.html').write_text('x', encoding='utf-8')\n",
        encoding="utf-8",
    )
    said = []
    for page in ("one", "one", "two"):
        (project / "docs" / "index.md").write_text(page, encoding="utf-8")
        said.append("Building the manual" in start(project).stderr)
    assert said == [True, False, True]


def test_manual_that_fails_does_not_stop_the_bench(project: Path) -> None:
    """A manual that cannot be built is said in one line; the bench opens all the same."""
    made(project)
    (project / "tools").mkdir()
    (project / "tools" / "build_manual.py").write_text("raise SystemExit('x')", encoding="utf-8")
    done = start(project)
    assert done.returncode == 7
    assert "The manual was not built" in done.stderr
    assert "Traceback" not in done.stderr
