"""Where the work stands."""

from __future__ import annotations

import pytest

from planned_job import (
    by_key,
    good_values,
    planned,
    reading,
    sign_off,
    states,
    worked,
)
from wormwright.traveler import (
    SignOffError,
    progress,
    sign,
    what_next,
)


def test_first_comes_the_baseline_and_it_wants_a_rock() -> None:
    operations = planned("worm_shim")
    steps = progress(operations, [], [])
    assert steps[0].state == "next"
    assert "rock" in steps[0].why
    assert {s.state for s in steps[1:] if s.operation in operations} == {"waiting"}
    with pytest.raises(SignOffError, match="missing or stale: table rock"):
        sign("baseline", {}, operations=operations, readings=[], sign_offs=[])
    pins = [reading(1, "rock_pins")]
    assert (
        sign("baseline", {}, operations=operations, readings=pins, sign_offs=[]).verdict == "done"
    )


def test_table_and_worm_may_be_worked_in_either_order_but_the_house_order_comes_first() -> None:
    operations = planned("table_shim", "worm_shim")
    done = worked(operations, "table_bearing")
    found = states(operations, [], done)
    assert (found["table_bearing"], found["worm_end_play"]) == ("next", "next")
    assert what_next(progress(operations, [], done)).startswith("Next: 2 ")


def test_a_failed_gate_blocks_and_says_what_next() -> None:
    operations = planned("worm_shim", "bushings")
    done = worked(operations, "end_play_reread")
    done.append(sign_off(150, "end_play_reread", "failed", {"worm_end_play": 0.08}))
    steps = progress(operations, [], done)
    step = next(s for s in steps if s.operation.key == "end_play_reread")
    assert step.state == "blocked"
    assert "Back to operation 6" in step.why
    assert what_next(steps).startswith("Stopped at 7b")
    assert states(operations, [], done)["axial_centring"] == "waiting"


def test_ends_that_failed_by_their_difference_alone_still_say_what_next() -> None:
    operations = planned("bushings")
    done = worked(operations, "bushings_in")
    done.append(sign_off(150, "bushings_in", "failed", {"closing_a": 0.20, "closing_b": 0.15}))
    assert "match by indicator" in what_next(progress(operations, [], done))


def test_a_new_shim_after_the_bushings_asks_for_the_end_play_again_but_not_the_bushings() -> None:
    operations = planned("worm_shim", "bushings")
    done = worked(operations, "axial_centring")
    assert states(operations, [], done)["end_play_reread"] == "done"
    again = by_key(operations, "worm_end_play")
    done.append(sign_off(150, "worm_end_play", values=good_values(again)))
    steps = {s.operation.key: s for s in progress(operations, [], done)}
    assert steps["bushings_in"].state == "done"
    assert steps["end_play_reread"].state == "next"
    assert "do again" in steps["end_play_reread"].why
    assert steps["axial_centring"].state == "waiting"


def test_centring_done_again_asks_for_the_depth_again_and_for_all_that_hangs_on_it() -> None:
    operations = planned("bushings")
    done = worked(operations)
    assert set(states(operations, [], done).values()) == {"done", "not needed"}
    done.append(sign_off(200, "axial_centring"))
    found = states(operations, [], done)
    assert found["axial_centring"] == "done"
    assert found["final_depth"] == "next"
    assert {found[k] for k in ("coupling", "seal_grease", "proof_rock")} == {"waiting"}


def test_a_table_bearing_done_again_undoes_the_grease_even_without_a_mesh_operation() -> None:
    operations = planned("table_shim")
    done = worked(operations, "warm_recheck")
    done.append(sign_off(200, "table_bearing"))
    done.append(sign_off(201, "wheel_joint"))
    assert states(operations, [], done)["seal_grease"] == "next"
