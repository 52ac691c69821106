"""What is cut or fitted: parts that keep their sizes, and what those settle for the rest."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from stowright.explore.build_record import Entry, Known, copies_of
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.model.part import Feature, PlacedPart
from stowright.model.refit import BlockRefit, FrozenPart, OpeningRefit

__all__ = [
    "DRAWER_SIDES",
    "INNER",
    "Shape",
    "across_of",
    "cut_blocks",
    "cut_face",
    "frozen_parts",
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
    covers: Mapping[str, tuple[int, int]] | None = None,
) -> tuple[FrozenPart, ...]:
    """Return the parts that keep their sizes, their holes and their contours.

    What is spoiled is not kept: it is cut again, until it stands once more.

    Args:
        design: As it would be planned now.
        marks: Mark of each piece by id.
        sizes: Size of each mark in the plan that was cut from, for parts without a size.
        shapes: Holes and contour of each mark in that plan; a part cut to another size than
            planned was not made to it and has those that follow.
        covers: As in `Known`.
    """
    made = shapes or {}
    pieces: dict[str, list[PlacedPart]] = {}
    for piece in design.placed:
        pieces.setdefault(marks.get(piece.id, piece.mark), []).append(piece)
    copies = {mark: len(members) for mark, members in pieces.items()}
    known = Known(copies=copies, covers=covers or {}, sizes=sizes)
    return tuple(
        _shaped(row, made.get(row.mark), sizes.get(row.mark))
        for mark, entries in copies_of(design.job, known).items()
        for row in _rows(mark, entries, pieces[mark])
    )


def _shaped(row: FrozenPart, shape: Shape | None, planned: Size | None) -> FrozenPart:
    own = (row.length, row.width)
    if shape is None or planned is None:
        return row
    if any(abs(a - b) > _SAME for a, b in zip(own, planned[:2], strict=True)):
        return row
    return replace(row, features=shape[0], outline=shape[1])


def _rows(
    mark: str, entries: tuple[Entry | None, ...], pieces: list[PlacedPart]
) -> list[FrozenPart]:
    groups: dict[tuple[str, Size], list[PlacedPart]] = {}
    for entry, piece in zip(entries, pieces, strict=True):
        if entry is not None and entry.size is not None:
            groups.setdefault((entry.stage, entry.size), []).append(piece)
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
        for (stage, size), members in groups.items()
    ]


def _apart(piece: PlacedPart, size: Size) -> bool:
    own = (piece.length, piece.width, piece.thickness)
    return any(abs(a - b) > _SAME for a, b in zip(own, size, strict=True))


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
