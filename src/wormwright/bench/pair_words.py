"""Doubts about the pair in the words of the bench: what was seen, why it matters, what to do."""

from __future__ import annotations

import math

from wormwright.bench.figures import Bench
from wormwright.job.pair import WheelKind
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown

RIVAL = 0.05
"""A second size with more belief than this is worth a question."""


def missing_doubts(bench: Bench) -> tuple[Doubt, ...]:
    """What to read before the pair can be known at all."""
    if bench.figure("teeth") is None:
        return (
            Doubt(
                "refuse",
                "ID-8",
                "The teeth of the wheel are not on the sheet.",
                "Without ratio and pitch radius no reading can be turned into an angle.",
                "Count the handle turns for one table turn and enter teeth and starts.",
            ),
        )
    return (
        Doubt(
            "refuse",
            "ID-9",
            "Nothing on the sheet gives the pitch of the worm.",
            "The pitch radius of the wheel is pitch times teeth.",
            "Measure over several threads (thread_length); or worm outside diameter with centre "
            "distance; or the wheel throat; or confirm the module under [pair] in job.toml.",
        ),
    )


def size_doubts(
    sizes: tuple[tuple[str, float, float], ...],
    *,
    fits: bool,
    confirmed: bool,
) -> tuple[Doubt, ...]:
    """Doubts about module or diametral pitch: two sizes that both fit, or none that does."""
    name, module, belief = sizes[0]
    if not fits:
        against = "the confirmed size" if confirmed else f"the nearest, {name},"
        return (
            Doubt(
                "ask",
                "ID-3",
                f"The caliper readings of the pair do not fit {against} within their doubt.",
                "Pitch radius and every angle hang on it; a miscounted thread does this too.",
                "Measure the length over threads again and count the threads; check worm outside "
                "diameter, throat and centre distance.",
            ),
        )
    rivals = [row for row in sizes[1:] if row[2] > RIVAL]
    if confirmed or not rivals:
        return ()
    others = ", ".join(f"{rival} ({p:.0%})" for rival, _, p in rivals)
    off = max(abs(m / module - 1) for _, m, _ in rivals)
    return (
        Doubt(
            "ask",
            "ID-1",
            f"The pair may be {name} ({belief:.0%}) or {others}.",
            f"The pitch radius differs by {off:.1%}, and new parts must be of the right one.",
            "Measure over more threads, three times; add worm outside diameter, wheel throat and "
            "centre distance; then confirm the module under [pair] in job.toml.",
        ),
    )


def teeth_doubts(
    teeth: int, shift: float, teeth_by_throat: float, bench: Bench
) -> tuple[Doubt, ...]:
    """A throat that asks for another number of teeth than was counted."""
    counted_by_throat = round(teeth_by_throat)
    if counted_by_throat == teeth or abs(shift) < 0.4:
        return ()
    counted_twice = len({r.value for r in bench.of("teeth")}) == 1 < len(bench.of("teeth"))
    return (
        Doubt(
            "warn" if counted_twice else "ask",
            "ID-10",
            f"The wheel throat would suit {counted_by_throat} teeth, {teeth} were counted.",
            "One tooth more or less makes every degree of the table wrong by about "
            f"{1 / teeth:.1%}.",
            "Count the teeth again from a chalk mark and enter the count once more; measure the "
            "throat in the middle of the face.",
        ),
    )


def angle_doubts(angle: float, u: float, *, odd: bool) -> tuple[Doubt, ...]:
    """A pressure angle that was not read, or that no standard worm has."""
    degrees = math.degrees(angle)
    if odd:
        return (
            Doubt(
                "ask",
                "ID-2",
                f"The two wire sizes give a pressure angle of {degrees:.1f}°, no standard one.",
                "How much play a closing takes out hangs on its tangent.",
                "Check the wire sizes with a micrometer and that the wires sit on both flanks; or "
                "confirm the angle under [pair] in job.toml.",
            ),
        )
    if u < math.radians(1):
        return ()
    share = u / (math.sin(angle) * math.cos(angle))
    return (
        Doubt(
            "warn",
            "ID-2",
            f"The pressure angle was not read; {degrees:g}° is the most likely.",
            f"How much play a closing takes out is uncertain by about {share:.0%} through it.",
            "Measure over wires of two sizes (worm_over_wires), or confirm the angle under [pair] "
            "in job.toml.",
        ),
    )


def assumed_size(code: str, what: str, kind: str, bench: Bench, size: float) -> Doubt:
    """A size that was not read and had to be assumed."""
    value = shown(size, "length", resolution=1.0, units=bench.job.units)
    return Doubt(
        "warn",
        code,
        f"The {what} was not read; about {value} is assumed from usual proportions.",
        f"It tells: {KINDS[kind].tells}",
        f"Read it: {KINDS[kind].label.lower()} ({kind}), {KINDS[kind].minutes:g} min.",
    )


def word_doubts(bench: Bench, kinds: tuple[tuple[WheelKind, float], ...]) -> tuple[Doubt, ...]:
    """Things told in words that were not told: starts, wheel kind."""
    doubts = []
    if bench.figure("starts") is None:
        doubts.append(
            Doubt(
                "warn",
                "ID-6",
                "The starts of the worm are not on the sheet; one is assumed.",
                "Ratio and lead angle hang on it.",
                "Count the thread ends at the end face of the worm (starts).",
            )
        )
    if bench.word("wheel_kind") is None:
        spread = ", ".join(f"{kind} {p:.0%}" for kind, p in kinds)
        doubts.append(
            Doubt(
                "warn",
                "ID-7",
                f"The wheel kind is not on the sheet; taken as {spread}.",
                "On a hollow wheel a worm that stands sideways costs play, on a straight one not.",
                "Lay a straight edge across the teeth (wheel_kind).",
            )
        )
    return tuple(doubts)
