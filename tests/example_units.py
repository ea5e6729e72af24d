"""The invented units of the example jobs: their truth, what was read of them, what to expect."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from example_table import club_table, router_table
from simulated_mounting import Standing, take_heights, take_tram
from simulated_rotary import Taker, Truth
from wormwright.job.reading import Reading


@dataclass(frozen=True)
class Example:
    """One example job."""

    name: str
    seed: int
    truth: Truth
    job_toml: str
    take: Callable[[Taker], None]
    readme: str


def _words(taker: Taker, **words: str) -> None:
    for key, word in words.items():
        kind, _, station = key.partition("__")
        taker.take(kind, word=word, station=station)


def _sizes(taker: Taker, **sizes: float) -> None:
    for key, size in sizes.items():
        kind, _, station = key.partition("__")
        taker.take(kind, size, station=station)


# ------------------------------------------------------------------ the metric router axis

ROUTER_TRUTH = Truth(opening=0.12)

ROUTER_JOB = """\
# Made up: a 150 mm axis for a gantry router. Invented readings, see truth.toml.
format = 1
name = "garage router axis"
units = "mm"
sheet = "A4"
made_up = true
seed = 7

[rotary]
name = "150 mm rotary axis, 80:1"
unit_id = "GR-1"
worm_material = "mild steel"
wheel_material = "tin bronze"
housing_material = "cast Al-Si"
table_axis = "vertical"

[duty]
radius = "50 mm"          # alloy and brass, 20 to 100 mm across
error = "0.11 mm"         # to and fro at that radius, milled both ways
direction = "tangential"
approach = "both ways"
work = "continuous"
torque_to_resist = "6 N·m"
drag_limit = "0.4 N·m"
play_min_cold = "0.006 mm"
shop_low = "12 °C"
shop_high = "30 °C"
rise = "15 K"
probability = "90 %"

[machine]
name = "gantry router"
kind = "router"
daylight = "230 mm"       # nose to table, head up
z_travel = "110 mm"
x_travel = "600 mm"
table_length = "700 mm"
bridge = "190 mm"         # under the gantry
nose_diameter = "65 mm"
slot_width = "12 mm"
slot_pitch = "50 mm"

[mount]
centre_height = "100 mm"
body_length = "150 mm"
body_width = "150 mm"
body_height = "170 mm"
foot_along = "130 mm"
foot_across = "110 mm"
foot_hole = "9 mm"
weight = "180 N"
chuck_outside = "100 mm"
chuck_length = "75 mm"
jaw_out = "20 mm"
jaw_swing = "120 mm"
grip_diameter = "25 mm"
work_diameter = "60 mm"
cut_diameter = "40 mm"
work_length = "150 mm"
tail_height = "99.9 mm"
tail_out = "30 mm"
tail_length = "60 mm"
tail_top = "120 mm"
cutter_diameter = "6 mm"
cutter_out = "25 mm"
nut_diameter = "40 mm"
nut_length = "35 mm"
side_force = "60 N"
speed = "20 rpm"

[motor]
name = "closed-loop stepper, 60 mm frame"
holding_torque = "2 N·m"
steps_per_turn = 200
kind = "closed-loop stepper"
pulses_per_turn = 2000
rotor_inertia = "480 g·cm²"
torque_points = [
  "0 rpm: 2 N·m", "300 rpm: 1.6 N·m", "600 rpm: 1.1 N·m", "900 rpm: 0.8 N·m", "1500 rpm: 0.4 N·m",
]

[control]
pulse_limit = "30 kHz"
decimals = 3
home_repeat = "0.02 mm"
home_arm = "70 mm"

[chuck]
speed_limit = "2000 rpm"
mass = "2.5 kg"
diameter = "100 mm"

[[work]]
name = "change wheel of 127"
kind = "indexed"
radius = "32 mm"
force = "60 N"
error = "0.05 mm"
teeth = 127

[[work]]
name = "engraved sleeve"
kind = "engraving"
radius = "20 mm"
force = "15 N"
error = "0.05 mm"
feed = "600 mm/min"

