"""Commission: what is typed into the control, and what the motor will do."""

from wormwright.stages.commission.plate import Moved
from wormwright.stages.commission.report import report
from wormwright.stages.commission.sheet import sheet_text
from wormwright.stages.commission.stage import commission

__all__ = ["Moved", "commission", "report", "sheet_text"]
