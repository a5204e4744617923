"""Make the requirement lists: names, versions and hashes of wheels, and nothing else.

``python3 tools/lock.py`` keeps the versions that are listed, ``python3 tools/lock.py
--upgrade`` takes the newest. Needs ``uv`` on the path; only the lists' makers need it.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

LISTS = Path(__file__).resolve().parent.parent / "requirements"
OLDEST_PYTHON = "3.11"
ADDRESS_OR_OPTION = re.compile(r"://|--(extra-)?index|--find-links")
ORDER = (
    "pip", "compile", "--quiet", "--universal", "--generate-hashes", "--no-header",
    "--python-version", OLDEST_PYTHON, "--only-binary", ":all:", "--no-emit-index-url",
    "--no-emit-find-links", "--no-annotate",
)  # fmt: skip


def main(words: list[str]) -> int:
    """Write both lists; the test list holds the versions of the core list."""
    uv = shutil.which("uv")
    if uv is None or words not in ([], ["--upgrade"]):
        print("Usage: python3 tools/lock.py [--upgrade], with uv on the path.")
        return 2
    for name, more in (("core", ()), ("test", ("--constraints", "requirements/core.txt"))):
        source, result = f"requirements/{name}.in", f"requirements/{name}.txt"
        order = [uv, *ORDER, *words, *more, source, "--output-file", result]
        done = subprocess.run(order, cwd=LISTS.parent, check=False)
        if done.returncode:
            return done.returncode
        if ADDRESS_OR_OPTION.search((LISTS / f"{name}.txt").read_text(encoding="utf-8")):
            print(f"{result} holds an address or an index option; it must not be kept.")
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
