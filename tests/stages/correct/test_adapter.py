"""Adapter truing: what is found off, what to shim or skim, the play to tap a chuck true."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.bench import Bench
from wormwright.drawings.part_sheet import part_text
from wormwright.drawings.style import SheetStyle
from wormwright.job.adapter import AdapterPlate
from wormwright.job.blocks import PartDrawing
from wormwright.job.corrections import Correction
from wormwright.job.findings import Runout
from wormwright.job.parts import ChuckAdapter
from wormwright.job.result import Estimate
from wormwright.stages.correct import correct, report
from wormwright.stages.correct.adapter import adapter_truing
from wormwright.stages.correct.facts import Facts, facts_of
from wormwright.traveler import plan_operations

U = 0.001
PLATE = AdapterPlate(
    outside=160.0,
    thickness=18.0,
    bore=26.0,
    table_bore=40.0,
    back_length=5.0,
    chuck_recess=95.01,
    register_length=3.5,
    table_circle=132.0,
    table_count=4,
    table_hole=8.5,
    table_head=14.5,
    table_head_depth=9.0,
    chuck_circle=112.0,
    chuck_count=3,
    chuck_drill=6.8,
    chuck_thread="M8 x 1.25",
    chuck_turn=math.radians(45),
    material="cast iron",
)


def _off(value: float, dimension: str = "length") -> Estimate:
    return Estimate(
        value,
        U,
        value - 1.96 * U,
        value + 1.96 * U,
        dimension,  # type: ignore[arg-type]  # one of two words
        "once per turn",
    )


def runout(
    key: str,
    e: float,
    at: float | None = 30.0,
    *,
    surface: str = "",
    radius: float = 60.0,
) -> Runout:
    """A surface that stands off by `e` mm toward `at` degrees; a face read at `radius`."""
    high = None if at is None else _off(math.radians(at), "angle")
    slope = _off(e / radius, "angle") if key == "face" else None
    name = surface or {"face": "adapter face at radius 60 mm", "register": "adapter spigot"}.get(
        key, "bar at the jaws"
    )
    return Runout(key, name, 2 * e, _off(e), high, slope, high if slope else None)


def facts(*runouts: Runout, plate: AdapterPlate | None = None) -> Facts:
    job = replace(made.job(), adapter=plate)
    found = replace(made.diagnosis(), runouts=runouts)
    return facts_of(job, Bench(job, tuple(made.readings())), found)


def truing(*runouts: Runout, plate: AdapterPlate | None = None) -> Correction:
    got = adapter_truing(facts(*runouts, plate=plate))
    assert got is not None
    return got


def size(of: Correction, words: str) -> Estimate:
    return next(e for name, e in of.sizes if words in name)


def test_what_runs_true_is_unread_or_only_noise_is_left_alone() -> None:
    """Half a thou of swing is 0.0127 mm; 0.006 off the axis swings 0.012."""
    assert adapter_truing(facts()) is None
    assert adapter_truing(facts(runout("face", 0.006), runout("register", 0.006))) is None
    assert adapter_truing(facts(runout("register", 0.05, None))) is None
    assert adapter_truing(facts(runout("face", 0.3, surface="as-cast face"))) is None
    assert adapter_truing(facts(runout("register", 0.3, surface="rough rim"))) is None
    assert adapter_truing(facts(runout("bar", 0.3))) is None


def test_a_face_is_skimmed_by_its_swing_and_a_clean_up() -> None:
    got = truing(runout("face", 0.03))
    assert got.key == "adapter"
    assert got.operations == ("adapter_true",)
    assert size(got, "swing (TIR) of the adapter face").value == pytest.approx(0.06)
    assert size(got, "skim of the face").value == pytest.approx(0.07)
    assert size(got, "skim of the face").u == pytest.approx(2 * U)
    assert any("60 µm" in step and "comes off at 30°" in step for step in got.steps)
    assert not any("register" in name for name, _ in got.sizes)


def test_a_wedge_is_full_under_the_low_side_half_a_quarter_round_and_nothing_opposite() -> None:
    """By hand: 0.03 at 60 mm leans 0.5 mrad; over the 120 mm between low and high it is 0.060."""
    (wedge,) = [s for s in truing(runout("face", 0.03)).steps if "wedge of shims" in s]
    assert "low side at table 210°" in wedge
    assert re.search(r"there 60 µm .*90° to either side 30 µm .*opposite nothing", wedge)


def test_a_wedge_stands_at_the_screws_where_the_plate_is_known() -> None:
    """By hand: 0.5 mrad over the 132 mm of the screw circle is 0.066; three screws share thirds."""
    (wedge,) = [s for s in truing(runout("face", 0.03), plate=PLATE).steps if "wedge" in s]
    assert "at its screws: there 66 µm" in wedge
    three = replace(PLATE, table_count=3, chuck_turn=math.radians(60))
    (wedge,) = [s for s in truing(runout("face", 0.03), plate=three).steps if "wedge" in s]
    assert re.search(r"there (49|50) µm .*120° to either side nothing", wedge)


def test_a_face_nearly_true_gets_no_shim_thinner_than_foil() -> None:
    """0.007 off at a radius of 200 leans too little for foil at screws on a circle of 132."""
    got = truing(runout("face", 0.007, radius=200.0), plate=PLATE)
    assert any("too near to true for a shim" in step for step in got.steps)


def test_a_register_is_given_the_play_that_its_offset_asks_for() -> None:
    """By hand: 2 (0.10 + 1.96 x 0.001) + 0.10 is 0.304, up to the next hundredth 0.31."""
    got = truing(runout("register", 0.10, 200.0))
    play = size(got, "play of an adjustable register")
    assert [play.low, play.high] == pytest.approx([0.31, 0.41])
    assert size(got, "change of its diameter").value == pytest.approx(0.22)
    assert any("0.100 mm" in s and "off toward table 200°" in s for s in got.steps)
    assert any("away from 200°" in s for s in got.steps)


def test_a_small_offset_still_gets_the_play_of_the_trade() -> None:
    assert size(truing(runout("register", 0.02)), "play").low == pytest.approx(0.25)


def test_a_bar_that_stands_off_more_than_the_register_asks_for_more_play() -> None:
    """By hand: 2 (0.15 + 1.96 x 0.001) + 0.10 is 0.404, up to 0.41."""
    got = truing(runout("register", 0.05), runout("bar", 0.15))
    assert size(got, "play").low == pytest.approx(0.41)


def test_a_bore_grows_where_a_spigot_shrinks() -> None:
    got = truing(runout("register", 0.05, surface="bore"))
    assert any("it grows by 0.120 mm" in s for s in got.steps)
    assert not any("loose in the chuck" in s for s in got.steps)


def test_the_largest_of_several_surfaces_decides() -> None:
    got = truing(runout("face", 0.02), runout("face", 0.05, surface="table face at radius 60 mm"))
    assert size(got, "swing (TIR) of the table face").value == pytest.approx(0.10)


def test_without_sizes_of_the_plate_there_is_no_drawing_and_it_says_what_to_write() -> None:
    got = truing(runout("face", 0.03))
    assert got.parts == ()
    assert any("[adapter]" in d.do for d in got.doubts if d.action == "ask")


@pytest.mark.parametrize(
    ("found", "adjustable"),
    [((runout("face", 0.03),), False), ((runout("register", 0.1), runout("face", 0.03)), True)],
)
def test_the_plate_is_drawn_as_it_will_be_used(found: tuple[Runout, ...], adjustable: bool) -> None:
    """The sheet refuses a fixed register that is loose and an adjustable one that is not."""
    got = truing(*found, plate=PLATE)
    (part,) = got.parts
    assert isinstance(part, ChuckAdapter)
    assert part.adjustable is adjustable
    assert part_text(part, SheetStyle()).notes
    assert part.skim >= max(2 * r.eccentricity.high for r in found) + 0.01
    if adjustable:
        least = part.chuck_recess - part.spigot.size - part.spigot.upper
        assert least == pytest.approx(size(got, "play").low)


def test_far_off_is_refused_as_dirt_or_another_fault() -> None:
    got = truing(runout("register", 0.45))
    assert [d.action for d in got.doubts if d.code == "adapter"] == ["refuse"]


def test_a_loose_table_is_set_before_it_is_skimmed() -> None:
    found = replace(facts(runout("face", 0.03)), table_axial=None, table_radial=None)
    calm = adapter_truing(found)
    assert calm is not None
    assert not any(d.code == "bearing first" for d in calm.doubts)
    play = facts(runout("face", 0.03)).table_axial
    assert play is not None
    loose = adapter_truing(replace(found, table_axial=replace(play, value=0.03)))
    assert loose is not None
    assert [d.action for d in loose.doubts if d.code == "bearing first"] == ["warn"]


def test_the_table_itself_is_not_taken_off_to_be_cleaned() -> None:
    own = truing(runout("face", 0.03, surface="table face at radius 60 mm"))
    assert any("Clean face and bore of the table" in s for s in own.steps)
    assert not any("Off with it" in s for s in own.steps)
    assert any("Off with it" in s for s in truing(runout("face", 0.03)).steps)


def test_truing_is_named_beside_the_plan_and_taken_when_it_is_wanted() -> None:
    """It changes no lost motion: nobody gets it unasked, and it costs the plan no chance."""
    job = replace(made.job(), adapter=PLATE)
    found = replace(made.diagnosis(), runouts=(runout("register", 0.1), runout("face", 0.03)))
    plain = correct(job, made.readings(), found, draws=8192)
    assert plain.chosen is not None
    assert "adapter" not in plain.chosen.key
    (line,) = [a for a in plain.advice if "it lessens runout" in a]
    key = line.split("--plan ")[1].rstrip(").")
    assert key == f"{plain.chosen.key}+adapter"
    wanted = correct(job, made.readings(), found, draws=8192, plan=key)
    assert wanted.chosen is not None
    assert wanted.chosen.key == key
    assert wanted.chosen.p_meets_duty == plain.chosen.p_meets_duty
    assert wanted.chosen.minutes == plain.chosen.minutes + 150.0
    assert not any("it lessens runout" in a for a in wanted.advice)
    names = [b.name for b in report(wanted, job) if isinstance(b, PartDrawing)]
    assert "chuck-adapter" in names
    operations = [op.key for op in plan_operations(job, wanted)]
    assert "adapter_true" in operations


@pytest.mark.parametrize(
    "wrong", [{"bore": 0.0}, {"material": " "}, {"chuck_turn": math.nan}, {"table_count": -1}]
)
def test_sizes_that_are_none_are_refused_by_name(wrong: dict[str, float | str]) -> None:
    with pytest.raises(ValueError, match=f"adapter: {next(iter(wrong))} must be"):
        replace(PLATE, **wrong)  # type: ignore[arg-type]  # wrong on purpose
