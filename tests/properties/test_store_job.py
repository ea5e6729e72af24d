"""job.toml: every fault at once with its line, comments kept, nothing overwritten unseen."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store_samples import JOB, KINDS, make, opened
from wormwright.store import ChangedMeanwhileError, JobFolder, JobFolderError
from wormwright.store.job_file import job_of, source_of

FULL = (
    JOB.replace(
        'name = "club rotary"',
        'name = "club rotary"\nunits = "in"\nsheet = "letter"\n'
        'made_up = true\nseed = 9\nplan = "all"',
    )
    .replace(
        'housing_material = "cast iron"',
        'housing_material = "cast iron"\ntable_weight = "40 lbf"\ntable_axis = "horizontal"\n'
        'bearing_note = "as found"',
    )
    .replace('shop_high = "28 °C"', 'shop_high = "82.4 °F"\nrise = "36 °F"\nprobability = "0.8"')
    + """
[machine]
name = "knee mill"
kind = "mill"
[motor]
name = "frame 23"
holding_torque = "280 oz·in"
steps_per_turn = 200
[pair]
diametral_pitch = "16 DP"
pressure_angle = "14.5 deg"
[[bearing]]
designation = "special"
bore = "5/8 in"
outside = "35 mm"
width = "11 mm"
dynamic_load = "9 kN"
static_load = "5 kN"
[stock]
shims = ["2 thou", "0.1 mm"]
"""
)


def faults_of(source: str) -> list[tuple[int | None, str, str]]:
    with pytest.raises(JobFolderError) as told:
        job_of(source)
    assert all(fault.file == "job.toml" and fault.expected for fault in told.value.faults)
    return [(fault.line, fault.field, fault.got) for fault in told.value.faults]


def test_every_field_reaches_the_job_in_core_units() -> None:
    job = job_of(FULL)
    assert (job.units, job.sheet, job.made_up, job.seed, job.plan) == (
        "in",
        "letter",
        True,
        9,
        "all",
    )
    assert job.rotary.table_weight_n == pytest.approx(177.9289, abs=1e-4)
    assert (job.rotary.table_axis, job.rotary.bearing_maker_note) == ("horizontal", "as found")
    duty = job.duty
    assert (duty.radius_mm, duty.error_mm, duty.torque_resist_nmm) == (60.0, 0.05, 6000.0)
    assert (duty.drag_limit_nmm, duty.play_min_cold_mm, duty.probability) == (400.0, 0.01, 0.8)
    assert (duty.shop_low_c, round(duty.shop_high_c, 9)) == (12.0, 28.0)
    assert duty.rise_k == pytest.approx(20.0)
    assert (job.machine.name, job.machine.kind) == ("knee mill", "mill")
    assert job.motor.torque_hold_nmm == pytest.approx(1977.2, abs=0.05)
    assert job.motor.steps_per_turn == 200
    assert job.pair_module_mm == pytest.approx(25.4 / 16)
    assert job.pair_pressure_angle == pytest.approx(math.radians(14.5))
    (bearing,) = job.bearings
    assert (bearing.bore_mm, bearing.outside_mm, bearing.width_mm) == (15.875, 35.0, 11.0)
    assert (bearing.dynamic_n, bearing.static_n) == (9000.0, 5000.0)
    assert job.shim_stock_mm == (0.0508, 0.1)


def test_a_short_job_takes_the_documented_defaults() -> None:
    job = job_of(JOB)
    assert (job.units, job.sheet, job.made_up, job.seed, job.plan) == ("mm", "A4", False, 1, None)
    assert (job.duty.rise_k, job.duty.probability) == (20.0, 0.9)
    assert (job.pair_module_mm, job.bearings, job.shim_stock_mm) == (None, (), ())
    assert job_of(JOB + '[pair]\nmodule = "1.5 mm"\n').pair_module_mm == 1.5


def test_all_faults_of_all_sections_are_told_at_once_with_their_lines() -> None:
    source = """\
