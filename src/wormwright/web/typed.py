"""What came from a form or as JSON, as entries for the store; nothing is read out of it here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from wormwright.app.refused import refused
from wormwright.store.entry import ReadingText

TEXTS = (
    "raw",
    "table_angle",
    "worm_angle",
    "station",
    "instrument",
    "note",
    "column_unit",
    "u",
    "when",
)
LONGEST = 2000
MOST_ENTRIES = 500


def entry_of(body: object) -> ReadingText:
    """One entry of a JSON body.

    Raises:
        Refused: it is not of the described shape.
    """
    if not isinstance(body, dict):
        raise refused("entry", expected="an object", got=type(body).__name__, do="send an object")
    known = {*TEXTS, "kind", "conditions", "supersedes"}
    unknown = sorted(str(k)[:40] for k in body if k not in known)
    if unknown:
        raise refused(
            "entry", expected=f"only {', '.join(sorted(known))}", got=unknown[0], do="leave it out"
        )
    texts = {name: _text(body, name) for name in TEXTS}
    conditions = body.get("conditions", {})
    if not isinstance(conditions, dict):
        raise refused(
            "conditions", expected="an object of texts", got=repr(conditions)[:40], do="mend it"
        )
    return ReadingText(
        kind=_text(body, "kind"),
        conditions={str(k)[:80]: _text(conditions, k) for k in conditions if _text(conditions, k)},
        supersedes=_row(body.get("supersedes")),
        **texts,
    )


def entries_of(body: object) -> list[ReadingText]:
    """The entries of a JSON body: one object, or `{"entries": [...]}`.

    Raises:
        Refused: the body is not of the described shape.
    """
    if not isinstance(body, dict) or "entries" not in body:
        return [entry_of(body)]
    listed = body["entries"]
    if not isinstance(listed, list) or not 1 <= len(listed) <= MOST_ENTRIES:
        raise refused(
            "entries",
            expected=f"a list of 1 to {MOST_ENTRIES} entries",
            got=f"{len(listed)} of them" if isinstance(listed, list) else type(listed).__name__,
            do="send them in parts",
        )
    return [entry_of(one) for one in listed]


def entry_of_form(kind: str, form: Mapping[str, str], *, at_table: bool) -> list[ReadingText]:
    """The entries of a form that was sent without a script: one value, or a column of them."""
    place = form.get("place", "").strip()
    supersedes = form.get("supersedes", "")
    body: dict[str, Any] = {
        "kind": kind,
        "table_angle" if at_table else "worm_angle": place,
        "station": form.get("station", ""),
        "instrument": form.get("instrument", ""),
        "note": form.get("note", ""),
        "column_unit": form.get("unit", ""),
        "when": form.get("when", ""),
        "supersedes": int(supersedes) if supersedes.isdigit() and len(supersedes) < 10 else None,
        "conditions": {
            name.removeprefix("with-"): text for name, text in form.items() if "with-" in name
        },
    }
    column = [line.strip() for line in form.get("column", "").splitlines() if line.strip()]
    values = column[:MOST_ENTRIES] or [form.get("raw", "")]
    return [entry_of({**body, "raw": value}) for value in values]


def _text(body: Mapping[Any, Any], name: Any) -> str:
    got = body.get(name, "")
    if got is None:
        return ""
    if not isinstance(got, str) or len(got) > LONGEST:
        raise refused(
            str(name)[:80],
            expected=f"a text of at most {LONGEST} characters",
            got=f"{len(got)} characters" if isinstance(got, str) else type(got).__name__,
            do="write figures as text with their unit",
        )
    return got


def _row(got: object) -> int | None:
    if got is None:
        return None
    if isinstance(got, bool) or not isinstance(got, int) or not 0 < got < 10**9:
        raise refused(
            "supersedes", expected="the number of a row", got=repr(got)[:40], do="mend it"
        )
    return got
