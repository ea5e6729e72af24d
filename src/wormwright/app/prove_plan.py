"""The plan of a positioning test: printed, and its programme and form laid into the packet."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import sound
from wormwright.app.problems import document
from wormwright.app.refused import refused
from wormwright.job.blocks import Paragraph
from wormwright.job.proof_plan import PlannedTest, PlanSettings
from wormwright.packet import Document
from wormwright.packet.folder import PLANNED_FORM, PLANNED_PROGRAMME
from wormwright.stages.prove import plan_report, plan_test
from wormwright.traveler import live_readings


def plan_document(folder: Folder, settings: PlanSettings) -> Document:
    """Plan the test, write programme and form, and say where they lie.

    Raises:
        StageRefusal: the ratio of the unit is not known.
        Refused: more targets than the turn has room for.
    """
    plan = planned_test(folder, settings)
    place = folder.path / "packet"
    place.mkdir(exist_ok=True)
    for name, text in ((PLANNED_PROGRAMME, plan.programme), (PLANNED_FORM, plan.form)):
        (place / name).write_text(text, encoding="utf-8", newline="\n")
    where = (
        Paragraph(
            f"The programme for the control is {place / PLANNED_PROGRAMME}; read it before you run "
            f"it. The form for the readings is {place / PLANNED_FORM}: fill it in and bring it "
            f"with `wormwright prove {folder.path} --import FILE`."
        ),
    )
    return document("Plan of the test", folder, (*plan_report(plan), *where))


def planned_texts(folder: Folder) -> tuple[tuple[str, str], ...]:
    """Programme and form as they were last planned, for a packet that is made afresh."""
    place = folder.path / "packet"
    return tuple(
        (name, (place / name).read_text(encoding="utf-8"))
        for name in (PLANNED_PROGRAMME, PLANNED_FORM)
        if (place / name).is_file()
    )


def planned_test(folder: Folder, settings: PlanSettings) -> PlannedTest:
    """The plan alone."""
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    try:
        return plan_test(folder.job, live.readings, settings)
    except ValueError as error:
        if type(error) is not ValueError:
            raise
        raise refused(
            "plan", expected="targets that fit in a turn", got=str(error), do="take fewer targets"
        ) from None
