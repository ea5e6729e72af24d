"""Correct: what to make, and whether it will be enough."""

from wormwright.stages.correct.report import report, summary
from wormwright.stages.correct.stage import correct

__all__ = ["correct", "report", "summary"]
