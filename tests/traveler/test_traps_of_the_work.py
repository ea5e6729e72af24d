"""Traps that no reading gives away stand where the hand is: at operation, gate or part."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import correct_fixture as made
from planned_job import JOB, remedy
from wormwright.bench import Bench
from wormwright.stages.correct import correct
from wormwright.stages.correct.facts import Facts, facts_of
from wormwright.stages.correct.swap import NoRoomError, swap_at
from wormwright.traveler import ALL, plan_operations


def facts() -> Facts:
    return facts_of(made.job(), Bench(made.job(), made.readings()), made.diagnosis())


def test_isolating_and_brake_stand_among_the_cautions() -> None:
    """E-1, E-2: every operation with the worm in reach says isolate; self-locking is no brake."""
    said = " ".join(" ".join(op.cautions) for op in ALL.values()).casefold()
    assert "isolate" in said
    assert "self-locking" in said
    for op in plan_operations(JOB, remedy(("table_shim", "worm_shim", "bushings"))):
        assert op.cautions, f"{op.key} has no caution"


def test_three_jaws_are_never_left_to_a_formula() -> None:
    """E-17: both contact limits, the indicator decides, the four-jaw for the fit."""
    plans = correct(made.job(), made.readings(), made.diagnosis()).plans
    steps = " ".join(
        step
        for plan in plans
        for correction in plan.corrections
        if correction.key == "bushings"
        for step in correction.steps
    )
    assert "three-jaw" in steps.casefold()
    assert "the indicator decides" in steps
    assert "four-jaw" in steps


def test_the_mesh_is_set_at_the_tight_spot_or_not_at_all() -> None:
    """E-21: a gate holds the table angle within 15 degrees of the tight spot."""
    (operation,) = (
        op for op in plan_operations(JOB, remedy(("bushings",))) if op.key == "final_depth"
    )
    gate = next(g for g in operation.gates if "tight spot" in g.label.casefold() and g.high)
    assert gate.high == pytest.approx(math.radians(15))
    assert gate.low == pytest.approx(-math.radians(15))


def test_a_bush_filled_with_oil_is_kept_from_the_solvent() -> None:
    """E-37."""
    words = " ".join((*ALL["strip_wash"].do, *ALL["strip_wash"].cautions))
    assert "filled with oil" in words
    assert "solvent" in words


def test_a_worm_that_does_not_pass_its_bore_is_asked_about() -> None:
    """E-39: geometry before metal is cut, for the worm and for the wall."""
    here = facts()
    bore = here.ends[0].housing_bore
    assert bore is not None
    thick = replace(
        here, pair=replace(here.pair, worm_od=made.estimate(bore.value + 1, 0.01, "length"))
    )
    codes = {d.code for d in swap_at(thick, "A", throw=0.1).doubts}
    assert "E-39" in codes
    assert "E-39" not in {d.code for d in swap_at(here, "A", throw=0.1).doubts}
    with pytest.raises(NoRoomError, match="wall"):
        swap_at(here, "A", throw=bore.value / 4)


def test_new_bushings_bring_the_alignment_of_the_coupling() -> None:
    """E-41: the worm line moved, so the coupling is aligned anew and its readings are stale."""
    planned = {op.key: op for op in plan_operations(JOB, remedy(("bushings",)))}
    keys = list(planned)
    assert keys.index("coupling") > keys.index("final_depth")
    assert any(gate.high is not None for gate in planned["coupling"].gates)
    stale = {kind for kind, _ in ALL["bushings_in"].makes_stale}
    assert "drive_play" in stale
