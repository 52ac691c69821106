"""Save a job file: the person's comments and layout stay, the last versions are kept beside it."""

from __future__ import annotations

import copy
import os
import re
import shutil
import tempfile
from collections.abc import Mapping, MutableMapping
from contextlib import suppress
from itertools import pairwise
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.items import AoT, Item

from stowright.errors import JobError, Mistake, UnknownNameError
from stowright.jobfile.flaws import found_text
from stowright.jobfile.scanner import Path as FieldPath
from stowright.jobfile.source import read_source

__all__ = ["HISTORY", "KEPT_VERSIONS", "read_ahead", "save_edits", "write_job_file"]

#: Folder beside a job file that holds its last versions.
HISTORY = ".stowright-history"
KEPT_VERSIONS = 10

_PART = re.compile(r'(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)")((?:\[\d+\])*)(?:\.|$)')
_VERSION = re.compile(r"\.(\d{6})$")
#: The document of one text, read while nobody waits; a change takes it away and reads no more.
_AHEAD: dict[str, TOMLDocument] = {}


def read_ahead(text: str) -> None:
    """Read the layout of a job file ahead of its next change, which is then saved the sooner.

    Raises:
        JobError: If the text is no job file.
    """
    source = read_source(text)
    if source.text not in _AHEAD:
        document = tomlkit.parse(source.text)
        _AHEAD.clear()
        _AHEAD[source.text] = document


def save_edits(text: str, edits: Mapping[str, object]) -> str:
    """Return a job file with some values changed and everything else left as it was written.

    Args:
        text: The job file.
        edits: New values by dotted path, list places counted from 1: ``build.front_gap``,
            ``bay.arches[2].start``. A place one past the end of a list appends. None takes the
            key out. Values are plain: numbers, texts, booleans, lists and mappings.

    Raises:
        JobError: If the text is no job file, or a value cannot stand in one.
        UnknownNameError: If a path leads through something that is not there.
    """
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    source = read_source(text)
    document = _AHEAD.pop(source.text, None) or tomlkit.parse(source.text)
    wanted = copy.deepcopy(dict(source.tables))
    for dotted, value in edits.items():
        path, plain = _path(dotted), _plain(value, dotted)
        _set(wanted, path, plain, dotted)
        _set(document, path, plain, dotted)
    saved = tomlkit.dumps(document)
    if read_source(saved).tables != wanted:  # never write what does not say what was asked
        fields = ", ".join(edits)
        raise _refused(fields, "an edit that the file's layout cannot take", "an edit by hand")
    return mark + saved


def _path(dotted: str) -> FieldPath:
    """Read ``bay.arches[2].start`` as a path, list places counted from 0."""
    path: list[str | int] = []
    at = 0
    while at < len(dotted):
        match = _PART.match(dotted, at)
        if match is None or match.end() == at:
            raise UnknownNameError("field path", dotted)
        path.append(match[1] if match[1] is not None else match[2])
        path.extend(int(place) - 1 for place in re.findall(r"\[(\d+)\]", match[3]))
        at = match.end()
    if not path or dotted.endswith(".") or any(isinstance(part, int) and part < 0 for part in path):
        raise UnknownNameError("field path", dotted)
    return tuple(path)


def _plain(value: object, dotted: str) -> Any:
    """Return a value as plain TOML data.

    Raises:
        JobError: If TOML has no such value.
    """
    if isinstance(value, Mapping):
        return {str(key): _plain(each, dotted) for key, each in value.items() if each is not None}
    if isinstance(value, list | tuple):
        return [_plain(each, dotted) for each in value]
    if value is None or isinstance(value, bool | int | float | str):
        return value
    raise _refused(dotted, found_text(value), "a number, a text, true, false, a list or a table")


