"""Pages of the manual: their fenced blocks, so that every one can be run, and the build."""

import re
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FENCE = re.compile(r"^(?P<fence>```+|~~~+|:::+)\s*(?P<info>[^\n]*)$")


@dataclass(frozen=True)
class Block:
    """One fenced block: where it stands, what it is written in, what it says."""

    path: Path
    line: int
    language: str
    text: str

    @property
    def name(self) -> str:
        """Page and line, as a test is named."""
        return f"{self.path.relative_to(ROOT).as_posix()}:{self.line}"


@dataclass(frozen=True)
class Command:
    """One line typed at a prompt, and what is shown below it."""

    typed: str
    shown: tuple[str, ...]


@dataclass(frozen=True)
class Built:
    """A manual that was built: where it lies, what was said, how long it took."""

    folder: Path
    code: int
    printed: str
    seconds: float


def pages() -> list[Path]:
    """Every page that a person reads: the manual, the readme and the other root pages."""
    manual = [
        path
        for path in (ROOT / "docs").rglob("*.md")
        if not {"_build", "_theme", "made"} & set(path.relative_to(ROOT).parts)
    ]
    return sorted([*manual, *ROOT.glob("*.md")])


def blocks_of(path: Path) -> list[Block]:
    """Every fenced block of one page, in order."""
    found: list[Block] = []
    inside: tuple[str, str, int] | None = None
    lines: list[str] = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        match = FENCE.match(line)
        if inside is None and match and match["fence"][0] != ":":
            inside, lines = (match["fence"], match["info"].strip(), number), []
        elif inside is not None and line.strip() == inside[0]:
            language = inside[1] or "console"  # a block that says nothing is typed at a prompt
            found.append(Block(path, inside[2], language, "\n".join(lines) + "\n"))
            inside = None
        elif inside is not None:
            lines.append(line)
    assert inside is None, f"{path}: the block from line {inside and inside[2]} is not closed"
    return found


def all_blocks(language: str) -> list[Block]:
    """Every block of one language over all pages."""
    return [block for page in pages() for block in blocks_of(page) if block.language == language]


def commands_of(block: Block) -> list[Command]:
    """Commands of a console block, each with the lines shown under it.

    Where no line starts with a prompt, every line is a command and nothing is shown.
    """
    lines = block.text.splitlines()
    if not any(line.startswith("$ ") for line in lines):
        return [Command(line.strip(), ()) for line in lines if line.strip()]
    found: list[Command] = []
    for line in lines:
        if line.startswith("$ "):
            found.append(Command(line[2:].strip(), ()))
        elif found and found[-1].typed.endswith("\\") and not found[-1].shown:
            found[-1] = Command(f"{found[-1].typed[:-1].rstrip()} {line.strip()}", ())
        elif found:
            found[-1] = Command(found[-1].typed, (*found[-1].shown, line.rstrip()))
    return found
