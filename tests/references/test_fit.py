"""ISO 286 limits and the fits of bearing rings against printed tables and a second package."""

from __future__ import annotations

import math

import pressfit
import pytest

from published import derived, published
from wormwright.core.fit import (
    Clearance,
    Deviations,
    clearance_of_fit,
    clearance_uncertainty,
    shaft_for_measured_bore,
)
from wormwright.handbook.bearings import ring_limits
from wormwright.handbook.fits import deviations, tolerance

SIZES = (3, 6, 10, 18, 30, 50, 80, 120)


def um(tolerance_class: str, size: float) -> tuple[float, float]:
    found = deviations(tolerance_class, size)
    return round(found.upper * 1000, 3), round(found.lower * 1000, 3)


def clearance_um(hole: Deviations, shaft: Deviations) -> tuple[float, float]:
    found = clearance_of_fit(hole, shaft)
    return round(found.least * 1000, 3), round(found.most * 1000, 3)


def ring(name: str, size: float) -> Deviations:
    return Deviations(*ring_limits(name, size))


IT_PRINTED = {
    # grade: tolerance in um for sizes up to 3, 6, 10, 18, 30, 50, 80, 120 mm
    1: (0.8, 1, 1, 1.2, 1.5, 1.5, 2, 2.5),
    2: (1.2, 1.5, 1.5, 2, 2.5, 2.5, 3, 4),
    3: (2, 2.5, 2.5, 3, 4, 4, 5, 6),
    4: (3, 4, 4, 5, 6, 7, 8, 10),
    5: (4, 5, 6, 8, 9, 11, 13, 15),
    6: (6, 8, 9, 11, 13, 16, 19, 22),
    7: (10, 12, 15, 18, 21, 25, 30, 35),
    8: (14, 18, 22, 27, 33, 39, 46, 54),
    9: (25, 30, 36, 43, 52, 62, 74, 87),
}


@published(
    work="tool-holder maker's catalogue, shaft tolerances h1 to h9",
    edition="not dated",
    place="p. 139",
    known="read",
)
@pytest.mark.parametrize("grade", IT_PRINTED)
def test_standard_tolerances_are_the_printed_ones(grade: int) -> None:
    assert [round(tolerance(grade, s) * 1000, 3) for s in SIZES] == list(IT_PRINTED[grade])


@published(
    work="ISO 286-1",
    edition="2010",
    place="tolerance unit i = 0.45 D^(1/3) + 0.001 D and the multiples of IT5 to IT12",
    known="from memory",
)
@pytest.mark.parametrize("grade", range(5, 13))
@pytest.mark.parametrize(("over", "upto"), [(10, 18), (18, 30), (30, 50), (50, 80), (80, 120)])
def test_table_follows_the_tolerance_unit_above_10_mm(grade: int, over: int, upto: int) -> None:
    multiple = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160}[grade]
    mean = math.sqrt(over * upto)
    by_formula = multiple * (0.45 * mean ** (1 / 3) + 0.001 * mean)
    assert tolerance(grade, upto) * 1000 == pytest.approx(by_formula, rel=0.045, abs=0.6)


