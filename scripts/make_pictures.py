"""Make the picture of the README from the router example: `python scripts/make_pictures.py`.

Causes of lost motion, the turn of the table and the drawing of the first bushing on one sheet. They
are the very pictures of the packet; nothing is drawn here but the sheet that holds them.
"""

from __future__ import annotations

import json
import tempfile
from dataclasses import replace
from pathlib import Path

import typst

from wormwright.app import new
from wormwright.app.correct import planned
from wormwright.app.problems import document
from wormwright.drawings import fonts_folder
from wormwright.job.blocks import ContributorBars, PolarMap
from wormwright.job.parts import EccentricBushing
from wormwright.packet import Style
from wormwright.packet.pictures import Pictures
from wormwright.stages.correct import report as remedy_report
from wormwright.stages.diagnose import report
from wormwright.store import JobFolder

EXAMPLE = "garage-router"
PICTURE = Path(__file__).resolve().parent.parent / "docs" / "pictures" / "packet.png"
DOTS_PER_INCH = 120
SHEET = """
#let data = json(bytes(sys.inputs.data))
#set page(width: 300mm, height: auto, margin: 8mm)
#set text(font: "DejaVu Sans", size: 10pt)
#let picture(key, ..how) = image(bytes(data.at(key)), format: "svg", ..how)
#let title(words) = align(center, text(weight: "bold", size: 13pt, words))
#grid(
  columns: (1fr, 1fr), gutter: 4mm, align: horizon,
  title[Where the lost motion comes from], title[Where on the turn],
  picture("causes", width: 100%), picture("turn", width: 100%),
)
#block({
  picture("drawing", width: 100%)
  place(top + center, dy: 4mm, title[One of the parts to make])
})
"""


def pictures() -> dict[str, str]:
    """The three pictures as SVG."""
    with tempfile.TemporaryDirectory() as place:
        new.start_job(Path(place) / "job", EXAMPLE, JobFolder.create)
        folder = JobFolder.open(Path(place) / "job")
        found = planned(folder)
    job = folder.job
    blocks = report(found.diagnosis, job)
    planned_blocks = remedy_report(found.remedy, job)
    causes = next(block for block in planned_blocks if isinstance(block, ContributorBars))
    turn = next(block for block in blocks if isinstance(block, PolarMap))
    assert found.remedy.chosen is not None
    parts = [part for c in found.remedy.chosen.corrections for part in c.parts]
    bushing = next(part for part in parts if isinstance(part, EccentricBushing))
    head = document("Traveler", folder, ())
    head = replace(head, unit_id=job.rotary.unit_id, job=job.name)  # undated: the same every day
    drawn = Pictures(Style(units=job.units, sheet=job.sheet), head)
    for part in parts[: parts.index(bushing)]:
        drawn.drawing(part)  # so that the bushing bears the number it has in the packet
    return {
        "causes": drawn.svg(causes),
        "turn": drawn.svg(turn),
        "drawing": drawn.drawing(bushing).svg,
    }


def sheet() -> bytes:
    """The composed picture as PNG."""
    return typst.compile(
        SHEET.encode(),
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(fonts_folder())]),
        format="png",
        ppi=DOTS_PER_INCH,
        sys_inputs={"data": json.dumps(pictures())},
    )


if __name__ == "__main__":
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_bytes(sheet())
    print(f"wrote {PICTURE}: {PICTURE.stat().st_size // 1024} kB")
