"""What the diagnosis admits: misfit, what it assumed, what was not measured."""

from __future__ import annotations

from wormwright.bench import Bench
from wormwright.job.result import Doubt
from wormwright.stages.diagnose.causes import DIRECT_KIND
from wormwright.stages.diagnose.fit import SURE_OF_MISFIT, Fit
from wormwright.stages.diagnose.ranges import LABELS
from wormwright.stages.diagnose.rows import Row, Rows

NO_ROCK = Doubt(
    "refuse",
    "D-2",
    "No rock reading can be used.",
    "The rock is the only reading that sees the lost motion itself.",
    "Rock the table against the held worm on a pin at a measured radius, at one position or more.",
)


def not_measured(rows: list[Row], wheel: bool, worm: bool, bench: Bench) -> tuple[str, ...]:
    """Causes and maps that no reading stands behind."""
    read = {row.kind for row in rows}
    missing = [LABELS[k] for k, kind in DIRECT_KIND.items() if k != "mesh" and kind not in read]
    if not wheel:
        missing.append("wheel runout (rock at three table positions or more)")
    if not worm:
        missing.append("worm runout (rock at three worm angles or more at one table place)")
    if not bench.of("drag_in_mesh"):
        missing.append("drag")
    return tuple(missing)


def doubts_of(fit: Fit, made: Rows) -> list[Doubt]:
    """Doubts about the fit and about what it had to assume."""
    out = []
    if fit.p < SURE_OF_MISFIT or fit.outside:
        beyond = ", ".join(LABELS.get(n, n.replace("_", " ")) for n in fit.outside)
        seen = (
            f"The readings do not fit plays inside the usual ranges "
            f"(chi-square {fit.chi_square:.1f} on {fit.degrees_of_freedom} degrees of freedom)."
        )
        out.append(
            Doubt(
                "warn",
                "D-1",
                seen + (f" Beyond its range: {beyond}." if beyond else ""),
                "A cause that is not on the sheet, a slip in a reading, or an unusual unit.",
                "Repeat the readings with the largest residuals, then look for a part that moves "
                "and was not read (worm carrier, bushing in the housing, wheel on its hub).",
                _suspects(fit, made.rows),
            )
        )
    if made.span_assumed:
        out.append(
            Doubt(
                "warn",
                "D-3",
                "The span between the worm bearings was not read; 2.5 worm diameters taken.",
                "The span decides how far worm float turns into lost motion.",
                "Measure the span between the bearing centres.",
            )
        )
    return out


def _suspects(fit: Fit, rows: list[Row]) -> tuple[int, ...]:
    off = [
        (abs(row.value - float(fit.predicted_in_range[i])) / row.u, row.seqs[0])
        for i, row in enumerate(rows)
    ]
    return tuple(seq for size, seq in sorted(off, reverse=True)[:3] if size > 2)
