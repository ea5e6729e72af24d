"""The order of work: operations, gates and staleness. The only place that knows sequence.

Which readings are live is asked by every stage; the rest is loaded when first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wormwright.traveler.staleness import live_readings, readings_as_found, stale_readings

if TYPE_CHECKING:
    from wormwright.traveler.order import in_order
    from wormwright.traveler.pages import (
        limit_text,
        overview,
        report,
        sign_command,
        way_back,
        what_next,
    )
    from wormwright.traveler.planning import ALL, plan_operations
    from wormwright.traveler.standing import Signing, SignOffError, Step, progress, sign

_LATE = {
    "ALL": "planning",
    "SignOffError": "standing",
    "Signing": "standing",
    "Step": "standing",
    "in_order": "order",
    "limit_text": "pages",
    "overview": "pages",
    "plan_operations": "planning",
    "progress": "standing",
    "report": "pages",
    "sign": "standing",
    "sign_command": "pages",
    "way_back": "pages",
    "what_next": "pages",
}

__all__ = [
    "ALL",
    "SignOffError",
    "Signing",
    "Step",
    "in_order",
    "limit_text",
    "live_readings",
    "overview",
    "plan_operations",
    "progress",
    "readings_as_found",
    "report",
    "sign",
    "sign_command",
    "stale_readings",
    "way_back",
    "what_next",
]


def __getattr__(name: str) -> object:
    """Load what the traveler itself needs when it is first used."""
    from importlib import import_module  # noqa: PLC0415

    if name not in _LATE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_LATE[name]}"), name)
