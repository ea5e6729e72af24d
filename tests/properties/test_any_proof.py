"""Any rows of closure, reversal and loop end in an answer or a refusal, never in a fault."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from results_samples import job
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.stages.prove import prove, report

ANGLES = st.one_of(
    st.sampled_from([math.radians(a) for a in (0, 45, 90, 120, 180, 225, 270, 315, 360, -90)]),
    st.floats(-7, 7),
    st.none(),
)
SMALL = st.floats(-0.02, 0.02)
COUNT = st.integers(1, 5).map(float)


def row(kind: str, **conditions: st.SearchStrategy[Any]) -> st.SearchStrategy[Reading]:
    def made(value: float, angle: float | None, said: Mapping[str, float | str]) -> Reading:
        return Reading(1, kind, "as typed", value=value, table_angle=angle, conditions=said)

    return st.builds(made, SMALL, ANGLES, st.fixed_dictionaries(conditions))


CLOSED = {
    "faces": st.integers(3, 8).map(float) | st.just(4.0),
    "setup": COUNT,
    "first_face": COUNT,
    "approach": st.sampled_from(["forward", "forward", "forward", "backward"]),
}
ROWS = st.one_of(
    row("closure_angle", **CLOSED),
    row("closure_sweep", swept=st.floats(5, 200), **CLOSED),
    row("axis_reversal", run=st.sampled_from(["first", "turned"]), turn=COUNT),
    row(
        "rock_loop",
        pin_radius=st.floats(10, 200),
        torque=st.floats(-5000, 5000),
        branch=st.sampled_from(["up", "down"]),
        worm_held=st.sampled_from(["at the worm", "at the motor"]),
    ),
    row("register_runout", z=st.sampled_from([0.0, 20.0, 100.0])),
    row("bar_runout", z=st.floats(0, 300), grip=COUNT),
)


def outcome(rows: tuple[Reading, ...]) -> Proof | StageRefusal:
    try:
        return prove(job(), rows)
    except StageRefusal as refusal:
        return refusal


@settings(max_examples=60)
@given(st.lists(ROWS, max_size=60))
def test_any_rows_end_in_blocks_or_in_a_refusal_that_says_what_to_do(rows: list[Reading]) -> None:
    numbered = tuple(replace(r, seq=i + 1) for i, r in enumerate(rows))
    found = outcome(numbered)
    if isinstance(found, StageRefusal):
        assert all(d.do for d in found.doubts)
    else:
        assert report(found, job())


@settings(max_examples=40)
@given(
    st.lists(st.floats(-1e-3, 1e-3), min_size=16, max_size=16),
    st.sets(st.integers(0, 15), max_size=9),
    st.permutations([1, 2, 3, 4]),
)
def test_a_square_with_any_gaps_is_closed_or_says_what_to_read(
    values: list[float], gone: set[int], firsts: list[int]
) -> None:
    rows = tuple(
        Reading(
            n + 1,
            "closure_angle",
            "as typed",
            value=value,
            table_angle=(n % 4) * math.pi / 2,
            conditions={
                "faces": 4.0,
                "setup": float(n // 4 + 1),
                "first_face": float(firsts[n // 4]),
            },
        )
        for n, value in enumerate(values)
        if n not in gone
    )
    found = outcome(rows)
    if isinstance(found, StageRefusal):
        assert any(d.code in ("C-8", "C-9") for d in found.doubts)
        return
    assert found.closure is not None
    assert found.closure.missing <= len(gone)
    assert abs(sum(e.value for e in found.closure.table)) < 1e-9
