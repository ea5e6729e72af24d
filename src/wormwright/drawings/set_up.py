"""The set-up on the machine: side view and end view to scale, what meets marked with letters."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from string import ascii_uppercase

from wormwright.core.envelope import Block, Span, Sweep
from wormwright.drawings import dimensions, figures, notes, side_column, style
from wormwright.drawings.canvas import Canvas, Pen, Point, View
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.sheet import PartText
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import SetUp
from wormwright.job.parts_mount import Meeting
from wormwright.job.rotary import Units

_COLUMN, _BETWEEN, _LEFT, _HEAD, _FOOT = 62.0, 12.0, 16.0, 12.0, 17.0
_BESIDE = 30.0
"""Table drawn beyond what stands on it, mm of the machine."""
_LABEL, _WIDE, _HIGH = 2.6, 4.4, 3.6
MOST_MARKED = 6
"""So many meetings are marked with letters; the rest stand in the report."""


@dataclass(slots=True)
class _Frame:
    """What of the machine is drawn: spans along, across and up."""

    x: Span
    y: Span
    z: Span


@dataclass(slots=True)
class _Labels:
    """Numbers and letters set so far, so that none covers another."""

    pen: Pen
    room: Box
    taken: list[Box] = field(default_factory=list)

    def put(self, words: str, at: Point, layer: str = style.DIMENSION) -> None:
        """Words at a point, or as near to it as there is room, with a line to it."""
        for step in range(12):
            for way in ((0, 0), (0, 1), (1, 0), (-1, 0), (0, -1), (1, 1), (-1, 1), (1, -1)):
                x, y = at[0] + way[0] * step * 2.0, at[1] + way[1] * step * 2.0
                box = Box(x - _WIDE / 2, y - _HIGH / 2, x + _WIDE / 2, y + _HIGH / 2)
                if (step == 0) == (way == (0, 0)) and self._free(box):
                    self._set(words, at, (x, y), layer)
                    self.taken.append(box)
                    return

    def _free(self, box: Box) -> bool:
        inside = (
            box.left >= self.room.left
            and box.right <= self.room.right
            and box.bottom >= self.room.bottom
            and box.top <= self.room.top
        )
        return inside and not any(
            box.left < t.right and t.left < box.right and box.bottom < t.top and t.bottom < box.top
            for t in self.taken
        )

    def _set(self, words: str, at: Point, put: Point, layer: str) -> None:
        if put != at:
            self.pen.line(at, put, style.THIN if layer == style.DIMENSION else layer)
        spot = (put[0], put[1] - _LABEL / 2)
        self.pen.text(words, spot, _LABEL, bold=True, align="centre", layer=layer)


def checked(part: SetUp) -> SetUp:
    """The same set-up, or a refusal where there is nothing to draw."""
    refuse_faults("set-up cannot be drawn", ((not part.turning, "nothing turns in it"),))
    return part


def _frame(part: SetUp) -> _Frame:
    standing = [b for b in part.blocks if b.z[0] >= 0 and b.z[1] - b.z[0] < 1e4]
    own = [b for b in standing if b.y[0] > -300]
    xs = [v for b in own for v in b.x] + [v for t in part.turning for v in t.x]
    half = max([abs(v) for b in own for v in b.y] + [t.radius for t in part.turning])
    top = max(
        [b.z[1] for b in own]
        + [part.axis + t.radius for t in part.turning]
        + [s.z[0] + min(s.z[1] - s.z[0], 30.0) for s in part.sweeps]
        + [b.z[0] + 20.0 for b in standing if b not in own]
    )
    lowest = min((b.z[0] for b in part.blocks if b.z[0] < 0), default=0.0)
    return _Frame(
        (min(xs) - _BESIDE, max(xs) + _BESIDE),
        (-half - _BESIDE, half + _BESIDE),
        (max(lowest, -20.0), top + 5.0),
    )


def scale_for(part: SetUp, views: Box) -> Fraction:
    """The largest standard scale at which both views fit side by side."""
    f = _frame(part)
    return style.largest_scale(
        views.width - _COLUMN - _BETWEEN - 2 * _LEFT,
        views.height - _HEAD - _FOOT,
        f.x[1] - f.x[0] + f.y[1] - f.y[0],
        f.z[1] - f.z[0],
    )


def draw_views(canvas: Canvas, part: SetUp, views: Box, sheet: SheetStyle) -> None:
    """Side view and end view on one level, the words beside them."""
    f, s = _frame(part), float(canvas.scale)
    long, wide = (f.x[1] - f.x[0]) * s, (f.y[1] - f.y[0]) * s
    room = views.width - _COLUMN
    spare = (room - long - wide - _BETWEEN - _LEFT) / 2
    low = views.bottom + _FOOT - f.z[0] * s
    first = wide if sheet.first_angle else long
    left = views.left + spare + (_LEFT if not sheet.first_angle else 4.0)
    right = left + first + _BETWEEN + (_LEFT - 4.0 if sheet.first_angle else 0.0)
    side_left, end_left = (right, left) if sheet.first_angle else (left, right)
    side = View((side_left - f.x[0] * s, low), s)
    end = View((end_left - f.y[0] * s, low), s)
    labels = _Labels(
        canvas.pen, Box(views.left + 1, views.bottom + 1, views.right - _COLUMN, views.top - 1)
    )
    _side_view(canvas, part, side, f, labels)
    _end_view(canvas, part, end, f)
    _measures(canvas, part, side, f, sheet)
    for view, x, words in ((side, f.x, "From the side"), (end, f.y, "From the work end")):
        middle = view.at((x[0] + x[1]) / 2, 0)[0]
        canvas.pen.text(words, (middle, views.top - 6.0), 3.0, bold=True, align="centre")
    at = (views.right - _COLUMN + 3.0, views.top - 7.0)
    side_column.write_column(canvas.pen, at, _COLUMN - 5.0, _groups(part, sheet.units))


def _clip(span: Span, to: Span) -> Span | None:
    low, high = max(span[0], to[0]), min(span[1], to[1])
    return (low, high) if low < high else None


def _rectangle(pen: Pen, view: View, across: Span | None, up: Span | None, layer: str) -> None:
    if across is None or up is None:
        return
    (a, b), (c, d) = across, up
    corners = ((a, c), (b, c), (b, d), (a, d))
    pen.path([view.at(*corner) for corner in corners], layer, closed=True)


def _tools(part: SetUp) -> list[tuple[Sweep, float]]:
    """Each piece of the tool and where it is drawn: cutting near the jaws, up at the end."""
    return [(s, s.x[0] if "cutting" in s.name else s.x[1]) for s in part.sweeps]


def _side_view(canvas: Canvas, part: SetUp, view: View, f: _Frame, labels: _Labels) -> None:
    pen = canvas.pen
    names = _numbers(part)
    for letter, meeting in _marked(part):
        _mark(part, labels, letter, meeting, view)
    for block in part.blocks:
        x, z = _clip(block.x, f.x), _clip(block.z, f.z)
        _rectangle(pen, view, x, z, _layer(block))
        if x and z and block.z[0] < 0:
            corners = ((x[0], z[0]), (x[1], z[0]), (x[1], z[1]), (x[0], z[1]))
            canvas.hatch([view.at(*c) for c in corners])
        elif x and z:
            labels.put(names[block.name], _middle(view, x, z))
    for body in part.turning:
        up = (part.axis - body.radius, part.axis + body.radius)
        _rectangle(pen, view, body.x, up, style.OUTLINE)
        labels.put(names[body.name], _middle(view, body.x, (part.axis, up[1])))
    for piece, x0 in _tools(part):
        layer = style.OUTLINE if "cutting" in piece.name else style.HIDDEN
        across, up_ = (x0 - piece.radius, x0 + piece.radius), _clip(piece.z, f.z)
        _rectangle(pen, view, across, up_, layer)
        if up_:
            labels.put(names[_plain(piece.name)], _middle(view, across, up_))
    pen.line(view.at(f.x[0], part.axis), view.at(f.x[1], part.axis), style.CENTRE)


def _end_view(canvas: Canvas, part: SetUp, view: View, f: _Frame) -> None:
    pen, s = canvas.pen, view.scale
    for block in part.blocks:
        y, z = _clip(block.y, f.y), _clip(block.z, f.z)
        _rectangle(pen, view, y, z, _layer(block))
        if y and z and block.z[0] < 0:
            corners = ((y[0], z[0]), (y[1], z[0]), (y[1], z[1]), (y[0], z[1]))
            canvas.hatch([view.at(*c) for c in corners])
    for body in part.turning:
        pen.circle(view.at(0.0, part.axis), body.radius * s, style.OUTLINE)
    for piece in part.sweeps:
        layer = style.OUTLINE if "cutting" in piece.name else style.HIDDEN
        _rectangle(pen, view, (-piece.radius, piece.radius), _clip(piece.z, f.z), layer)
    pen.line(view.at(0.0, f.z[0]), view.at(0.0, f.z[1]), style.CENTRE)
    pen.line(view.at(f.y[0], part.axis), view.at(f.y[1], part.axis), style.CENTRE)


def _middle(view: View, across: Span, up: Span) -> Point:
    return view.at((across[0] + across[1]) / 2, (up[0] + up[1]) / 2)


def _layer(block: Block) -> str:
    """A bridge passes over everything: it is drawn dashed."""
    return style.HIDDEN if block.name == "bridge" else style.OUTLINE


def _mark(part: SetUp, labels: _Labels, letter: str, meeting: Meeting, view: View) -> None:
    """The overlap filled, or a ring in the gap, and a letter beside it."""
    one, other = _spans(part, meeting.first), _spans(part, meeting.second)
    if one is None or other is None:
        return
    shared = [_clip(a, b) for a, b in zip(one, other, strict=True)]
    x, z = (_between(a, b) for a, b in zip(one, other, strict=True))
    if shared[0] and shared[1]:
        (left, right), (low, high) = shared[0], shared[1]
        corners = ((left, low), (right, low), (right, high), (left, high))
        labels.pen.filled([view.at(*corner) for corner in corners], style.ACCENT)
    else:
        labels.pen.circle(view.at(x, z), 1.6, style.ACCENT)
    at = view.at(x, z)
    labels.taken.append(Box(at[0] - 1.6, at[1] - 1.6, at[0] + 1.6, at[1] + 1.6))
    labels.put(letter, at, style.ACCENT)


def _plain(name: str) -> str:
    return name.partition(",")[0]


def _numbers(part: SetUp) -> dict[str, str]:
    """A number for each body; cutter, nut and nose have one each, up and cutting alike."""
    names = [b.name for b in part.blocks] + [t.name for t in part.turning]
    names += [_plain(s.name) for s in part.sweeps]
    return {name: str(n) for n, name in enumerate(dict.fromkeys(names), start=1)}


def _marked(part: SetUp) -> list[tuple[str, Meeting]]:
    bad = [m for m in part.meetings if m.state != "clear"][:MOST_MARKED]
    return list(zip(ascii_uppercase, bad, strict=False))


def _spans(part: SetUp, name: str) -> tuple[Span, Span] | None:
    """A body's span along and up, as it is drawn."""
    for block in part.blocks:
        if block.name == name:
            return block.x, block.z
    for body in part.turning:
        if body.name == name:
            return body.x, (part.axis - body.radius, part.axis + body.radius)
    for piece, x0 in _tools(part):
        if piece.name == name:
            return (x0 - piece.radius, x0 + piece.radius), piece.z
    return None


