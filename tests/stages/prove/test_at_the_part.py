"""The error at the part: how each figure counts for each feature, approach, cut and hold."""

from __future__ import annotations

import math
from typing import Any

import pytest

from stages.prove.axis_samples import RADIUS, duty, figure, figures
from stages.prove.position_rows import ARCSEC
from wormwright.core.error_at_work import ErrorPart, error_at_work
from wormwright.job.proof import Proof
from wormwright.job.proof_harmonics import Harmonics, WaveFound
from wormwright.job.proof_part import PartError
from wormwright.stages.prove.at_the_part import other_features, part_error
from wormwright.stages.prove.axis_figures import waves_of


def part(*, changed: dict[str, Any] | None = None, **said: Any) -> PartError:
    found = part_error(figures(**(changed or {})), duty(**said), seed=1)
    assert found is not None
    return found


def makes(found: PartError, key: str) -> float:
    """What a part makes at the work, arcsec at the duty's radius."""
    return found.of(key).at_part.value / RADIUS / ARCSEC


def test_positions_approached_from_either_side_feel_range_reversal_and_springing() -> None:
    found = part()
    assert makes(found, "round") == pytest.approx(28)
    assert makes(found, "reversal") == pytest.approx(40)
    assert makes(found, "scatter") == pytest.approx(4 * 4)
    assert makes(found, "springing") == pytest.approx(12)
    assert makes(found, "warm") == pytest.approx(6)
    assert found.of("table play").at_part.value == pytest.approx(0.004)
    assert found.biggest == "reversal"
    assert found.missing == ()


def test_the_whole_is_the_sum_of_added_parts_and_the_cover_of_random_ones() -> None:
    found = part()
    at = RADIUS * ARCSEC
    by_hand = error_at_work(
        [
            ErrorPart("round", 14 * at, 0, "added"),
            ErrorPart("scatter", 4 * at, 0, "normal"),
            ErrorPart("reversal", 20 * at, 0, "rectangular"),
            ErrorPart("warm", 3 * at, 0, "added"),
            ErrorPart("springing", 6 * at, 0, "added"),
            ErrorPart("play", 0.002, 0, "rectangular"),
        ],
        seed=2,
    )
    assert found.error.value == pytest.approx(2 * by_hand.half_width, rel=0.01)
    assert sum(c.share for c in found.contributions) == pytest.approx(1)


def test_always_from_one_side_the_reversal_counts_nothing() -> None:
    found = part(approach="one way")
    assert found.of("reversal").share == 0
    assert found.of("reversal").rule.startswith("nothing")
    assert makes(found, "round") == pytest.approx(30)
    assert found.error.value < part().error.value
    with pytest.raises(StopIteration):
        found.of("warm")


def test_a_cut_from_both_sides_opens_the_gap_whatever_the_approach() -> None:
    """Coming from one side places the flank; a cut that pushes it off opens the whole play."""
    one = part(approach="one way", cut="both sides")
    assert makes(one, "gap") == pytest.approx(36)
    assert makes(one, "springing") == pytest.approx(24)
    assert one.biggest == "gap"
    both = part(approach="both ways", cut="both sides")
    assert both.of("reversal").share == 0
    assert "same gap" in both.of("reversal").rule


@pytest.mark.parametrize("held", ["biased", "braked"])
def test_weight_or_brake_keeps_the_cut_from_crossing_the_gap(held: str) -> None:
    found = part(approach="one way", cut="both sides", held=held)
    assert all(c.key != "gap" for c in found.contributions)
    assert makes(found, "springing") == pytest.approx(24)


def test_a_biased_table_may_come_from_either_side_and_a_braked_one_may_not() -> None:
    assert part(held="biased").of("reversal").share == 0
    assert part(held="braked").of("reversal").share > 0.1


def test_a_clamped_table_neither_springs_nor_opens_but_shifts_unevenly() -> None:
    found = part(held="clamped", cut="both sides")
    assert makes(found, "clamp") == pytest.approx(4 * 3)
    assert found.of("table play").share == 0
    assert {c.key for c in found.contributions}.isdisjoint({"gap", "springing"})


def test_neighbouring_teeth_feel_less_of_the_once_per_turn_wave_than_any_two() -> None:
    found = part(approach="one way", work="indexed", feature="tooth spacing", count=40)
    assert found.label == "40 teeth, any two"
    assert makes(found, "wave 1") == pytest.approx(20)
    said = duty(approach="one way", feature="tooth spacing", count=40)
    others = other_features(figures(), said, seed=1)
    neighbours = next(o for o in others if o.label == "40 teeth, neighbours")
    assert neighbours.error.value < found.error.value
    assert {o.feature for o in others} == {"positions", "contour", "flats", "seam gap"} | {
        "tooth spacing",
        "cross holes",
    }
    # a ratio of 90 and 40 teeth: a tooth is two worm turns and a quarter
    assert makes(found, "wave 90") == pytest.approx(10)


