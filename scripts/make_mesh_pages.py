"""Write docs/explanation/textbook-law.md and its pictures from the exact mesh.

Run from anywhere: python scripts/make_mesh_pages.py
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from mesh_pictures import frame_svg, law_svg
from wormwright.core.backlash import ClosedFormMesh
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.flank_first_order import FirstOrderMesh
from wormwright.core.mesh_pair import PairSizes, WheelKind, mesh_of_pair
from wormwright.core.mesh_results import ExactMesh

DOCS = Path(__file__).resolve().parent.parent / "docs"
PAGE = DOCS / "explanation" / "textbook-law.md"
FRAME, LAW = DOCS / "pictures" / "mesh-frame.svg", DOCS / "pictures" / "mesh-law.svg"

Array = NDArray[np.float64]
ARCSEC = math.radians(1 / 3600)
EXCESS = 0.025
"""Of the oversize hob, as a share of the worm radius."""
KINDS: tuple[WheelKind, ...] = ("hob-equal", "oversize-hob", "helical")
PAIRS: dict[str, PairSizes] = {
    "module 1.5, 72 teeth, one start, 20°, worm 24 mm, face 14 mm": PairSizes(
        teeth=72,
        starts=1,
        axial_module=1.5,
        axial_angle=math.radians(20),
        worm_d1=24.0,
        face=14.0,
    ),
    "16 DP, 90 teeth, one start, 14.5°, worm 28.6 mm, face 15 mm": PairSizes(
        teeth=90,
        starts=1,
        axial_module=1.5875,
        axial_angle=math.radians(14.5),
        worm_d1=28.6,
        face=15.0,
    ),
    "module 2, 40 teeth, two starts, 20°, worm 36 mm, face 20 mm": PairSizes(
        teeth=40,
        starts=2,
        axial_module=2.0,
        axial_angle=math.radians(20),
        worm_d1=36.0,
        face=20.0,
    ),
}
MOVES: dict[str, Place] = {
    "opened 0.10 mm": Place(da=0.1),
    "closed 0.05 mm": Place(da=-0.05),
    "sideways 0.10 mm": Place(dz=0.1),
    "opened 0.10, sideways 0.10 mm": Place(da=0.1, dz=0.1),
    "skewed +1 in 1000": Place(skew=1e-3),
    "opened 0.10 mm, skewed +1 in 1000": Place(da=0.1, skew=1e-3),
    "opened 0.10 mm, skewed −1 in 1000": Place(da=0.1, skew=-1e-3),
}
TABLES = ((7, 8), (9, 10), (13, 14))
FINE = (25, 28)
PHASES, MANY = (2, 4, 8), 24
HEAD = """# When the textbook law is wrong, and by how much

<!-- Made by scripts/make_mesh_pages.py from the exact mesh: change that, not this page. -->

The textbook has one law for the play of a worm and its wheel: moved apart by `a`, the play at the
pitch circle grows by `2 a tan(pressure angle)`. It holds for a plain helical wheel and for a
hollow one of no width. A real hollow wheel wraps round the worm, and there it goes wrong in three
ways:

- **opened**, it gains less than the law says: the edges of the face let go last;
- **sideways** and **skew** take play away, which the law does not know at all: the mesh feels
  closed while it stands too far out, reads well today, and loosens as its edges bed in;
- **closed**, it loses a little more than the law says, by the lead of the worm.

![Frame and signs, seen from the table top and from the wheel](../pictures/mesh-frame.svg)

Frame and signs: X along the worm, Y from wheel to worm, Z along the table axis, right-handed.
`da` moves the worm along Y (above zero apart), `dz` along Z, `sx` along X; `skew` turns it about
+Y, `tilt` about +Z, both by the right hand. The table turns + about Z. On the side toward the wheel
a right-hand thread gains along X as it falls along Z.

![Play against opening, sideways shift and skew, by kind of wheel](../pictures/mesh-law.svg)

