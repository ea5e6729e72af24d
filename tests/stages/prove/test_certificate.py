"""The certificate says what was tested, with what, how well, and what was not, and no more."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from command_line import run
from json_schema_check import faults
from stages.prove.axis_samples import job, loop_rows, play_rows, position_runs
from stages.prove.position_rows import ARCSEC
from wormwright.job.blocks import Table
from wormwright.job.proof import Proof
from wormwright.packet import Document, Style, render_text
from wormwright.packet.results import SCHEMA, results_json
from wormwright.stages.prove import certificate, prove

ROWS = (
    *position_runs(wave=15.0, reversal=20.0, scatter=2.0, seed=1),
    *loop_rows(clearance=20 * ARCSEC, compliance=12 * ARCSEC / 5000, first=200),
    *play_rows(value=0.002, first=300),
)


def proof(**said: object) -> Proof:
    """A finished axis; the plays were read before the work as well."""
    before = tuple(
        replace(r, seq=r.seq + 1000, value=0.03) for r in play_rows(value=0.03, first=300)
    )
    return prove(job(**said), ROWS, before=before)


def text(found: Proof) -> str:
    document = Document("Certificate of test", "unit T-1", False, certificate(found, job()))
    return render_text(document, Style(), 100)


def test_it_names_unit_instruments_conditions_days_and_figures() -> None:
    said = text(proof(error_mm=1.0))
    for words in (
        "unit T-1",
        "test indicator, 0.001 mm",
        "taken 2026-03-01 to 2026-03-02",
        "A, accuracy, both ways",
        "error at the part",
        "rock loop at 0°: clearance",
        "1.00 N·m to 8.00 N·m",
        "polygon",
    ):
        assert words in said, words


def test_it_claims_no_accreditation_and_leaves_the_signature_blank() -> None:
    said = text(proof())
    assert "No accredited laboratory" in said
    table = next(
        b for b in certificate(proof(), job()) if isinstance(b, Table) and b.caption == "To sign"
    )
    assert {cell.text for row in table.rows for cell in row[1:]} == {"_" * 16}


def test_it_says_what_was_not_tested() -> None:
    said = text(proof(held="clamped"))
    assert "Not tested" in said
    assert "Places between the targets" in said
    assert "Whether the lock holds 5.00 N·m without slipping" in said
    assert "How evenly the table shifts on locking: not read" in said


def test_there_is_no_certificate_without_readings_of_the_finished_axis() -> None:
    assert certificate(Proof(), job()) == ()


def test_results_with_part_verdict_and_comparison_obey_the_schema() -> None:
    schema = json.loads(Path(SCHEMA).read_text(encoding="utf-8"))
    found = proof(feature="flats", count=4)
    data = json.loads(results_json(job(), proof=found))
    assert faults(data, schema, schema) == []
    assert data["proof"]["compared"]["compared"][0]["told"] == "less"
    assert data["proof"]["part"]["feature"] == "flats"
    spoiled = {**data, "proof": {**data["proof"], "verdict": {"answer": "perhaps"}}}
    assert faults(spoiled, schema, schema)


RUNS = {
    ("forward", 1): (22, 34.5, 36.5),
    ("backward", 1): (-26, -14.5, -6),
    ("forward", 2): (24, 36.5, 36.5),
    ("backward", 2): (-30, -10.5, -3.5),
}


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The club table with a short positioning test typed in."""
    place = tmp_path_factory.mktemp("proved") / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    for (way, number), deviations in RUNS.items():
        ran = run(
            *("measure", str(place), "--series", "position_error", "--at", "0, 46.3, 90 deg"),
            *("--unit", "arcsec", "--with", f"approach={way}", "--with", f"run={number}"),
            stdin="".join(f"{x}\n" for x in deviations),
        )
        assert ran.code == 0, ran.err
    return place


def test_the_certificate_is_shown_and_lies_in_the_packet(club: Path) -> None:
    shown = run("prove", str(club), "--certificate")
    assert shown.code == 0, shown.err
    assert "MADE UP" in shown.out
    assert "Each demand of the duty" in shown.out
    packet = run("packet", str(club))
    assert packet.code == 0, packet.err
    assert "certificate" in packet.out
    for form in ("pdf", "html", "txt"):
        assert (club / "packet" / f"certificate.{form}").stat().st_size > 1000
    results = json.loads((club / "packet" / "results.json").read_text(encoding="utf-8"))
    assert results["proof"]["verdict"]["answer"] in ("met", "not met", "cannot be told")


def test_a_unit_whose_proof_was_not_read_has_no_certificate(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    assert run("prove", str(place), "--certificate").code == 1
    run("packet", str(place))
    assert not (place / "packet" / "certificate.pdf").exists()
