"""Marks of blue to compare with at the bench: the set position and the usual faults."""

from __future__ import annotations

from functools import lru_cache

from wormwright.core.blue_film import FILM, BlueFilm, share_of_face, sketch_of_film
from wormwright.core.flank import Place
from wormwright.core.mesh_pair import PairSizes
from wormwright.job.blocks import Block, BluePicture, BlueState, FlankMark, Heading, Paragraph
from wormwright.job.corrections import WormPlace
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.rotary import Units
from wormwright.quantities import shown
from wormwright.stages.correct.meshes import IN_WORDS, exact_mesh, sizes_of, usual_excess
from wormwright.stages.correct.unit import Array

POSSIBLE = 0.05
"""A wheel kind believed less than this is not drawn."""
FAULT, FAULT_SKEW = 0.1, 2e-3
"""Size of the faults drawn: shifts in axial modules, skew in rad."""
MINUS = "\N{MINUS SIGN}"


def blue_blocks(stands: WormPlace, units: Units) -> list[Block]:
    """The pictures of the marks, or why they cannot be drawn."""
    heading = Heading("Marking blue: what the tooth should show", 2)
    try:
        return [heading, Paragraph(_note(stands.pair)), *blue_pictures(stands, units)]
    except ValueError as reason:
        return [heading, Paragraph(f"The marks of this pair cannot be drawn: {reason}.")]


def blue_pictures(stands: WormPlace, units: Units) -> tuple[BluePicture, ...]:
    """Marks as set for each wheel kind still possible, then the faults of the likeliest.

    Raises:
        ValueError: the sizes are those of no pair that runs.
    """
    kinds, pair = _possible(stands.pair), stands.pair
    set_place = Place(da=stands.left, dz=stands.sideways)
    first = blue_film(pair, kinds[0])
    as_set = tuple(
        _state(
            f"As set: {IN_WORDS[kind].removeprefix('a ')}" if len(kinds) > 1 else "As set",
            blue_film(pair, kind),
            set_place,
            AS_SET[kind],
        )
        for kind in kinds
    )
    shift = FAULT * pair.axial_module
    faults = [_state(n, first, place, do) for n, place, do in _faults(set_place, shift, units)]
    faults.append(_bottomed(first, Place(da=max(stands.found, shift))))
    enters = 1 if pair.hand == "right" else -1
    return (
        BluePicture("Marks of blue as set, computed", FILM, enters, as_set),
        BluePicture(
            "Marks of blue when the depth or the middle is not right, computed",
            FILM,
            enters,
            tuple(faults[:4]),
        ),
        BluePicture(
            "Marks of blue when the worm is skewed or its crest rests, computed",
            FILM,
            enters,
            tuple(faults[4:]),
        ),
    )


def blue_tried(pair: WormPair, at: Place) -> BluePicture:
    """Marks for a place of the worm that is only tried, of the likeliest wheel kind.

    Raises:
        ValueError: the sizes are those of no pair that runs.
    """
    state = _state("As tried", blue_film(pair, _possible(pair)[0]), at, TRIED)
    enters = 1 if pair.hand == "right" else -1
    return BluePicture("Marks of blue at this setting, computed", FILM, enters, (state,))


def _possible(pair: WormPair) -> list[WheelKind]:
    """Wheel kinds still possible, likeliest first."""
    ranked = sorted(pair.kinds, key=lambda row: -row[1])
    return [kind for kind, belief in ranked if belief >= POSSIBLE]


def blue_film(pair: WormPair, kind: WheelKind) -> BlueFilm:
    """The wheel of a pair, ready to be marked, from the mesh that the plan was made with."""
    excess = usual_excess(pair) if kind == "oversize-hob" else 0.0
    return _film(sizes_of(pair, kind, excess))


@lru_cache(maxsize=6)
def _film(sizes: PairSizes) -> BlueFilm:
    return BlueFilm(exact_mesh(sizes).mesh)


