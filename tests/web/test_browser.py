"""The bench page in a real browser: the whole job, three sizes, keys alone, a dead server."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from served import Server, shelf
from web.browser import SIZES, browser, page_of

JOB = "/jobs/garage-router"
expect.set_options(timeout=30_000)
STEPS = ("measure", "measure/rock", "diagnose", "correct", "sign/baseline", "packet")
PAGES = ("/", JOB, *(f"{JOB}/{step}" for step in STEPS))


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    made = Server(shelf(tmp_path, "garage-router", "club-table"))
    made.start()
    yield made
    made.kill()


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One server for the tests that change nothing."""
    made = Server(shelf(tmp_path_factory.mktemp("jobs")))
    made.start()
    yield made
    made.kill()


def texts(server: Server, job: str, kind: str) -> list[str]:
    """What stands in readings.csv as typed, of one kind."""
    with (server.root / job / "readings.csv").open(encoding="utf-8-sig", newline="") as file:
        return [row["raw"] for row in csv.DictReader(file) if row["kind"] == kind]


def enter_end_play(page: Page, text: str) -> None:
    page.get_by_label("Worm end play", exact=False).first.fill(text)
    page.keyboard.press("Enter")


@pytest.mark.parametrize(
    ("job", "size"),
    [("garage-router", "phone"), ("club-table", "tablet"), ("garage-router", "desktop")],
)
def test_the_whole_job_in_a_browser(
    chromium: Browser, server: Server, job: str, size: str, tmp_path: Path
) -> None:
    page = page_of(chromium, size)
    page.goto(f"{server.base}/jobs/{job}")
    expect(page.locator(".verdict").first).to_contain_text("Next: 0")
    _measure(page, server, job)
    _diagnose(page)
    _correct(page, tmp_path)
    _sign(page, server, job)
    _packet(page, tmp_path)
    assert page.faults == []  # type: ignore[attr-defined]
    page.context.close()


def _measure(page: Page, server: Server, job: str) -> None:
    page.get_by_role("link", name="measure", exact=True).click()
    page.get_by_label("Enter readings of").select_option("worm_end_play")
    page.get_by_role("button", name="Go to it").click()
    before = len(texts(server, job, "worm_end_play"))
    page.locator("#raw").fill("0.031")
    page.keyboard.press("Enter")
    expect(page.locator("#answer")).to_contain_text("REFUSED")
    assert page.locator("#raw").input_value() == "0.031", "what was typed is there to be mended"
    page.locator("#raw").fill("+0.031 mm")
    page.keyboard.press("Enter")
    expect(page.locator("#answer .read")).to_contain_text(
        "31 µm" if job == "garage-router" else "thou"
    )
    assert len(texts(server, job, "worm_end_play")) == before + 1
    seq = re.search(r"row (\d+)", page.locator("#answer .read").inner_text())
    assert seq is not None
    page.get_by_role("button", name=f"Strike row {seq[1]}").click()
    expect(page.locator("tr.gone").first).to_contain_text("superseded")


def _diagnose(page: Page) -> None:
    page.get_by_role("link", name="diagnose", exact=True).click()
    expect(page.locator(".verdict").first).to_contain_text("arcmin")
    expect(page.locator(".reckoning")).to_have_count(0)  # until then its pictures are exchanged
    picture = page.locator("figure img").first
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", value=True)
    assert picture.evaluate("image => image.naturalWidth") > 0


def _correct(page: Page, tmp_path: Path) -> None:
    page.get_by_role("link", name="correct", exact=True).click()
    page.get_by_label("Plan taken").select_option("leave")
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_label("Plan taken")).to_have_value("leave")
    page.get_by_label("Plan taken").select_option("least")
    page.get_by_role("button", name="Take it").click()
    expect(page.locator("#tried")).to_contain_text("lost motion, mean")
    before = page.locator("#tried").inner_text()
    page.get_by_label("Bushing angle").focus()
    for _ in range(5):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried")).not_to_have_text(before)
    with page.expect_download() as taken:
        page.get_by_role("link", name="DXF").first.click()
    drawing = tmp_path / taken.value.suggested_filename
    taken.value.save_as(drawing)
    assert "SECTION" in drawing.read_text(encoding="utf-8")


def _sign(page: Page, server: Server, job: str) -> None:
    page.goto(f"{server.base}/jobs/{job}/sign/baseline")
    page.get_by_role("button", name="Sign 0").click()
    expect(page.get_by_text("expected the initials")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("link", name="Worm end play", exact=True)).to_be_visible()
    for gate in page.locator("input[name^=gate-]").all():
        gate.fill("yes" if gate.get_attribute("list") else "1 mm")
    page.get_by_label("Initials").fill("AB")
    page.get_by_role("button", name="Sign 0").click()
    expect(page.locator(".verdict").first).to_contain_text("signed off")
    page.get_by_role("link", name="Back to the traveler").click()
    expect(page.locator(".verdict").first).to_contain_text("Next: 1 ")


