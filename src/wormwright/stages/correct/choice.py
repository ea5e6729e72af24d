"""Sets of corrections out of what is possible on this unit, and the unit that each set meets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from wormwright.job.corrections import CORRECTIONS, Correction
from wormwright.stages.correct.centring import centred
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.depth import DepthPlan
from wormwright.stages.correct.predict import Left
from wormwright.stages.correct.strategy import RECENTRED
from wormwright.stages.correct.truing import trued
from wormwright.stages.correct.unit import UnitRows

ORDER = tuple(CORRECTIONS)
LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Choice:
    """One set of corrections. `later` marks a depth strategy that is not the first of its list."""

    cures: tuple[Cure, ...] = ()
    depth: DepthPlan | None = None
    later: bool = False

    def has(self, key: str) -> bool:
        """Whether a correction of that key is in the set."""
        return any(c.key == key for c in self.corrections)

    @property
    def corrections(self) -> tuple[Correction, ...]:
        """Corrections in the order of work."""
        found = [cure.correction for cure in self.cures]
        if self.depth:
            found += [c for c in (self.depth.relief, self.depth.correction) if c]
        return tuple(sorted(found, key=lambda c: ORDER.index(c.key)))

    @property
    def plays(self) -> dict[str, Left]:
        """What is left of each play that the set replaces."""
        plays: dict[str, Left] = {}
        for cure in self.cures:
            plays |= cure.leaves
        return plays | (self.depth.leaves or {} if self.depth else {})

    @property
    def key(self) -> str:
        """Keys of its corrections, or "leave"; a later strategy of the list is named as well."""
        keys = "+".join(c.key for c in self.corrections) or LEAVE
        if self.depth is None or not self.later:
            return keys
        return f"{keys}:{self.depth.strategy.replace(' ', '-')}"

    @property
    def label(self) -> str:
        """The set in words."""
        return "; ".join(c.label for c in self.corrections) or "Leave it as it is"

    @property
    def minutes(self) -> float:
        """Bench time of the whole set."""
        return sum(c.minutes for c in self.corrections)


@dataclass(frozen=True, slots=True)
class Kit:
    """What is possible on this unit: corrections, and depths for the wheel as it is and trued."""

    unit: UnitRows
    cures: tuple[Cure, ...]
    depths: tuple[DepthPlan, ...]
    depths_trued: tuple[DepthPlan, ...] = ()
    _units: dict[tuple[bool, float | None], UnitRows] = field(default_factory=dict)

    def cure(self, key: str) -> Cure | None:
        """The cure of that key, if it is possible."""
        return next((c for c in self.cures if c.key == key), None)

    def unit_of(self, choice: Choice) -> UnitRows:
        """The unit as the set finds it: centred when the depth is set, its wheel trued or not."""
        middle = choice.depth is not None or choice.has("wheel_centring")
        runout = next((c.trues for c in choice.cures if c.trues is not None), None)
        if (middle, runout) not in self._units:
            unit = centred(self.unit) if middle else self.unit
            self._units[middle, runout] = unit if runout is None else trued(unit, runout)
        return self._units[middle, runout]

    def depths_for(self, cures: tuple[Cure, ...]) -> tuple[DepthPlan, ...]:
        """Depth plans of the wheel as those corrections leave it, in the order of the list."""
        truing = any(c.trues is not None for c in cures)
        return tuple(d for d in (self.depths_trued if truing else self.depths) if d.correction)

    def made(self, cures: tuple[Cure, ...], depth: DepthPlan | None) -> Choice | None:
        """The set with all that its parts need; None when something needed is not possible.

        The depth is exchanged for the one of the same strategy on the wheel as it will be.
        """
        wanted = {c.key: c for c in cures}
        needs = [need for c in cures for need in c.needs]
        if depth is not None:
            needs += self._needs_of(depth)
        for need in needs:
            cure = self.cure(need)
            if cure is None:
                return None
            wanted[need] = cure
        ordered = tuple(sorted(wanted.values(), key=lambda c: ORDER.index(c.key)))
        if depth is None:
            return Choice(ordered)
        ways = self.depths_for(ordered)
        same = next((d for d in ways if d.strategy == depth.strategy), None)
        return Choice(ordered, same, same is not ways[0]) if same else None

    def _needs_of(self, depth: DepthPlan) -> list[str]:
        needs = ["worm_shim"] if depth.needs_worm_shim else []
        if self.cure("wheel_centring") and RECENTRED not in depth.strategy:
            needs.append("wheel_centring")
        return needs

    def steps_from(self, here: Choice) -> Iterator[Choice]:
        """Every set that is one step further: one more correction with what it needs."""
        for cure in self.cures:
            if not cure.agreed and not here.has(cure.key):
                further = self.made((*here.cures, cure), here.depth)
                if further:
                    yield further
        ways = self.depths_for(here.cures)
        if here.depth is None and ways:
            further = self.made(here.cures, ways[0])
            if further:
                yield further

    def without(self, choice: Choice, key: str) -> Choice | None:
        """The set less one correction; None when another part of it needs that one."""
        cures = tuple(c for c in choice.cures if c.key != key)
        held = choice.depth and choice.depth.correction and choice.depth.correction.key == key
        got = self.made(cures, None if held else choice.depth)
        return None if got is None or got.has(key) else got

    def named(self, key: str) -> Choice | None:
        """The set of that key as `Choice.key` writes it; None when it is not possible here."""
        if key == LEAVE:
            return Choice()
        names, _, strategy = key.partition(":")
        wanted = set(names.split("+"))
        cures = tuple(c for c in self.cures if c.key in wanted)
        ways = [d for d in self.depths_for(cures) if d.correction and d.correction.key in wanted]
        if strategy:
            ways = [d for d in ways if d.strategy.replace(" ", "-") == strategy]
        got = self.made(cures, ways[0] if ways else None)
        return got if got is not None and got.key == key else None