SHAFTS_IN_ORDER = "d8 d9 e7 e8 e9 f6 f7 f8 g5 g6 h5 h6 h7 h8 h9 js5 js6 js7 k5 k6 m5 m6 n6 p6"
SHAFTS = SHAFTS_IN_ORDER.split()
SHAFTS_PRINTED = {
    # size: upper row, lower row in um
    6: (
        "-30 -30 -20 -20 -20 -10 -10 -10 -4 -4 0 0 0 0 0 2.5 4 6 6 9 9 12 16 20",
        "-48 -60 -32 -38 -50 -18 -22 -28 -9 -12 -5 -8 -12 -18 -30 -2.5 -4 -6 1 1 4 4 8 12",
    ),
    10: (
        "-40 -40 -25 -25 -25 -13 -13 -13 -5 -5 0 0 0 0 0 3 4.5 7.5 7 10 12 15 19 24",
        "-62 -76 -40 -47 -61 -22 -28 -35 -11 -14 -6 -9 -15 -22 -36 -3 -4.5 -7.5 1 1 6 6 10 15",
    ),
    18: (
        "-50 -50 -32 -32 -32 -16 -16 -16 -6 -6 0 0 0 0 0 4 5.5 9 9 12 15 18 23 29",
        "-77 -93 -50 -59 -75 -27 -34 -43 -14 -17 -8 -11 -18 -27 -43 -4 -5.5 -9 1 1 7 7 12 18",
    ),
    30: (
        "-65 -65 -40 -40 -40 -20 -20 -20 -7 -7 0 0 0 0 0 4.5 6.5 10.5 11 15 17 21 28 35",
        "-98 -117 -61 -73 -92 -33 -41 -53 -16 -20 -9 -13 -21 -33 -52 -4.5 -6.5 -10.5 2 2 8 8 15 22",
    ),
    50: (
        "-80 -80 -50 -50 -50 -25 -25 -25 -9 -9 0 0 0 0 0 5.5 8 12.5 13 18 20 25 33 42",
        "-119 -142 -75 -89 -112 -41 -50 -64 -20 -25 -11 -16 -25 -39 -62 -5.5 -8 -12.5 2 2 9 9 "
        "17 26",
    ),
    80: (
        "-100 -100 -60 -60 -60 -30 -30 -30 -10 -10 0 0 0 0 0 6.5 9.5 15 15 21 24 30 39 51",
        "-146 -174 -90 -106 -134 -49 -60 -76 -23 -29 -13 -19 -30 -46 -74 -6.5 -9.5 -15 2 2 11 11 "
        "20 32",
    ),
}


@published(
    work="JIS B 0401, shaft fits, as printed in a cutting-tool maker's technical pages",
    edition="1999",
    place="dimensional tolerances for regularly used shaft fits",
    known="read",
)
@pytest.mark.parametrize("size", SHAFTS_PRINTED)
def test_shaft_limits_are_the_printed_ones(size: int) -> None:
    upper, lower = (tuple(map(float, row.split())) for row in SHAFTS_PRINTED[size])
    assert [um(c, size) for c in SHAFTS] == list(zip(upper, lower, strict=True))


HOLES_IN_ORDER = "J6 J7 J8 K6 K7 K8 M6 M7 M8 N6 N7 N8 JS6 JS7 JS8"
HOLES = HOLES_IN_ORDER.split()
HOLES_PRINTED = {
    30: "8/-5 12/-9 20/-13 2/-11 6/-15 10/-23 -4/-17 0/-21 4/-29 -11/-24 -7/-28 -3/-36 "
    "6.5/-6.5 10.5/-10.5 16.5/-16.5",
    50: "10/-6 14/-11 24/-15 3/-13 7/-18 12/-27 -4/-20 0/-25 5/-34 -12/-28 -8/-33 -3/-42 "
    "8/-8 12.5/-12.5 19.5/-19.5",
    80: "13/-6 18/-12 28/-18 4/-15 9/-21 14/-32 -5/-24 0/-30 5/-41 -14/-33 -9/-39 -4/-50 "
    "9.5/-9.5 15/-15 23/-23",
    120: "16/-6 22/-13 34/-20 4/-18 10/-25 16/-38 -6/-28 0/-35 6/-48 -16/-38 -10/-45 -4/-58 "
    "11/-11 17.5/-17.5 27/-27",
}


@published(
    work="drive component maker's technical reference, tables for metric tolerances",
    edition="not dated",
    place="p. 281, table 6: inside dimensions J6 to N8 and JS6 to JS8",
    known="read",
)
@pytest.mark.parametrize("size", HOLES_PRINTED)
def test_transition_hole_limits_are_the_printed_ones(size: int) -> None:
    printed = [tuple(map(float, pair.split("/"))) for pair in HOLES_PRINTED[size].split()]
    assert [um(c, size) for c in HOLES] == printed