def _between(one: Span, other: Span) -> float:
    return (max(one[0], other[0]) + min(one[1], other[1])) / 2


def _measures(canvas: Canvas, part: SetUp, view: View, f: _Frame, sheet: SheetStyle) -> None:
    """Height of the axis at the left; length of the work below."""
    units = sheet.units
    left, floor = view.at(f.x[0], 0.0), view.at(0.0, f.z[0])[1]
    dimensions.linear(
        canvas,
        left,
        view.at(f.x[0], part.axis),
        (left[0] - 8.0, 0.0),
        figures.plain(part.axis, units),
        angle=math.pi / 2,
        place="on" if part.axis * view.scale > 24 else "after",
    )
    work = part.turning[-1]
    start, end = view.at(work.x[0], 0.0), view.at(work.x[1], 0.0)
    dimensions.linear(
        canvas,
        (start[0], floor),
        (end[0], floor),
        (0.0, floor - 8.0),
        figures.plain(work.x[1] - work.x[0], units),
        place="on" if end[0] - start[0] > 26 else "after",
    )


def _groups(part: SetUp, units: Units) -> tuple[tuple[str, tuple[str, ...]], ...]:
    names = tuple(f"{number}  {name}" for name, number in _numbers(part).items())
    marked = _marked(part)
    lines = tuple(_meeting(letter, m, units) for letter, m in marked)
    more = sum(m.state != "clear" for m in part.meetings) - len(marked)
    if more > 0:
        lines = (*lines, f"and {more} more, see the report")
    if not lines:
        lines = ("nothing: every pair has its room",)
    return (
        ("WHAT MEETS OR IS TOO NEAR", lines),
        ("BODIES", names),
        ("TOOL", ("full lines: cutting, at the jaws; dashed: head up, at the end of the work",)),
    )


