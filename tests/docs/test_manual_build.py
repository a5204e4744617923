"""The manual builds offline without a warning and asks no other host for anything."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from blocks import ROOT, Built

LOADING = {"script": "src", "link": "href", "img": "src", "iframe": "src", "source": "src"}
INLINE = re.compile(r"<script(?![^>]*\bsrc=)[^>]*>|<style|(?<![\w-])style=|\son\w+=")


class Links(HTMLParser):
    """Addresses, anchors and what a page loads."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loads: list[str] = []
        self.anchors: set[str] = set()
        self.tags: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what the tag points at."""
        said = {name: value or "" for name, value in attrs}
        self.tags.add(tag)
        self.anchors.add(said.get("id", ""))
        if tag == "a" and "href" in said:
            self.links.append(said["href"])
        if tag in LOADING and LOADING[tag] in said:
            self.loads.append(said[LOADING[tag]])


@pytest.fixture(scope="module")
def read(manual: Path) -> dict[str, tuple[str, Links]]:
    """Every page by its place: its text and its links."""
    texts = {
        path.relative_to(manual).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(manual.rglob("*.html"))
    }
    return {name: (text, Links(text)) for name, text in texts.items()}


def test_manual_is_built_without_a_warning_and_soon(built: Built) -> None:
    """A warning is an error, and a first start does not wait long for its manual."""
    assert built.code == 0, built.printed
    assert "WARNING" not in built.printed
    assert built.seconds < 100.0


def test_pages_of_every_kind_are_there(read: dict[str, tuple[str, Links]]) -> None:
    """How-to, theory, reference, sources, nomenclature, decisions, changelog and search."""
    for name in (
        "index.html",
        "how-to/first-job.html",
        "theory/fit.html",
        "theory/drop.html",
        "reference/commands.html",
        "reference/job-file.html",
        "reference/made/formulas.html",
        "reference/made/evidence.html",
        "nomenclature.html",
        "sources.html",
        "decisions.html",
        "changelog.html",
        "search.html",
    ):
        assert name in read


def test_nothing_is_loaded_from_another_host(read: dict[str, tuple[str, Links]]) -> None:
    """Scripts, styles and pictures all lie beside the pages."""
    for name, (_, links) in read.items():
        for load in links.loads:
            assert not re.match(r"(?:\w+:)?//", load), f"{name} loads {load}"


def test_style_sheet_loads_from_its_own_folder_only(manual: Path) -> None:
    """Lettering lies beside the style sheet, and every file that it names is there."""
    for sheet in (manual / "_static").glob("*.css"):
        for address in re.findall(r"url\(([^)]*)\)", sheet.read_text(encoding="utf-8")):
            assert (sheet.parent / address.strip("\"'")).is_file(), f"{sheet.name}: {address}"


def test_no_page_has_script_or_style_within(read: dict[str, tuple[str, Links]]) -> None:
    """The bench's policy refuses inline script and style, so that no page may need them."""
    for name, (text, _) in read.items():
        if name.startswith("_"):
            continue
        found = INLINE.search(text)
        assert found is None, f"{name}: {found and found.group(0)}"


def test_every_link_within_the_manual_leads_somewhere(read: dict[str, tuple[str, Links]]) -> None:
    """Each relative address names a page, and each fragment an anchor on it."""
    for name, (_, links) in read.items():
        for link in links.links:
            if re.match(r"\w+:|/", link):
                continue
            page, _, fragment = link.partition("#")
            here = Path(name).parent
            target = (here / page).as_posix() if page else name
            parts: list[str] = []
            for part in Path(target).parts:
                parts = parts[:-1] if part == ".." else [*parts, part]
            place = "/".join(parts)
            assert place in read, f"{name}: {link}"
            assert not fragment or fragment in read[place][1].anchors, f"{name}: {link}"


def test_formulas_are_shown_as_mathml(read: dict[str, tuple[str, Links]]) -> None:
    """Theory pages hold formulas that the browser sets itself, and no TeX is left in them."""
    for name in ("theory/fit.html", "theory/running.html", "theory/drop.html", "theory/ports.html"):
        text, links = read[name]
        assert "math" in links.tags, name
        assert "\\frac" not in text, name


def test_every_source_has_the_anchor_that_the_bench_links_to(
    read: dict[str, tuple[str, Links]],
) -> None:
    """A source's key is its anchor on the page of sources."""
    keys: set[str] = set()
    for fragment in (ROOT / "docs" / "sources").glob("*.md"):
        keys |= set(re.findall(r"^## (\S+)$", fragment.read_text(encoding="utf-8"), re.MULTILINE))
    assert len(keys) > 20
    assert keys | {"practice", "from-memory", "derived"} <= read["sources.html"][1].anchors


def test_manual_has_the_colours_of_the_bench() -> None:
    """The tokens of the manual are those of the bench, light and dark."""
    wanted = "--(?:bench|sheet|sunk|ink|pencil|rule|hair|focus): (#[0-9a-f]+)"
    bench = ROOT / "src" / "sleevewright" / "web" / "static" / "tokens.css"
    manual = ROOT / "docs" / "_theme" / "bench" / "static" / "bench.css"
    colours = [
        set(re.findall(wanted, path.read_text(encoding="utf-8"))) for path in (bench, manual)
    ]
    assert len(colours[1]) > 12
    assert colours[1] <= colours[0] | {"#fff", "#000", "#333", "#555", "#bbb"}