CLEAR_HOLES_PRINTED = {
    # size: fundamental deviation of E F G, then widths of grades 5 to 10 in um
    6: ((20, 10, 4), (5, 8, 12, 18, 30, 48)),
    10: ((25, 13, 5), (6, 9, 15, 22, 36, 58)),
    18: ((32, 16, 6), (8, 11, 18, 27, 43, 70)),
    30: ((40, 20, 7), (9, 13, 21, 33, 52, 84)),
    50: ((50, 25, 9), (11, 16, 25, 39, 62, 100)),
    80: ((60, 30, 10), (13, 19, 30, 46, 74, 120)),
    120: ((72, 36, 12), (15, 22, 35, 54, 87, 140)),
}


@published(
    work="JIS B 0401, hole fits, as printed in a coupling maker's technical pages",
    edition="2018 page",
    place="hole dimensional tolerances E7 to H10",
    known="read",
)
@pytest.mark.parametrize("size", CLEAR_HOLES_PRINTED)
def test_clearance_hole_limits_are_the_printed_ones(size: int) -> None:
    lowers, widths = CLEAR_HOLES_PRINTED[size]
    for letter, lower in zip("EFG", lowers, strict=True):
        for grade in (6, 7, 8):
            assert um(f"{letter}{grade}", size) == (lower + widths[grade - 5], lower)
    assert [um(f"H{g}", size) for g in range(5, 11)] == [(w, 0) for w in widths]


@published(
    work="DIN 6885-1, keyway widths",
    edition="1968",
    place="widths 6, 8 and 12 mm in N9 and P9",
    known="from memory",
)
@pytest.mark.parametrize(
    ("width", "n9", "p9"),
    [(6, (0, -30), (-12, -42)), (8, (0, -36), (-15, -51)), (12, (0, -43), (-18, -61))],
)
def test_keyway_limits(width: int, n9: tuple[int, int], p9: tuple[int, int]) -> None:
    assert um("N9", width) == n9
    assert um("P9", width) == p9


@published(
    work="NSK Rolling Bearings E1102e",
    edition="edition not noted",
    place="table 15.3, outside 47 in H7",
    known="read",
)
def test_outer_ring_of_47_in_h7_has_0_to_36_um() -> None:
    assert clearance_um(deviations("H7", 47), ring("outside", 47)) == (0, 36)


@published(
    work="NSK Rolling Bearings E1102e",
    edition="edition not noted",
    place="table 15.3, outside 47 in J7",
    known="read",
)
def test_outer_ring_of_47_in_j7_is_25_clear_to_11_tight() -> None:
    assert clearance_um(deviations("J7", 47), ring("outside", 47)) == (-11, 25)


@published(
    work="NSK Rolling Bearings E1102e",
    edition="edition not noted",
    place="appendix 9, shaft k5 at 20 mm with a bearing bore",
    known="read",
)
def test_bearing_bore_of_20_on_k5_is_2_to_21_um_tight() -> None:
    assert clearance_um(ring("bore", 20), deviations("k5", 20)) == (-21, -2)


@published(work="ISO 286-2", edition="2010", place="55 H7/p6", known="from memory")
def test_55_h7_p6_is_2_to_51_um_tight() -> None:
    fit = clearance_of_fit(deviations("H7", 55), deviations("p6", 55))
    assert fit.kind == "interference"
    assert (round(fit.most, 4), round(fit.least, 4)) == (-0.002, -0.051)


