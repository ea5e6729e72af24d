"""keep: is the finished axis still good, and is another unit the same?"""

from wormwright.stages.keep.compare import compare
from wormwright.stages.keep.guide import make_guide
from wormwright.stages.keep.recheck import recheck
from wormwright.stages.keep.report_recheck import recheck_blocks
from wormwright.stages.keep.report_sameness import ANSWERS, guide_blocks, sameness_blocks

__all__ = [
    "ANSWERS",
    "compare",
    "guide_blocks",
    "make_guide",
    "recheck",
    "recheck_blocks",
    "sameness_blocks",
]
