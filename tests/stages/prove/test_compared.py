"""Before and after: same readings at the same places, significance, and what is not compared."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from stages.prove.axis_samples import job, play_rows
from wormwright.job.proof_compared import Comparison
from wormwright.job.reading import Reading
from wormwright.stages.prove.compared import comparison

PLACES = (0.0, 90.0, 180.0, 270.0)


def rock(seq: int, value: float, at: float, **changed: Any) -> Reading:
    conditions = {"pin_radius": 80.0, "pin_radius_u": 0.5, "torque": 5000.0}
    said: dict[str, float | str] = {**conditions, "worm_held": "at the worm", "lock": "off"}
    return Reading(
        seq=seq,
        kind="rock",
        raw=f"{value:.3f} mm",
        value=value,
        u=0.002,
        table_angle=math.radians(at),
        conditions={**said, **changed},
    )


def rocks(value: float, *, first: int, places: tuple[float, ...] = PLACES, **changed: Any) -> Any:
    return tuple(rock(first + i, value + 0.001 * i, at, **changed) for i, at in enumerate(places))


def compare(before: tuple[Reading, ...], after: tuple[Reading, ...]) -> Comparison:
    """`after` were taken on the mended unit; what was read before is live beside them."""
    found = comparison(job(), before, (*before, *after))
    assert found is not None
    return found


def test_the_rock_is_compared_place_by_place_and_as_the_mean_of_the_places() -> None:
    found = compare(rocks(0.140, first=1), rocks(0.030, first=100))
    together = found.compared[0]
    assert together.places == 4
    assert together.change.value == pytest.approx(-0.110)
    assert together.change.u == pytest.approx(0.002 * math.sqrt(2) / 2)
    assert together.told == "less"
    assert [row.where for row in found.single] == ["0°", "90°", "180°", "270°"]
    assert found.single[0].rows == (1, 100)
    assert found.refused == ()


def test_a_change_smaller_than_its_doubt_is_not_proven() -> None:
    found = compare(rocks(0.140, first=1), rocks(0.139, first=100))
    assert found.compared[0].told == "no change proven"
    assert found.compared[0].change.low < 0 < found.compared[0].change.high


def test_a_unit_that_got_worse_is_said_to_be_worse() -> None:
    assert compare(rocks(0.03, first=1), rocks(0.05, first=100)).compared[0].told == "more"


def test_only_places_read_on_both_sides_are_compared() -> None:
    found = compare(rocks(0.14, first=1), rocks(0.03, first=100, places=(0.0, 45.0, 180.4)))
    assert found.compared[0].places == 2
    assert {seq for row in found.single for seq in row.rows} == {1, 3, 100, 102}


def test_readings_at_other_places_are_refused_and_said_so() -> None:
    found = compare(rocks(0.14, first=1), rocks(0.03, first=100, places=(45.0, 135.0)))
    assert found.compared == ()
    assert found.refused[0].why == "read at other places"


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"torque": 8000.0}, "the torque is not the same"),
        ({"pin_radius": 60.0}, "the radius of the pin is not the same"),
        ({"worm_held": "powered motor"}, "how the worm was held is not the same"),
        ({"lock": "on"}, "the lock is not the same"),
    ],
)
def test_readings_under_other_conditions_are_refused_with_the_reason(
    changed: dict[str, Any], why: str
) -> None:
    found = compare(rocks(0.14, first=1), rocks(0.03, first=100, **changed))
    assert found.compared == ()
    assert found.refused[0].why == why
    assert "same place, radius, torque and lock" in found.refused[0].do


def test_a_torque_of_the_other_sign_or_a_hair_off_is_the_same_torque() -> None:
    found = compare(rocks(0.14, first=1), rocks(0.03, first=100, torque=-5100.0))
    assert found.compared[0].places == 4


def test_rows_under_the_old_and_a_new_torque_are_sorted_apart() -> None:
    """Two torques after the work, one before: the one that matches is compared, the other named."""
    after = (*rocks(0.03, first=100), *rocks(0.05, first=200, torque=9000.0))
    found = compare(rocks(0.14, first=1), after)
    assert found.compared[0].places == 4
    assert all(seq < 200 for seq in found.compared[0].rows)
    assert found.refused[0].why == "the torque is not the same"


def test_a_reading_that_still_stands_is_no_reading_after_the_work() -> None:
    rows = rocks(0.14, first=1)
    assert comparison(job(), rows, rows) is None


def test_places_about_an_arbitrary_zero_and_words_are_not_compared() -> None:
    loop = [
        Reading(
            seq=seq,
            kind="clamp_shift",
            raw="0.01 mm",
            value=0.01,
            station="turning",
            conditions={"radius": 80.0},
        )
        for seq in (1, 50)
    ]
    found = comparison(job(), (loop[0],), (loop[1],))
    assert found is not None
    assert (found.compared, found.single, found.refused) == ((), (), ())


def test_ends_of_the_worm_are_compared_apart() -> None:
    def floats(value: float, first: int) -> tuple[Reading, ...]:
        row = play_rows(value=value, first=first, kind="worm_float")[0]
        return tuple(replace(row, seq=first + i, station=end) for i, end in enumerate("AB"))

    found = compare(floats(0.05, 1), floats(0.01, 100))
    assert [row.label.rsplit(" ", 1)[1] for row in found.compared] == ["(A)", "(B)"]


def test_an_unchanged_unit_is_seldom_said_to_have_changed() -> None:
    pick, wrong, trials = np.random.default_rng(3), 0, 400
    for _ in range(trials):
        sides = [
            tuple(
                replace(row, value=0.1 + pick.normal(0, 0.002))
                for row in rocks(0.1, first=first, places=PLACES[:2])
            )
            for first in (1, 100)
        ]
        wrong += compare(*sides).compared[0].told != "no change proven"
    assert wrong / trials < 0.085
