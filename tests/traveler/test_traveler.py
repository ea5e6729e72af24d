"""The traveler: what a plan needs, when an operation may be signed, what it makes stale."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from planned_job import (
    ARCMIN,
    JOB,
    good_values,
    planned,
    reading,
    remedy,
    sign_off,
)
from wormwright.job.blocks import OperationBlock, Paragraph, Table
from wormwright.job.operation import Gate, Operation, SignOff
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.traveler import (
    ALL,
    SignOffError,
    live_readings,
    plan_operations,
    progress,
    readings_as_found,
    report,
    sign,
    sign_command,
    stale_readings,
    what_next,
)
from wormwright.traveler.limits import down, up
from wormwright.traveler.report import limit_text
from wormwright.traveler.staleness import MAKES_STALE

PAIR = WormPair(
    teeth=72,
    starts=1,
    hand="right",
    axial_module=1.5,
    pressure_angle=math.radians(20),
    pressure_angle_u=0.01,
    worm_d1=28.0,
    face_width=14.0,
    kinds=(("hob-equal", 1.0),),
    hob_excess_max=1.0,
)


def keys_of(operations: tuple[Operation, ...]) -> list[str]:
    return [op.key for op in operations]


def by_key(operations: tuple[Operation, ...], key: str) -> Operation:
    return next(op for op in operations if op.key == key)


def gate(operations: tuple[Operation, ...], operation: str, key: str) -> Gate:
    return next(g for g in by_key(operations, operation).gates if g.key == key)


def worked(operations: tuple[Operation, ...], *upto: str) -> list[SignOff]:
    """Sign-offs of the operations before the first of `upto`, numbered from 101."""
    found = []
    for seq, op in enumerate(operations, start=101):
        if op.key in upto:
            break
        found.append(sign_off(seq, op.key, values=good_values(op)))
    return found


def states(
    operations: tuple[Operation, ...], readings: list[Reading], sign_offs: list[SignOff]
) -> dict[str, str]:
    return {s.operation.key: s.state for s in progress(operations, readings, sign_offs)}


# what a plan needs


def test_bushings_are_followed_by_end_play_centring_depth_and_coupling_in_that_order() -> None:
    assert keys_of(planned("worm_shim", "bushings")) == [
        "baseline",
        "strip_wash",
        "wheel_joint",
        "worm_end_play",
        "bushings_in",
        "end_play_reread",
        "axial_centring",
        "final_depth",
        "coupling",
        "seal_grease",
        "warm_recheck",
        "proof_rock",
    ]


def test_a_unit_left_as_it_is_is_not_opened() -> None:
    assert keys_of(planned()) == ["baseline", "warm_recheck", "proof_rock"]
    assert keys_of(plan_operations(JOB, None)) == ["baseline"]


def test_a_correction_may_ask_for_more_operations() -> None:
    more = plan_operations(JOB, remedy(["table_shim"], operations=("wheel_seat",)))
    assert keys_of(more)[2:5] == ["table_bearing", "wheel_joint", "wheel_seat"]


def test_the_strategy_of_the_plan_adds_its_own_steps() -> None:
    single = remedy(["bushings"])
    assert by_key(plan_operations(JOB, single), "axial_centring").do == ALL["axial_centring"].do
    centred = plan_operations(JOB, replace(single, strategy="wheel re-centred"))
    assert "0.21 mm sideways" in by_key(centred, "axial_centring").do[-1]
    trial = plan_operations(JOB, replace(single, strategy="trial pair"))
    assert by_key(trial, "bushings_in").do[-1].startswith("Trial pair")
    nested = plan_operations(JOB, replace(single, strategy="nested pair"))
    assert "turned" not in {g.key for g in by_key(nested, "final_depth").gates}


def test_unknown_corrections_and_operations_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="got 'lapping'"):
        plan_operations(JOB, remedy(["lapping"]))
    with pytest.raises(ValueError, match="got polish"):
        plan_operations(JOB, remedy(["table_shim"], operations=("polish",)))


@pytest.mark.parametrize("op", ALL.values(), ids=lambda op: op.key)
def test_every_operation_can_be_worked_from_and_names_real_readings(op: Operation) -> None:
    assert op.cautions
    assert op.tools
    assert len(op.do) >= 2
    assert op.go_back
    assert op.minutes > 0
    kinds = {*op.read, *op.wants, *op.spot_check, *(kind for kind, _ in op.makes_stale)}
    assert kinds <= set(KINDS)


@pytest.mark.parametrize("key", ["strip_wash", "bushings_in", "setting_move", "final_depth"])
def test_operations_that_free_the_worm_warn_that_self_locking_is_no_brake(key: str) -> None:
    assert any("Self-locking is never a brake" in line for line in ALL[key].cautions)
    assert any("Isolate the power" in line for line in ALL[key].cautions)


def test_turning_eccentric_parts_warns_of_unbalance_and_a_bursting_chuck() -> None:
    assert any("burst" in line for line in ALL["bushings_in"].cautions)


# gates


def test_gates_of_depth_come_from_the_duty_and_the_plan() -> None:
    operations = planned("bushings")
    rock = gate(operations, "final_depth", "rock_locked")
    least = JOB.duty.play_min_cold_mm / JOB.duty.radius_mm
    assert rock.low == pytest.approx(least, rel=0.02)
    assert rock.low is not None
    assert rock.low >= least
    assert rock.high == pytest.approx(1.6 * ARCMIN)
    proof = gate(operations, "proof_rock", "rock_loosest")
    assert proof.high == pytest.approx(4 * ARCMIN)
    assert gate(operations, "final_depth", "drag_peak").high == JOB.duty.drag_limit_nmm


def test_provisional_depth_stops_short_of_the_planned_closing() -> None:
    assert gate(planned("bushings"), "bushings_in", "closing_a").high == pytest.approx(0.21)
    final = gate(planned("bushings"), "final_depth", "closing_a")
    assert (final.low, final.high) == pytest.approx((0.17, 0.25))


def test_the_turn_since_centring_is_limited_by_the_least_forgiving_wheel_kind() -> None:
    turned = gate(planned("bushings"), "final_depth", "turned")
    assert turned.high == pytest.approx(math.radians(8.1))
    assert 0.3 * math.cos(math.radians(45)) * (turned.high or 0) == pytest.approx(0.03, rel=0.02)


def test_a_known_pair_and_span_tighten_the_limits_of_end_play_and_skew() -> None:
    job = replace(JOB, duty=replace(JOB.duty, error_mm=0.02))
    tight = replace(remedy(["bushings"]), allowed_lost_motion=1.1 * ARCMIN)
    known = plan_operations(job, tight, pair=PAIR, span=60.0)
    loose = plan_operations(job, tight)
    end_play = gate(known, "end_play_reread", "worm_end_play").high
    assert end_play == pytest.approx(1.1 * ARCMIN * PAIR.r2 / 3, rel=0.05)
    apart = gate(known, "bushings_in", "ends_apart").high
    assert apart is not None
    skew = apart / 60.0
    tan_face = math.tan(math.asin(0.5))
    assert 2 * skew * PAIR.r1 * tan_face <= 0.1 * 1.1 * ARCMIN * PAIR.r2
    assert apart < (gate(loose, "bushings_in", "ends_apart").high or 0)
    assert any(g.key == "drive_play" for g in by_key(known, "coupling").gates)
    least = gate(known, "proof_rock", "rock_tightest").low
    assert least == pytest.approx(JOB.duty.play_min_cold_mm / PAIR.r2, rel=0.02)


def test_relief_is_gated_by_the_size_on_its_drawing() -> None:
    worm_od = gate(planned("relief"), "worm_relief", "worm_od")
    assert (worm_od.low, worm_od.high) == pytest.approx((29.95, 30.0))


@pytest.mark.parametrize("value", [0.0127, 0.21, 1.609, 312.5, 9.94e-4])
def test_limits_are_rounded_to_the_safe_side_and_printed_as_judged(value: float) -> None:
    assert down(value) <= value <= up(value)
    assert down(value) == pytest.approx(value, rel=0.1)
    assert down(down(value)) == pytest.approx(down(value), rel=1e-12)


def test_limits_are_printed_in_the_units_of_the_job() -> None:
    operations = planned("bushings")
    rock = gate(operations, "final_depth", "rock_locked")
    assert limit_text(rock) == "0.58 arcmin to 1.6 arcmin"
    closing = gate(operations, "bushings_in", "closing_a")
    assert limit_text(closing) == "0 to 0.21 mm"
    assert "thou" in limit_text(closing, "in")
    assert limit_text(gate(operations, "final_depth", "turned")) == "within ± 8.1°"


# signing


def test_depth_is_refused_while_the_end_play_is_not_settled() -> None:
    operations = planned("worm_shim", "bushings")
    readings = [reading(100, "worm_end_play"), reading(150, "worm_end_play")]
    done = worked(operations, "end_play_reread")
    with pytest.raises(SignOffError, match=r"7b \(end_play_reread\).*taken up by the mesh"):
        sign(
            "axial_centring",
            {"patch_share": 0.6, "patch_off_middle": 0.0},
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
            readings=[reading(150, "worm_end_play")],
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
            readings=[reading(50, "worm_end_play")],
            sign_offs=done,
        )
    fresh = [reading(50, "worm_end_play"), reading(150, "worm_end_play")]
    got = sign("bushings_in", values, operations=operations, readings=fresh, sign_offs=done)
    assert got.verdict == "passed"
    assert "worm radial float" in got.next_steps[0]


@pytest.mark.parametrize(("a", "b"), [(0.200, 0.150), (0.200, -0.200)], ids=["unequal", "mirrored"])
def test_ends_turned_unequally_or_mirrored_fail(a: float, b: float) -> None:
    operations = planned("bushings")
    got = sign(
        "bushings_in",
        {"closing_a": a, "closing_b": b},
        operations=operations,
        readings=[reading(150, "worm_end_play")],
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
        readings=[reading(150, "worm_end_play")],
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
            readings=[reading(150, "worm_end_play")],
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
            readings=[reading(150, "worm_end_play")],
            sign_offs=worked(operations, "bushings_in"),
        )


# progress


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


# staleness

CLOSING = {"rock", "rock_pins", "worm_end_play", "worm_float", "drive_play", "drag_in_mesh",
           "tip_clearance", "centre_distance"}  # fmt: skip


@pytest.mark.parametrize(
    ("operation", "dead", "alive"),
    [
        (
            "strip_wash",
            {"rock", "worm_end_play", "worm_float", "drive_play", "table_radial_play",
             "table_axial_play", "drag_in_mesh", "drag_out_of_mesh", "drag_table"},
            {"teeth", "starts", "thread_length", "worm_od", "wheel_face", "housing_bore"},
        ),
        (
            "table_bearing",
            {"rock", "table_radial_play", "table_axial_play", "drag_in_mesh", "drag_table"},
            {"teeth", "worm_end_play", "worm_float"},
        ),
        (
            "wheel_seat",
            {"rock", "drag_in_mesh", "wheel_throat"},
            {"teeth", "worm_end_play", "worm_float", "table_axial_play"},
        ),
        (
            "bushings_in",
            CLOSING | {"drag_out_of_mesh"},
            {"table_radial_play", "table_axial_play", "worm_od", "housing_bore"},
        ),
        (
            "worm_end_play",
            {"rock", "worm_end_play", "drive_play", "drag_in_mesh", "worm_float"},
            {"table_radial_play", "table_axial_play", "worm_od", "centre_distance"},
        ),
        ("worm_relief", {"worm_od", "tip_clearance"}, {"rock", "worm_float"}),
        (
            "axial_centring",
            {"rock", "drag_in_mesh", "tip_clearance"},
            {"worm_end_play", "table_radial_play"},
        ),
        ("setting_move", CLOSING, {"table_radial_play", "table_axial_play"}),
        ("final_depth", CLOSING, {"table_radial_play", "table_axial_play"}),
        ("coupling", {"drive_play"}, {"rock", "worm_end_play", "worm_float"}),
        (
            "seal_grease",
            {"drag_in_mesh", "drag_out_of_mesh"},
            {"worm_end_play", "table_radial_play", "centre_distance"},
        ),
        ("warm_recheck", set(), set(KINDS)),
        ("proof_rock", set(), set(KINDS)),
    ],
    ids=lambda x: x if isinstance(x, str) else None,
)  # fmt: skip
def test_each_operation_kills_what_the_trade_says_and_spares_the_rest(
    operation: str, dead: set[str], alive: set[str]
) -> None:
    killed = {kind for kind, _ in MAKES_STALE[operation]}
    assert dead <= killed
    assert not alive & killed


def test_a_reading_dies_by_the_running_number_and_a_new_one_lives() -> None:
    rows = [reading(1, "rock"), reading(2, "teeth"), reading(5, "rock")]
    signed = [sign_off(4, "strip_wash")]
    assert stale_readings(rows, signed) == {1: "strip_wash"}
    assert [r.seq for r in live_readings(rows, signed)] == [2, 5]


def test_a_failed_sign_off_has_moved_metal_too() -> None:
    assert live_readings([reading(1, "rock")], [sign_off(2, "final_depth", "failed")]) == ()


def test_a_slip_of_the_pen_mended_later_does_not_make_a_stale_reading_young() -> None:
    rows = [reading(1, "rock"), reading(6, "rock", supersedes=1)]
    assert stale_readings(rows, [sign_off(4, "strip_wash")]) == {1: "strip_wash", 6: "strip_wash"}
    assert [r.seq for r in live_readings(rows, [sign_off(8, "coupling")])] == [6]


def test_an_operation_that_is_not_known_counts_as_a_strip_down() -> None:
    rows = [reading(1, "rock"), reading(2, "teeth")]
    assert [r.seq for r in live_readings(rows, [sign_off(3, "repainted")])] == [2]


def test_a_station_that_was_not_touched_stays_alive() -> None:
    one_end = replace(ALL["worm_journals"], key="one_end", makes_stale=(("worm_float", "A"),))
    rows = [reading(1, "worm_float", station="A"), reading(2, "worm_float", station="B")]
    assert stale_readings(rows, [sign_off(3, "one_end")], [one_end]) == {1: "one_end"}


def test_the_unit_as_found_stays_readable_when_the_work_has_begun() -> None:
    rows = [reading(1, "rock"), reading(2, "worm_end_play"), reading(9, "rock")]
    signed = [sign_off(3, "baseline"), sign_off(4, "strip_wash")]
    assert [r.seq for r in readings_as_found(rows, signed)] == [1, 2]
    assert [r.seq for r in readings_as_found(rows, signed[:1])] == [1, 2, 9]
    mended = [*rows, reading(10, "rock", supersedes=1)]
    assert [r.seq for r in readings_as_found(mended, signed)] == [2, 10]


# report


def test_the_report_prints_boxes_limits_written_values_and_stale_rows() -> None:
    operations = planned("worm_shim")
    rows = [reading(1, "rock"), reading(2, "worm_end_play")]
    done = [
        sign_off(3, "baseline"),
        sign_off(4, "strip_wash"),
        sign_off(5, "worm_end_play", "failed", {"worm_end_play": 0.05, "drag_rise": 1.2}),
    ]
    blocks = report(operations, readings=rows, sign_offs=done)
    printed = {b.title: b for b in blocks if isinstance(b, OperationBlock)}
    assert len(printed) == len(operations)
    shim = printed[ALL["worm_end_play"].title]
    assert shim.state.startswith("blocked")
    assert [g[1:] for g in shim.gates] == [("at most 13 µm", "0.05"), ("at most 2.0", "1.2")]
    assert all(line.startswith("Enter anew after signing") for line in shim.read)
    proof = printed[ALL["proof_rock"].title]
    assert all(g[2] == "______" for g in proof.gates)
    assert proof.read[0].startswith("Before signing: table rock (one pin, or better two")
    first = next(b for b in blocks if isinstance(b, Paragraph))
    assert first.strong
    assert first.text.startswith("Stopped at 6")
    table = next(b for b in blocks if isinstance(b, Table))
    assert [row[0].text for row in table.rows] == ["1", "2"]
    assert {row[3].text for row in table.rows} == {"1 Strip, wash, deburr and look"}


def test_the_sign_command_has_a_place_for_every_value_that_is_typed() -> None:
    command = sign_command(by_key(planned("bushings"), "bushings_in"))
    assert command == (
        "wormwright sign DIR bushings_in --initials .. "
        '--gate closing_a="..." --gate closing_b="..."'
    )


def test_when_all_is_signed_the_report_says_so() -> None:
    operations = planned("bushings")
    assert what_next(progress(operations, [], worked(operations))) == (
        "Every operation is signed off."
    )
