"""Deep-groove ball bearings: sizes, ratings by maker, clearance groups, axial play factor."""

from __future__ import annotations

import re
import string
from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import band_row, number, rows

CLEARANCE_GROUPS = ("C2", "CN", "C3", "C4", "C5")


@dataclass(frozen=True, slots=True)
class Bearing:
    """Boundary dimensions by ISO 15, mm. `alternative` is the other name of the same size."""

    designation: str
    alternative: str
    series: str
    bore: float
    outside: float
    width: float
    fillet_min: float
    source: str

    @property
    def section(self) -> float:
        """Radial thickness of the bearing, mm."""
        return (self.outside - self.bore) / 2

    @property
    def pitch_diameter(self) -> float:
        """Mean of bore and outside, mm: where the ball circle lies, within a few per cent."""
        return (self.bore + self.outside) / 2


@dataclass(frozen=True, slots=True)
class Rating:
    """Load ratings of one maker, N: they are the maker's own, ISO 15 does not fix them."""

    designation: str
    maker: str
    dynamic: float
    static: float
    f0: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Marking:
    """What a bearing's marking says. `unread` holds the suffixes that were not understood.

    `group` is the radial clearance group; `group_marked` tells whether it stood on the bearing
    or CN was taken because nothing stood there.
    """

    text: str
    designation: str
    group: str
    group_marked: bool
    closure: str
    unread: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Clearance:
    """Radial clearance of an unmounted, unloaded bearing, mm (diametral figure)."""

    group: str
    low: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class PlayFactor:
    """K of axial play = K * sqrt(radial clearance), mm^0.5."""

    factor: float
    source: str


_CLOSURES = {
    "2RS": "sealed both sides",
    "2RS1": "sealed both sides",
    "2RSH": "sealed both sides",
    "2RSR": "sealed both sides",
    "DDU": "sealed both sides",
    "LLU": "sealed both sides",
    "RS": "sealed one side",
    "RS1": "sealed one side",
    "DU": "sealed one side",
    "LU": "sealed one side",
    "ZZ": "shielded both sides",
    "2Z": "shielded both sides",
    "Z": "shielded one side",
}


@cache
def bearings() -> tuple[Bearing, ...]:
    """Every deep-groove bearing of the handbook, by series and bore."""
    return tuple(
        Bearing(
            r["designation"],
            r["alternative"],
            r["series"],
            float(r["bore_mm"]),
            float(r["outside_mm"]),
            float(r["width_mm"]),
            float(r["fillet_min_mm"]),
            r["source"],
        )
        for r in rows("bearing_sizes")
    )


@cache
def _by_name() -> dict[str, Bearing]:
    return {name: b for b in bearings() for name in (b.designation, b.alternative)}


def read_marking(text: str) -> Marking:
    """Read a bearing marking such as `6204-2RS C3`, `NSK 6204ZZ` or `61904`.

    The number must be a deep-groove size of the handbook. What is not understood (maker, cage,
    grease) is handed back in `unread`, not guessed at; a clearance group that is not marked is
    taken as CN and said so.

    Raises ValueError if no known size is found.
    """
    clean = re.sub(r"[-,\s]+", " ", text.upper()).strip()
    marked = clean
    clean = marked.lstrip(f"{string.ascii_uppercase} ")
    before = marked.removesuffix(clean)
    names = [name for name in _by_name() if clean.startswith(name)]
    whole = [n for n in names if not re.match(r"(?!2RS|2Z)\d", clean[len(n) :])]
    if not whole:
        raise ValueError(
            f"bearing marking {text!r}: expected a deep-groove size such as 6204, 6904 or 61904; "
            "measure bore, outside and width and enter the bearing as your own row"
        )
    name = max(whole, key=len)
    group, closure, unread = "", "", before.split()
    for mark in re.findall(r"C[0-5N](?![0-9])|[A-Z0-9.]+?(?=C[0-5N]|[ /]|$)", clean[len(name) :]):
        if mark in (*CLEARANCE_GROUPS, "C0") and not group:
            group = "CN" if mark == "C0" else mark
        elif mark in _CLOSURES and not closure:
            closure = _CLOSURES[mark]
        else:
            unread.append(mark)
    designation = _by_name()[name].designation
    return Marking(text, designation, group or "CN", bool(group), closure, tuple(unread))


