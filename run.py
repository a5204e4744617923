"""Set up and run, with the standard library alone.

``python3 run.py``              set up, then open the bench with the worked jobs in it
``python3 run.py test [slow]``  set up for tests, then run the checks
``python3 run.py WORDS...``     set up, then run the ``sleevewright`` command with WORDS

The file has to stay readable for Python 3.6, and nothing but the standard library is
imported before the version is looked at: an old Python then says what is wrong instead
of stopping at the first word that it does not know.
"""

import hashlib
import json
import os
import subprocess
import sys
import sysconfig
import time
from collections.abc import Iterable
from pathlib import Path

OLDEST = (3, 11)
FAILED = 3
"""Exit code of a set-up that did not come about; 1 and 2 are answers of the command."""

if sys.version_info < OLDEST:
    sys.stderr.write(
        "Sleevewright needs Python {}.{} or later, and this is Python {}.{}: "
        "install a newer one and start run.py with it.\n".format(*OLDEST, *sys.version_info[:2])
    )
    sys.exit(FAILED)

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMPS = VENV / "set-up.json"
LOG = VENV / "set-up.log"
LISTS = {"core": ("core.txt",), "test": ("core.txt", "test.txt")}
NO_LINE = ("NewConnectionError", "ConnectionError", "ProxyError", "Max retries", "timed out")


def say(text: str) -> None:
    """One line to the person; standard output belongs to the command."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


def refuse(text: str) -> None:
    """Stop with one line that says what was wrong and what to do."""
    say(text)
    sys.exit(FAILED)


def main(words: list[str]) -> int:
    """Set up what is missing, then do what was asked."""
    if words[:1] == ["test"]:
        prepare("test")
        return start([str(HERE / "tools" / "checks.py"), *words[1:]])
    prepare("core")
    if words:
        return start(["-m", "sleevewright", *words])
    make_manual()
    return start(["-m", "sleevewright", "serve", "--demo", str(HERE / "examples"), "--open"])


def start(arguments: list[str]) -> int:
    """Hand over to the environment's Python; where it can, it takes the place of this one."""
    command = [str(PYTHON), *arguments]
    sys.stdout.flush()
    if os.name != "nt":
        os.execv(command[0], command)  # noqa: S606 - the tool itself, its signals its own
    try:
        return subprocess.call(command)
    except KeyboardInterrupt:
        return 130


def prepare(kind: str) -> None:
    """Make the environment that ``kind`` asks for, unless its stamp says that it stands."""
    wanted = fingerprint(HERE / "requirements" / name for name in LISTS[kind])
    stamps = read_stamps()
    if stamps.get(kind) == wanted and PYTHON.exists():
        return
    began = time.monotonic()
    say(f"Setting up {VENV.name} from requirements/{LISTS[kind][-1]}; this happens once.")
    try:
        make_environment(stamps)
        install(HERE / "requirements" / LISTS[kind][-1])
        link_source()
        keep_stamp({kind: wanted, "core": fingerprint([HERE / "requirements" / "core.txt"])})
    except (OSError, ValueError) as error:  # a ValueError where a file stands in the way
        reason = getattr(error, "strerror", None) or error
        refuse(
            f"The folder {VENV} cannot be written ({reason}): remove what stands there, make "
            "room, or move the project to a folder of your own; then start again."
        )
    say(f"Set up in {time.monotonic() - began:.0f} s.")


def fingerprint(files: Iterable[Path]) -> str:
    """What the environment depends on: this Python and the content of the files."""
    seen = hashlib.sha256(sys.version.encode())
    for path in files:
        seen.update(path.read_bytes())
    return seen.hexdigest()


def read_stamps() -> dict:
    """What the last set-up left, or nothing."""
    try:
        return json.loads(STAMPS.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}


def keep_stamp(entries: dict) -> None:
    """Write stamps last and whole, so that an interrupted set-up is done again."""
    fresh = STAMPS.with_suffix(".new")
    text = json.dumps({**read_stamps(), "python": sys.version, **entries}, indent=1)
    fresh.write_text(text, encoding="utf-8")
    fresh.replace(STAMPS)


def make_environment(stamps: dict) -> None:
    """A fresh environment where there is none, or one of another Python or a broken one."""
    if stamps.get("python") == sys.version and PYTHON.exists():
        return
    if answers("import sys, pip; print(sys.version)") == sys.version:
        return
    try:
        import ensurepip  # noqa: F401 - only whether it is there; Debian keeps it apart
        import venv
    except ImportError:
        major, minor = sys.version_info[:2]
        refuse(
            "This Python has no venv module; on Debian and Ubuntu it is the package "
            f"python{major}.{minor}-venv (apt install python{major}.{minor}-venv), "
            "elsewhere a Python from its own installer has it."
        )
    try:
        venv.create(VENV, clear=True, symlinks=os.name != "nt", with_pip=True)
    except subprocess.CalledProcessError as error:
        refuse(f"The environment {VENV.name} could not be made: {error}")


def answers(code: str) -> str:
    """What the environment's Python prints for ``code``; nothing where it cannot."""
    try:
        done = subprocess.run(
            [str(PYTHON), "-c", code], capture_output=True, text=True, check=False
        )
    except OSError:
        return ""
    return done.stdout.rstrip("\r\n")


def install(listed: Path) -> None:
    """Install wheels whose hashes are on the list, and nothing else."""
    command = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    command += ["--no-deps", "--require-hashes", "--only-binary", ":all:", "-r", str(listed)]
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    LOG.write_bytes(done.stdout)
    if done.returncode:
        refuse(why_not_installed(done.stdout.decode("utf-8", "replace")))


def why_not_installed(printed: str) -> str:
    """One line out of the installer's many."""
    errors = [line for line in printed.splitlines() if line.startswith("ERROR:")]
    whole = f"The whole text is in {LOG.relative_to(HERE)}."
    if any(sign in printed for sign in NO_LINE):
        return (
            "The packages could not be fetched: the package registry does not answer. "
            f"Connect this machine and start again. {whole}"
        )
    reason = errors[0][len("ERROR:") :].strip() if errors else "the installer gave no reason"
    return f"The packages could not be installed: {reason} {whole}"


def link_source() -> None:
    """Put ``src`` on the environment's path, relative so that the folder may be moved."""
    places = {"base": str(VENV), "platbase": str(VENV)}
    packages = Path(sysconfig.get_path("purelib", "venv", vars=places))
    source = os.path.relpath(str(HERE / "src"), str(packages))
    (packages / "sleevewright-source.pth").write_text(source + "\n", encoding="utf-8")


def make_manual() -> None:
    """Build the manual where it is missing or older than what it is made from."""
    builder = HERE / "tools" / "build_manual.py"
    built = (HERE / "docs" / "_build" / "html" / "index.html").exists()
    if not builder.exists() or (built and read_stamps().get("manual") == manual_sources()):
        return
    say("Building the manual; this happens again only after a change of it.")
    order = [str(PYTHON), str(builder)]
    done = subprocess.run(
        order, cwd=str(HERE), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False
    )
    if done.returncode:
        LOG.write_bytes(done.stdout)
        say(f"The manual was not built; the reason is in {LOG.relative_to(HERE)}.")
    else:
        keep_stamp({"manual": manual_sources()})


def manual_sources() -> str:
    """Fingerprint of all that the manual is made from: its pages and the code."""
    built = {"_build", "__pycache__"}
    files = [path for top in ("docs", "src") for path in sorted((HERE / top).rglob("*.*"))]
    return fingerprint(path for path in files if path.is_file() and not built & set(path.parts))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
