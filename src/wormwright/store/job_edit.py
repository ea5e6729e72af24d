"""Changes to the text of job.toml that leave comments, order and line ends as they are."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import unified_diff
from typing import Any

from wormwright.store.fault import FileFault, JobFolderError, clipped
from wormwright.store.job_file import JOB

Value = str | int | bool | list[str] | list[dict[str, str]] | None
"""What a key of job.toml may be set to; None takes the key out."""


def edited(source: str, changes: Mapping[str, Value]) -> str:
    """The source with each dotted key (`duty.error`) set to its new value.

    Raises:
        JobFolderError: a key that cannot be set so, such as one below a figure.
    """
    import tomlkit  # noqa: PLC0415  only needed to write
    from tomlkit.exceptions import TOMLKitError  # noqa: PLC0415

    document = tomlkit.parse(source)
    for key, value in changes.items():
        try:
            _set(document, key.split("."), value)
        except (TOMLKitError, TypeError, ValueError, AttributeError) as error:
            do = "look the key up in docs/reference/job-folder.md"
            fault = FileFault(JOB, None, key, "a key and value of job.toml", clipped(value), do)
            raise JobFolderError([fault]) from error
    text = tomlkit.dumps(document)
    if "\r\n" in source and not re.search(r"(?<!\r)\n", source):
        text = re.sub(r"(?<!\r)\n", "\r\n", text)
    return text


def _set(document: Any, keys: list[str], value: Value) -> None:
    import tomlkit  # noqa: PLC0415

    table = document
    for key in keys[:-1]:
        if key not in table:
            if value is None:
                return
            table[key] = tomlkit.table()
        table = table[key]
    last = keys[-1]
    if value is None:
        table.pop(last, None)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        table.pop(last, None)
        rows = tomlkit.aot()
        for row in value:
            rows.append(tomlkit.item(row))
        table[last] = rows
    else:
        table[last] = value


def difference(read: str, now: str) -> str:
    """What changed in job.toml since it was read, as a unified diff."""
    lines = unified_diff(
        read.splitlines(), now.splitlines(), f"{JOB} as read", f"{JOB} as it is", lineterm="", n=1
    )
    return "\n".join(lines)
