"""Models made in a process of their own, while the proofs of the same design are worked out."""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stowright.model.design import Design

__all__ = ["ModelMaker", "Waiting"]

#: Gives the model, waiting for it; None when the process is gone.
type Waiting = Callable[[], bytes | None]
#: A model that takes longer is made here instead. [s]
_PATIENCE_S = 20.0


class ModelMaker:
    """A process that makes one model at a time. Whoever finds it busy makes the model itself."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._line: Connection | None = None
        self._process: SpawnProcess | None = None
        self._is_ready = False

    def start(self) -> None:
        """Start the process; it takes its time, and nobody waits for it."""
        context = multiprocessing.get_context("spawn")
        self._line, other = context.Pipe()
        self._process = context.Process(
            target=_serve, args=(other,), daemon=True, name="stowright-model"
        )
        self._process.start()
        other.close()

    def close(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.kill()

    def begin(self, design: Design) -> Waiting | None:
        """Begin a model and return how to wait for it; None when there is nobody to make it."""
        if self._line is None or not self._lock.acquire(blocking=False):
            return None
        try:
            self._is_ready = self._is_ready or (self._line.poll() and self._line.recv() == "ready")
            if self._is_ready:
                self._line.send(design)
                return self._wait
        except (EOFError, OSError):
            self._line = None
        self._lock.release()
        return None

    def _wait(self) -> bytes | None:
        made: bytes | None = None
        try:
            if self._line is not None and self._line.poll(_PATIENCE_S):
                made = self._line.recv()
            else:
                self._line = None  # what comes later would be taken for another model
        except (EOFError, OSError):
            self._line = None
        finally:
            self._lock.release()
        return made


def _serve(line: Connection) -> None:
    from stowright.drawings.glb import to_glb

    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    with suppress(EOFError, OSError, KeyboardInterrupt):
        line.send("ready")
        while True:
            line.send(to_glb(line.recv()))
