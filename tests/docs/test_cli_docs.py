"""The page about the command line says what the program says."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

from wormwright.cli.verbs import VERBS

ROOT = Path(__file__).resolve().parent.parent.parent
MAKER = runpy.run_path(str(ROOT / "scripts" / "make_cli_docs.py"))
PAGE = (ROOT / "docs" / "reference" / "cli.md").read_text(encoding="utf-8")


def test_the_page_is_current() -> None:
    assert MAKER["page"]() == PAGE, "run: python scripts/make_cli_docs.py"


def test_every_verb_has_its_heading() -> None:
    assert re.findall(r"^## (\w+)$", PAGE, re.MULTILINE) == list(VERBS)


def test_every_option_of_every_verb_is_on_the_page() -> None:
    for verb in VERBS:
        section = PAGE.partition(f"\n## {verb}\n")[2].partition("\n## ")[0]
        assert f"wormwright {verb}" in section
        assert "--help" in section
