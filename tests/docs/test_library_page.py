"""The page about using the library: its examples run and print what stands below them."""

from __future__ import annotations

import contextlib
import io
from itertools import pairwise
from pathlib import Path

import pytest

from command_line import run
from quoted_page import blocks

ROOT = Path(__file__).resolve().parent.parent.parent
PAGE = (ROOT / "docs" / "howto" / "use-as-a-library.md").read_text(encoding="utf-8")
EXAMPLES = [
    (code.text, output.text)
    for code, output in pairwise(blocks(PAGE))
    if (code.language, output.language) == ("python", "text")
]


@pytest.mark.parametrize(("code", "output"), EXAMPLES)
def test_the_example_prints_what_stands_below_it(
    code: str, output: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("new", "my-rotary", "--from", "garage-router").code == 0
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(code, "use-as-a-library.md", "exec"), {"__name__": "example"})
    assert printed.getvalue() == output


def test_every_example_has_its_output() -> None:
    assert len(EXAMPLES) == sum(block.language == "python" for block in blocks(PAGE)) == 3
