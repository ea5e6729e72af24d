"""A small reader of the words a test programme is made of, as a control would carry them out."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

_COMMENT = re.compile(r"\(([^()]*)\)")
_WORD = re.compile(r"([A-Z])([+-]?\d+(?:\.\d+)?)")


class ProgrammeError(ValueError):
    """A line that a control would not understand, or that does what no test may do."""


@dataclass(frozen=True)
class Stood:
    """Where the table stood still to be read: angle in degrees, which way it came, how long."""

    angle: float
    came: str
    seconds: float
    stopped: bool
    said: str


@dataclass
class Control:
    """The state of a control that knows these few words and no others."""

    axis: str
    at: float = 0.0
    feed: float | None = None
    came: str = ""
    said: str = ""
    fed: bool = False
    over: bool = False
    modes: set[str] = field(default_factory=set)
    stood: list[Stood] = field(default_factory=list)

    def line(self, text: str) -> None:
        """Carry out one line."""
        if self.over:
            raise ProgrammeError(f"after the end: {text}")
        bare = _COMMENT.sub("", text).strip()
        self.said = (_COMMENT.findall(text) or [self.said])[-1]
        words = _WORD.findall(bare)
        if "".join(a + b for a, b in words) != bare.replace(" ", ""):
            raise ProgrammeError(f"not understood: {bare}")
        given = {a: float(b) for a, b in words if a not in "GM"}
        for code in (f"{a}{b}" for a, b in words if a in "GM"):
            self.word(code, given)

    def word(self, code: str, given: dict[str, float]) -> None:
        """Carry out one word with the figures of its line."""
        match code:
            case "G90" | "G94":
                self.modes.add(code)
            case "G0" | "G1":
                self.move(given, fed=code == "G1")
            case "G4":
                if not self.fed:
                    raise ProgrammeError("a dwell that follows no feed move")
                self.stood.append(Stood(self.at, self.came, given["P"], False, self.said))
            case "M0" | "M1":
                self.stood[-1] = replace(self.stood[-1], stopped=True)
            case "M2":
                self.over = True
            case _:
                raise ProgrammeError(f"{code} is not a word of the test")

    def move(self, given: dict[str, float], *, fed: bool) -> None:
        """Go there; which way is what counts."""
        if self.modes != {"G90", "G94"} or set(given) - {self.axis, "F"} or self.axis not in given:
            raise ProgrammeError("a move that is not clear")
        self.feed = given.get("F", self.feed)
        if fed and not self.feed:
            raise ProgrammeError("a feed move without a feed")
        to = given[self.axis]
        self.came = "forward" if to > self.at else "backward" if to < self.at else ""
        self.at, self.fed = to, fed


def carried_out(programme: str, *, axis: str = "A") -> list[Stood]:
    """Every place at which the table stood, in order."""
    control = Control(axis)
    for text in programme.splitlines():
        control.line(text)
    if not control.over:
        raise ProgrammeError("the programme has no end")
    return control.stood
