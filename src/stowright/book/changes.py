"""The sheet of changes: old and new size side by side, shims, and the drawings that changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Literal

from stowright.book.figures import PAGE_HEIGHTS
from stowright.book.part_pages import part_pages, part_titles
from stowright.book.stamp import stamp_of
from stowright.book.tables import letter
from stowright.book.typeset import typeset
from stowright.drawings.linetypes import Ink
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.scene import Scene
from stowright.drawings.sheet_frame import PAPERS, drawing_room
from stowright.drawings.svg import to_svg
from stowright.model.design import Design
from stowright.model.job import Job
from stowright.model.refit import PartChange, Refit, ShimPack
from stowright.units import Unit, format_length

__all__ = ["changed_drawings", "changes_content", "make_changes", "shim_lines"]

#: Most shims of a table row are told like this where none are laid.
_NONE = "none"


def changed_drawings(
    design: Design, changes: tuple[PartChange, ...], *, paper: Literal["a4", "letter"] = "a4"
) -> tuple[Scene, ...]:
    """Return the drawing of each part that changed and is still there."""
    marks = {row.mark for row in changes if row.new is not None}
    room = drawing_room(PAPERS["A4" if paper == "a4" else "ANSI A"])
    return tuple(
        part_drawing(part, units=design.job.units, room=room, pair=shown_beside(part, design.parts))
        for part in design.parts
        if part.mark in marks
    )


def changes_content(
    job: Job, refit: Refit | None, changes: tuple[PartChange, ...], *, stamp: str = ""
) -> dict[str, Any]:
    """Return what the sheet of changes prints, as plain data."""
    return {
        "title": job.title,
        "units": job.units,
        "stamp": stamp,
        "rows": [_row(job, change) for change in changes],
        "reasons": list(refit.reasons) if refit else [],
        "shims": [list(row) for row in shim_lines(refit, job.units)],
        "open": list(refit.open) if refit else [],
    }


def make_changes(
    design: Design,
    refit: Refit | None,
    changes: tuple[PartChange, ...],
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Ink = "colour",
    revision: str = "",
    date: str = "",
) -> bytes:
    """Return the sheet of changes as PDF: the table, then the drawings that changed.

    Raises:
        BookError: If it does not typeset.
    """
    marks = {row.mark for row in changes if row.new is not None}
    known = marks.intersection(part.mark for part in design.parts)
    pages = part_pages(design, height_mm=PAGE_HEIGHTS[paper], marks=known)
    titles = part_titles(design.parts)
    stamp = stamp_of(design.job, revision=revision, date=date).text
    content = changes_content(design.job, refit, changes, stamp=stamp)
    content |= _lettered(content["rows"], [row.why for row in changes], content["reasons"])
    content["ink"] = ink
    content["figures"] = {
        f"part-{mark}": titles[mark] for page in pages for mark, _ in page.drawings
    }
    content["pages"] = [
        {"names": [f"part-{mark}" for mark, _ in page.drawings], "turned": page.turned}
        for page in pages
    ]
    figures = {
        f"part-{mark}": to_svg(scene, ink=ink) for page in pages for mark, scene in page.drawings
    }
    return typeset("changes", content, figures, inputs={"paper": paper})


def _lettered(
    rows: Sequence[Sequence[str]], whys: Sequence[Sequence[str]], reasons: Iterable[str]
) -> dict[str, Any]:
    """Return the table with letters for its reasons, and each reason once with its letter.

    A row is mark, name, old size, new size (empty where it is the old one), what, letters.
    """
    told = (why for row in whys for why in row)
    letters = {why: letter(n) for n, why in enumerate(dict.fromkeys((*told, *reasons)))}
    return {
        "rows": [
            [
                *row[:3],
                "" if row[2] == row[3] else row[3],
                row[4],
                ", ".join(letters[why] for why in own),
            ]
            for row, own in zip(rows, whys, strict=True)
        ],
        "reasons": [[each, why] for why, each in letters.items()],
    }


def _row(job: Job, change: PartChange) -> list[str]:
    return [
        change.mark,
        change.name,
        _size(job, change.old, change.old_quantity),
        _size(job, change.new, change.new_quantity),
        ", ".join(change.what),
        "; ".join(change.why),
    ]


def _size(job: Job, size: tuple[float, float, float] | None, quantity: int) -> str:
    if size is None:
        return "–"
    length, width, thick = (_length(job, value) for value in size)
    many = f"{quantity} of " if quantity != 1 else ""
    return f"{many}{length} × {width} × {thick}"


def _length(job: Job, mm: float) -> str:
    if job.units == "in":
        return format_length(mm, "in", with_unit=False)
    return f"{round(mm, 2):g}"


def shim_lines(refit: Refit | None, units: Unit) -> Iterator[tuple[str, str, str, str]]:
    """Yield opening, side, from which to which screw, and what is laid there, alike ones as one.

    Screws are told in the job's unit, shims by the thickness that they are sold in.
    """
    packs = refit.shims if refit else ()
    for name in dict.fromkeys(pack.opening for pack in packs):
        for side in ("left", "right"):
            own = [pack for pack in packs if pack.opening == name and pack.side == side]
            yield from ((name, side, *row) for row in _runs(own, units))


def _runs(packs: list[ShimPack], units: Unit) -> Iterator[tuple[str, str]]:
    start = 0
    for place in range(1, len(packs) + 1):
        if place < len(packs) and packs[place].shims == packs[start].shims:
            continue
        ends = dict.fromkeys(format_length(packs[n].at, units) for n in (start, place - 1))
        shims = " + ".join(f"{shim:g}" for shim in packs[start].shims)
        yield f"{' to '.join(ends)} {units}", f"{shims} mm" if shims else _NONE
        start = place
