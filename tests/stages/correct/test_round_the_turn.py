"""The map of backlash as found and as set in the report of the correction."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

import correct_fixture as made
from wormwright.job.blocks import Block, Paragraph, PolarMap, Table
from wormwright.job.corrections import WormPlace
from wormwright.job.result import Estimate
from wormwright.stages.correct import correct, report
from wormwright.stages.correct.report_turn import turn_blocks

SPOT = Estimate(math.radians(40), 0.05, math.radians(34), math.radians(46), "angle", "made up")


def place() -> WormPlace:
    got = correct(made.job(), made.readings(), made.diagnosis()).stands
    assert got is not None
    return replace(got, tight=SPOT)


def figures(blocks: list[Block]) -> dict[str, float]:
    table = next(b for b in blocks if isinstance(b, Table))
    return {row[0].text: row[1].number or 0.0 for row in table.rows}


def the_map(blocks: list[Block]) -> PolarMap:
    return next(b for b in blocks if isinstance(b, PolarMap))


def test_the_report_has_the_map_before_and_after_where_the_tight_spot_is_known() -> None:
    job, diagnosis = made.job(), made.diagnosis()
    known = replace(diagnosis, tight_spot=replace(diagnosis.tight_spot, angle=SPOT))
    maps = [
        [b for b in report(correct(job, made.readings(), d), job) if isinstance(b, PolarMap)]
        for d in (known, replace(known, tight_spot=replace(known.tight_spot, angle=None)))
    ]
    assert [len(found) for found in maps] == [1, 0]
    assert maps[0][0].after is not None


def test_the_tight_spot_is_brought_to_what_the_plan_sets_and_stays_where_it_was() -> None:
    stands = place()
    blocks = turn_blocks(stands, "mm")
    drawn, size = the_map(blocks), figures(blocks)
    assert drawn.after is not None
    assert stands.to_set is not None
    assert size["least play, at the tight spot"] == pytest.approx(stands.to_set, abs=1.5e-3)
    least = float(drawn.after.low.min()) * stands.pair.r2
    assert least == pytest.approx(size["least play, at the tight spot"], abs=1e-9)
    toward = math.atan2(stands.wheel[1], stands.wheel[0]) + math.pi
    assert drawn.after.tight is not None
    assert abs(math.remainder(drawn.after.tight - toward, 2 * math.pi)) < math.radians(5)


def test_the_mean_stays_above_the_least_by_both_runouts_as_the_cosine_law_says() -> None:
    size = figures(turn_blocks(place(), "mm"))
    law = size["mean over least, by 2 tan(pressure angle) times both runouts"]
    assert size["mean over least"] == pytest.approx(law, rel=0.25)
    assert size["mean play, the smallest attainable"] == pytest.approx(
        size["least play, at the tight spot"] + size["mean over least"]
    )


def test_a_truer_wheel_lets_the_mean_play_come_nearer_the_least() -> None:
    stands = place()
    trued = replace(stands, wheel_left=(0.2 * stands.wheel[0], 0.2 * stands.wheel[1]))
    before, after = (figures(turn_blocks(s, "mm"))["mean over least"] for s in (stands, trued))
    assert after < before
    words = next(b.text for b in turn_blocks(trued, "mm") if isinstance(b, Paragraph))
    assert "anew once the wheel is trued" in words
    drawn = the_map(turn_blocks(trued, "mm"))
    assert drawn.after is not None
    assert drawn.after.tight is None


def test_the_map_closes_on_itself_and_shows_no_play_below_zero() -> None:
    drawn = the_map(turn_blocks(place(), "mm"))
    assert drawn.after is not None
    for curve in (drawn.mean, drawn.low, drawn.high, drawn.after.mean, drawn.after.low):
        assert curve[0] == curve[-1]
        assert float(np.min(curve)) >= 0.0
    assert np.all(drawn.low <= drawn.mean)
    assert np.all(drawn.mean <= drawn.high)


def test_nothing_is_drawn_where_the_plan_sets_no_depth() -> None:
    assert turn_blocks(replace(place(), to_set=None), "mm") == []
    assert turn_blocks(replace(place(), tight=None), "mm") == []