@published(
    work="SKF rolling bearing tables, housing tolerances and resultant fits",
    edition="edition not noted",
    place="table 8, H7 H8 H9 H10 J6: theoretical clearance",
    known="read",
)
@pytest.mark.parametrize(
    ("size", "widest", "j6"),
    [
        (10, (23, 30, 44, 66), (-4, 13)),
        (18, (26, 35, 51, 78), (-5, 14)),
        (30, (30, 42, 61, 93), (-5, 17)),
        (50, (36, 50, 73, 111), (-6, 21)),
        (80, (43, 59, 87, 133), (-6, 26)),
        (120, (50, 69, 102, 155), (-6, 31)),
    ],
)
def test_outer_ring_in_clearance_housings(
    size: int, widest: tuple[int, ...], j6: tuple[int, int]
) -> None:
    outer = ring("outside", size)
    printed = [(0, most) for most in widest]
    assert [clearance_um(deviations(f"H{g}", size), outer) for g in (7, 8, 9, 10)] == printed
    assert clearance_um(deviations("J6", size), outer) == j6


@published(
    work="SKF rolling bearing tables, housing tolerances and resultant fits",
    edition="edition not noted",
    place="N6 N7 P6 P7: theoretical interference",
    known="read",
)
@pytest.mark.parametrize(
    ("size", "printed"),
    [
        (18, [(-20, -1), (-23, 3), (-26, -7), (-29, -3)]),
        (30, [(-24, -2), (-28, 2), (-31, -9), (-35, -5)]),
        (50, [(-28, -1), (-33, 3), (-37, -10), (-42, -6)]),
        (80, [(-33, -1), (-39, 4), (-45, -13), (-51, -8)]),
        (120, [(-38, -1), (-45, 5), (-52, -15), (-59, -9)]),
    ],
)
def test_outer_ring_in_tight_housings(size: int, printed: list[tuple[int, int]]) -> None:
    outer = ring("outside", size)
    found = [clearance_um(deviations(c, size), outer) for c in ("N6", "N7", "P6", "P7")]
    assert found == printed


@published(
    work="bearing maker's fit table after the Chinese national standard",
    edition="edition not noted",
    place="table 1, bearing bore on g6 g5 h6 h5 j5 j6 js6: most clearance, most interference",
    known="read",
)
@pytest.mark.parametrize(
    ("size", "printed"),
    [
        (10, "14/3 11/3 9/8 6/8 2/12 2/15 4.5/12.5"),
        (18, "17/2 14/2 11/8 8/8 3/13 3/16 5.5/13.5"),
        (30, "20/3 16/3 13/10 9/10 4/15 4/19 6.5/16.5"),
        (50, "25/3 20/3 16/12 11/12 5/18 5/23 8/20"),
        (80, "29/5 23/5 19/15 13/15 7/21 7/27 9.5/24.5"),
    ],
)
def test_inner_ring_on_easy_shafts(size: int, printed: str) -> None:
    found = []
    for tolerance_class in ("g6", "g5", "h6", "h5", "j5", "j6", "js6"):
        least, most = clearance_um(ring("bore", size), deviations(tolerance_class, size))
        found.append((most, -least))
    assert found == [tuple(map(float, pair.split("/"))) for pair in printed.split()]


@derived("the pressfit package, hole-basis fits of every letter both know")
@pytest.mark.parametrize("letter", ["d", "e", "f", "g", "h", "js", "k", "m", "n", "p"])
@pytest.mark.parametrize("size", [2, 5, 9, 15, 25, 35, 47, 62, 100])
def test_hole_basis_fits_agree_with_a_second_package(letter: str, size: int) -> None:
    for grade in (5, 6, 7):
        other = pressfit.fit(f"{size} H{grade + 1}/{letter}{grade}")
        ours = clearance_um(deviations(f"H{grade + 1}", size), deviations(f"{letter}{grade}", size))
        assert ours == pytest.approx(other.clearance_um, abs=1e-9)


@derived("the pressfit package, every standard tolerance both know")
@pytest.mark.parametrize("grade", range(5, 12))
def test_standard_tolerances_agree_with_a_second_package(grade: int) -> None:
    sizes = (1, 3, 4, 6, 8, 10, 14, 18, 20, 30, 31, 50, 51, 80, 81, 120)
    ours = [round(tolerance(grade, s) * 1000, 6) for s in sizes]
    assert ours == [pressfit.it_value(s, grade) for s in sizes]