def _faults(at: Place, shift: float, units: Units) -> list[tuple[str, Place, str]]:
    """Name, place of the worm and cure of each fault, apart from a worm that has bottomed."""
    off = shown(shift, "length", resolution=0.01, units=units)
    out = shown(2 * shift, "length", resolution=0.01, units=units)
    skewed = f"{FAULT_SKEW * 1000:g} in 1000"
    return [
        (f"Too far out, by {out}", Place(da=2 * shift), TOO_FAR),
        (f"Too deep, by {out}", Place(da=-2 * shift), TOO_DEEP),
        (f"Worm {off} off the wheel's middle, to +Z", at._replace(dz=shift), TO_PLUS),
        (
            f"Worm {off} off the wheel's middle, to \N{MINUS SIGN}Z",
            at._replace(dz=-shift),
            TO_MINUS,
        ),
        (f"Skewed {skewed}, +X end to {MINUS}Z", at._replace(skew=FAULT_SKEW), SKEW_PLUS),
        (f"Skewed {skewed}, +X end to +Z", at._replace(skew=-FAULT_SKEW), SKEW_MINUS),
    ]


def _state(
    name: str, film: BlueFilm, place: Place, do: str, crest: Array | None = None
) -> BlueState:
    return BlueState(name, _mark(film, place, -1), _mark(film, place, 1), do, crest)


def _mark(film: BlueFilm, place: Place, side: int) -> FlankMark:
    field, table = film.gaps(place, side), film.tables[side]
    lowest = table.low.min()
    share = round(share_of_face(field) * 10) * 10
    return FlankMark(
        field.z,
        field.rho - lowest,
        field.gap,
        table.low - lowest,
        field.rho[:, -1] - lowest,
        f"{sketch_of_film(field)}, about {share} % of the face",
    )


def _bottomed(film: BlueFilm, place: Place) -> BlueState:
    room = film.gaps(place, 1).root_gap
    return _state("Bottomed on the worm crest", film, place, BOTTOMED, room - room.min())


def _note(pair: WormPair) -> str:
    kinds = _possible(pair)
    note = (
        "The marks are computed for flanks as cut, without burrs and wear, the table braked "
        "lightly and turned past both ways; look at the flank that carried. Compare shape and "
        "side, not the size to the millimetre. "
    )
    if len(kinds) > 1:
        note += (
            "The wheel kind is not settled: the faults are drawn for the likeliest, "
            f"{IN_WORDS[kinds[0]]}; the marks as set are drawn for each. "
        )
    if "helical" in kinds:
        note += (
            "A plain helical wheel marks in a small patch wherever the worm stands sideways, so "
            "its blue does not tell the middle."
        )
    return note.strip()


AS_SET: dict[str, str] = {
    "hob-equal": "This is the mark to work to: alike on both flanks, neither end left bare. A "
    "wheel that has run marks less.",
    "oversize-hob": "This is the mark to work to: a patch in the middle of both flanks, as high "
    "as the tooth. It widens as the pair beds in.",
    "helical": "This is the mark to work to: a narrow patch in the middle of both flanks. It "
    "widens as the pair beds in.",
}
TRIED = "Hold it beside the marks as set."
TOO_FAR = (
    "Bring the worm toward the wheel and look again: opposite ends on the two flanks come from the "
    "lead. If they stay after closing, see Skewed."
)
TOO_DEEP = "Move the worm apart until play returns. Never bed in a mesh that is shut."
TO_PLUS = (
    "Both flanks mark at the +Z end. Shim the wheel along +Z, after the worm. The mesh feels "
    "closed: do not close on it."
)
TO_MINUS = (
    "Both flanks mark at the \N{MINUS SIGN}Z end. Shim the wheel along \N{MINUS SIGN}Z, after the "
    "worm. The mesh feels closed: do not close on it."
)
SKEW_PLUS = (
    "Opposite ends on the two flanks. Lift the +X end of the worm toward +Z, or lower the other; "
    "shimming the wheel does not cure it."
)
SKEW_MINUS = (
    "Opposite ends on the two flanks. Lower the +X end of the worm toward \N{MINUS SIGN}Z, or lift "
    "the other; shimming the wheel does not cure it."
)
BOTTOMED = (
    "A line at the foot of the tooth and a bright worm crest, whatever the flanks show. Move "
    "apart, or turn the worm's outside down."
)
