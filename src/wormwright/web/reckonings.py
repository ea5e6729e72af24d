"""The long reckonings of a job by name: each from a snapshot, with the work done elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType
from typing import Any, TypeVar

from wormwright.app.correct import (
    Planned,
    as_found,
    diagnosis_and_remedy,
    plan_on,
    remember_plan,
)
from wormwright.app.diagnose import (
    Diagnosed,
    as_it_is,
    diagnosis_on,
    remember_diagnosis,
)
from wormwright.app.measure import Sound, sheet_of
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.diagnose import diagnose
from wormwright.web.live_folder import Snapshot
from wormwright.web.reckoner import Call

PLAN, FINDINGS = "plan", "findings"
Answer = TypeVar("Answer", Planned, Diagnosed)
Reckoning = Callable[[Snapshot, Any, Call], object]


@dataclass(frozen=True, slots=True)
class Made:
    """An answer and the job that it was made for."""

    job: Job
    answer: Planned | Diagnosed

    def stands_on(self, job: Job, found: Sound) -> bool:
        """Whether it was made for this very job from the same readings."""
        return self.job == job and self.answer.sound.readings == found.readings


def plan(now: Snapshot, before: object, call: Call) -> Made:
    """The plan; when only readings came in that it does not stand on, it is the one before."""
    now.kept("sheet", sheet_of)
    reckon = partial(_one_thread, call)
    return _made(now, before, as_found(now), partial(plan_on, reckon=reckon), remember_plan)


def findings(now: Snapshot, before: object, call: Call) -> Made:
    """The diagnosis; when nothing came in that it stands on, it is the one before."""
    now.kept("sheet", sheet_of)
    reckon = partial(call, diagnose)
    return _made(
        now, before, as_it_is(now), partial(diagnosis_on, reckon=reckon), remember_diagnosis
    )


def _one_thread(call: Call, job: Job, readings: object) -> Any:
    return call(diagnosis_and_remedy, job, readings, 1)


def _made(
    now: Snapshot,
    before: object,
    found: Sound,
    make: Callable[[Job, Sound], Answer],
    remember: Callable[[Snapshot, Answer | StageRefusal], None],
) -> Made:
    """The answer on these readings, remembered for whoever asks about this snapshot."""
    try:
        if isinstance(before, Made) and before.stands_on(now.job, found):
            answer: Any = replace(before.answer, sound=found)
        else:
            answer = make(now.job, found)
    except StageRefusal as refusal:
        remember(now, refusal)
        raise
    remember(now, answer)
    return Made(now.job, answer)


RECKONINGS: Mapping[str, Reckoning] = MappingProxyType({PLAN: plan, FINDINGS: findings})