The picture is for the first of the pairs below. A hollow wheel is cut by a hob equal to the worm or
by one 2.5 % larger in radius; all worms are right-hand, straight-sided in the axial section (ZA),
and stand where their wheel was cut before they are moved.

## Three pairs

Change of the least play over a pitch, at the pitch circle. "Law off" is what the textbook law says
too much, at the table.

"""
CONVERGED = """## How fine is fine enough

The wall of the wheel is tabled at some heights over the face and some radii at each; the table only
says where to look, the last steps are taken on the wall itself. So even a coarse table gives the
same play, until it is so coarse that a crest falls between its places. Most that any flank of any
move above differs from a table of {fine} at the same phases, for the three hob-equal wheels, whose
crests are the flattest:

{tables}

0.1″ is what the model promises at every phase. The tool takes 13 × 14.

How many worm phases a pitch needs: the least play over so many, against {many}, for the moves
above:

{phases}

The first-order model, against the exact one at 8 phases, for the moves above:

{first}

What the search itself leaves is held against brute force, which shares no code with it: see
[the exact mesh](exact-mesh.md).
"""


def main() -> None:
    for path, text in pages().items():
        path.write_text(text, encoding="utf-8", newline="\n")
        print(f"wrote {path}")


def pages() -> dict[Path, str]:
    """Every file that this script makes."""
    return {PAGE: page(), FRAME: frame_svg(), LAW: law_svg(curves())}


def page() -> str:
    """The page in words and tables."""
    parts = [HEAD]
    for name, pair in PAIRS.items():
        parts.append(f"### {name[0].upper()}{name[1:]}\n\n{_pair_table(pair)}\n\n")
    parts.append(
        CONVERGED.format(
            fine=" × ".join(map(str, FINE)),
            many=MANY,
            tables=_table_errors(),
            phases=_phase_errors(),
            first=_first_order_errors(),
        )
    )
    return "".join(parts)


@cache
def mesh_of(pair: PairSizes, kind: WheelKind) -> FlankMesh:
    excess = EXCESS * pair.worm_d1 / 2 if kind == "oversize-hob" else 0.0
    return mesh_of_pair(replace(pair, kind=kind, hob_excess=excess))


def closed_form(pair: PairSizes, kind: WheelKind) -> ClosedFormMesh:
    t, lead = math.tan(pair.axial_angle), pair.axial_module * pair.starts / pair.worm_d1
    excess = EXCESS * pair.worm_d1 / 2 if kind == "oversize-hob" else 0.0
    half = 0.0 if kind == "helical" else (pair.face or 0.0) / 2 / (pair.worm_d1 / 2 + excess)
    return ClosedFormMesh(t, lead, pair.worm_d1 / 2, pair.centre, half, excess)


def _all_meshes() -> Iterator[FlankMesh]:
    for pair in PAIRS.values():
        for kind in KINDS:
            yield mesh_of(pair, kind)


def _moves() -> Place:
    columns = zip(*MOVES.values(), strict=True)
    return Place(*(np.array(column, dtype=float) for column in columns))


def _pair_table(pair: PairSizes) -> str:
    lines = [
        "| moved | wheel | exact | closed form | textbook law | law off |",
        "|---|---|---:|---:|---:|---:|",
    ]
    places, t = _moves(), math.tan(pair.axial_angle)
    moved = {"da": places.da, "dz": places.dz, "skew": places.skew}
    results = {
        kind: (
            np.asarray(ExactMesh(mesh_of(pair, kind)).backlash_change(**moved)),
            np.asarray(closed_form(pair, kind).backlash_change(**moved)),
        )
        for kind in KINDS
    }
    for i, (name, place) in enumerate(MOVES.items()):
        law = 2 * t * float(place.da)
        for kind in KINDS:
            exact, closed = (float(result[i]) for result in results[kind])
            off = (law - exact) / pair.wheel_radius / ARCSEC
            figures = " | ".join(f"{_zero(v * 1000, 1)} µm" for v in (exact, closed, law))
            lines.append(f"| {name} | {kind} | {figures} | {_zero(off, 0)}″ |")
    return "\n".join(lines)


def _zero(value: float, places: int) -> str:
    """So many decimals, and no sign at nothing."""
    text = f"{value:.{places}f}"
    return text.lstrip("-").replace("-", "") if float(text) == 0 else text.replace("-", "−")


def _coarse(mesh: FlankMesh, across: int, down: int) -> FlankMesh:
    return FlankMesh(
        mesh.worm, mesh.wall, centre=mesh.centre, pitch=mesh.pitch, across=across, down=down
    )


def _table_errors() -> str:
    lines = ["| heights × radii | differs at the table |", "|---|---:|"]
    equal = [mesh_of(pair, "hob-equal") for pair in PAIRS.values()]
    fine = [(m, _coarse(m, *FINE).contacts(_moves(), phases=4)) for m in equal]
    for across, down in TABLES:
        worst = 0.0
        for mesh, best in fine:
            got = _coarse(mesh, across, down).contacts(_moves(), phases=4)
            for a, b in ((got.plus, best.plus), (got.minus, best.minus)):
                worst = max(worst, float(np.abs(a.turn - b.turn).max()) / mesh.radius / ARCSEC)
        lines.append(f"| {across} × {down} | {_at_most(worst)} |")
    return "\n".join(lines)


def _at_most(arcsec: float) -> str:
    """An error rounded up to one figure, in seconds of arc."""
    if arcsec < 1e-4:
        return "under 0.0001″"
    step = 10.0 ** math.floor(math.log10(arcsec))
    return f"under {math.ceil(arcsec / step - 1e-9) * step:.6g}″"


def _phase_errors() -> str:
    lines = ["| phases | least play too large by |", "|---|---:|"]
    many = [(m, m.contacts(_moves(), phases=MANY).backlash) for m in _all_meshes()]
    for count in PHASES:
        worst = max(
            float((b[:, :: MANY // count].min(axis=1) - b.min(axis=1)).max()) / m.radius / ARCSEC
            for m, b in many
        )
        lines.append(f"| {count} | {_at_most(worst)} |")
    return "\n".join(lines)


def _first_order_errors() -> str:
    lines = ["| wheel | differs |", "|---|---:|"]
    places = _moves()
    for kind in KINDS:
        worst = 0.0
        for pair in PAIRS.values():
            mesh = mesh_of(pair, kind)
            exact = mesh.contacts(places, phases=8).backlash.min(axis=1)
            first = FirstOrderMesh(mesh, phases=8).backlash(places).min(axis=1)
            worst = max(worst, float(np.abs(first - exact).max()))
        lines.append(f"| {kind} | under {math.ceil(worst * 1e4) / 10:g} µm |")
    return "\n".join(lines)


def curves() -> list[tuple[str, Array, dict[str, Array]]]:
    """What the chart shows: axis, places, and the change of play of each model [µm]."""
    pair = next(iter(PAIRS.values()))
    t = math.tan(pair.axial_angle)
    axes = (
        ("opened (+) or closed (−), mm", "da", np.linspace(-0.1, 0.2, 13), 1.0),
        ("sideways, mm", "dz", np.linspace(-0.2, 0.2, 17), 1.0),
        ("skew, in 1000", "skew", np.linspace(-3e-3, 3e-3, 13), 1e3),
    )
    out = []
    for words, name, values, scale in axes:
        move = {"da": np.zeros_like(values), name: values}
        lines: dict[str, Array] = {
            kind: 1000 * np.asarray(ExactMesh(mesh_of(pair, kind)).backlash_change(**move))
            for kind in KINDS
        }
        lines["textbook law"] = 1000 * 2 * t * move["da"]
        out.append((words, values * scale, lines))
    return out


if __name__ == "__main__":
    main()
