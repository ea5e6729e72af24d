"""Whatever is typed at the command line: a reason and a proper exit code, never a traceback."""

from __future__ import annotations

import shutil
import string
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from command_line import Ran, run
from wormwright.cli.verbs import VERBS
from wormwright.job.sheet import KINDS
from wormwright.store import JobFolder

HEAVY = ("numpy", "scipy", "pydantic", "matplotlib", "ezdxf", "typst", "jinja2", "tomlkit")


def check(ran: Ran) -> None:
    assert ran.code in (0, 1, 2), ran.err
    assert "Traceback" not in ran.out + ran.err
    if ran.code:
        assert ran.err.strip(), "a refusal says why"


ENDING = tuple(verb for verb in VERBS if verb != "serve")
"""The verbs that end by themselves; what `serve` refuses is tested beside the page."""


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], *([v, "--help"] for v in VERBS)])
def test_help_and_version_load_nothing_heavy(arguments: list[str]) -> None:
    script = (
        "import sys\n"
        "from wormwright.cli import main\n"
        f"code = main({arguments!r})\n"
        f"loaded = [name for name in {HEAVY!r} if name in sys.modules]\n"
        "print('LOADED', loaded, file=sys.stderr)\n"
        "sys.exit(code)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stdout.strip()
    assert "LOADED []" in done.stderr


JUNK = st.text(max_size=40) | st.sampled_from(
    [
        "",
        "-",
        "--",
        "0",
        "-1",
        "nan",
        "1e999",
        "1,5 mm",
        "9**9**9 mm",
        "../..",
        "\x00",
        "=1+1",
        "💥",
    ]
)
QUANTITIES = JUNK | st.from_regex(
    r"[+-]?[0-9]{1,4}(\.[0-9]{1,3})? (mm|in|thou|deg|N·m)", fullmatch=True
)
OPTIONS = st.sampled_from(
    ["--at", "--worm", "--station", "--with", "--unit", "--u", "--note", "--instrument", "--kind"]
)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(verb=st.sampled_from(ENDING) | JUNK, rest=st.lists(JUNK | OPTIONS, max_size=4))
def test_any_words_end_in_a_proper_exit_code(
    verb: str, rest: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    if verb in ("new", "packet"):
        rest = [word for word in rest if word.startswith("-")]
    check(run(verb, *rest))


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    kind=st.sampled_from(sorted(KINDS)),
    text=QUANTITIES,
    extra=st.lists(st.tuples(OPTIONS, QUANTITIES), max_size=3),
)
def test_any_reading_is_stored_or_refused_and_nothing_else(
    kind: str, text: str, extra: list[tuple[str, str]], tmp_path: Path
) -> None:
    folder = tmp_path / "job"
    if not folder.exists():
        JobFolder.create(folder)
    before = len(JobFolder.open(folder).readings)
    options = [word for pair in extra for word in pair]
    ran = run("measure", str(folder), "--read", kind, text, *options)
    check(ran)
    assert len(JobFolder.open(folder).readings) == before + (ran.code == 0)


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    lines=st.lists(QUANTITIES.map(lambda t: t.replace("\n", " ")) | st.sampled_from(["u", "do."]))
)
def test_any_series_from_a_pipe_ends_by_itself(lines: list[str], tmp_path: Path) -> None:
    folder = tmp_path / "job"
    if not folder.exists():
        JobFolder.create(folder)
    typed = "\n".join(lines).encode("utf-8", "replace").decode()
    check(run("measure", str(folder), "--series", "worm_end_play", "--unit", "mm", stdin=typed))


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    where=st.integers(0, 2000),
    junk=st.binary(min_size=1, max_size=12) | st.sampled_from([b'"', b"\n", b"=", b"[", b"nan"]),
    name=st.sampled_from(["job.toml", "readings.csv", "signoffs.csv"]),
    verb=st.sampled_from([verb for verb in ENDING if verb not in ("new", "packet")]),
)
def test_a_damaged_file_is_refused_or_told_of(
    where: int, junk: bytes, name: str, verb: str, tmp_path: Path
) -> None:
    folder = tmp_path / "job"
    shutil.rmtree(folder, ignore_errors=True)
    created = JobFolder.create(folder)
    created.append_reading("worm_end_play", "0.03 mm", conditions={"how": "push-pull"})
    data = (folder / name).read_bytes()
    at = where % (len(data) + 1)
    (folder / name).write_bytes(data[:at] + junk + data[at:])
    check(run(verb, str(folder)))


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(content=st.binary(max_size=200) | st.text(string.printable, max_size=200).map(str.encode))
def test_any_csv_file_is_stored_whole_or_refused(content: bytes, tmp_path: Path) -> None:
    folder = tmp_path / "job"
    if not folder.exists():
        JobFolder.create(folder)
    table = tmp_path / "table.csv"
    table.write_bytes(content)
    check(run("measure", str(folder), "--csv", str(table), "--kind", "worm_end_play"))