def bearing(marking: str) -> Bearing:
    """The bearing that a marking names, whichever way its size is written."""
    return _by_name()[read_marking(marking).designation]


def bearings_with(*, bore: float, outside_below: float) -> tuple[Bearing, ...]:
    """Bearings of the same bore and a smaller outside, the largest outside first.

    They leave room for an eccentric bushing in a housing bored for `outside_below` (mm).
    """
    fits = [b for b in bearings() if b.bore == bore and b.outside < outside_below]
    return tuple(sorted(fits, key=lambda b: -b.outside))


def bearings_of_size(*, bore: float, outside: float, width: float) -> tuple[Bearing, ...]:
    """Bearings whose three measured sizes agree within 0.1 mm: a caliper's guess at a worn mark."""
    return tuple(
        b
        for b in bearings()
        if max(abs(b.bore - bore), abs(b.outside - outside), abs(b.width - width)) <= 0.1
    )


@cache
def ratings(designation: str) -> tuple[Rating, ...]:
    """Load ratings of every maker in the handbook for one size."""
    return tuple(
        Rating(
            r["designation"],
            r["maker"],
            float(r["dynamic_n"]),
            float(r["static_n"]),
            number(r, "f0"),
            r["source"],
        )
        for r in rows("bearing_ratings")
        if r["designation"] == designation
    )


def least_rating(designation: str) -> Rating:
    """The maker with the lowest static rating: the one to count on when the make is unknown."""
    return min(ratings(designation), key=lambda r: r.static)


def clearance(bore: float, group: str) -> Clearance:
    """Radial clearance of one group for a bore in mm, by ISO 5753."""
    of_group = tuple(r for r in rows("bearing_clearance") if r["group"] == group)
    if not of_group:
        raise ValueError(
            f"clearance group {group!r}: expected one of {', '.join(CLEARANCE_GROUPS)}"
        )
    row = band_row(of_group, bore, f"radial clearance {group}", "bore_over_mm", "bore_to_mm")
    return Clearance(group, float(row["low_mm"]), float(row["high_mm"]), row["source"])


_SMALL_BORE_CODES = {10.0: "00", 12.0: "01", 15.0: "02", 17.0: "03"}


def play_factor(designation: str) -> PlayFactor | None:
    """K of the short axial-play law for one size; None where the maker's table has no row."""
    size = _by_name()[designation]
    code = _SMALL_BORE_CODES.get(size.bore)
    if size.bore >= 20 and size.bore % 5 == 0:
        code = f"{size.bore / 5:02.0f}"
    for r in rows("axial_play_factor"):
        if (r["series"], r["bore_code"]) == (size.series, code):
            return PlayFactor(float(r["factor"]), r["source"])
    return None


def ring_limits(ring: str, size: float) -> tuple[float, float]:
    """Upper and lower deviation of the mean ring diameter, mm; `ring` is bore or outside."""
    of_ring = tuple(r for r in rows("bearing_ring_limits") if r["ring"] == ring)
    row = band_row(of_ring, size, f"bearing {ring}", "over_mm", "to_mm")
    return float(row["upper_mm"]), float(row["lower_mm"])


@cache
def thrust_factors() -> tuple[tuple[float, float, float], ...]:
    """Rows (f0 Fa/C0r, e, Y) of ISO 281 for deep-groove bearings of normal clearance."""
    return tuple(
        (float(r["f0_fa_c0"]), float(r["e"]), float(r["y"])) for r in rows("iso281_factors")
    )
