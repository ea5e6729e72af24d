"""What takes long is reckoned in the background: nobody waits for it, and all share the answer."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event
from types import MappingProxyType
from typing import Any

import pytest

from served import client, settled, shelf
from wormwright.app.diagnose import diagnosis_document
from wormwright.job.blocks import Paragraph
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.sheet import KINDS
from wormwright.packet import Style, render_text
from wormwright.store import JobFolder
from wormwright.web.desk import Desk
from wormwright.web.reckoner import Reckoner
from wormwright.web.reckonings import FINDINGS, PLAN
from wormwright.web.second_process import SecondProcess
from wormwright.web.stages import document_of

HOME = "/jobs/garage-router"
JOB = "/api/jobs/garage-router"
END_PLAY = {"kind": "worm_end_play", "raw": "0.031 mm", "conditions": {"how": "push-pull"}}
SETTING = {"throw": "0.2 mm", "angle": "10 deg"}


class Counted:
    """Does work here and counts it; held up while `go` is not set."""

    def __init__(self) -> None:
        self.done: list[str] = []
        self.go = Event()
        self.go.set()

    def __call__(self, work: Callable[..., Any], *given: object) -> Any:
        self.go.wait(60)
        self.done.append(work.__name__)
        return work(*given)


def test_while_a_plan_is_reckoned_pages_come_at_once_and_readings_are_stored(
    tmp_path: Path,
) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)
    work.go.clear()
    for path in (HOME, f"{HOME}/correct", f"{HOME}/diagnose", f"{HOME}/sign/baseline"):
        assert "data-waiting" in page.get(path).text
    assert page.post(f"{JOB}/readings", json=END_PLAY).status_code == 201
    assert "0.031 mm" in page.get(f"{HOME}/measure/worm_end_play").text
    assert work.done == []
    work.go.set()
    assert "Next: 0" in settled(page, HOME)


def test_a_page_reckoned_before_stands_and_says_so_until_the_new_one_is_there(
    tmp_path: Path,
) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)
    before = settled(page, f"{HOME}/diagnose")
    work.go.clear()
    page.post(f"{JOB}/readings", json={**END_PLAY, "raw": "0.041 mm"})
    behind = page.get(f"{HOME}/diagnose").text
    verdict = re.compile(r'class="verdict">([^<]+)<')
    assert verdict.findall(behind) == verdict.findall(before)
    assert "Something has come in since" in behind
    work.go.set()
    assert verdict.findall(settled(page, f"{HOME}/diagnose")) != verdict.findall(before)


def test_a_sign_off_never_shows_limits_of_an_earlier_plan(tmp_path: Path) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)
    assert "Initials" in settled(page, f"{HOME}/sign/baseline")
    work.go.clear()
    page.post(f"{JOB}/readings", json=END_PLAY)
    assert "Initials" not in page.get(f"{HOME}/sign/baseline").text
    work.go.set()
    assert "Initials" in settled(page, f"{HOME}/sign/baseline")


def test_a_trial_does_not_wait_for_new_readings_to_be_reckoned_and_says_so(tmp_path: Path) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)

    def says() -> str:
        return " ".join(page.post(f"{JOB}/trials", json=SETTING).json()["says"])

    assert "Readings have come in" not in says()
    work.go.clear()
    page.post(f"{JOB}/readings", json=END_PLAY)
    assert "Readings have come in" in says()
    work.go.set()
    settled(page, f"{HOME}/correct")
    assert "Readings have come in" not in says()


def test_the_marks_of_blue_follow_the_setting_that_is_tried(tmp_path: Path) -> None:
    page = client(shelf(tmp_path))

    def marks(**setting: str) -> Any:
        return page.get(f"{HOME}/correct/blue.svg", params=setting)

    middle, aside = marks(throw="0 mm"), marks(throw="0.3 mm", angle="90 deg")
    assert middle.headers["content-type"].startswith("image/svg")
    assert middle.text.startswith("<?xml")
    assert aside.text != middle.text
    assert aside.text != marks(throw="0.3 mm", angle="-90 deg").text, "the other end of the face"
    shimmed = marks(throw="0.3 mm", angle="90 deg", wheel_shift="0.3 mm")
    assert shimmed.text == middle.text, "a wheel shimmed after the worm marks in the middle"
    assert marks(throw="30 mm").status_code == 422


def test_many_readings_and_many_devices_cost_one_reckoning(tmp_path: Path) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)
    settled(page, f"{HOME}/correct")
    work.go.clear()
    work.done.clear()
    page.get(f"{HOME}/correct")  # this one is begun with what there is, and held up
    for turn in range(6):
        page.post(f"{JOB}/readings", json={**END_PLAY, "when": f"{turn}"})
        page.get(f"{HOME}/correct")
    work.go.set()
    with ThreadPoolExecutor(4) as devices:
        list(devices.map(lambda _: settled(page, f"{HOME}/correct"), range(4)))
    assert 1 <= work.done.count("diagnosis_and_remedy") <= 2


def test_a_sign_off_that_leaves_the_readings_as_they_were_costs_no_plan(tmp_path: Path) -> None:
    work = Counted()
    page = client(shelf(tmp_path), call=work)
    settled(page, HOME)
    told = page.post(
        f"{JOB}/sign-offs",
        json={"operation": "baseline", "initials": "AB", "when": "now", "gates": gates(page)},
    )
    assert told.status_code == 201
    assert "Next: 1 " in settled(page, HOME)
    assert work.done.count("diagnosis_and_remedy") == 1


def gates(page: Any) -> dict[str, str]:
    """A text for every gate of the baseline."""
    text = page.get(f"{HOME}/sign/baseline").text
    boxes = re.findall(r'name="gate-(\w+)"([^>]*)>', text)
    return {key: "yes" if "list=" in rest else "1 mm" for key, rest in boxes}


def test_the_panel_beside_the_entry_box_says_what_the_diagnosis_says(tmp_path: Path) -> None:
    root = shelf(tmp_path)
    page = client(root)
    text = settled(page, f"{HOME}/measure/worm_end_play")
    document = diagnosis_document(JobFolder.open(root / "garage-router"))
    strong = [b.text for b in document.blocks if isinstance(b, Paragraph) and b.strong]
    assert len(strong) >= 4
    for words in strong:
        assert words in text
    assert 'href="/jobs/garage-router/measure/' in text[text.index('class="next"') :]
    pictures = re.findall(r'src="(/jobs/garage-router/pictures/[^"]+)"', text)
    assert len(pictures) == 2, "causes, and lost motion round the turn"
    for picture in pictures:
        assert page.get(picture).text.startswith("<?xml")
    whole = settled(page, f"{HOME}/diagnose")
    assert all(picture in whole for picture in pictures), "drawn once for both pages"


def test_before_there_is_a_diagnosis_the_panel_offers_what_it_wants_first(tmp_path: Path) -> None:
    root = shelf(tmp_path)
    file = root / "garage-router" / "readings.csv"
    file.write_text(file.read_text(encoding="utf-8").splitlines()[0] + "\n", encoding="utf-8")
    text = settled(client(root), f"{HOME}/measure/rock")
    teeth = KINDS["teeth"]
    assert f"{teeth.label} ({teeth.minutes:.0f} min); a diagnosis needs it" in text
    assert 'href="/jobs/garage-router/measure/teeth">Enter that next' in text


def test_a_picture_outlives_the_next_reading(tmp_path: Path) -> None:
    page = client(shelf(tmp_path))
    text = settled(page, f"{HOME}/diagnose")
    picture = re.findall(r'src="(/jobs/garage-router/pictures/[^"]+)"', text)[0]
    before = page.get(picture).content
    page.post(f"{JOB}/readings", json=END_PLAY)
    assert page.get(picture).content == before


def test_a_snapshot_never_changes_and_its_answers_are_made_once(tmp_path: Path) -> None:
    desk = Desk("one", shelf(tmp_path) / "garage-router", Reckoner())
    before = desk.snapshot()
    count = len(before.readings)
    made: list[int] = []

    def make(folder: Any) -> int:
        made.append(len(folder.readings))
        time.sleep(0.05)
        return made[-1]

    with ThreadPoolExecutor(4) as hands:
        assert set(hands.map(lambda _: before.kept("count", make), range(8))) == {count}
    assert made == [count]
    desk.folder().append_readings([before.entry_of(before.readings[-1].seq)])
    assert len(before.readings) == count
    after = desk.snapshot()
    assert (len(after.readings), after.number) == (count + 1, before.number + 1)
    assert desk.snapshot() is after


def test_long_work_is_done_by_another_process_and_gives_the_same(tmp_path: Path) -> None:
    place = shelf(tmp_path) / "garage-router"
    other = SecondProcess()
    try:
        assert other.call(os.getpid) != os.getpid()
        there = Desk("one", place, Reckoner(other.call))
        home = Desk("one", place, Reckoner())
        for what, path in ((PLAN, "correct"), (FINDINGS, "diagnose")):
            assert str(there.waited(what).kept("text", _shown(path))) == str(
                home.waited(what).kept("text", _shown(path))
            )
        assert other.call(os.getpid) == other.call(os.getpid), "one process for all of it"
    finally:
        other.end()


def _shown(path: str) -> Callable[[Any], str]:
    return lambda folder: render_text(document_of(path, folder), Style())


def refuse(words: MappingProxyType[str, str]) -> None:
    """A stage that cannot answer."""
    raise StageRefusal("diagnose", (Doubt("refuse", "", words["seen"], "", "Read it."),))


def whole(text: str) -> int:
    """Work that does not take everything."""
    if not text.isdigit():
        raise ValueError("no whole number")
    return int(text)


def test_a_refusal_comes_back_from_the_other_process() -> None:
    other = SecondProcess()
    try:
        with pytest.raises(StageRefusal, match="no rock"):
            other.call(refuse, MappingProxyType({"seen": "no rock"}))
        with pytest.raises(ValueError, match="no whole number"):
            other.call(whole, "1.5")
        assert other.call(os.getpid) != os.getpid()
    finally:
        other.end()


def test_work_is_done_here_when_the_other_process_is_gone() -> None:
    other = SecondProcess()
    first = other.call(os.getpid)
    os.kill(first, 9)
    assert other.call(os.getpid) == os.getpid()
    assert other.call(os.getpid) not in (first, os.getpid()), "the next ask starts another"
    other.end()
