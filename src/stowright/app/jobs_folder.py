"""A folder of job files: what is in it, and no path that leads out of it."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from stowright.errors import UnknownNameError

__all__ = ["LONGEST_NAME", "REMOVED", "JobEntry", "JobsFolder", "name_from"]

#: Where jobs go that a person takes off the list; nothing is deleted.
REMOVED = ".removed"
LONGEST_NAME = 80

_SUFFIX = ".toml"
_NOT_JOBS = frozenset({"catalogue", "pyproject"})
_TITLE = re.compile(r'^\s*title\s*=\s*"((?:[^"\\]|\\.)*)"', re.MULTILINE)
_FORBIDDEN = re.compile(r'[\x00-\x1f\x7f/\\:*?"<>|]+')
_HEAD_BYTES = 4096
#: File systems take names of 255 bytes; endings and copies need some of them.
_MOST_BYTES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class JobEntry:
    """A job in the folder.

    Attributes:
        name: The file's name without its ending.
        title: The job's own title as written, else its name.
        changed: When the file was last written, in seconds since 1970.
    """

    name: str
    title: str
    changed: float


class JobsFolder:
    """The job files of one folder, the folders in it not looked at."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()

    def entries(self) -> tuple[JobEntry, ...]:
        """Return the jobs, the last changed first."""
        files = self.root.glob(f"*{_SUFFIX}") if self.root.is_dir() else ()
        found = [_entry(file) for file in files if self._is_job(file)]
        return tuple(sorted(found, key=lambda each: (-each.changed, each.name)))

    def path(self, name: str) -> Path:
        """Return where a job of this name stands, or would stand.

        Raises:
            UnknownNameError: If the name cannot be a job in this folder.
        """
        path = self.root / f"{name}{_SUFFIX}"
        plain = name == name_from(name) and name.casefold() not in _NOT_JOBS
        if not plain or path.resolve().parent != self.root:
            raise UnknownNameError("job", name[:LONGEST_NAME])
        return path

    def has(self, name: str) -> bool:
        """Return whether there is such a job."""
        with suppress(UnknownNameError):
            return self.path(name).is_file()
        return False

    def free_name(self, wanted: str) -> str:
        """Return a name that no job has, as near to the wanted one as can be."""
        stem = name_from(wanted)
        if stem.casefold() in _NOT_JOBS:
            stem = f"{stem} job"
        name, number = stem, 1
        while self.path(name).exists():
            number += 1
            name = f"{_cut(stem, less=6)} {number}"
        return name

    def remove(self, name: str) -> Path:
        """Put a job aside, into ``.removed``, and return where it lies now.

        Raises:
            UnknownNameError: If there is no such job.
        """
        path = self.path(name)
        if not path.is_file():
            raise UnknownNameError("job", name, tuple(entry.name for entry in self.entries()[:3]))
        aside = self.root / REMOVED
        aside.mkdir(exist_ok=True)
        target, number = aside / path.name, 1
        while target.exists():
            number += 1
            target = aside / f"{name} {number}{_SUFFIX}"
        return path.rename(target)

    def _is_job(self, file: Path) -> bool:
        return (
            file.is_file()
            and file.stem.casefold() not in _NOT_JOBS
            and file.stem == name_from(file.stem)
            and file.resolve().parent == self.root
        )


def name_from(title: str) -> str:
    """Return a file name, without its ending, made from any text that a person gives."""
    return _cut(" ".join(_FORBIDDEN.sub(" ", title).split()).strip(". ")) or "job"


def _cut(name: str, *, less: int = 0) -> str:
    """Return a name that is not too long for a file system, with room for a few signs more."""
    told = name[: LONGEST_NAME - less].encode("utf-8", errors="ignore")
    return told[: _MOST_BYTES - less].decode("utf-8", errors="ignore").strip(". ")


def _entry(file: Path) -> JobEntry:
    return JobEntry(name=file.stem, title=_title(file) or file.stem, changed=file.stat().st_mtime)


def _title(file: Path) -> str:
    """Return the title from the first lines of a file; a glance, no reading of the whole job."""
    try:
        with file.open("rb") as opened:
            head = opened.read(_HEAD_BYTES).decode("utf-8", errors="replace")
    except OSError:
        return ""
    match = _TITLE.search(head)
    return "" if match is None else match[1].replace('\\"', '"').replace("\\\\", "\\")[:200]
