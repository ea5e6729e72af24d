"""The one font shipped with the drawings, and how wide a line set in it is.

The drawing library looks for fonts when it is first imported: it scans the whole system and
keeps a list in the user's cache folder. `drawing_library` has it look into a temporary folder
instead and then gives it our two font files only, so a drawing is the same on every machine
and no file of the user is read or written.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import threading
from functools import lru_cache
from pathlib import Path
from types import ModuleType
from typing import Any

REGULAR = "DejaVuSans.ttf"
BOLD = "DejaVuSans-Bold.ttf"
NARROW = 0.85
"""Width factor of all lettering: DejaVu Sans is a wide face."""

_lock = threading.Lock()
_ready: list[bool] = []


def fonts_folder() -> Path:
    """The folder with the font files that everything printed is set in."""
    return Path(__file__).parent / "fonts"


def drawing_library() -> ModuleType:
    """The drawing library, imported late, with our two font files and no others."""
    with _lock:
        if "ezdxf" not in sys.modules:
            _import_without_system_fonts()
        import ezdxf  # noqa: PLC0415  (slow)
        from ezdxf.fonts import fonts  # noqa: PLC0415  (slow)

        if not _ready:
            fonts.font_manager.clear()
            fonts.font_manager.build([str(fonts_folder())], support_dirs=False)
            _ready.append(True)
        return ezdxf


def _import_without_system_fonts() -> None:
    before = os.environ.get("XDG_CACHE_HOME")
    with tempfile.TemporaryDirectory() as folder:
        cache = Path(folder) / "ezdxf" / "font_manager_cache.json"
        cache.parent.mkdir()
        cache.write_text(json.dumps({"version": 2, "font-faces": []}), encoding="utf-8")
        os.environ["XDG_CACHE_HOME"] = folder
        try:
            import ezdxf  # noqa: F401, PLC0415  (slow)
        finally:
            if before is None:
                del os.environ["XDG_CACHE_HOME"]
            else:
                os.environ["XDG_CACHE_HOME"] = before


@lru_cache(maxsize=8)
def _face(name: str) -> Any:
    drawing_library()
    from ezdxf.fonts import fonts  # noqa: PLC0415  (slow)

    return fonts.TrueTypeFont(name, cap_height=1.0, width_factor=NARROW)


@lru_cache(maxsize=4096)
def _unit_width(text: str, name: str) -> float:
    return float(_face(name).text_width(text))


def text_width(text: str, height: float, *, bold: bool = False) -> float:
    """Width [mm on paper] of a line of capital height `height` [mm on paper]."""
    return _unit_width(text, BOLD if bold else REGULAR) * height


@lru_cache(maxsize=1024)
def _letter(sign: str, name: str) -> tuple[float, str]:
    """How far a letter moves on and its outline, worked out once; capitals are 1000 high.

    Every step of the outline is counted from the one before, the first from the letter's foot.
    """
    face = _face(name)
    steps: list[str] = []
    for path in face.text_glyph_paths(sign, _UNITS):
        start = last = path.start
        steps.append(f"m{_step(start)}")
        for command in path.commands():
            kind = command.type.name
            if kind == "MOVE_TO":
                steps.append(f"zm{_step(command.end - start)}")
                start = command.end
            elif kind == "LINE_TO":
                steps.append(f"l{_step(command.end - last)}")
            else:
                handles = [getattr(command, h) for h in _HANDLES[kind]]
                points = (*handles, command.end)
                steps.append(_CURVE[kind] + " ".join(_step(point - last) for point in points))
            last = command.end
        steps.append("z")
    return float(face.glyph_cache.get_text_length(sign, _UNITS)), "".join(steps)


_UNITS = 1000.0
_HANDLES = {"CURVE3_TO": ("ctrl",), "CURVE4_TO": ("ctrl1", "ctrl2")}
_CURVE = {"CURVE3_TO": "q", "CURVE4_TO": "c"}


def _step(by: Any) -> str:
    return f"{by.x:.0f} {by.y:.0f}"


def placed_letters(text: str, name: str) -> tuple[float, str]:
    """Width of a line and its outline as an SVG path, capitals 1000 high, y upward."""
    across, words = 0.0, []
    for sign in text:
        wide, outline = _letter(sign, name)
        if outline:
            words.append(f"M{across:.0f} 0{outline}")
        across += wide
    return across, "".join(words)


@lru_cache(maxsize=2)
def em_height(name: str) -> float:
    """The size of the face in which capitals are 1000 high."""
    glyphs = _face(name).glyph_cache
    return float(_UNITS * glyphs.font["head"].unitsPerEm / glyphs.font_measurements.cap_height)


def wrapped(text: str, width: float, height: float, *, bold: bool = False) -> tuple[str, ...]:
    """The lines into which `text` falls so that none is wider than `width` [mm on paper].

    A single word wider than the line is broken where it must be.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if text_width(longer, height, bold=bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while text_width(line, height, bold=bold) > width and len(line) > 1:
            cut = _cut(line, width, height, bold=bold)
            lines.append(line[:cut])
            line = line[cut:]
    return (*lines, line) if line else tuple(lines)


def _cut(word: str, width: float, height: float, *, bold: bool) -> int:
    cut = len(word) - 1
    while cut > 1 and text_width(word[:cut], height, bold=bold) > width:
        cut -= 1
    return cut


def fitted_height(text: str, width: float, height: float, *, bold: bool = False) -> float:
    """The height, at most `height`, at which `text` is no wider than `width`."""
    wide = text_width(text, height, bold=bold)
    return height if wide <= width else height * width / wide
