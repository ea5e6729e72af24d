"""What a page quotes from the program is what the program prints today."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoted_page import blocks, follow, not_found

ROOT = Path(__file__).resolve().parent.parent.parent
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
WITH_COMMANDS = {
    page.relative_to(ROOT).as_posix(): page
    for page in PAGES
    if any(block.language == "console" for block in blocks(page.read_text(encoding="utf-8")))
}


@pytest.mark.parametrize("name", WITH_COMMANDS)
def test_the_page_can_be_followed_and_prints_what_it_quotes(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")
    page = WITH_COMMANDS[name].read_text(encoding="utf-8")
    amiss = follow(page, tmp_path)
    assert not amiss, "\n".join([f"quote {name} anew:", *amiss])


def test_the_pages_that_a_newcomer_follows_are_among_them() -> None:
    assert {"README.md", "docs/tutorial/first-job.md"} <= set(WITH_COMMANDS)


def test_a_quoted_line_that_is_not_printed_or_in_another_order_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    page = "```console\n$ wormwright --version\nwormwright 99\n```\n"
    (amiss,) = follow(page, tmp_path)
    assert "99" in amiss
    assert len(list(not_found(["b", "a"], ["a", "b"]))) == 1


def test_a_command_that_fails_where_the_page_shows_none_failing_is_found(tmp_path: Path) -> None:
    page = f"```console\n$ wormwright diagnose {tmp_path / 'nowhere'}\n```\n"
    (amiss,) = follow(page, tmp_path)
    assert "ended with 1" in amiss
