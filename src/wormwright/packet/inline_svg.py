"""An SVG made fit to stand inside a page with others: own names, no scripts, nothing fetched."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree

_DROPPED = frozenset({"metadata", "script", "title", "desc", "foreignObject"})
_REFERENCE = re.compile(r"url\(#([^)]+)\)")
_CLASS_RULE = re.compile(r"\.([A-Za-z_][\w-]*)(?=[^{}]*\{)")
_STAR_RULE = re.compile(r"\*(?=\s*\{)")


def inline_svg(svg: str, *, prefix: str, label: str) -> str:
    """The SVG as an element of a page, its ids and classes behind `prefix`, spoken as `label`."""
    root = ElementTree.fromstring(svg)
    _without_unwanted(root)
    used = set(_references(root))
    for element in root.iter():
        _own_names(element, prefix, used)
    root.attrib.pop("xmlns", None)
    root.set("class", prefix)
    root.set("role", "img")
    root.set("aria-label", label)
    return ElementTree.tostring(root, encoding="unicode")


def _without_unwanted(parent: ElementTree.Element) -> None:
    for child in list(parent):
        if not isinstance(child.tag, str) or _local(child.tag) in _DROPPED:
            parent.remove(child)
        else:
            _without_unwanted(child)


def _references(root: ElementTree.Element) -> Iterator[str]:
    for element in root.iter():
        for name, value in element.attrib.items():
            yield from _REFERENCE.findall(value)
            if _local(name) == "href" and value.startswith("#"):
                yield value[1:]


def _own_names(element: ElementTree.Element, prefix: str, used: set[str]) -> None:
    element.tag = _local(element.tag)
    attributes = list(element.attrib.items())
    element.attrib.clear()
    for full, value in attributes:
        name = _local(full)
        kept = _attribute(name, value, prefix, used)
        if kept is not None:
            element.set(name, kept)
    if element.tag == "style" and element.text:
        ruled = _CLASS_RULE.sub(rf".{prefix}-\1", element.text)
        element.text = _STAR_RULE.sub(f".{prefix} *", ruled)


def _attribute(name: str, value: str, prefix: str, used: set[str]) -> str | None:
    if name.lower().startswith("on"):
        return None
    if name == "id":
        return f"{prefix}-{value}" if value in used else None
    if name == "class":
        return " ".join(f"{prefix}-{word}" for word in value.split())
    if name == "href":
        return f"#{prefix}-{value[1:]}" if value.startswith("#") else None
    return _REFERENCE.sub(rf"url(#{prefix}-\1)", value)


def _local(name: str) -> str:
    return name.rpartition("}")[2]
