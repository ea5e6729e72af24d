"""Where each key of a TOML source stands: key path -> line, for messages.

A scan, not a parser: it follows tables, arrays of tables, dotted and quoted keys, inline tables
and arrays over several lines, and leaves judging the values to the parser. A path that it does
not know falls back to the nearest enclosing one.
"""

from __future__ import annotations

import re
from contextlib import suppress

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_TEXT = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")'
    + r"|'''.*?'{3,5}(?!')"
    + r"""|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""",
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}#\n]*")
_ESCAPE = re.compile(r'\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|([btnfre"\\]))')
_SHORT = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", "e": "\x1b", '"': '"', "\\": "\\"}


class TomlLines:
    """The lines of a TOML source. `twice` lists keys that are given again, with both lines."""

    def __init__(self, source: str) -> None:
        self._source = source
        self._at = 0
        self._lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        self.twice: list[tuple[Path, int, int]] = []
        with suppress(_LostError, RecursionError):  # not TOML from here on: the parser says so
            self._document()

    def line_of(self, path: Path) -> int | None:
        """The line of that key, else of the nearest table around it; None for the top."""
        for length in range(len(path), 0, -1):
            line = self._lines.get(path[:length])
            if line is not None:
                return line
        return None

    def __contains__(self, path: Path) -> bool:
        """Whether the scan met exactly this path."""
        return path in self._lines

    def _document(self) -> None:
        table: Path = ()
        while not self._ended():
            if self._take("[["):
                table = self._table(many=True)
            elif self._take("["):
                table = self._table(many=False)
            else:
                self._pair(table)

    def _ended(self) -> bool:
        self._skip(_BLANK)
        return self._at >= len(self._source)

    def _table(self, *, many: bool) -> Path:
        line = self._line()
        keys = self._keys()
        self._need("]]" if many else "]")
        path: Path = ()
        for key in keys[:-1]:
            path = self._latest((*path, key))
        path = (*path, keys[-1])
        if not many:
            self._note(path, line, once=True)
            return path
        self._lines.setdefault(path, line)
        count = self._counts.get(path, 0)
        self._counts[path] = count + 1
        self._lines[(*path, count)] = line
        return (*path, count)

    def _latest(self, path: Path) -> Path:
        count = self._counts.get(path)
        return path if count is None else (*path, count - 1)

    def _pair(self, table: Path) -> None:
        line = self._line()
        keys = self._keys()
        self._need("=")
        for length in range(1, len(keys)):
            self._note((*table, *keys[:length]), line, once=False)
        path = (*table, *keys)
        self._note(path, line, once=True)
        self._value(path)

    def _value(self, path: Path) -> None:
        self._skip(_SPACE)
        if self._take("["):
            self._array(path)
        elif self._take("{"):
            self._inline_table(path)
        elif self._source[self._at : self._at + 1] in ('"', "'"):
            self._skip(_TEXT, needed=True)
        else:
            self._skip(_BARE)

    def _array(self, path: Path) -> None:
        place = 0
        while True:
            self._skip(_BLANK)
            if self._take("]"):
                return
            self._lines[(*path, place)] = self._line()
            self._value((*path, place))
            place += 1
            self._skip(_BLANK)
            if not self._take(","):
                self._need("]")
                return

    def _inline_table(self, path: Path) -> None:
        while True:
            self._skip(_BLANK)
            if self._take("}"):
                return
            self._pair(path)
            self._skip(_BLANK)
            if not self._take(","):
                self._need("}")
                return

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            found = self._skip(_KEY, needed=True)
            keys.append(_unquoted(found))
            self._skip(_SPACE)
            if not self._take("."):
                return keys

    def _note(self, path: Path, line: int, *, once: bool) -> None:
        first = self._lines.setdefault(path, line)
        if once and first != line:
            self.twice.append((path, first, line))

    def _line(self) -> int:
        return self._source.count("\n", 0, self._at) + 1

    def _skip(self, pattern: re.Pattern[str], *, needed: bool = False) -> str:
        found = pattern.match(self._source, self._at)
        if found is None or (needed and not found[0]):
            raise _LostError
        self._at = found.end()
        return found[0]

    def _take(self, sign: str) -> bool:
        if self._source.startswith(sign, self._at):
            self._at += len(sign)
            return True
        return False

    def _need(self, sign: str) -> None:
        self._skip(_SPACE)
        if not self._take(sign):
            raise _LostError


class _LostError(Exception):
    """The scan cannot follow the source."""


def _unquoted(key: str) -> str:
    if key[:1] == "'":
        return key[1:-1]
    if key[:1] != '"':
        return key
    return _ESCAPE.sub(_unescape, key[1:-1])


def _unescape(found: re.Match[str]) -> str:
    if found[3]:
        return _SHORT[found[3]]
    number = int(found[1] or found[2], 16)
    return chr(number) if number < 0x110000 else found[0]
