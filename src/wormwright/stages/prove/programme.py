"""The plan as a programme for the control (plain words of ISO 6983) and as a form to fill in."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.job.iso_words import degrees_text, remark
from wormwright.job.proof_plan import Move, PlannedTest
from wormwright.job.rotary import Job

STOPS = {"stop": "M0", "optional": "M1", "none": ""}
KINDS_OF = {"read": "position_error", "again": "position_drift", "fine": "fine_error"}
"""What a move is for -> the kind of reading it gives."""
HEAD = "kind,target [deg],run,approach,error [arcsec],means,u [arcsec]"


def programme_of(plan: PlannedTest, job: Job) -> str:
    """The moves in order: a rapid to each turning place, a feed to each target, a dwell, a stop.

    Words used: G90 absolute, G94 feed a minute, G0, G1, G4 with P in seconds, F, the letter of the
    axis, M0 or M1, M2. Angles in degrees. What stands in round brackets is for the reader.
    """
    chosen = plan.settings
    lines = [
        remark(f"POSITIONING TEST {job.rotary.unit_id} {plan.ratio:g} TO 1"),
        f"({len(plan.targets)} TARGETS, {chosen.runs} RUNS, {plan.readings} READINGS)",
        "(NOTHING IN THE WAY FOR A WHOLE TURN BOTH WAYS; G4 P IN SECONDS)",
        "G90 G94",
    ]
    for move in plan.moves:
        lines += _move(move, plan)
    return "\n".join([*lines, "M2", ""])


def _move(move: Move, plan: PlannedTest) -> list[str]:
    chosen = plan.settings
    place = f"{chosen.axis}{degrees_text(move.angle)}"
    if move.purpose == "go":
        return [f"G0 {place}"]
    lines = [f"({_what(move)})", f"G1 {place} F{chosen.feed:g}"]
    if chosen.dwell:
        lines.append(f"G4 P{chosen.dwell:g}")
    stop = STOPS[chosen.pause]
    return [*lines, stop] if stop else lines


def _what(move: Move) -> str:
    if move.purpose == "again":
        return "FIRST TARGET AGAIN, FORWARD: READ DRIFT"
    name = "SWEEP" if move.purpose == "fine" else f"RUN {move.run}"
    return f"{name} {move.approach.upper()} {degrees_text(move.angle)}: READ"


def form_of(moves: Sequence[Move]) -> str:
    """A CSV to fill in, one line a reading in the order of the programme."""
    lines = [HEAD]
    for move in moves:
        if move.purpose != "go":
            run = "" if move.purpose == "again" else str(move.run)
            kind = KINDS_OF[move.purpose]
            lines.append(f"{kind},{degrees_text(move.angle)},{run},{move.approach},,,")
    return "\n".join([*lines, ""])
