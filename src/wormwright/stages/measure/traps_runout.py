"""Traps in runouts, clamp shift, tilt and loop: angles, places, distances, branches, order."""

from __future__ import annotations

import math

import numpy as np

from wormwright.bench import Bench
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.job.sheet_table import RUNOUTS
from wormwright.stages.measure.siblings import series
from wormwright.stages.measure.wording import one_doubt, rows_words

PLACES = 8
"""Fewer places than this tell no lobes."""
ROUGH = {
    "face_runout": "as-cast face",
    "register_runout": "rough rim",
}
"""Surfaces that were never turned on this axis."""


def tilt_without_angles(bench: Bench) -> tuple[Doubt, ...]:
    """E-31: runout without the table angle of each reading, or a bar read at one distance only."""
    blind = [r for k in RUNOUTS for r in bench.of(k) if r.table_angle is None]
    refused = one_doubt(
        "refuse",
        "E-31",
        blind,
        "without the table angle",
        why="Two equal swings do not mean no tilt: only swings with their direction tell.",
        do="Read the needle at 8 even table angles, at both distances from the jaws.",
    )
    bar = [r for r in bench.of("bar_runout") if r.table_angle is not None]
    distances = {r.number("z") for r in bar if r.number("z") is not None}
    if not bar or len(distances) > 1:
        return refused
    return (
        *refused,
        Doubt(
            "warn",
            "E-31",
            "The bar was read at one distance from the jaws only.",
            "One distance cannot tell offset from tilt.",
            "Read the same places at a second distance, as far out as the bar allows.",
            tuple(r.seq for r in bar),
        ),
    )


def few_places(bench: Bench) -> tuple[Doubt, ...]:
    """E-32: a runout read at fewer than eight places."""
    doubts = []
    for rows in series(bench):
        if rows[0].kind not in RUNOUTS or any(r.table_angle is None for r in rows):
            continue
        places = {round((r.table_angle or 0.0) % (2 * math.pi), 2) for r in rows}
        if len(places) < PLACES:
            seqs = tuple(r.seq for r in rows)
            seen = f"{KINDS[rows[0].kind].label.split(',')[0]}: {len(places)} place"
            doubts.append(
                Doubt(
                    "warn",
                    "E-32",
                    f"{seen}{'s' if len(places) > 1 else ''} round the turn "
                    f"({rows_words(seqs).lower()}).",
                    "From so few an oval or three-lobed part cannot be told from a part that "
                    "stands off the axis.",
                    f"Read at {PLACES} even places or more.",
                    seqs,
                )
            )
    return tuple(doubts)


def no_distance(bench: Bench) -> tuple[Doubt, ...]:
    """E-7: a face, tilt, bar or turning shift without the distance that makes it an angle."""
    wanted = (("face_runout", "radius"), ("tilt_under_moment", "arm"), ("bar_runout", "z"))
    lacking = [r for kind, key in wanted for r in bench.of(kind) if r.number(key) is None]
    lacking += [r for r in bench.of("rock_loop") if not r.number("pin_radius")]
    lacking += [r for r in bench.of("clamp_shift", "turning") if not r.number("radius")]
    return one_doubt(
        "refuse",
        "E-7",
        lacking,
        "without the radius or distance it was read at",
        why="Without it a movement is no angle.",
        do="Measure the distance and replace the row.",
    )


def rough_surface(bench: Bench) -> tuple[Doubt, ...]:
    """E-6: runout of a surface that was never turned on this axis."""
    rough = [r for kind, word in ROUGH.items() for r in bench.of(kind) if r.said("surface") == word]
    return one_doubt(
        "warn",
        "E-6",
        rough,
        "on a surface that was not machined",
        why="Its own shape is in the reading, and no correction of the axis takes it out.",
        do="Read on a turned or ground surface.",
    )


def order_of_screws(bench: Bench) -> tuple[Doubt, ...]:
    """E-24: locked in different orders, so that the strain of the lock is another one each time."""
    rows = [r for r in bench.of("clamp_shift") if r.said("order")]
    orders = list(dict.fromkeys(f"{r.said('order')}" for r in rows))
    if len(orders) < 2:
        return ()
    return (
        Doubt(
            "warn",
            "E-24",
            f"The table was locked in different orders: {', '.join(orders)}.",
            "The strain of locking moves the table another way each time; the readings do not "
            "belong to one lock.",
            "Always lock both screws in the same order, and read the shift again.",
            tuple(r.seq for r in rows),
        ),
    )


def half_a_loop(bench: Bench) -> tuple[Doubt, ...]:
    """E-10: a loop with one sign of torque or one branch: windup or friction passes for play."""
    doubts = []
    for rows in _loops(bench):
        signs = {math.copysign(1, t) for r in rows if (t := r.number("torque"))}
        branches = {r.said("branch") for r in rows}
        if len(signs) == 2 and len(branches) == 2:
            continue
        what = "one way of pushing" if len(signs) < 2 else "one branch"
        seqs = tuple(r.seq for r in rows)
        doubts.append(
            Doubt(
                "warn",
                "E-10",
                f"The rock loop of {rows_words(seqs).lower()} has {what} only.",
                "Clearance, windup and friction come apart only when both ways are read with the "
                "torque rising and falling.",
                "Go on through zero to full torque the other way and back.",
                seqs,
            )
        )
    return tuple(doubts)


def loop_runs_backward(bench: Bench) -> tuple[Doubt, ...]:
    """E-4: in a loop the movement goes against the torque: the dial counts the other way."""
    doubts = []
    for rows in _loops(bench):
        known = [(t, r.value) for r in rows if (t := r.number("torque")) and r.value is not None]
        if len(known) < 4 or len({t for t, _ in known}) < 2:
            continue
        torque, moved = np.array(known).T
        spread = float(np.std(moved))
        if spread == 0 or float(np.corrcoef(torque, moved)[0, 1]) > -0.5:
            continue
        seqs = tuple(r.seq for r in rows)
        doubts.append(
            Doubt(
                "ask",
                "E-4",
                f"In the rock loop of {rows_words(seqs).lower()} the table moves against the "
                "torque.",
                "The dial counts the other way, or the sign of the torque is changed over.",
                "Look which way the needle goes for a plus push, and enter the loop again.",
                seqs,
            )
        )
    return tuple(doubts)


def _loops(bench: Bench) -> list[tuple[Reading, ...]]:
    return [rows for rows in series(bench) if rows[0].kind == "rock_loop" and len(rows) > 1]


RUNOUT_TRAPS = (
    tilt_without_angles,
    few_places,
    no_distance,
    rough_surface,
    order_of_screws,
    half_a_loop,
    loop_runs_backward,
)
"""Traps in the readings of the table, its runouts and the loop."""
