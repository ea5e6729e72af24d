"""The pair from caliper readings: what is believed, what is doubted, and what is asked for."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from stages.measure.clean_sheet import job
from wormwright.bench import Bench, pair_doubts, pair_in_hand
from wormwright.core.worm_pair import size_over_wires
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job

DP16 = 25.4 / 16


def sheet(**read: float | str) -> tuple[Reading, ...]:
    """One reading a kind; `thread_length` is over five threads."""
    rows = []
    for seq, (kind, got) in enumerate(read.items(), 1):
        conditions = {"threads": 5.0} if kind == "thread_length" else {}
        plain = Reading(seq=seq, kind=kind, raw=str(got), conditions=conditions)
        number = not isinstance(got, str)
        rows.append(replace(plain, value=got) if number else replace(plain, word=got))  # type: ignore[arg-type]
    return tuple(rows)


def pair_of(rows: tuple[Reading, ...], of: Job | None = None) -> WormPair:
    pair = pair_in_hand(Bench(of or job(), rows))
    assert pair is not None
    return pair


def codes(rows: tuple[Reading, ...], of: Job | None = None) -> set[str]:
    return {d.code for d in pair_doubts(Bench(of or job(), rows))}


OPEN_16_DP = sheet(
    teeth=90.0,
    starts=1.0,
    hand="right",
    thread_length=24.935,
    worm_od=31.75,
    wheel_throat=146.05,
    centre_distance=85.893,
    wheel_face=14.0,
    wheel_kind="hollow",
)
"""A 16 DP pair whose mesh stands 0.17 mm open, so that the depth alone would say 1.5 module."""


def test_an_open_mesh_does_not_hide_a_sixteen_pitch_pair() -> None:
    pair = pair_of(OPEN_16_DP)
    assert pair.axial_module == DP16
    assert pair.candidates[0].name == "16 DP, 14.5°"
    assert pair.worm_d1 == pytest.approx(28.575)
    assert "ID-1" not in codes(OPEN_16_DP)


def test_depth_readings_alone_leave_an_open_sixteen_pitch_pair_in_doubt() -> None:
    rows = sheet(teeth=90.0, starts=1.0, worm_od=31.75, centre_distance=85.893)
    sizes = {c.name.split(",")[0] for c in pair_of(rows).candidates}
    assert {"16 DP", "module 1.6"} <= sizes
    assert "ID-1" in codes(rows)


@pytest.mark.parametrize(
    ("over_five", "belief"), [(5 * 4.7124, "module 1.5"), (5 * 4.6909, "17 DP")]
)
def test_one_length_over_five_threads_favours_the_nearer_size(
    over_five: float, belief: str
) -> None:
    pair = pair_of(sheet(teeth=72.0, starts=1.0, thread_length=over_five))
    assert pair.candidates[0].name.split(",")[0] == belief


def test_a_length_half_way_between_module_and_pitch_asks_and_names_both() -> None:
    rows = sheet(teeth=72.0, starts=1.0, thread_length=5 * 4.7015)
    doubt = next(d for d in pair_doubts(Bench(job(), rows)) if d.code == "ID-1")
    assert doubt.action == "ask"
    assert "module 1.5" in doubt.seen
    assert "17 DP" in doubt.seen
    assert "0.4%" in doubt.why


def test_throat_and_more_threads_settle_module_against_pitch() -> None:
    rows = (
        *sheet(teeth=72.0, starts=1.0, worm_od=27.0, wheel_throat=111.0, centre_distance=66.05),
        Reading(
            seq=9, kind="thread_length", raw="47.12", value=47.124, conditions={"threads": 10.0}
        ),
    )
    assert pair_of(rows).axial_module == 1.5
    assert "ID-1" not in codes(rows)


def test_a_confirmed_module_is_not_asked_about_and_stands() -> None:
    rows = sheet(teeth=72.0, starts=1.0, thread_length=5 * 4.7015)
    confirmed = replace(job(), pair_module_mm=1.5, pair_pressure_angle=math.radians(20))
    pair = pair_of(rows, confirmed)
    assert (pair.axial_module, pair.pressure_angle) == (1.5, math.radians(20))
    assert pair.pressure_angle_u == pytest.approx(math.radians(0.1))
    assert not {"ID-1", "ID-2"} & codes(rows, confirmed)


def test_a_confirmed_module_against_the_calipers_is_asked_about() -> None:
    confirmed = replace(job(), pair_module_mm=2.0)
    assert "ID-3" in codes(OPEN_16_DP, confirmed)


def test_threads_miscounted_by_one_fit_no_standard_and_are_asked_about() -> None:
    rows = tuple(
        replace(r, conditions={"threads": 6.0}) if r.kind == "thread_length" else r
        for r in OPEN_16_DP
    )
    assert "ID-3" in codes(rows)


def test_teeth_miscounted_by_one_are_asked_about_with_the_number_the_throat_wants() -> None:
    rows = tuple(replace(r, value=89.0) if r.kind == "teeth" else r for r in OPEN_16_DP)
    doubt = next(d for d in pair_doubts(Bench(job(), rows)) if d.code == "ID-10")
    assert "90 teeth" in doubt.seen
    assert doubt.action == "ask"
    twice = (*rows, Reading(seq=50, kind="teeth", raw="89", value=89.0))
    again = next(d for d in pair_doubts(Bench(job(), twice)) if d.code == "ID-10")
    assert again.action == "warn"


def test_an_unread_pressure_angle_leans_by_unit_system_and_says_how_uncertain_it_is() -> None:
    inch, metric = pair_of(OPEN_16_DP), pair_of(sheet(teeth=80.0, thread_length=5 * 3.92699))
    assert math.degrees(inch.pressure_angle) == pytest.approx(14.5)
    assert math.degrees(metric.pressure_angle) == pytest.approx(20.0)
    assert math.degrees(inch.pressure_angle_u) > math.degrees(metric.pressure_angle_u) > 1.5
    assert "ID-2" in codes(OPEN_16_DP)


def wires(alpha: float, first: int = 20) -> tuple[Reading, ...]:
    return tuple(
        Reading(
            seq=first + i,
            kind="worm_over_wires",
            raw="read",
            value=size_over_wires(
                worm_d1=28.575, wire=w, axial_pitch=math.pi * DP16, pressure_angle=alpha
            ),
            conditions={"wire": w},
        )
        for i, w in enumerate((2.4, 3.0))
    )


@pytest.mark.parametrize("angle", [14.5, 20.0, 25.0])
def test_two_wire_sizes_settle_the_pressure_angle(angle: float) -> None:
    pair = pair_of((*OPEN_16_DP, *wires(math.radians(angle))))
    assert math.degrees(pair.pressure_angle) == pytest.approx(angle)
    assert math.degrees(pair.pressure_angle_u) < 0.2


def test_wires_that_give_no_standard_angle_are_asked_about_and_still_used() -> None:
    rows = (*OPEN_16_DP, *wires(math.radians(17.2)))
    assert math.degrees(pair_of(rows).pressure_angle) == pytest.approx(17.2, abs=0.01)
    assert "ID-2" in codes(rows)


@pytest.mark.parametrize(
    ("seen", "kinds"),
    [
        ("straight", {"helical": 1.0}),
        ("hollow", {"hob-equal": 1 / 3, "oversize-hob": 2 / 3}),
        (None, {"hob-equal": 0.25, "oversize-hob": 0.5, "helical": 0.25}),
    ],
)
def test_belief_in_the_wheel_kind_follows_its_face(
    seen: str | None, kinds: dict[str, float]
) -> None:
    rows = [r for r in OPEN_16_DP if r.kind != "wheel_kind"]
    if seen:
        rows.append(Reading(seq=30, kind="wheel_kind", raw=seen, word=seen))
    pair = pair_of(tuple(rows))
    assert dict(pair.kinds) == kinds
    assert pair.hob_excess_max == pytest.approx(0.05 * pair.r1)
    assert ("ID-7" in codes(tuple(rows))) == (seen is None)


def test_a_straight_wheel_needs_no_throat_but_its_outside_diameter() -> None:
    rows = sheet(
        teeth=90.0,
        worm_od=31.75,
        wheel_kind="straight",
        wheel_od=146.05,
        centre_distance=85.893,
    )
    pair = pair_of(rows)
    assert pair.axial_module == DP16
    assert pair.throat is not None


@pytest.mark.parametrize(
    ("kind", "code"), [("worm_od", "ID-4"), ("wheel_face", "ID-5"), ("starts", "ID-6")]
)
def test_a_size_that_had_to_be_assumed_is_said(kind: str, code: str) -> None:
    rows = tuple(r for r in OPEN_16_DP if r.kind != kind)
    assert code in codes(rows)
    assert code not in codes(OPEN_16_DP)


def test_without_worm_diameter_or_centres_a_usual_worm_is_assumed() -> None:
    pair = pair_of(sheet(teeth=72.0, starts=1.0, thread_length=5 * 4.7124))
    assert 15 < pair.worm_d1 < 40


@pytest.mark.parametrize(
    ("rows", "code"),
    [((), "ID-8"), (sheet(teeth=72.0), "ID-9"), (sheet(thread_length=23.56), "ID-8")],
)
def test_too_few_readings_give_no_pair_and_say_what_to_read(
    rows: tuple[Reading, ...], code: str
) -> None:
    bench = Bench(job(), rows)
    assert pair_in_hand(bench) is None
    doubts = pair_doubts(bench)
    assert [(d.code, d.action) for d in doubts] == [(code, "refuse")]
    assert doubts[0].do


def test_same_pair_in_either_unit_system() -> None:
    inch = pair_of(OPEN_16_DP, job("in"))
    metric = pair_of(OPEN_16_DP, job("mm"))
    assert replace(inch, doubts=()) == replace(metric, doubts=())


SLOPES = {"hob-equal": 0.397, "others": 2 * math.tan(math.radians(14.5))}


def settings(slope: float, *, u: float = 0.001, count: int = 4) -> tuple[Reading, ...]:
    """Rocks on a pin at 100 mm while the worm comes nearer, for a slope at r2."""
    at_pin = 100.0 / (DP16 * 45)
    return tuple(
        Reading(
            seq=40 + n,
            kind="setting_rock",
            raw="",
            value=(0.16 - slope * 0.05 * n) * at_pin,
            u=u,
            conditions={"closing": 0.05 * n, "pin_radius": 100.0},
        )
        for n in range(count)
    )


KNOWN_ANGLE = replace(job(), pair_pressure_angle=math.radians(14.5), pair_module_mm=DP16)


def test_rocks_at_known_settings_tell_a_hob_of_the_worms_size_or_say_they_cannot() -> None:
    equal = pair_of((*OPEN_16_DP, *settings(SLOPES["hob-equal"])), KNOWN_ANGLE)
    assert equal.told is not None
    assert equal.told.slope.value == pytest.approx(SLOPES["hob-equal"], abs=1e-9)
    assert equal.told.slope.low < SLOPES["hob-equal"] < equal.told.slope.high
    assert dict(equal.kinds)["hob-equal"] > 0.8  # the rest is a hob hardly larger than the worm
    other = pair_of((*OPEN_16_DP, *settings(SLOPES["others"])), KNOWN_ANGLE)
    assert dict(other.kinds)["oversize-hob"] > 0.9
    rough = (*OPEN_16_DP, *settings(SLOPES["others"], u=0.05))
    assert "ID-12" in codes(rough, KNOWN_ANGLE)
    assert "ID-12" not in codes((*OPEN_16_DP, *settings(SLOPES["hob-equal"])), KNOWN_ANGLE)


def test_two_settings_are_not_enough_and_a_straight_wheel_needs_none() -> None:
    few = (*OPEN_16_DP, *settings(0.4, count=2))
    assert "ID-11" in codes(few, KNOWN_ANGLE)
    assert pair_of(few, KNOWN_ANGLE).told is None
    straight = tuple(
        replace(r, raw="straight", word="straight") if r.kind == "wheel_kind" else r
        for r in (*OPEN_16_DP, *settings(0.4))
    )
    assert dict(pair_of(straight, KNOWN_ANGLE).kinds) == {"helical": 1.0}


def test_broken_edges_a_worn_band_off_the_middle_and_wobble_are_used() -> None:
    plain = pair_of(OPEN_16_DP)
    rows = sheet(wheel_edge_break=1.0, wheel_mark=-0.4)
    wobble = Reading(
        seq=60, kind="wheel_wobble", raw="", value=0.06, conditions={"radius": plain.r2 / 2}
    )
    pair = pair_of((*OPEN_16_DP, *rows, wobble))
    assert pair.bearing_face == pytest.approx(14.0 - 2.0 + 0.8)
    assert pair.sin_face == pytest.approx(plain.sin_face * 12.8 / 14.0)
    assert pair.wobble == pytest.approx(0.12)