[[work]]
name = "turn-milled boss"
kind = "slow turning"
radius = "25 mm"
force = "60 N"
speed = "6 rpm"
run = "20 min"

[[work]]
name = "turning with a fixed tool"
kind = "slow turning"
radius = "25 mm"
force = "90 N"
speed = "60 rpm"

[pair]

[stock]
shims = ["0.02 mm", "0.03 mm", "0.05 mm", "0.1 mm", "0.15 mm", "0.2 mm", "0.3 mm", "0.5 mm"]
"""


ROUTER_STANDING = Standing(
    own=(5.0e-4, -1.0e-4),
    supports=(0.0, 0.06, 0.0, 0.0),
    turned=-4.0e-4,
    bar_off=0.012,
    bar_diameter=25.0,
    bar_out=185.0,
    tail_height=99.88,
    tail_side=0.09,
)
"""How the router axis stands: nose up, turned, one foot high; the tail low and to one side."""


def take_router(taker: Taker) -> None:
    """The whole baseline sheet, with two traps planted."""
    router_plays(taker)
    _router_traps(taker)
    router_rest(taker)
    take_tram(taker, ROUTER_STANDING, places=(20.0, 170.0), travel=False)
    take_heights(taker, ROUTER_STANDING, zero=-210.0)


def router_plays(taker: Taker) -> None:
    """Pair, bearings, rocks, plays and drag, without a trap."""
    taker.take("teeth", 80.0)
    taker.take("starts", 1.0)
    _words(taker, hand="right", wheel_kind="hollow", adjusting="fixed bores")
    taker.take("thread_length", 5 * math.pi * 1.25, conditions={"threads": 5.0})
    _sizes(taker, worm_od=24.80, wheel_throat=102.5, wheel_od=104.0, wheel_root=97.0)
    _sizes(taker, wheel_face=12.0, centre_distance=61.12)
    for wire, over in ((2.0, 22 + 2.0 * 3.9238 - 1.25 * math.pi / 2 * 2.74748),):
        taker.take("worm_over_wires", over, conditions={"wire": wire})
    taker.take(
        "worm_over_wires",
        22 + 2.2 * 3.9238 - 1.25 * math.pi / 2 * 2.74748,
        conditions={"wire": 2.2},
    )
    for end in ("A", "B"):
        _words(taker, **{f"bearing_kind__{end}": "deep groove"})
        _words(taker, **{f"bearing_marking__{end}": "6001-2RS"})
        _sizes(taker, **{f"bearing_bore__{end}": 12.0, f"bearing_outside__{end}": 28.0})
        _sizes(taker, **{f"bearing_width__{end}": 8.0, f"shaft_seat__{end}": 12.0})
        _sizes(taker, **{f"housing_bore__{end}": 28.01, f"shaft_step__{end}": 16.0})
    _sizes(taker, bearing_span=54.0, worm_length=40.0)
    _words(taker, table_bearing_kind="angular contact pair")
    _words(taker, table_shim_arrangement="cover on outer ring")
    _words(taker, worm_shim_arrangement="cover on outer ring")
    _sizes(taker, table_shim=0.50, worm_shim=0.30)
    _sizes(taker, temperature__housing=19.0, temperature__room=19.0)
    taker.map()
    taker.rock_at(0.0, psi=0.0)
    taker.worm_phases(36.0)
    for phi in (0.0, 90.0, 180.0, 270.0):
        taker.rock_at(phi, psi=0.0, pins=2)
    for phi in (36.0, 216.0):
        taker.rock_at(phi, psi=0.0, torque=1000.0)
    taker.plays()
    _drags(taker, 120.0, 35.0, free=70.0, table=900.0)


def router_rest(taker: Taker) -> None:
    """Outlines of the shims, the table, the blue, the oil and the wheel's seat, without a trap."""
    _outlines(
        taker,
        table=(70.0, 90.0, 6, 80.0, 4.5),
        worm=(28.6, 46.0, 3, 37.0, 3.5),
        wheel=(40.0, 60.0, 6, 50.0, 5.5),
    )
    router_table(taker)
    _sizes(taker, wheel_hub_outside=39.8, wheel_hub_length=20.0, wheel_pin=2.0)
    _sizes(taker, wheel_bore=25.01, table_seat=24.99)


