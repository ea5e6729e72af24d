"""The proof of the finished axis for the results file: one function a topic."""

from __future__ import annotations

from dataclasses import asdict

from wormwright.job.proof import Proof
from wormwright.job.proof_axis import AxisProof, Reversal
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.proof_compensation import Compensated
from wormwright.job.proof_harmonics import Harmonics
from wormwright.job.proof_loop import LoopAt
from wormwright.job.proof_position import PositionTest
from wormwright.packet.results_found import figures_data, finding_data, runout_data
from wormwright.packet.results_judged import comparison_data, part_data, verdict_data
from wormwright.packet.results_numbers import Data, estimate_data, maybe, plain, to_u


def proof_data(proof: Proof) -> Data:
    """Every topic of the proof; null where it was not read."""
    made = proof.compensation
    return {
        "positioning": None if proof.positioning is None else _positioning(proof.positioning),
        "harmonics": None if proof.harmonics is None else _harmonics(proof.harmonics),
        "compensation": None if made is None else _compensation(made),
        "closure": None if proof.closure is None else _closure(proof.closure),
        "loop": None if proof.loop is None else [_loop(place) for place in proof.loop.places],
        "axis": None if proof.axis is None else _axis(proof.axis),
        "part": None if proof.part is None else part_data(proof.part),
        "verdict": None if proof.verdict is None else verdict_data(proof.verdict),
        "compared": None if proof.compared is None else comparison_data(proof.compared),
        "doubts": [{**asdict(doubt), "rows": list(doubt.rows)} for doubt in proof.doubts],
    }


def _positioning(test: PositionTest) -> Data:
    return {
        "targets": [plain(float(angle)) for angle in test.targets],
        "runs": test.runs,
        "means": list(test.means),
        "figures": figures_data(test.figures),
    }


def _harmonics(found: Harmonics) -> Data:
    return {
        "waves": [
            {
                "key": wave.key,
                "label": wave.label,
                "order": plain(wave.order),
                "of_play": wave.of_play,
                "size": maybe(wave.size),
                "highest": None if wave.highest is None else plain(wave.highest, digits=4),
                "stands_out": wave.stands_out,
                "causes": [
                    {
                        "words": cause.words,
                        "amount": estimate_data(cause.amount),
                        "compared": cause.compared,
                    }
                    for cause in wave.causes
                ],
                "alike": list(wave.alike),
                "refusal": wave.refusal,
            }
            for wave in found.waves
        ],
        "rest": plain(found.rest.value, digits=3),
        "places": found.places,
    }


def _compensation(made: Compensated) -> Data:
    u = made.rms_after.u
    return {
        "offered": made.offered,
        "reason": made.reason,
        "waves_in_table": made.orders,
        "table": [
            {"angle": plain(float(angle)), "add": to_u(float(add), u)}
            for angle, add in zip(made.angles, made.add, strict=True)
        ],
        "reversal": to_u(made.reversal, u),
        "least_play": to_u(made.least_play, u),
        "rms_before": estimate_data(made.rms_before),
        "rms_after": estimate_data(made.rms_after),
        "gain_low": plain(min(made.gain_low, 1e6), digits=3),
        "check_at": plain(made.check_at),
        "check_by": to_u(made.check_by, u),
    }


def _closure(found: ClosureProof) -> Data:
    return {
        "angles": [plain(float(angle)) for angle in found.angles],
        "table": [estimate_data(e) for e in found.table],
        "artefact": [estimate_data(e) for e in found.artefact],
        "span": estimate_data(found.span),
        "span_at": [plain(angle) for angle in found.span_at],
        "first_faces": list(found.first_faces),
        "reading_u": plain(found.reading_u),
        "widened": found.widened,
        "degrees_of_freedom": found.degrees_of_freedom,
        "chance": None if found.chance is None else plain(found.chance),
        "missing": found.missing,
        "hidden_wave": found.hidden_wave,
    }


def _loop(found: LoopAt) -> Data:
    return {
        "table_angle": plain(found.place),
        "figures": figures_data(found.figures),
        "torque_for_one_arcmin": maybe(found.stiffness),
        "words": list(found.words),
    }


def _axis(found: AxisProof) -> Data:
    return {
        "runouts": [runout_data(one) for one in found.runouts],
        "findings": [finding_data(one) for one in found.findings],
        "reversal": None if found.reversal is None else _reversal(found.reversal),
    }


def _reversal(found: Reversal) -> Data:
    return {
        "angles": [plain(float(a)) for a in found.angles],
        "axis": [plain(float(v)) for v in found.axis],
        "part": [plain(float(v)) for v in found.part],
        "u": plain(found.u),
        "synchronous": estimate_data(found.synchronous),
        "form": estimate_data(found.form),
        "asynchronous": None if found.asynchronous is None else plain(found.asynchronous),
        "turns": found.turns,
        "proven": found.proven,
        "lobes": list(found.lobes),
    }