def _set(holder: Any, path: FieldPath, value: Any, dotted: str) -> None:
    """Put a value where a path leads, in plain data or in a document; missing tables are made.

    Raises:
        UnknownNameError: If the path leads through something that cannot hold it.
    """
    here = holder
    for part, following in pairwise(path):
        there = _get(here, part)
        if there is None:
            if isinstance(here, TOMLDocument) and isinstance(following, int):
                here[str(part)] = tomlkit.aot()
            else:
                _put(here, part, [] if isinstance(following, int) else {}, dotted)
            there = _get(here, part)
        here = there
    _put(here, path[-1], value, dotted)


def _get(here: Any, part: str | int) -> Any:
    """Return what stands under a key or at a place; None when nothing does."""
    if isinstance(part, int):
        return here[part] if isinstance(here, list) and part < len(here) else None
    return here.get(part) if isinstance(here, MutableMapping) else None


def _put(here: Any, part: str | int, value: Any, dotted: str) -> None:
    """Set, append or take out one value."""
    in_document = isinstance(here, Item | TOMLDocument)
    if isinstance(part, str) and isinstance(here, MutableMapping):
        if value is None:
            here.pop(part, None)
        elif in_document:
            # only at the top of the file are tables written [ ] and [[ ]]; below it they stay in
            # one line, where no plain key can slip behind a sub-table
            top = isinstance(here, TOMLDocument)
            here[part] = _item(value, inline=not top, top=top)
        else:
            here[part] = copy.deepcopy(value)
        return
    if isinstance(part, int) and isinstance(here, list) and part <= len(here):
        _put_place(here, part, value, in_document=in_document)
        return
    raise UnknownNameError("field", dotted)


def _put_place(here: Any, place: int, value: Any, *, in_document: bool) -> None:
    if value is None:
        if place < len(here):
            del here[place]
        return
    item = _item(value, inline=not isinstance(here, AoT)) if in_document else copy.deepcopy(value)
    if place == len(here):
        here.append(item)
    else:
        here[place] = item


def _item(value: Any, *, inline: bool, top: bool = False) -> Any:
    """Return a value as a piece of a document."""
    if isinstance(value, dict):
        table: Any = tomlkit.inline_table() if inline else tomlkit.table()
        for key, each in value.items():
            table[key] = _item(each, inline=True)
        return table
    if not isinstance(value, list):
        return tomlkit.item(value)
    if top and value and all(isinstance(each, dict) for each in value):
        tables = tomlkit.aot()
        for each in value:
            tables.append(_item(each, inline=False))
        return tables
    several = tomlkit.array()
    for each in value:
        several.append(_item(each, inline=True))
    return several


def _refused(field: str, found: str, allowed: str) -> JobError:
    return JobError((Mistake(field=field, found=found, allowed=allowed),))


def write_job_file(path: str | os.PathLike[str], text: str) -> None:
    """Write a job file: all of it or nothing; the version that stood there is kept.

    The last ten versions lie in ``.stowright-history`` beside the file, numbered upwards.

    Args:
        path: Where the job file stands; a link is followed.
        text: What to write, as UTF-8.

    Raises:
        OSError: If the folder cannot be written.
    """
    target = Path(path).resolve()
    data = text.encode("utf-8")
    if target.exists():
        if target.read_bytes() == data:
            return
        _keep(target)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _take_mode(target, Path(name))
        Path(name).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise


def _take_mode(target: Path, fresh: Path) -> None:
    """Give the new file the old one's mode; a first one gets what a plain file gets."""
    if target.exists():
        shutil.copymode(target, fresh)
    else:
        mask = os.umask(0)
        os.umask(mask)
        fresh.chmod(0o666 & ~mask)


def _keep(target: Path) -> None:
    """Copy the version that stands there into the history and drop the oldest ones."""
    folder = target.parent / HISTORY
    folder.mkdir(exist_ok=True)
    versions = sorted(
        (int(match[1]), file)
        for file in folder.iterdir()
        if (match := _VERSION.search(file.name)) and file.name[: match.start()] == target.name
    )
    number = versions[-1][0] + 1 if versions else 1
    shutil.copy2(target, folder / f"{target.name}.{number:06d}")
    for _, file in versions[: max(len(versions) + 1 - KEPT_VERSIONS, 0)]:
        file.unlink(missing_ok=True)
