"""Security of the page: each guard holds, and what it keeps out gets in when it is taken away."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from served import BASE, client, shelf
from wormwright.web import guard
from wormwright.web.guard import Guard
from wormwright.web.pairing import COOKIE, TRIES, Pairing, TooManyTriesError

ENTRY = {"kind": "worm_end_play", "raw": "0.03 mm", "conditions": {"how": "push-pull"}}
READINGS = "/api/jobs/garage-router/readings"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return shelf(tmp_path)


def rows(root: Path) -> bytes:
    return (root / "garage-router" / "readings.csv").read_bytes()


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:8417", "127.0.0.1", "127.0.0.1:80", "localhost:84170", ""],
)
def test_a_foreign_host_name_is_turned_away(root: Path, host: str) -> None:
    answer = client(root).get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "garage" not in answer.text


def test_without_the_host_check_a_rebound_name_would_get_in(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Guard, "_wrong", lambda *_: None)
    assert client(root).get("/", headers={"host": "evil.example"}).status_code == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1:8417", "x"])
def test_a_foreign_origin_changes_nothing(root: Path, origin: str) -> None:
    before = rows(root)
    answer = client(root).post(READINGS, json=ENTRY, headers={"origin": origin})
    assert answer.status_code == 403
    form = {"raw": "0.03 mm", "with-how": "push-pull"}
    page = "/jobs/garage-router/measure/worm_end_play"
    assert client(root).post(page, data=form, headers={"origin": origin}).status_code == 403
    assert rows(root) == before


def test_a_cross_site_request_without_an_origin_changes_nothing(root: Path) -> None:
    before = rows(root)
    bare = client(root)
    del bare.headers["origin"]
    answer = bare.post(READINGS, json=ENTRY, headers={"sec-fetch-site": "cross-site"})
    assert answer.status_code == 403
    assert rows(root) == before


def test_without_the_origin_check_a_foreign_page_would_write(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Guard, "_same_window", lambda *_: True)
    before = rows(root)
    answer = client(root).post(READINGS, json=ENTRY, headers={"origin": "http://evil.example"})
    assert answer.status_code == 201
    assert rows(root) != before


def test_a_form_of_another_kind_is_no_way_round(root: Path) -> None:
    """A foreign form can send text/plain without asking first; the interface takes only JSON."""
    answer = client(root).post(
        READINGS, content=b'{"kind":"teeth"}', headers={"content-type": "text/plain"}
    )
    assert answer.status_code == 415


@pytest.mark.parametrize("path", ["/", "/jobs/garage-router", "/jobs/nothing", "/api/jobs"])
def test_every_answer_tells_the_browser_to_run_nothing_foreign(root: Path, path: str) -> None:
    headers = client(root).get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin", "without it a form has no origin"
    assert headers["cache-control"] == "no-store"


def test_pages_hold_no_script_or_style_in_line(root: Path) -> None:
    """What the policy forbids is not used either, so nobody is tempted to loosen it."""
    with client(root) as page:
        for path in (
            "",
            "/measure",
            "/measure/rock",
            "/diagnose",
            "/correct",
            "/packet",
            "/sign/baseline",
        ):
            text = page.get(f"/jobs/garage-router{path}").text
            assert " style=" not in text
            assert "<style" not in text
            assert " onclick" not in text
            assert text.count("<script") == 1
            assert "http://" not in text.replace(BASE, "")
            assert "https://" not in text


def test_text_that_looks_like_markup_is_shown_as_text(root: Path) -> None:
    job = root / "garage-router" / "job.toml"
    job.write_text(job.read_text().replace('name = "', 'name = "<script>x</script>&', 1))
    page = client(root)
    sent = page.post(READINGS, json={**ENTRY, "note": "<img src=x onerror=1>", "station": ""})
    assert sent.status_code == 201
    for path in ("/", "/jobs/garage-router", "/jobs/garage-router/measure/worm_end_play"):
        text = page.get(path).text
        assert "<script>x" not in text
        assert "<img src=x" not in text
    assert "&lt;img src=x" in page.get("/jobs/garage-router/measure/worm_end_play").text


@pytest.mark.parametrize(
    "path",
    [
        "/jobs/..%2f..%2fetc/packet/passwd",
        "/jobs/garage-router/packet/..%2fjob.toml",
        "/jobs/garage-router/packet/%2e%2e/readings.csv",
        "/jobs/garage-router/photos/..%2fjob.toml",
        "/jobs/garage-router/photos/job.toml",
        "/static/..%2fserver.py",
        "/static/%2e%2e/templates/frame.html",
    ],
)
def test_no_path_leads_out_of_the_job(root: Path, path: str) -> None:
    (root / "garage-router" / "packet").mkdir()
    answer = client(root).get(path)
    assert answer.status_code == 404
    assert "format = 1" not in answer.text


def test_a_link_in_the_packet_leads_nowhere(root: Path) -> None:
    packet = root / "garage-router" / "packet"
    packet.mkdir()
    (packet / "secret.txt").symlink_to("/etc/hostname")
    assert client(root).get("/jobs/garage-router/packet/secret.txt").status_code == 404


def test_too_much_at_once_is_turned_away(root: Path) -> None:
    page = client(root)
    large = b'{"kind": "' + b"x" * guard.LARGEST_TEXT + b'"}'
    json = {"content-type": "application/json"}
    assert page.post(READINGS, content=large, headers=json).status_code == 413

    def in_parts() -> object:
        for _ in range(guard.LARGEST_TEXT // 1024 + 2):
            yield b" " * 1024

    assert page.post(READINGS, content=in_parts(), headers=json).status_code == 413  # type: ignore[arg-type]


def test_photos_are_told_by_what_they_are(root: Path) -> None:
    page = client(root)
    place = "/jobs/garage-router/photos"
    job = root / "garage-router"
    svg = {"photo": ("a.png", b"<svg onload='x'></svg>", "image/png")}
    assert page.post(place, data={"about": "rock"}, files=svg).status_code == 422
    assert not (job / "photos").exists()
    png = b"\x89PNG\r\n\x1a\n" + b"\0" * 40
    bad = {"photo": ("../../x.png", png, "image/png")}
    assert page.post(place, data={"about": "../x"}, files=bad).status_code == 422
    good = page.post(place, data={"about": "rock"}, files=bad, follow_redirects=False)
    assert good.status_code == 303
    (kept,) = (job / "photos").iterdir()
    assert kept.name.startswith("rock-")
    assert kept.suffix == ".png"
    shown = page.get(f"{place}/{kept.name}")
    assert (shown.status_code, shown.headers["content-type"]) == (200, "image/png")
    assert kept.name in page.get("/jobs/garage-router/measure/rock").text


def paired(root: Path, codes: list[str]) -> TestClient:
    return client(root, Pairing(codes.append), peer="192.168.1.33")


def test_a_device_of_the_network_pairs_first(root: Path) -> None:
    codes: list[str] = []
    device = paired(root, codes)
    device.base_url = "http://192.168.1.20:8417"
    device.headers["origin"] = "http://192.168.1.20:8417"
    assert device.get("/").status_code == 401
    assert device.post(READINGS, json=ENTRY).status_code == 401
    assert device.get("/pair").status_code == 200
    assert device.post("/pair", data={"code": "00000000"}).status_code == 403
    code = codes[-1]
    done = device.post("/pair", data={"code": f"{code[:4]} {code[4:]}"}, follow_redirects=False)
    assert done.status_code == 303
    cookie = done.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert code not in cookie
    assert device.get("/").status_code == 200
    other = paired(root, [])
    assert (
        other.post(
            "/pair",
            data={"code": code},
            headers={"host": "192.168.1.20:8417", "origin": "http://192.168.1.20:8417"},
        ).status_code
        == 403
    )
    assert codes[-1] != code, "a code works once"


def test_a_forged_cookie_is_no_pairing(root: Path) -> None:
    device = paired(root, [])
    device.cookies.set(COOKIE, "x" * 43)
    assert device.get("/").status_code == 401


def test_without_the_pairing_check_any_device_would_read(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Guard, "_paired", lambda *_: True)
    assert paired(root, []).get("/").status_code == 200


def test_guessing_codes_is_slow() -> None:
    now = [0.0]
    codes: list[str] = []
    pairing = Pairing(codes.append, lambda: now[0])
    for _ in range(TRIES):
        assert pairing.pair("12") is None
    with pytest.raises(TooManyTriesError):
        pairing.pair(codes[-1])
    now[0] = 61.0
    assert pairing.pair(codes[-1]) is not None
