"""The page about using the library: its examples run and print what stands below them."""

from __future__ import annotations

import contextlib
import io
from itertools import pairwise
from pathlib import Path

import pytest

from command_line import run
from quoted_page import blocks
from wormwright.library import new_job, open_job

ROOT = Path(__file__).resolve().parent.parent.parent
PAGES = {
    name: (ROOT / "docs" / name).read_text(encoding="utf-8")
    for name in ("howto/use-as-a-library.md", "tutorial/ten-lines.md")
}
EXAMPLES = [
    (name, code.text, output.text)
    for name, page in PAGES.items()
    for code, output in pairwise(blocks(page))
    if (code.language, output.language) == ("python", "text")
]


@pytest.mark.parametrize(("name", "code", "output"), EXAMPLES)
def test_the_example_prints_what_stands_below_it(
    name: str, code: str, output: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    if "new_job" not in code:
        assert run("new", "my-rotary", "--from", "garage-router").code == 0
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(code, name, "exec"), {"__name__": "example"})
    assert printed.getvalue() == output


def test_every_example_has_its_output() -> None:
    python = [b for page in PAGES.values() for b in blocks(page) if b.language == "python"]
    assert len(EXAMPLES) == len(python) == 4


def test_the_ten_lines_are_ten() -> None:
    code = next(text for name, text, _ in EXAMPLES if name == "tutorial/ten-lines.md")
    assert len([line for line in code.splitlines() if line.strip()]) <= 10


def test_an_answer_shows_itself_as_page_and_as_text(tmp_path: Path) -> None:
    job = new_job(tmp_path / "club", example="club-table")
    sheet = job.measure()
    assert str(sheet) == run("measure", str(tmp_path / "club")).out
    assert sheet._repr_html_().startswith("<iframe srcdoc=")
    assert "&lt;table" in sheet._repr_html_()
    row = job.read("worm_end_play", "1.1 thou", conditions={"how": "push-pull"})
    assert len(row.result) == 1
    assert open_job(tmp_path / "club").keep().result.checks
