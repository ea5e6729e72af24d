"""A positioning test from a CSV file, as a user brings it."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest

from command_line import Ran, run
from simulated_axis import SimulatedAxis
from wormwright.core.worm_phase import planned_targets

TARGETS = planned_targets(ratio=90)
AXIS = SimulatedAxis(waves={1: (25.0, 0.4)}, play=40.0, noise=1.5)
HEAD = ("target [deg]", "run", "approach", "error [arcsec]", "means")


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The club table, with nothing of its proof read yet."""
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    return place


def lines(*, shown: bool = False) -> list[tuple[str, ...]]:
    """A whole test line by line: forward up, backward down, five runs."""
    tested = AXIS.test(TARGETS, 5, np.random.default_rng(1))
    rows: list[tuple[str, ...]] = []
    for n in range(5):
        for way, deviations, step in (("forward", tested[0], 1), ("backward", tested[1], -1)):
            for i in range(len(TARGETS))[::step]:
                target, x = np.degrees(TARGETS[i]), round(deviations[i, n], 1)
                text = f"{(target + x / 3600) % 360:.6f}" if shown else f"{x:.1f}"
                rows.append((f"{target:.4f}", str(n + 1), way, text, "polygon"))
    return rows


def brought(club: Path, rows: Sequence[tuple[str, ...]], head: tuple[str, ...] = HEAD) -> Ran:
    file = club.parent / "test.csv"
    with file.open("w", newline="", encoding="utf-8") as out:
        csv.writer(out).writerows([head, *rows])
    return run("prove", str(club), "--import", str(file))


def test_a_file_of_errors_is_stored_and_proved(club: Path) -> None:
    ran = brought(club, lines())
    assert ran.code == 0, ran.err
    assert "80 readings of test.csv stored" in ran.out
    assert "8 targets, 5 runs" in ran.out
    assert "8 targets, 5 runs from each side, measured with polygon" in run("prove", str(club)).out
    text = (club / "readings.csv").read_text(encoding="utf-8")
    assert lines()[-1][3] in text, "the text of a cell stays as it was written"


def test_positions_that_wrap_at_zero_give_the_figures_of_the_errors(club: Path) -> None:
    assert brought(club, lines()).code == 0
    figures = [n for n in run("prove", str(club)).out.splitlines() if "A, accuracy" in n]
    other = club.with_name("other")
    assert run("new", str(other), "--from", "club-table").code == 0
    head = (*HEAD[:3], "reading [deg]", "means")
    assert any(float(row[3]) > 359.9 for row in lines(shown=True)), "one of them wraps"
    assert brought(other, lines(shown=True), head).code == 0
    assert [n for n in run("prove", str(other)).out.splitlines() if "A, accuracy" in n] == figures


def test_signs_for_the_sides_are_understood(club: Path) -> None:
    signs = {"forward": "+", "backward": "-"}
    rows = [(t, n, signs[way], x, m) for t, n, way, x, m in lines()]
    assert brought(club, rows).code == 0


def test_the_same_file_brought_twice_is_refused_with_the_rows_it_stands_in(club: Path) -> None:
    assert brought(club, lines()).code == 0
    before = (club / "readings.csv").read_bytes()
    ran = brought(club, lines())
    assert ran.code == 1
    assert "stands already, as row" in ran.err
    assert "74 further lines" in ran.err
    assert (club / "readings.csv").read_bytes() == before


def test_a_line_that_stands_twice_in_the_file_is_refused(club: Path) -> None:
    ran = brought(club, [*lines(), lines()[3]])
    assert ran.code == 1
    assert "line 82" in ran.err
    assert "as line 5" in ran.err


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda r: (r[0], r[1], "sideways", r[3], r[4]), "forward, backward"),
        (lambda r: (r[0], "", r[2], r[3], r[4]), "which run"),
        (lambda r: ("", r[1], r[2], r[3], r[4]), "table_angle"),
        (lambda r: (r[0], r[1], r[2], "0.2 mm", r[4]), "angle"),
        (lambda r: (r[0], r[1], r[2], "359.99 deg", r[4]), "rad"),
    ],
)
def test_a_spoiled_line_is_named_and_nothing_is_stored(
    club: Path, spoil: Callable[[tuple[str, ...]], tuple[str, ...]], said: str
) -> None:
    rows = lines()
    rows[5] = spoil(rows[5])
    before = (club / "readings.csv").read_bytes()
    ran = brought(club, rows)
    assert ran.code == 1
    assert "line 7" in ran.err
    assert said in ran.err
    assert (club / "readings.csv").read_bytes() == before


def test_a_file_without_units_is_refused(club: Path) -> None:
    ran = brought(club, lines(), ("target", "run", "approach", "error", "means"))
    assert ran.code == 1
    assert "unit" in ran.err


def test_a_unit_slip_in_the_file_is_asked_about_at_once(club: Path) -> None:
    rows = lines()
    worst = max(range(80), key=lambda i: abs(float(rows[i][3])))
    rows[worst] = (*rows[worst][:3], f"{rows[worst][3]} arcmin", "polygon")
    ran = brought(club, rows)
    assert ran.code == 0
    assert "arcmin and arcsec" in ran.out
    assert "P-11" in ran.out


def test_a_sweep_within_a_worm_turn_is_brought_the_same_way(club: Path) -> None:
    file = club.parent / "sweep.csv"
    file.write_text(
        "target [deg],run,side,deviation [arcsec]\n0,1,fwd,3\n0.5,1,fwd,5\n", encoding="utf-8"
    )
    ran = run("prove", str(club), "--import", str(file), "--fine")
    assert ran.code == 0, ran.err
    assert "fine_error" in (club / "readings.csv").read_text(encoding="utf-8")
    assert run("prove", str(club), "--fine").code == 2
