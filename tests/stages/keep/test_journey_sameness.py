"""Another unit of the same kind, as a user checks it: a guide, its limits, a unit against it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from command_line import run

TITLE = "150 mm table, 80:1"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job and the guide made from it."""
    place = tmp_path_factory.mktemp("guide")
    assert run("new", str(place / "first"), "--from", "garage-router").code == 0
    made = run("keep", str(place / "first"), "--as-guide", str(place / "guide"), "--title", TITLE)
    assert made.code == 0, made.err
    return place


@pytest.fixture
def place(made: Path, tmp_path: Path) -> Path:
    """The same, to be changed."""
    shutil.copytree(made, tmp_path / "w")
    return tmp_path / "w"


def set_by_author(guide: Path, *, wheel_face: tuple[str, str] | None = None) -> None:
    """What an author does in an editor: limits set, version raised."""
    file = guide / "guide.toml"
    text = file.read_text(encoding="utf-8")
    text = text.replace('limits_by = "proposed"', 'limits_by = "author"')
    text = text.replace('version = "1 (proposed)"', 'version = "2"')
    if wheel_face:
        head, _, tail = text.partition('kind = "wheel_face"\n')
        rows = tail.split("\n", 3)
        text = f'{head}kind = "wheel_face"\n{rows[0]}\nlow = "{wheel_face[0]}"\n'
        text += f'high = "{wheel_face[1]}"\n{rows[3]}'
    file.write_text(text, encoding="utf-8")


def test_the_unit_that_the_guide_was_made_from_is_the_same(place: Path) -> None:
    ran = run("keep", str(place / "first"), "--against", str(place / "guide"))
    assert ran.code == 0, ran.err
    assert ">> The same" in ran.out
    assert "its author has not set them" in ran.out


def test_the_author_sets_limits_and_the_warning_goes(place: Path) -> None:
    set_by_author(place / "guide")
    assert run("keep", str(place / "guide"), "--seal").code == 0
    answer = place / "answer.json"
    ran = run(
        *("keep", str(place / "first"), "--against", str(place / "guide")),
        *("--result", str(answer)),
    )
    assert ran.code == 0, ran.err
    assert "has not set them" not in ran.out
    sent = json.loads(answer.read_text(encoding="utf-8"))
    assert sent["answer"] == "same"
    assert sent["guide"]["version"] == "2"
    assert len(sent["guide"]["seal"]) == 64
    assert sent["guide"]["seal"][:12] in ran.out
    assert "bushing-a" in sent["parts"]


def test_a_unit_with_another_face_is_not_the_same_and_the_row_is_named(place: Path) -> None:
    set_by_author(place / "guide", wheel_face=("9 mm", "0.40 in"))
    assert run("keep", str(place / "guide"), "--seal").code == 0
    ran = run("keep", str(place / "first"), "--against", str(place / "guide"))
    assert ran.code == 0, ran.err
    assert "Not the same: do not cut metal" in ran.out
    assert "First row that differs: Wheel face width" in ran.out
    assert "Parts reckoned for this unit" in ran.out


def test_a_unit_hardly_read_cannot_be_told(place: Path) -> None:
    assert run("new", str(place / "few"), "--from", "four-readings").code == 0
    ran = run("keep", str(place / "few"), "--against", str(place / "guide"))
    assert ran.code == 0, ran.err
    assert "Cannot tell" in ran.out or "Not the same" in ran.out
    assert "What would settle it" in ran.out


def test_a_changed_guide_is_refused(place: Path) -> None:
    file = place / "guide" / "guide.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("right", "left"), encoding="utf-8")
    ran = run("keep", str(place / "first"), "--against", str(place / "guide"))
    assert ran.code == 1
    assert "guide.toml: expected the file as sealed, got another content" in ran.err


def test_a_drawing_that_was_swapped_is_noticed_too(place: Path) -> None:
    next((place / "guide" / "drawings").glob("*.dxf")).write_text("another", encoding="utf-8")
    ran = run("keep", str(place / "first"), "--against", str(place / "guide"))
    assert ran.code == 1
    assert "drawings/" in ran.err


def test_other_line_ends_do_not_break_the_seal(place: Path) -> None:
    file = place / "guide" / "guide.toml"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    ran = run("keep", str(place / "first"), "--against", str(place / "guide"))
    assert ran.code == 0, ran.err


def test_a_changed_guide_needs_a_new_version_to_be_sealed(place: Path) -> None:
    file = place / "guide" / "guide.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("right", "left"), encoding="utf-8")
    ran = run("keep", str(place / "guide"), "--seal")
    assert ran.code == 1
    assert "raise the version" in ran.err


def test_nothing_private_goes_into_the_guide(place: Path) -> None:
    for file in (place / "guide").rglob("*"):
        if file.suffix in (".toml", ".html", ".dxf", ".seal"):
            text = file.read_text(encoding="utf-8")
            for private in ("GR-1", "garage router"):
                assert private not in text, (file, private)


def test_a_guide_in_inches_serves_a_unit_read_in_millimetres(place: Path) -> None:
    job = place / "first" / "job.toml"
    mm = job.read_text(encoding="utf-8")
    job.write_text(mm.replace('units = "mm"', 'units = "in"'), encoding="utf-8")
    made = run(
        *("keep", str(place / "first"), "--as-guide", str(place / "inch"), "--title", TITLE),
    )
    assert made.code == 0, made.err
    assert "thou" in (place / "inch" / "guide.toml").read_text(encoding="utf-8")
    job.write_text(mm, encoding="utf-8")
    ran = run("keep", str(place / "first"), "--against", str(place / "inch"))
    assert ran.code == 0, ran.err
    assert ">> The same" in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--seal", "--close"), "one at a time: --seal or --close"),
        (("--as-guide", "g"), "a title for the guide"),
        (("--result", "a.json", "--seal"), "--result goes with --against"),
    ],
)
def test_what_is_left_out_is_asked_for(place: Path, arguments: tuple[str, ...], said: str) -> None:
    ran = run("keep", str(place / "first"), *arguments)
    assert ran.code != 0
    assert said in ran.err


def test_a_place_that_is_taken_is_left_alone(place: Path) -> None:
    ran = run(*("keep", str(place / "first"), "--as-guide", str(place / "guide"), "--title", TITLE))
    assert ran.code == 1
    assert "a folder that does not exist yet" in ran.err


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('nominal = "80"', 'nominal = "80 mm"', "row[1].nominal"),
        ('kind = "teeth"', 'kind = "tooth"', "a kind of reading"),
        ("format = 1", "format = 7", "format = 1"),
        ('word = "right"\n', "", "a word"),
        ("format = 1", "format = = 1", "TOML"),
    ],
)
def test_a_wrong_guide_says_where(place: Path, old: str, new: str, said: str) -> None:
    file = place / "guide" / "guide.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    ran = run("keep", str(place / "guide"), "--seal")
    assert ran.code == 1
    assert said in ran.err
