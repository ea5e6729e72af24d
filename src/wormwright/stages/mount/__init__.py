"""Mount: how the unit stands on the machine, and what to pack, cut and make."""

from wormwright.stages.mount.report import report
from wormwright.stages.mount.stage import mount

__all__ = ["mount", "report"]
