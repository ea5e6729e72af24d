"""The folder of a rebuild guide: guide.toml, drawings of its parts, and the seal over them."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from wormwright.job.guide import Guide, GuidePart, GuideRow, GuideStep
from wormwright.job.rotary import Units
from wormwright.job.sheet import KINDS
from wormwright.quantities import Dimension, QuantityError, read, shown
from wormwright.store.fault import FileFault, JobFolderError, clipped
from wormwright.store.guide_seal import SEAL, broken, read_seal, seal_of, write_seal
from wormwright.store.safe_write import replace_file

GUIDE = "guide.toml"
FORMAT = 1
LARGEST = 1024 * 1024
"""Bytes; a larger guide.toml is no guide."""
STEP = {"mm": 1e-4, "in": 2.54e-4}
"""Sizes are written to this step, mm: 0.1 µm or 10 millionths, finer than any bench reading."""
HEAD = """\
# A rebuild guide. Set the limits of every row to what the parts of this guide allow, raise the
# version, set limits_by = "author", then seal it: wormwright keep FOLDER --seal
# A guide that was changed after it was sealed is refused wherever it is used.
"""


def guide_source(guide: Guide, units: Units) -> str:
    """guide.toml of a guide, sizes in the author's units."""
    import tomlkit  # noqa: PLC0415  only needed to write

    document = tomlkit.document()
    top = ("title", "unit", "version", "plan", "limits_by", "made_up")
    document.update({"format": FORMAT, **{name: getattr(guide, name) for name in top}})
    tables: dict[str, list[dict[str, Any]]] = {
        "row": [_row_texts(row, units) for row in guide.rows],
        "part": [{"name": p.name, "sizes": [list(s) for s in p.sizes]} for p in guide.parts],
        "step": [{"number": s.number, "key": s.key, "title": s.title} for s in guide.steps],
    }
    for name, rows in tables.items():
        array = tomlkit.aot()
        for row in rows:
            array.append(tomlkit.item(row))
        document[name] = array
    return HEAD + tomlkit.dumps(document)


def _row_texts(row: GuideRow, units: Units) -> dict[str, Any]:
    texts: dict[str, Any] = {"kind": row.kind}
    if row.station:
        texts["station"] = row.station
    if row.word:
        texts["word"] = row.word
    step = 1.0 if row.dimension == "count" else STEP[units]
    for name in ("nominal", "low", "high"):
        value = getattr(row, name)
        if value is not None:
            texts[name] = shown(value, row.dimension, resolution=step, units=units)
    return {**texts, "needs": row.needs, "compulsory": row.compulsory}


