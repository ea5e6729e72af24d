"""Pictures of results as SVG: causes, the turn, closing plane, bushing, blue marks, drives."""

from __future__ import annotations

from wormwright.job.blocks import (
    BluePicture,
    ClosingPlane,
    ContributorBars,
    DriveChart,
    Plot,
    PolarMap,
    SectionPicture,
)
from wormwright.job.rotary import Units

ChartBlock = (
    ContributorBars | PolarMap | Plot | ClosingPlane | SectionPicture | BluePicture | DriveChart
)


def chart_svg(block: ChartBlock, units: Units) -> str:
    """The picture of a block as one SVG, the same for page, PDF and file.

    Equal blocks give equal bytes in every process. Text stays text, so that it can be read,
    searched and spoken. The drawing library is loaded at the first call.
    """
    if isinstance(block, ContributorBars):
        from wormwright.charts.bars import bars_svg  # noqa: PLC0415

        return bars_svg(block, units)
    if isinstance(block, PolarMap):
        from wormwright.charts.polar import polar_svg  # noqa: PLC0415

        return polar_svg(block, units)
    if isinstance(block, Plot):
        from wormwright.charts.plot import plot_svg  # noqa: PLC0415

        return plot_svg(block, units)
    if isinstance(block, ClosingPlane):
        from wormwright.charts.plane import plane_svg  # noqa: PLC0415

        return plane_svg(block, units)
    if isinstance(block, BluePicture):
        from wormwright.charts.blue import blue_svg  # noqa: PLC0415

        return blue_svg(block, units)
    if isinstance(block, DriveChart):
        from wormwright.charts.drives import drive_svg  # noqa: PLC0415

        return drive_svg(block, units)
    from wormwright.charts.section import section_svg  # noqa: PLC0415

    return section_svg(block, units)


__all__ = ["ChartBlock", "chart_svg"]
