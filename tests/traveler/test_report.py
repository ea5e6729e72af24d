"""The traveler as it is printed."""

from __future__ import annotations

from planned_job import (
    JOB,
    by_key,
    planned,
    reading,
    sign_off,
    worked,
)
from wormwright.job.blocks import OperationBlock, Paragraph, Table
from wormwright.traveler import (
    ALL,
    progress,
    report,
    sign_command,
    what_next,
)


def test_the_report_prints_boxes_limits_written_values_and_stale_rows() -> None:
    operations = planned("worm_shim")
    rows = [reading(1, "rock"), reading(2, "worm_end_play")]
    done = [
        sign_off(3, "baseline"),
        sign_off(4, "strip_wash"),
        sign_off(5, "worm_end_play", "failed", {"worm_end_play": 0.05, "drag_rise": 1.2}),
    ]
    blocks = report(operations, readings=rows, sign_offs=done, job=JOB)
    printed = {b.title: b for b in blocks if isinstance(b, OperationBlock)}
    assert len(printed) == len(operations)
    shim = printed[ALL["worm_end_play"].title]
    assert shim.state == "failed, number 5"
    assert [line.partition(":")[0] for line in shim.if_failed] == ["worm_end_play", "drag_rise"]
    assert [g[1:] for g in shim.gates] == [("at most 13 µm", "0.05"), ("at most 2.0", "1.2")]
    assert all(line.startswith("Enter anew after signing") for line in shim.read)
    proof = printed[ALL["proof_rock"].title]
    assert all(g[2] == "______" for g in proof.gates)
    assert proof.read[0].startswith("Before signing: table rock (one pin, or better two")
    first = next(b for b in blocks if isinstance(b, Paragraph))
    assert first.strong
    assert first.text.startswith("Stopped at 6")
    table = next(b for b in blocks if isinstance(b, Table) and b.key == "stale")
    assert [row[0].text for row in table.rows] == ["1", "2"]
    assert {row[3].text for row in table.rows} == {"1 Strip, wash, deburr and look"}


def test_the_sign_command_has_a_place_for_every_value_that_is_typed() -> None:
    command = sign_command(by_key(planned("bushings"), "bushings_in"))
    assert command == (
        "wormwright sign DIR bushings_in --initials .. "
        '--gate clean="..." --gate closing_a="..." --gate closing_b="..."'
    )


def test_when_all_is_signed_the_report_says_so() -> None:
    operations = planned("bushings")
    assert what_next(progress(operations, [], worked(operations))) == (
        "Every operation is signed off."
    )
