"""Packing under a bolted worm block: the right way, alike pieces, drawn only from what was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.job.corrections import Correction, Remedy
from wormwright.job.parts import CentreShim
from wormwright.job.reading import Reading
from wormwright.stages.correct import correct
from wormwright.stages.correct.wording import length

BLOCK = {
    "block_shim": 0.80,
    "block_shim_length": 60.0,
    "block_shim_width": 28.0,
    "block_shim_bolts": 4.0,
}
PLACES: Mapping[str, float | str] = {"along": 44.0, "across": 12.0, "hole": 6.6}


def _readings(
    way: str, sizes: Mapping[str, float], places: Mapping[str, float | str]
) -> tuple[Reading, ...]:
    rows = made.readings(
        words={("adjusting", ""): "bolted block", ("block_shim_way", ""): way},
        numbers={(kind, ""): size for kind, size in sizes.items()},
    )
    said = {"block_shim_bolts": places, "block_shim": {"pieces": 2.0}}
    return tuple(replace(r, conditions=said.get(r.kind, r.conditions)) for r in rows)


def _remedy(
    way: str = "thicker opens",
    sizes: Mapping[str, float] = BLOCK,
    places: Mapping[str, float | str] = PLACES,
) -> Remedy:
    return correct(made.job(), _readings(way, sizes, places), made.diagnosis(), draws=8192)


def _depth(remedy: Remedy) -> Correction:
    keys = ("centre_shim", "setting")
    return next(c for p in remedy.plans for c in p.corrections if c.key in keys)


@pytest.mark.parametrize(("way", "sign"), [("thicker opens", -1), ("thicker closes", +1)])
def test_packing_changes_by_the_closing_in_the_way_that_was_read(way: str, sign: int) -> None:
    correction = _depth(_remedy(way))
    assert correction.key == "centre_shim"
    closing = dict(correction.sizes)["closing wanted"].value
    (piece,) = correction.parts
    assert isinstance(piece, CentreShim)
    assert piece.thickness.size == pytest.approx(0.80 + sign * closing, abs=0.001)
    assert piece.change == pytest.approx(-closing)
    assert piece.quantity == 2
    assert set(piece.holes) == {(8.0, 8.0), (52.0, 8.0), (8.0, 20.0), (52.0, 20.0)}


def test_a_block_that_slides_and_one_not_looked_at_are_set_by_indicator() -> None:
    for way in ("no packing, it slides", None):
        rows = _readings(way or "thicker opens", BLOCK, PLACES)
        if way is None:
            rows = tuple(r for r in rows if r.kind != "block_shim_way")
        correction = _depth(correct(made.job(), rows, made.diagnosis(), draws=8192))
        assert correction.key == "setting"
        assert correction.parts == ()


@pytest.mark.parametrize(
    ("sizes", "places", "asked"),
    [
        ({k: v for k, v in BLOCK.items() if k != "block_shim"}, PLACES, "`block_shim`"),
        ({k: v for k, v in BLOCK.items() if k != "block_shim_width"}, PLACES, "block_shim_width"),
        ({k: v for k, v in BLOCK.items() if k != "block_shim_bolts"}, PLACES, "block_shim_bolts"),
        (BLOCK, {"along": 44.0, "across": 12.0}, "with `hole`"),
        (BLOCK, {"along": 44.0, "hole": 6.6}, "with `across`"),
        ({**BLOCK, "block_shim_bolts": 2.0}, {"hole": 6.6}, "with `along`"),
        ({**BLOCK, "block_shim_bolts": 3.0}, PLACES, "block_shim_bolts"),
        ({**BLOCK, "block_shim_width": 18.0}, PLACES, "block_shim_width"),
    ],
)
def test_packing_that_cannot_be_drawn_is_named_with_what_to_read(
    sizes: Mapping[str, float], places: Mapping[str, float | str], asked: str
) -> None:
    got = _remedy(sizes=sizes, places=places)
    correction = _depth(got)
    assert correction.parts == ()
    assert any(asked in d.do for d in correction.doubts if d.code == "shim outline")
    if got.chosen is not None and correction in got.chosen.corrections:
        assert any(asked in line for line in got.not_measured)


def test_less_packing_than_the_closing_takes_the_rest_off_the_block() -> None:
    correction = _depth(_remedy(sizes={**BLOCK, "block_shim": 0.05}))
    closing = dict(correction.sizes)["closing wanted"].value
    assert correction.parts == ()
    said = " ".join(correction.steps)
    assert "Leave the packing out" in said
    assert f"the other {length(closing - 0.05, 'mm')} come off the face" in said


def test_one_and_two_bolts_lie_in_the_middle_of_the_piece() -> None:
    for bolts, wanted in ((1.0, {(30.0, 14.0)}), (2.0, {(8.0, 14.0), (52.0, 14.0)})):
        (piece,) = _depth(_remedy(sizes={**BLOCK, "block_shim_bolts": bolts})).parts
        assert isinstance(piece, CentreShim)
        assert set(piece.holes) == wanted
