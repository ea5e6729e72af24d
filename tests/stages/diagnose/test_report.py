"""The report of the diagnosis tells every part that was read, and nothing of what was not."""

from __future__ import annotations

import math
from functools import cache

import numpy as np

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of
from wormwright.job.blocks import Block, Heading, Paragraph, Steps, Table
from wormwright.job.findings import Diagnosis
from wormwright.job.rotary import Job
from wormwright.packet import Document, Style, render_html, render_text
from wormwright.stages.diagnose import diagnose, report

JOB = job_of(Truth())


@cache
def everything() -> Diagnosis:
    """A sheet with every part read."""
    truth = Truth(wear=0.03, used_deg=(80.0, 200.0))
    taker = Taker(truth, np.random.default_rng(31))
    taker.full_sheet()
    taker.direct_runouts()
    taker.rock_at(90.0, psi=0.0, worm_held="at the motor")
    taker.rock_at(90.0, psi=0.0, housing=19.0)
    taker.rock_at(90.0, psi=0.0, housing=34.0, grown=-0.01)
    lean = (2e-4 * 70, 0.7)
    parts.series(taker, "face_runout", parts.once(lean), parts.lobed(3, 0.006, 0.3), radius=70.0)
    parts.series(taker, "register_runout", parts.once((0.02, 2.0)), surface="bore")
    for z in (10.0, 110.0):
        parts.series(taker, "bar_runout", parts.once((0.02 + 2e-4 * z, 2.0)), z=z)
    parts.tilts(taker, play=1e-4, spring=2e-9, moments=(3000.0, 9000.0))
    parts.clamp(taker, "turning", 0.012, radius=80.0, order="A then B")
    parts.drag_map(taker, mean=140.0, extra=90.0, peak=0.6)
    parts.drag_steps(taker, out=80.0, slack=55.0, bare=30.0)
    taker.take("drag_table", 900.0)
    parts.loop(taker, clearance=3e-3, compliance=5e-8, friction=400.0, phi=0.0)
    return diagnose(JOB, taker.readings)


@cache
def little() -> Diagnosis:
    """Two rocks and the pair."""
    taker = Taker(Truth(), np.random.default_rng(32))
    taker.identity()
    for phi in (0.0, 180.0):
        taker.rock_at(phi, psi=0.0)
    return diagnose(JOB, taker.readings)


def tables(blocks: tuple[Block, ...]) -> dict[str, Table]:
    return {b.key: b for b in blocks if isinstance(b, Table) and b.key}


def words(blocks: tuple[Block, ...]) -> str:
    lines: list[str] = []
    for b in blocks:
        if isinstance(b, Paragraph | Heading):
            lines.append(b.text)
        elif isinstance(b, Steps):
            lines.extend(b.lines)
    return "\n".join(lines)


PARTS = {"drag", "runout", "lobes", "next readings", "usual ranges", "map"} | {
    f"part {key}" for key in ("table_bearing", "drive", "bar", "loop", "clamp", "warm", "wear")
}


def test_every_part_that_was_read_has_its_table() -> None:
    assert set(tables(report(everything(), JOB))) >= PARTS


def test_parts_that_were_not_read_are_not_shown() -> None:
    shown = set(tables(report(little(), JOB)))
    assert shown & PARTS == {"next readings", "usual ranges", "map"}


def test_every_row_has_as_many_cells_as_its_table_has_columns() -> None:
    for found in (everything(), little()):
        for block in report(found, JOB):
            if isinstance(block, Table):
                assert {len(row) for row in block.rows} == {len(block.columns)}, block.caption


def test_the_verdict_and_its_reasons_come_before_the_tables() -> None:
    blocks = report(everything(), JOB)
    verdict = next(
        i for i, b in enumerate(blocks) if isinstance(b, Paragraph) and "Verdict" in b.text
    )
    assert isinstance(blocks[verdict + 1], Steps)
    assert all(not isinstance(b, Table) for b in blocks[:verdict])


def test_what_cannot_be_cured_is_told_with_every_diagnosis() -> None:
    for found in (everything(), little()):
        text = words(report(found, JOB))
        for wanted in ("Pitch error of the wheel", "bent worm shaft", "cracked casting"):
            assert wanted in text


def test_shares_are_told_as_a_range_in_per_cent_like_those_of_the_contributors() -> None:
    rows = tables(report(everything(), JOB))["part table_bearing"].rows
    shares = [row[1] for row in rows if "share" in row[0].text]
    assert shares
    assert all(cell.estimate is None and cell.text.count("%") == 2 for cell in shares)


def test_next_readings_come_with_minutes_and_what_they_would_tell() -> None:
    rows = tables(report(little(), JOB))["next readings"].rows
    assert len(rows) >= 3
    for row in rows:
        assert 0 < float(row[1].text) < 240
        assert row[5].text


def test_the_paper_says_so_when_no_reading_left_narrows_the_answer_much() -> None:
    best = everything().next_readings[0]
    text = words(report(everything(), JOB))
    assert ("No reading left narrows the answer much" in text) == (best.gain < 0.1)
    assert "Next most useful reading" in words(report(little(), JOB))


def test_what_no_reading_fixes_is_a_table_with_the_doubt_it_leaves() -> None:
    left = tables(report(little(), JOB))["left open"]
    causes = [row[0].text for row in left.rows]
    assert "worm radial float" in causes
    assert all((row[1].number or 0) > math.radians(3 / 3600) for row in left.rows)


def as_document(found: Diagnosis, job: Job) -> Document:
    return Document("Diagnosis", "simulated", True, report(found, job))


def test_text_and_page_tell_the_same_figures() -> None:
    document = as_document(everything(), JOB)
    style = Style(units="mm", sheet="A4")
    text, page = render_text(document, style), render_html(document, style)
    for block in document.blocks:
        if isinstance(block, Table):
            for row in block.rows:
                first = row[0].text.split()
                if first:
                    assert first[0] in text
                    assert first[0] in page


def test_a_cell_never_shows_more_than_one_thing() -> None:
    for block in report(everything(), JOB):
        if isinstance(block, Table):
            for cell in (c for row in block.rows for c in row):
                assert (
                    sum((bool(cell.text), cell.estimate is not None, cell.number is not None)) <= 1
                )