def _packet(page: Page, tmp_path: Path) -> None:
    page.get_by_role("link", name="packet", exact=True).click()
    page.get_by_role("button", name="Make the packet").click()
    with page.expect_download() as taken:
        page.get_by_role("link", name="All of it in one file").click()
    taken.value.save_as(tmp_path / "packet.zip")
    assert (tmp_path / "packet.zip").read_bytes().startswith(b"PK")


def tab_to(page: Page, wanted: str) -> None:
    """Press Tab until the wanted element has the focus."""
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", wanted):
            return
    raise AssertionError(f"{wanted} cannot be reached with the Tab key")


def test_keys_alone_are_enough(chromium: Browser, server: Server) -> None:
    page = page_of(chromium, "desktop")
    page.goto(f"{server.base}/")
    tab_to(page, "a[href='/jobs/garage-router']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/jobs/garage-router")
    tab_to(page, "nav a[href$='/measure']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/measure")
    tab_to(page, "#kind")
    page.keyboard.type("4 Rock")
    tab_to(page, "form button[type=submit]")
    page.keyboard.press("Enter")
    page.wait_for_url("**/measure/*")
    page.goto(f"{server.base}{JOB}/measure/worm_end_play")
    expect(page.locator("#raw")).to_be_focused()
    page.keyboard.type("0.029 mm")
    page.keyboard.press("Enter")
    expect(page.locator("#answer .read")).to_contain_text("29 µm")
    expect(page.locator("#raw")).to_be_focused()
    page.goto(f"{server.base}{JOB}/sign/baseline")
    expect(page.locator("#initials")).to_be_visible()
    tab_to(page, "#initials")
    page.keyboard.type("AB")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("0 ")
    page.context.close()


def test_a_series_goes_from_place_to_place_and_back_to_the_first(
    chromium: Browser, server: Server
) -> None:
    page = page_of(chromium, "tablet")
    page.goto(f"{server.base}{JOB}/measure/rock")
    page.get_by_label("Positions of a series").fill("0, 92, 180 deg")
    page.get_by_label("Positions of a series").press("Tab")
    page.locator("#unit").select_option("mm")
    for text in ("+0.300", "0.305", "0.311"):
        page.locator("#raw").fill(text)
        page.keyboard.press("Enter")
        expect(page.locator("#answer .read")).to_contain_text(text.strip("+"))
    expect(page.locator("#drift")).to_contain_text("Go back to the first position")
    assert page.locator("#place").input_value() == "0 deg"
    rows = page.locator("[data-live=rows] tbody tr")
    expect(rows.nth(0)).to_contain_text("180")
    expect(rows.nth(1)).to_contain_text("92")
    page.locator("#raw").fill("12.0")  # the dial's mode was switched: thou instead of mm
    page.keyboard.press("Enter")
    expect(page.locator("#answer .doubt").first).to_be_visible()
    page.context.close()


def test_findings_are_redrawn_after_a_reading_and_the_next_one_is_offered(
    chromium: Browser, server: Server
) -> None:
    bench, office = page_of(chromium, "tablet"), page_of(chromium, "desktop")
    office.goto(f"{server.base}{JOB}/diagnose")
    bench.goto(f"{server.base}{JOB}/measure/worm_end_play")
    panel = bench.locator("[data-live=findings]")
    expect(panel.locator("img")).to_have_count(2)
    expect(panel.locator(".verdict").nth(1)).to_contain_text("of lost motion from the motor")
    expect(office.locator(".verdict").first).to_contain_text("of lost motion from the motor")
    figure = panel.locator("dl, table").first
    before, far = figure.text_content(), office.locator("table").first.text_content()
    picture = panel.locator("img").first.get_attribute("src")
    bench.locator("#raw").fill("0.041 mm")
    bench.keyboard.press("Enter")
    expect(panel.locator("img").first).not_to_have_attribute("src", str(picture))
    expect(figure).not_to_have_text(str(before))
    expect(office.locator("table").first).not_to_have_text(str(far))
    bench.get_by_role("link", name="Enter that next").click()
    bench.wait_for_url(re.compile(r"/measure/\w+$"))
    expect(bench.locator("#raw")).to_be_visible()
    for page in (bench, office):
        assert page.faults == []  # type: ignore[attr-defined]
        page.context.close()


def test_a_row_edited_by_hand_is_settled_on_its_page(chromium: Browser, server: Server) -> None:
    file = server.root / "garage-router" / "readings.csv"
    file.write_text(file.read_text(encoding="utf-8").replace("0.029 mm", "0.030 mm", 1))
    page = page_of(chromium, "phone")
    page.goto(f"{server.base}{JOB}/measure/worm_end_play")
    row = page.locator("[data-live=rows] tbody tr").first
    expect(row).to_contain_text("does not count")
    row.get_by_role("button", name="it is right").click()
    expect(row).to_contain_text("30 µm")
    expect(row.get_by_text("it is right")).to_have_count(0)
    page.context.close()


