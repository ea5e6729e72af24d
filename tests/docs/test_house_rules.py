"""Rules of the house that no other tool checks."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
LONGEST = {"src": 450, "scripts": 450, "benchmarks": 450, "tests": 600}
TEXT = {".py", ".md", ".toml", ".csv", ".json", ".typ", ".css", ".html", ".lock", ""}
PLACES = ("src", "docs", "tests", "scripts", "benchmarks", "examples", ".ci")
_HOSTS = ["pypi", "pythonhosted", "npmjs", "crates", "conda", "anaconda"]
FORBIDDEN = {
    "a host of packages": re.compile(rf"\b({'|'.join(_HOSTS)})\.(org|com|io|net)\b", re.I),
    "a word of how this came to be": re.compile(r"\btranscripts?\b", re.I),
    "a path of one machine": re.compile(r"(?<![\w.~}])/(work|home|root|tmp|Users)/\w"),
    "work left over": re.compile(r"\b(TO" + "DO|FIX" + r"ME|XX" + r"X)\b"),
}
SKIPS = {"skip", "skipif", "xfail", "importorskip"}


def texts() -> list[Path]:
    """Every file of ours that is read as text, this one aside."""
    files = [p for place in PLACES for p in (ROOT / place).rglob("*")]
    files += [p for p in ROOT.iterdir() if p.suffix in TEXT and p.name != ".git"]
    return sorted(
        p
        for p in files
        if p.is_file()
        and p.suffix in TEXT
        and "__pycache__" not in p.parts
        and p != Path(__file__).resolve()
    )


def sources() -> list[Path]:
    """Every Python file of ours."""
    return [p for p in texts() if p.suffix == ".py"]


def words_amiss(text: str) -> list[str]:
    """What stands in a text that may not stand in this repository."""
    return [what for what, pattern in FORBIDDEN.items() if pattern.search(text)]


def skipping(source: str) -> list[int]:
    """Lines on which a test is skipped or let fail."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if (isinstance(node, ast.Attribute) and node.attr in SKIPS)
        or (isinstance(node, ast.Name) and node.id in SKIPS)
    ]


def test_no_file_holds_what_may_not_stand_in_this_repository() -> None:
    amiss = {
        path.relative_to(ROOT).as_posix(): found
        for path in texts()
        if (found := words_amiss(path.read_text(encoding="utf-8")))
    }
    assert amiss == {}


@pytest.mark.parametrize(
    "line",
    ["https://py" + "pi.org/simple", "as the Tran" + "script says", "open('/ho" + "me/ab/x')"],
)
def test_such_words_are_found(line: str) -> None:
    assert len(words_amiss(line)) == 1


@pytest.mark.parametrize("line", ["a seed of 7", "and/or work/home", "tmp_path / 'work'", "todo"])
def test_harmless_words_are_let_pass(line: str) -> None:
    assert words_amiss(line) == []


def test_no_test_is_skipped_or_let_fail() -> None:
    found = {
        path.relative_to(ROOT).as_posix(): lines
        for path in sources()
        if path.is_relative_to(ROOT / "tests")
        and (lines := skipping(path.read_text(encoding="utf-8")))
    }
    assert found == {}
    assert skipping("@pytest.mark.skip\ndef test_a(): ...") == [1]


def test_no_source_file_is_too_long_without_a_word_why() -> None:
    too_long = []
    for path in sources():
        text = path.read_text(encoding="utf-8")
        why = ast.get_docstring(ast.parse(text)) or ""
        longest = LONGEST[path.relative_to(ROOT).parts[0]]
        if text.count("\n") > longest and "one file because" not in " ".join(why.lower().split()):
            too_long.append(path.relative_to(ROOT).as_posix())
    assert too_long == [], "too long: split it, or say 'One file because ...'"


def test_the_lock_names_every_package_with_hashes_and_no_host() -> None:
    lock = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in lock
    assert "--index-url" not in lock
    pinned = re.findall(r"^[\w.-]+==\S+", lock, re.MULTILINE)
    blocks = re.split(r"^(?=[\w.-]+==)", lock, flags=re.MULTILINE)[1:]
    assert len(pinned) == len(blocks) > 20
    assert all("--hash=sha256:" in block for block in blocks)
