"""Mark each reference check with where its expected figure comes from, so that they can be counted.

`published` is for a figure printed in a work outside the project, `derived` for a figure got here
by a second method, `regression` for a figure that only guards against an unwanted change.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, TypeVar

Known = Literal["read", "from memory", "common practice"]
Kind = Literal["published", "derived", "regression"]
Test = TypeVar("Test", bound=Callable[..., Any])

REFERENCES = Path(__file__).parent / "references"


@dataclass(frozen=True, slots=True)
class Check:
    """One marked test. `why` is the method of a derived check or the reason for a regression."""

    kind: Kind
    file: str
    test: str
    work: str = ""
    edition: str = ""
    place: str = ""
    known: Known | None = None
    why: str = ""

    @property
    def source(self) -> tuple[str, str, str]:
        return (self.work, self.edition, self.place)


_checks: dict[tuple[str, str], Check] = {}


def _register(test: Test, kind: Kind, **said: Any) -> Test:
    if not all(said.values()):
        raise ValueError(f"{test.__qualname__}: a {kind} check must say {', '.join(said)}")
    file = Path(test.__code__.co_filename).name
    _checks[file, test.__qualname__] = Check(kind, file, test.__qualname__, **said)
    return test


def published(*, work: str, edition: str, place: str, known: Known) -> Callable[[Test], Test]:
    """Figure printed outside the project: the work, its edition, and the table or example.

    `known` tells how the figure came here: seen in the text of the work, or recalled.
    """
    return lambda test: _register(
        test, "published", work=work, edition=edition, place=place, known=known
    )


def derived(method: str) -> Callable[[Test], Test]:
    """Figure got here by a second method, named in `method`: brute force, a limit case, algebra."""
    return lambda test: _register(test, "derived", why=method)


def regression(why: str) -> Callable[[Test], Test]:
    """Figure of our own making, kept only to notice a change; `why` says what would move it."""
    return lambda test: _register(test, "regression", why=why)


def collected(folder: Path = REFERENCES) -> tuple[Check, ...]:
    """Every marked check of every test module in `folder`."""
    for path in sorted(folder.rglob("test_*.py")):
        spec = importlib.util.spec_from_file_location(f"counted_{path.stem}", path)
        if spec is None or spec.loader is None:
            raise ImportError(f"cannot load {path}")
        spec.loader.exec_module(importlib.util.module_from_spec(spec))
    return tuple(_checks.values())


def published_sources(checks: tuple[Check, ...]) -> frozenset[tuple[str, str, str]]:
    """Distinct printed places checked; a swept table and a repeated source count once.

    Common practice is a source worth naming but no publication, so it is not counted.
    """
    return frozenset(
        check.source
        for check in checks
        if check.kind == "published" and check.known in ("read", "from memory")
    )
