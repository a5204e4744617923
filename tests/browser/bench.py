"""What the tests of the pages share: sizes, and what is seen while pages are open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from playwright.sync_api import Page

DESK, TALL, PHONE = (1280, 800), (820, 1180), (390, 844)
SIZES = (DESK, TALL, PHONE)
JOB = "/jobs/D-175/plan"

Opener = Callable[..., Page]
"""Opens a page of the bench: path, width, height, then options of the context."""


@dataclass
class Seen:
    """Complaints of the browser, and requests to anywhere else."""

    complaints: list[str] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)
    expected: set[int] = field(default_factory=set)  # statuses that the test asks for
