"""Who judges: this process, local processes on all cores, or a cluster behind a client.

Work is handed out in batches that do not depend on how many work on them, and what comes back is
put in the order it was asked in: so the number of workers changes the time, never the result.
"""

from __future__ import annotations

import atexit
import gc
import os
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from functools import partial
from multiprocessing import get_context
from threading import Thread
from typing import Any, Protocol

from stowright.errors import StoppedError
from stowright.explore.judging import Judge, Judged, Task, judge_many

__all__ = ["Client", "Crew", "crew", "judged"]

#: Arrangements in one errand: small enough to stop soon, large enough to be worth sending.
ERRAND = {"quick": 8, "whole": 1, "shown": 1}

type ShouldStop = Callable[[], bool]


class Client(Protocol):
    """What is used of a cluster's client (as ``dask.distributed.Client`` has it)."""

    def map(self, func: Callable[..., Any], *iterables: Iterable[Any], **options: Any) -> list[Any]:
        """Start a function on every item; return what will come."""
        ...

    def gather(self, futures: list[Any]) -> list[Any]:
        """Return what came, in order."""
        ...


class Crew:
    """Judges tasks in order; ``should_stop`` is asked between errands."""

    def __init__(
        self, work: Callable[[list[list[Task]]], Iterator[list[Judged]]], should_stop: ShouldStop
    ) -> None:
        self.work, self.should_stop = work, should_stop

    def judge(self, tasks: Sequence[Task]) -> list[Judged]:
        """Return what comes out for each task.

        Raises:
            StoppedError: When asked to stop; nothing of this batch is kept.
        """
        found: list[Judged] = []
        for some in self.work(_errands(tasks)):
            found += some
            if self.should_stop() and len(found) < len(tasks):
                raise StoppedError("stopped while judging designs")
        return found


def _errands(tasks: Sequence[Task]) -> list[list[Task]]:
    found: list[list[Task]] = []
    for task in tasks:
        if not found or found[-1][0][0] != task[0] or len(found[-1]) >= ERRAND[task[0]]:
            found.append([])
        found[-1].append(task)
    return found


@contextmanager
def crew(
    judge: Judge,
    *,
    workers: int | None = None,
    client: Client | None = None,
    should_stop: ShouldStop | None = None,
) -> Iterator[Crew]:
    """Yield who judges.

    Args:
        judge: What is judged with.
        workers: Local processes; None for one a core, 1 for this process alone.
        client: A cluster's client, instead of local processes.
        should_stop: Asked between errands.
    """
    stop = should_stop or (lambda: False)
    if client is not None:
        yield Crew(partial(_by_client, client, judge), stop)
        return
    count = workers if workers is not None else (os.cpu_count() or 1)
    if count <= 1:
        yield Crew(partial(_here, judge), stop)
        return
    pool = ProcessPoolExecutor(
        max_workers=count, mp_context=get_context("spawn"), initializer=_start, initargs=(judge,)
    )
    # a process is handed its judge while it loads, and whoever starts it waits for that
    starter = Thread(target=_start_all, args=(pool, count), daemon=True)
    starter.start()
    try:
        yield Crew(_Locally(pool, judge, starter), stop)
    finally:
        starter.join()
        pool.shutdown(wait=True, cancel_futures=True)


def judged(judge: Judge, errand: list[Task]) -> list[Judged]:
    """Return what comes out for an errand.

    A design is a tree that goes when nobody holds it: looking for rings of leftovers in between,
    as Python does after so many new things, finds none and costs a tenth of the time.
    """
    looking = gc.isenabled()
    gc.disable()
    try:
        return judge_many(judge, errand)
    finally:
        if looking:
            gc.enable()


def _here(judge: Judge, errands: list[list[Task]]) -> Iterator[list[Judged]]:
    for errand in errands:
        yield judged(judge, errand)


def _by_client(client: Client, judge: Judge, errands: list[list[Task]]) -> Iterator[list[Judged]]:
    coming = client.map(partial(judged, judge), errands, pure=False)
    yield from client.gather(coming)


class _Locally:
    """Errands for local processes; the first are done here as long as the others start."""

    def __init__(self, pool: ProcessPoolExecutor, judge: Judge, starter: Thread) -> None:
        self.pool, self.judge, self.starter = pool, judge, starter

    def __call__(self, errands: list[list[Task]]) -> Iterator[list[Judged]]:
        rest = list(errands)
        while rest and self.starter.is_alive():
            yield judged(self.judge, rest.pop(0))
        with _deaf():
            coming = [self.pool.submit(_judge_there, errand) for errand in rest]
        try:
            for each in coming:
                yield each.result()
        finally:
            for each in coming:
                each.cancel()


_HERE: list[Judge] = []


def _start(judge: Judge) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C asks whoever hands out the work
    # what it remembers goes with the process: taking it down piece by piece takes seconds, and
    # nothing waits there, as each answer is handed over when it is found
    atexit.register(os._exit, 0)
    _HERE[:] = [judge]


def _start_all(pool: ProcessPoolExecutor, count: int) -> None:
    with _deaf():
        for _ in range(count):
            pool.submit(_warm)


@contextmanager
def _deaf() -> Iterator[None]:
    """Start processes that do not hear Ctrl-C, which a terminal sends to all of them at once.

    One that is still loading has not come to `_start` yet, and would die of it with the search. A
    new process has the signals blocked that its starter's thread has; here one waits until after.
    """
    if not hasattr(signal, "pthread_sigmask"):  # where there are no such signals
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _warm() -> None:
    """Nothing: starts a process."""


def _judge_there(errand: list[Task]) -> list[Judged]:
    return judged(_HERE[0], errand)
