"""Whatever stands on a sheet, the checks answer with doubts and never fall over."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from stages.measure.clean_sheet import job
from wormwright.job.kind import Condition
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.stages.measure import measure, report

ANGLES = st.one_of(st.none(), st.floats(-20, 20))
PLAYS = {"rock", "rock_pins", "worm_end_play", "worm_float", "table_radial_play"}


def believable(low: float | None, high: float | None) -> st.SearchStrategy[float]:
    """Numbers that the job folder lets through, their limits more often than others."""
    low, high = -1e6 if low is None else low, 1e6 if high is None else high
    return st.one_of(st.floats(low, high), st.sampled_from([low, high]))


def condition_value(c: Condition) -> st.SearchStrategy[float | str]:
    return st.sampled_from(c.choices) if c.choices else believable(c.low, c.high)


@st.composite
def readings(draw: st.DrawFn) -> list[Reading]:
    rows = []
    for seq in range(1, draw(st.integers(0, 25)) + 1):
        kind = KINDS[draw(st.sampled_from(sorted(KINDS)))]
        word = draw(st.sampled_from(kind.choices)) if kind.choices else None
        low = -10.0 if kind.key in PLAYS else kind.low
        number = st.one_of(st.none(), believable(low, kind.high))
        value = None if kind.dimension == "none" else draw(number)
        conditions = {
            c.key: draw(condition_value(c)) for c in kind.conditions if draw(st.booleans())
        }
        rows.append(
            Reading(
                seq=seq,
                kind=kind.key,
                raw=draw(st.sampled_from(["", "0.1.2", "+1/-2", f"{value}", "TIR .5", "½", "…"])),
                value=value,
                word=word,
                table_angle=draw(ANGLES),
                worm_angle=draw(ANGLES),
                station=draw(
                    st.sampled_from(
                        ["", "A", "B", "housing", "flank plus", "flank minus", "turning"]
                    )
                ),
                instrument=draw(st.sampled_from(["", "feeler gauge", "dial indicator 0.01 mm"])),
                conditions=conditions,
                flags=draw(st.sampled_from([(), ("approximate",), ("off scale",)])),
            )
        )
    return rows


@settings(max_examples=150, deadline=None, derandomize=True)
@given(rows=readings())
def test_any_sheet_gets_an_answer(rows: list[Reading]) -> None:
    sheet = measure(job(), rows)
    assert {r.seq for r in sheet.usable} | set(sheet.kept_out) == {r.seq for r in rows}
    assert all(d.seen and d.do for d in sheet.doubts)
    assert all(math.isfinite(p.minutes_left) for p in sheet.purposes)
    assert report(sheet)
