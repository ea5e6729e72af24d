"""Start a job folder: a copy of an example, or an empty one with its questions."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from wormwright.app.folder import Folder
from wormwright.app.refused import nearest, refused
from wormwright.job.blocks import Block, Cell, Paragraph, Steps, Table
from wormwright.packet import Document

JOB_FILE = "job.toml"


class Create(Protocol):
    """Makes a job folder, empty or with the job, readings and sign-offs of an example."""

    def __call__(self, path: Path, *, from_example: Path | None = None) -> Folder:
        """The new folder."""


def example_folders() -> Mapping[str, Path]:
    """Every example by name: those installed with the program, or those of a source checkout."""
    package = Path(__file__).resolve().parent.parent
    for place in (package / "examples", package.parent.parent / "examples"):
        found = {p.parent.name: p.parent for p in sorted(place.glob(f"*/{JOB_FILE}"))}
        if found:
            return found
    return {}


def list_examples() -> Document:
    """The examples, each with the first line of its job file."""
    rows = tuple(
        (Cell(name), Cell(_first_words(folder / JOB_FILE)))
        for name, folder in example_folders().items()
    )
    blocks: tuple[Block, ...] = (
        Table("Examples to start from", ("name", "what it is"), rows),
        Paragraph("Start one with: wormwright new DIR --from NAME"),
    )
    return Document("Examples", "made-up jobs to learn and to try things on", False, blocks)


def start_job(folder: Path, example: str | None, create: Create) -> Document:
    """Make the job folder. Nothing that exists is touched.

    Of an example its job, readings and sign-offs are copied; the truth it was made from is not.

    Raises:
        Refused: there is no such example.
        JobFolderError: the folder holds something already, or cannot be made.
    """
    if example is None:
        create(folder)
        what = "an empty job: put the figures of your unit and your work into its job.toml first"
        return _next_steps(folder, what)
    known = example_folders()
    if example not in known:
        raise refused(
            "new --from",
            expected="the name of an example",
            got=repr(example),
            do=nearest(example, known),
        )
    create(folder, from_example=known[example])
    return _next_steps(folder, f"a copy of the example {example}")


def _first_words(job_file: Path) -> str:
    for line in job_file.read_text(encoding="utf-8").splitlines():
        words = line.strip().lstrip("#").strip()
        if words:
            return words
    return ""


def _next_steps(folder: Path, what: str) -> Document:
    steps = (
        f"Look at {folder / JOB_FILE}: what the rotary is and what it must do.",
        f"wormwright measure {folder} shows the sheet: what is read, what is missing.",
        f"wormwright diagnose {folder} says where the lost motion comes from.",
    )
    return Document(f"New job folder {folder}", what, False, (Steps(steps),))
