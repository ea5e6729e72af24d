"""A folder of jobs at once: reckoned in parallel processes, resumed where it was broken off."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from contextlib import suppress
from datetime import date
from multiprocessing import get_context
from pathlib import Path

from wormwright.app.fleet_row import fleet_row, stamp_of
from wormwright.app.refused import refused
from wormwright.job.blocks import Paragraph
from wormwright.job.fleet import FleetRow
from wormwright.packet import Document, Style
from wormwright.quantities import read
from wormwright.stages.keep.fleet import PartNeed, fleet_blocks, wall_blocks
from wormwright.store.contents import job_places
from wormwright.store.ledger import Ledger
from wormwright.store.safe_write import replace_file

AHEAD = 4
"""Jobs handed out for each process before one must come back: memory stays flat."""
Say = Callable[[int, int], None]
"""Told how many of how many are done."""


def fleet_document(
    root: Path, *, processes: int = 0, say: Say, radius: str = "", error: str = ""
) -> Document:
    """Every unit of the folder, with who is due, and which serves a part of that radius and error.

    Raises:
        Refused: there is no job in the folder, or radius and error do not come together.
        QuantityError: they are no lengths.
    """
    need = part_need(radius, error)
    rows = fleet_rows(root, processes=processes, say=say)
    blocks = fleet_blocks(rows, today=date.today(), need=need)
    return Document("Fleet", str(root), any(row.made_up for row in rows), blocks)


def wall_sheet(root: Path, file: Path, style: Style, *, processes: int = 0, say: Say) -> Document:
    """The sheet for the wall as PDF: every unit in a table, and a label to cut out for each.

    Raises:
        Refused: there is no job in the folder.
    """
    from wormwright.packet import render_pdf  # noqa: PLC0415  (heavy)

    today = date.today()
    rows = fleet_rows(root, processes=processes, say=say)
    made_up = any(row.made_up for row in rows)
    blocks = wall_blocks(rows, today=today)
    sheet = Document("Units", root.resolve().name, made_up, blocks, date_text=today.isoformat())
    replace_file(file, render_pdf(sheet, style))
    said = Paragraph(f"The sheet for the wall lies in {file}.", strong=True)
    return Document("Fleet", str(root), made_up, (said, *fleet_blocks(rows, today=today)))


def fleet_rows(root: Path, *, processes: int = 0, say: Say) -> tuple[FleetRow, ...]:
    """The line of every job in the folder; those that have not changed are taken from the ledger.

    Raises:
        Refused: there is no job in the folder.
    """
    places = job_places(root)
    if not places:
        raise refused(
            f"keep {root} --fleet",
            expected="a folder that holds job folders",
            got="no job.toml in any folder there",
            do="name the folder above your jobs",
        )
    ledger = Ledger(root)
    known = {row.folder: row for row in map(_from_ledger, ledger.rows.values()) if row}
    to_do = [p for p in places if p.name not in known or known[p.name].stamp != stamp_of(p)]
    done = len(places) - len(to_do)
    say(done, len(places))
    for row in _reckoned(to_do, processes or os.cpu_count() or 1):
        ledger.add(row.plain())
        known[row.folder] = row
        done += 1
        say(done, len(places))
    ledger.tidy()
    return tuple(known[place.name] for place in places)


def part_need(radius: str, error: str) -> PartNeed | None:
    """What a part needs, from what was typed; None where nothing was."""
    if not radius and not error:
        return None
    if not (radius and error):
        raise refused(
            "keep --fleet",
            expected="--radius and --error together",
            got="one of them",
            do='like --radius "60 mm" --error "0.05 mm"',
        )
    lengths = [
        read(text, "length", field=name).value
        for name, text in (("radius", radius), ("error", error))
    ]
    if min(lengths) <= 0:
        raise refused(
            "keep --fleet", expected="lengths above zero", got=f"{radius}, {error}", do="mend it"
        )
    return PartNeed(*lengths)


def _from_ledger(plain: dict[str, object]) -> FleetRow | None:
    with suppress(TypeError):
        return FleetRow.from_plain(plain)
    return None


def _reckoned(places: Sequence[Path], processes: int) -> Iterator[FleetRow]:
    """The rows as they come, in any order; one process reckons here, without another one."""
    if processes == 1 or len(places) < 2:
        yield from map(fleet_row, places)
        return
    waiting, running = iter(places), set[Future[FleetRow]]()
    with ProcessPoolExecutor(min(processes, len(places)), get_context("spawn")) as pool:
        try:
            for place in waiting:
                running.add(pool.submit(fleet_row, place))
                if len(running) >= AHEAD * processes:
                    ready, running = wait(running, return_when=FIRST_COMPLETED)
                    yield from (one.result() for one in ready)
            while running:
                ready, running = wait(running, return_when=FIRST_COMPLETED)
                yield from (one.result() for one in ready)
        finally:
            pool.shutdown(wait=False, cancel_futures=True)
