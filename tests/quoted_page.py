"""Rerun the commands that a page shows and find the lines it quotes from their output.

A page is followed from top to bottom in an empty folder. A fenced block `LANGUAGE PATH` is a file
that the reader writes. In a `console` block each line after `$` is a command, the lines below it
are quoted from what it prints: whole lines or parts of lines, in that order, spaces aside, `...`
for what is left out.
"""

from __future__ import annotations

import difflib
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from command_line import run

_BLOCK = re.compile(r"^```(\w+)(?: ([^\n]+))?\n(.*?)^```$", re.M | re.S)
LEFT_OUT = "..."


@dataclass(frozen=True)
class Block:
    """One fenced block of a page."""

    language: str
    path: str
    text: str


def blocks(page: str) -> list[Block]:
    """The fenced blocks of a page, in order."""
    return [Block(*found.groups(default="")) for found in _BLOCK.finditer(page)]


def commands(block: Block) -> Iterator[tuple[str, list[str]]]:
    """Each command of a console block with the lines quoted below it."""
    for piece in re.split(r"^\$ ", block.text, flags=re.M)[1:]:
        command, _, quoted = re.sub(r"\\\n\s*", "", piece).partition("\n")
        lines = [" ".join(line.split()) for line in quoted.splitlines()]
        yield command, [line for line in lines if line not in ("", LEFT_OUT)]


def follow(page: str, place: Path) -> list[str]:
    """Do what the page says in `place` (the current folder); what it quotes and no command said."""
    amiss = []
    for block in blocks(page):
        if block.path:
            (place / block.path).write_text(block.text, encoding="utf-8")
        if block.language == "console":
            for command, quoted in commands(block):
                amiss += _missing(command, quoted)
    return amiss


def _missing(command: str, quoted: list[str]) -> list[str]:
    program, *arguments = shlex.split(command)
    if program != "wormwright":
        return [f"$ {command}: only wormwright can be rerun here"]
    typed = ""
    if "<" in arguments:
        *arguments, _, name = arguments
        typed = Path(name).read_text(encoding="utf-8")
    ran = run(*arguments, stdin=typed)
    refused = any(line.startswith("refused") for line in quoted)
    if (ran.code != 0) != refused:
        return [f"$ {command}: ended with {ran.code}: {ran.err}"]
    said = [" ".join(line.split()) for line in (ran.out + ran.err).splitlines()]
    return [f"$ {command}: {words}" for words in not_found(quoted, said)]


def not_found(quoted: list[str], said: list[str]) -> Iterator[str]:
    """The quoted lines that do not come in this order, each with the line that is most like it."""
    at = 0
    for line in quoted:
        here = next((i for i in range(at, len(said)) if line in said[i]), None)
        if here is not None:
            at = here + 1
        else:
            near = difflib.get_close_matches(line, said, n=1, cutoff=0.3)
            yield f"quoted {line!r}, printed {near[0]!r}" if near else f"quoted {line!r}"
