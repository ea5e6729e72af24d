"""Keep sheet, row 40: the use that the axis has had; it opens a re-check."""

from __future__ import annotations

from wormwright.job.kind import ReadingKind

KEEP = (
    ReadingKind(
        key="hours_run",
        row=40,
        label="Hours run so far, whole hours",
        dimension="count",
        do="Write the hours the axis has turned since it was built, from the log or by guess. "
        "It opens a re-check: enter it first, then the readings of that day.",
        set_up="The log of the machine; a guess is better than nothing, write ~ before it.",
        instrument="counting",
        noise=None,
        low=0,
        high=100000,
        usual_low=0,
        usual_high=5000,
        tells="How far one re-check stands from the next in use, so that wear has a rate.",
        cannot_tell="How hard those hours were.",
        sensitivity="time axis of the trend",
        minutes=1,
    ),
)
