"""A small reader of JSON Schema: the keywords that our schema uses, and no others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

_TYPES: Mapping[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "number": (int, float),
    "integer": (int,),
    "boolean": (bool,),
    "null": (type(None),),
}
_NOTES = {"$schema", "title", "description", "$defs"}


def faults(value: Any, schema: Mapping[str, Any], root: Mapping[str, Any]) -> list[str]:
    """Everything in `value` that the schema does not allow, with its place."""
    return list(_faults(value, schema, root, "$"))


def _faults(
    value: Any, schema: Mapping[str, Any], root: Mapping[str, Any], at: str
) -> Iterator[str]:
    for keyword, wanted in schema.items():
        if keyword in _NOTES:
            continue
        yield from _CHECKS[keyword](value, wanted, schema, root, at)


def _type(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    names = [wanted] if isinstance(wanted, str) else wanted
    flag = isinstance(value, bool)
    if not any(isinstance(value, _TYPES[n]) and (not flag or n == "boolean") for n in names):
        yield f"{at}: expected {wanted}, got {value!r}"


def _properties(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if isinstance(value, dict):
        for name, inner in wanted.items():
            if name in value:
                yield from _faults(value[name], inner, root, f"{at}.{name}")


def _required(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if isinstance(value, dict):
        yield from (f"{at}: {name} is missing" for name in wanted if name not in value)


def _additional(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if wanted is not False:
        raise ValueError("only additionalProperties: false is understood")
    if isinstance(value, dict):
        more = set(value) - set(schema["properties"])
        yield from (f"{at}: {name} is not known" for name in sorted(more))


def _items(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if isinstance(value, list):
        for i, item in enumerate(value):
            yield from _faults(item, wanted, root, f"{at}[{i}]")


def _ref(value: Any, wanted: str, schema: Any, root: Any, at: str) -> Iterator[str]:
    found = root
    for step in wanted.removeprefix("#/").split("/"):
        found = found[step]
    yield from _faults(value, found, root, at)


def _any_of(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    tried = [list(_faults(value, one, root, at)) for one in wanted]
    if all(tried):
        yield from min(tried, key=len)


def _enum(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if value not in wanted:
        yield f"{at}: expected one of {wanted}, got {value!r}"


def _const(value: Any, wanted: Any, schema: Any, root: Any, at: str) -> Iterator[str]:
    if value != wanted:
        yield f"{at}: expected {wanted!r}, got {value!r}"


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float)


def _minimum(value: Any, wanted: float, schema: Any, root: Any, at: str) -> Iterator[str]:
    if _is_number(value) and value < wanted:
        yield f"{at}: expected {wanted} or more, got {value!r}"


def _maximum(value: Any, wanted: float, schema: Any, root: Any, at: str) -> Iterator[str]:
    if _is_number(value) and value > wanted:
        yield f"{at}: expected {wanted} or less, got {value!r}"


def _above(value: Any, wanted: float, schema: Any, root: Any, at: str) -> Iterator[str]:
    if _is_number(value) and value <= wanted:
        yield f"{at}: expected more than {wanted}, got {value!r}"


def _length(value: Any, wanted: int, schema: Any, root: Any, at: str) -> Iterator[str]:
    if len(value) < wanted:
        yield f"{at}: expected {wanted} letters or more, got {value!r}"


_CHECKS: Mapping[str, Any] = {
    "type": _type,
    "properties": _properties,
    "required": _required,
    "additionalProperties": _additional,
    "items": _items,
    "$ref": _ref,
    "anyOf": _any_of,
    "enum": _enum,
    "const": _const,
    "minimum": _minimum,
    "maximum": _maximum,
    "exclusiveMinimum": _above,
    "minLength": _length,
}
