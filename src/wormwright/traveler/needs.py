"""What each correction needs of the order of work."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from wormwright.job.rotary import Job

_MESH_SET = ("wheel_joint", "end_play_reread", "axial_centring", "final_depth", "coupling")

NEEDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "table_shim": ("table_bearing", "wheel_joint"),
        "worm_shim": ("worm_end_play",),
        "relief": ("worm_relief", "worm_end_play"),
        "bushings": ("bushings_in", "bushings_made", *_MESH_SET),
        "setting": ("setting_move", *_MESH_SET),
        "centre_shim": ("centre_shim", *_MESH_SET),
        "wheel_truing": ("wheel_seat", "wheel_joint", "axial_centring", "final_depth"),
        "wheel_centring": ("axial_centring", "wheel_joint", "final_depth"),
        "journal_bush": ("worm_journals", "worm_end_play"),
        "wheel_joint": ("wheel_joint",),
        "coupling": ("coupling",),
        "bias_weight": ("bias_weight",),
        "friction_brake": ("friction_brake",),
        "clamp": ("clamp_adjust",),
        "adapter": ("adapter_true",),
        "approach": ("proof_rock",),
    }
)
"""Correction key -> operations it needs, the first one being where it is carried out."""

CLOSED = frozenset({"coupling", "bias_weight", "friction_brake", "clamp", "adapter", "approach"})
"""Corrections for which the unit is not opened."""

OPENED = ("strip_wash", "seal_grease", "bed_in")
"""What is needed as soon as the unit is opened at all."""


def mount_keys(job: Job) -> frozenset[str]:
    """Operations on the machine, once job.toml says how the unit is to stand there."""
    if job.mount is None:
        return frozenset()
    tail = {"tail_set"} if job.mount.has_tail else set()
    return frozenset({"mount_base", "chuck_dial", *tail})


ALWAYS = ("baseline", "warm_recheck", "proof_rock", "proof_axis", "recheck")

MAKING: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"bushings": ("bushings_made", "bushings_in", "trial_pair")}
)
"""Correction key -> where its making takes the time, then what else its minutes hold."""

SPLIT = ("rock", "worm_end_play", "worm_float", "table_radial_play")
"""What tells mesh from bearings: wanted as found before a unit is opened to close its mesh."""

OWN_SIZES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "bushings": ("teeth", "worm_od", "housing_bore", "centre_distance"),
        "relief": ("worm_od",),
    }
)
"""Correction key -> sizes that must have been read on this unit before metal is cut for it."""

DEPTH_MOVES = ("bushings_in", "setting_move", "centre_shim")
"""Operations that move the worm toward the wheel."""

CODE_AT: Mapping[str, str] = MappingProxyType(
    {
        "E-15": "worm_end_play",
        "E-19": "axial_centring",
        "E-20": "final_depth",
        "E-22": "warm_recheck",
        "E-39": "bushings_made",
        "E-41": "coupling",
    }
)
"""Trap -> the operation whose page carries the plan's warning of it."""
