"""Report blocks: what a stage wants shown. Renderers draw them and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from wormwright.job.result import Doubt, Estimate
from wormwright.quantities import Dimension

if TYPE_CHECKING:  # families of nouns that a diagnosis has no use for
    from wormwright.job.corrections import ClosingPicture
    from wormwright.job.drive_charts import StackedError, TorqueCurves
    from wormwright.job.parts import Part


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 opens a chapter."""

    text: str
    level: int = 1


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Plain words. `strong` for the sentence that carries the verdict."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Cautions:
    """Cautions for hands and eyes, shown boxed and in words."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Doubts:
    """Refusals, questions and warnings, each with what to do."""

    doubts: tuple[Doubt, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure in a table: an estimate shown with its uncertainty, or a bare length, or words.

    If `estimate` is set the renderer shows value ± U in the job's units (both units for lengths
    when `both`). If `number` is set it is shown to the last digit that `resolution` carries.
    `strong` marks the one that counts; words must say so as well.
    """

    text: str = ""
    estimate: Estimate | None = None
    number: float | None = None
    dimension: Dimension = "none"
    resolution: float | None = None
    both: bool = False
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption. Every row has as many cells as `columns`.

    With `one_unit` the figures of a column share one unit, which its heading names.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    key: str = ""
    one_unit: bool = False


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbered things to do, with a tick box each when `ticks`."""

    lines: tuple[str, ...]
    ticks: bool = False


@dataclass(frozen=True, slots=True)
class OperationBlock:
    """One operation of the traveler as printed: boxes to tick, a blank for each gate value.

    `if_failed` says for each gate that can fail what to do then and where to go back to.
    """

    number: str
    title: str
    state: str
    cautions: tuple[str, ...]
    tools: tuple[str, ...]
    do: tuple[str, ...]
    read: tuple[str, ...]
    gates: tuple[tuple[str, str, str], ...]
    makes_stale: str
    go_back: str
    sign: str
    if_failed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of the contributor chart, before and after (None: unknown), one dimension for all."""

    label: str
    found: Estimate
    predicted: Estimate | None = None


@dataclass(frozen=True, slots=True)
class ContributorBars:
    """Contributors as found and as predicted; `measures` names what the bars measure."""

    caption: str
    bars: tuple[Bar, ...]
    total_found: Estimate
    allowed: float | None = None
    total_predicted: Estimate | None = None
    measures: str = "Lost motion at the table"


@dataclass(frozen=True, slots=True)
class Round:
    """A second curve round the turn at the same angles, rad, with its own tight spot."""

    name: str
    mean: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    tight: float | None


@dataclass(frozen=True, slots=True)
class PolarMap:
    """Play round the turn: angles rad, play rad, the tight spot.

    `what` is the play that is shown, `band` what lies between `low` and `high`; `after` the same
    after something was done.
    """

    caption: str
    angles: NDArray[np.float64]
    mean: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    points_angle: NDArray[np.float64]
    points_value: NDArray[np.float64]
    tight: Estimate | None
    what: str = "lost motion"
    band: str = "95 % band"
    after: Round | None = None


@dataclass(frozen=True, slots=True)
class Trace:
    """One line or set of points of a plot, core units; `half` is half of its 95 % interval.

    `numbers` says that its values belong in the table beside the plot.
    """

    label: str
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    look: Literal["line", "dashed", "dots", "hollow", "crosses", "bars"] = "line"
    half: NDArray[np.float64] | None = None
    numbers: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """Lines and points over an axis, or round the turn when `polar`.

    `says` is what it shows in words. Round the turn x is the table angle and the radius is y from
    an inner circle, much enlarged; `limits` are values of y to be marked.
    """

    caption: str
    says: str
    x_name: str
    x_dimension: Dimension
    y_name: str
    y_dimension: Dimension
    traces: tuple[Trace, ...]
    polar: bool = False
    limits: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class ClosingPlane:
    """The picture of the plane (sideways, closing)."""

    caption: str
    picture: ClosingPicture


@dataclass(frozen=True, slots=True)
class SectionPicture:
    """The bushing in its bore, to scale (throw drawn enlarged and said so)."""

    caption: str
    bushing_outside: float
    bushing_bore: float
    throw: float
    angle: float
    worm_outside: float
    wheel_direction: float


@dataclass(frozen=True, slots=True)
class FlankMark:
    """The gap on one flank of a wheel tooth, mm, and its mark in words.

    `across` (z, from -Z to +Z), `height` above the lowest place of the root and `gap` are of one
    shape, (places across, places up); `root` and `tip` bound the flank at each place across.
    """

    across: NDArray[np.float64]
    height: NDArray[np.float64]
    gap: NDArray[np.float64]
    root: NDArray[np.float64]
    tip: NDArray[np.float64]
    words: str


@dataclass(frozen=True, slots=True)
class BlueState:
    """How a tooth is marked while the worm stands in one way, and what to do then.

    `plus` is the flank that carries while the worm drives the table its plus way. `crest` is the
    room of the worm crest over the root at each place across where it rests on it, mm.
    """

    name: str
    plus: FlankMark
    minus: FlankMark
    do: str
    crest: NDArray[np.float64] | None = None


@dataclass(frozen=True, slots=True)
class BluePicture:
    """Marks of a film of blue [mm] for the set position and the usual faults.

    `plus_enters_at` is the side of the face, +1 for +Z, where the thread enters the plus flank; it
    enters the minus flank at the other side.
    """

    caption: str
    film: float
    plus_enters_at: int
    states: tuple[BlueState, ...]


@dataclass(frozen=True, slots=True)
class DriveChart:
    """A chart about drives: torque against speed, or errors stacked by cause."""

    caption: str
    chart: TorqueCurves | StackedError


@dataclass(frozen=True, slots=True)
class PartDrawing:
    """A drawing of a part to make, embedded beside the numbers."""

    caption: str
    name: str
    part: Part


@dataclass(frozen=True, slots=True)
class UnitLabel:
    """A label to stick on a unit or hang on the wall: its mark, a few lines, a code to scan."""

    caption: str
    unit: str
    lines: tuple[str, ...]
    code: str


Block = (
    Heading
    | Paragraph
    | Cautions
    | Doubts
    | Table
    | Steps
    | OperationBlock
    | ContributorBars
    | PolarMap
    | Plot
    | ClosingPlane
    | SectionPicture
    | BluePicture
    | DriveChart
    | PartDrawing
    | UnitLabel
)
