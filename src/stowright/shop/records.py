"""What a jobs folder remembers beside its job files: versions, ticks, places, own prices.

The shop's stock, hours and quotes lie in the same file; see ``stockroom`` and ``ledger``.

One SQLite file in the folder, written ahead (WAL), so that a killed program loses nothing that was
told as saved and several programs may look at once. The job files themselves stay the truth: a file
that was changed by another program is taken over as a new version.
"""

from __future__ import annotations

import sqlite3
import threading
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

__all__ = ["KEPT", "Records", "Version"]

#: How many versions of a job are kept; the oldest go first.
KEPT = 500

_TABLES = """
create table if not exists version (
    job text not null, number integer not null, parent integer, made text not null,
    what text not null, who text not null, text blob not null,
    primary key (job, number)
);
create table if not exists head (job text primary key, number integer not null);
create table if not exists tick (job text not null, what text not null, primary key (job, what));
create table if not exists note (
    job text not null, what text not null, value text not null, primary key (job, what)
);
create table if not exists price (name text primary key, price real not null);
create table if not exists stock (
    id text primary key, material text not null, length real not null, width real not null,
    copies integer not null, price real, offcut integer not null, came_from text not null
);
create table if not exists worked (
    job text not null, task text not null, estimated real not null, took real not null,
    primary key (job, task)
);
create table if not exists quote (
    job text not null, number integer not null, made text not null, data text not null,
    primary key (job, number)
);
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One version of a job.

    Attributes:
        number: Rising from 1 within the job.
        parent: The version that it was made from; None for the first.
        made: When, as the caller told it.
        what: What was changed, in words.
        who: Where the change came from.
    """

    number: int
    parent: int | None
    made: str
    what: str
    who: str


class Records:
    """The records of one jobs folder; safe to use from several threads."""

    def __init__(self, path: Path) -> None:
        self._lock = threading.RLock()
        self._base = sqlite3.connect(path, check_same_thread=False, timeout=10.0)
        self._base.execute("pragma journal_mode = wal")
        # with WAL a killed program loses nothing so; only a power cut may take the last versions,
        # and the job file itself is written through
        self._base.execute("pragma synchronous = normal")
        with self.writing() as base:
            for statement in filter(str.strip, _TABLES.split(";")):
                base.execute(statement)

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._base.close()

    def add(self, job: str, text: str, *, what: str, who: str, made: str) -> int:
        """Keep a version; it becomes the one that stands. Return its number."""
        packed = zlib.compress(text.encode())
        with self.writing() as base:
            last = base.execute("select max(number) from version where job = ?", (job,)).fetchone()
            parent = base.execute("select number from head where job = ?", (job,)).fetchone()
            number = (last[0] or 0) + 1
            row = (job, number, parent and parent[0], made, what, who, packed)
            base.execute("insert into version values (?, ?, ?, ?, ?, ?, ?)", row)
            base.execute("insert or replace into head values (?, ?)", (job, number))
            base.execute("delete from version where job = ? and number <= ?", (job, number - KEPT))
        return number

    def head(self, job: str) -> Version | None:
        """Return the version that stands; None for a job that was never seen."""
        row = self._one("select number from head where job = ?", (job,))
        return None if row is None else self.version(job, int(str(row[0])))

    def version(self, job: str, number: int) -> Version | None:
        """Return one version; None when it is not kept any more."""
        row = self._one(f"{_COLUMNS} and number = ?", (job, number))
        return None if row is None else _version(row)

    def versions(self, job: str, *, most: int = KEPT) -> tuple[Version, ...]:
        """Return the versions of a job, newest first."""
        with self._lock:
            found = self._base.execute(f"{_COLUMNS} order by number desc limit ?", (job, most))
            return tuple(_version(row) for row in found)

    def text(self, job: str, number: int) -> str | None:
        """Return the job file of a version; None when it is not kept any more."""
        row = self._one("select text from version where job = ? and number = ?", (job, number))
        if row is None or not isinstance(row[0], bytes):
            return None
        return zlib.decompress(row[0]).decode()

    def before(self, job: str) -> Version | None:
        """Return the version that an undo leads to; None at the first one kept."""
        head = self.head(job)
        return None if head is None or head.parent is None else self.version(job, head.parent)

    def after(self, job: str) -> Version | None:
        """Return the version that a redo leads to: the newest one made from the one that stands."""
        head = self.head(job)
        if head is None:
            return None
        row = self._one(
            f"{_COLUMNS} and parent = ? order by number desc limit 1", (job, head.number)
        )
        return None if row is None else _version(row)

    def stand(self, job: str, number: int) -> None:
        """Let another version stand; nothing is taken away."""
        with self.writing() as base:
            base.execute("insert or replace into head values (?, ?)", (job, number))

    def forget(self, job: str) -> None:
        """Take away everything that is known of a job."""
        with self.writing() as base:
            base.execute("delete from version where job = ?", (job,))
            base.execute("delete from head where job = ?", (job,))
            base.execute("delete from tick where job = ?", (job,))
            base.execute("delete from note where job = ?", (job,))
            base.execute("delete from worked where job = ?", (job,))
            base.execute("delete from quote where job = ?", (job,))

    def ticks(self, job: str) -> frozenset[str]:
        """Return what is ticked off."""
        with self._lock:
            found = self._base.execute("select what from tick where job = ?", (job,))
            return frozenset(row[0] for row in found)

    def tick(self, job: str, what: str, *, on: bool) -> None:
        """Tick something off, or take the tick away."""
        with self.writing() as base:
            if on:
                base.execute("insert or ignore into tick values (?, ?)", (job, what))
            else:
                base.execute("delete from tick where job = ? and what = ?", (job, what))

    def note(self, job: str, what: str) -> str:
        """Return a remembered word; empty when there is none."""
        row = self._one("select value from note where job = ? and what = ?", (job, what))
        return "" if row is None else str(row[0])

    def keep_note(self, job: str, what: str, value: str) -> None:
        """Remember a word."""
        with self.writing() as base:
            base.execute("insert or replace into note values (?, ?, ?)", (job, what, value))

    def prices(self) -> dict[str, float]:
        """Return the shop's own prices by name."""
        with self._lock:
            return dict(self._base.execute("select name, price from price order by name"))

    def keep_price(self, name: str, price: float | None) -> None:
        """Keep a price, or take it away with None."""
        with self.writing() as base:
            if price is None:
                base.execute("delete from price where name = ?", (name,))
            else:
                base.execute("insert or replace into price values (?, ?)", (name, price))

    def _one(self, question: str, values: tuple[object, ...]) -> tuple[object, ...] | None:
        with self._lock:
            row: tuple[object, ...] | None = self._base.execute(question, values).fetchone()
            return row

    def rows(self, question: str, values: tuple[object, ...] = ()) -> list[tuple[Any, ...]]:
        """Return the rows that answer a question put in SQL."""
        with self._lock:
            return self._base.execute(question, values).fetchall()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Hold the base for one change: all of it is kept, or nothing."""
        with self._lock, self._base:
            yield self._base


_COLUMNS = "select number, parent, made, what, who from version where job = ?"


def _version(row: tuple[object, ...]) -> Version:
    number, parent, made, what, who = row
    return Version(
        number=int(str(number)),
        parent=None if parent is None else int(str(parent)),
        made=str(made),
        what=str(what),
        who=str(who),
    )
