"""Charts drawn in a process of its own.

Loading the drawing library takes longer than drawing with it, and neither needs what the rest of a
packet is made from. On a machine with two processors or more it is loaded here while the plan is
reckoned, and the charts are drawn while the parts are. Whatever goes wrong with the process, the
charts are drawn in the asking one instead: they are the same to the byte.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Self

from wormwright.job.rotary import Units

if TYPE_CHECKING:
    from subprocess import Popen

    from wormwright.charts import ChartBlock


class ChartProcess:
    """Ask with `draw`, collect with `svgs`; on leaving the `with` the process is gone."""

    def __init__(self) -> None:
        self._process: Popen[bytes] | None = None

    def __enter__(self) -> Self:
        """Start the process where it saves time."""
        if worthwhile():
            self._process = _started()
        return self

    def __exit__(self, *_: object) -> None:
        """End the process, whether it answered or not."""
        if self._process is None:
            return
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()

    def draw(self, blocks: Sequence[ChartBlock], units: Units) -> None:
        """Hand the blocks over; nothing is waited for."""
        if self._process is None or self._process.stdin is None:
            return
        try:
            pickle.dump((tuple(blocks), units), self._process.stdin)
            self._process.stdin.close()
        except OSError:
            self._process.kill()

    def svgs(self) -> tuple[str, ...]:
        """The pictures in the order asked for; none if the process did not draw them."""
        if self._process is None or self._process.stdout is None:
            return ()
        drawn = self._process.stdout.read()
        if self._process.wait() != 0:
            return ()
        pictures: tuple[str, ...] = pickle.loads(drawn)
        return pictures


def worthwhile() -> bool:
    """Whether a second process saves time: a second processor, and the library not loaded yet."""
    return (os.cpu_count() or 1) > 1 and "matplotlib" not in sys.modules and bool(sys.executable)


def _started() -> Popen[bytes] | None:
    from subprocess import DEVNULL, PIPE, Popen  # noqa: PLC0415  (only for a packet)

    run = [sys.executable, "-P", "-m", __name__]
    try:
        return Popen(run, stdin=PIPE, stdout=PIPE, stderr=DEVNULL)
    except OSError:
        return None


def main() -> None:
    """The second process: load while the question comes in, draw, answer."""
    from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415

    with ThreadPoolExecutor(1) as reader:
        question = reader.submit(sys.stdin.buffer.read)
        import matplotlib.backends.backend_svg  # noqa: PLC0415
        import matplotlib.figure  # noqa: F401, PLC0415

        from wormwright.charts import chart_svg  # noqa: PLC0415

    blocks, units = pickle.loads(question.result())
    pickle.dump(tuple(chart_svg(block, units) for block in blocks), sys.stdout.buffer)
    sys.stdout.buffer.flush()


if __name__ == "__main__":
    main()
