"""A shim ring: face view, edge section (thickness enlarged when it cannot be seen), words."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.general import general_tolerance
from wormwright.drawings.sheet import PartText
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import Limits, ShimRing
from wormwright.job.rotary import Units

_LEAST_DRAWN = 2.0
"""A thinner edge [mm on paper] would be one thick line."""
_FROM_STOCK = 0.5
"""Up to this thickness [mm] a ring is cut from shim stock; a thicker one is turned and lapped."""
_HEAD, _FOOT, _SIDE = 16.0, 22.0, 146.0


def checked(part: ShimRing) -> ShimRing:
    """The same ring, or a refusal that names what cannot be made."""
    if part.inside.size + part.inside.upper >= part.outside.size + part.outside.lower:
        raise ValueError(
            f"shim {part.name} cannot be made: inside {part.inside.size} mm is not smaller "
            f"than outside {part.outside.size} mm"
        )
    least = part.thickness.size + part.thickness.lower
    most = part.thickness.size + part.thickness.upper
    _check_holes(part)
    if part.stack and not least - 1e-6 <= sum(part.stack) <= most + 1e-6:
        raise ValueError(
            f"shim {part.name}: the stack adds to {sum(part.stack):.3f} mm, "
            f"expected {least:.3f} to {most:.3f} mm; choose other pieces"
        )
    return part


def _check_holes(part: ShimRing) -> None:
    if not part.holes:
        return
    inner, outer = (part.circle - part.hole) / 2, (part.circle + part.hole) / 2
    inside = (part.inside.size + part.inside.upper) / 2
    outside = (part.outside.size + part.outside.lower) / 2
    if not (part.hole > 0 and inside < inner and outer < outside):
        raise ValueError(
            f"shim {part.name} cannot be made: holes of {part.hole} mm on a circle of "
            f"{part.circle} mm break out of the ring"
        )
    if math.pi * part.circle <= part.holes * part.hole:
        raise ValueError(f"shim {part.name} cannot be made: its {part.holes} holes meet")


def scale_for(part: ShimRing, views: Box) -> Fraction:
    """The largest standard scale at which the ring fits."""
    return style.largest_scale(
        views.width - _SIDE, views.height - _HEAD - _FOOT, part.outside.size, part.outside.size
    )


def draw_views(canvas: Canvas, part: ShimRing, views: Box, sheet: SheetStyle) -> None:
    """Face view and section."""
    scale = float(canvas.scale)
    pen = canvas.pen
    middle = views.bottom + _FOOT + (views.height - _HEAD - _FOOT) / 2
    half = part.outside.size / 2 * scale
    face = View((views.left + 45.0 + half, middle), scale)
    for size in (part.outside.size, part.inside.size):
        pen.circle(face.origin, size / 2 * scale, style.OUTLINE)
    _holes(canvas, part, face, sheet)
    frames.centre_cross(pen, face.origin, half + 3.0)
    frames.cutting_plane(
        pen,
        face.origin[0],
        middle - half - 3,
        middle + half + 3,
        towards=0.0 if sheet.first_angle else math.pi,
    )
    _section(canvas, part, (face.origin[0] + half + 54.0, middle), sheet)


def _holes(canvas: Canvas, part: ShimRing, face: View, sheet: SheetStyle) -> None:
    """Screw holes clear of the cutting plane, their circle and what they are."""
    if not part.holes:
        return
    pen, units = canvas.pen, sheet.units
    pen.circle(face.origin, part.circle / 2 * face.scale, style.CENTRE)
    first = 0.25 if part.holes % 2 else 0.5
    turns = [math.tau * (n + first) / part.holes + math.pi / 2 for n in range(part.holes)]
    hole = part.hole / 2 * face.scale
    for turned in turns:
        pen.circle(face.polar(part.circle / 2, turned), hole, style.OUTLINE)
    x, y = face.origin
    away = -1.0 if sheet.first_angle else 1.0  # the side that the cutting plane does not look to
    half = part.outside.size / 2 * face.scale
    dimensions.diameter(
        canvas,
        face.origin,
        part.circle / 2 * face.scale,
        angle=math.radians(270 + away * 38),
        elbow=(x + away * half * 0.8, y - half - 6.0),
        written=figures.plain(part.circle, units).before("Ø"),
        leftward=away < 0,
    )
    corner = math.radians(90 - away * 45)
    nearest = min(turns, key=lambda turned: abs(math.remainder(turned - corner, math.tau)))
    at, elbow = face.polar(part.circle / 2, nearest), (x + away * half * 0.8, y + half + 6.0)
    dimensions.diameter(
        canvas,
        at,
        hole,
        angle=math.atan2(elbow[1] - at[1], elbow[0] - at[0]),
        elbow=elbow,
        written=figures.plain(part.hole, units).before("Ø"),
        leftward=away < 0,
    )
    pen.text(f"{part.holes} holes, evenly spaced", (x, y - half - 16.5), 2.3, align="centre")


def _hole_words(part: ShimRing, units: Units) -> str:
    size = figures.plain(part.hole, units).before("Ø")
    return f"{part.holes} holes {size.inline}, evenly spaced"


def _section(canvas: Canvas, part: ShimRing, at: tuple[float, float], sheet: SheetStyle) -> None:
    scale, pen = float(canvas.scale), canvas.pen
    thick = part.thickness.size
    times = 1 if thick * scale >= _LEAST_DRAWN else style.detail_scale(thick * scale, _LEAST_DRAWN)
    drawn = thick * scale * int(times)
    x, y = at
    out, inn = part.outside.size / 2 * scale, part.inside.size / 2 * scale
    for low, high in ((inn, out), (-out, -inn)):
        loop = ((x, y + low), (x + drawn, y + low), (x + drawn, y + high), (x, y + high))
        pen.path(loop, style.OUTLINE, closed=True)
        canvas.hatch(loop)
    for side in (x, x + drawn):
        pen.line((side, y - inn), (side, y + inn), style.OUTLINE)
    pen.line((x - 3, y), (x + drawn + 3, y), style.CENTRE)
    units = sheet.units
    for column, half, size in ((16.0, inn, part.inside), (31.0, out, part.outside)):
        dimensions.linear(
            canvas,
            (x + drawn, y - half),
            (x + drawn, y + half),
            (x + drawn + column, y),
            figures.limits(size, units).before("Ø").fitted(size.fit),
            angle=math.pi / 2,
        )
    dimensions.linear(
        canvas,
        (x, y - out),
        (x + drawn, y - out),
        (x, y - out - 9.0),
        figures.limits(part.thickness, units),
        place="after",
        factor=float(1 / Fraction(times)),
    )
    pen.text(
        "SECTION A-A", (x + drawn / 2, y + out + 9.0), style.LABEL_HEIGHT, bold=True, align="centre"
    )
    if times > 1:
        note = f"thickness drawn {times} times larger; the figure is true"
        pen.text(note, (x + drawn / 2, y + out + 4.5), 2.2, align="centre")


def shim_text(part: ShimRing, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name=part.name[:1].upper() + part.name[1:],
        material=part.material,
        quantity=part.quantity,
        fits=(
            f"Thickness {_thickness(part.thickness, units)}",
            f"Inside {_size(part.inside, units)}",
            f"Outside {_size(part.outside, units)}",
            *_hole_fits(part, units),
        ),
        surface=f"faces {'as rolled' if part.stack else 'lapped'}, Ra 0.8 µm [32 µin]; edges 3.2 "
        "[125]",
        general=general_tolerance(units),
        edges="No burr at all on either face; do not chamfer",
        notes=(
            ("WHAT IT SETS", (part.purpose[:1].upper() + part.purpose[1:],)),
            ("HOW TO MAKE", _numbered(_steps(part, units))),
            ("CHECK AND WRITE DOWN", tuple(f"☐ {line}" for line in _checks(part, units))),
        ),
    )


def _hole_fits(part: ShimRing, units: Units) -> tuple[str, ...]:
    if not part.holes:
        return ()
    circle = figures.plain(part.circle, units).before("Ø").inline
    return (f"{_hole_words(part, units)} on {circle}",)


def _size(size: Limits, units: Units) -> str:
    words = f", {size.fit}" if size.fit else ""
    return f"{figures.limits(size, units).before('Ø').inline}{words}"


def _thickness(size: Limits, units: Units) -> str:
    words = f", {size.fit}" if size.fit else ""
    return f"{figures.limits(size, units).inline}{words}"


def _numbered(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{number} {line}" for number, line in enumerate(lines, start=1))


def _pieces(part: ShimRing, units: Units) -> str:
    return " + ".join(figures.fine(piece, units).inline for piece in part.stack)


def _steps(part: ShimRing, units: Units) -> tuple[str, ...]:
    from_stock = part.thickness.size <= _FROM_STOCK or bool(part.stack)
    cut = _PACKED if from_stock else _TURNED
    drilled = (
        (
            "Clamp it, or the whole pack, between two plates and drill the holes through; if they "
            "do not fall on the screws, spot them through the part above instead.",
        )
        if part.holes
        else ()
    )
    return (
        *_stock(part, units),
        *cut,
        *drilled,
        *(("Lap to thickness on fine paper on a plate.",) if from_stock and not part.stack else ()),
        "Stone both faces flat with a fine slip, edges free of burr to the fingernail. Wash.",
    )


_PACKED = (
    "Cut squares of stock, clamp them between two flat discs on a mandrel or in the four-jaw, with "
    "a sheet of card on each side.",
    "Bore, then turn the whole pack, sharp tool, light cuts. Do not use shears: they curl the "
    "edge.",
)
_TURNED = (
    "Turn outside and bore inside in one hold, part off a little thick.",
    "Lap both faces on fine paper on a surface plate, turning it in the hand, until the thickness "
    "is reached.",
)


def _stock(part: ShimRing, units: Units) -> tuple[str, ...]:
    """What to cut it from, when that is foil or rings from stock."""
    if len(part.stack) > 1:
        return (
            f"Stack of {len(part.stack)} rings from stock: {_pieces(part, units)}. Make every ring "
            "to the diameters drawn; thin rings go between thick ones.",
        )
    if part.stack:
        return (f"One ring from stock of {_pieces(part, units)}, left as rolled.",)
    if part.thickness.size <= _FROM_STOCK:
        return ("No stock at hand comes near enough: take the next thicker and lap it down.",)
    return ()


def _as_sold(part: ShimRing, units: Units) -> tuple[str, ...]:
    """That stock is sold with wider limits than the ring has, so that it is picked by measuring."""
    if not part.stack_most:
        return ()
    least, most = (figures.fine(s, units).inline for s in (part.stack_least, part.stack_most))
    return (
        f"Before cutting, measure the sheets: as sold they add to {least} up to {most}; swap "
        "pieces until they come within the limits ____",
    )


def _checks(part: ShimRing, units: Units) -> tuple[str, ...]:
    least = (part.outside.size - part.inside.size) / 2
    return (
        *_as_sold(part, units),
        f"Thickness at 4 places, clean, micrometer: {figures.limits(part.thickness, units).inline}"
        + (" for the whole stack squeezed together" if len(part.stack) > 1 else "")
        + " ____ ____ ____ ____",
        f"Inside {figures.limits(part.inside, units).inline}, outside "
        f"{figures.limits(part.outside, units).inline}, caliper or micrometer ____ ____ "
        f"(ring is {figures.plain(least, units).inline} wide)",
        "Flat: lies on a surface plate under a fingertip without a rock or a light gap",
        *(("All screws drop through by hand, with room on every side",) if part.holes else ()),
        part.touches or "Touches only the ring it is meant for, not the seal, not the other race",
    )