format = 1
name = ""
units = "cm"
colour = "red"
made_up = "yes"
[rotary]
name = "n"
unit_id = "  "
worm_material = "steel"
wheel_material = 7
[duty]
radius = 60
error = "0.05"
direction = "sideways"
approach = "both ways"
work = "indexed"
torque_to_resist = "6 mm"
drag_limit = "nan N·m"
play_min_cold = "0,01 mm"
shop_low = "30 °C"
shop_high = "400 °C"
probability = "120 %"
rise = "~20 mm"
[motor]
steps_per_turn = 200.0
[pair]
module = "1.5 mm"
diametral_pitch = "16 DP"
[stock]
shims = [
  "0.05 mm",
  "0.1",
]
[[bearing]]
designation = "a"
bore = "10 mm"
outside = "9 mm"
width = "5 mm"
[[bearing]]
designation = "b"
bore = inf
"""
    assert faults_of(source) == [
        (2, "name", "''"),
        (3, "units", "'cm'"),
        (4, "colour", "the unknown key 'colour'"),
        (5, "made_up", "'yes'"),
        (6, "rotary.housing_material", "nothing"),
        (8, "rotary.unit_id", "'  '"),
        (10, "rotary.wheel_material", "7"),
        (12, "duty.radius", "60"),
        (13, "duty.error", "'0.05'"),
        (14, "duty.direction", "'sideways'"),
        (17, "duty.torque_to_resist", "'6 mm'"),
        (18, "duty.drag_limit", "'nan N·m'"),
        (19, "duty.play_min_cold", "'0,01 mm'"),
        (21, "duty.shop_high", "'400 °C'"),
        (22, "duty.probability", "'120 %'"),
        (23, "duty.rise", "'~20 mm'"),
        (25, "motor.steps_per_turn", "200.0"),
        (28, "pair.diametral_pitch", "both"),
        (32, "stock.shims[2]", "'0.1'"),
        (34, "bearing[1]", "bearing a: bore is not smaller than outside"),
        (39, "bearing[2].outside", "nothing"),
        (39, "bearing[2].width", "nothing"),
        (41, "bearing[2].bore", "inf"),
    ]


def test_figures_that_do_not_agree_are_told_at_their_table() -> None:
    source = JOB.replace('shop_low = "12 °C"', 'shop_low = "29 °C"')
    assert [(line, field) for line, field, _ in faults_of(source)] == [(12, "duty")]


@pytest.mark.parametrize(
    ("source", "line", "field"),
    [
        (JOB + '[duty]\nerror = "1 mm"\n', 23, "duty"),
        (JOB + 'error = "1 mm"\n', 23, "duty.error"),
        (JOB + "rise = \n", 23, ""),
        (JOB + 'x = "open\n', 23, ""),
        (JOB.replace("format = 1", "format = 2"), 2, "format"),
        (JOB.replace("format = 1", "format = true"), 2, "format"),
        (JOB.replace("format = 1\n", ""), None, "format"),
        (JOB + "[bearing]\nbore = 1\n", 23, "bearing"),
        ("stock = 3\n" + JOB, 1, "stock"),
        ("x = " + "[" * 100_000, None, ""),
    ],
)
def test_a_spoilt_file_names_the_line(source: str, line: int | None, field: str) -> None:
    assert (line, field) in [(at, name) for at, name, _ in faults_of(source)]


def test_bytes_that_are_no_text_and_files_without_end_are_refused() -> None:
    with pytest.raises(
        JobFolderError, match=r"job\.toml:2: expected UTF-8 text, got the byte 0xb5"
    ):
        source_of(b'format = 1\nname = "\xb5"\n')
    with pytest.raises(JobFolderError, match="at most 1 MB"):
        source_of(b" " * (1024 * 1024 + 1))


@given(st.binary(max_size=200), st.integers(0, len(JOB)))
def test_no_bytes_whatever_bring_anything_but_a_reason(junk: bytes, place: int) -> None:
    data = JOB.encode()
    try:
        job = job_of(source_of(data[:place] + junk + data[place:]))
    except JobFolderError as told:
        assert told.faults  # noqa: PT017  both ways out are right, a traceback is not
    else:
        assert job.duty.radius_mm > 0


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_save_keeps_comments_order_line_ends_and_mark(
    tmp_path: Path, mark: bytes, newline: str
) -> None:
    place = make(tmp_path)
    (place / "job.toml").write_bytes(mark + JOB.replace("\n", newline).encode())
    folder = opened(place)
    job = folder.save_job({"duty.error": "0.02 mm", "plan": "all", "motor.steps_per_turn": 400})
    assert (job.duty.error_mm, job.plan, job.motor.steps_per_turn) == (0.02, "all", 400)
    assert folder.job == job
    data = (place / "job.toml").read_bytes()
    expected = JOB.replace('error = "0.05 mm" ', 'error = "0.02 mm" ')
    expected = expected.replace('name = "club rotary"\n', 'name = "club rotary"\nplan = "all"\n')
    expected = expected.replace("\n", newline)
    assert data.startswith(mark + expected.encode())
    assert data.count(b"\r\n") == (data.count(b"\n") if newline == "\r\n" else 0)
    assert opened(place).job == job
    folder.save_job({"plan": None})
    assert b"plan" not in (place / "job.toml").read_bytes()


def test_bearings_and_shims_can_be_set(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    row = {"designation": "s", "bore": "15 mm", "outside": "32 mm", "width": "9 mm"}
    job = folder.save_job(
        {"bearing": [row, {**row, "designation": "t"}], "stock.shims": ["0.1 mm"]}
    )
    assert [bearing.designation for bearing in job.bearings] == ["s", "t"]
    assert opened(tmp_path).job.shim_stock_mm == (0.1,)
    assert [b.designation for b in folder.save_job({"bearing": [row]}).bearings] == ["s"]


def test_a_change_that_would_spoil_the_file_is_refused_whole(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    before = (tmp_path / "job.toml").read_bytes()
    with pytest.raises(JobFolderError) as told:
        folder.save_job({"plan": "all", "duty.error": "0.02", "rotary.colour": "red"})
    assert [fault.field for fault in told.value.faults] == ["rotary.colour", "duty.error"]
    assert (tmp_path / "job.toml").read_bytes() == before
    assert folder.job.plan is None


@pytest.mark.parametrize("key", ["name.first", "duty.error.more", "", "a..b", "bearing.bore"])
def test_a_key_that_cannot_be_set_is_refused_with_a_reason(tmp_path: Path, key: str) -> None:
    folder = opened(make(tmp_path))
    with pytest.raises(JobFolderError) as told:
        folder.save_job({key: "1 mm"})
    assert told.value.faults
    assert (tmp_path / "job.toml").read_bytes() == JOB.encode()


def test_a_file_changed_meanwhile_is_not_overwritten_and_the_difference_is_shown(
    tmp_path: Path,
) -> None:
    folder = opened(make(tmp_path))
    changed = JOB.replace("0.05 mm", "0.08 mm").encode()
    (tmp_path / "job.toml").write_bytes(changed)
    with pytest.raises(ChangedMeanwhileError) as told:
        folder.save_job({"plan": "all"})
    assert '-error = "0.05 mm"    # to and fro' in told.value.difference.splitlines()
    assert '+error = "0.08 mm"    # to and fro' in str(told.value).splitlines()
    assert (tmp_path / "job.toml").read_bytes() == changed
    folder.refresh()
    assert folder.save_job({"plan": "all"}).duty.error_mm == 0.08


def test_a_save_leaves_no_other_file_behind(tmp_path: Path) -> None:
    opened(make(tmp_path)).save_job({"plan": "all"})
    assert sorted(path.name for path in tmp_path.iterdir()) == [".lock", "job.toml"]


def test_a_new_folder_is_sound_and_named_after_itself(tmp_path: Path) -> None:
    folder = JobFolder.create(tmp_path / 'club "B" \\ µ')
    assert (folder.job.name, folder.job.rotary.unit_id) == ('club "B" \\ µ', 'club "B" \\ µ')
    assert (folder.readings, folder.sign_offs, folder.problems) == ((), (), ())
    names = sorted(path.name for path in folder.path.iterdir())
    assert names == ["job.toml", "readings.csv", "signoffs.csv"]


def test_a_folder_made_from_an_example_holds_the_same_bytes_and_leaves_it_alone(
    tmp_path: Path,
) -> None:
    example = make(tmp_path / "example")
    opened(example).append_reading("end_play", "0.1 mm")
    (example / "truth.toml").write_text("secret = 1\n", encoding="utf-8")
    with (example / "readings.csv").open("ab") as out:
        out.write(b"2,torn")
    before = {path.name: path.read_bytes() for path in example.iterdir()}
    folder = JobFolder.create(tmp_path / "new", from_example=example, kinds=KINDS)
    assert {path.name: path.read_bytes() for path in example.iterdir()} == before
    assert folder.job == opened(example).job
    assert [reading.raw for reading in folder.readings] == ["0.1 mm"]
    assert (folder.path / "job.toml").read_bytes() == before["job.toml"]
    assert not (folder.path / "truth.toml").exists()


def test_a_place_that_is_taken_or_an_example_with_faults_makes_nothing(tmp_path: Path) -> None:
    with pytest.raises(JobFolderError, match="something there already"):
        JobFolder.create(make(tmp_path / "taken"))
    bad = make(tmp_path / "bad", "format = 1\n")
    with pytest.raises(JobFolderError, match="unit_id"):
        JobFolder.create(tmp_path / "new", from_example=bad)
    assert not (tmp_path / "new").exists()


def test_a_folder_without_job_toml_is_no_job_folder(tmp_path: Path) -> None:
    with pytest.raises(JobFolderError, match=r"is .* a job folder"):
        JobFolder.open(tmp_path / "nowhere")
