"""The bushing in its bore in two layers: what stands still, and what turns with the bushing.

A page lays the second over the first and turns it; neither is drawn anew. Both are plain outlines,
so they are written down as they are; there are no axes in them. Seen on the flange face of end A,
the wheel to the left, the table top up; zero degrees points at the wheel.
"""

from __future__ import annotations

from wormwright.charts.section import enlargement
from wormwright.job.blocks import SectionPicture

_BORE = 62.0
_INK, _BLUE, _GREY = "#000", "#1b4f91", "#777"
_HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-100 -100 200 200" width="400" height="400" '
    'font-family="DejaVu Sans, Verdana, sans-serif" font-size="7.5">'
)


def still_layer(block: SectionPicture) -> str:
    """Housing, the way to the wheel, the table top, and by how much the throw is enlarged."""
    times = enlargement(block)
    said = f"throw drawn {times} times too large" if times > 1 else "throw drawn to scale"
    return (
        f"{_HEAD}"
        f'<rect x="-78" y="-78" width="156" height="156" fill="#f2f2f2" stroke="{_GREY}"/>'
        f'<circle r="{_BORE}" fill="#fff" stroke="{_INK}" stroke-width="1.5"/>'
        f'<path d="M-62 0H-96M-90 -3L-97 0L-90 3" fill="none" stroke="{_INK}" stroke-width="1.2"/>'
        f'<text x="-99" y="-5">wheel</text>'
        f'<path d="M0 -62V-92M-3 -86L0 -93L3 -86" fill="none" stroke="{_INK}" stroke-width="1.2"/>'
        f'<text x="4" y="-88">table top</text>'
        f'<text x="0" y="96" text-anchor="middle">{said}</text></svg>'
    )


def turning_layer(block: SectionPicture) -> str:
    """Bushing with its pop mark, the bearing seat and the worm, the throw pointing at the wheel."""
    scale = _BORE / (block.bushing_outside / 2)
    shift = enlargement(block) * block.throw * scale
    seat, worm = (r / 2 * scale for r in (block.bushing_bore, block.worm_outside))
    return (
        f"{_HEAD}"
        f'<circle r="{_BORE - 0.8:.2f}" fill="#dbe6f5" stroke="{_BLUE}" stroke-width="1.6"/>'
        f'<circle cx="{-shift:.2f}" r="{seat:.2f}" fill="#fff" stroke="{_INK}" stroke-width="1.4"/>'
        f'<circle cx="{-shift:.2f}" r="{worm:.2f}" fill="none" stroke="{_BLUE}" '
        f'stroke-width="1.2" stroke-dasharray="5 2 1 2"/>'
        f'<path d="M0 0H{-shift:.2f}" stroke="{_INK}" stroke-width="2"/>'
        f'<circle r="1.6"/><circle cx="{-shift:.2f}" r="1.6"/>'
        f'<circle cx="{-(_BORE - 5):.2f}" r="3" fill="none" stroke="{_BLUE}" stroke-width="1.6"/>'
        f'<circle cx="{-(_BORE - 5):.2f}" r="0.9" fill="{_BLUE}"/></svg>'
    )
