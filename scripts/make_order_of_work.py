"""Write the tables of docs/explanation/order-of-work.md from the operations themselves.

`python scripts/make_order_of_work.py` rewrites the part between the two marks; a test compares it.
"""

from __future__ import annotations

from pathlib import Path

from wormwright.traveler import ALL
from wormwright.traveler.order import PRECEDENCE, directly_before

PAGE = Path(__file__).resolve().parent.parent / "docs" / "explanation" / "order-of-work.md"
START = "<!-- tables written by scripts/make_order_of_work.py: start -->"
END = "<!-- tables written by scripts/make_order_of_work.py: end -->"


def tables() -> str:
    """The operations with what they make stale, then the reasons for their order."""
    lines = [
        "| no. | operation | key | directly after | makes these readings stale |",
        "|---|---|---|---|---|",
    ]
    for op in ALL.values():
        numbers = dict.fromkeys(ALL[key].number for key in directly_before(op.key, ALL))
        before = ", ".join(numbers) or "–"
        stale = ", ".join(f"`{kind}`" for kind, _ in op.makes_stale) or "none"
        lines.append(f"| {op.number} | {op.title} | `{op.key}` | {before} | {stale} |")
    lines += ["", "| first | then | because | done again, the second is done again |"]
    lines.append("|---|---|---|---|")
    for edge in PRECEDENCE:
        again = "yes" if edge.redo else "no"
        lines.append(f"| `{edge.first}` | `{edge.then}` | {edge.why} | {again} |")
    return "\n".join(lines)


def page_with_tables(page: str) -> str:
    """The page with fresh tables between its marks."""
    head, _, rest = page.partition(START)
    _, _, tail = rest.partition(END)
    return f"{head}{START}\n{tables()}\n{END}{tail}"


if __name__ == "__main__":
    PAGE.write_text(page_with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
