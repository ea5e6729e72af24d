"""The page on the order of work says what the code does."""

from __future__ import annotations

from make_order_of_work import PAGE, page_with_tables, tables
from wormwright.traveler import ALL
from wormwright.traveler.limits import COUPLING_OFFSET, DRAG_RATIO, ENDS_APART, HALF_THOU, ONE_TENTH


def test_the_tables_of_the_page_are_the_ones_in_the_code() -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert page == page_with_tables(page), "run: python scripts/make_order_of_work.py"
    assert all(f"`{key}`" in tables() for key in ALL)


def test_the_page_gives_the_limits_of_practice_that_the_gates_use() -> None:
    page = PAGE.read_text(encoding="utf-8")
    for figure in (
        f"half a thou ({HALF_THOU} mm)",
        f"one tenth ({ONE_TENTH * 1000} µm)",
        f"{ENDS_APART * 1000:.0f} µm, or the skew",
        f"| coupling offset | {COUPLING_OFFSET} mm |",
        f"| drag, highest against median | {DRAG_RATIO:.0f} |",
    ):
        assert figure in page
