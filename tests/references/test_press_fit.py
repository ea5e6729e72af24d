"""Thick cylinders pressed together: printed solutions, finite differences and finite elements."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from published import derived, published
from wormwright.core.fit import clearance_of_fit
from wormwright.core.press_fit import (
    MAKERS_SHARE,
    Sleeve,
    bore_closing,
    bore_closing_share,
    clearance_loss,
    clearance_loss_by_rule,
    closing_share_of_uneven_wall,
    fit_pressure,
    outside_growth_share,
)
from wormwright.handbook.fits import deviations

Array = NDArray[np.float64]

SHIGLEY = "Shigley, Mechanical Engineering Design, solutions to problems"
STEEL_IN, IRON_IN = (30e6, 0.292), (14.5e6, 0.211)
STEEL, IRON, ALLOY = (206_000.0, 0.3), (98_000.0, 0.25), (71_000.0, 0.33)
STIFFEST = (2 * STEEL[0], 0.3)


@published(work=SHIGLEY, edition="8th edition", place="problem 3-68", known="read")
def test_steel_hub_on_solid_steel_shaft() -> None:
    p = fit_pressure(
        inner=Sleeve(0, 1, *STEEL_IN), outer=Sleeve(1, 2, *STEEL_IN), interference=0.002
    )
    assert p == pytest.approx(22_500, abs=0.5)
    hub = Sleeve(1, 2, *STEEL_IN)
    assert p * hub.shape == pytest.approx(37_500, abs=0.5)


@published(work=SHIGLEY, edition="8th edition", place="problem 3-69", known="read")
def test_cast_iron_hub_on_solid_steel_shaft() -> None:
    p = fit_pressure(
        inner=Sleeve(0, 1, *STEEL_IN), outer=Sleeve(1, 2, *IRON_IN), interference=0.002
    )
    assert p == pytest.approx(13_064, abs=1)
    assert p * Sleeve(1, 2, *IRON_IN).shape == pytest.approx(21_770, abs=5)


@published(work=SHIGLEY, edition="8th edition", place="problem 3-70", known="read")
def test_steel_hub_with_more_interference() -> None:
    p = fit_pressure(
        inner=Sleeve(0, 1, *STEEL_IN), outer=Sleeve(1, 2, *STEEL_IN), interference=0.003
    )
    assert p == pytest.approx(33_750, abs=0.5)


@published(work=SHIGLEY, edition="8th edition", place="problem 5-35", known="read")
def test_two_steel_tubes() -> None:
    p = fit_pressure(
        inner=Sleeve(25, 50, 207_000, 0.292),
        outer=Sleeve(50, 75, 207_000, 0.292),
        interference=0.02,
    )
    assert p == pytest.approx(19.41, abs=0.005)
    assert p * Sleeve(25, 50, 207_000, 0.292).shape == pytest.approx(32.35, abs=0.01)
    assert p * Sleeve(50, 75, 207_000, 0.292).shape == pytest.approx(50.47, abs=0.02)


@published(work=SHIGLEY, edition="8th edition", place="problem 5-34, solid inner", known="read")
def test_solid_shaft_in_a_thinner_hub() -> None:
    p = fit_pressure(
        inner=Sleeve(0, 1, *STEEL_IN), outer=Sleeve(1, 1.5, *STEEL_IN), interference=0.0005
    )
    assert p == pytest.approx(4167, abs=0.5)
    assert p * Sleeve(1, 1.5, *STEEL_IN).shape == pytest.approx(10_830, abs=5)


@published(work=SHIGLEY, edition="8th edition", place="problem 3-64", known="read")
def test_40_h7_s6_from_the_tables_to_the_pressure() -> None:
    fit = clearance_of_fit(deviations("H7", 40), deviations("s6", 40))
    assert (-fit.least / 2, -fit.most / 2) == pytest.approx((0.0295, 0.009))
    shaft, hub = Sleeve(0, 40, 207_000, 0.292), Sleeve(40, 80, 207_000, 0.292)
    found = [fit_pressure(inner=shaft, outer=hub, interference=-c) for c in (fit.least, fit.most)]
    assert found == pytest.approx([114.5, 34.9], abs=0.05)


@published(
    work="NSK technical report, rolling bearings",
    edition="CAT. E728",
    place="raceway change by fit: k (1 - k0²)/(1 - k² k0²), h (1 - h0²)/(1 - h² h0²)",
    known="from memory",
)
@pytest.mark.parametrize("hollow", [0.0, 0.4, 0.7])
def test_raceways_move_by_the_makers_formula(hollow: float) -> None:
    bore, inner_raceway, outer_raceway, outside, housing = 20.0, 25.56, 41.44, 47.0, 80.0
    k = bore / inner_raceway
    by_maker = k * (1 - hollow**2) / (1 - (k * hollow) ** 2)
    ring = Sleeve(bore, inner_raceway, *STEEL)
    shaft = Sleeve(hollow * bore, bore, *STEEL)
    assert outside_growth_share(inner=shaft, outer=ring) == pytest.approx(by_maker)
    h, h0 = outer_raceway / outside, outside / housing
    by_maker = h * (1 - h0**2) / (1 - (h * h0) ** 2)
    ring, around = Sleeve(outer_raceway, outside, *STEEL), Sleeve(outside, housing, *STEEL)
    assert bore_closing_share(inner=ring, outer=around) == pytest.approx(by_maker)


@published(
    work="NSK Rolling Bearings E1102e",
    edition="edition not noted",
    place="9.2.2: 0.7 to 0.9 of the interference, solid shaft and steel housing",
    known="read",
)
@pytest.mark.parametrize(
    ("bore", "outside", "pitch", "ball"),
    [(20, 47, 33.5, 7.938), (20, 42, 31.0, 6.35), (45, 85, 65.0, 12.7)],
)
def test_makers_rule_holds_the_exact_share(
    bore: float, outside: float, pitch: float, ball: float
) -> None:
    inner = outside_growth_share(
        inner=Sleeve(0, bore, *STEEL), outer=Sleeve(bore, pitch - ball, *STEEL)
    )
    outer = bore_closing_share(
        inner=Sleeve(pitch + ball, outside, *STEEL), outer=Sleeve(outside, 2 * outside, *STEEL)
    )
    for share in (inner, outer):
        assert MAKERS_SHARE.low <= share <= MAKERS_SHARE.high
    loss = clearance_loss(
        inner_interference=0.010, outer_interference=0.005, inner_share=inner, outer_share=outer
    )
    rule = clearance_loss_by_rule(inner_interference=0.010, outer_interference=0.005)
    assert rule.low <= loss <= rule.high


def solved(
    rows: list[int], cols: list[int], vals: list[float], right: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Solution of a sparse linear system given by its entries."""
    size = len(right)
    at = (np.array(rows), np.array(cols))
    matrix = coo_matrix((np.array(vals), at), shape=(size, size)).tocsc()
    return np.asarray(spsolve(matrix, right))


