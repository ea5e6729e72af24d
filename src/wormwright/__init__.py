"""Wormwright: make a low-cost geared rotary table true enough to be a CNC rotary axis.

In a script or a notebook: `from wormwright import open_job`; see docs/howto/use-as-a-library.md.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wormwright.library import Answer, OpenJob, new_job, open_job

__version__ = "0.1.0"
__all__ = ["Answer", "OpenJob", "__version__", "new_job", "open_job"]


def __getattr__(name: str) -> object:
    """Load the library face when it is first asked for: the command line starts without it."""
    if name not in __all__:
        raise AttributeError(f"module 'wormwright' has no attribute {name!r}")
    from wormwright import library  # noqa: PLC0415

    return getattr(library, name)
