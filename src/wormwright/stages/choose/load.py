"""The load of each kind of work: forces, torque, moment, speed, what must be told apart."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.core.cutting import (
    Kienzle,
    drill_chip,
    drilling,
    force_reverses,
    milling,
    specific_force,
    surface_speed,
    turning_force,
)
from wormwright.core.rotating import centrifugal_force, unbalance_torque
from wormwright.handbook.cutting import cutting_material
from wormwright.job.choice import Load
from wormwright.job.findings import Figured
from wormwright.job.given import Given
from wormwright.job.rotary import Job
from wormwright.job.work import Cutter, Task
from wormwright.quantities import Dimension
from wormwright.stages.choose.spread import spread, within

STEP_SHARE = 0.25
"""A step of the drive may be this share of the error that is allowed (common practice)."""


@dataclass(frozen=True, slots=True)
class Forces:
    """Forces of a cut, N: highest and mean along it, and thrust along the cutter."""

    peak: Given
    mean: Given
    thrust: Given | None = None
    swings: bool = False
    words: str = ""


def load_of(cut: Task, job: Job) -> Load:
    """What one kind of work asks of the axis."""
    forces = _forces(cut)
    unbalance = _unbalance(cut, job)
    torque = spread(lambda f: f * cut.radius + unbalance, forces.peak)
    figures = [
        _figure("force", "force along the cut, highest", forces.peak, "force"),
        _figure("mean force", "force along the cut, mean", forces.mean, "force"),
        _figure("torque", "torque at the table, highest", torque, "torque"),
    ]
    if cut.overhang is not None:
        moment = spread(lambda f: f * (cut.overhang or 0.0), forces.peak)
        figures.append(_figure("moment", "moment that tilts the table", moment, "torque"))
    if forces.thrust is not None:
        figures.append(_figure("thrust", "thrust of the drill", forces.thrust, "force"))
    figures += _turning_figures(cut, unbalance)
    return Load(
        cut=cut,
        force=forces.peak.estimate("force", "cut"),
        mean_force=forces.mean.estimate("force", "cut"),
        torque=torque.estimate("torque", "cut"),
        swings=forces.swings or cut.approach == "both ways" or cut.kind == "reversing",
        figures=tuple(figures),
        words=_words(cut, forces),
    )


def _figure(key: str, label: str, figure: Given, dimension: Dimension) -> Figured:
    return Figured(key, label, figure.estimate(dimension, "cut"))


def _words(cut: Task, forces: Forces) -> tuple[str, ...]:
    words = [forces.words] if forces.words else []
    if forces.swings:
        words.append("the force changes its way within each pass of a tooth")
    elif cut.kind == "reversing":
        words.append("the work reverses under load")
    return tuple(words)


def _forces(cut: Task) -> Forces:
    if cut.force is not None:
        return Forces(cut.force, cut.force)
    if cut.cutter is None:
        raise ValueError(f"work {cut.name}: expected a force or a cutter, got neither")
    return _forces_of(cut.cutter)


def _forces_of(cutter: Cutter) -> Forces:
    row = cutting_material(cutter.material)
    law = Kienzle(row.k11, row.mc)
    words = f"force by the cutting table for {row.name}, out by {row.spread:.0%} either way"
    if cutter.process == "drilling":
        d, f = _need(cutter.diameter), _need(cutter.feed)
        k = specific_force(k11=row.k11, mc=row.mc, chip=drill_chip(feed=f))
        got = drilling(specific=k, diameter=d, feed=f)
        side = within(Given.plain(got.torque / (d / 2)), row.spread)
        thrust = Given(got.thrust, got.thrust * (1 - row.spread), 2 * got.thrust)
        words += "; an unthinned point may double the thrust"
        return Forces(side, side, thrust, words=words)
    if cutter.process == "turning":
        force = turning_force(material=law, depth=_need(cutter.depth), feed=_need(cutter.feed))
        each = within(Given.plain(force), row.spread)
        return Forces(each, each, words=words)
    got_mill = milling(
        material=law,
        depth=_need(cutter.depth),
        width=_need(cutter.width),
        diameter=_need(cutter.diameter),
        teeth=cutter.teeth or 1,
        feed_tooth=_need(cutter.feed),
        spindle=_need(cutter.spindle),
    )
    return Forces(
        within(Given.plain(got_mill.peak_force), row.spread),
        within(Given.plain(got_mill.mean_force), row.spread),
        swings=force_reverses(width=_need(cutter.width), diameter=_need(cutter.diameter)),
        words=words,
    )


def _need(size: float | None) -> float:
    if size is None:
        raise ValueError("a cutter lacks a size that its process needs")
    return size


def _unbalance(cut: Task, job: Job) -> float:
    if cut.mass is None or job.rotary.table_axis == "vertical":
        return 0.0
    return unbalance_torque(mass=cut.mass, off_centre=cut.off_centre)


def _turning_figures(cut: Task, unbalance: float) -> list[Figured]:
    found = []
    if unbalance:
        plain = Given.plain(unbalance)
        found.append(_figure("unbalance", "torque of the unbalance", plain, "torque"))
    if cut.speed is not None:
        speed = Given.plain(1000 * surface_speed(diameter=2 * cut.radius, rpm=cut.speed))
        found.append(_figure("surface", "speed of the surface", speed, "feed"))
        if cut.mass is not None and cut.off_centre:
            pull = centrifugal_force(mass=cut.mass, radius=cut.off_centre, rpm=cut.speed)
            found.append(_figure("pull", "pull of the unbalance", Given.plain(pull), "force"))
    if cut.error is not None:
        step = Given.plain(STEP_SHARE * cut.error / cut.radius)
        found.append(_figure("step", "step of the table, at most", step, "angle"))
    return found
