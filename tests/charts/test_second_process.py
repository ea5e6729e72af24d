"""Charts from the second process: the same bytes, and never needed for a packet to come about."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

import pytest

from packet_samples import (
    blue_picture,
    closing_plane,
    contributor_bars,
    document,
    polar_map,
    section_picture,
)
from wormwright.charts import ChartBlock, chart_svg, second_process
from wormwright.charts.second_process import ChartProcess
from wormwright.job.rotary import Units
from wormwright.packet import Style
from wormwright.packet.pictures import Pictures

CHARTS = (contributor_bars(), polar_map(), closing_plane(), section_picture(), blue_picture())


@pytest.fixture
def always(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(second_process, "worthwhile", lambda: True)


@pytest.mark.usefixtures("always")
@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_second_process_draws_the_same_bytes(units: Units) -> None:
    with ChartProcess() as charts:
        charts.draw(CHARTS, units)
        assert charts.svgs() == tuple(chart_svg(block, units) for block in CHARTS)


@pytest.mark.usefixtures("always")
def test_a_process_that_fails_gives_no_pictures() -> None:
    with ChartProcess() as charts:
        charts.draw((contributor_bars(), "no chart"), "mm")  # type: ignore[arg-type]
        assert charts.svgs() == ()


@pytest.mark.usefixtures("always")
def test_a_process_that_cannot_start_gives_no_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", "/no such python")
    with ChartProcess() as charts:
        charts.draw(CHARTS, "mm")
        assert charts.svgs() == ()


@pytest.mark.usefixtures("always")
def test_no_process_outlives_its_packet() -> None:
    with ChartProcess() as charts:
        process = charts._process
        assert process is not None
        assert process.poll() is None
    assert process.poll() is not None


def test_no_process_is_started_where_the_library_is_loaded_or_one_processor_works(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert "matplotlib" in sys.modules
    assert not second_process.worthwhile()
    monkeypatch.delitem(sys.modules, "matplotlib")
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert second_process.worthwhile()
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    assert not second_process.worthwhile()


class Answers(ChartProcess):
    """A second process that answers what it is told to."""

    def __init__(self, *answers: str) -> None:
        super().__init__()
        self.answers = answers
        self.asked: tuple[tuple[ChartBlock, ...], Units] | None = None

    def draw(self, blocks: Sequence[ChartBlock], units: Units) -> None:
        self.asked = tuple(blocks), units

    def svgs(self) -> tuple[str, ...]:
        return self.answers


def test_a_packet_takes_the_pictures_it_asked_for_and_draws_the_others() -> None:
    bars, section, later = contributor_bars(), section_picture(), polar_map()
    to_come = document(bars, section)
    answers = Answers("<svg>bars</svg>", "<svg>section</svg>")
    pictures = Pictures(Style(), document(), (to_come,), answers)
    assert answers.asked == ((bars, section), "mm")
    assert pictures.svg(section) == "<svg>section</svg>"
    assert pictures.svg(bars) == "<svg>bars</svg>"
    assert pictures.svg(later) == chart_svg(later, "mm")


def test_a_packet_without_answers_draws_its_own_pictures() -> None:
    bars = contributor_bars()
    pictures = Pictures(Style(), document(), (document(bars),), Answers())
    assert pictures.svg(bars) == chart_svg(bars, "mm")