def write_guide(folder: Path, source: str, files: Mapping[str, bytes]) -> Guide:
    """Write a new guide folder and seal it.

    Raises:
        JobFolderError: the folder holds something already.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        do = "name a folder that does not exist yet; nothing was written"
        raise JobFolderError([_fault("", "a new or empty folder", str(folder), do)])
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in {**files, GUIDE: source.encode()}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, data)
    return seal_guide(folder)


def seal_guide(folder: Path) -> Guide:
    """Seal the guide as it now stands, with all files of its folder.

    Raises:
        JobFolderError: a fault in it, or a content that changed under an unchanged version.
    """
    guide = _Reader(_tree(folder)).guide()
    files = (path.relative_to(folder) for path in folder.rglob("*") if path.is_file())
    names = [f.as_posix() for f in files if not any(part.startswith(".") for part in f.parts)]
    seal = seal_of(folder, (name for name in names if name != SEAL), guide.version)
    before = read_seal(folder)
    if before is not None and before.version == seal.version and before.content != seal.content:
        do = "raise the version, so that a result tells which one it was checked against"
        got = f"version {seal.version} again, for a changed guide"
        raise JobFolderError([_fault("version", "a new version", got, do)])
    write_seal(folder, seal)
    return replace(guide, seal=seal.content)


def read_guide(folder: Path) -> Guide:
    """The guide in that folder, if it is what was sealed.

    Raises:
        JobFolderError: there is none, it was never sealed, it was changed, or is not understood.
    """
    tree = _tree(folder)
    seal = read_seal(folder)
    if seal is None:
        do = "its author seals it: wormwright keep FOLDER --seal"
        raise JobFolderError([FileFault(SEAL, None, "", "the seal of the guide", "none", do)])
    faults = broken(folder, seal)
    if faults:
        raise JobFolderError(faults)
    return replace(_Reader(tree).guide(), seal=seal.content)


def _tree(folder: Path) -> dict[str, Any]:
    try:
        data = (folder / GUIDE).read_bytes()
        if len(data) > LARGEST:
            do = "put the right file back"
            raise JobFolderError([_fault("", "at most 1 MB", f"{len(data)} bytes", do)])
        return tomllib.loads(data.decode("utf-8-sig"))
    except FileNotFoundError:
        do = f"is {folder} a guide? `wormwright keep DIR --as-guide FOLDER` makes one"
        raise JobFolderError([_fault("", "the file", "nothing", do)]) from None
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise JobFolderError([_fault("", "TOML in UTF-8", str(wrong), "mend it")]) from wrong


class _Reader:
    """Reads one parsed guide.toml; a fault in one row hides none in another."""

    def __init__(self, tree: dict[str, Any]) -> None:
        self._tree = tree
        self._faults: list[FileFault] = []

    def guide(self) -> Guide:
        if self._tree.get("format") != FORMAT:
            got = f"format = {self._tree.get('format')}"
            do = "read it with the wormwright that wrote it, or a newer one"
            raise JobFolderError([_fault("format", f"format = {FORMAT}", got, do)])
        rows = tuple(row for where, one in self._tables("row") if (row := self._row(where, one)))
        parts = tuple(self._part(where, one) for where, one in self._tables("part"))
        steps = tuple(
            GuideStep(*(self._text(one, key, where) for key in ("number", "key", "title")))
            for where, one in self._tables("step")
        )
        text: Callable[[str], str] = lambda key: self._text(self._tree, key, "")  # noqa: E731
        by, made_up = text("limits_by"), self._tree.get("made_up", False)
        if by not in ("author", "proposed"):
            self._wrong("limits_by", "author or proposed", by)
        title, unit, version, plan = (text(k) for k in ("title", "unit", "version", "plan"))
        if self._faults:
            raise JobFolderError(self._faults)
        try:
            return Guide(
                title=title,
                unit=unit,
                version=version,
                plan=plan,
                limits_by="author" if by == "author" else "proposed",
                rows=rows,
                parts=parts,
                steps=steps,
                made_up=bool(made_up),
            )
        except ValueError as wrong:
            raise JobFolderError([_fault("", "a whole guide", str(wrong), "mend it")]) from wrong

    def _tables(self, name: str) -> Iterator[tuple[str, dict[str, Any]]]:
        found = self._tree.get(name, [])
        if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
            self._wrong(name, f"[[{name}]] tables", found)
            return
        for place, one in enumerate(found, 1):
            yield f"{name}[{place}]", one

    def _row(self, where: str, texts: dict[str, Any]) -> GuideRow | None:
        key = self._text(texts, "kind", where)
        kind = KINDS.get(key)
        if kind is None:
            self._wrong(f"{where}.kind", "a kind of reading", key)
            return None
        sizes = {
            name: self._size(texts, name, kind.dimension, where)
            for name in ("nominal", "low", "high")
        }
        compulsory = texts.get("compulsory", True)
        if not isinstance(compulsory, bool):
            self._wrong(f"{where}.compulsory", "true or false", compulsory)
        try:
            return GuideRow(
                kind=key,
                station=self._text(texts, "station", where, ""),
                dimension=kind.dimension,
                word=self._text(texts, "word", where, ""),
                needs=self._text(texts, "needs", where, ""),
                compulsory=bool(compulsory),
                **sizes,
            )
        except ValueError as wrong:
            self._wrong(where, "limits, low to high, or a word", str(wrong))
            return None

    def _part(self, where: str, one: dict[str, Any]) -> GuidePart:
        sizes = one.get("sizes", [])
        pairs = isinstance(sizes, list) and all(isinstance(s, list) and len(s) == 2 for s in sizes)
        if not pairs:
            self._wrong(f"{where}.sizes", "pairs of name and size", sizes)
            sizes = []
        return GuidePart(self._text(one, "name", where), tuple((str(a), str(b)) for a, b in sizes))

    def _size(
        self, texts: dict[str, Any], name: str, dimension: Dimension, where: str
    ) -> float | None:
        if name not in texts:
            return None
        raw = self._text(texts, name, where)
        try:
            return read(raw, dimension, field=f"{where}.{name}").value
        except QuantityError as wrong:
            self._faults.append(_fault(f"{where}.{name}", wrong.expected, raw, wrong.do))
            return None

    def _text(
        self, texts: Mapping[str, Any], key: str, where: str, default: str | None = None
    ) -> str:
        value = texts.get(key, default)
        if isinstance(value, str):
            return value
        self._wrong(f"{where}.{key}".lstrip("."), "text in quotes", value)
        return ""

    def _wrong(self, field: str, expected: str, got: object) -> None:
        self._faults.append(_fault(field, expected, clipped(got), "correct it, then seal it again"))


def _fault(field: str, expected: str, got: str, do: str) -> FileFault:
    return FileFault(GUIDE, None, field, expected, got, do)
