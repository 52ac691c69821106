"""Where each key and value of a TOML text stands: line and column for every dotted path.

The reference parser tells what a file says but not where. This scanner walks the same text and
notes the offset of each key and of each value; it decides nothing about what is valid (the parser
does) and simply stops at the first thing that it cannot follow.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from contextlib import suppress
from dataclasses import dataclass, field
from typing import NoReturn

__all__ = ["MOST_ENTRIES", "MOST_NESTING", "Path", "Positions", "ScanLimitError", "scan"]

#: A dotted path: table and key names, list places counted from 0.
type Path = tuple[str | int, ...]

MOST_NESTING = 20
MOST_ENTRIES = 20_000

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN = re.compile(r"[^\s,\]}#][^,\]}#\n\r]*")
_STRINGS = (
    ('"""', re.compile(r'"""(?:\\.|[^\\])*?"{3,5}', re.DOTALL)),
    ("'''", re.compile(r"'''.*?'{3,5}", re.DOTALL)),
    ('"', re.compile(r'"(?:\\.|[^"\\\n])*"')),
    ("'", re.compile(r"'[^'\n]*'")),
)


class ScanLimitError(Exception):
    """The text nests deeper or holds more entries than any job does.

    Attributes:
        offset: Where the limit was passed.
        found, allowed: In words.
    """

    def __init__(self, offset: int, found: str, allowed: str) -> None:
        super().__init__(offset, found, allowed)
        self.offset, self.found, self.allowed = offset, found, allowed


class _LostError(Exception):
    """The scanner cannot follow the text any further; the parser will say why."""


@dataclass(slots=True)
class Positions:
    """Offsets of keys and values by path, told as line and column counted from 1."""

    text: str
    keys: dict[Path, int] = field(default_factory=dict)
    values: dict[Path, int] = field(default_factory=dict)
    _line_starts: list[int] = field(default_factory=list)

    def line_column(self, offset: int) -> tuple[int, int]:
        """Return line and column of an offset, both counted from 1."""
        if not self._line_starts:
            self._line_starts = [0, *(m.end() for m in re.finditer("\n", self.text))]
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def of_key(self, path: Path) -> tuple[int, int]:
        """Return where the key of a path stands, else the nearest thing that holds it."""
        return self._find(path, (self.keys, self.values))

    def of_value(self, path: Path) -> tuple[int, int]:
        """Return where the value of a path stands, else the nearest thing that holds it."""
        return self._find(path, (self.values, self.keys))

    def _find(self, path: Path, tables: tuple[dict[Path, int], dict[Path, int]]) -> tuple[int, int]:
        while path:
            for table in tables:
                if path in table:
                    return self.line_column(table[path])
            path = path[:-1]
        return 0, 0


def scan(text: str) -> Positions:
    """Note where every key and value stands.

    Raises:
        ScanLimitError: If the text nests too deeply or holds too many entries.
    """
    scanner = _Scanner(text)
    with suppress(_LostError):  # the parser refuses the text; what was found is still true
        scanner.document()
    return scanner.found


class _Scanner:
    """One walk through a text, from front to back."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found = Positions(text)
        self.table: Path = ()
        self.list_sizes: dict[Path, int] = {}

    def document(self) -> None:
        self.skip(_BLANK)
        while self.at < len(self.text):
            if self.text.startswith("[", self.at):
                self.header()
            else:
                self.pair(self.table)
            self.skip(_BLANK)

    def header(self) -> None:
        start, is_list = self.at, self.text.startswith("[[", self.at)
        self.at += 2 if is_list else 1
        self.skip(_SPACE)
        keys = [key for key, _ in self.dotted_key()]
        self.expect("]]" if is_list else "]")
        path: Path = ()
        for key in keys[:-1]:
            path = self.newest((*path, key))
        path = (*path, keys[-1])
        if is_list:
            self.note(self.found.keys, path, start)
            place = self.list_sizes.get(path, 0)
            self.list_sizes[path] = place + 1
            path = (*path, place)
        else:
            path = self.newest(path)
        self.note(self.found.keys, path, start)
        self.table = path

    def newest(self, path: Path) -> Path:
        """Step into the last table of a list of tables."""
        size = self.list_sizes.get(path, 0)
        return (*path, size - 1) if size else path

    def pair(self, table: Path) -> None:
        path = table
        for key, offset in self.dotted_key():
            path = (*path, key)
            self.note(self.found.keys, path, offset)
        self.expect("=")
        self.skip(_SPACE)
        self.value(path)

    def dotted_key(self) -> list[tuple[str, int]]:
        keys = [self.one_key()]
        self.skip(_SPACE)
        while self.text.startswith(".", self.at):
            self.at += 1
            self.skip(_SPACE)
            keys.append(self.one_key())
            self.skip(_SPACE)
            if len(keys) > MOST_NESTING:
                self.too_deep()
        return keys

    def one_key(self) -> tuple[str, int]:
        start = self.at
        if (match := _BARE_KEY.match(self.text, start)) is not None:
            self.at = match.end()
            return match[0], start
        for quote, pattern in _STRINGS[2:]:
            match = pattern.match(self.text, start)
            if match is not None:
                self.at = match.end()
                return _unquoted(match[0], quote), start
        raise _LostError

    def value(self, path: Path) -> None:
        self.note(self.found.values, path, self.at)
        if self.text.startswith("[", self.at):
            self.array(path)
        elif self.text.startswith("{", self.at):
            self.inline_table(path)
        else:
            self.plain()

    def array(self, path: Path) -> None:
        self.at += 1
        place = 0
        self.skip(_BLANK)
        while not self.text.startswith("]", self.at):
            self.value((*path, place))
            place += 1
            self.skip(_BLANK)
            if self.text.startswith(",", self.at):
                self.at += 1
                self.skip(_BLANK)
            elif not self.text.startswith("]", self.at):
                raise _LostError
        self.at += 1

    def inline_table(self, path: Path) -> None:
        self.at += 1
        self.skip(_SPACE)
        while not self.text.startswith("}", self.at):
            self.pair(path)
            self.skip(_SPACE)
            if self.text.startswith(",", self.at):
                self.at += 1
                self.skip(_SPACE)
            elif not self.text.startswith("}", self.at):
                raise _LostError
        self.at += 1

    def plain(self) -> None:
        for quote, pattern in _STRINGS:
            if self.text.startswith(quote, self.at):
                self.skip(pattern)
                return
        self.skip(_PLAIN)

    def skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise _LostError
        self.at = match.end()

    def expect(self, sign: str) -> None:
        self.skip(_SPACE)
        if not self.text.startswith(sign, self.at):
            raise _LostError
        self.at += len(sign)

    def note(self, table: dict[Path, int], path: Path, offset: int) -> None:
        if len(path) > MOST_NESTING:
            self.too_deep()
        if len(self.found.keys) + len(self.found.values) > 2 * MOST_ENTRIES:
            raise ScanLimitError(
                offset, f"more than {MOST_ENTRIES} entries", f"at most {MOST_ENTRIES} entries"
            )
        table.setdefault(path, offset)

    def too_deep(self) -> NoReturn:
        raise ScanLimitError(
            self.at,
            f"tables or lists nested more than {MOST_NESTING} deep",
            f"at most {MOST_NESTING} levels",
        )


def _unquoted(raw: str, quote: str) -> str:
    if quote == '"' and "\\" in raw:
        try:
            return str(tomllib.loads(f"key = {raw}")["key"])
        except tomllib.TOMLDecodeError:
            raise _LostError from None
    return raw[1:-1]
