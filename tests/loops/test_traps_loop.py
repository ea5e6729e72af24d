"""Simulated sheets of the example units, a trap in every third: what is found, what is not."""

from __future__ import annotations

import logging
import math
import re
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import make_examples
from example_table import loop
from example_units import (
    CLUB_TRUTH,
    ROUTER_TRUTH,
    club_plays,
    club_rest,
    router_plays,
    router_rest,
)
from planted_traps import TRAPS, Planted, Trap
from simulated_rotary import Taker, Truth, drawn_truth, job_of
from wormwright.bench import Bench
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job, Units
from wormwright.job.sheet import KINDS
from wormwright.stages.measure import doubts_of
from wormwright.stages.measure.traps_series import CHANCE
from wormwright.store import ReadingText
from wormwright.store.entry import KnownConditions, reading_of

LOG = logging.getLogger(__name__)
"""The figures, with --log-cli-level=INFO."""

SEEDS = 201
EVERY = 3


@dataclass(frozen=True)
class Kind:
    """A kind of example: its pair, what is read of it, and how its bench writes."""

    truth: Truth
    take: tuple[Callable[[Taker], None], ...]
    units: Units


EXAMPLES = {
    "router": Kind(ROUTER_TRUTH, (router_plays, router_rest, loop), "mm"),
    "club": Kind(CLUB_TRUTH, (club_plays, club_rest), "in"),
}
PAIR = ("teeth", "starts", "module", "pressure_angle", "d1", "span", "face_width", "opening")


@dataclass(frozen=True)
class Seen:
    """One sheet: the trap in it, if any, whether it was met, and what else was refused or asked."""

    trap: Trap | None
    met: bool
    beside: tuple[Doubt, ...]
    warned: tuple[Doubt, ...]


def sound_sheet(kind: Kind, rng: np.random.Generator) -> tuple[Job, list[Reading]]:
    """A sheet of a drawn unit as its bench writes it, typed in and read back."""
    truth = drawn_truth(rng, **{name: getattr(kind.truth, name) for name in PAIR})
    taker = Taker(truth, rng)
    for part in kind.take:
        part(taker)
    hand = make_examples.INCH if kind.units == "in" else make_examples.METRIC
    known: KnownConditions = {}
    rows = [
        reading_of(
            ReadingText(
                kind=r.kind,
                raw=make_examples.written(r, hand),
                table_angle=make_examples._degrees(r.table_angle),
                worm_angle=make_examples._degrees(r.worm_angle),
                station=r.station,
                conditions=make_examples.condition_texts(r, hand),
            ),
            seq=r.seq,
            kinds=KINDS,
            units=kind.units,
            known=known,
        )
        for r in taker.readings
    ]
    return job_of(truth), rows


def judged(trap: Trap | None, sheet: Planted) -> Seen:
    doubts = doubts_of(Bench(sheet.job, tuple(sheet.rows)), (*sheet.before, *sheet.rows))
    meets = [
        d
        for d in doubts
        if trap
        and (d.code, d.action) == (trap.code, trap.action)
        and (not sheet.victims or set(d.rows) & sheet.victims)
    ]
    beside = tuple(
        d
        for d in doubts
        if d.action != "warn" and d not in meets and not set(d.rows) & sheet.victims
    )
    warned = tuple(d for d in doubts if d.action == "warn") if trap is None else ()
    return Seen(trap, bool(meets), beside, warned)


@cache
def seen(name: str) -> tuple[Seen, ...]:
    out = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([6113, seed, len(name)])
        job, rows = sound_sheet(EXAMPLES[name], rng)
        trap = TRAPS[seed // EVERY % len(TRAPS)] if seed % EVERY == 0 else None
        out.append(judged(trap, trap.plant(job, rows, rng) if trap else Planted(job, rows)))
    return tuple(out)


def both() -> list[Seen]:
    return [s for name in EXAMPLES for s in seen(name)]


def told_of(seen_of: Sequence[Seen]) -> str:
    """The sheets on which something sound was refused or asked about, for the failing test."""
    return "\n".join(
        f"{s.trap.name if s.trap else 'no trap'}: {[(d.code, d.seen) for d in s.beside]}"
        for s in seen_of
    )


def test_planted_traps_are_met_with_their_code_and_action() -> None:
    hits: dict[str, list[bool]] = defaultdict(list)
    for s in both():
        if s.trap:
            hits[s.trap.name].append(s.met)
    pooled = [hit for of_one in hits.values() for hit in of_one]
    missed = {name: of_one for name, of_one in hits.items() if not all(of_one)}
    LOG.info("traps met: %d of %d", sum(pooled), len(pooled))
    assert len(hits) == len(TRAPS)
    assert np.mean(pooled) >= 0.95, missed


@pytest.mark.parametrize("name", list(EXAMPLES))
def test_sound_readings_are_hardly_ever_refused_or_asked_about(name: str) -> None:
    wrong = [s for s in seen(name) if s.beside]
    LOG.info("%s: refused or asked about without cause: %d of %d", name, len(wrong), SEEDS)
    assert len(wrong) <= 0.02 * SEEDS, told_of(wrong)


def test_sound_sheets_are_warned_about_no_oftener_than_chance_allows() -> None:
    clean = [s for s in both() if s.trap is None]
    warned = sum(bool(s.warned) for s in clean)
    LOG.info("sound sheets warned about: %d of %d", warned, len(clean))
    by_chance = CHANCE * len(clean)
    assert warned <= by_chance + 3 * math.sqrt(by_chance)


def test_every_third_sheet_holds_a_trap_and_every_code_of_the_readings_is_planted() -> None:
    assert sum(s.trap is not None for s in both()) == pytest.approx(len(both()) / 3)
    stage = Path(doubts_of.__code__.co_filename).parent
    given = {
        code
        for file in stage.glob("traps_*.py")
        for code in re.findall(r'"(E-\d+)"', file.read_text(encoding="utf-8"))
    }
    assert {trap.code for trap in TRAPS} == given
