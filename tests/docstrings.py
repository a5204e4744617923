"""Reads a numpydoc docstring into sections and entries, for the tests that check it."""

import re
from dataclasses import dataclass

UNDERLINE = re.compile(r"^-{3,}$")
UNIT = re.compile(r"\[([^\[\]]+)\]((, | )[^.\[\]]*)?\.?$")
SOURCE = re.compile(r"\bSources?:\s*(.*?)(?:\.(?:\s|$)|$)", re.DOTALL)
KEY = re.compile(r"``([^`]+)``")


@dataclass(frozen=True)
class Entry:
    """One parameter or one returned value."""

    names: tuple[str, ...]
    type: str
    text: str

    @property
    def unit(self) -> str:
        """What stands in square brackets at the end of the text, or nothing."""
        match = UNIT.search(self.text)
        return match.group(1) if match else ""


def sections(docstring: str) -> dict[str, list[str]]:
    """Lines of each section by its heading; the summary stands under an empty heading."""
    lines = docstring.expandtabs().splitlines()
    found: dict[str, list[str]] = {"": []}
    current = ""
    for number, line in enumerate(lines):
        following = lines[number + 1].strip() if number + 1 < len(lines) else ""
        if UNDERLINE.match(following) and len(following) == len(line.strip()):
            current = line.strip()
            found[current] = []
        elif not UNDERLINE.match(line.strip()):
            found[current].append(line)
    return found


def entries(lines: list[str], *, named: bool) -> list[Entry]:
    """Entries of a section; without names a heading line is the type alone."""
    found: list[Entry] = []
    for line in (line for line in lines if line.strip()):
        if not line.startswith(" "):
            head, _, kind = line.partition(" : ")
            names = tuple(name.strip() for name in head.split(",")) if named or kind else ()
            found.append(Entry(names, kind if names else head, ""))
        elif found:
            last = found.pop()
            found.append(Entry(last.names, last.type, f"{last.text} {line.strip()}".strip()))
    return found


def source_keys(docstring: str) -> list[str]:
    """Keys in double backticks of each sentence that begins with ``Source:``."""
    notes = "\n".join(sections(docstring).get("Notes", []))
    return [key for sentence in SOURCE.findall(notes) for key in KEY.findall(sentence)]
