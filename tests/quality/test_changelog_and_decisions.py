"""The changelog leads with changed numbers; decisions say what was refused and what it costs."""

import re

import pytest

from project_files import ROOT, text_of

SECTIONS = ["Numbers", "Security", "Removed", "Added", "Changed", "Fixed"]
DECISION_HEADINGS = ["Situation", "Choice", "Refused", "Cost"]
DECISIONS = sorted((ROOT / "docs" / "decisions").glob("*.md"))
LONGEST_DECISION = 450  # words: half a page


def headings(text: str, level: int) -> list[str]:
    """Headings of one level, in order."""
    return re.findall(rf"^{'#' * level} (.+)$", text, re.MULTILINE)


def test_each_release_opens_with_its_numbers() -> None:
    """The first heading under each release is Numbers, the others follow the fixed order."""
    releases = re.split(r"^## ", text_of(ROOT / "CHANGELOG.md"), flags=re.MULTILINE)[1:]
    assert releases
    for release in releases:
        found = headings(release, 3)
        assert found[:1] == ["Numbers"]
        assert found == [name for name in SECTIONS if name in found]


def test_there_are_decisions_and_their_numbers_run_on() -> None:
    """Decisions are numbered from one without a gap."""
    numbers = [int(path.name[:4]) for path in DECISIONS]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) >= 4


@pytest.mark.parametrize("path", DECISIONS, ids=[path.stem for path in DECISIONS])
def test_decision_has_its_four_headings(path) -> None:  # noqa: ANN001 - a Path of the list above
    """Situation, choice, what was refused, what it costs; half a page."""
    text = text_of(path)
    assert headings(text, 2) == DECISION_HEADINGS
    assert re.match(rf"# {int(path.name[:4])}[. ]", text)
    assert len(text.split()) <= LONGEST_DECISION