def _outlines(taker: Taker, **rings: tuple[float, float, int, float, float]) -> None:
    """Inside, outside and screws of the shims, read last, when the covers are off."""
    for what, (inside, outside, screws, circle, hole) in rings.items():
        _sizes(taker, **{f"{what}_shim_inside": inside, f"{what}_shim_outside": outside})
        places = {"circle": circle, "hole": hole} if screws else None
        taker.take(f"{what}_shim_screws", float(screws), conditions=places)


def _router_traps(taker: Taker) -> None:
    """A decimal point lost, a motor merely powered."""
    lost = taker.readings[-1].seq + 1
    taker.rock_at(121.5, psi=0.0)
    row = taker.readings[lost - 1]
    assert row.value is not None
    taker.readings[lost - 1] = _retyped(taker, lost, f"{row.value * 10:.2f} mm")
    taker.rock_at(180.0, psi=0.0, worm_held="powered motor")


def _retyped(taker: Taker, seq: int, raw: str) -> Reading:
    return replace(taker.readings[seq - 1], raw=raw)


def _drags(taker: Taker, base: float, tight_deg: float, *, free: float, table: float) -> None:
    """Drag at the worm every 30 degrees of table, more at the tight spot; then out of mesh."""
    for phi in range(0, 360, 30):
        near = max(0.0, math.cos(math.radians(phi - tight_deg)))
        taker.take("drag_in_mesh", base * (1 + 0.35 * near**4), phi=math.radians(phi))
    for _ in range(3):
        taker.take("drag_out_of_mesh", free)
    taker.take("drag_table", table)


ROUTER_README = """\
# garage router axis (made up)

A metric 80:1 axis with fixed bores and plain deep-groove bearings. All figures are invented;
the readings were generated from `truth.toml` with seeded noise by `scripts/make_examples.py`.

What to expect:

- *measure* asks about one rock reading ten times its neighbours, and says that a motor merely
  powered is a spring. The blue marks both edges of the face: the mesh stands open.
- *diagnose* names the mesh as the largest cause, the worm end play second; wheel runout near
  0.05 mm TIR; tight spot near 35°. The bar in the chuck stands 0.03 mm off at the jaws and
  leans; the register explains a third of it. Locking turns the table by about half a minute.
- *correct* finds the worm outside diameter 0.3 mm over nominal and the tip clearance too short
  for the closing, so relief comes before the mesh is set.
- The truth of every cause lies inside its 95 % interval (checked by
  `tests/loops/test_examples.py`).
"""

ROUTER = Example("garage-router", 40, ROUTER_TRUTH, ROUTER_JOB, take_router, ROUTER_README)

# ------------------------------------------------------------------ the inch club table

CLUB_TRUTH = Truth(
    teeth=90,
    module=25.4 / 16,
    pressure_angle=math.radians(14.5),
    d1=28.575,
    span=82.0,
    face_width=15.0,
    mesh=0.0864,
    end_play=0.0305,
    worm_float=0.0127,
    table_radial=0.0076,
    table_axial=0.0102,
    wheel_joint=0.0025,
    drive_angle=math.radians(0.3),
    wheel=(0.0203, math.radians(50)),
    worm=(0.0076, math.radians(20)),
    table_share=0.7,
    worm_share=0.8,
    compliance=1.5e-5,
)

