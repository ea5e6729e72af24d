"""Baseline sheet, row 1: hub, bore and seat of the wheel, for the drawing of it trued on them."""

from __future__ import annotations

from wormwright.job.kind import ReadingKind

_CALIPER = ("caliper, 0.02 mm / 0.001 in", 0.03)


def _size(
    key: str,
    words: tuple[str, str, str],
    *,
    by: tuple[str, float] = _CALIPER,
    limits: tuple[float, float],
    usual: tuple[float, float],
    tells: tuple[str, str],
) -> ReadingKind:
    """One size of the wheel or its seat; `words` are label, what to do and set-up."""
    return ReadingKind(
        key=key,
        row=1,
        label=words[0],
        dimension="length",
        do=words[1],
        set_up=words[2],
        instrument=by[0],
        noise=by[1],
        low=limits[0],
        high=limits[1],
        usual_low=usual[0],
        usual_high=usual[1],
        tells=tells[0],
        cannot_tell=tells[1],
        sensitivity="size only; wanted when the wheel is trued on its seat",
        minutes=2,
    )


WHEEL = (
    _size(
        "wheel_hub_outside",
        (
            "Wheel hub, outside diameter",
            "Measure over the hub of the wheel in two directions. A wheel without a hub: the "
            "largest circle round its bore that is clear of screw and pin holes.",
            "Wheel off, burrs off.",
        ),
        limits=(10.0, 400.0),
        usual=(18.0, 150.0),
        tells=("How thick a sleeve the bore can take.", "Cracks and old pin holes in the hub."),
    ),
    _size(
        "wheel_hub_length",
        (
            "Wheel hub, length through the bore",
            "Measure along the bore from face to face, rim included. A wheel without a hub: the "
            "thickness at the bore.",
            "Wheel off, burrs off; four places round.",
        ),
        limits=(3.0, 300.0),
        usual=(8.0, 90.0),
        tells=("The length of the sleeve, and how the wheel is held.", "Squareness of the faces."),
    ),
    _size(
        "wheel_pin",
        (
            "Pin or ball that lies in the tooth spaces of the wheel",
            "Choose a pin or ball that touches both flanks about half way up and stands proud of "
            "the tips; measure it.",
            "By trial in three spaces; a drill shank or a bearing ball will do.",
        ),
        limits=(0.5, 20.0),
        usual=(1.0, 6.0),
        tells=("Over what the runout of the teeth is read.", "Wear of the flanks."),
    ),
    _size(
        "wheel_bore",
        (
            "Wheel bore, as found",
            "Measure the bore or register of the wheel that sits on the table shaft, in two "
            "directions; write the larger.",
            "Wheel off, bore wiped; telescopic gauge and micrometer, or a bore gauge.",
        ),
        by=("micrometer, 0.01 mm / 0.0005 in", 0.01),
        limits=(5.0, 300.0),
        usual=(8.0, 100.0),
        tells=(
            "What the new bore must clean up.",
            "Whether the bore is concentric with the teeth.",
        ),
    ),
    _size(
        "table_seat",
        (
            "Table shaft where the wheel sits",
            "Measure the shaft or spigot of the table under the bore of the wheel, in two "
            "directions; write the larger.",
            "Wheel off, seat wiped, burrs off.",
        ),
        by=("micrometer, 0.01 mm / 0.0005 in", 0.003),
        limits=(5.0, 300.0),
        usual=(8.0, 100.0),
        tells=(
            "The size that the new seat of the wheel is bored to.",
            "Runout of the seat itself.",
        ),
    ),
)