def differences(inner: Sleeve, outer: Sleeve, interference: float, n: int = 2000) -> float:
    """Bore displacement of the pressed sleeve, on diameter, by finite differences in the radius.

    The unknown is u(r) in both parts; free bore and outside, equal pressure, jump of u at the seat.
    """
    a, c, b = inner.bore / 2, inner.outside / 2, outer.outside / 2
    r1, r2 = np.linspace(a, c, n), np.linspace(c, b, n)
    rows: list[int] = []
    cols: list[int] = []
    vals: list[float] = []
    right = np.zeros(2 * n)

    def put(row: int, entries: dict[int, float]) -> None:
        for col, value in entries.items():
            rows.append(row)
            cols.append(col)
            vals.append(value)

    def stress(part: Sleeve, r: NDArray[np.float64], at: int, start: int) -> dict[int, float]:
        h, e = r[1] - r[0], part.modulus / (1 - part.poisson**2)
        i = start + at
        steps = (0, 1, 2) if at == 0 else (0, -1, -2)
        sign = 1 if at == 0 else -1
        slope = dict(zip((i + s for s in steps), (-1.5 * sign, 2 * sign, -0.5 * sign), strict=True))
        out = {j: e * v / h for j, v in slope.items()}
        out[i] += e * part.poisson / r[at]
        return out

    for start, r in ((0, r1), (n, r2)):
        h = r[1] - r[0]
        for i in range(1, n - 1):
            put(
                start + i,
                {
                    start + i - 1: 1 / h**2 - 1 / (2 * h * r[i]),
                    start + i: -2 / h**2 - 1 / r[i] ** 2,
                    start + i + 1: 1 / h**2 + 1 / (2 * h * r[i]),
                },
            )
    put(0, stress(inner, r1, 0, 0))
    put(2 * n - 1, stress(outer, r2, n - 1, n))
    seat = stress(inner, r1, n - 1, 0)
    for j, v in stress(outer, r2, 0, n).items():
        seat[j] = seat.get(j, 0.0) - v
    put(n - 1, seat)
    put(n, {n: 1.0, n - 1: -1.0})
    right[n] = interference / 2
    scale = np.zeros(2 * n)
    np.maximum.at(scale, rows, np.abs(vals))
    u = solved(rows, cols, list(np.array(vals) / scale[rows]), right / scale)
    return float(-2 * u[0])


