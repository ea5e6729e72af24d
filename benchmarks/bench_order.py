"""Two hundred operations put in a stable order, against the standard sorter alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from graphlib import TopologicalSorter

import numpy as np

from benchmarks.figure import Figure, ratio
from wormwright.traveler import ALL, in_order

COUNT, EDGES, ROUNDS = 200, 985, 20


def figures() -> Iterator[Figure]:
    stream = np.random.default_rng(3)
    pairs = {tuple(sorted(pair)) for pair in stream.integers(0, COUNT, (2 * EDGES, 2)).tolist()}
    edges = [(a, b) for a, b in sorted(pairs) if a != b][::2][:EDGES]
    before: dict[str, list[str]] = {f"k{b}": [] for b in range(COUNT)}
    for a, b in edges:
        before[f"k{b}"].append(f"k{a}")
    pattern = ALL["baseline"]
    operations = [
        replace(pattern, key=key, number=str(i % 7), after=tuple(after))
        for i, (key, after) in enumerate(before.items())
    ]

    def floor() -> None:
        for _ in range(ROUNDS):
            list(TopologicalSorter(before).static_order())

    def product() -> None:
        for _ in range(ROUNDS):
            in_order(operations)

    what = f"{COUNT} operations, {len(edges)} edges, {ROUNDS} times"
    yield ratio(what, product=product, floor=floor, limit=2.0)
