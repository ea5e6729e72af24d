"""Waves found in the error of a proved axis, each with its cause in the words of the trade."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.result import Estimate


@dataclass(frozen=True, slots=True)
class WaveCause:
    """What a wave comes from, if from that: words, and how much of it, mm (or rad at the motor).

    `compared` says how it stands beside what the diagnosis found; empty when that is silent.
    """

    words: str
    amount: Estimate
    compared: str = ""


@dataclass(frozen=True, slots=True)
class WaveFound:
    """A wave of the error: `size` its amplitude (rad), `highest` the table angle of a crest, rad.

    `of_play` is True for a wave of the reversal and not of the mean of both sides. `refusal` says
    why it cannot be told (`size` is then None); `alike` names what looks the same at these
    targets. `stands_out` is False when the scatter alone makes waves of that size.
    """

    key: str
    label: str
    order: float
    of_play: bool
    size: Estimate | None
    highest: float | None
    stands_out: bool
    causes: tuple[WaveCause, ...]
    alike: tuple[str, ...] = ()
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Harmonics:
    """Every wave that was looked for; `rest` is what no wave explains (one standard deviation)."""

    waves: tuple[WaveFound, ...]
    rest: Estimate
    places: int

    def of(self, key: str, *, of_play: bool = False) -> WaveFound | None:
        """The wave of that name, or None when it was not looked for."""
        return next((w for w in self.waves if w.key == key and w.of_play is of_play), None)
