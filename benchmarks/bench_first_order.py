"""A first-order budget of 25 inputs and 12 outputs against a library of exact derivatives."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import uncertainties
from uncertainties import umath

from benchmarks.figure import Figure, ratio
from wormwright.core.uncertainty import Array, first_order

INPUTS, OUTPUTS, ROUNDS = 25, 12, 200
NOMINAL = np.linspace(1.0, 2.0, INPUTS)
SPREAD = np.linspace(0.01, 0.05, INPUTS)


def model(x: Array) -> Array:
    y: Array = x[0:24:2] * x[1:24:2] + np.cos(x[24])
    return y


def figures() -> Iterator[Figure]:
    def product() -> None:
        for _ in range(ROUNDS):
            first_order(model, NOMINAL, u=SPREAD)

    def other() -> None:
        for _ in range(ROUNDS):
            x = [uncertainties.ufloat(v, u) for v, u in zip(NOMINAL, SPREAD, strict=True)]
            across = umath.cos(x[24])
            for y in (x[2 * i] * x[2 * i + 1] + across for i in range(OUTPUTS)):
                _ = y.std_dev

    yield ratio(
        f"{INPUTS} inputs, {OUTPUTS} outputs, {ROUNDS} times",
        product=product,
        floor=other,
        limit=0.33,
    )
