"""Correct: plans on the readings as found, and the choice among them."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, replace

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.app.refused import nearest, refused
from wormwright.app.remembered import Remembered
from wormwright.job.blocks import Block, Paragraph
from wormwright.job.corrections import Remedy
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.packet import Document
from wormwright.traveler import readings_as_found

Reckon = Callable[[Job, tuple[Reading, ...]], tuple[Diagnosis, Remedy]]
LEAST_WORK = "least"
"""The word for `--plan` that takes a choice back."""


@dataclass(frozen=True, slots=True)
class Planned:
    """The readings a plan stands on, what they say, and the plans."""

    sound: Sound
    diagnosis: Diagnosis
    remedy: Remedy


_PLANS: Remembered[Planned] = Remembered()


def planned(folder: Folder, job: Job | None = None) -> Planned:
    """Diagnosis and remedy of the unit as found.

    The plan stands on the readings from before the first work on the unit, so that it does not
    fall away because the work it asked for has begun. Asked again about a folder in which nothing
    has changed, it gives the same plan.

    Raises:
        StageRefusal: the readings are not enough to plan on.
    """
    of = _made_from(folder, job)
    known = _PLANS.get(folder, of)
    if known is None:
        known = plan_on(job or folder.job, as_found(folder))
        _PLANS.keep(folder, of, known)
    return known


def remember_plan(
    folder: Folder, made: Planned | StageRefusal, as_of: Folder | None = None
) -> None:
    """Take a plan that was made elsewhere from this folder, or from it as it was then."""
    _PLANS.keep(folder, _made_from(as_of or folder, None), made)


def _made_from(folder: Folder, job: Job | None) -> tuple[object, ...]:
    """The nouns that a plan is made from."""
    return (job or folder.job, folder.readings, folder.sign_offs)


def as_found(folder: Folder) -> Sound:
    """The readings that a plan stands on."""
    return sound(folder, readings_as_found(folder.readings, folder.sign_offs))


def plan_on(job: Job, found: Sound, reckon: Reckon | None = None) -> Planned:
    """The plan on these readings; `reckon` is `diagnosis_and_remedy` unless done elsewhere.

    Raises:
        StageRefusal: the readings are not enough to plan on.
    """
    try:
        diagnosis, remedy = (reckon or diagnosis_and_remedy)(job, found.readings)
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*found.kept_out, *refusal.doubts)) from None
    return Planned(found, diagnosis, remedy)


def diagnosis_and_remedy(
    job: Job, readings: tuple[Reading, ...], threads: int | None = None
) -> tuple[Diagnosis, Remedy]:
    """What the readings say, and what can be done about it.

    Raises:
        StageRefusal: the readings are not enough.
    """
    from wormwright.stages.correct import correct  # noqa: PLC0415  (the other verbs do without)
    from wormwright.stages.diagnose import diagnose  # noqa: PLC0415

    diagnosis = diagnose(job, readings)
    return diagnosis, correct(job, readings, diagnosis, threads=threads or os.cpu_count())


def remedy_document(folder: Folder, plan: str | None = None, *, full: bool = False) -> Document:
    """What to make and whether it will be enough; with `plan` the choice is written down.

    Without `full` only what fits a first screen.

    Raises:
        StageRefusal: the readings are not enough to plan on.
        Refused: there is no such plan, or it is not one that may be chosen.
    """
    from wormwright.stages.correct import report, summary  # noqa: PLC0415

    job = folder.job
    if plan is not None:
        job = replace(job, plan=None if plan == LEAST_WORK else plan)
        _check_choice(plan, planned(folder, job).remedy)
    found = planned(folder, job)
    if plan is not None:
        folder.save_job({"plan": job.plan})
    if full:
        return document("Correction", folder, (*found.sound.blocks(), *report(found.remedy, job)))
    return document("Correction", folder, (*summary(found.remedy, job), *_more(folder, found)))


def _more(folder: Folder, found: Planned) -> tuple[Block, ...]:
    """What stands outside the first screen, and where to see it."""
    left_out = len({row for doubt in found.sound.kept_out for row in doubt.rows})
    lines = []
    if left_out:
        rows = "1 reading was" if left_out == 1 else f"{left_out} readings were"
        lines.append(f"{rows} left out until settled: wormwright measure {folder.path}")
    lines.append(
        f"Every size, step, part and the setting chart: wormwright correct {folder.path} --full"
    )
    return tuple(Paragraph(line) for line in lines)


def choose_plan(folder: Folder, plan: str) -> None:
    """Write a choice among the plans down.

    Raises:
        StageRefusal: the readings are not enough to plan on.
        Refused: there is no such plan, or it is not one that may be chosen.
    """
    _check_choice(plan, planned(folder).remedy)
    folder.save_job({"plan": None if plan == LEAST_WORK else plan})


def _check_choice(plan: str, remedy: Remedy) -> None:
    """Refuse a plan that does not exist or may not be carried out."""
    plans = {p.key: p for p in remedy.plans}
    if plan == LEAST_WORK:
        return
    if plan not in plans:
        raise refused(
            "plan",
            expected="the key of a plan",
            got=repr(plan),
            do=_which_instead(plan, tuple(plans)),
        )
    if not plans[plan].offered:
        raise refused(
            f"plan {plan}",
            expected="a plan that may be carried out",
            got=f"one that may not: {plans[plan].reason}",
            do="choose another plan; nothing was changed",
        )


def _which_instead(wanted: str, keys: tuple[str, ...]) -> str:
    """The least plan that has all the wanted corrections in it, else the key most like it."""
    names = set(wanted.split("+"))
    fuller = [key for key in keys if names <= set(key.split("+"))]
    if fuller:
        return f"that goes with more work on this unit: {min(fuller, key=len)}"
    return nearest(wanted, (*keys, LEAST_WORK))
