"""From a file's bytes or text to the tables in it, within limits that no real job passes."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from stowright.errors import JobError, Mistake
from stowright.jobfile.scanner import Positions, ScanLimitError, scan

__all__ = ["MOST_BYTES", "Source", "read_source"]

MOST_BYTES = 1_000_000
_SIZE_ALLOWED = f"a job file of at most {MOST_BYTES // 1_000_000} MB"
_TEXT_ALLOWED = "a text file in UTF-8"
_WHERE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_PLAIN_WORDS = {
    "Cannot overwrite a value": ("a key that stands there already", "each key once in its table"),
    "Cannot mutate immutable": (
        "a key added to a table that was closed",
        "all keys of a {…} table or list inside its own brackets",
    ),
    "Duplicate inline table key": ("a key that stands there already", "each key once in its table"),
    "Exceeds the limit": ("a number with thousands of digits", "a number of plain size"),
    "Cannot declare": ("a table that stands there already", "each table once; [[…]] for a list"),
    "Cannot define": ("a table that stands there already", "each table once; [[…]] for a list"),
}
_BARE_MEASURE = re.compile(r"=\s*[\d.]+\s*(?:[\s-]\s*\d+\s*/\s*\d+|/\s*\d+|mm|cm|m|in|ft|'|\")")


@dataclass(frozen=True, slots=True)
class Source:
    """A job file as read: its text without byte-order mark, its tables, and where they stand."""

    text: str
    tables: Mapping[str, object]
    positions: Positions


def read_source(data: str | bytes) -> Source:
    """Parse a job file.

    Raises:
        JobError: With one mistake: too large, not text, nested too deeply, or not TOML.
    """
    text = _decoded(data).removeprefix("\ufeff")
    try:
        positions = scan(text)
    except ScanLimitError as limit:
        line, column = Positions(text).line_column(limit.offset)
        raise _refused(limit.found, limit.allowed, line, column) from None
    try:
        tables = tomllib.loads(text)
    except ValueError as error:  # also numbers with more digits than Python reads
        raise _syntax(str(error), text) from None
    except RecursionError:
        raise _refused("tables or lists nested too deeply", "a plain job file") from None
    return Source(text, tables, positions)


def _decoded(data: str | bytes) -> str:
    if len(data) > MOST_BYTES:
        raise _refused("a larger file", _SIZE_ALLOWED)
    if isinstance(data, str):
        text = data
    elif data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _refused("a file in UTF-16", _TEXT_ALLOWED, 1, 1)
    else:
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError as error:
            good = data[: error.start].decode("utf-8")
            line, column = Positions(good).line_column(len(good))
            raise _refused(f"byte 0x{data[error.start]:02x}", _TEXT_ALLOWED, line, column) from None
    if "\0" in text:
        line, column = Positions(text).line_column(text.index("\0"))
        raise _refused("a zero byte: this is no text", _TEXT_ALLOWED, line, column)
    return text


def _syntax(message: str, text: str) -> JobError:
    """Tell what the parser says in one line, with a hint for the usual slips."""
    where = _WHERE.search(message)
    said = _WHERE.sub("", message)
    if where is not None and where[1]:
        line, column = int(where[1]), int(where[2])
    else:
        line, column = Positions(text).line_column(len(text))
    for start, (found, allowed) in _PLAIN_WORDS.items():
        if said.startswith(start):
            return _refused(found, allowed, line, column)
    lines = text.split("\n")
    here = lines[line - 1] if line <= len(lines) else ""
    allowed = "TOML 1.0: key = value, one to a line, texts in quotes, { … } on one line"
    if _BARE_MEASURE.search(here):
        allowed = 'a length with a unit or a fraction stands in quotes: "47 1/16 in"'
    first = said[:1].lower() + said[1:]
    return _refused(f"a slip in the writing ({first[:120]})", allowed, line, column)


def _refused(found: str, allowed: str, line: int = 0, column: int = 0) -> JobError:
    return JobError(
        (Mistake(field="file", found=found, allowed=allowed, line=line, column=column),)
    )