@derived("finite differences in the radius, 2000 steps in each part")
@pytest.mark.parametrize("housing", [IRON, ALLOY, STEEL])
@pytest.mark.parametrize("bore", [35.0, 41.0])
def test_bore_closes_as_the_differential_equation_says(
    housing: tuple[float, float], bore: float
) -> None:
    bushing, around = Sleeve(bore, 45, *STEEL), Sleeve(45, 80, *housing)
    found = bore_closing(inner=bushing, outer=around, interference=0.03)
    assert found == pytest.approx(differences(bushing, around, 0.03), rel=1e-4)


def ring_mesh(
    inner: NDArray[np.float64], outer: NDArray[np.float64], through: int
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Nodes (layers of one turn, from inside out) and four-node elements between two curves."""
    around = len(inner)
    depth = np.linspace(0, 1, through + 1)[:, None, None]
    nodes = ((1 - depth) * inner + depth * outer).reshape(-1, 2)
    j, i = np.divmod(np.arange(through * around), around)
    k = (i + 1) % around
    low, high = j * around, (j + 1) * around
    return nodes, np.column_stack([low + i, high + i, high + k, low + k])


def element_stiffness(corners: NDArray[np.float64], modulus: float, nu: float) -> Array:
    """Plane-stress stiffness of one four-node element, two by two Gauss points."""
    law = modulus / (1 - nu**2) * np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]])
    block = np.zeros((8, 8))
    for s, t in product((-1 / math.sqrt(3), 1 / math.sqrt(3)), repeat=2):
        d = 0.25 * np.array(
            [[-(1 - t), 1 - t, 1 + t, -(1 + t)], [-(1 - s), -(1 + s), 1 + s, 1 - s]]
        )
        jac = d @ corners
        g = np.linalg.solve(jac, d)
        strain = np.zeros((3, 8))
        strain[0, 0::2], strain[1, 1::2] = g[0], g[1]
        strain[2, 0::2], strain[2, 1::2] = g[1], g[0]
        block += strain.T @ law @ strain * abs(np.linalg.det(jac))
    return block


def pressed_bore(
    least: float, most: float, outside: float, housing: Sleeve, around: int = 64
) -> float:
    """Mean closing share of the bore of an eccentric steel bushing, by finite elements.

    Bushing and housing are meshed apart and joined by stiff springs along the seat's normal that
    are one half too long (interference 1 on diameter); they may slide round.
    """
    small, throw = (outside - least - most) / 2, (most - least) / 2
    phi = np.arange(around) * 2 * math.pi / around
    ring = np.column_stack([np.cos(phi), np.sin(phi)])
    bushing, inside = ring_mesh(small * ring + [throw, 0], outside / 2 * ring, 6)
    block, beyond = ring_mesh(outside / 2 * ring, housing.outside / 2 * ring, 10)
    nodes = np.vstack([bushing, block])
    cells = np.vstack([inside, beyond + len(bushing)])
    rows: list[int] = []
    cols: list[int] = []
    vals: list[float] = []

    def add(dof: list[int], entries: Array) -> None:
        rows.extend(np.repeat(dof, len(dof)).tolist())
        cols.extend(np.tile(dof, len(dof)).tolist())
        vals.extend(entries.ravel().tolist())

    for number, cell in enumerate(cells):
        part = STEEL if number < len(inside) else (housing.modulus, housing.poisson)
        dof = [2 * int(c) + axis for c in cell for axis in (0, 1)]
        add(dof, element_stiffness(nodes[cell], *part))
    push = np.zeros(2 * len(nodes))
    stiff = 1e3 * STEEL[0]
    for i, (c, s) in enumerate(ring):
        a, b = len(bushing) - around + i, len(bushing) + i
        dof = [2 * a, 2 * a + 1, 2 * b, 2 * b + 1]
        along = np.array([c, s, -c, -s])
        add(dof, stiff * np.outer(along, along))
        push[dof] -= 0.5 * stiff * along
    for dof_held in (2 * (len(nodes) - 1), 2 * (len(nodes) - 1) + 1, 1, 2 * len(bushing) - 1):
        add([dof_held], np.array([1.0]))
    u = solved(rows, cols, vals, push).reshape(-1, 2)[:around]
    return float(-2 * np.sum(u * ring, axis=1).mean())


@derived("finite elements of bushing and housing, checked on an even wall against Lamé")
@pytest.mark.parametrize(
    ("least", "most", "housing"),
    [
        (5.0, 5.0, IRON),
        (4.0, 6.0, IRON),
        (2.0, 8.0, IRON),
        (3.0, 7.0, ALLOY),
        (3.0, 7.0, STEEL),
        (3.0, 7.0, STIFFEST),
    ],
)
def test_thin_and_thick_wall_bound_the_closing_of_an_eccentric_bushing(
    least: float, most: float, housing: tuple[float, float]
) -> None:
    around = Sleeve(45, 90, *housing)
    bushing = Sleeve(45 - least - most, 45, *STEEL)
    share = closing_share_of_uneven_wall(
        least_wall=least, most_wall=most, inner=bushing, outer=around
    )
    by_elements = pressed_bore(least, most, 45, around)
    assert share.low - 0.001 <= by_elements <= share.high + 0.001
    even = bore_closing_share(inner=bushing, outer=around)
    assert by_elements == pytest.approx(even, abs=0.001 if least == most else 0.07)


@derived("limit case: a very thin sleeve in a rigid housing follows its seat")
def test_a_foil_thin_sleeve_closes_by_the_whole_interference() -> None:
    rigid = Sleeve(45, math.inf, 1e12, 0.0)
    assert bore_closing_share(inner=Sleeve(44.99, 45, *STEEL), outer=rigid) == pytest.approx(
        1, abs=1e-3
    )


def test_soft_housing_takes_the_closing_from_the_bushing() -> None:
    bushing = Sleeve(35, 45, *STEEL)
    in_iron = bore_closing_share(inner=bushing, outer=Sleeve(45, 80, *IRON))
    in_alloy = bore_closing_share(inner=bushing, outer=Sleeve(45, 80, *ALLOY))
    assert in_alloy < in_iron < MAKERS_SHARE.low


def test_impossible_fits_are_refused() -> None:
    with pytest.raises(ValueError, match="at most twice as stiff"):
        closing_share_of_uneven_wall(
            least_wall=4, most_wall=6, inner=Sleeve(35, 45, *STEEL), outer=Sleeve(45, 90, 1e6, 0.3)
        )
    with pytest.raises(ValueError, match="no bore to close"):
        bore_closing_share(inner=Sleeve(0, 20, *STEEL), outer=Sleeve(20, 40, *STEEL))
    with pytest.raises(ValueError, match="expected one seat"):
        fit_pressure(inner=Sleeve(0, 19, *STEEL), outer=Sleeve(20, 40, *STEEL), interference=0.02)
    with pytest.raises(ValueError, match="0 to 1 per cent"):
        fit_pressure(inner=Sleeve(0, 20, *STEEL), outer=Sleeve(20, 40, *STEEL), interference=0.5)
    with pytest.raises(ValueError, match="bore < outside"):
        Sleeve(20, 20, *STEEL)
