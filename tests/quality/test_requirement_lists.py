"""Requirement lists hold names, versions and hashes, and say the same as the project file."""

import re
import tomllib

import pytest

from project_files import ROOT, text_of

LISTS = ("core.txt", "test.txt")
PIN = re.compile(r"^[a-z0-9][a-z0-9._-]*==[0-9][A-Za-z0-9.!+]*( ; [^\\:@]+)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")
FORBIDDEN = re.compile(r"://|--(extra-)?index|--find-links|--trusted-host|@ ")


def unlike_a_pin(text: str) -> list[str]:
    """Lines that are neither a pinned name nor a hash."""
    forms = (PIN, HASH)
    return [line for line in text.splitlines() if not any(form.match(line) for form in forms)]


def pins(name: str) -> dict[str, set[str]]:
    """Pinned versions by name; a name may be split by Python version."""
    found: dict[str, set[str]] = {}
    for line in text_of(ROOT / "requirements" / name).splitlines():
        if "==" in line and not line.startswith(" "):
            package, version = line.split(" ")[0].split("==")
            found.setdefault(package, set()).add(version)
    return found


@pytest.mark.parametrize("name", LISTS)
def test_list_holds_nothing_but_pins_and_hashes(name: str) -> None:
    """Every line is a pin or a hash; no address, no index option."""
    text = text_of(ROOT / "requirements" / name)
    assert unlike_a_pin(text) == []
    assert FORBIDDEN.findall(text) == []


@pytest.mark.parametrize(
    "line",
    [
        "--extra-index-url somewhere",
        "--find-links wheels",
        "numpy>=2",
        "numpy @ file:wheel",
        "numpy==2.4.6 ; x == 'https:" + "//a' \\",
    ],
)
def test_list_with_another_kind_of_line_is_refused(line: str) -> None:
    """An option, an address or a loose version is seen."""
    assert unlike_a_pin(line) == [line]


@pytest.mark.parametrize("name", LISTS)
def test_each_pin_has_a_hash(name: str) -> None:
    """No package can be installed from the list without its hash."""
    blocks = re.split(r"\n(?=\S)", text_of(ROOT / "requirements" / name).strip())
    assert [block.splitlines()[0] for block in blocks if "--hash=sha256:" not in block] == []


def test_both_lists_pin_the_same_versions() -> None:
    """What the checks run with is what people get."""
    core, test = pins("core.txt"), pins("test.txt")
    assert {name: test.get(name) for name in core} == core


def test_core_names_are_those_of_the_project_file() -> None:
    """The list is made from the dependencies that the wheel declares."""
    project = tomllib.loads(text_of(ROOT / "pyproject.toml"))["project"]
    asked = text_of(ROOT / "requirements" / "core.in").split()
    assert sorted(asked) == sorted(project["dependencies"])


def test_no_lock_file_with_addresses_is_kept() -> None:
    """The lock files of other tools carry addresses and stay out."""
    listed = text_of(ROOT / ".gitignore").split()
    assert {"uv.lock", "pylock.toml"} <= set(listed)
