"""The page about the reading kinds and the page about measuring say what the program does."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

from wormwright.job.sheet import KINDS, PURPOSES

ROOT = Path(__file__).resolve().parent.parent.parent
MAKER = runpy.run_path(str(ROOT / "scripts" / "make_kind_docs.py"))
PAGE = (ROOT / "docs" / "reference" / "reading-kinds.md").read_text(encoding="utf-8")
HOWTO = (ROOT / "docs" / "howto" / "measure.md").read_text(encoding="utf-8")


def test_the_page_is_current() -> None:
    assert MAKER["page"]() == PAGE, "run: python scripts/make_kind_docs.py"


def test_every_kind_has_its_heading_in_sheet_order() -> None:
    assert re.findall(r"^## (\w+)$", PAGE, re.MULTILINE) == list(KINDS)


def test_every_condition_is_on_the_page_of_its_kind() -> None:
    for key, kind in KINDS.items():
        section = PAGE.partition(f"\n## {key}\n")[2].partition("\n## ")[0]
        for condition in kind.conditions:
            assert f"`{condition.key}`" in section, (key, condition.key)


def test_every_code_that_a_check_can_give_is_explained_and_no_other() -> None:
    source = ROOT / "src" / "wormwright"
    files = [*(source / "stages" / "measure").glob("*.py"), *(source / "bench").glob("*.py")]
    code = r'"((?:E|ID)-\d+)"'
    given = {c for file in files for c in re.findall(code, file.read_text(encoding="utf-8"))}
    told = set(re.findall(r"^\| ((?:E|ID)-\d+) \|", HOWTO, re.MULTILINE))
    assert told == given


def test_every_purpose_is_in_the_table_of_the_page() -> None:
    assert re.findall(r"^\| (\w+) \| (?!least)", HOWTO, re.MULTILINE)[: len(PURPOSES)] == [
        p.key for p in PURPOSES
    ]