def _meeting(letter: str, m: Meeting, units: Units) -> str:
    size = notes.size(abs(m.room), units)
    how = f"meet by {size}" if m.room < 0 else f"only {size} apart"
    return f"{letter}  {m.first} and {m.second}: {how}"


def set_up_text(part: SetUp, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name="Set-up on the machine",
        material="as in the drawings of its parts",
        quantity=1,
        fits=(
            f"Axis {notes.size(part.axis, units)} over the machine table",
            f"Riser under the unit: {notes.size(part.riser, units)}",
        ),
        surface="none; nothing is made from this sheet",
        general="sizes as given in job.toml, to scale",
        edges="none",
        notes=(
            (
                "HOW TO READ IT",
                (
                    "Bodies that turn are drawn as far as they reach in a turn, the jaws at full "
                    "opening. A letter stands where two bodies meet or are too near.",
                ),
            ),
            ("CHECK ON THE MACHINE, POWER OFF", notes.ticked(_checks(part))),
        ),
    )


def _checks(part: SetUp) -> tuple[str, ...]:
    tail = any(b.name == "tail" for b in part.blocks)
    return (
        "Turn the axis by hand through a full turn, jaws as for the work: nothing touches",
        "Head down by hand to the lowest cut, beside the jaws and at the end of the work",
        "Head up: tool over jaws and work by hand, along the whole travel",
        *(("Tail locked, centre out as drawn: its body clears the tool",) if tail else ()),
        "Hoses, cables and the motor of the unit clear the moving head over the whole travel",
    )
