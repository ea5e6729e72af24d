"""Long reckonings in a process of their own, of lower rank, so that answers to fingers do not wait.

Asks go over a pipe one at a time; whatever goes wrong with the process, the work is done here
instead: the answer is the same. When the asking process ends, however it ends, the other reads
the end of its pipe and ends too.
"""

from __future__ import annotations

import copyreg
import os
import pickle
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from threading import Lock
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from wormwright.job.result import StageRefusal

if TYPE_CHECKING:
    from subprocess import Popen

Answer = TypeVar("Answer")
LOWER_RANK = 3
_GONE = (OSError, EOFError, pickle.PickleError)


def read_only(pairs: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    """A mapping that came over the pipe, as it was before."""
    return MappingProxyType(pairs)


copyreg.pickle(MappingProxyType, lambda pairs: (read_only, (dict(pairs),)))


class SecondProcess:
    """`call` hands work over and waits for the answer; the process is started at the first."""

    def __init__(self) -> None:
        self._process: Popen[bytes] | None = None
        self._lock = Lock()

    def call(self, work: Callable[..., Answer], *given: object) -> Answer:
        """What `work(*given)` gives. `work` must be found by its name in its module.

        Raises:
            StageRefusal, ValueError: as the work itself does.
        """
        with self._lock:
            try:
                good, answer = self._asked(work, given)
            except _GONE:
                self._end()
                good, answer = done(work, given)
        if good:
            result: Answer = answer
            return result
        raise ValueError(answer) if isinstance(answer, str) else StageRefusal(*answer)

    def _asked(self, work: Callable[..., Answer], given: tuple[object, ...]) -> tuple[bool, Any]:
        if self._process is None:
            self._process = _started()
        question, answer = self._process.stdin, self._process.stdout
        assert question is not None
        assert answer is not None
        pickle.dump((work, given), question)
        question.flush()
        told: tuple[bool, Any] = pickle.load(answer)
        return told

    def _end(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            for pipe in (self._process.stdin, self._process.stdout):
                if pipe is not None:
                    with suppress(OSError):  # an ask that was never sent
                        pipe.close()
            self._process = None

    def end(self) -> None:
        """End the process; work handed over later starts another."""
        with self._lock:
            self._end()


def done(work: Callable[..., Any], given: tuple[object, ...]) -> tuple[bool, Any]:
    """(True, answer), or a refusal taken apart: (False, (stage, doubts)) or (False, words)."""
    try:
        return True, work(*given)
    except StageRefusal as refusal:
        return False, (refusal.stage, refusal.doubts)
    except ValueError as error:
        return False, str(error)


def loaded() -> None:
    """Have at hand what reckonings and pictures need; fetching it takes longer than using it."""
    import matplotlib.backends.backend_svg  # noqa: PLC0415
    import matplotlib.figure  # noqa: F401, PLC0415

    import wormwright.stages.correct  # noqa: PLC0415
    import wormwright.stages.diagnose  # noqa: F401, PLC0415


def _started() -> Popen[bytes]:
    from subprocess import DEVNULL, PIPE, Popen  # noqa: PLC0415  (only where it is used)

    if not sys.executable:
        raise OSError("no interpreter to start")
    run = [sys.executable, "-P", "-c", f"from {__name__} import main; main()"]
    return Popen(run, stdin=PIPE, stdout=PIPE, stderr=DEVNULL)


def _step_back() -> None:
    """Let everything that answers to a finger go first, as far as this system can be told so."""
    with suppress(AttributeError, OSError):
        os.sched_setscheduler(0, os.SCHED_BATCH, os.sched_param(0))
    with suppress(AttributeError, OSError):
        os.nice(LOWER_RANK)


def main() -> None:
    """The other side: work as it comes, until the pipe ends."""
    _step_back()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C ends the asking process, and so this one
    answers, sys.stdout = sys.stdout.buffer, sys.stderr  # nothing printed may get between answers
    with suppress(EOFError, BrokenPipeError):
        while True:
            work, given = pickle.load(sys.stdin.buffer)
            pickle.dump(done(work, given), answers)
            answers.flush()