CLUB_JOB = """\
# Made up: an 8 in table of a club shop, for clock wheels and small gears. See truth.toml.
format = 1
name = "club table B"
units = "in"
sheet = "letter"
made_up = true
seed = 7

[rotary]
name = "8 in rotary table, 90:1"
unit_id = "CLUB-B"
worm_material = "mild steel"
wheel_material = "tin bronze"
housing_material = "grey iron"
table_axis = "vertical"
table_weight = "40 lbf"

[duty]
radius = "3.5 in"
error = "4 thou"
direction = "tangential"
approach = "both ways"
work = "indexed"
torque_to_resist = "30 in·lb"
drag_limit = "80 oz·in"
play_min_cold = "0.4 thou"
shop_low = "55 °F"
shop_high = "80 °F"
rise = "10 K"
probability = "90 %"

[machine]
name = "bench mill"
kind = "mill"
daylight = "13 in"        # nose to table, head up
z_travel = "9 in"
x_travel = "16 in"
table_length = "29 in"
nose_diameter = "3.5 in"
slot_width = "0.55 in"
slot_pitch = "2.5 in"
slots_run = "along the axis"

[mount]
centre_height = "4.75 in"
body_length = "4.5 in"
body_width = "8 in"
body_height = "9.5 in"
foot_along = "3.5 in"
foot_across = "6.5 in"
foot_hole = "0.43 in"
key_distance = "4 in"
weight = "90 lbf"
hold = "four-jaw"
chuck_outside = "6 in"
chuck_length = "3.2 in"
jaw_out = "1 in"
jaw_swing = "7 in"
grip_diameter = "1 in"
work_diameter = "3 in"
cut_diameter = "2.5 in"
work_length = "2.5 in"
cutter_diameter = "0.25 in"
cutter_out = "1 in"
nut_diameter = "1.6 in"
nut_length = "2 in"
side_force = "15 lbf"

[motor]
name = ""

[pair]
pressure_angle = "14.5 deg"   # read off the maker's tooth form card

[stock]
shims = ["1 thou", "1.5 thou", "2 thou", "3 thou", "5 thou", "10 thou", "15 thou"]
"""


CLUB_STANDING = Standing(
    own=(0.3e-4, 0.2e-4),
    supports=(0.0, 0.0, 0.0, 0.0),
    turned=2.2e-4,
    foot_along=88.9,
    foot_across=165.1,
    bar_off=0.02,
    bar_diameter=19.05,
    bar_out=127.0,
    bend=(0.003, -0.002),
)
"""How the club table stands: level, turned a little, its feet true."""


def take_club(taker: Taker) -> None:
    """The baseline sheet in inches, with two traps planted."""
    club_plays(taker)
    _lever_tip(taker)
    club_rest(taker, oil="hypoid oil")
    take_tram(taker, CLUB_STANDING, places=(12.7, 63.5, 114.3))
    for angle in (20, 110, 200, 290):
        phi = math.radians(angle)
        taker.take(
            "four_jaw",
            0.11 * math.cos(phi - 1.2),
            phi=phi,
            conditions={"jaw_1": math.radians(20)},
        )


def club_plays(taker: Taker) -> None:
    """Pair, bearings, rocks, plays and drag, without a trap."""
    taker.take("teeth", 90.0)
    taker.take("starts", 1.0)
    _words(taker, hand="right", wheel_kind="hollow", adjusting="fixed bores")
    taker.take("thread_length", 5 * math.pi * 25.4 / 16, conditions={"threads": 5.0})
    _sizes(taker, worm_od=31.75, wheel_throat=146.05, wheel_od=149.0, wheel_root=139.2)
    _sizes(taker, wheel_face=15.0, centre_distance=85.89)
    for end in ("A", "B"):
        _words(taker, **{f"bearing_kind__{end}": "deep groove"})
        _words(taker, **{f"bearing_marking__{end}": "6203 C3"})
        _sizes(taker, **{f"bearing_bore__{end}": 17.0, f"bearing_outside__{end}": 40.0})
        _sizes(taker, **{f"bearing_width__{end}": 12.0, f"shaft_seat__{end}": 17.0})
        _sizes(taker, **{f"housing_bore__{end}": 40.01, f"shaft_step__{end}": 21.0})
    _sizes(taker, bearing_span=82.0, worm_length=50.0)
    _words(taker, table_bearing_kind="flat ways")
    _words(taker, table_shim_arrangement="retainer on shim")
    _words(taker, worm_shim_arrangement="nut with inner spacer")
    _sizes(taker, table_shim=0.635, worm_shim=6.35)
    _sizes(taker, temperature__housing=19.0, temperature__room=18.5)
    for phi in (0.0, 32.0, 60.0, 92.0, 120.0, 152.0, 180.0, 212.0, 240.0, 272.0, 300.0, 332.0):
        taker.rock_at(phi, psi=0.0, radius=88.9, torque=3390.0)
    taker.rock_at(0.0, psi=0.0, radius=88.9, torque=3390.0)
    for k in range(4):
        turn = k / 4
        taker.rock_at(228 + 4 * turn, psi=turn * 2 * math.pi, radius=88.9, torque=3390.0)
    for phi in (0.0, 92.0, 180.0, 272.0):
        taker.rock_at(phi, psi=0.0, pins=2, radius=88.9, torque=3390.0)
    for phi in (60.0, 228.0):
        taker.rock_at(phi, psi=0.0, radius=88.9, torque=1130.0)
    taker.plays()
    _drags(taker, 240.0, 229.0, free=110.0, table=1500.0)


