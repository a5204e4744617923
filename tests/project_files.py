"""The project's own files, read once, for the tests that read code and prose."""

import ast
import functools
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
MADE = {
    ".git", ".venv", ".mypy_cache", ".ruff_cache", ".hypothesis", ".import_linter_cache",
    "__pycache__", "_build", "build", "dist",
}  # fmt: skip
"""Folders of things that are made, not written."""
BUILT_MANUAL = ROOT / "src" / "sleevewright" / "manual"
BUILT_REFERENCE = ROOT / "docs" / "reference" / "made"
PROSE_AND_CODE = {
    "", ".py", ".md", ".txt", ".in", ".toml", ".csv", ".html", ".css", ".js", ".json", ".typ",
    ".svg", ".sh",
}  # fmt: skip


@functools.cache
def written_files() -> tuple[Path, ...]:
    """Every text file of the project that a person wrote or keeps."""
    return tuple(sorted(path for path in _walk(ROOT) if path.suffix in PROSE_AND_CODE))


def _walk(folder: Path) -> Iterator[Path]:
    """Files below a folder, without going into what is made."""
    for path in folder.iterdir():
        if path.name in MADE or path in (BUILT_MANUAL, BUILT_REFERENCE):
            continue
        if path.is_dir() and not path.name.endswith(".egg-info"):
            yield from _walk(path)
        elif path.is_file():
            yield path


def python_files(*tops: str) -> tuple[Path, ...]:
    """Python files below the named folders, or the named files themselves."""
    wanted = [ROOT / top for top in tops]
    return tuple(
        path
        for path in written_files()
        if path.suffix == ".py" and any(top == path or top in path.parents for top in wanted)
    )


@functools.cache
def text_of(path: Path) -> str:
    """The text of a file."""
    return path.read_text(encoding="utf-8")


@functools.cache
def tree_of(path: Path) -> ast.Module:
    """The syntax tree of a Python file."""
    return ast.parse(text_of(path))


def place(path: Path, line: int = 0) -> str:
    """Where something is, relative to the project."""
    name = path.relative_to(ROOT).as_posix()
    return f"{name}:{line}" if line else name


def assert_nothing(found: list[str]) -> None:
    """Fail with every place that was found, one a line."""
    assert not found, f"{len(found)} found:\n" + "\n".join(found)
