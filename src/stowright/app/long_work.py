"""Long work in a process of its own: it tells how far it is, can be stopped, and blocks nobody."""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from stowright.errors import StoppedError, StowrightError

if TYPE_CHECKING:
    from stowright.app.outputs import OutputOptions
    from stowright.app.proposals import Proposals
    from stowright.app.refit_view import RefitView
    from stowright.app.study import Study
    from stowright.model.plan import Plan

__all__ = ["Kind", "Maker", "Task", "WorkFailedError", "Workroom"]

#: What can be worked out; see ``Task``.
type Kind = Literal["settled", "proposals", "plan", "refit", "figures", "book", "pages", "files"]
#: Called with what is being done now, in words.
type Progress = Callable[[str], None]

_AT_ONCE = 2
_STOP = "stop"
#: How often one who waits for a place looks whether the work was stopped meanwhile. [s]
_LOOKS_UP_S = 0.2
#: How far long work stands back behind what a person waits for, where the system knows how to.
_STANDS_BACK = 5


class WorkFailedError(Exception):
    """The work broke off by a fault of the program; the text is its traceback."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What is to be worked out.

    Attributes:
        kind: ``settled`` for a study with load packed and bolts planned; ``plan``; the
            ``refit`` to what was read and cut; the ``figures`` of its steps; the ``book`` alone;
            its ``pages`` one by one; all ``files``; ``proposals``, which can be ended with the
            best so far.
        text: The job file.
        shop_file: The shop's own catalogue, or None.
        options: How files are written; None for a plan.
    """

    kind: Kind
    text: str
    shop_file: Path | None = None
    options: OutputOptions | None = None


class Maker:
    """Works tasks out here and now; the plan of the last one is kept for the next."""

    def __init__(self) -> None:
        self._last: tuple[str, Path | None, Plan] | None = None

    def work_out(
        self, task: Task, progress: Progress, should_stop: Callable[[], bool] = lambda: False
    ) -> Any:
        """Return a ``Plan``, or what was made by name.

        Args:
            task: What is to be worked out.
            progress: Told what is being done.
            should_stop: Whether work that can show a part of itself is to end now.

        Raises:
            StowrightError: As planning and writing raise it.
        """
        if task.kind == "settled":
            return _settled(task, progress)
        if task.kind == "proposals":
            return _proposals(task, progress, should_stop)
        if task.kind == "refit":
            return _refit(task, progress)
        return _of_plan(self._plan(task, progress), task, progress)

    def _plan(self, task: Task, progress: Progress) -> Plan:
        from stowright.app.loading import load_catalogue, load_job
        from stowright.app.planning import plan

        last = self._last
        if last is not None and last[:2] == (task.text, task.shop_file):
            return last[2]
        shelf = load_catalogue(task.shop_file)
        job = load_job(task.text.encode(), catalogue=shelf)
        made = plan(job, catalogue=shelf, progress=progress)
        self._last = (task.text, task.shop_file, made)
        return made


def _of_plan(made: Plan, task: Task, progress: Progress) -> Any:
    """Return a plan, or what is made of it."""
    if task.kind == "plan":
        return made
    if task.kind == "figures":
        from stowright.app.pictures import step_pictures

        progress("drawing the steps")
        return step_pictures(made)
    if task.kind == "pages":
        from stowright.app.print_pages import book_pages

        return book_pages(made, task.text, progress)
    return _written(made, task, progress)


def _proposals(task: Task, progress: Progress, should_stop: Callable[[], bool]) -> Proposals:
    from stowright.app.loading import load_catalogue, load_job
    from stowright.app.proposals import propose

    shelf = load_catalogue(task.shop_file)
    job = load_job(task.text.encode(), catalogue=shelf)
    return propose(job, shelf, progress=progress, should_stop=should_stop)


def _refit(task: Task, progress: Progress) -> RefitView:
    from stowright.app.loading import load_catalogue, load_job
    from stowright.app.refit_view import refit_view

    shelf = load_catalogue(task.shop_file)
    return refit_view(load_job(task.text.encode(), catalogue=shelf), shelf, progress)


def _settled(task: Task, progress: Progress) -> Study:
    from stowright.app.loading import load_catalogue
    from stowright.app.study import study

    return study(task.text, load_catalogue(task.shop_file), settle=True, progress=progress)


def _written(made: Plan, task: Task, progress: Progress) -> dict[str, bytes]:
    from stowright.app.outputs import OutputOptions, rendered
    from stowright.book import make_book

    options = task.options or OutputOptions()
    if task.kind == "files":
        return rendered(made, options, progress)
    progress("setting the book")
    book = make_book(made, paper=options.paper, ink=options.ink, projection=options.projection)
    return {"book.pdf": book}


