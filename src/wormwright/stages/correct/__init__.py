"""Correct: what to make, and whether it will be enough."""

from wormwright.stages.correct.report import report
from wormwright.stages.correct.stage import correct

__all__ = ["correct", "report"]
