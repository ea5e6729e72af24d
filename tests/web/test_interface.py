"""The interface for programs: what it says of itself holds, and every entry is stored once."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.routing import Route
from starlette.testclient import TestClient

from json_schema_check import faults
from served import client, shelf
from wormwright.app.tried import FIELDS
from wormwright.store import JobFolder
from wormwright.web.server import _interface

JOB = "/api/jobs/garage-router"
ROCK = {
    "pin_radius": "80 mm",
    "pin_radius_u": "0.3 mm",
    "torque": "3 N·m",
    "worm_held": "at the worm",
}
ENTRY = {
    "kind": "rock",
    "raw": "+0.140 / -0.135 mm",
    "table_angle": "32 deg",
    "conditions": ROCK,
    "when": "2026-05-01T10:00:00.123Z",
}


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    return client(shelf(tmp_path_factory.mktemp("jobs")))


@pytest.fixture(scope="module")
def described(page: TestClient) -> Any:
    return page.get("/api/openapi.json").json()


def test_every_route_is_described_and_every_description_has_a_route(described: Any) -> None:
    routes = {
        (r.path, m.lower())
        for r in _interface()
        if isinstance(r, Route)
        for m in (r.methods or ())
        if m != "HEAD" and r.path != "/api/openapi.json"
    }
    told = {(path, verb) for path, verbs in described["paths"].items() for verb in verbs}
    assert routes == told


def schema_of(described: Any, path: str, verb: str, status: int) -> Any:
    answer = described["paths"][path][verb]["responses"][str(status)]
    return answer["content"]["application/json"]["schema"]


def check(described: Any, path: str, verb: str, answer: Any) -> None:
    wanted = schema_of(described, path, verb, answer.status_code)
    assert faults(answer.json(), wanted, described) == []


@pytest.mark.parametrize("what", ["mark", "readings", "results", "operations"])
def test_answers_are_as_described(page: TestClient, described: Any, what: str) -> None:
    answer = page.get(f"{JOB}/{what}")
    assert answer.status_code == 200
    check(described, f"/api/jobs/{{job}}/{what}", "get", answer)
    assert page.get(f"/api/jobs/none/{what}").status_code == 404


def test_an_entry_sent_twice_is_stored_once(page: TestClient, described: Any) -> None:
    first = page.post(f"{JOB}/readings", json=ENTRY)
    again = page.post(f"{JOB}/readings", json=ENTRY)
    assert (first.status_code, again.status_code) == (201, 200)
    check(described, "/api/jobs/{job}/readings", "post", first)
    check(described, "/api/jobs/{job}/readings", "post", again)
    assert [r["seq"] for r in first.json()["stored"]] == [r["seq"] for r in again.json()["stored"]]
    assert first.json()["stored"][0]["understood"] == "0.275 mm"
    other = page.post(f"{JOB}/readings", json={**ENTRY, "when": "2026-05-01T10:00:00.124Z"})
    assert other.status_code == 201, "the next one that reads the same is another reading"


def test_a_wrong_entry_says_what_was_expected_and_stores_nothing(page: TestClient) -> None:
    before = len(page.get(f"{JOB}/readings").json()["readings"])
    answer = page.post(f"{JOB}/readings", json={"kind": "worm_end_play", "raw": "0,28 mm"})
    assert answer.status_code == 422
    (wrong, *_) = (w for w in answer.json()["wrongs"] if "two ways" in w["do"])
    assert "0.28 mm or 28 mm" in wrong["do"]
    good_and_bad = {"entries": [{**ENTRY, "when": "x"}, {"kind": "rock", "raw": "no"}]}
    assert page.post(f"{JOB}/readings", json=good_and_bad).status_code == 422
    assert len(page.get(f"{JOB}/readings").json()["readings"]) == before


def test_a_trial_answers_in_the_units_of_the_job_and_writes_nothing(page: TestClient) -> None:
    mark = page.get(f"{JOB}/mark").json()
    told = page.post(f"{JOB}/trials", json={"throw": "0.3 mm", "angle": "0 deg"}).json()
    lines = {line["key"]: line["value"] for line in told["lines"]}
    assert lines["closing"].startswith("0.300 mm")
    assert any("end play" in words for words in told["says"])
    assert page.get(f"{JOB}/mark").json() == mark
    assert page.post(f"{JOB}/trials", json={"throw": "30 mm"}).status_code == 422


TEXT = st.text(max_size=30)
ANY = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=8,
)
ENTRIES = st.dictionaries(
    st.sampled_from(("kind", "raw", "when", "conditions", "supersedes", "station", "column_unit")),
    ANY | st.sampled_from(("rock", "teeth", "0.03 mm", "—")),
    max_size=6,
)
FUZZ = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.mark.parametrize("path", ["readings", "confirmations", "sign-offs", "trials"])
def test_no_body_gets_anything_but_a_described_answer(
    page: TestClient, described: Any, path: str
) -> None:
    verbs = described["paths"][f"/api/jobs/{{job}}/{path}"]["post"]["responses"]
    bodies = ANY | ENTRIES | st.dictionaries(st.sampled_from(FIELDS), TEXT)

    @FUZZ
    @given(bodies)
    def sent(body: Any) -> None:
        answer = page.post(f"{JOB}/{path}", json=body)
        assert str(answer.status_code) in verbs, answer.text
        check(described, f"/api/jobs/{{job}}/{path}", "post", answer)

    sent()


def test_no_address_brings_a_fault(page: TestClient) -> None:
    part = st.from_regex(re.compile(r"[ -~]{0,20}"), fullmatch=True)

    @FUZZ
    @given(st.lists(part, max_size=4))
    def asked(parts: list[str]) -> None:
        path = "/".join(quote(part) for part in parts)
        assert page.get(f"/jobs/{path}").status_code < 500
        assert page.get(f"/api/jobs/garage-router/{path}").status_code < 500

    asked()


def test_a_method_that_no_route_has_is_refused_as_such(page: TestClient, described: Any) -> None:
    for path, verbs in described["paths"].items():
        address = path.replace("{job}", "garage-router")
        for method in ("GET", "POST", "PUT", "DELETE", "PATCH", "TRACE"):
            if method.lower() in verbs:
                continue
            answer = page.request(method, address)
            assert answer.status_code == 405, f"{method} {address}"
            allowed = {m.strip().lower() for m in answer.headers["allow"].split(",")}
            assert allowed - {"head"} == set(verbs)
            assert faults(answer.json(), {"$ref": "#/components/schemas/refusal"}, described) == []
    assert page.get("/api/nothing").json()["refused"].startswith("There is nothing")


def test_a_broken_body_is_refused(page: TestClient) -> None:
    for body in (b"{", b"\xff", b"[" * 100_000):
        answer = page.post(
            f"{JOB}/readings", content=body, headers={"content-type": "application/json"}
        )
        assert answer.status_code == 400


def test_a_job_whose_file_is_broken_says_so(tmp_path: Path) -> None:
    root = shelf(tmp_path, "garage-router", "four-readings")
    (root / "four-readings" / "job.toml").write_text("format = 1\nname = \n")
    page = client(root)
    assert "CANNOT BE OPENED" in page.get("/").text
    assert page.get("/jobs/four-readings").status_code == 422
    assert page.get("/jobs/garage-router/measure").status_code == 200


def test_what_another_program_writes_is_seen_at_the_next_request(tmp_path: Path) -> None:
    root = shelf(tmp_path)
    page, other = client(root), JobFolder.open(root / "garage-router")
    before = len(page.get(f"{JOB}/readings").json()["readings"])
    mark = page.get(f"{JOB}/mark").json()
    other.append_reading("worm_end_play", "0.0301 mm", conditions={"how": "push-pull"})
    assert page.get(f"{JOB}/mark").json() != mark
    assert len(page.get(f"{JOB}/readings").json()["readings"]) == before + 1


def test_a_row_edited_by_hand_counts_again_once_it_is_confirmed(
    tmp_path: Path, described: Any
) -> None:
    root = shelf(tmp_path)
    page, file = client(root), root / "garage-router" / "readings.csv"
    row = next(r for r in page.get(f"{JOB}/readings").json()["readings"] if r["raw"] == "0.029 mm")
    file.write_text(file.read_text(encoding="utf-8").replace("0.029 mm", "0.030 mm", 1))
    seq = row["seq"]

    def understood() -> str:
        rows = page.get(f"{JOB}/readings").json()["readings"]
        return str(next(r["understood"] for r in rows if r["seq"] == seq))

    assert understood() == "does not count"
    assert f'data-confirm="{seq}"' in page.get("/jobs/garage-router/measure/worm_end_play").text
    said = {"seq": seq, "when": "2026-05-01T10:00:00.123Z"}
    answer = page.post(f"{JOB}/confirmations", json=said)
    assert answer.status_code == 201
    check(described, "/api/jobs/{job}/confirmations", "post", answer)
    assert understood() == "30 µm"
    assert JobFolder.open(root / "garage-router").problems == (), "as by measure --confirm"
    again = page.post(f"{JOB}/confirmations", json=said)
    assert (again.status_code, again.json()["again"]) == (200, True)


def test_a_row_that_a_check_asks_about_is_confirmed_once(tmp_path: Path) -> None:
    page = client(shelf(tmp_path))
    wrong = {**ENTRY, "raw": "3.0 mm", "when": "a"}
    stored = page.post(f"{JOB}/readings", json=wrong).json()
    assert [d["word"] for d in stored["doubts"] if d["action"] == "ask"]
    seq = stored["stored"][0]["seq"]
    first = page.post(f"{JOB}/confirmations", json={"seq": seq, "when": "b"}).json()
    again = page.post(f"{JOB}/confirmations", json={"seq": seq, "when": "b"}).json()
    assert first["stored"][0]["seq"] == again["stored"][0]["seq"] == seq + 1
    assert not [d for d in first["doubts"] if d["action"] == "ask"]


def test_a_row_about_which_nothing_is_asked_cannot_be_confirmed(tmp_path: Path) -> None:
    page = client(shelf(tmp_path))
    mark = page.get(f"{JOB}/mark").json()
    answer = page.post(f"{JOB}/confirmations", json={"seq": 1, "when": "a"})
    assert answer.status_code == 422
    assert "nothing is asked" in answer.json()["refused"]
    assert page.get(f"{JOB}/mark").json() == mark


def test_the_results_of_a_proved_axis_hold_its_proof(tmp_path: Path) -> None:
    page = client(shelf(tmp_path, "proved-axis", "garage-router"))
    proof = page.get("/api/jobs/proved-axis/results").json()["proof"]
    assert proof["positioning"]["runs"] == 5
    assert page.get(f"{JOB}/results").json()["proof"] is None
