"""The page of a port map without a browser: what stands on it, what a move answers, bad input."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from benches import bench_in
from sleevewright.services.commands import Told, tell
from sleevewright.services.jobs import look, open_job
from sleevewright.web.app import Serving, create_app

NUMBER = "M-7"
TOLD = {
    "ports.found.on": "66.40 mm",
    "port/exhaust/found.roof": "37.50 mm",
    "port/exhaust/found.floor": "72.00 mm",
    "port/exhaust/found.width": "42.00 mm",
    "port/exhaust/found.angle": "0 deg",
    "port/main left/found.roof": "56.00 mm",
    "port/main left/found.floor": "71.60 mm",
    "port/main left/found.width": "24.00 mm",
    "port/main left/found.angle": "-70 deg",
    "port/main right/found.roof": "56.60 mm",
    "port/main right/found.floor": "71.60 mm",
    "port/main right/found.width": "24.00 mm",
    "port/main right/found.angle": "70 deg",
}
