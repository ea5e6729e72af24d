"""The pages hang together: links lead somewhere, every page is in the index, decisions count up."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from wormwright.cli.verbs import VERBS

ROOT = Path(__file__).resolve().parent.parent.parent
DOCS = ROOT / "docs"
PAGES = {
    page.relative_to(ROOT).as_posix(): page
    for page in (*ROOT.glob("*.md"), *DOCS.rglob("*.md"), *ROOT.glob("examples/*/*.md"))
}
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
_FENCE = re.compile(r"^```.*?^```$", re.M | re.S)


def prose(page: Path) -> str:
    return _FENCE.sub("", page.read_text(encoding="utf-8"))


def anchors(page: Path) -> set[str]:
    """The names that headings of a page get where it is shown."""
    headings = re.findall(r"^#+ (.+)$", prose(page), re.MULTILINE)
    return {re.sub(r"[^\w\s-]", "", h.lower()).strip().replace(" ", "-") for h in headings}


def broken(page: Path) -> list[str]:
    """The links of a page within the repository that lead nowhere."""
    found = []
    for target in _LINK.findall(prose(page)):
        if "://" in target:
            continue
        name, _, anchor = target.partition("#")
        there = (page.parent / name).resolve() if name else page
        if not there.exists() or (anchor and anchor not in anchors(there)):
            found.append(target)
    return found


@pytest.mark.parametrize("name", PAGES)
def test_every_link_within_the_repository_leads_somewhere(name: str) -> None:
    assert broken(PAGES[name]) == []


def test_a_link_to_no_page_or_to_no_heading_is_found(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# A b\n[x](#a-b) [y](gone.md) [z](page.md#c)\n", encoding="utf-8")
    assert broken(page) == ["gone.md", "page.md#c"]


def test_every_page_is_in_the_index() -> None:
    index = DOCS / "README.md"
    linked = {(DOCS / t.partition("#")[0]).resolve() for t in _LINK.findall(prose(index))}
    assert {page.resolve() for page in DOCS.rglob("*.md")} - {index.resolve()} <= linked


def test_decisions_count_up_without_a_gap_and_bear_their_number() -> None:
    pages = sorted((DOCS / "decisions").glob("*.md"))
    numbers = [int(page.name.partition("-")[0]) for page in pages]
    assert numbers == list(range(1, len(pages) + 1))
    for number, page in zip(numbers, pages, strict=True):
        text = page.read_text(encoding="utf-8")
        assert text.startswith(f"# {number}. ")
        for part in ("**Context.**", "**Choice.**", "**What would change it.**"):
            assert part in text, page.name


STAGES = ("choose", "measure", "diagnose", "correct", "mount", "commission", "prove", "keep")


@pytest.mark.parametrize("stage", STAGES)
def test_every_stage_that_is_built_has_its_verb_page_tests_and_changelog_line(stage: str) -> None:
    assert stage in VERBS
    assert (DOCS / "howto" / f"{stage}.md").is_file()
    assert list((ROOT / "tests" / "stages" / stage).glob("test_*.py"))
    changelog = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert re.search(rf"^- {stage}: ", changelog, re.MULTILINE)


def test_no_stage_is_built_that_is_not_listed_here() -> None:
    stages = ROOT / "src" / "wormwright" / "stages"
    built = {place.parent.name for place in stages.glob("*/__init__.py")}
    assert built == set(STAGES)
