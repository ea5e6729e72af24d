"""Choose: which drive and unit suit the work, before anything is bought."""

from wormwright.stages.choose.card import purchase_card
from wormwright.stages.choose.report import report
from wormwright.stages.choose.stage import choose

__all__ = ["choose", "purchase_card", "report"]
