"""Pictures of results as SVG: causes, the turn, closing plane, bushing, blue marks, drives."""

from __future__ import annotations

from collections.abc import Mapping

from wormwright.job.blocks import (
    BluePicture,
    ClosingPlane,
    ContributorBars,
    DriveChart,
    Plot,
    PolarMap,
    SectionPicture,
    UnitLabel,
)
from wormwright.job.rotary import Units

ChartBlock = (
    ContributorBars
    | PolarMap
    | Plot
    | ClosingPlane
    | SectionPicture
    | BluePicture
    | DriveChart
    | UnitLabel
)


_DRAWN: Mapping[type, tuple[str, str]] = {
    ContributorBars: ("bars", "bars_svg"),
    PolarMap: ("polar", "polar_svg"),
    Plot: ("plot", "plot_svg"),
    ClosingPlane: ("plane", "plane_svg"),
    BluePicture: ("blue", "blue_svg"),
    DriveChart: ("drives", "drive_svg"),
    SectionPicture: ("section", "section_svg"),
    UnitLabel: ("label", "label_svg"),
}
"""Block -> the module of this package that draws it, and its function."""


def chart_svg(block: ChartBlock, units: Units) -> str:
    """The picture of a block as one SVG, the same for page, PDF and file.

    Equal blocks give equal bytes in every process. Text stays text, so that it can be read,
    searched and spoken. The drawing library is loaded at the first call.
    """
    from importlib import import_module  # noqa: PLC0415

    module, name = _DRAWN[type(block)]
    svg: str = getattr(import_module(f"{__name__}.{module}"), name)(block, units)
    return svg


__all__ = ["ChartBlock", "chart_svg"]
