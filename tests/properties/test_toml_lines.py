"""Lines of keys: every way TOML can write a key leads to its line, or to that of its table."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wormwright.store.toml_lines import TomlLines

SOURCE = """\
# first
a = 1
b.c = "x"  # dotted
"quoted key" = 'y'
[duty]
error = "5 # no comment"
many = [
  "one",   # [
  "two",
  { inline = 3, other = [ 4, # four
      5,

      ] },
]
text = \"\"\"
[not.a.table]
x = 1 \\\"\"\" still
\"\"\"
raw = '''
[[neither]]
''' # end
[ deep . "er" ]
k = { a.b = 1, "c d" = { e = 2 } }

[[bearing]]
bore = 1

[[bearing]]
bore = 2
[bearing.maker]
name = "z"
[duty.more]
late = 2026-01-01
"""

WHERE = {
    ("a",): 2,
    ("b",): 3,
    ("b", "c"): 3,
    ("quoted key",): 4,
    ("duty",): 5,
    ("duty", "error"): 6,
    ("duty", "many"): 7,
    ("duty", "many", 0): 8,
    ("duty", "many", 1): 9,
    ("duty", "many", 2, "inline"): 10,
    ("duty", "many", 2, "other"): 10,
    ("duty", "many", 2, "other", 1): 11,
    ("duty", "text"): 15,
    ("duty", "raw"): 19,
    ("deep", "er"): 22,
    ("deep", "er", "k", "a", "b"): 23,
    ("deep", "er", "k", "c d", "e"): 23,
    ("bearing", 0): 25,
    ("bearing", 0, "bore"): 26,
    ("bearing", 1): 28,
    ("bearing", 1, "bore"): 29,
    ("bearing", 1, "maker", "name"): 31,
    ("duty", "more", "late"): 33,
}


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_every_form_of_key_is_found_on_its_line(newline: str) -> None:
    source = SOURCE.replace("\n", newline)
    assert tomllib.loads(source)["duty"]["more"]
    lines = TomlLines(source)
    assert {path: lines.line_of(path) for path in WHERE} == WHERE
    assert lines.twice == []


def test_a_key_that_is_not_there_falls_back_to_its_table() -> None:
    lines = TomlLines(SOURCE)
    assert lines.line_of(("duty", "radius")) == 5
    assert lines.line_of(("bearing", 1, "width")) == 28
    assert lines.line_of(("radius",)) is None
    assert ("duty", "radius") not in lines


def test_keys_and_tables_given_twice_are_found_with_both_lines() -> None:
    source = 'a = 1\n[t]\nx = "1"\ny = 2\nx = 3\n[u]\n[t]\na = 1\n'
    assert TomlLines(source).twice == [(("t", "x"), 3, 5), (("t",), 2, 7)]


@given(st.text("[]{}=.,\"'#\\\n ab1", max_size=60))
def test_a_source_that_is_no_toml_only_ends_the_scan(source: str) -> None:
    assert TomlLines(source).line_of(("nowhere",)) is None


KEYS = st.text("ab\"'\\.# é", min_size=1, max_size=4)


@given(st.lists(st.tuples(KEYS, KEYS), min_size=1, max_size=6, unique=True))
def test_quoted_keys_of_any_text_are_found(paths: list[tuple[str, str]]) -> None:
    lines: list[str] = []
    for one, two in paths:
        keys = [key.replace("\\", "\\\\").replace('"', '\\"') for key in (one, two)]
        lines.append(f'["{keys[0]} {len(lines)}"]\n"{keys[1]}" = 1')
    source = "\n".join(lines)
    assert tomllib.loads(source)
    found = TomlLines(source)
    for place, (one, two) in enumerate(paths):
        assert found.line_of((f"{one} {place}", two)) == 2 * place + 2
