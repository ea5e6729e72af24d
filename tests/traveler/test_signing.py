"""When an operation may be signed, and when it may not."""

from __future__ import annotations

import math

import pytest

from planned_job import (
    ARCMIN,
    by_key,
    good_values,
    planned,
    tight,
    worked,
)
from wormwright.job.operation import Operation
from wormwright.traveler import (
    SignOffError,
    sign,
)


def test_depth_is_refused_while_the_end_play_is_not_settled() -> None:
    operations = planned("worm_shim", "bushings")
    readings = [tight(100), tight(150)]
    done = worked(operations, "end_play_reread")
    with pytest.raises(SignOffError, match=r"7b \(end_play_reread\).*taken up by the mesh"):
        sign(
            "axial_centring",
            {"patch_share": 0.6, "patch_alike": 1.0, "patch_off_middle": 0.0},
            operations=operations,
            readings=readings,
            sign_offs=done,
        )


def test_bushings_are_refused_before_the_end_play_shim() -> None:
    operations = planned("worm_shim", "bushings")
    with pytest.raises(SignOffError, match=r"operation 6 \(worm_end_play\)"):
        sign(
            "bushings_in",
            {},
            operations=operations,
            readings=[tight(150)],
            sign_offs=worked(operations, "worm_end_play"),
        )


def test_bushings_are_refused_on_an_end_play_read_before_the_unit_was_stripped() -> None:
    operations = planned("bushings")
    done = worked(operations, "bushings_in")
    values = good_values(by_key(operations, "bushings_in"))
    with pytest.raises(SignOffError, match="missing or stale: worm end play"):
        sign(
            "bushings_in",
            values,
            operations=operations,
            readings=[tight(50)],
            sign_offs=done,
        )
    fresh = [tight(50), tight(150)]
    got = sign("bushings_in", values, operations=operations, readings=fresh, sign_offs=done)
    assert got.verdict == "passed"
    assert "worm radial float" in got.next_steps[0]


@pytest.mark.parametrize(("a", "b"), [(0.200, 0.150), (0.200, -0.200)], ids=["unequal", "mirrored"])
def test_ends_turned_unequally_or_mirrored_fail(a: float, b: float) -> None:
    operations = planned("bushings")
    got = sign(
        "bushings_in",
        {"clean": 1.0, "closing_a": a, "closing_b": b},
        operations=operations,
        readings=[tight(150)],
        sign_offs=worked(operations, "bushings_in"),
    )
    assert got.verdict == "failed"
    assert "ends_apart" in {g.key for g in got.outside}
    assert any("mirrored" in line for line in got.next_steps)


def depth_values(operations: tuple[Operation, ...], **changed: float) -> dict[str, float]:
    return good_values(by_key(operations, "final_depth")) | changed


def sign_depth(**changed: float) -> tuple[str, set[str]]:
    operations = planned("bushings")
    got = sign(
        "final_depth",
        depth_values(operations, **changed),
        operations=operations,
        readings=[tight(150)],
        sign_offs=worked(operations, "final_depth"),
    )
    return got.verdict, {g.key for g in got.outside}


def test_depth_inside_every_gate_passes() -> None:
    assert sign_depth() == ("passed", set())


@pytest.mark.parametrize(
    ("gate_key", "value"),
    [
        ("from_tight_spot", math.radians(30)),
        ("from_tight_spot", math.radians(-20)),
        ("rock_locked", 0.1 * ARCMIN),
        ("rock_locked", 3 * ARCMIN),
        ("rock_at_zero", -0.2 * ARCMIN),
        ("worm_end_play", 0.05),
        ("drag_ratio", 2.4),
        ("drag_peak", 450.0),
        ("turned", math.radians(-12)),
    ],
)
def test_depth_outside_one_gate_fails_by_that_gate(gate_key: str, value: float) -> None:
    assert sign_depth(**{gate_key: value}) == ("failed", {gate_key})


def test_depth_without_the_tight_spot_is_refused() -> None:
    operations = planned("bushings")
    values = depth_values(operations)
    del values["from_tight_spot"]
    with pytest.raises(SignOffError, match="gate values missing: from_tight_spot"):
        sign(
            "final_depth",
            values,
            operations=operations,
            readings=[tight(150)],
            sign_offs=worked(operations, "final_depth"),
        )


@pytest.mark.parametrize(
    ("key", "values", "says"),
    [
        ("lapping", {}, "there is no such operation"),
        ("bushings_in", {}, "the chosen plan does not need it"),
        ("table_bearing", {"rock": 1.0}, "gate values missing"),
        ("table_bearing", {"table_axial_play": math.nan}, "expected a number"),
        ("table_bearing", {"pull": 1.0}, "no such gate: pull"),
    ],
)
def test_a_sign_off_that_cannot_be_judged_is_refused_with_the_reason(
    key: str, values: dict[str, float], says: str
) -> None:
    operations = planned("table_shim")
    full = good_values(by_key(operations, "table_bearing")) if says != "gate values missing" else {}
    with pytest.raises(SignOffError, match=says):
        sign(
            key,
            full | values,
            operations=operations,
            readings=[],
            sign_offs=worked(operations, "table_bearing"),
        )


def test_a_typed_difference_of_the_ends_must_agree() -> None:
    operations = planned("bushings")
    with pytest.raises(SignOffError, match="does not agree"):
        sign(
            "bushings_in",
            {"closing_a": 0.2, "closing_b": 0.1, "ends_apart": 0.001},
            operations=operations,
            readings=[tight(150)],
            sign_offs=worked(operations, "bushings_in"),
        )