def test_spacings_of_whole_worm_turns_do_not_feel_the_worm() -> None:
    found = part(feature="tooth spacing", count=45, approach="one way")
    assert makes(found, "wave 90") == pytest.approx(0, abs=1e-6)


def test_two_places_scatter_by_root_two_and_mismatch_counts_once() -> None:
    found = part(feature="seam gap", approach="one way")
    assert makes(found, "scatter") == pytest.approx(2 * math.sqrt(2) * 4)
    assert all(not c.key.startswith(("wave", "round")) for c in found.contributions)
    assert makes(part(feature="seam gap"), "reversal") == pytest.approx(40)


def test_flats_feel_an_angle_over_their_half_width_only() -> None:
    found = part(feature="flats", count=6, approach="one way")
    assert found.lever == pytest.approx(RADIUS / 2)
    assert makes(found, "wave 1") == pytest.approx(20 / 2)


def test_cross_holes_from_opposite_sides_feel_odd_waves_twice() -> None:
    found = part(feature="cross holes", approach="one way")
    assert makes(found, "wave 1") == pytest.approx(20)
    assert makes(found, "wave 90") == pytest.approx(0, abs=1e-6)


def test_a_range_that_the_waves_do_not_explain_may_lie_between_any_two_places() -> None:
    waves = figures().waves
    assert waves is not None
    found = part(changed={"waves": waves[:1]}, feature="cross holes", approach="one way")
    assert makes(found, "round") == pytest.approx(30 - 20)
    found = part(changed={"waves": None}, feature="cross holes", approach="one way")
    assert makes(found, "round") == pytest.approx(30)
    assert [m.what for m in found.missing] == ["how the error goes from place to place"]


def test_a_radial_duty_feels_runout_and_radial_play_only() -> None:
    found = part(direction="radial")
    assert [c.key for c in found.contributions] == ["runout", "table play"]
    assert found.of("runout").at_part.value == pytest.approx(0.020)
    assert part(direction="axial").of("runout").at_part.value == pytest.approx(
        2 * 20 * ARCSEC * RADIUS
    )
    assert part(direction="radial", feature="seam gap").of("runout").share == 0


@pytest.mark.parametrize(
    ("gone", "what"),
    [
        ({"scatter": None}, "the scatter of positioning"),
        ({"springing": None}, "the springing under the torque to resist"),
        ({"reversal": None}, "the reversal"),
        ({"swing_both": None, "waves": None}, "the mean error round the turn"),
        ({"table_radial": None}, "the radial play of the table"),
    ],
)
def test_a_part_that_no_reading_tells_is_named_with_the_reading_to_take(
    gone: dict[str, Any], what: str
) -> None:
    found = part(changed=gone)
    assert [m.what for m in found.missing] == [what]
    assert "`" in found.missing[0].read or "position errors" in found.missing[0].read


def test_what_the_duty_leaves_open_is_said() -> None:
    assert part().assumed == (
        "feature: positions round the turn (the duty says only that the work is indexed)",
        "the cut pushes from one side",
    )
    assert part(feature="flats", count=4, cut="one side").assumed == ()
    assert part(work="reversing").feature == "contour"
    assert part(work="reversing").assumed[-1] == "the cut pushes from both sides"


def test_the_part_that_is_known_worst_is_the_one_to_read_again() -> None:
    rough = figure("springing", 12 * ARCSEC, 8 * ARCSEC)
    assert part(changed={"springing": rough}).most_doubtful == "springing"


def test_nothing_read_gives_no_budget() -> None:
    names = list(figures().__slots__)
    assert part_error(figures(**dict.fromkeys(names)), duty(), seed=1) is None


def test_waves_of_the_proof_that_stand_out_carry_the_budget_and_waves_of_play_do_not() -> None:
    def wave(
        key: str, order: float, *, of_play: bool = False, stands_out: bool = True
    ) -> WaveFound:
        size = figure(key, 10 * ARCSEC, ARCSEC).estimate
        return WaveFound(key, key, order, of_play, size, 0.0, stands_out, ())

    waves = (
        wave("once", 1.0),
        wave("twice", 2.0, stands_out=False),
        wave("worm", 90.0),
        wave("play", 1.0, of_play=True),
    )
    rest = figure("rest", ARCSEC, 0.1 * ARCSEC).estimate
    found = waves_of(Proof(harmonics=Harmonics(waves, rest, 24)), None)
    assert found is not None
    assert [(w.order, w.figure.source) for w in found] == [
        (1.0, "waves of the error"),
        (90.0, "waves of the error"),
    ]
    assert waves_of(Proof(), None) is None
