"""Make the virtual environment and install what the lock file names; needs only Python itself."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent


def main(target: str) -> None:
    if sys.version_info < (3, 11):  # noqa: UP036  (run by whatever Python the machine has)
        sys.exit(f"wormwright needs Python 3.11 or newer; this is {sys.version.split()[0]}")
    try:
        import ensurepip  # noqa: F401, PLC0415  (asked first, so that the message can be kind)
    except ImportError:
        sys.exit("Python's venv piece is missing. On Debian: apt-get install python3-venv")
    folder = (HERE / target).resolve()
    windows = os.name == "nt"
    python = folder / ("Scripts/python.exe" if windows else "bin/python")
    if not python.exists():
        venv.create(folder, with_pip=True)
    pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    lock = HERE / "requirements.lock"
    print(f"Setting up {folder}: a few minutes the first time, nothing after that.", flush=True)
    subprocess.run([*pip, "--require-hashes", "-r", str(lock)], check=True)
    subprocess.run([*pip, "--no-deps", "-e", str(HERE)], check=True)
    subprocess.run([str(python), "-m", "compileall", "-q", str(HERE / "src")], check=False)
    (folder / ".installed").write_text("", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else ".venv")
