"""The seal of a rebuild guide: which files it holds and their hash, in guide.seal beside them.

Line ends do not count, so that mail and version control may change them.
"""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from wormwright.store.fault import FileFault, JobFolderError
from wormwright.store.safe_write import replace_file

SEAL = "guide.seal"
HEAD = "# Made by wormwright. A guide whose files do not match this seal is refused.\n"


@dataclass(frozen=True, slots=True)
class Seal:
    """Version sealed, hash of every file by its name, and one hash over all of them."""

    version: str
    files: tuple[tuple[str, str], ...]

    @property
    def content(self) -> str:
        """One hash over names and hashes: what a result quotes."""
        lines = "".join(f"{name}\0{digest}\n" for name, digest in self.files)
        return hashlib.sha256(lines.encode()).hexdigest()


def seal_of(folder: Path, names: Iterable[str], version: str) -> Seal:
    """The seal that these files of the folder have as they now are."""
    return Seal(version, tuple((name, _digest(folder / name)) for name in sorted(names)))


def write_seal(folder: Path, seal: Seal) -> None:
    """Write guide.seal."""
    import tomlkit  # noqa: PLC0415  only needed to write

    document = tomlkit.document()
    document.update({"version": seal.version, "content": seal.content, "files": dict(seal.files)})
    replace_file(folder / SEAL, (HEAD + tomlkit.dumps(document)).encode())


def read_seal(folder: Path) -> Seal | None:
    """The seal as written, or None when the guide was never sealed.

    Raises:
        JobFolderError: guide.seal is no seal.
    """
    try:
        tree = tomllib.loads((folder / SEAL).read_text(encoding="utf-8"))
        files = {str(name): str(digest) for name, digest in tree["files"].items()}
        return Seal(str(tree["version"]), tuple(sorted(files.items())))
    except FileNotFoundError:
        return None
    except (
        OSError,
        UnicodeDecodeError,
        tomllib.TOMLDecodeError,
        KeyError,
        AttributeError,
    ) as wrong:
        do = "ask its author for the guide again"
        fault = FileFault(SEAL, None, "", "a seal", f"{type(wrong).__name__}: {wrong}", do)
        raise JobFolderError([fault]) from wrong


def broken(folder: Path, seal: Seal) -> tuple[FileFault, ...]:
    """Every sealed file that is no longer what was sealed."""
    do = "ask its author for the guide again; if that is you: wormwright keep FOLDER --seal"
    faults = []
    for name, digest in seal.files:
        if not _within(folder, name):
            faults.append(FileFault(SEAL, None, name, "a file of the guide", "one outside it", do))
        elif not (folder / name).is_file():
            faults.append(FileFault(name, None, "", "a sealed file", "no file", do))
        elif _digest(folder / name) != digest:
            faults.append(FileFault(name, None, "", "the file as sealed", "another content", do))
    return tuple(faults)


def _within(folder: Path, name: str) -> bool:
    return (folder / name).resolve().is_relative_to(folder.resolve())


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
