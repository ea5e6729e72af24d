"""The order of work holds for every plan, and no stale reading is handed on."""

from __future__ import annotations

import itertools
import random
import string
from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planned_job import (
    ALL_CORRECTIONS,
    CORRECTIONS,
    JOB,
    planned,
    reading,
    remedy,
    sign_off,
)
from wormwright.job.operation import Operation, SignOff, Verdict
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.traveler import ALL, in_order, live_readings, plan_operations, stale_readings
from wormwright.traveler.order import BEFORE, PRECEDENCE, directly_before
from wormwright.traveler.planning import operation_keys
from wormwright.traveler.staleness import MAKES_STALE, SPARED_BY_SPOT_CHECK, SPOT_VALUES

SUBSETS = [
    keys for n in range(len(CORRECTIONS) + 1) for keys in itertools.combinations(CORRECTIONS, n)
]
FULL = nx.DiGraph([(b.first, b.then) for b in PRECEDENCE])


def graph(operations: tuple[Operation, ...]) -> nx.DiGraph:
    made = nx.DiGraph()
    made.add_nodes_from(op.key for op in operations)
    made.add_edges_from((first, op.key) for op in operations for first in op.after)
    return made


def test_the_table_of_precedence_names_every_operation_and_has_no_ring() -> None:
    assert set(FULL) == set(ALL) == set(MAKES_STALE)
    assert not list(nx.simple_cycles(FULL))
    for key in ALL:
        assert set(BEFORE[key]) == nx.ancestors(FULL, key)


@pytest.mark.parametrize("keys", SUBSETS, ids="+".join)
def test_every_plan_is_acyclic_and_shows_only_the_steps_directly_before(
    keys: tuple[str, ...],
) -> None:
    operations = planned(*keys)
    made = graph(operations)
    assert nx.is_directed_acyclic_graph(made)
    closure = nx.transitive_closure(FULL).subgraph(op.key for op in operations)
    assert set(made.edges) == set(nx.transitive_reduction(closure).edges)


@pytest.mark.parametrize("keys", SUBSETS, ids="+".join)
def test_order_is_the_lexicographic_one_of_a_second_library(keys: tuple[str, ...]) -> None:
    operations = planned(*keys)

    def rank(key: str) -> tuple[int, str, str]:
        number = ALL[key].number
        digits = number.rstrip(string.ascii_lowercase)
        return int(digits), number[len(digits) :], key

    expected = list(nx.lexicographical_topological_sort(graph(operations), key=rank))
    assert [op.key for op in operations] == expected


FEW, ALL_BUT_FEW = range(5), range(len(ALL_CORRECTIONS) - 2, len(ALL_CORRECTIONS) + 1)


def test_every_few_and_all_but_few_corrections_have_an_order_that_keeps_every_reason() -> None:
    subsets = itertools.chain.from_iterable(
        itertools.combinations(ALL_CORRECTIONS, n) for n in (*FEW, *ALL_BUT_FEW)
    )
    distinct = {operation_keys(remedy(keys)) for keys in subsets}
    assert len(distinct) > 500
    for keys in distinct:
        ordered = in_order(replace(ALL[key], after=directly_before(key, keys)) for key in keys)
        assert len(ordered) == len(keys)
        earlier: set[str] = set()
        for op in ordered:
            assert BEFORE[op.key] & keys <= earlier, op.key
            earlier.add(op.key)


@settings(deadline=None)
@given(keys=st.permutations(ALL_CORRECTIONS), count=st.integers(0, 15), seed=st.integers(0, 99))
def test_order_does_not_depend_on_the_order_of_the_input(
    keys: list[str], count: int, seed: int
) -> None:
    operations = planned(*keys[:count])
    assert plan_operations(JOB, remedy(sorted(keys[:count]))) == operations
    shuffled = list(operations)
    random.Random(seed).shuffle(shuffled)
    assert in_order(shuffled) == operations


def test_a_ring_is_refused_with_its_names() -> None:
    a = replace(ALL["coupling"], after=("final_depth",))
    b = replace(ALL["final_depth"], after=("coupling",))
    with pytest.raises(ValueError, match=r"wait for each other: .*coupling.*final_depth"):
        in_order([a, b])


Event = tuple[str, str, int]
STATIONS = ("", "A", "B")
VERDICTS: dict[str, Verdict] = {"sign": "done", "fail": "failed", "spot": "passed"}


@st.composite
def histories(draw: st.DrawFn) -> tuple[list[Reading], list[SignOff]]:
    """Readings, corrections of readings and sign-offs in any order, one running number."""
    readings: list[Reading] = []
    sign_offs: list[SignOff] = []
    for seq in range(1, draw(st.integers(1, 25)) + 1):
        match draw(st.sampled_from(("reading", "reading", "correct", "sign", "fail", "spot"))):
            case "correct" if readings:
                gone = {r.supersedes for r in readings}
                old = draw(st.sampled_from([r for r in readings if r.seq not in gone]))
                readings.append(reading(seq, old.kind, station=old.station, supersedes=old.seq))
            case "sign" | "fail" | "spot" as how:
                key = draw(st.sampled_from(sorted(ALL)))
                values = dict.fromkeys(SPOT_VALUES, 0.1) if how == "spot" else None
                verdict = VERDICTS[how]
                sign_offs.append(sign_off(seq, key, verdict, values))
            case _:
                kind = draw(st.sampled_from(sorted(KINDS)))
                readings.append(reading(seq, kind, station=draw(st.sampled_from(STATIONS))))
    return readings, sign_offs


def still_standing(readings: list[Reading], sign_offs: list[SignOff]) -> set[int]:
    """The same by walking through the history once: a set that operations take readings out of."""
    alive: set[int] = set()
    kinds: dict[int, str] = {}
    events: list[Reading | SignOff] = sorted([*readings, *sign_offs], key=lambda e: e.seq)
    for event in events:
        if isinstance(event, SignOff):
            killed = {kind for kind, _ in MAKES_STALE[event.operation]}
            if event.verdict == "passed" and event.gate_values:
                killed -= set(SPARED_BY_SPOT_CHECK.get(event.operation, ()))
            alive = {seq for seq in alive if kinds[seq] not in killed}
            continue
        kinds[event.seq] = event.kind
        if event.supersedes is None:
            alive.add(event.seq)
        elif event.supersedes in alive:
            alive.remove(event.supersedes)
            alive.add(event.seq)
    return alive


@settings(max_examples=300, deadline=None)
@given(history=histories(), seed=st.integers(0, 9))
def test_no_stale_or_superseded_reading_is_ever_handed_on(
    history: tuple[list[Reading], list[SignOff]], seed: int
) -> None:
    readings, sign_offs = history
    live = live_readings(readings, sign_offs)
    assert {r.seq for r in live} == still_standing(readings, sign_offs)
    stale = stale_readings(readings, sign_offs)
    assert not set(stale) & {r.seq for r in live}
    superseded = {r.supersedes for r in readings}
    assert {r.seq for r in readings} == {r.seq for r in live} | set(stale) | (superseded - {None})
    shuffle = random.Random(seed)
    shuffle.shuffle(readings)
    shuffle.shuffle(sign_offs)
    assert live_readings(readings, sign_offs) == live
    assert live_readings(readings, sign_offs, planned("worm_shim")) == live
