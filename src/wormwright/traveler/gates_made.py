"""Gates of what is made, of the remakes, and of what is done on the set mesh; ticks; spot checks.

A tick is a gate without a quantity: yes or no.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from wormwright.job.operation import Gate, Operation
from wormwright.quantities import Dimension
from wormwright.traveler.limits import (
    DRAG_RATIO,
    ENDS_APART,
    HALF_THOU,
    LOOSE_FIT,
    BushingLimits,
    Limits,
)

YES = 1.0
BEDDED = 1.2
"""Drag after bedding in against before: two repeats of a spring balance apart, no more."""


def tick(key: str, label: str, how: str, if_failed: str, *, back_to: str = "") -> Gate:
    """A gate that is answered with yes or no; only yes passes."""
    return Gate(key, label, "none", YES, YES, how, if_failed, back_to)


def written(key: str, label: str, dimension: Dimension, how: str) -> Gate:
    """A value that is only written down."""
    return Gate(key, label, dimension, None, None, how, "")


CLEAN = tick(
    "clean",
    "Dust, paste, swarf and blue washed out before closing",
    "White rag through bores, teeth and thread: it stays white.",
    "Wash again: grinding dust or paste left in cuts the new mesh.",
)


def agreed(op: Operation) -> Gate:
    """The tick for an operation that cannot be undone, before it is begun."""
    return tick(
        f"agreed_{op.key}",
        f"Agreed, {op.number} {op.title}: {op.lasting}",
        "Read to whoever owns the unit, before anything is cut.",
        "Leave that operation out: choose another plan.",
    )


OWN_SIZES_MEASURED = tick(
    "own_sizes",
    "Every size of the drawings measured on this very unit",
    "Against the drawings, one by one; a guide or another unit of the batch does not count.",
    "Measure what is missing and enter it; the plan is made again from it.",
)


def spot_check(lim: Limits) -> tuple[Gate, ...]:
    """Two places read before and after the tightening, and the change at each."""
    places = (("tight", "at the tight spot"), ("far", "straight across the table from it"))
    gates: list[Gate] = []
    for key, where in places:
        for when in ("before", "after"):
            gates.append(
                written(
                    f"spot_{key}_{when}",
                    f"Rock {where}, {when} tightening",
                    "length",
                    "Same pin, lever and torque as in the baseline; indicator left standing.",
                )
            )
        gates.append(
            Gate(
                f"spot_{key}",
                f"Change of the rock {where}",
                "length",
                None,
                lim.spot,
                "After less before.",
                "Tightening strains the housing: loosen, look for a burr or a twisted cover, "
                "tighten in a star and read both places again.",
            )
        )
    return tuple(gates)


_NEXT = "next_bushing"
_SWING = "Bushing on a mandrel in V-blocks or between centres, one turn; not half of it."
_WALL = "Ball-ended calliper at the pop mark."
_SLACK = "Mean of the bore in two directions less the outside; or by feel with a lapped plug."


def _bushing(
    end: str, swing: tuple[float, float], wall: float, slack: tuple[float, float]
) -> tuple[Gate, ...]:
    tail, which = (f"_{end}", f" {_named(end)}") if end else ("", "")
    return (
        Gate(
            f"swing{tail}",
            f"Whole swing of the bore of bushing{which} (twice the throw)",
            "length",
            *swing,
            _SWING,
            "The throw missed: make the bushing again.",
            back_to=_NEXT,
        ),
        Gate(
            f"wall{tail}",
            f"Thinnest wall of bushing{which}",
            "length",
            wall,
            None,
            _WALL,
            "Too thin to hold its shape: make it again to its drawing.",
            back_to=_NEXT,
        ),
        _slack(tail, which, slack),
    )


def _slack(tail: str, which: str, slack: tuple[float, float]) -> Gate:
    return Gate(
        f"slack{tail}",
        f"Clearance of bushing{which} in its bore",
        "length",
        *slack,
        _SLACK,
        "Tight: lap the outside and sign again. Loose: it would move the depth when it is "
        "clamped; make the next size.",
        back_to=_NEXT,
    )


def _named(end: str) -> str:
    side, _, outer = end.partition("_")
    return f"{side.upper()}, outer" if outer else side.upper()


def _bore(back_to: str) -> Gate:
    return Gate(
        "bore_round",
        "Housing bore, largest less smallest reading",
        "length",
        None,
        LOOSE_FIT,
        "Bore gauge, two directions at two depths, the worse end.",
        "Scored, oval or bell-mouthed: no bushing holds its place in it. Bore it true and sleeve "
        "it.",
        back_to=back_to,
    )


def _bushings_made(lim: Limits) -> tuple[Gate, ...]:
    checks = tuple(g for b in lim.bushings for g in _bushing(b.end, b.swing, b.wall, b.slack))
    if not checks:
        checks = tuple(_slack(f"_{end}", f" {end.upper()}", (0.0, LOOSE_FIT)) for end in "ab")
    clear = tick(
        "screws_clear",
        "No screw through the thin side, and the worm passes where it goes in",
        "Screw circle against the pop mark; worm tried through the housing with the bushing out.",
        "Drill the holes elsewhere; if the worm cannot pass, choose another plan.",
    )
    return (*checks, _bore("sleeve_bore"), clear)


def _next_bushing(lim: Limits) -> tuple[Gate, ...]:
    """Either bushing may be the one made again; the narrower limits of the two hold."""
    made: tuple[BushingLimits, ...] = lim.bushings
    if not made:
        return (_slack("", "", (0.0, LOOSE_FIT)),)
    swing = (max(b.swing[0] for b in made), min(b.swing[1] for b in made))
    if swing[0] > swing[1]:
        swing = (min(b.swing[0] for b in made), max(b.swing[1] for b in made))
    wall = max(b.wall for b in made)
    slack = (max(b.slack[0] for b in made), min(b.slack[1] for b in made))
    return _bushing("", swing, wall, slack)


def _sleeve_bore(_: Limits) -> tuple[Gate, ...]:
    return (
        tick(
            "agreed",
            "Agreed before the cut: the housing bore is cut larger for good",
            "Read to whoever owns the unit.",
            "Do not bore: choose another plan.",
        ),
        _bore(""),
        Gate(
            "bores_in_line",
            "Bores A and B out of line",
            "length",
            None,
            ENDS_APART,
            "Test bar through both, indicator at each end.",
            "Bore the sleeve again at one setting of both ends.",
        ),
        Gate(
            "bore_moved",
            "New bore off the old worm line, toward the wheel",
            "length",
            -ENDS_APART,
            ENDS_APART,
            "Height or travel of the machine against the reading before the cut.",
            "The plan starts from the factory line: enter the new centre distance, plan again.",
        ),
    )


def _wheel_seat(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "wheel_swing",
            "Swing of the wheel at its pitch circle",
            "length",
            None,
            lim.wheel_swing,
            "Over a pin in the tooth spaces, 12 places, table turned on its own bearing.",
            "Shift the wheel against the high side by half its swing and read again.",
        ),
    )


def _clamp_adjust(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "clamp_shift",
            "Shift of the table on locking, at the radius of the duty",
            "length",
            None,
            lim.clamp_shift,
            "The largest of three, always locked in the same order.",
            "The pad pulls to one side: square it, or lock both screws by halves.",
        ),
        Gate(
            "clamp_torque",
            "Torque that the locked table holds",
            "torque",
            lim.clamp_torque,
            None,
            "Lever and spring balance, until the needle moves.",
            "Clean oil off the pads, or more pull on the lock; never count on the worm instead.",
        ),
        tick(
            "lock_free",
            "Lock off: the table drags no more than without it",
            "Pull the table round both ways.",
            "A pad that rubs hides play in the rock and stalls the motor: relieve it.",
        ),
    )


def _bed_in(_: Limits) -> tuple[Gate, ...]:
    how = "Mean of a full table turn, cord and drum, at the same temperature."
    return (
        written("drag_before", "Drag in mesh before bedding in", "torque", how),
        written("drag_after", "Drag in mesh after bedding in", "torque", how),
        Gate(
            "drag_after_to_before",
            "Drag after / before",
            "ratio",
            None,
            BEDDED,
            "The one divided by the other.",
            "It should not rise: dirt, a dry flank or a mesh that shuts warm. Open the cover, look "
            "and wash before it runs again.",
            back_to="seal_grease",
        ),
    )


def _held(word: str, extra: tuple[Gate, ...] = ()) -> Callable[[Limits], tuple[Gate, ...]]:
    def build(lim: Limits) -> tuple[Gate, ...]:
        peak = Gate(
            f"drag_peak_{word}",
            f"Highest drag at the worm with the {word}",
            "torque",
            None,
            lim.drag,
            "Cord and drum round the whole working travel, both ways.",
            "More than the duty or the motor allows: less weight or less spring.",
        )
        return (*extra, peak)

    return build


_OIL_SUITS = tick(
    "oil_suits",
    "Oil or grease suits the metal of the wheel",
    "Read the label against the lines above: bronze wants no EP or hypoid oil.",
    "Drain and wash it out; fill what suits the wheel.",
)
_CORD = tick(
    "cord_clear",
    "Cord runs clear over the whole travel, weight caged",
    "Turn the whole working travel by hand.",
    "Move the pulley or shorten the travel before the axis is powered.",
)
_EVEN = Gate(
    "brake_even",
    "Pull with the brake, highest / median of a turn",
    "ratio",
    None,
    DRAG_RATIO,
    "Pull at a known radius every 30°.",
    "The pad grips where the table runs out: give it a softer spring.",
)


def _adapter_true(_: Limits) -> tuple[Gate, ...]:
    again = "Take it off, clean both faces, try the wedge shim; skim only what is left."
    return tuple(
        Gate(
            f"{key}_swing",
            f"Swing of the {name}, clamped as in use",
            "length",
            None,
            HALF_THOU,
            "Eight places round the turn, lever indicator.",
            again,
        )
        for key, name in (("register", "register"), ("face", "face near its rim"))
    )


EXTRA: Mapping[str, Callable[[Limits], tuple[Gate, ...]]] = MappingProxyType(
    {
        "wheel_seat": _wheel_seat,
        "bushings_made": _bushings_made,
        "next_bushing": _next_bushing,
        "sleeve_bore": _sleeve_bore,
        "clamp_adjust": _clamp_adjust,
        "seal_grease": lambda _: (CLEAN, _OIL_SUITS),
        "bed_in": _bed_in,
        "bias_weight": _held("weight", (_CORD,)),
        "friction_brake": _held("brake", (_EVEN,)),
        "adapter_true": _adapter_true,
    }
)
