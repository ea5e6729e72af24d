"""The order of work: operations, gates and staleness. The only place that knows sequence."""

from wormwright.traveler.order import in_order
from wormwright.traveler.planning import ALL, plan_operations
from wormwright.traveler.progress import Signing, SignOffError, Step, progress, sign
from wormwright.traveler.report import limit_text, report, sign_command, what_next
from wormwright.traveler.staleness import live_readings, readings_as_found, stale_readings

__all__ = [
    "ALL",
    "SignOffError",
    "Signing",
    "Step",
    "in_order",
    "limit_text",
    "live_readings",
    "plan_operations",
    "progress",
    "readings_as_found",
    "report",
    "sign",
    "sign_command",
    "stale_readings",
    "what_next",
]
