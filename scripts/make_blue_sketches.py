"""Draw docs/pictures/blue-marks.svg, the sketches that a blue mark is picked from.

Run from anywhere: python scripts/make_blue_sketches.py
"""

from __future__ import annotations

from pathlib import Path

from wormwright.job.sheet_load import SKETCHES

PICTURE = Path(__file__).resolve().parent.parent / "docs" / "pictures" / "blue-marks.svg"
WIDE, HIGH, GAP, TEXT = 120, 60, 30, 14
"""Flank, space between two of them and height of the letters, px."""
COLUMNS = 4
BLUE = "#1f5fa8"

Box = tuple[float, float, float, float]
"""Left, top, width, height as shares of the flank; tip at the top, +Z at the right."""
MARKS: dict[str, tuple[Box, ...]] = {
    "centred patch": ((0.2, 0.2, 0.6, 0.6),),
    "full face": ((0.02, 0.06, 0.96, 0.88),),
    "plus edge": ((0.78, 0.15, 0.2, 0.7),),
    "minus edge": ((0.02, 0.15, 0.2, 0.7),),
    "both edges": ((0.02, 0.15, 0.16, 0.7), (0.82, 0.15, 0.16, 0.7)),
    "tip line": ((0.05, 0.03, 0.9, 0.14),),
    "root line": ((0.05, 0.83, 0.9, 0.14),),
}


def main() -> None:
    PICTURE.write_text(picture(), encoding="utf-8", newline="\n")
    print(f"wrote {PICTURE}")


def picture() -> str:
    """All sketches of the sheet in rows, each with the word to type."""
    rows = -(-len(SKETCHES) // COLUMNS)
    width = COLUMNS * (WIDE + GAP) + GAP
    height = rows * (HIGH + 2 * GAP) + 2 * GAP
    parts = "".join(_flank(word, *divmod(i, COLUMNS)) for i, word in enumerate(SKETCHES))
    told = "Flank of a wheel tooth seen square: tip at the top, table top (+Z) to the right"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" '
        f'font-family="sans-serif" font-size="{TEXT}">\n<title>{told}</title>\n'
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>\n'
        f'<text x="{GAP}" y="{GAP}">{told}</text>\n{parts}</svg>\n'
    )


def _flank(word: str, row: int, column: int) -> str:
    left, top = GAP + column * (WIDE + GAP), 2 * GAP + row * (HIGH + 2 * GAP)
    marks = "".join(
        f'<rect x="{left + x * WIDE:g}" y="{top + y * HIGH:g}" width="{w * WIDE:g}" '
        f'height="{h * HIGH:g}" rx="4" fill="{BLUE}"/>\n'
        for x, y, w, h in MARKS[word]
    )
    return (
        f'<rect x="{left}" y="{top}" width="{WIDE}" height="{HIGH}" fill="none" '
        f'stroke="#000000" stroke-width="1.5"/>\n{marks}'
        f'<text x="{left + WIDE / 2:g}" y="{top + HIGH + 1.4 * TEXT:g}" '
        f'text-anchor="middle">{word}</text>\n'
    )


if __name__ == "__main__":
    main()
