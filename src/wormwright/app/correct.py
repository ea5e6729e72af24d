"""Correct: plans on the readings as found, and the choice among them."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.app.refused import nearest, refused
from wormwright.job.blocks import Block, Paragraph
from wormwright.job.corrections import Remedy
from wormwright.job.findings import Diagnosis
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.packet import Document
from wormwright.traveler import readings_as_found

LEAST_WORK = "least"
"""The word for `--plan` that takes a choice back."""


@dataclass(frozen=True, slots=True)
class Planned:
    """The readings a plan stands on, what they say, and the plans."""

    sound: Sound
    diagnosis: Diagnosis
    remedy: Remedy


_LAST: WeakKeyDictionary[Folder, tuple[tuple[object, ...], Planned]] = WeakKeyDictionary()
"""The last plan made for each open folder, with the nouns that it was made from."""


def planned(folder: Folder, job: Job | None = None) -> Planned:
    """Diagnosis and remedy of the unit as found.

    The plan stands on the readings from before the first work on the unit, so that it does not
    fall away because the work it asked for has begun. Asked again about a folder in which nothing
    has changed, it gives the same plan.

    Raises:
        StageRefusal: the readings are not enough to plan on.
    """
    last = _LAST.get(folder)
    if last is not None and _still(last[0], folder, job):
        return last[1]
    of = _made_from(folder, job)
    made = _planned(folder, job)
    _LAST[folder] = (of, made)
    return made


def _made_from(folder: Folder, job: Job | None) -> tuple[object, ...]:
    """The nouns that a plan is made from."""
    return (job or folder.job, folder.readings, folder.sign_offs)


def _still(of: tuple[object, ...], folder: Folder, job: Job | None) -> bool:
    """Whether a plan made from those would be made from the same ones now."""
    return all(a is b for a, b in zip(of, _made_from(folder, job), strict=True))


def planned_last(folder: Folder) -> tuple[Planned, bool]:
    """The last plan made for this open folder, and whether it still is the plan; made if there is
    none yet. For answers that must follow a finger: they may be a few readings behind, and say so.

    Raises:
        StageRefusal: the readings are not enough to plan on.
    """
    last = _LAST.get(folder)
    if last is None:
        return planned(folder), True
    return last[1], _still(last[0], folder, None)


def _planned(folder: Folder, job: Job | None) -> Planned:
    from wormwright.stages.correct import correct  # noqa: PLC0415  (the other verbs do without)
    from wormwright.stages.diagnose import diagnose  # noqa: PLC0415

    wanted = job or folder.job
    found = sound(folder, readings_as_found(folder.readings, folder.sign_offs))
    try:
        diagnosis = diagnose(wanted, found.readings)
        remedy = correct(wanted, found.readings, diagnosis, threads=os.cpu_count())
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*found.kept_out, *refusal.doubts)) from None
    return Planned(found, diagnosis, remedy)


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
