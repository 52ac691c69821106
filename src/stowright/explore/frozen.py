"""What is cut or fitted: parts that keep their sizes, and what those settle for the rest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.model.job import Job
from stowright.model.part import Feature, PlacedPart
from stowright.model.refit import BlockRefit, FrozenPart, OpeningRefit

__all__ = [
    "DRAWER_SIDES",
    "INNER",
    "Shape",
    "across_of",
    "cut_blocks",
    "cut_face",
    "entries_of",
    "frozen_parts",
    "pieces_cut",
    "spoken_for",
    "stem_of",
    "still_to_cut",
    "thicker_sides",
    "uneven_panels",
]

type Size = tuple[float, float, float]
#: What was made in a part, and its contour.
type Shape = tuple[tuple[Feature, ...], tuple[Point2, ...]]

DRAWER_SIDES = frozenset({"drawer-side", "tray-cheek"})
INNER = frozenset({"drawer-inner-front", "drawer-inner-back", "tray-rail"})
_BETWEEN = frozenset(
    {
        "carcass-floor", "carcass-top", "carcass-rail", "floor-rail", "carcass-back", "back-rail",
        "shelf", "stack-rail",
    }
)  # fmt: skip
_SAME = 1.0e-6
#: A gap that glue fills at the end of a panel (common practice). [mm]
_GAP = 0.5


def frozen_parts(
    design: Design,
    marks: Mapping[str, str],
    sizes: Mapping[str, Size],
    shapes: Mapping[str, Shape] | None = None,
) -> tuple[FrozenPart, ...]:
    """Return the parts that keep their sizes, their holes and their contours.

    A mark that stands once speaks of every copy; one that stands several times of as many copies,
    the later ones where that is more than there are. What is spoiled is not kept: it is cut again,
    until it stands once more.

    Args:
        design: As it would be planned now.
        marks: Mark of each piece by id.
        sizes: Size of each mark in the plan that was cut from, for parts without a size.
        shapes: Holes and contour of each mark in that plan; a part cut to another size than
            planned was not made to it and has those that follow.
    """
    made = shapes or {}
    own = {piece.id: marks.get(piece.id, piece.mark) for piece in design.placed}
    known = set(own.values())
    named = {stem_of(part.mark, known) for stage in design.job.done for part in stage.parts}
    pieces: dict[str, list[PlacedPart]] = {}
    for piece in design.placed:
        pieces.setdefault(spoken_for(own[piece.id], known, named), []).append(piece)
    entries: dict[str, list[tuple[str, Size]]] = {}
    for stage in design.job.done:
        for part in stage.parts:
            size = part.size or sizes.get(part.mark)
            mark = stem_of(part.mark, pieces)
            if size is not None and mark in pieces:
                entries.setdefault(mark, []).append((stage.stage, size))
    spoiled = Counter(stem_of(row.mark, pieces) for row in design.job.spoiled)
    return tuple(
        _shaped(row, made.get(row.mark), sizes.get(row.mark))
        for mark, found in entries.items()
        for row in _rows(own, found, pieces[mark], spoiled[mark])
    )


def _shaped(row: FrozenPart, shape: Shape | None, planned: Size | None) -> FrozenPart:
    own = (row.length, row.width)
    if shape is None or planned is None:
        return row
    if any(abs(a - b) > _SAME for a, b in zip(own, planned[:2], strict=True)):
        return row
    return replace(row, features=shape[0], outline=shape[1])


def stem_of(mark: str, known: Collection[str]) -> str:
    """Return the mark that copies had before they were told apart: ``A7`` of ``A7b``."""
    stem = mark[:-1]
    split = mark not in known and mark[-1:].islower() and stem in known
    return stem if split else mark


def spoken_for(mark: str, known: Collection[str], named: Collection[str]) -> str:
    """Return the mark in the record of the build that speaks of a part.

    ``A7`` speaks of every copy, also of those that a refit has told apart since as ``A7b``, unless
    those are named themselves.

    Args:
        mark: Of the part, as it stands now.
        known: All marks as they stand now.
        named: Those that the record names.
    """
    stem = mark[:-1]
    split = mark not in named and mark[-1:].islower() and stem in known
    return stem if split else mark


def _rows(
    own: Mapping[str, str],
    entries: list[tuple[str, Size]],
    pieces: list[PlacedPart],
    spoiled: int,
) -> list[FrozenPart]:
    groups: dict[tuple[str, str, Size], list[PlacedPart]] = {}
    kept = _by_copy(entries, len(pieces), spoiled)
    for (stage, size), piece in zip(kept, pieces, strict=False):
        groups.setdefault((own[piece.id], stage, size), []).append(piece)
    return [
        FrozenPart(
            mark=mark,
            stage="fitted" if stage == "fitted" else "cut",
            pieces=tuple(piece.id for piece in members),
            length=size[0],
            width=size[1],
            thickness=size[2],
            differs=any(_apart(piece, size) for piece in members),
        )
        for (mark, stage, size), members in groups.items()
    ]


def _by_copy(entries: list[tuple[str, Size]], copies: int, spoiled: int) -> list[tuple[str, Size]]:
    """Return an entry for each copy that is there.

    Those that stand later count where there are more than copies: what was spoiled, or served no
    longer, was cut again.
    """
    found = _one_each(entries)
    if len(found) == 1:
        return (found * copies)[: max(0, copies - spoiled)]
    there = max(0, min(copies, len(found) - spoiled))
    return found[max(0, len(found) - copies) :][:there]


def _one_each(entries: list[tuple[str, Size]]) -> list[tuple[str, Size]]:
    """Return entries by piece: a part that was cut and then fitted is one, not two."""
    found: list[tuple[str, Size]] = []
    for entry in entries:
        cut = [n for n, (stage, _) in enumerate(found) if stage == "cut"]
        same = [n for n in cut if found[n][1] == entry[1]]
        if entry[0] == "fitted" and cut:
            found[(same or cut)[-1]] = entry
        else:
            found.append(entry)
    return found


def entries_of(job: Job, known: Collection[str]) -> dict[str, int]:
    """Return how many pieces of each mark the record of the build names as done."""
    return {mark: len(_one_each(rows)) for mark, rows in _done(job, known).items()}


def pieces_cut(job: Job, quantities: Mapping[str, int]) -> dict[str, int]:
    """Return how many pieces of each mark came off the sheets so far, spoiled ones among them.

    Args:
        job: The job with its record of the build.
        quantities: Copies of each mark in the plan that they were cut from.
    """
    done = entries_of(job, quantities)
    found = dict(Counter(stem_of(row.mark, quantities) for row in job.spoiled))
    for mark, times in done.items():
        every = quantities.get(mark, 0) if times == 1 else times
        found[mark] = max(found.get(mark, 0), every)
    return found


def _done(job: Job, known: Collection[str]) -> dict[str, list[tuple[str, Size]]]:
    rows: dict[str, list[tuple[str, Size]]] = {}
    for stage in job.done:
        for part in stage.parts:
            entry = (stage.stage, part.size or (0.0, 0.0, 0.0))
            rows.setdefault(stem_of(part.mark, known), []).append(entry)
    return rows


def _apart(piece: PlacedPart, size: Size) -> bool:
    own = (piece.length, piece.width, piece.thickness)
    return any(abs(a - b) > _SAME for a, b in zip(own, size, strict=True))


def still_to_cut(job: Job, quantities: Mapping[str, int], known: Collection[str]) -> dict[str, int]:
    """Return how many copies of each mark are still to be cut; spoiled ones once more.

    Args:
        job: The job with its record of the build.
        quantities: Copies of each mark as it stands now; ``A7b`` are copies of ``A7``.
        known: Marks of the plan before.
    """
    done = _done(job, known)
    spoiled = Counter(stem_of(row.mark, known) for row in job.spoiled)
    together: dict[str, list[str]] = {}
    for mark in quantities:
        together.setdefault(spoken_for(stem_of(mark, known), known, done), []).append(mark)
    left = {}
    for stem, marks in together.items():
        copies = sum(quantities[mark] for mark in marks)
        cut = len(_by_copy(done.get(stem, []), copies, spoiled[stem]))
        for mark in marks:
            kept = min(cut, quantities[mark])
            left[mark] = quantities[mark] - kept
            cut -= kept
    return left


def across_of(piece: PlacedPart, block: BlockDesign) -> Size:
    """Return 1 for the local axis that runs across the block, 0 for the others."""
    ax, ay, az = block.axes[0]
    dots = [abs(x * ax + y * ay + z * az) for x, y, z in piece.axes]
    return (dots[0], dots[1], dots[2])


def cut_face(
    design: Design, opening: str, cut: Mapping[str, FrozenPart], roles: Collection[str]
) -> tuple[FrozenPart, float, float] | None:
    """Return the cut part that closes an opening, with its size across and up as it hangs. [mm]."""
    for piece in design.placed:
        if piece.opening == opening and piece.role in roles and piece.id in cut:
            row = cut[piece.id]
            upright = [abs(axis[2]) for axis in piece.axes[:2]]
            up = upright[0] * row.length + upright[1] * row.width
            across = upright[1] * row.length + upright[0] * row.width
            return row, across, up
    return None


def thicker_sides(design: Design, opening: OpeningDesign, change: OpeningRefit | None) -> float:
    """Return how much thicker the cut sides of a box are than its sheet is now. [mm]."""
    if change is None or change.t is None:
        return 0.0
    return change.t - design.thickness(opening.build.drawer).t


def cut_blocks(design: Design, frozen: tuple[FrozenPart, ...]) -> tuple[BlockRefit, ...]:
    """Return what cut panels settle of each block; blocks cut as planned are left out."""
    if not any(row.differs for row in frozen):
        return ()
    cut = {name: row for row in frozen for name in row.pieces}
    found = (_block(design, block, cut) for block in design.blocks)
    return tuple(row for row in found if row is not None)


def _block(design: Design, block: BlockDesign, cut: Mapping[str, FrozenPart]) -> BlockRefit | None:
    own = [p for p in design.placed if p.id in cut and p.block == block.name and p.body == "fixed"]
    if not own:
        return None
    sides = [cut[p.id] for p in own if p.role == "carcass-side"]
    clears = _clears(block, own, cut)
    packers = [cut[p.id].thickness for p in own if p.role == "packer"]
    return BlockRefit(
        block=block.name,
        height=min((s.width for s in sides), default=None),
        depth=min((s.length for s in sides), default=None),
        clears=clears if any(clear is not None for clear in clears) else (),
        t=max((*(s.thickness for s in sides), *_to_cut(design, block, cut, "carcass-side")))
        if sides
        else None,
        packers=max((*packers, *_to_cut(design, block, cut, "packer"))) if packers else None,
    )


def _to_cut(
    design: Design, block: BlockDesign, cut: Mapping[str, FrozenPart], role: str
) -> Iterator[float]:
    """Yield the thickness of each panel of a role that is still to be cut. [mm]."""
    for piece in design.placed:
        if piece.block == block.name and piece.role == role and piece.id not in cut:
            yield piece.thickness


def _clears(
    block: BlockDesign, own: list[PlacedPart], cut: Mapping[str, FrozenPart]
) -> tuple[float | None, ...]:
    """Return the clear width of each column, where something between its uprights is cut."""
    columns: dict[int, OpeningDesign] = {}
    for opening in block.openings:
        columns.setdefault(opening.column, opening)
    found: list[float | None] = []
    for _, opening in sorted(columns.items()):
        together = sum(o.module == opening.module for o in columns.values())
        grown = [
            _size_across(cut[p.id], p, block) - _own_across(p, block)
            for p in own
            if p.module == opening.module and p.role in _BETWEEN
        ]
        found.append(opening.width + max(grown) / together if grown else None)
    return tuple(found)


def uneven_panels(design: Design, frozen: tuple[FrozenPart, ...]) -> tuple[str, ...]:
    """Return a line for each cut panel that does not reach between the uprights of its module.

    The longest one cut sets how far they stand apart; a shorter one leaves a gap at its joints.
    """
    cut = {name: row for row in frozen for name in row.pieces}
    lines: list[str] = []
    for block in design.blocks:
        groups: dict[str, list[tuple[float, PlacedPart]]] = {}
        for piece in design.placed:
            if piece.id in cut and piece.block == block.name and piece.role in _BETWEEN:
                grown = _size_across(cut[piece.id], piece, block) - _own_across(piece, block)
                groups.setdefault(piece.module, []).append((grown, piece))
        for rows in groups.values():
            most = max(grown for grown, _ in rows)
            lines += [
                f"{cut[piece.id].mark} is {most - grown:.1f} mm shorter than what stands between "
                "the same uprights: pack its joint, or cut it new"
                for grown, piece in rows
                if most - grown > _GAP
            ]
    return tuple(dict.fromkeys(lines))


def _own_across(piece: PlacedPart, block: BlockDesign) -> float:
    u, v, w = across_of(piece, block)
    return u * piece.length + v * piece.width + w * piece.thickness


def _size_across(cut: FrozenPart, piece: PlacedPart, block: BlockDesign) -> float:
    u, v, w = across_of(piece, block)
    return u * cut.length + v * cut.width + w * cut.thickness
