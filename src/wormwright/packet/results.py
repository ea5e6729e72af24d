"""Results as JSON for other programs. Format 1, documented in docs/reference/results-json.md."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

from wormwright.job.corrections import (
    Bought,
    Correction,
    FalseTight,
    MeshCompared,
    Plan,
    Remedy,
)
from wormwright.job.findings import Contributor, Diagnosis
from wormwright.job.operation import Gate, Operation
from wormwright.job.parts import Part
from wormwright.job.proof import Proof
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job
from wormwright.packet.results_found import parts_found
from wormwright.packet.results_numbers import (
    SPARE,
    Data,
    estimate_data,
    if_known,
    maybe,
    plain,
    probability,
    to_u,
)
from wormwright.packet.results_proof import proof_data

FORMAT = 1
UNITS = {
    "length": "mm",
    "angle": "rad",
    "torque": "N·mm",
    "force": "N",
    "temperature": "°C",
    "speed": "rpm",
    "mass": "kg",
    "ratio": "1",
    "count": "1",
    "none": "",
}
SCHEMA = Path(__file__).parent / "results.schema.json"
"""The JSON Schema that every results file obeys."""


def results_json(
    job: Job,
    diagnosis: Diagnosis | None = None,
    remedy: Remedy | None = None,
    operations: tuple[Operation, ...] = (),
    proof: Proof | None = None,
) -> str:
    """All results of a job in core units; what has not been worked out is null.

    An estimate is given to two digits beyond those that are shown on paper, so that another
    program can round it itself, and no further.
    """
    data = {
        "format": FORMAT,
        "units": UNITS,
        "job": {"name": job.name, "unit_id": job.rotary.unit_id, "made_up": job.made_up},
        "duty": asdict(job.duty),
        "diagnosis": None if diagnosis is None else _diagnosis(diagnosis),
        "remedy": None if remedy is None else _remedy(remedy),
        "operations": [_operation(operation) for operation in operations],
        "proof": None if proof is None else proof_data(proof),
    }
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _diagnosis(found: Diagnosis) -> Data:
    return {
        "lost_motion": {
            "mean": estimate_data(found.lost_motion_mean),
            "tightest": estimate_data(found.lost_motion_tight),
            "loosest": estimate_data(found.lost_motion_loose),
        },
        "contributors": [_contributor(one) for one in found.contributors],
        "unexplained": estimate_data(found.unexplained),
        "fit": {
            "chi_square": if_known(found.chi_square, digits=3),
            "degrees_of_freedom": found.degrees_of_freedom,
            "p": if_known(found.chi_square_p, digits=2),
        },
        "tight_spot": {
            "angle": maybe(found.tight_spot.angle),
            "refusal": found.tight_spot.refusal,
        },
        "wheel_runout": maybe(found.wheel_runout),
        "wheel_runout_angle": maybe(found.wheel_runout_angle),
        "worm_runout": maybe(found.worm_runout),
        "worm_runout_angle": maybe(found.worm_runout_angle),
        "inseparable": list(found.inseparable),
        "map": _map(found),
        "readings": [
            {
                "seq": point.seq,
                "table_angle": plain(point.table_angle),
                "worm_angle": None if point.worm_angle is None else plain(point.worm_angle),
                "lost_motion": to_u(point.lost_motion, point.u),
                "u": plain(point.u, digits=SPARE + 1),
                "residual": to_u(point.residual, point.u),
            }
            for point in found.points
        ],
        "next_reading": found.next_reading,
        **parts_found(found),
        "not_measured": list(found.not_measured),
        "doubts": [_doubt(doubt) for doubt in found.doubts],
    }


def _map(found: Diagnosis) -> list[Data]:
    rows = zip(found.map_angles, found.map_mean, found.map_low, found.map_high, strict=True)
    return [
        {
            "angle": plain(float(angle)),
            "mean": to_u(float(mean), float(high - low) / 4),
            "low": to_u(float(low), float(high - low) / 4),
            "high": to_u(float(high), float(high - low) / 4),
        }
        for angle, mean, low, high in rows
    ]


def _contributor(one: Contributor) -> Data:
    return {
        "key": one.key,
        "label": one.label,
        "at_r2": estimate_data(one.at_r2),
        "at_table": estimate_data(one.at_table),
        "share": estimate_data(one.share),
        "identifiable": one.identifiable,
        "measured": one.measured,
        "note": one.note,
    }


def _remedy(remedy: Remedy) -> Data:
    return {
        "allowed_lost_motion": plain(remedy.allowed_lost_motion),
        "chosen": None if remedy.chosen is None else remedy.chosen.key,
        "strategy": remedy.strategy,
        "strategy_reason": remedy.strategy_reason,
        "rejected_strategies": [
            {"strategy": name, "reason": reason} for name, reason in remedy.rejected_strategies
        ],
        "closing": maybe(remedy.closing),
        "plans": [_plan(plan, remedy.draws) for plan in remedy.plans],
        "buys": [_bought(one) for one in remedy.buys],
        "error_shares": [
            {"key": one.key, "label": one.label, "share": round(one.share, 2)}
            for one in remedy.error_shares
        ],
        "meshes": [_mesh(one) for one in remedy.meshes],
        "false_tight": [_false_tight(one) for one in remedy.false_tight],
        "limits_it": list(remedy.limits_it),
        "not_measured": list(remedy.not_measured),
        "doubts": [_doubt(doubt) for doubt in remedy.doubts],
        "draws": remedy.draws,
    }


def _mesh(one: MeshCompared) -> Data:
    return {
        "kind": one.kind,
        "belief": plain(one.belief, digits=3),
        "textbook": plain(one.textbook, digits=3),
        "closed_form": plain(one.closed_form, digits=3),
        "exact": None if one.exact is None else plain(one.exact, digits=3),
        "apart": None if one.off is None else plain(one.off, digits=2),
        "taken": one.used,
    }


def _false_tight(one: FalseTight) -> Data:
    return {
        "kind": one.kind,
        "toward": one.toward,
        "first": plain(one.first, digits=3),
        "last": plain(one.last, digits=3),
        "short": plain(one.short, digits=2),
        "frees": one.frees,
        "model": one.model,
    }


def _bought(one: Bought) -> Data:
    return {
        "keys": list(one.keys),
        "minutes": plain(one.minutes, digits=3),
        "cost": None if one.cost is None else plain(one.cost, digits=4),
        "taken_off": plain(one.taken_off, digits=3),
        "causes": [
            {"label": label, "taken_off": plain(size, digits=2)} for label, size in one.causes
        ],
    }


def _plan(plan: Plan, draws: int) -> Data:
    return {
        "key": plan.key,
        "label": plan.label,
        "offered": plan.offered,
        "reason": plan.reason,
        "minutes": plain(plan.minutes, digits=3),
        "cost": None if plan.cost is None else plain(plan.cost, digits=4),
        "lost_motion": {
            "mean": estimate_data(plan.mean),
            "tightest": estimate_data(plan.tight),
            "loosest": estimate_data(plan.loose),
        },
        "causes": [
            {
                "key": cause.key,
                "label": cause.label,
                "found": estimate_data(cause.found),
                "left": estimate_data(cause.left),
            }
            for cause in plan.parts_left
        ],
        "tip_clearance": maybe(plan.tip_clearance),
        "p_meets_duty": probability(plan.p_meets_duty, draws),
        "p_jam": probability(plan.p_jam, draws),
        "corrections": [_correction(one) for one in plan.corrections],
        "doubts": [_doubt(doubt) for doubt in plan.doubts],
    }


def _correction(one: Correction) -> Data:
    return {
        "key": one.key,
        "label": one.label,
        "why": one.why,
        "minutes": plain(one.minutes, digits=3),
        "sizes": [{"label": label, "size": estimate_data(size)} for label, size in one.sizes],
        "checked": [{"label": label, "size": estimate_data(size)} for label, size in one.checked],
        "parts": [_part(part) for part in one.parts],
        "steps": list(one.steps),
        "operations": list(one.operations),
        "step_operations": list(one.step_operations),
        "doubts": [_doubt(doubt) for doubt in one.doubts],
    }


def _part(part: Part) -> Data:
    return {"part": type(part).__name__, **_rounded(asdict(part))}


def _rounded(data: Data) -> Data:
    return {key: _rounded_value(value) for key, value in data.items()}


def _rounded_value(value: object) -> object:
    if isinstance(value, dict):
        return _rounded(value)
    if isinstance(value, tuple):
        return [_rounded_value(item) for item in value]
    return plain(value) if isinstance(value, float) else value


def _operation(operation: Operation) -> Data:
    return {
        "key": operation.key,
        "number": operation.number,
        "title": operation.title,
        "minutes": plain(operation.minutes, digits=3),
        "machine_minutes": plain(operation.machine_minutes, digits=3),
        "lasting": operation.lasting,
        "after": list(operation.after),
        "makes_stale": list(dict.fromkeys(kind for kind, _ in operation.makes_stale)),
        "gates": [_gate(gate) for gate in operation.gates],
    }


def _gate(gate: Gate) -> Data:
    return {
        "key": gate.key,
        "label": gate.label,
        "dimension": gate.dimension,
        "low": None if gate.low is None else plain(gate.low),
        "high": None if gate.high is None else plain(gate.high),
        "if_failed": gate.if_failed,
        "back_to": gate.back_to,
    }


def _doubt(doubt: Doubt) -> Data:
    return {**asdict(doubt), "rows": list(doubt.rows)}
