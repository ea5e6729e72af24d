"""Write docs/reference/reading-kinds.md from the sheet: `python scripts/make_kind_docs.py`."""

from __future__ import annotations

from pathlib import Path

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet import KINDS, PURPOSES, PurposeSet, Want
from wormwright.quantities import Dimension, shown

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "reading-kinds.md"
HEAD = """# Reading kinds

<!-- Made by scripts/make_kind_docs.py from the sheet: change the sheet, not this page. -->

Every reading of the baseline sheet: what to do, with what, and what it can and cannot tell. The
name in code letters is what you type. *Noise* is one standard deviation of a careful reading; state
your own if you know better. *Believable* is the range that is accepted at all; *usual* is what an
as-found import of the 6 to 8 inch class shows.

Symbols in the lines "sees": j_c backlash between the flanks, s full play (w worm, g table shaft;
x along the worm, y toward the wheel, z along the table axis), s_gr radial play of the table shaft,
s_joint play between wheel and table, k a share from 0 to 1, t tangent of the axial pressure angle,
γ lead angle and g its tangent, φ (phi) table angle, θ half the face as seen from the worm axis,
r1 and r2 pitch radii, R pin radius, β pin from the worm direction, e throw, dz sideways shift,
a centre distance, da1 worm outside, da2 throat, de2 wheel outside, df2 wheel root, mx module,
px axial pitch, z1 starts, z2 teeth, x2 profile shift, M over wires W, i ratio, T torque,
K stiffness, α growth by heat. In the tilt M is the moment and W the width of the bearing; in a
runout c or e is the once-per-turn part and φ_c, φ_e where it is high; in the loop c is the
clearance, b the branch and h half the width that friction gives; ΔC is the change of the centres by
a rise ΔT.

"""


def main() -> None:
    PAGE.parent.mkdir(parents=True, exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8", newline="\n")
    print(f"wrote {PAGE}")


def page() -> str:
    """The whole page."""
    purposes = "".join(_purpose(p) for p in PURPOSES)
    kinds = "\n".join(_kind(kind) for kind in KINDS.values())
    return f"{HEAD}## The least set for each purpose\n\n{purposes}\n{kinds}"


def _purpose(purpose: PurposeSet) -> str:
    wants = "; ".join(_want(want) for want in purpose.wants)
    return f"- **{purpose.key}**: {purpose.question} {wants}.\n"


def _want(want: Want) -> str:
    text = " or ".join(f"`{kind}`" for kind in want.kinds)
    if want.count > 1:
        text += f" at {want.count} positions" if want.positions else f" × {want.count}"
    return text + (f" (only {' or '.join(want.only_for)})" if want.only_for else "")


def _kind(kind: ReadingKind) -> str:
    lines = [
        f"## {kind.key}",
        "",
        f"**{kind.label}** (row {kind.row}, about {kind.minutes:g} min"
        + (f", read it {kind.repeats} times)" if kind.repeats > 1 else ")"),
        "",
        f"- Do: {kind.do}",
        f"- Set-up: {kind.set_up}",
        f"- Instrument: {kind.instrument}",
    ]
    if kind.choices:
        lines.append(f"- One of: {', '.join(kind.choices)}")
    if kind.stations:
        lines.append(f"- At: {', '.join(kind.stations)}")
    if kind.needs_table_angle:
        lines.append("- Write the table angle with it.")
    lines += _figures(kind)
    lines += [_condition(c) for c in kind.conditions]
    lines += [
        f"- Tells: {kind.tells}",
        f"- Cannot tell: {kind.cannot_tell}",
        f"- Sees: {kind.sensitivity}",
    ]
    return "\n".join(lines) + "\n"


def _figures(kind: ReadingKind) -> list[str]:
    if kind.low is None or kind.high is None:
        return []
    if kind.usual_low is None or kind.usual_high is None or kind.noise is None:
        return [f"- Believable: {kind.low:g} to {kind.high:g}"]
    noise = _both(kind.noise, kind.dimension, kind.noise)
    if kind.dimension == "temperature":  # a difference, so no zero point
        noise = f"{kind.noise:g} K ({kind.noise * 1.8:g} °F)"
    share = f" and {kind.noise_share:.0%} of the reading" if kind.noise_share else ""
    return [
        f"- Noise: {noise}{share}",
        f"- Believable: {_span(kind.low, kind.high, kind)}; "
        f"usual: {_span(kind.usual_low, kind.usual_high, kind)}",
    ]


def _span(low: float, high: float, kind: ReadingKind) -> str:
    return " to ".join(_both(x, kind.dimension, abs(x) / 4) if x else "0" for x in (low, high))


def _both(value: float, dimension: Dimension, resolution: float) -> str:
    """The figure in mm units and, where it differs, in inch units."""
    metric = shown(value, dimension, resolution=resolution / 5, units="mm")
    inch = shown(value, dimension, resolution=resolution / 5, units="in")
    return metric if metric == inch else f"{metric} ({inch})"


def _condition(c: Condition) -> str:
    must = " **compulsory**" if c.compulsory else ""
    choices = f": {', '.join(c.choices)}" if c.choices else ""
    kind = "" if c.dimension == "none" else f" ({c.dimension})"
    return f"- With `{c.key}`{must}, {c.label}{kind}{choices}"


if __name__ == "__main__":
    main()