class Workroom:
    """Runs tasks, two at a time, each in a process that can be ended."""

    def __init__(self) -> None:
        self._places = threading.BoundedSemaphore(_AT_ONCE)
        self._lock = threading.Lock()
        self._idle: list[_Worker] = []
        self._busy: dict[str, _Worker] = {}
        self._in_line: set[str] = set()
        self._is_closed = False

    def run(self, name: str, task: Task, progress: Progress) -> Any:
        """Work a task out and wait for it; call it from a thread.

        Args:
            name: What ``stop`` knows it by.
            task: What to work out.
            progress: Told what is being done; called in this thread.

        Raises:
            StoppedError: If it was stopped.
            StowrightError: As the work itself raises it.
            WorkFailedError: If it broke off.
        """
        self._take_place(name, progress)
        try:
            with self._lock:
                if self._is_closed:
                    raise StoppedError("the program ends")
                worker = self._idle.pop() if self._idle else _Worker()
                self._busy[name] = worker
            try:
                return worker.run(task, progress)
            finally:
                with self._lock:
                    self._busy.pop(name, None)
                    if worker.is_alive():
                        self._idle.append(worker)
        finally:
            self._places.release()

    def _take_place(self, name: str, progress: Progress) -> None:
        progress("starting")
        if self._places.acquire(blocking=False):
            return
        progress("waiting for a free place")
        with self._lock:
            self._in_line.add(name)
        has_place = False
        while not has_place:
            has_place = self._places.acquire(timeout=_LOOKS_UP_S)
            with self._lock:
                was_stopped = name not in self._in_line
            if was_stopped:
                if has_place:
                    self._places.release()
                raise StoppedError("the work was stopped")
        with self._lock:
            self._in_line.discard(name)

    def stop(self, name: str) -> bool:
        """Stop a task; return whether it was at work, or waited for a place."""
        with self._lock:
            worker, waited = self._busy.get(name), name in self._in_line
            self._in_line.discard(name)
        if worker is not None:
            worker.stop()
        return waited or worker is not None

    def warm_up(self) -> None:
        """Start a process ahead of the first task."""
        with self._lock:
            if not self._idle and not self._busy:
                self._idle.append(_Worker())

    def close(self) -> None:
        """End every process, and take no more work."""
        with self._lock:
            self._is_closed = True
            workers = [*self._idle, *self._busy.values()]
            self._idle.clear()
            self._in_line.clear()
        for worker in workers:
            worker.end()


class _Worker:
    """A process and the line to it."""

    def __init__(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._kind = ""
        self._line, other = context.Pipe()
        self._process: SpawnProcess = context.Process(
            target=_serve, args=(other,), daemon=True, name="stowright-work"
        )
        self._process.start()
        other.close()

    def is_alive(self) -> bool:
        return self._process.is_alive() and not self._line.closed

    def end(self) -> None:
        self._process.kill()

    def stop(self) -> None:
        """End the task: kindly, where the best so far is worth having."""
        if self._kind == "proposals":
            self._line.send(_STOP)
        else:
            self.end()

    def run(self, task: Task, progress: Progress) -> Any:
        self._kind = task.kind
        try:
            self._line.send(task)
            while True:
                kind, value = self._line.recv()
                if kind == "progress":
                    progress(value)
                elif kind == "done":
                    return value
                elif kind == "refused":
                    raise value
                else:
                    raise WorkFailedError(value)
        except (EOFError, OSError) as error:
            if isinstance(error, StowrightError):
                raise  # a refusal, which an OSError may be
            self._line.close()
            raise StoppedError("the work was stopped") from error


def _serve(line: Connection) -> None:
    """Work out tasks until the line is cut. What compiled libraries print is let go."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    if hasattr(os, "nice"):
        os.nice(_STANDS_BACK)
    with suppress(EOFError, OSError, KeyboardInterrupt):
        maker = Maker()
        while True:
            task = line.recv()
            if isinstance(task, Task):
                line.send(_outcome(maker, task, line))


def _outcome(maker: Maker, task: Task, line: Connection) -> tuple[str, Any]:
    import traceback

    def say(words: str) -> None:
        line.send(("progress", words))

    try:
        return "done", maker.work_out(task, say, lambda: line.poll() and line.recv() == _STOP)
    except StowrightError as error:
        return "refused", error
    except (ArithmeticError, LookupError, TypeError, ValueError, RuntimeError, AttributeError):
        return "failed", traceback.format_exc()
