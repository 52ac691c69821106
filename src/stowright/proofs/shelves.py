"""Shelves and carcass floors under what stands on them: bending, rolling shear, sag."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise

from stowright.formulas.ec5_design import SPAN_OVER_SAG
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.bottoms import (
    LEFT_FREE,
    Laid,
    laid_on,
    sag_finding,
    shear_finding,
    stress_finding,
)
from stowright.proofs.edges import joined_edges, sides_along
from stowright.proofs.index import NO_CARRY, Index
from stowright.proofs.judge import About, not_proved
from stowright.proofs.sheets import PLATE, Sheet, sheet_trials
from stowright.proofs.supported import Field, held_well
from stowright.proofs.tried import advised

__all__ = ["shelf_findings"]

#: Fills whose contents stand on the panel below them.
STANDING = frozenset({"open", "locker", "through"})


def shelf_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every shelf, and about floors that contents stand on."""
    for block, opening in index.openings():
        below = index.pieces.get(opening.bounds[2])
        if below is None:
            continue
        if below.role == "shelf":
            yield from _shelf(index, block, opening, below)
        elif below.role == "carcass-floor" and opening.fill in STANDING:
            yield from _floor(index, block, opening, below)


def _sheet(index: Index, piece: PlacedPart) -> Sheet:
    part = index.part(piece)
    return Sheet(
        material=index.material(piece),
        thickness=part.thickness,
        grain_1=None if part.grain == "free" else True,
    )


def _laid(index: Index, opening: OpeningDesign) -> Laid:
    """Return what stands on a panel: the contents of what stands on it, nothing of a drawer's."""
    return laid_on(index, opening) if opening.fill in STANDING else Laid(mass_kg=0.0)


def _shelf(
    index: Index, block: BlockDesign, opening: OpeningDesign, piece: PlacedPart
) -> Iterator[Finding]:
    edges = joined_edges(index, piece, depth_axis=block.axes[1])
    field = Field(sheet=_sheet(index, piece), side_1=piece.length, side_2=piece.width, edges=edges)
    yield from _both(
        index,
        opening,
        field,
        code="SHELF",
        piece=piece,
        words=f"{len(edges)} edges held by joints",
        gap=_under(index, piece, field.span if held_well(edges) else 0.0),
    )


def _floor(
    index: Index, block: BlockDesign, opening: OpeningDesign, piece: PlacedPart
) -> Iterator[Finding]:
    """Yield the findings of a floor between the packers under it."""
    sheet = _sheet(index, piece)
    box, depth = index.boxes[piece.id], block.axes[1]
    along_x = abs(depth[0]) > 0.5
    own = box.x if along_x else box.y
    under = sorted(
        (
            (other.x if along_x else other.y)
            for other in (
                index.boxes[packer.id] for packer in index.of_role("packer", "floor-bearer")
            )
            if abs(other.z.high - box.z.low) < 2.0
            and other.x.overlap(box.x) > 0.0
            and other.y.overlap(box.y) > 0.0
        ),
        key=lambda each: each.low,
    )
    if not under:
        return
    gaps = [b.low - a.high for a, b in pairwise(under)]
    gaps += [2.0 * max(0.0, under[0].low - own.low), 2.0 * max(0.0, own.high - under[-1].high)]
    span = max(gaps, default=0.0)
    if span < 30.0:
        return
    way = sides_along(piece, depth)
    across = piece.width if way == 1 else piece.length
    field = Field(
        sheet=sheet,
        side_1=span if way == 1 else across,
        side_2=across if way == 1 else span,
        edges=frozenset({"low 1", "high 1"} if way == 1 else {"low 2", "high 2"}),
    )
    yield from _both(
        index,
        opening,
        field,
        code="FLOOR",
        piece=piece,
        words=f"{span:.0f} mm between packers",
        gap=max(_floor_height(index, piece), LEFT_FREE),
    )


def _floor_height(index: Index, piece: PlacedPart) -> float:
    """Return how high a floor stands over the load floor. [mm]."""
    return index.boxes[piece.id].z.low


def _under(index: Index, piece: PlacedPart, span: float) -> float:
    """Return the gap that a sagging shelf would eat: to a drawer under it, else span / 200."""
    box = index.boxes[piece.id]
    refit = index.design.refit
    # An opening that reads higher than planned has a taller front than the model has room for.
    rise = {row.opening: max(0.0, min(row.rise)) for row in (refit.as_built if refit else ())}
    tops = [
        index.boxes[other.id].z.high - rise.get(other.opening, 0.0)
        for pieces in index.moving.values()
        for other in pieces
        if other.role.startswith(("drawer", "tray"))
        and index.boxes[other.id].z.high <= box.z.low
        and index.boxes[other.id].x.overlap(box.x) > 0.0
        and index.boxes[other.id].y.overlap(box.y) > 0.0
    ]
    free = span / SPAN_OVER_SAG["shelf"] + LEFT_FREE
    return min(box.z.low - max(tops), free) if tops else free


def _both(
    index: Index,
    opening: OpeningDesign,
    field: Field,
    *,
    code: str,
    piece: PlacedPart,
    words: str,
    gap: float,
) -> Iterator[Finding]:
    """Yield the bending and the sag finding of one panel."""
    name = index.part(piece).name
    about = About(
        id=f"{code}-STRESS:{piece.id if code == 'SHELF' else opening.name}",
        title=f"{name} under {opening.name} on the road",
        about=piece.mark,
        family=5,
        source=PLATE,
        standing="from memory",
        working=(f"{field.side_1:.0f} x {field.side_2:.0f} mm, {words}",),
    )
    laid = _laid(index, opening)
    if not held_well(field.edges):
        yield not_proved(about, needs=(f"two opposite edges of {name} held",))
        return
    if opening.fill in STANDING and not index.design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,))
        return
    find = partial(stress_finding, index, about, field, laid)
    yield advised(find(field.sheet), *sheet_trials(index, field.sheet, find))
    rolls = partial(
        shear_finding,
        index,
        replace(
            about,
            id=about.id.replace("-STRESS:", "-SHEAR:", 1),
            title=f"Plies of {name} under {opening.name} do not roll at its edges",
        ),
        field,
        laid,
    )
    yield advised(rolls(field.sheet), *sheet_trials(index, field.sheet, rolls))
    told = replace(
        about,
        id=about.id.replace("-STRESS:", "-SAG:", 1),
        title=f"{name} under {opening.name} does not sag onto what is under it",
    )
    sag = partial(sag_finding, index, told, field, laid, gap)
    yield advised(sag(field.sheet), *sheet_trials(index, field.sheet, sag))
