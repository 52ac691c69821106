"""A process beside this one that takes half of the proofs of a change, and cuts the model's shapes.

Proofs go first: somebody waits for them. Shapes are cut one by one between them. Whoever finds the
process not there yet, or gone, or late, does the work himself; the outcome is the same.
"""

from __future__ import annotations

import itertools
import multiprocessing
import os
import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import CancelledError, Future
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import TYPE_CHECKING, Any

from stowright.errors import StowrightError

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.finding import Finding
    from stowright.model.part import Part

__all__ = ["SecondHand"]

#: Gives the findings, waiting for them; None when whoever waits has to work them out himself.
type Waiting = Callable[[], tuple[Finding, ...] | None]
#: Whoever has done his own half waits so long for the other, then does that as well. [s]
_PATIENCE_S = 0.04
#: When it was late, the machine is busy: so many times it is not asked.
_LEFT_ALONE = 5
_FAULTS = (ArithmeticError, AttributeError, LookupError, RuntimeError, TypeError, ValueError)


class SecondHand:
    """The process and the line to it. Safe to call from several threads."""

    def __init__(self, *, patience_s: float = _PATIENCE_S) -> None:
        self._patience_s = patience_s
        self._left_alone = 0
        self._lock = threading.Lock()
        self._numbers = itertools.count(1)
        self._asked: dict[int, Future[Any]] = {}
        self._line: Connection | None = None
        self._process: SpawnProcess | None = None
        self._is_ready = False
        self._shelf: Catalogue | None = None

    def start(self) -> None:
        """Start the process; it takes its time, and nobody waits for it."""
        context = multiprocessing.get_context("spawn")
        self._line, other = context.Pipe()
        self._process = context.Process(
            target=_serve, args=(other,), daemon=True, name="stowright-second-hand"
        )
        self._process.start()
        other.close()
        threading.Thread(target=self._listen, daemon=True, name="second-hand-answers").start()

    def close(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.kill()

    def prove(self, text: str, shelf: Catalogue) -> Waiting | None:
        """Begin the proofs in use of a job; None when there is nobody to make them.

        The job is read and designed there once more, at the same time as here: that is sooner
        than to hand a design over.
        """
        if self._left_alone > 0:
            self._left_alone -= 1
            return None
        begun = self._ask("prove", text, shelf)
        return None if begun is None else lambda: self._outcome(begun)

    def _outcome(self, begun: Future[Any]) -> tuple[Finding, ...] | None:
        try:
            found: tuple[Finding, ...] | None = begun.result(self._patience_s)
        except CancelledError:
            return None
        except TimeoutError:
            self._left_alone = _LEFT_ALONE
            return None
        return found

    def shape(self, parts: tuple[Part, ...]) -> Future[Any] | None:
        """Begin the meshes of parts, in their order; None when there is nobody to make them."""
        return self._ask("shape", parts, None)

    def _ask(self, kind: str, what: Any, shelf: Catalogue | None) -> Future[Any] | None:
        begun: Future[Any] = Future()
        with self._lock:
            if not self._is_ready or self._line is None:
                return None
            number = next(self._numbers)
            self._asked[number] = begun
            try:
                if shelf is not None and shelf is not self._shelf:
                    self._line.send((0, "shelf", shelf))
                    self._shelf = shelf
                self._line.send((number, kind, what))
            except OSError:
                del self._asked[number]
                self._is_ready = False
                return None
        return begun

    def _listen(self) -> None:
        line = self._line
        with suppress(EOFError, OSError):
            while line is not None:
                number, outcome = line.recv()
                with self._lock:
                    self._is_ready = True
                    begun = self._asked.pop(number, None)
                if begun is not None:
                    begun.set_result(outcome)
        with self._lock:
            self._is_ready = False
            left = list(self._asked.values())
            self._asked.clear()
        for begun in left:
            begun.cancel()


def _serve(line: Connection) -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    with suppress(EOFError, OSError, KeyboardInterrupt):
        _Desk(line).work()


class _Desk:
    """What lies before the process: proofs on top, shapes below them."""

    def __init__(self, line: Connection) -> None:
        from stowright.app.loading import load_job
        from stowright.app.planning import design_job
        from stowright.drawings.glb import part_mesh
        from stowright.proofs.prove import findings_in_use

        self._line, self._mesh, self._prove = line, part_mesh, findings_in_use
        self._read, self._design = load_job, design_job
        self._pile: deque[tuple[int, str, Any, list[Any]]] = deque()
        self._shelf: Any = None
        line.send((0, "ready"))

    def work(self) -> None:
        while True:
            while not self._pile or self._line.poll():
                self._take(*self._line.recv())
            number, kind, what, made = self._pile.popleft()
            if kind == "prove":
                self._line.send((number, self._findings(what)))
                continue
            if len(made) < len(what):
                made.append(self._mesh(what[len(made)]))
                self._pile.appendleft((number, kind, what, made))
            else:
                self._line.send((number, made))

    def _take(self, number: int, kind: str, what: Any) -> None:
        if kind == "shelf":
            self._shelf = what
        elif kind == "prove":
            self._pile.appendleft((number, kind, what, []))
        else:
            self._pile.append((number, kind, what, []))

    def _findings(self, text: str) -> tuple[Finding, ...] | None:
        """Return the findings; None on any fault, which then shows where it is waited for."""
        try:
            job = self._read(text.encode(), catalogue=self._shelf)
            design = self._design(job, catalogue=self._shelf, settle=False)
            return self._prove(design, self._shelf)
        except (StowrightError, *_FAULTS):
            return None
