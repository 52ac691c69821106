"""Writing into a folder: whole files or none, and nobody else's file overwritten."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from stowright.errors import FileConflictError

__all__ = ["LIST_NAME", "write_file", "write_files"]

#: The list of what earlier runs wrote into the folder, a relative path on each line.
LIST_NAME = ".stowright"


def write_files(
    folder: Path, contents: Mapping[str, bytes], *, force: bool = False, whole: bool = True
) -> tuple[Path, ...]:
    """Write files into a folder and list them in ``.stowright``.

    Nothing is written when one of the files stands there already and no earlier run wrote it.

    Args:
        folder: Where to; made when it is not there.
        contents: Each file's bytes by its path within the folder, parts parted by ``/``.
        force: Overwrite other people's files too.
        whole: The files are everything that belongs into the folder: files of an earlier run that
            are not among them are taken away, so that no drawing of a part that is gone stays.

    Raises:
        FileConflictError: Naming the first file that is not ours.
        OSError: If the folder cannot be written.
    """
    ours = _listed(folder)
    _require_ours(folder, contents, ours, force=force)
    folder.mkdir(parents=True, exist_ok=True)
    gone = sorted(ours - set(contents)) if whole else []
    _write_list(folder, ours | set(contents))
    for name, data in contents.items():
        write_file(folder / name, data)
    for name in gone:
        (folder / name).unlink(missing_ok=True)
    _write_list(folder, (ours - set(gone)) | set(contents))
    return tuple(folder / name for name in contents)


def write_file(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or, when something fails, not at all.

    Raises:
        OSError: If it cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def _require_ours(
    folder: Path, contents: Mapping[str, bytes], ours: set[str], *, force: bool
) -> None:
    for name in contents:
        path = folder / name
        if path.is_dir() or (path.exists() and name not in ours and not force):
            raise FileConflictError(str(path))


def _listed(folder: Path) -> set[str]:
    """Return what earlier runs wrote; a line that leads out of the folder is not believed."""
    try:
        lines = (folder / LIST_NAME).read_text(encoding="utf-8").splitlines()
    except (FileNotFoundError, NotADirectoryError, UnicodeDecodeError):
        return set()
    return {line for line in lines if line and _stays_inside(line)}


def _stays_inside(name: str) -> bool:
    path = PurePosixPath(name)
    return not path.is_absolute() and ".." not in path.parts and "\\" not in name


def _write_list(folder: Path, names: set[str]) -> None:
    write_file(folder / LIST_NAME, "".join(f"{name}\n" for name in sorted(names)).encode())
