"""Press letters r and s of ISO 286 against printed tables, and every letter up to 120 mm."""

from __future__ import annotations

import pressfit
import pytest

from published import derived, published
from wormwright.core.fit import clearance_of_fit
from wormwright.handbook.fits import deviations, tolerance

LETTERS = ["d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s"]
SIZES = (3, 6, 10, 18, 30, 50, 65, 80, 100, 120)


def um(tolerance_class: str, size: float) -> tuple[float, float]:
    found = deviations(tolerance_class, size)
    return round(found.upper * 1000, 3), round(found.lower * 1000, 3)


@published(
    work="Narayana, Kannaiah and Reddy, Machine Drawing",
    edition="edition not noted",
    place="p. 216, table 15.2, fundamental deviations n, p, r, s",
    known="read",
)
def test_fundamental_deviations_of_press_letters_are_the_printed_ones() -> None:
    printed = {
        "n": (4, 8, 10, 12, 15, 17, 20, 20, 23, 23),
        "p": (6, 12, 15, 18, 22, 26, 32, 32, 37, 37),
        "r": (10, 15, 19, 23, 28, 34, 41, 43, 51, 54),
        "s": (14, 19, 23, 28, 35, 43, 53, 59, 71, 79),
    }
    for letter, lower in printed.items():
        assert tuple(um(f"{letter}6", s)[1] for s in SIZES) == lower


@published(
    work="JIS B 0401, shaft fits, as printed in a cutting-tool maker's technical pages",
    edition="1999",
    place="r6 and s6 up to 80 mm",
    known="read",
)
def test_r6_and_s6_are_the_printed_ones() -> None:
    r6 = [(16, 10), (23, 15), (28, 19), (34, 23), (41, 28), (50, 34), (60, 41), (62, 43)]
    s6 = [(20, 14), (27, 19), (32, 23), (39, 28), (48, 35), (59, 43), (72, 53), (78, 59)]
    assert [um("r6", s) for s in SIZES[:8]] == r6
    assert [um("s6", s) for s in SIZES[:8]] == s6


@published(
    work="JIS B 0401, hole fits, as printed in a mechanical component maker's technical data",
    edition="1999",
    place="R7 and S7 up to 50 mm",
    known="read",
)
def test_r7_and_s7_holes_are_the_printed_ones() -> None:
    r7 = [(-10, -20), (-11, -23), (-13, -28), (-16, -34), (-20, -41), (-25, -50)]
    s7 = [(-14, -24), (-15, -27), (-17, -32), (-21, -39), (-27, -48), (-34, -59)]
    assert [um("R7", s) for s in SIZES[:6]] == r7
    assert [um("S7", s) for s in SIZES[:6]] == s7


@published(
    work="ISO 286-2, technical corrigendum 1",
    edition="1988/Cor.1:2006",
    place="tables 3 and 11: E8 over 80 to 120 is +126, R10 over 18 to 30 is -28",
    known="read",
)
def test_corrected_figures_of_the_standard() -> None:
    assert um("E8", 100)[0] == 126
    assert um("R10", 25)[0] == -28


@derived("the pressfit package, hole-basis fits with s")
@pytest.mark.parametrize("size", [2, 5, 9, 15, 25, 35, 47, 60, 70, 90, 110])
def test_s_fits_agree_with_a_second_package(size: int) -> None:
    for grade in (5, 6, 7):
        fit = clearance_of_fit(deviations(f"H{grade + 1}", size), deviations(f"s{grade}", size))
        other = pressfit.fit(f"{size} H{grade + 1}/s{grade}").clearance_um
        assert (fit.least * 1000, fit.most * 1000) == pytest.approx(other, abs=1e-9)


@derived("the purpose of the delta rule: H7/r6 and R7/h6 have the same clearance")
@pytest.mark.parametrize("letter", ["r", "s"])
@pytest.mark.parametrize("size", SIZES[1:])
def test_press_fits_are_the_same_on_both_bases(letter: str, size: int) -> None:
    by_hole = clearance_of_fit(deviations("H7", size), deviations(f"{letter}6", size))
    by_shaft = clearance_of_fit(deviations(f"{letter.upper()}7", size), deviations("h6", size))
    assert (by_hole.least, by_hole.most) == pytest.approx((by_shaft.least, by_shaft.most))


@pytest.mark.parametrize("size", SIZES)
def test_every_letter_has_limits_to_120_mm_and_they_rise_with_the_letter(size: int) -> None:
    middles = [deviations(f"{letter}6", size).middle for letter in LETTERS]
    assert middles == sorted(middles)
    for letter in LETTERS:
        for name in (f"{letter}7", f"{letter.upper()}7"):
            assert deviations(name, size).width == pytest.approx(tolerance(7, size))
