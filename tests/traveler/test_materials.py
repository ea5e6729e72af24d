"""Tools and materials, hours and oil of a plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawings.further_parts import KEY
from drawings.sample_parts import PARTS as DRAWN
from planned_job import JOB, PARTS, by_key, planned
from wormwright.handbook.instruments import instrument
from wormwright.job.blocks import Table
from wormwright.job.parts import EccentricBushing, Limits, SetUp, ShimRing, WormRelief
from wormwright.job.rotary import BearingRow, Units
from wormwright.quantities import read
from wormwright.traveler.hours import hours, in_hours
from wormwright.traveler.lubricants import lubricant_lines, what_to_fill, wheel_metal
from wormwright.traveler.materials import (
    SHARE_OF_LIMIT,
    bearings_to_buy,
    class_for,
    indicator_classes,
    supplies,
    tools_and_materials,
    tools_by_operation,
)
from wormwright.traveler.stock import stock

BUSHINGS = PARTS["bushings"]
FOIL = ShimRing(
    "shim under the cover",
    "worm end play",
    Limits(12.5, 0.2, 0.0),
    Limits(27.5, 0.0, -0.2),
    Limits(0.26, 0.005, -0.005),
    "brass",
    (0.03, 0.03, 0.2),
)


def test_one_bar_is_bought_for_both_bushings_and_both_come_out_of_it() -> None:
    (bar,) = stock(BUSHINGS, "mm")
    assert bar.what == "round bar, steel"
    across = read(bar.size.removeprefix("Ø"), "length", field="bar").value
    long = read(bar.amount.removesuffix(" long"), "length", field="bar").value
    flange = max(p.flange_outside for p in BUSHINGS if isinstance(p, EccentricBushing))
    assert flange < across <= flange + 8
    lengths = [p.flange_thickness + p.length for p in BUSHINGS if isinstance(p, EccentricBushing)]
    assert long > sum(lengths) + 30, "with something to grip and to part off"


def test_bar_is_sold_in_quarter_inches_where_the_shop_works_in_inches() -> None:
    (bar,) = stock(BUSHINGS, "in")
    assert bar.size == "Ø2.75 in"


def test_a_shim_lists_its_pieces_or_the_sheet_it_is_made_from() -> None:
    assert [i.size for i in stock([FOIL], "mm")] == ["30 µm + 30 µm + 0.200 mm"]
    (sheet,) = stock([replace(FOIL, stack=())], "mm")
    assert sheet.what == "sheet or bar, brass"
    assert "0.36 mm thick" in sheet.size


@pytest.mark.parametrize("name", DRAWN)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_kind_of_part_lists_what_it_is_made_from(name: str, units: Units) -> None:
    part = DRAWN[name]
    items = stock([part], units)
    assert items or isinstance(part, WormRelief | SetUp)
    for item in items:
        assert "drawing" not in item.size, "its stock is worked out"
        assert item.what
        assert item.use


def test_a_setting_key_comes_with_flat_bar_for_its_block() -> None:
    key, block = stock([KEY], "mm")
    assert key.what == "round bar, " + KEY.material
    assert block.use == "block of the setting key"


def test_turning_down_the_worm_that_is_there_buys_nothing() -> None:
    assert stock(PARTS["relief"], "mm") == ()


def test_bearings_come_with_their_sizes_from_the_handbook_or_the_job() -> None:
    (item,) = bearings_to_buy(BUSHINGS, JOB)
    assert (item.size, item.amount) == ("6003 (17 x 35 x 10 mm)", "2")
    own = replace(JOB, bearings=(BearingRow("6003", 17, 35, 12),))
    assert bearings_to_buy(BUSHINGS, own)[0].size == "6003 (17 x 35 x 12 mm)"
    odd = [replace(p, bearing="odd one") for p in BUSHINGS if isinstance(p, EccentricBushing)]
    assert bearings_to_buy(odd, JOB)[0].size == "odd one"


def test_the_seat_of_an_outer_bushing_is_not_something_to_buy() -> None:
    nested = [
        replace(p, bearing="the inner bushing") for p in BUSHINGS if isinstance(p, EccentricBushing)
    ]
    assert bearings_to_buy(nested, JOB) == ()


def test_supplies_follow_the_operations_of_the_plan() -> None:
    whats = {i.what for i in supplies(planned("bushings"), JOB)}
    assert {"oil or grease", "marking blue", "shim stock, assorted"} <= whats
    assert supplies(planned(), JOB) == ()
    assert "marking blue" not in {i.what for i in supplies(planned("worm_shim"), JOB)}


@pytest.mark.parametrize("band", [0.05, 0.013, 0.0075, 0.0025])
def test_the_class_of_indicator_is_fine_enough_for_its_limit(band: float) -> None:
    name, _, rest = class_for(band, "mm").partition(", ")
    u = instrument(name).u_of_difference(turned_back=True)
    assert u <= band / SHARE_OF_LIMIT or rest == "mean of several readings"


def test_indicators_are_listed_from_coarse_to_fine_for_gates_read_with_one() -> None:
    classes = indicator_classes(planned("bushings", "relief"), "mm")
    gates = ", ".join(gates for _, gates in classes)
    assert "6 worm_end_play" in gates or "7b worm_end_play" in gates
    assert "worm_od" not in gates, "a micrometer, not an indicator"
    assert "slack_a" not in gates, "a bore gauge, not an indicator"
    assert classes[-1][0].endswith("mean of several readings")


def test_each_tool_stands_once_with_the_operations_it_is_for() -> None:
    plan = planned("bushings")
    tools = dict(tools_by_operation(plan))
    assert len(tools) == len(tools_by_operation(plan))
    assert set(tools) == {tool for op in plan for tool in op.tools}
    assert tools["marking blue"] == "7c"


def test_the_list_of_a_plan_has_all_tables_that_it_needs() -> None:
    blocks = tools_and_materials(planned("bushings"), job=JOB, parts=BUSHINGS)
    keys = [b.key for b in blocks if isinstance(b, Table)]
    assert keys == ["materials", "indicators", "tools"]
    idle = tools_and_materials(planned(), job=JOB, parts=())
    assert [b.key for b in idle if isinstance(b, Table)] == ["tools"]


# hours


def test_hours_add_up_and_time_at_the_machine_stands_apart() -> None:
    plan = planned("bushings", "relief")
    table = next(b for b in hours(plan) if isinstance(b, Table))
    *rows, total = [[cell.text for cell in row] for row in table.rows]
    assert [row[0] for row in rows] == [op.number for op in plan]
    assert total[1] == "in all"
    assert total[4] == in_hours(sum(op.minutes for op in plan))
    assert total[3] == in_hours(sum(op.machine_minutes for op in plan))
    assert next(row for row in rows if row[0] == "7b")[3] == ""


def test_minutes_of_a_correction_are_spent_once_where_it_is_made() -> None:
    plan = planned("bushings")
    alone = [by_key(plan, key).minutes for key in ("bushings_made", "bushings_in")]
    assert by_key(planned("worm_shim"), "worm_end_play").minutes == pytest.approx(100)
    assert sum(alone) < 240 + 90 + 100, "not the table's own time and the correction's on top"


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, ""), (1, "0.25 h"), (20, "0.25 h"), (23, "0.5 h"), (90, "1.5 h")]
)
def test_hours_are_printed_to_the_quarter(minutes: float, said: str) -> None:
    assert in_hours(minutes) == said


# oil


@pytest.mark.parametrize(
    ("material", "metal"),
    [
        ("bronze CuSn12", "yellow metal"),
        ("Brass", "yellow metal"),
        ("cast iron", "iron or steel"),
        ("acetal", "plastic"),
        ("unobtainium", "not known"),
    ],
)
def test_the_oil_is_chosen_by_the_metal_of_the_wheel(material: str, metal: str) -> None:
    assert wheel_metal(material) == metal
    job = replace(JOB, rotary=replace(JOB.rotary, wheel_material=material))
    filled = what_to_fill(job)
    warned = " ".join(lubricant_lines(job))
    if metal in ("yellow metal", "not known"):
        assert "safe for yellow metal" in filled
        assert "attack bronze" in warned
    else:
        assert "attack bronze" not in warned


def test_a_cold_shop_is_told_of_the_stall_and_polyglycol_of_the_mixture() -> None:
    cold = " ".join(lubricant_lines(JOB))
    assert "stall a small motor" in cold
    warm = replace(JOB, duty=replace(JOB.duty, shop_low_c=18.0))
    assert "stall" not in " ".join(lubricant_lines(warm))
    assert "Polyglycol does not mix" in cold
    assert lubricant_lines(JOB)[0] in by_key(planned("bushings"), "seal_grease").do
