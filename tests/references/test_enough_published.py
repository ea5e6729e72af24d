"""The reference checks themselves: enough of them come from outside, and each says from where."""

from __future__ import annotations

import pytest

from published import collected, published, published_sources


def test_at_least_30_checks_stand_on_a_publication() -> None:
    sources = published_sources(collected())
    assert len(sources) >= 30, f"only {len(sources)} printed places are checked"


def test_every_published_check_names_work_edition_and_place() -> None:
    for check in collected():
        if check.kind == "published":
            assert all(part.strip() for part in check.source), check
        else:
            assert len(check.why) > 10, check


def test_one_place_in_print_counts_once_however_often_it_is_checked() -> None:
    checks = collected()
    doubled = checks + checks
    assert published_sources(doubled) == published_sources(checks)


def test_common_practice_is_no_publication() -> None:
    practice = [
        c.source for c in collected() if c.kind == "published" and c.known == "common practice"
    ]
    assert not published_sources(collected()).intersection(practice)


def test_a_check_without_its_edition_is_refused() -> None:
    def body() -> None:
        raise AssertionError

    with pytest.raises(ValueError, match="must say work, edition, place"):
        published(work="A book", edition="", place="p. 1", known="read")(body)