def test_a_doubt_leads_to_its_row(chromium: Browser, standing: Server) -> None:
    page = page_of(chromium, "phone")
    page.goto(f"{standing.base}{JOB}/diagnose")
    page.locator(".doubt").first.get_by_role("link").first.click()
    page.wait_for_url(re.compile(r"/measure/rock#row-\d+$"))
    row = page.locator(f"#{page.url.partition('#')[2]}")
    expect(row.get_by_role("button", name="replace")).to_be_in_viewport()
    page.context.close()


def test_two_devices_see_each_other_and_lose_nothing(chromium: Browser, server: Server) -> None:
    one, other = page_of(chromium, "phone"), page_of(chromium, "desktop")
    for page in (one, other):
        page.goto(f"{server.base}{JOB}/measure/worm_end_play")
    before = len(texts(server, "garage-router", "worm_end_play"))
    one.locator("#raw").fill("0.0281 mm")
    other.locator("#raw").fill("0.0282 mm")
    one.keyboard.press("Enter")
    other.keyboard.press("Enter")
    expect(other.locator("[data-live=rows]")).to_contain_text("0.0281 mm", timeout=10_000)
    expect(one.locator("[data-live=rows]")).to_contain_text("0.0282 mm", timeout=10_000)
    now = texts(server, "garage-router", "worm_end_play")
    assert len(now) == before + 2
    assert {"0.0281 mm", "0.0282 mm"} <= set(now)
    for page in (one, other):
        page.context.close()


def test_what_is_typed_while_the_server_is_dead_arrives_once_when_it_is_back(
    chromium: Browser, server: Server
) -> None:
    page = page_of(chromium, "tablet")
    page.goto(f"{server.base}{JOB}/measure/worm_end_play")
    server.kill()
    for text in ("0.0291 mm", "0.0292 mm"):
        page.locator("#raw").fill(text)
        page.keyboard.press("Enter")
    expect(page.locator("#wire")).to_contain_text("2 entries wait")
    assert "0.0291 mm" not in texts(server, "garage-router", "worm_end_play")
    server.start()
    expect(page.locator("[data-live=rows]")).to_contain_text("0.0292 mm", timeout=30_000)
    page.locator("#raw").fill("0.0293 m")  # half typed
    page.reload()
    assert page.locator("#raw").input_value() == "0.0293 m"
    now = texts(server, "garage-router", "worm_end_play")
    assert [now.count(t) for t in ("0.0291 mm", "0.0292 mm")] == [1, 1]
    page.context.close()


@pytest.mark.parametrize("size", SIZES)
def test_no_page_is_cut_off_and_a_screen_reader_can_read_it(
    chromium: Browser, standing: Server, size: str, tmp_path: Path
) -> None:
    page = page_of(chromium, size)
    for path in PAGES:
        page.goto(f"{standing.base}{path}")
        page.wait_for_load_state("networkidle") if path == "/" else page.wait_for_timeout(300)
        wide = page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert wide <= 0, f"{path} is {wide} px wider than a {size}"
        small = page.evaluate(
            """() => [...document.querySelectorAll('button, .button, nav a, input, select')]
            .filter((e) => e.offsetParent && e.getBoundingClientRect().height < 44)
            .map((e) => e.outerHTML.slice(0, 80))"""
        )
        assert small == [], f"{path}: too small for a gloved finger"
        for dark in (False, True) if size == "tablet" else (False,):
            page.evaluate(
                "dark => document.documentElement.toggleAttribute('data-dark', dark)", dark
            )
            found = Axe().run(page).response["violations"]
            serious = [v["id"] for v in found if v["impact"] in ("serious", "critical")]
            assert serious == [], f"{path} ({'dark' if dark else 'light'}): {serious}"
    page.context.close()


def test_the_first_page_is_light_and_fetches_nothing_foreign(
    chromium: Browser, standing: Server
) -> None:
    page = page_of(chromium, "desktop")
    seen: list[tuple[str, int]] = []
    page.on("response", lambda r: seen.append((r.url, len(r.body()) if r.ok else 0)))
    page.goto(f"{standing.base}{JOB}/measure/rock")
    page.wait_for_timeout(1500)
    assert all(url.startswith(standing.base) for url, _ in seen)
    assert sum(size for _, size in seen) < 300_000
    page.context.close()


def test_the_printed_page_shows_the_report_and_no_buttons(
    chromium: Browser, standing: Server
) -> None:
    page = page_of(chromium, "desktop")
    page.goto(f"{standing.base}{JOB}")
    page.emulate_media(media="print")
    expect(page.locator("nav")).to_be_hidden()
    expect(page.locator(".stations")).to_be_visible()
    page.context.close()
