"""The proof of the finished axis for the results file: one function a topic."""

from __future__ import annotations

from dataclasses import asdict

from wormwright.job.proof import Proof
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.proof_position import PositionTest
from wormwright.packet.results_numbers import Data, estimate_data, plain


def proof_data(proof: Proof) -> Data:
    """Every topic of the proof; null where it was not read."""
    return {
        "positioning": None if proof.positioning is None else _positioning(proof.positioning),
        "closure": None if proof.closure is None else _closure(proof.closure),
        "doubts": [{**asdict(doubt), "rows": list(doubt.rows)} for doubt in proof.doubts],
    }


def _positioning(test: PositionTest) -> Data:
    return {
        "targets": [plain(float(angle)) for angle in test.targets],
        "runs": test.runs,
        "means": list(test.means),
        "figures": [
            {"key": f.key, "label": f.label, "value": estimate_data(f.estimate)}
            for f in test.figures
        ],
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