@derived("the general rule of ISO 286-1: hole and shaft of the same letter mirror each other")
@pytest.mark.parametrize("letter", ["d", "e", "f", "g", "h", "js"])
@pytest.mark.parametrize("size", SIZES)
def test_clearance_holes_mirror_their_shafts(letter: str, size: int) -> None:
    for grade in (6, 7, 8):
        shaft, hole = um(f"{letter}{grade}", size), um(f"{letter.upper()}{grade}", size)
        assert hole == (-shaft[1], -shaft[0])


@derived("the purpose of the delta rule: H7/k6 and K7/h6 have the same clearance")
@pytest.mark.parametrize("letter", ["k", "m", "n", "p"])
@pytest.mark.parametrize("size", SIZES[1:])
def test_tight_fits_are_the_same_on_the_hole_and_the_shaft_basis(letter: str, size: int) -> None:
    by_hole = clearance_um(deviations("H7", size), deviations(f"{letter}6", size))
    by_shaft = clearance_um(deviations(f"{letter.upper()}7", size), deviations("h6", size))
    assert by_hole == pytest.approx(by_shaft, abs=1e-9)


@derived("brute force: two rectangular distributions drawn on a grid")
def test_uncertainty_of_a_clearance_is_the_spread_of_all_pairs() -> None:
    hole, shaft = deviations("H7", 35), deviations("g6", 35)
    n = 400
    steps = [(i + 0.5) / n for i in range(n)]
    holes = [hole.lower + s * hole.width for s in steps]
    shafts = [shaft.lower + s * shaft.width for s in steps]
    mean = sum(holes) / n - sum(shafts) / n
    spread = sum((h - s - mean) ** 2 for h in holes[::4] for s in shafts[::4]) / (n / 4) ** 2
    assert clearance_uncertainty(hole, shaft) == pytest.approx(math.sqrt(spread), rel=1e-3)


@derived("limit case: a bore known exactly leaves the whole wanted band")
def test_shaft_turned_to_a_measured_bore_keeps_the_wanted_clearance() -> None:
    sure = shaft_for_measured_bore(bore=35.0, bore_u=0.0, least=0.002, most=0.008)
    assert (sure.upper, sure.lower) == (-0.002, -0.008)
    doubtful = shaft_for_measured_bore(bore=35.0, bore_u=0.001, least=0.002, most=0.008)
    for bore_error in (-0.002, 0.002):
        for deviation in (doubtful.upper, doubtful.lower):
            assert 0.002 - 1e-12 <= bore_error - deviation <= 0.008 + 1e-12


def test_a_bore_known_too_poorly_for_the_fit_is_refused() -> None:
    with pytest.raises(ValueError, match="measure the bore better"):
        shaft_for_measured_bore(bore=35.0, bore_u=0.002, least=0.002, most=0.008)


@pytest.mark.parametrize("asked", ["Q7", "H19", "h", "7H", "H7/g6", "zz4", ""])
def test_a_class_outside_the_tables_is_refused_by_name(asked: str) -> None:
    with pytest.raises(ValueError, match="expected"):
        deviations(asked, 30)


@pytest.mark.parametrize("size", [0.0, -5.0, 121.0, math.nan])
def test_a_size_outside_the_tables_is_refused(size: float) -> None:
    with pytest.raises(ValueError, match="expected a size over 0 up to 120 mm"):
        deviations("H7", size)


def test_fit_kinds_are_named_as_the_standard_names_them() -> None:
    assert Clearance(least=0.0, most=0.02).kind == "clearance"
    assert Clearance(least=-0.01, most=0.02).kind == "transition"
    assert Clearance(least=-0.02, most=0.0).kind == "interference"
