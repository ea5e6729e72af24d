"""The job.toml of a new folder: every field with a usual value and what to put there."""

from __future__ import annotations

TEMPLATE = """\
# What the rotary is, what it must do, and what will carry and turn it.
# Every figure is text with its unit: "0.05 mm", "2 thou", "6 N·m", "19 °C".
# Every field is explained in docs/reference/job-folder.md.
format = 1
name = {name}
units = "mm"            # mm or in: the bold one of the two on paper
sheet = "A4"            # A4 or letter
made_up = false         # true marks everything printed as an example
seed = 1                # start of the random draws; the same seed gives the same figures

[rotary]
name = "rotary table"
unit_id = {name}        # serial number, or a mark of your own: no two units are alike
worm_material = "steel"
wheel_material = "bronze"
housing_material = "cast iron"
table_axis = "vertical" # vertical (lying flat) or horizontal (standing)
# table_weight = "180 N"

[duty]                  # change every line to what your work asks for
radius = "60 mm"        # where the error is judged
error = "0.05 mm"       # to-and-fro movement allowed there
direction = "tangential"
approach = "both ways"  # one way, or both ways
work = "indexed"        # indexed, continuous or reversing
torque_to_resist = "6 N·m"
drag_limit = "0.4 N·m"  # at the worm
play_min_cold = "0.01 mm" # least backlash to leave at the wheel pitch radius
shop_low = "12 °C"
shop_high = "28 °C"
rise = "20 K"           # of the rotary above the shop, at work
probability = "90 %"    # wanted chance that the duty is met
# feature = "flats"     # positions, tooth spacing, flats, seam gap, cross holes or contour
# count = 6             # how many teeth, flats or holes
# held = "free"         # against the cut: free, clamped, biased (weight and cord) or braked
# cut = "both sides"    # the cut pushes from one side or from both sides

[machine]
name = ""
kind = "other"          # mill, router, lathe or other
# daylight = "250 mm"     # spindle nose to table, head up; more in the page job-folder

# [mount]               # how the unit stands on the machine: see the page job-folder
# centre_height = "100 mm"
# work_length = "150 mm"

[motor]
name = ""
# holding_torque = "2 N·m"
# steps_per_turn = 200

# [adapter]             # the plate between table and chuck: every size, see the page job-folder
# outside = "160 mm"

[pair]                  # only what is known for certain; readings find the rest
# module = "1.5 mm"     # or: diametral_pitch = "16 DP"
# pressure_angle = "20 deg"

# [[bearing]]           # a bearing that the handbook does not have
# designation = "6002 special"
# bore = "15 mm"
# outside = "32 mm"
# width = "9 mm"

[stock]
shims = ["0.05 mm", "0.1 mm", "0.2 mm", "0.5 mm"]

# [cost]                # rank plans by what they cost you instead of by minutes
# hour = 20             # an hour at the bench, in your own currency
# bushings = 35         # outlay for a correction on top of its hours
"""


def new_job_source(name: str) -> str:
    """The job.toml of a new folder of that name."""
    import tomlkit  # noqa: PLC0415  only needed to write

    readable = name.encode("utf-8", "replace").decode()  # a disk may hold names that are no text
    return TEMPLATE.format(name=tomlkit.item(readable).as_string())
