"""The first page: in its order, and true where it speaks of files that no command prints."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import struct
from pathlib import Path

import pytest

from command_line import run
from quoted_page import blocks

ROOT = Path(__file__).resolve().parent.parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLE = ROOT / "examples" / "garage-router"
LARGEST_PICTURE = 400_000


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("readme") / "my-rotary"
    run("new", str(place), "--from", EXAMPLE.name)
    ran = run("packet", str(place))
    assert ran.code == 0, ran.err
    return place / "packet"


def test_the_page_keeps_its_order() -> None:
    order = [
        "Wormwright is for the machinist",
        "![",
        "make demo",
        "make test",
        "## From a reading to a drawing",
        "## Windows",
        "## Cautions",
        "## Where things are",
        "## What it cannot do yet",
        "## Licence",
    ]
    places = [README.find(words) for words in order]
    assert -1 not in places
    assert places == sorted(places)


def test_the_pictures_are_there_and_light_enough_for_a_slow_line() -> None:
    targets = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README)
    assert len(targets) == 2
    for target in targets:
        raw = (ROOT / target).read_bytes()
        assert raw.startswith(b"\x89PNG")
        assert len(raw) < LARGEST_PICTURE
        width, height = struct.unpack(">II", raw[16:24])
        assert min(width, height) > 800, "its lettering must stay readable"


def test_the_words_under_the_picture_are_those_of_the_report(packet: Path) -> None:
    """Where this fails the picture is out of date too: python scripts/make_pictures.py."""
    report = (packet / "report.txt").read_text(encoding="utf-8")
    under = README.partition("*From the packet")[2].partition(".*\n")[0]
    found = re.search(
        r"([\d.]+ ± [\d.]+ arcmin) of lost motion, a\s+tight spot at (\d+°), and a bushing with a "
        r"throw of ([\d.]+ mm)",
        under,
    )
    assert found is not None
    assert f"The table has {found[1]}" in report
    assert f"Tight spot at {found[2]}" in report
    assert f"Throw {found[3]}" in " ".join(report.split())


def test_the_quoted_rows_are_rows_of_the_example() -> None:
    kept = (EXAMPLE / "readings.csv").read_text(encoding="utf-8").splitlines()
    (rows,) = (block.text.splitlines() for block in blocks(README) if block.language == "csv")
    assert len(rows) == 3
    assert set(rows) <= set(kept)


def test_the_quoted_dimensions_stand_on_the_drawings(packet: Path) -> None:
    from ezdxf.filemanagement import readfile  # noqa: PLC0415  (heavy)

    quoted = re.findall(r"^\| `(\d\d-[\w-]+)` \| \w+ `([^`]+)`", README, re.MULTILINE)
    assert len(quoted) == 3
    for name, dimension in quoted:
        drawing = readfile(packet / "drawings" / f"{name}.dxf")
        texts = [entity.dxf.text for entity in drawing.modelspace().query("DIMENSION")]
        assert any(text.startswith(dimension) for text in texts), (name, dimension, texts)


def test_the_sizes_spoken_of_are_those_that_were_read_and_predicted(packet: Path) -> None:
    readings = {
        row["kind"]: row["raw"]
        for row in csv.DictReader(
            io.StringIO((EXAMPLE / "readings.csv").read_text(encoding="utf-8"))
        )
    }
    assert f"The worm shim in place is {readings['worm_shim']}" in README
    report = " ".join((packet / "report.txt").read_text(encoding="utf-8").split())
    allowed = re.search(r"Allowed at the table: ([\d.]+ arcmin)", report)
    assert allowed is not None
    words = " ".join(README.split())
    assert f"{allowed[1]} is allowed" in words
    remedy = json.loads((packet / "results.json").read_text(encoding="utf-8"))["remedy"]
    chosen = next(plan for plan in remedy["plans"] if plan["key"] == remedy["chosen"])
    mean = math.degrees(chosen["lost_motion"]["mean"]["value"]) * 60
    assert f"a mean of {mean:.1f} arcmin" in words
