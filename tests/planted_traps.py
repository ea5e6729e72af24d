"""Traps of the bench, each as it would get into the sheet of a unit that is otherwise sound."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from wormwright.job.reading import Reading
from wormwright.job.result import Action
from wormwright.job.rotary import Job, Motor
from wormwright.job.sheet import KINDS
from wormwright.quantities import read

Rng = np.random.Generator
Rows = list[Reading]


@dataclass(frozen=True)
class Planted:
    """A sheet with the rows that were spoiled; `before` are rows that are live no longer."""

    job: Job
    rows: Rows
    victims: frozenset[int] = frozenset()
    before: tuple[Reading, ...] = ()


Change = Callable[[Reading], Reading]
Plant = Callable[[Job, Rows, Rng], Planted]


@dataclass(frozen=True)
class Trap:
    """A trap, the code and the action it must meet, and how it is planted."""

    name: str
    code: str
    action: Action
    plant: Plant


def of(rows: Rows, kind: str) -> Rows:
    return [r for r in rows if r.kind == kind]


def the_map(rows: Rows) -> Rows:
    """The rocks of the map at full torque, the first position and its repeat left out."""
    full = max(r.number("torque") or 0.0 for r in of(rows, "rock"))
    placed = [r for r in of(rows, "rock") if r.number("torque") == full and not r.worm_angle]
    return [r for r in placed if round(math.degrees(r.table_angle or 0.0)) not in (0, 36, 228)]


def retyped(r: Reading, value: float) -> Reading:
    """The row with another value, in the unit it was written in."""
    unit = r.raw.split()[1]
    one_unit = read(f"1 {unit}", KINDS[r.kind].dimension, field="raw").value
    raw = f"{value / one_unit:.4f} {unit}"
    return replace(r, raw=raw, value=read(raw, KINDS[r.kind].dimension, field="raw").value)


def told(r: Reading, **conditions: float | str | None) -> Reading:
    merged = {**r.conditions, **conditions}
    return replace(r, conditions={k: v for k, v in merged.items() if v is not None})


def spoiled(job: Job, rows: Rows, victims: Rows, change: Callable[[Reading], Reading]) -> Planted:
    seqs = frozenset(r.seq for r in victims)
    return Planted(job, [change(r) if r.seq in seqs else r for r in rows], seqs)


def one(rows: Rows, rng: Rng) -> Reading:
    return rows[int(rng.integers(len(rows)))]


def _in_map(change: Change) -> Plant:
    return _one_of("rock", change)


def _one_of(kind: str, change: Change) -> Plant:
    def plant(job: Job, rows: Rows, rng: Rng) -> Planted:
        among = the_map(rows) if kind == "rock" else of(rows, kind)
        return spoiled(job, rows, [one(among, rng)], change)

    return plant


def _every(kind: str, change: Change) -> Plant:
    def plant(job: Job, rows: Rows, rng: Rng) -> Planted:
        return spoiled(job, rows, of(rows, kind), change)

    return plant


def _about_the_work(kind: str, change: Change) -> Plant:
    """The doubt names its rows in words only."""

    def plant(job: Job, rows: Rows, rng: Rng) -> Planted:
        return replace(_every(kind, change)(job, rows, rng), victims=frozenset())

    return plant


def _without(gone: Callable[[Reading], bool]) -> Plant:
    def plant(job: Job, rows: Rows, rng: Rng) -> Planted:
        return Planted(job, [r for r in rows if not gone(r)])

    return plant


def _times(factor: float) -> Callable[[Reading], Reading]:
    return lambda r: retyped(r, (r.value or 0.0) * factor)


def _plus(step: float) -> Callable[[Reading], Reading]:
    return lambda r: retyped(r, (r.value or 0.0) + step)


def unit_changed(job: Job, rows: Rows, rng: Rng) -> Planted:
    """The unit key was pressed in the middle of the map."""
    rocks = of(rows, "rock")
    cut = int(rng.integers(4, len(rocks) - 4))
    return spoiled(job, rows, rocks[cut:], _times(1 / 25.4))


def runout_slip(job: Job, rows: Rows, rng: Rng) -> Planted:
    """A decimal place lost where the needle stood well off zero."""
    kind = str(rng.choice(["face_runout", "register_runout", "bar_runout"]))
    return spoiled(job, rows, [one(of(rows, kind)[1:8], rng)], _times(10.0))


def reversed_pair(job: Job, rows: Rows, rng: Rng) -> Planted:
    def turned(r: Reading) -> Reading:
        half, unit = float(r.raw.split()[0]) / 2, r.raw.split()[1]
        raw = f"-{half:.4f} / +{half:.4f} {unit}"
        return replace(r, raw=raw, value=read(raw, "length", field="raw").value)

    return spoiled(job, rows, [one(the_map(rows), rng)], turned)


def past_zero(job: Job, rows: Rows, rng: Rng) -> Planted:
    """98 on a continuous dial, where the needle went 2 below its zero."""
    series = of(rows, "register_runout")
    highest = max(r.value or 0.0 for r in series)
    named = {r.seq: replace(_plus(-highest)(r), instrument="DI 0.01") for r in series}
    low = min(named.values(), key=lambda r: r.value or 0.0)
    named[low.seq] = _plus(1.0)(low)
    return Planted(job, [named.get(r.seq, r) for r in rows], frozenset({low.seq}))


def runout_turn(job: Job, rows: Rows, rng: Rng) -> Planted:
    kind = str(rng.choice(["face_runout", "register_runout", "bar_runout"]))
    return spoiled(job, rows, [one(of(rows, kind), rng)], _plus(float(rng.choice([-1.0, 1.0]))))


def loose_table(job: Job, rows: Rows, rng: Rng) -> Planted:
    """The table slides, and was read on one pin only."""
    rocks = [r.value or 0.0 for r in of(rows, "rock")]
    play = float(rng.uniform(0.3, 0.6)) * sum(rocks) / len(rocks)
    kept = [r for r in rows if r.kind != "rock_pins"]
    return spoiled(job, kept, of(kept, "table_radial_play"), lambda r: retyped(r, play))


def mixed_phase(job: Job, rows: Rows, rng: Rng) -> Planted:
    """Every second position half a worm turn off, no worm angle written."""
    ratio = of(rows, "teeth")[0].value or 1.0
    odd = {r.seq for r in the_map(rows)[::2]}

    def moved(r: Reading) -> Reading:
        if r.kind != "rock":
            return r
        shift = math.pi / ratio if r.seq in odd else 0.0
        return replace(r, worm_angle=None, table_angle=(r.table_angle or 0.0) + shift)

    kept = [r for r in rows if not (r.kind == "rock" and r.worm_angle)]
    return Planted(job, [moved(r) for r in kept], frozenset(odd))


def throw_as_tir(job: Job, rows: Rows, rng: Rng) -> Planted:
    throw = Reading(9001, "adjuster_throw", "0.62 mm TIR", 0.62)
    return Planted(job, [*rows, throw], frozenset({9001}))


def blued(plus: str, minus: str, crest: str = "dull") -> Plant:
    def change(r: Reading) -> Reading:
        word = plus if r.station == "flank plus" else minus
        return replace(told(r, crest=crest), word=word, raw=word)

    return _about_the_work("blue_mark", change)


def gone_when_warm(job: Job, rows: Rows, rng: Rng) -> Planted:
    first = of(rows, "rock")[0]
    cold = [told(r, housing_temperature=19.0) if r.kind == "rock" else r for r in rows]
    warm = replace(told(first, housing_temperature=35.0), seq=9001)
    return Planted(job, [*cold, retyped(warm, 0.003)])


def weak_motor(job: Job, rows: Rows, rng: Rng) -> Planted:
    most = max(r.value or 0.0 for r in of(rows, "drag_in_mesh"))
    return Planted(replace(job, motor=Motor("stepper", torque_hold_nmm=1.6 * most)), rows)


def _again(kind: str, change: Change) -> Plant:
    """The kind went stale with the work and was read again, changed."""

    def plant(job: Job, rows: Rows, rng: Rng) -> Planted:
        old = of(rows, kind)
        new = [replace(change(r), seq=9000 + r.seq) for r in old]
        return Planted(job, [*(r for r in rows if r.kind != kind), *new], before=tuple(old))

    return plant


def drifted(job: Job, rows: Rows, rng: Rng) -> Planted:
    kind = str(rng.choice(["rock", "face_runout", "register_runout", "bar_runout"]))
    series = of(rows, kind)
    first = series[0]
    again = next(r for r in series[1:] if r.table_angle == first.table_angle)
    return spoiled(
        job,
        rows,
        [again],
        lambda r: retyped(r, (first.value or 0.0) + float(rng.choice([-1, 1])) * 0.02),
    )


def few_places(job: Job, rows: Rows, rng: Rng) -> Planted:
    kept = {r.seq for r in of(rows, "register_runout")[: int(rng.integers(3, 7))]}
    few = [r for r in rows if r.kind != "register_runout" or r.seq in kept]
    return Planted(job, few, frozenset(kept))


def digits(job: Job, rows: Rows, rng: Rng) -> Planted:
    def longer(r: Reading) -> Reading:
        number, unit = r.raw.split()
        raw = f"{float(number):.4f}{rng.integers(100, 999)} {unit}"
        return replace(r, raw=raw, value=read(raw, "length", field="raw").value)

    return spoiled(job, rows, [one(the_map(rows), rng)], longer)


def no_mark(job: Job, rows: Rows, rng: Rng) -> Planted:
    return Planted(replace(job, rotary=replace(job.rotary, unit_id="?")), rows)


TRAPS = (
    Trap("decimal point of a rock", "E-3", "ask", _in_map(_times(10.0))),
    Trap("inch figure among millimetres", "E-3", "ask", _in_map(_times(1 / 25.4))),
    Trap("unit changed within the map", "E-3", "ask", unit_changed),
    Trap("decimal point of a runout", "E-3", "ask", runout_slip),
    Trap("push and pull changed over", "E-4", "ask", reversed_pair),
    Trap("dial that counts the other way", "E-4", "ask", _every("rock", _times(-1.0))),
    Trap("98 for -2", "E-4", "ask", past_zero),
    Trap("lost sign in a loop", "E-4", "ask", _one_of("rock_loop", _times(-1.0))),
    Trap("needle turn of a rock", "E-5", "ask", _in_map(_plus(1.0))),
    Trap("needle turn of a runout", "E-5", "ask", runout_turn),
    Trap("lever tip", "E-6", "refuse", _in_map(lambda r: told(r, surface="lever tip"))),
    Trap("coupling", "E-6", "refuse", _in_map(lambda r: told(r, surface="coupling"))),
    Trap("chuck body", "E-6", "warn", _in_map(lambda r: told(r, surface="chuck body"))),
    Trap("no radius", "E-7", "refuse", _in_map(lambda r: told(r, pin_radius=None))),
    Trap("guessed radius", "E-7", "warn", _every("rock", lambda r: told(r, pin_radius_u=4.0))),
    Trap("steep stylus", "E-8", "refuse", _in_map(lambda r: told(r, stylus=math.radians(40)))),
    Trap("tilted stylus", "E-8", "warn", _in_map(lambda r: told(r, stylus=math.radians(22)))),
    Trap("no torque", "E-9", "ask", _in_map(lambda r: told(r, torque=None))),
    Trap("odd torque", "E-9", "warn", _in_map(lambda r: told(r, torque=4600.0))),
    Trap(
        "another torque than before",
        "E-9",
        "warn",
        _again("rock", lambda r: told(r, torque=9000.0)),
    ),
    Trap(
        "one torque",
        "E-10",
        "warn",
        _without(lambda r: r.kind == "rock" and (r.number("torque") or 0) < 2000),
    ),
    Trap(
        "half a loop",
        "E-10",
        "warn",
        _every("rock_loop", lambda r: told(r, torque=abs(r.number("torque") or 1))),
    ),
    Trap("loose table", "E-11", "warn", loose_table),
    Trap("mixed worm phase", "E-12", "warn", mixed_phase),
    Trap(
        "one worm phase",
        "E-13",
        "warn",
        _without(lambda r: r.kind == "rock" and bool(r.worm_angle)),
    ),
    Trap("preload", "E-15", "refuse", _again("drag_out_of_mesh", _times(2.8))),
    Trap("throw as TIR", "E-16", "ask", throw_as_tir),
    Trap("blue askew", "E-18", "warn", blued("plus edge", "minus edge")),
    Trap("blue at one edge", "E-19", "warn", blued("minus edge", "minus edge")),
    Trap("bottomed", "E-20", "refuse", blued("root line", "root line", "bright")),
    Trap("gone when warm", "E-22", "warn", gone_when_warm),
    Trap("weak motor", "E-23", "warn", weak_motor),
    Trap(
        "order of screws",
        "E-24",
        "warn",
        _one_of("clamp_shift", lambda r: told(r, order="B then A")),
    ),
    Trap(
        "bar at one distance",
        "E-31",
        "warn",
        _without(lambda r: r.kind == "bar_runout" and (r.number("z") or 0) > 100),
    ),
    Trap("few places", "E-32", "warn", few_places),
    Trap("drift", "E-33", "warn", drifted),
    Trap("digits", "E-34", "warn", digits),
    Trap("grit", "E-36", "warn", _about_the_work("turn_feel", lambda r: replace(r, word="gritty"))),
    Trap(
        "oil", "E-38", "warn", _about_the_work("lubricant", lambda r: replace(r, word="EP grease"))
    ),
    Trap("no mark", "E-40", "refuse", no_mark),
    Trap("powered motor", "E-42", "warn", _in_map(lambda r: told(r, worm_held="powered motor"))),
    Trap("lock on", "E-43", "refuse", _in_map(lambda r: told(r, lock="on"))),
    Trap("lock not said", "E-43", "warn", _in_map(lambda r: told(r, lock=None))),
)
"""Every trap that the readings themselves can give away."""
