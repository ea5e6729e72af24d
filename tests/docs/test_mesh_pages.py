"""The page about the textbook law is what the exact mesh gives, and says what its tables say."""

from __future__ import annotations

import re
import runpy
import sys
from pathlib import Path

import pytest

SCRIPTS = Path(__file__).resolve().parent.parent.parent / "scripts"


@pytest.fixture(scope="module")
def made() -> dict[Path, str]:
    """What the script makes now."""
    sys.path.insert(0, str(SCRIPTS))
    try:
        pages: dict[Path, str] = runpy.run_path(str(SCRIPTS / "make_mesh_pages.py"))["pages"]()
    finally:
        sys.path.remove(str(SCRIPTS))
    return pages


def test_page_and_pictures_are_current(made: dict[Path, str]) -> None:
    for path, text in made.items():
        assert path.read_text(encoding="utf-8") == text, "run: python scripts/make_mesh_pages.py"


def test_the_law_is_off_by_a_fifth_to_a_third_for_an_opened_hob_equal_wheel(
    made: dict[Path, str],
) -> None:
    page = next(text for path, text in made.items() if path.suffix == ".md")
    rows = re.findall(
        r"\| opened 0.10 mm \| hob-equal \| ([\d.]+) µm \| [\d.]+ µm \| ([\d.]+) µm \|", page
    )
    shares = [1 - float(exact) / float(law) for exact, law in rows]
    assert len(shares) == 3
    assert all(0.2 < share < 0.34 for share in shares)


def test_the_table_that_the_tool_takes_keeps_its_promise(made: dict[Path, str]) -> None:
    page = next(text for path, text in made.items() if path.suffix == ".md")
    found = re.search(r"\| 13 × 14 \| under ([\d.e-]+)″ \|", page)
    assert found is not None
    assert float(found[1]) <= 0.1
