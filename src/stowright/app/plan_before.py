"""The plan that work was done from, by its ``plan.json``, and what the next one remembers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stowright.app.plain import plain
from stowright.errors import JobError, Mistake
from stowright.model.part import Feature
from stowright.model.refit import BegunSheet, SoFar

if TYPE_CHECKING:
    from stowright.explore.build_record import Known
    from stowright.explore.frozen import Shape
    from stowright.model.design import Design
    from stowright.model.job import Job

__all__ = ["Before", "before_from", "shape_of", "size_of", "so_far_of"]

type Size = tuple[float, float, float]

_SAME = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """The plan that the work was done from.

    Attributes:
        parts: Its parts, as in ``plan.json``.
        marks: Mark of each piece by id.
        layouts: Its sheet layouts, as in ``plan.json``; empty where nothing is known of them.
        stock: The sheets that they lie on.
        so_far: What it remembers of the plans before it.
        salvaged: What cut parts were to be made new from, by mark.
    """

    parts: tuple[Mapping[str, Any], ...]
    marks: Mapping[str, str]
    layouts: tuple[Mapping[str, Any], ...] = ()
    stock: tuple[Mapping[str, Any], ...] = ()
    so_far: SoFar = field(default_factory=SoFar)
    salvaged: Mapping[str, str] = field(default_factory=dict)

    def sizes(self) -> dict[str, Size]:
        """Return the size of each mark."""
        return {str(part["mark"]): size_of(part) for part in self.parts}

    def quantities(self) -> dict[str, int]:
        """Return the copies of each mark."""
        return {str(part["mark"]): int(part["quantity"]) for part in self.parts}

    def known(self) -> Known:
        """Return what it says of its marks, to read the record of the build by."""
        from stowright.explore.build_record import Known

        covers = dict(self.so_far.covers)
        return Known(copies=self.quantities(), covers=covers, sizes=self.sizes())

    def done_since(self, job: Job) -> frozenset[str]:
        """Return the marks that stand in the record of the build more often than it remembers."""
        from stowright.explore.build_record import entries_of

        now, then = entries_of(job, self.quantities()), dict(self.so_far.entries)
        return frozenset(mark for mark, times in now.items() if times > then.get(mark, 0))

    def as_cut(self, job: Job) -> tuple[Mapping[str, Any], ...]:
        """Return its parts, those that were cut before it as they were then.

        A part that stands in the record once more since then is the one that was cut new.
        """
        rows = {str(part["mark"]): part for part in self.parts}
        told = {part.mark: part.size for stage in job.done for part in stage.parts if part.size}
        since = self.done_since(job)
        for part in self.so_far.parts:
            mark = str(part["mark"])
            as_then = _alike(told[mark], size_of(part)) if mark in told else mark not in since
            if as_then:
                rows[mark] = part
        return tuple(rows.values())


def _alike(one: Size, two: Size) -> bool:
    return all(abs(a - b) <= _SAME for a, b in zip(one, two, strict=True))


def size_of(part: Mapping[str, Any]) -> Size:
    """Return length, width and thickness of a part."""
    return (float(part["length"]), float(part["width"]), float(part["thickness"]))


def shape_of(part: Mapping[str, Any]) -> Shape:
    """Return what was made in a part, and its contour."""
    return (
        tuple(_feature(row) for row in part.get("features") or ()),
        tuple((float(u), float(v)) for u, v in part.get("outline") or ()),
    )


def _feature(row: Mapping[str, Any]) -> Feature:
    return Feature(
        kind=row["kind"],
        face=row["face"],
        at=(float(row["at"][0]), float(row["at"][1])),
        size=tuple(float(value) for value in row["size"]),
        depth=float(row["depth"]),
        through=bool(row["through"]),
        purpose=str(row.get("purpose", "")),
        radius=float(row.get("radius") or 0.0),
        starts=float(row.get("starts") or 0.0),
    )


def before_from(data: object) -> Before:
    """Return the plan before from the data of its ``plan.json``.

    Raises:
        JobError: If it is no plan.
    """
    found: Any = data
    try:
        parts = tuple(found["parts"])
        cutting, refit = found.get("cutting") or {}, found.get("refit") or {}
        gone = refit.get("no_longer") or ()
        made = Before(
            parts=parts,
            marks={str(row["id"]): str(row["mark"]) for row in found["placed"]},
            layouts=tuple(cutting.get("layouts") or ()),
            stock=tuple(cutting.get("stock") or ()),
            so_far=_so_far_from(refit.get("so_far") or {}),
            salvaged={
                str(row["mark"]): str(row["source"])
                for row in gone
                if row["way"] == "recut" and row["source"]
            },
        )
        for part in (*parts, *made.so_far.parts):
            size_of(part), shape_of(part)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        mistake = Mistake(field="--from", found="no plan", allowed="a plan.json of this program")
        raise JobError((mistake,)) from error
    return made


def _so_far_from(data: Mapping[str, Any]) -> SoFar:
    sheets = (
        BegunSheet(
            id=str(row["id"]),
            sheet=str(row["sheet"]),
            material=str(row["material"]),
            length=float(row["length"]),
            width=float(row["width"]),
            gone=tuple((float(x), float(y), float(u), float(v)) for x, y, u, v in row["gone"]),
            offcuts=tuple(
                (str(name), float(x), float(y), float(u), float(v))
                for name, x, y, u, v in row["offcuts"]
            ),
        )
        for row in data.get("sheets") or ()
    )
    return SoFar(
        parts=tuple(data.get("parts") or ()),
        entries=tuple((str(k), int(n)) for k, n in (data.get("entries") or {}).items()),
        pieces=tuple((str(k), int(n)) for k, n in (data.get("pieces") or {}).items()),
        sheets=tuple(sheets),
        covers=tuple(
            (str(k), (int(done), int(lost)))
            for k, (done, lost) in (data.get("covers") or {}).items()
        ),
    )


def so_far_of(job: Job, old: Before, design: Design) -> SoFar:
    """Return what a plan has to remember of what was cut, for the next refit.

    Args:
        job: The job with its record of the build.
        old: The plan before, and what that remembers.
        design: The design with the refit.
    """
    from stowright.app.left_over import begun_sheets
    from stowright.explore.build_record import entries_of, pieces_cut, stem_of

    quantities = old.quantities()
    entries = entries_of(job, quantities)
    # copies told apart since then count under their own marks; what came off a sheet stays off
    before = dict(old.so_far.pieces)
    came_off = pieces_cut(job, old.known())
    pieces = {k: max(n, before.get(k, 0)) for k, n in came_off.items()}
    now = {part.mark: part for part in design.parts}
    apart = {mark: stem_of(mark, quantities) for mark in now if mark not in quantities}
    told, spoiled = entries_of(job, now), Counter(row.mark for row in job.spoiled)
    covers = {mark: (told[mark], spoiled[mark]) for mark in apart.values() if mark in told}
    kept = ("mark", "length", "width", "thickness", "quantity", "features", "outline")
    cut = {str(part["mark"]): part for part in old.as_cut(job)}
    # a copy told apart now was cut as the others that bore its mark
    cut |= {mark: {**cut[stem], "mark": mark} for mark, stem in apart.items() if stem in cut}
    rows = []
    for mark, part in cut.items():
        stands: Any = plain(now[mark]) if mark in now else None
        same = stands and (size_of(stands), shape_of(stands)) == (size_of(part), shape_of(part))
        if stem_of(mark, entries) in entries and not same:
            rows.append({key: part.get(key) for key in kept})
    return SoFar(
        parts=tuple(rows),
        entries=tuple(entries.items()),
        pieces=tuple(pieces.items()),
        sheets=begun_sheets(job, old),
        covers=tuple({**covers, **dict(old.so_far.covers)}.items()),
    )
