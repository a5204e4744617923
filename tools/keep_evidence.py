"""At a release: keep what each published check gives, for the next release to compare with.

``python tools/keep_evidence.py`` writes the package's file for the current version.
"""

from __future__ import annotations

from pathlib import Path

from sleevewright import __version__
from sleevewright.services.evidence import LAST_RELEASE, evidence_report, results_to_keep


def main() -> None:
    """Write the file into the package's data."""
    told = evidence_report()
    if told.failed:
        raise SystemExit("A check fails: nothing is kept until it holds.")
    path = Path(__file__).parents[1] / "src" / "sleevewright" / "data" / LAST_RELEASE
    path.write_text(results_to_keep(told, release=__version__), encoding="utf-8")
    print(f"Kept {len(told.outcomes)} results as those of {__version__}.")


if __name__ == "__main__":
    main()
