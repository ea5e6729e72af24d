"""The ledger of a fleet: a line for each unit, appended as it is done, so that work resumes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from wormwright.store.safe_write import append_to_file, cut_file, replace_file

LEDGER = "fleet.jsonl"


class Ledger:
    """Rows by folder; the last line of a folder counts. A torn last line is dropped."""

    def __init__(self, place: Path) -> None:
        self._path = place / LEDGER
        self._rows: dict[str, dict[str, Any]] = {}
        self._lines = 0
        if self._path.exists():
            self._read()

    @property
    def rows(self) -> Mapping[str, dict[str, Any]]:
        """The last row of every folder."""
        return self._rows

    def add(self, row: dict[str, Any]) -> None:
        """Append a row; on disk when this returns."""
        data = (json.dumps(row, ensure_ascii=False) + "\n").encode()
        if not self._path.exists():
            replace_file(self._path, b"")
        append_to_file(self._path, data)
        self._rows[row["folder"]] = row
        self._lines += 1

    def tidy(self) -> None:
        """Write it anew when most of its lines are out of date."""
        if self._lines > 2 * len(self._rows) + 100:
            lines = (json.dumps(row, ensure_ascii=False) + "\n" for row in self._rows.values())
            replace_file(self._path, "".join(lines).encode())
            self._lines = len(self._rows)

    def _read(self) -> None:
        data = self._path.read_bytes()
        whole = data.rfind(b"\n") + 1
        if whole < len(data):
            cut_file(self._path, whole)
        for line in data[:whole].splitlines():
            try:
                row = json.loads(line)
                self._rows[row["folder"]] = row
            except (ValueError, TypeError, KeyError):
                continue  # a line that was edited: its job is reckoned again
            self._lines += 1
