"""The tools stay as strict as they were set, and each exception has its reason."""

import re
import tomllib

from project_files import ROOT, assert_nothing, text_of

PROJECT = ROOT / "pyproject.toml"
RULE = re.compile(r'"[A-Z]+[0-9]*"')


def settings() -> dict[str, dict[str, object]]:
    """The tools' part of the project file."""
    tools: dict[str, dict[str, object]] = tomllib.loads(text_of(PROJECT))["tool"]
    return tools


def test_each_rule_that_is_off_has_its_reason() -> None:
    """A rule of the linter is switched off only on a line that says why."""
    lines = text_of(PROJECT).splitlines()
    start = lines.index("[tool.ruff.lint]")
    end = lines.index("[tool.ruff.lint.pydocstyle]")
    found = [
        f"{number + 1}: {line}"
        for number, line in enumerate(lines[start:end], start=start)
        if RULE.search(line) and "ALL" not in line and not re.search(r"#\s*\w+", line)
    ]
    assert_nothing(found)


def test_linter_starts_from_every_rule() -> None:
    """Rules are taken away by name, never chosen by name."""
    ruff = settings()["ruff"]
    assert isinstance(ruff["lint"], dict)
    assert ruff["lint"]["select"] == ["ALL"]


def test_types_are_strict_everywhere() -> None:
    """No module of the package is exempt; only packages without types may lack them."""
    mypy = settings()["mypy"]
    assert mypy["strict"] is True
    assert mypy["files"] == ["src"]
    assert isinstance(mypy["overrides"], list)
    for override in mypy["overrides"]:
        assert set(override) == {"module", "ignore_missing_imports"}
        assert not any(name.startswith("sleevewright") for name in override["module"])


def test_warnings_are_errors() -> None:
    """No warning is filtered, an unknown mark is an error, and each test has its time."""
    pytest_settings = settings()["pytest"]["ini_options"]
    assert isinstance(pytest_settings, dict)
    assert pytest_settings["filterwarnings"] == ["error"]
    assert pytest_settings["xfail_strict"] is True
    assert "--strict-markers" in str(pytest_settings["addopts"])
    assert 0 < pytest_settings["timeout"] <= 120
