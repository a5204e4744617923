"""The reference pages of commands and job file are those of the code."""

from __future__ import annotations

import importlib.util
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

from sleevewright.jobs.jobfile import read_job

ROOT = Path(__file__).parents[2]
REFERENCE = ROOT / "docs" / "reference"


def script() -> ModuleType:
    """The script that writes the pages."""
    path = ROOT / "tools" / "make_reference.py"
    spec = importlib.util.spec_from_file_location("make_reference", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["make_reference"] = module
    spec.loader.exec_module(module)
    return module


PAGES: dict[str, str] = script().pages()


@pytest.mark.parametrize("name", sorted(PAGES))
def test_a_reference_page_is_not_stale(name: str) -> None:
    """What is kept is what the code says; else run tools/make_reference.py."""
    assert (REFERENCE / name).read_text(encoding="utf-8") == PAGES[name]


def test_the_blocks_of_the_job_file_page_are_true() -> None:
    """Each block of TOML on the page is read as a part of a job."""
    blocks = PAGES["job-file.md"].split("```toml\n")[1:]
    assert len(blocks) == 2
    instrument = '\n[[instrument]]\nname = "bore gauge"\n'
    for block in blocks:
        text = block.partition("```")[0]
        assert tomllib.loads(text)
        assert read_job(text + (instrument if "grid" in text else ""), name="page") is not None
