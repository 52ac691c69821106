"""The record of a build, copy by copy: which copies of a mark are cut, and which are not any more.

A mark that stands once in ``[[done]]`` speaks of every copy, one that stands several times of as
many. A refit may tell copies apart (``A7``, ``A7b``): what was written down before then speaks of
all of them, what comes after it of those that bear the mark now.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from stowright.model.job import Job

__all__ = [
    "Entry",
    "Known",
    "Unclear",
    "copies_of",
    "entries_of",
    "pieces_cut",
    "stem_of",
    "still_to_cut",
    "unclear_copies",
]

type Size = tuple[float, float, float]

_SAME = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A part in the record: its mark as it stands there, its stage, its size where one is known."""

    mark: str
    stage: str
    size: Size | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the plan that was cut from says of its marks.

    Attributes:
        copies: Of each mark.
        covers: How often a mark was done and how often spoiled before its copies were told apart.
        sizes: Of each mark, for parts without a size.
    """

    copies: Mapping[str, int]
    covers: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    sizes: Mapping[str, Size] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear:
    """A spoiled part that may be one of several: its place in the record from 0, their sizes."""

    place: int
    sizes: tuple[Size, ...]


def stem_of(mark: str, known: Collection[str]) -> str:
    """Return the mark that copies had before they were told apart: ``A7`` of ``A7b``."""
    stem = mark[:-1]
    return stem if mark not in known and mark[-1:].islower() and stem in known else mark


def entries_of(job: Job, known: Collection[str]) -> dict[str, int]:
    """Return how many pieces of each mark the record of the build names as done."""
    return {mark: len(rows) for mark, rows in _written(job, known).items()}


def copies_of(job: Job, known: Known) -> dict[str, tuple[Entry | None, ...]]:
    """Return for each mark what tells how each of its copies is cut, None where it is not.

    Args:
        job: The job with its record of the build.
        known: What the plan that was cut from says.
    """
    return {mark: tuple(_slots(rows)) for mark, rows in _records(job, known).items()}


def unclear_copies(job: Job, known: Known) -> Iterator[Unclear]:
    """Yield each spoiled part of which nobody can tell which copy is meant."""
    for record in _records(job, known).values():
        yield from record.unclear


def still_to_cut(
    job: Job,
    pieces: Sequence[tuple[str, str]],
    covers: Mapping[str, tuple[int, int]],
    *,
    anew: Collection[int] = (),
) -> dict[str, int]:
    """Return how many copies of each mark are still to be cut; spoiled ones once more.

    Args:
        job: The job with its record of the build.
        pieces: Mark of each piece as it stands now, and in the plan that was cut from.
        covers: As in `Known`.
        anew: Places of pieces, as they are given, that are cut and no longer serve: cut once more.
    """
    left = dict.fromkeys((mark for mark, _ in pieces), 0)
    slots = copies_of(job, Known(copies=Counter(then for _, then in pieces), covers=covers))
    turn = {mark: iter(entries) for mark, entries in slots.items()}
    for place, (mark, then) in enumerate(pieces):
        left[mark] += next(turn[then]) is None or place in anew
    return left


def pieces_cut(job: Job, known: Known) -> dict[str, int]:
    """Return how many pieces of each mark came off the sheets so far, spoiled ones among them.

    What was cut before copies were told apart counts under the mark that they had.

    Args:
        job: The job with its record of the build.
        known: What the plan that was cut from says.
    """
    early = _early_records(job, _written(job, known.copies), known)
    found = Counter({stem: record.pieces for stem, record in early.items()})
    for mark, record in _records(job, known).items():
        found[mark] += record.pieces - record.shared
    return {mark: count for mark, count in found.items() if count}


@dataclass(slots=True, kw_only=True)
class _Record:
    """Of one mark: entries, those that are spoiled, how many were shared out to it."""

    copies: int
    entries: list[Entry]
    shared: int
    lost: set[int] = field(default_factory=set)
    spoiled: int = 0
    unclear: list[Unclear] = field(default_factory=list)

    @property
    def pieces(self) -> int:
        """How many came off the sheets; one may be spoiled that was not written down as cut."""
        return max(len(self.entries), self.spoiled)


def _records(job: Job, known: Known) -> dict[str, _Record]:
    """Return the record of each mark of a plan."""
    written = _written(job, known.copies)
    shared = _shared_out(_early_records(job, written, known), known)
    found = {}
    for mark, copies in known.copies.items():
        told, rows = shared.get(mark, []), written.get(mark, [])
        rows = rows[known.covers.get(mark, (0, 0))[0] :]
        every = len(rows) == 1 and rows[0].mark == mark and not told
        size = known.sizes.get(mark)
        entries = [
            replace(row, size=row.size or size) for row in (*told, *rows * (copies if every else 1))
        ]
        found[mark] = _Record(copies=copies, entries=entries, shared=len(told))
    before = {n for stem, (_, lost) in known.covers.items() for n in _early(job, stem, lost)}
    for n in _in_turn(job, set(range(len(job.spoiled))) - before):
        mark = stem_of(job.spoiled[n].mark, known.copies)
        if mark in found:
            _spoil(found[mark], job, n)
    return found


def _early(job: Job, stem: str, count: int) -> list[int]:
    """Return the places of what was spoiled before the copies of a mark were told apart."""
    return [n for n, row in enumerate(job.spoiled) if row.mark == stem][:count]


def _in_turn(job: Job, places: Collection[int]) -> list[int]:
    """Return places of spoiled parts, those first that name their size and so say which it was."""
    return sorted(places, key=lambda n: (job.spoiled[n].size is None, n))


def _written(job: Job, known: Collection[str]) -> dict[str, list[Entry]]:
    """Return the entries of each mark; a part that was cut and then fitted is one, not two."""
    found: dict[str, list[Entry]] = {}
    for stage in job.done:
        for part in stage.parts:
            mark = stem_of(part.mark, known)
            entry = Entry(mark=part.mark, stage=stage.stage, size=part.size)
            rows = found.setdefault(mark, [])
            cut = [n for n, one in enumerate(rows) if one.stage == "cut"]
            cut = [n for n in cut if rows[n].mark == entry.mark] or cut
            same = [n for n in cut if rows[n].size == entry.size]
            if entry.stage == "fitted" and cut:
                rows[(same or cut)[-1]] = entry
            else:
                rows.append(entry)
    return found


def _early_records(
    job: Job, written: Mapping[str, list[Entry]], known: Known
) -> dict[str, _Record]:
    """Return the record of each mark whose copies were told apart, as it was before."""
    found = {}
    for stem, (count, lost) in known.covers.items():
        total = sum(known.copies[mark] for mark in _family(stem, known))
        rows = written.get(stem, [])[:count]
        record = _Record(copies=total, entries=rows * total if len(rows) == 1 else rows, shared=0)
        for n in _in_turn(job, _early(job, stem, lost)):
            _spoil(record, job, n)
        found[stem] = record
    return found


def _shared_out(early: Mapping[str, _Record], known: Known) -> dict[str, list[Entry]]:
    """Return what was written down of copies before they were told apart, for each of them."""
    found = {}
    for stem, record in early.items():
        slots = _slots(record)
        for mark in _family(stem, known):
            own, slots = slots[: known.copies[mark]], slots[known.copies[mark] :]
            found[mark] = [replace(row, mark=mark) for row in own if row is not None]
    return found


def _family(stem: str, known: Known) -> list[str]:
    """Return the marks that copies of one mark bear since they were told apart."""
    return [mark for mark in known.copies if stem_of(mark, {stem}) == stem]


def _spoil(record: _Record, job: Job, place: int) -> None:
    """Take a spoiled part off the record of its mark: by its size, else the last of the copies."""
    row = job.spoiled[place]
    record.spoiled += 1
    alive = [n for n in range(len(record.entries)) if n not in record.lost]
    meant = [n for n in alive if record.entries[n].mark == row.mark] or alive
    sizes = _sizes(record.entries[n] for n in meant)
    if row.size is not None:
        of_size = [n for n in meant if _alike(record.entries[n].size, row.size)]
        if meant and not of_size:
            record.unclear.append(Unclear(place=place, sizes=sizes))
        meant = of_size
    elif len(sizes) > 1 and _blind(job, row.mark) < len(meant):
        record.unclear.append(Unclear(place=place, sizes=sizes))
    if meant:
        first = [n for n in meant if n < record.copies]
        record.lost.add(first[-1] if first else meant[0])


def _blind(job: Job, mark: str) -> int:
    return sum(row.mark == mark and row.size is None for row in job.spoiled)


def _sizes(entries: Iterator[Entry]) -> tuple[Size, ...]:
    found: list[Size] = []
    for entry in entries:
        if entry.size is not None and not any(_alike(one, entry.size) for one in found):
            found.append(entry.size)
    return tuple(found)


def _alike(one: Size | None, two: Size) -> bool:
    return one is not None and all(abs(a - b) <= _SAME for a, b in zip(one, two, strict=True))


def _slots(record: _Record) -> list[Entry | None]:
    """Return what each copy is cut to.

    Copies that are called otherwise since (``A7b``) stand last. What was written down beyond the
    copies was cut again: in the place of what was spoiled, else of what stands longest.
    """
    first = range(min(record.copies, len(record.entries)))
    plain = [n for n in first if not record.entries[n].mark[-1:].islower()]
    other = sorted(set(first) - set(plain), key=lambda n: record.entries[n].mark[-1:])
    places: list[int | None] = [*plain, *[None] * (record.copies - len(first)), *other]
    slots = [None if n is None or n in record.lost else record.entries[n] for n in places]
    free = [k for k, n in enumerate(places) if n in record.lost]
    later = range(record.copies, len(record.entries))
    again = [record.entries[n] for n in later if n not in record.lost]
    for entry in again:
        named = [k for k, n in enumerate(places) if n is not None and _named(record, n, entry)]
        own = [k for k in free if k in named] or free
        if own:
            slots[own[0]] = entry
            free.remove(own[0])
            continue
        turn = named or list(range(len(slots)))
        for k, value in zip(turn, [*(slots[k] for k in turn[1:]), entry], strict=False):
            slots[k] = value
    return slots


def _named(record: _Record, n: int, entry: Entry) -> bool:
    return record.entries[n].mark == entry.mark