def _lever_tip(taker: Taker) -> None:
    """A rock read at the tip of the lever."""
    taker.rock_at(60.0, psi=0.0, radius=88.9, torque=3390.0)
    last = taker.readings[-1]
    lever = {**last.conditions, "surface": "lever tip"}
    taker.readings[-1] = type(last)(
        seq=last.seq,
        kind=last.kind,
        raw="9.5 thou",
        value=9.5 * 0.0254,
        table_angle=last.table_angle,
        worm_angle=last.worm_angle,
        conditions=lever,
        note="read at the lever tip",
    )


def club_rest(taker: Taker, *, oil: str = "compounded gear oil") -> None:
    """Outlines of the shims, the table, the blue and the oil, without a trap unless by the oil."""
    _outlines(
        taker,
        table=(76.2, 108.0, 0, 0.0, 0.0),
        worm=(17.2, 22.6, 0, 0.0, 0.0),
        wheel=(50.8, 82.6, 4, 66.7, 6.6),
    )
    club_table(taker, oil=oil)


CLUB_README = """\
# club table B (made up)

An 8 in 90:1 table with plain ways, inch through and through. All figures are invented; the
readings were generated from `truth.toml` with seeded noise by `scripts/make_examples.py`.

What to expect:

- *measure* refuses the rock that was read at the lever tip: the lever bends. It warns of hypoid
  oil on a bronze wheel.
- *diagnose* names the mesh as the largest cause and the worm end play second; tight spot near
  230°.
- *correct* asks no tip relief; the housing is iron and the wheel bronze, so the mesh closes
  when warm and the least play must be kept above that.
- The truth of every cause lies inside its 95 % interval (checked by
  `tests/loops/test_examples.py`).
"""

CLUB = Example("club-table", 40, CLUB_TRUTH, CLUB_JOB, take_club, CLUB_README)

# ------------------------------------------------------------------ four readings

FOUR_JOB = (
    ROUTER_JOB.replace("garage router axis", "four readings")
    .replace("GR-1", "FOUR-1")
    .replace("[pair]\n", '[pair]\nmodule = "1.25 mm"\npressure_angle = "20 deg"\n')
)


def take_four(taker: Taker) -> None:
    """The tooth count, two rocks and the end play: the least that gives an answer."""
    taker.take("teeth", 80.0)
    taker.rock_at(0.0, psi=0.0)
    taker.rock_at(180.0, psi=0.0)
    taker.take("worm_end_play", taker.truth.end_play, conditions={"how": "rocking table"})


FOUR_README = """\
# four readings (made up)

The same invented unit as the garage router axis, but only four readings: tooth count, two
rocks, worm end play; the module is confirmed in `job.toml`. *diagnose* answers, says how wide
its answer is, what it could not tell apart, and which reading to take next. *correct* has no
sizes to give and says why.
"""

FOUR = Example("four-readings", 40, ROUTER_TRUTH, FOUR_JOB, take_four, FOUR_README)
