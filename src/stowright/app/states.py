"""Every state of a refit kept in the folder it is written to, and the way back.

A state is a numbered folder under ``states``: the job file, its plan and what had changed. It is
written beside and then renamed, so that it is there whole or not at all.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from stowright.app.files import write_file
from stowright.errors import JobError, Mistake

__all__ = ["JOB_NAME", "STATES", "State", "go_back", "keep_state", "kept_states"]

STATES = "states"
JOB_NAME = "job.toml"
_WORDS = "changes.txt"
_NUMBER = re.compile(r"\d{4,}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """One state: its number, its folder, and in words what changed."""

    number: int
    folder: Path
    words: str


def kept_states(folder: Path) -> tuple[State, ...]:
    """Return the states kept in a folder, the oldest first."""
    home = folder / STATES
    if not home.is_dir():
        return ()
    rows = sorted((p for p in home.iterdir() if _NUMBER.fullmatch(p.name)), key=lambda p: p.name)
    return tuple(State(number=int(p.name), folder=p, words=_words(p)) for p in rows if p.is_dir())


def _words(folder: Path) -> str:
    try:
        return (folder / _WORDS).read_text(encoding="utf-8").strip()
    except OSError:
        return ""


def keep_state(folder: Path, job: bytes, files: Mapping[str, bytes], words: str) -> State:
    """Keep a state; one that is the same as the last is not kept twice.

    Args:
        folder: The folder that a refit is written to.
        job: The job file as it is.
        files: What belongs to the state besides, by name.
        words: What changed, a line each.

    Raises:
        OSError: If the folder cannot be written.
    """
    states = kept_states(folder)
    contents = {JOB_NAME: job, **files, _WORDS: f"{words}\n".encode()}
    if states and _same(states[-1].folder, contents):
        return states[-1]
    number = states[-1].number + 1 if states else 1
    home = folder / STATES
    home.mkdir(parents=True, exist_ok=True)
    beside = home / f".{number:04}.{os.getpid()}.part"
    try:
        for name, data in contents.items():
            write_file(beside / name, data)
        beside.rename(home / f"{number:04}")
    except BaseException:
        shutil.rmtree(beside, ignore_errors=True)
        raise
    return State(number=number, folder=home / f"{number:04}", words=words)


def _same(folder: Path, contents: Mapping[str, bytes]) -> bool:
    try:
        return all((folder / name).read_bytes() == data for name, data in contents.items())
    except OSError:
        return False


def go_back(folder: Path, number: int, job: Path) -> State:
    """Put the job file of a state back; what stands there now is kept as a state before.

    Args:
        folder: The folder that refits are written to.
        number: The state's number; 0 and below count from the last (-1: the one before it).
        job: The job file to write.

    Raises:
        JobError: If there is no such state.
        OSError: If a file cannot be read or written.
    """
    states = kept_states(folder)
    earlier = len(states) - 1 + number
    if number <= 0:
        found = states[earlier] if earlier >= 0 else None
    else:
        found = next((state for state in states if state.number == number), None)
    if found is None:
        known = ", ".join(str(s.number) for s in states) or "none kept yet"
        raise JobError((Mistake(field="--back", found=str(number), allowed=f"a state: {known}"),))
    now = job.read_bytes()
    if now != (states[-1].folder / JOB_NAME).read_bytes():
        keep_state(folder, now, {}, f"as it stood before going back to state {found.number}")
    write_file(job, (found.folder / JOB_NAME).read_bytes())
    return found
