"""Where in a catalogue text a field stands."""

from __future__ import annotations

import re
from collections import defaultdict
from typing import Final

__all__ = ["LineFinder"]

_HEADER: Final = re.compile(r"\s*\[\[\s*([A-Za-z0-9_-]+)\s*\]\]")
_PATH: Final = re.compile(r"([A-Za-z0-9_-]+)(?:\[(\d+)\])?(?:\.([\w-]+))?")


class LineFinder:
    """Finds the place of a dotted path such as ``screws[2].kind``.

    It looks for the second ``[[screws]]`` header and then for the key before the next such header;
    without the key it gives the header's place, without the header (0, 0).
    """

    def __init__(self, text: str) -> None:
        self._text = text
        self._lines: list[str] = []
        self._headers: dict[str, list[int]] = defaultdict(list)

    def _scan(self) -> None:
        self._lines = self._text.splitlines()
        for number, line in enumerate(self._lines, start=1):
            if header := _HEADER.match(line):
                self._headers[header[1]].append(number)

    def place_of(self, path: str) -> tuple[int, int]:
        """Return line and column, counted from 1; (0, 0) when they cannot be told."""
        if not self._lines:
            self._scan()
        match = _PATH.match(path)
        if match is None:
            return (0, 0)
        key, number, column = match[1], match[2], match[3]
        headers = self._headers.get(key, [])
        if number is None:
            return self._key_place(key, 0) or self._header_place(headers[:1])
        chosen = headers[int(number) - 1 : int(number)]
        if not chosen:
            return (0, 0)
        return self._key_place(column or "", chosen[0]) or self._header_place(chosen)

    def _header_place(self, headers: list[int]) -> tuple[int, int]:
        if not headers:
            return (0, 0)
        line = self._lines[headers[0] - 1]
        return (headers[0], len(line) - len(line.lstrip()) + 1)

    def _key_place(self, key: str, after: int) -> tuple[int, int] | None:
        """Return the place of ``key =`` (or of its sub-table) between a header and the next."""
        if not key:
            return None
        name = re.escape(key)
        wanted = re.compile(rf"\s*(?:({name})\s*[=.]|(\[[\w.-]+\.{name}[\].]))")
        for number, line in enumerate(self._lines[after:], start=after + 1):
            if _HEADER.match(line):
                return None
            if match := wanted.match(line):
                return (number, match.start(match.lastindex or 0) + 1)
        return None
