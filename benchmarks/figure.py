"""One benchmark figure, and timing of two things turn and turn about."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """What was measured, against what, and the most it may be. `unit` is "x" for a ratio."""

    what: str
    got: float
    limit: float
    unit: str
    detail: str

    @property
    def holds(self) -> bool:
        return self.got <= self.limit


def seconds(call: Callable[[], object]) -> float:
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def ratio(
    what: str,
    *,
    product: Callable[[], object],
    floor: Callable[[], object],
    limit: float,
    runs: int = 7,
) -> Figure:
    """Median time of the product over that of the floor, run alternately after one warm-up."""
    product()
    floor()
    pairs = [(seconds(product), seconds(floor)) for _ in range(runs)]
    ours, theirs = (statistics.median(column) for column in zip(*pairs, strict=True))
    detail = f"{ours * 1e3:.0f} ms against {theirs * 1e3:.0f} ms, median of {runs}"
    return Figure(what, ours / theirs, limit, "x", detail)
