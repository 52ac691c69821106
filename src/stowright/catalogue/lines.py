"""Which line of a catalogue text a field stands on."""

from __future__ import annotations

import re
from collections import defaultdict
from typing import Final

__all__ = ["LineFinder"]

_HEADER: Final = re.compile(r"\s*\[\[\s*([A-Za-z0-9_-]+)\s*\]\]")
_PATH: Final = re.compile(r"([A-Za-z0-9_-]+)(?:\[(\d+)\])?(?:\.([\w-]+))?")


class LineFinder:
    """Finds the line of a dotted path such as ``screws[2].kind``.

    It looks for the second ``[[screws]]`` header and then for the key before the next such header;
    without the key it gives the header's line, without the header 0.
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

    def line_of(self, path: str) -> int:
        """Return the line, counted from 1, or 0 when it cannot be told."""
        if not self._lines:
            self._scan()
        match = _PATH.match(path)
        if match is None:
            return 0
        key, number, column = match[1], match[2], match[3]
        if number is None:
            return self._key_line(key, 0) or next(iter(self._headers.get(key, [])), 0)
        headers = self._headers.get(key, [])
        if int(number) > len(headers):
            return 0
        header = headers[int(number) - 1]
        return self._key_line(column or "", header) or header

    def _key_line(self, key: str, after: int) -> int:
        """Return the line of ``key =`` (or of its sub-table) between a header and the next."""
        if not key:
            return 0
        wanted = re.compile(rf"\s*(?:{re.escape(key)}\s*[=.]|\[[\w.-]+\.{re.escape(key)}[\].])")
        for number, line in enumerate(self._lines[after:], start=after + 1):
            if _HEADER.match(line):
                return 0
            if wanted.match(line):
                return number
        return 0
