"""Cut parts that no longer serve: what is wrong, what can be saved, and the least new cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from stowright.design.context import FINEST_GRID
from stowright.explore.frozen import thicker_sides
from stowright.explore.recut_parts import (
    BOTTOMS,
    ENDS,
    mend,
    name_of,
    own_of,
    planned_of,
    use_of,
)
from stowright.explore.recut_room import front_rows, room_rows
from stowright.model.design import Design, OpeningDesign
from stowright.model.refit import AsBuilt, FrozenPart, NoLonger, Refit
from stowright.proofs.tolerance_terms import SHIM_SET
from stowright.units import Unit, in_job_unit, snap_down

__all__ = ["Leftover", "as_made", "cannot_get", "no_longer"]

#: What of a groove a bottom must still fill (common practice). [mm]
LEAST_IN_GROOVE = 3.0
#: More of these and the assignment of leftovers is made best fit first, not tried out.
_TRIED = 6
#: What a cut through a leftover takes, generously: any hand-held saw (common practice). [mm]
KERF = 4.0
_SAME = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A piece of sheet that is left over: an offcut, or a part that is no longer wanted.

    Attributes:
        name: What it is called.
        length: Along the grain. [mm]
        width: Across it. [mm]
    """

    name: str
    material: str
    length: float
    width: float


def no_longer(
    design: Design,
    refit: Refit,
    leftovers: tuple[Leftover, ...],
    clears: Mapping[str, float],
) -> tuple[NoLonger, ...]:
    """Return the cut parts that no longer serve, each with the least that mends it.

    Cutting down and shimming cost no new part and come first. What has to be cut new comes from
    what is left over, so that the least new sheet is spent.

    Args:
        design: The design as planned, with the job's record of the build.
        refit: What was cut and read.
        leftovers: Pieces of sheet left over.
        clears: Clear width of each opening with the panels that are cut. [mm]
    """
    cut = {name: row for row in refit.frozen for name in row.pieces}
    found: list[NoLonger] = []
    for block in design.blocks:
        for opening in block.openings:
            box = tuple(_box(design, opening, refit, cut, clears[opening.name]))
            found += box or _uneven(design, opening, refit, cut)
            found += front_rows(design, opening, refit, cut)
            found += [
                row
                for row in room_rows(design, opening, cut)
                if row.pieces not in {one.pieces for one in found}
            ]
    again = [row for row in found if row.way == "recut"]
    sourced = _sources(design, refit, again, leftovers)
    return tuple(sourced.get(row.pieces, row) if row.way == "recut" else row for row in found)


def cannot_get(
    design: Design, refit: Refit, leftovers: tuple[Leftover, ...], lost: Mapping[str, str]
) -> tuple[NoLonger, ...]:
    """Return the cut parts that would need something elsewhere that cannot be moved: cut new.

    Args:
        design: The design as planned, with the job's record of the build.
        refit: What was cut and read.
        leftovers: Pieces of sheet left over.
        lost: What each cut piece would need elsewhere, by its id, in words.
    """
    known = {name for row in refit.no_longer for name in row.pieces}
    spent = {row.source for row in refit.no_longer}
    again = [
        mend(
            replace(row, pieces=pieces),
            _copies_name(design, row, pieces),
            (row.length, row.width),
            f"it has {words} in another place than is wanted now",
            "recut",
        )
        for row in refit.frozen
        if known.isdisjoint(row.pieces)
        for words in dict.fromkeys(lost[name] for name in row.pieces if name in lost)
        for pieces in [tuple(name for name in row.pieces if lost.get(name) == words)]
    ]
    free = tuple(one for one in leftovers if one.name not in spent)
    sourced = _sources(design, refit, again, free)
    return tuple(sourced.get(row.pieces, row) for row in again)


def _copies_name(design: Design, row: FrozenPart, pieces: tuple[str, ...]) -> str:
    """Return what a cut part is called: where only some of its copies are meant, with their use."""
    name = name_of(design, row.mark)
    where = use_of(piece for piece in design.placed if piece.id in pieces)
    return f"{name} (for {where})" if where and pieces != row.pieces else name


def as_made(design: Design, refit: Refit, leftovers: tuple[Leftover, ...]) -> Refit:
    """Return a refit whose parts to be cut new are told with the sizes that the design gives them.

    What they would have to be is found part by part; the design knows all of them together.

    Args:
        design: The design with the refit.
        refit: What it was made from.
        leftovers: Pieces of sheet left over.
    """
    sizes = {piece.id: (piece.length, piece.width) for piece in design.placed}
    pool = {one.name: one for one in leftovers}
    told = {
        row.words: _resized(row, sizes[row.pieces[0]], pool.get(row.source), design.job.units)
        for row in refit.no_longer
        if row.way != "shim" and sizes.get(row.pieces[0], row.size) != row.size
    }
    if not told:
        return refit
    return replace(
        refit,
        no_longer=tuple(told.get(row.words, row) for row in refit.no_longer),
        reasons=tuple(told[line].words if line in told else line for line in refit.reasons),
    )


def _resized(
    row: NoLonger, size: tuple[float, float], source: Leftover | None, units: Unit
) -> NoLonger:
    if row.way == "trim":
        before, _, _ = row.words.partition("cut it down to ")
        down = in_job_unit(f"cut it down to {size[0]:g} x {size[1]:g} mm, no new part", units)
        return replace(row, size=size, words=f"{before}{down}")
    new = in_job_unit(f"cut it new, {size[0]:g} x {size[1]:g} mm", units)
    before, _, rest = row.words.partition("cut it new, ")
    _, found, taken = rest.partition(" from ")
    enough = source is None or (size[0] <= source.length and size[1] <= source.width)
    if row.source and enough:
        return replace(row, size=size, words=f"{before}{new}{found}{taken}")
    area = size[0] * size[1] * row.new_parts
    return replace(row, size=size, source="", new_area=area, words=f"{before}{new}")


def _box(
    design: Design,
    opening: OpeningDesign,
    refit: Refit,
    cut: dict[str, FrozenPart],
    clear: float,
) -> Iterator[NoLonger]:
    """Yield what of a cut box no longer serves in its opening as it reads."""
    built = refit.built(opening.name) or AsBuilt(opening=opening.name)
    room = built.room or (clear, clear, clear)
    inner = own_of(design, opening, cut, ENDS)
    if not inner or opening.runner is None or opening.box is None:
        return
    space = opening.runner.runner.side_space
    wider = min(row.length for _, row in inner) - planned_of(design, inner[0][1].mark).length
    sides = 2.0 * thicker_sides(design, opening, refit.of_opening(opening.name))
    width = max(built.box) if built.box else opening.box.width + wider + sides
    thicker = (built.runner or opening.runner.runner.thickness) - opening.runner.runner.thickness
    taken = 2.0 * (opening.build.lining.drawer + opening.build.lining.carcass + thicker)
    least = min(room) - width - taken
    most = max(room) - width - taken
    grid = design.job.cut_grid or FINEST_GRID
    aimed = snap_down(2.0 * space.aim - least, grid)
    if aimed < 2.0 * space.aim - least - 1.0e-9:
        aimed += grid
    if least < 2.0 * space.least - 1.0e-9:
        said = (
            f"{opening.name} has {least:.1f} mm for both runners, {2.0 * space.least:.1f} mm needed"
        )
        glued = built.box is not None or any(row.stage == "fitted" for _, row in inner)
        yield from _narrower(design, opening, cut, inner, aimed, said, glued=glued)
    elif most > 2.0 * space.most + 2.0 * sum(SHIM_SET) + 1.0e-9:
        said = (
            f"{opening.name} has {most:.1f} mm for both runners, shims reach "
            f"{2.0 * (space.most + sum(SHIM_SET)):.1f} mm"
        )
        yield from _wider(design, opening, cut, inner, least - 2.0 * space.aim, said)


def _uneven(
    design: Design, opening: OpeningDesign, refit: Refit, cut: dict[str, FrozenPart]
) -> Iterator[NoLonger]:
    """Yield parts of a box that do not go with one another: what is longer is cut down."""
    inner = own_of(design, opening, cut, ENDS)
    bottoms = own_of(design, opening, cut, BOTTOMS)
    planned = next((p for p in design.placed if p.opening == opening.name and p.role in ENDS), None)
    if planned is None or opening.box is None:
        return
    length = min((row.length for _, row in inner), default=None)
    change = refit.of_opening(opening.name)
    if length is None:
        by = change.box_across.by if change and change.box_across else 0.0
        length = planned.length + snap_down(by, design.job.cut_grid or FINEST_GRID)
    for _, row in inner:
        if row.length > length + 1.0e-6:
            why = f"{row.length - length:.1f} mm longer than what stands across from it"
            yield mend(row, name_of(design, row.mark), (length, row.width), why, "trim")
    for _, row in bottoms:
        yield from _bottom(design, row, length - planned.length, opening)


def _bottom(
    design: Design, row: FrozenPart, grown: float, opening: OpeningDesign
) -> Iterator[NoLonger]:
    """Yield a bottom that no longer goes between the sides of its box."""
    wide = _across_width(design, row)
    piece = next(p for p in design.placed if p.id == row.pieces[0])
    have, planned = (row.width, piece.width) if wide else (row.length, piece.length)
    wanted = round(planned + grown, 6)
    size = (row.length, wanted) if wide else (wanted, row.width)
    slack = 0.0
    if opening.build.bottom_fit == "grooved":
        slack = 2.0 * (opening.build.groove_depth - LEAST_IN_GROOVE)
    if have > wanted + 1.0e-6:
        why = f"{have - wanted:.1f} mm wider than its box now takes"
        yield mend(row, name_of(design, row.mark), size, why, "trim")
    elif have < wanted - slack - 1.0e-6:
        why = f"{wanted - have:.1f} mm narrower than its box now is"
        yield mend(row, name_of(design, row.mark), size, why, "recut")


def _narrower(
    design: Design,
    opening: OpeningDesign,
    cut: dict[str, FrozenPart],
    inner: list[tuple[str, FrozenPart]],
    by: float,
    why: str,
    *,
    glued: bool,
) -> Iterator[NoLonger]:
    bottoms = own_of(design, opening, cut, BOTTOMS)
    for role, row in (*inner, *bottoms):
        across_is_width = role in BOTTOMS and _across_width(design, row)
        size = (
            (row.length, round(row.width - by, 6))
            if across_is_width
            else (round(row.length - by, 6), row.width)
        )
        name = name_of(design, row.mark)
        way = "recut" if glued else "trim"
        yield mend(row, name, size, why, way)


def _across_width(design: Design, row: FrozenPart) -> bool:
    """Whether a bottom's width, not its length, runs across the drawer."""
    piece = next(p for p in design.placed if p.id == row.pieces[0])
    block = next(b for b in design.blocks if b.name == piece.block)
    return abs(sum(a * b for a, b in zip(piece.axes[1], block.axes[0], strict=True))) > 0.5


def _wider(
    design: Design,
    opening: OpeningDesign,
    cut: dict[str, FrozenPart],
    inner: list[tuple[str, FrozenPart]],
    by: float,
    why: str,
) -> Iterator[NoLonger]:
    grown = snap_down(by, design.job.cut_grid or FINEST_GRID)
    for _, row in inner:
        size = (round(row.length + grown, 6), row.width)
        yield mend(row, name_of(design, row.mark), size, why, "recut")
    grooved = opening.build.bottom_fit == "grooved"
    if grooved and opening.build.groove_depth - grown / 2.0 >= LEAST_IN_GROOVE:
        return  # the bottom still lies in its grooves: two new parts instead of three
    for _, row in own_of(design, opening, cut, BOTTOMS):
        wide = _across_width(design, row)
        size = (
            (row.length, round(row.width + grown, 6))
            if wide
            else (round(row.length + grown, 6), row.width)
        )
        yield mend(row, name_of(design, row.mark), size, why, "recut")


def _sources(
    design: Design, refit: Refit, again: list[NoLonger], leftovers: tuple[Leftover, ...]
) -> dict[tuple[str, ...], NoLonger]:
    """Return what is cut new, by its pieces, with where it comes from: the least new sheet."""
    cut = {name: row for row in refit.frozen for name in row.pieces}
    old = tuple(
        Leftover(
            name=row.mark,
            material=planned_of(design, row.mark).material,
            length=cut[row.pieces[0]].length,
            width=cut[row.pieces[0]].width,
        )
        for row in again
        # what would only have to be cut down and is cut new is glued in: nothing comes from it
        if not _within(row.size, (cut[row.pieces[0]].length, cut[row.pieces[0]].width))
    )
    pool = (*leftovers, *old)
    taken = _shared(design, again, _assigned(design, again, pool))
    found = {}
    for row, source in zip(again, taken, strict=True):
        if source is None:
            found[row.pieces] = row
        else:
            words = f"{row.words} from {source.name}, {source.length:g} x {source.width:g} mm"
            found[row.pieces] = replace(row, source=source.name, new_area=0.0, words=words)
    return found


def _within(new: tuple[float, float], old: tuple[float, float]) -> bool:
    return new[0] <= old[0] + _SAME and new[1] <= old[1] + _SAME


def _assigned(
    design: Design, again: list[NoLonger], pool: tuple[Leftover, ...]
) -> tuple[Leftover | None, ...]:
    """Return a leftover for each part, each used once; the area that comes from new is least."""
    fits = [[n for n, one in enumerate(pool) if _serves(design, row, one)] for row in again]
    if len(again) > _TRIED:
        return _best_fit_first(again, pool, fits)
    _, picks = _tried(again, pool, fits, 0, frozenset())
    return tuple(None if n is None else pool[n] for n in picks)


def _shared(
    design: Design, again: list[NoLonger], picks: tuple[Leftover | None, ...]
) -> tuple[Leftover | None, ...]:
    """Return the picks, what has none from the rest of a leftover that another part comes from."""
    rests = [
        (one, rest)
        for row, one in zip(again, picks, strict=True)
        if one is not None
        for rest in _rests(row, one)
    ]
    found = list(picks)
    open_ = [place for place, one in enumerate(picks) if one is None]
    for place in sorted(open_, key=lambda n: -again[n].size[0] * again[n].size[1]):
        fits = [n for n, (_, rest) in enumerate(rests) if _serves(design, again[place], rest)]
        if fits:
            least = min(fits, key=lambda n: (rests[n][1].length * rests[n][1].width, n))
            whole, rest = rests.pop(least)
            found[place] = whole
            rests += [(whole, left) for left in _rests(again[place], rest)]
    return tuple(found)


def _rests(row: NoLonger, one: Leftover) -> tuple[Leftover, ...]:
    """Return what is left of a leftover beside and over a part cut from its corner."""
    length, width = row.size
    if one.length < length or one.width < width:
        length, width = width, length
    beside, over = one.length - length - KERF, one.width - width - KERF
    return tuple(
        Leftover(name=f"rest of {one.name}", material=one.material, length=u, width=v)
        for u, v in ((beside, one.width), (length, over))
        if u > 0.0 and v > 0.0
    )


def _serves(design: Design, row: NoLonger, one: Leftover) -> bool:
    part = planned_of(design, row.mark)
    if one.material != part.material or one.name == row.mark:
        return False
    length, width = row.size
    upright = one.length >= length and one.width >= width
    turned = part.grain == "free" and one.length >= width and one.width >= length
    return upright or turned


def _tried(
    again: list[NoLonger],
    pool: tuple[Leftover, ...],
    fits: list[list[int]],
    place: int,
    used: frozenset[int],
) -> tuple[tuple[float, float], tuple[int | None, ...]]:
    """Return (new area, area of leftovers opened) and the picks that are least, by trying all."""
    if place == len(again):
        return (0.0, 0.0), ()
    area = again[place].size[0] * again[place].size[1]
    (new, opened), rest = _tried(again, pool, fits, place + 1, used)
    best: tuple[tuple[float, float], tuple[int | None, ...]] = ((new + area, opened), (None, *rest))
    for n in fits[place]:
        if n in used:
            continue
        (new, opened), rest = _tried(again, pool, fits, place + 1, used | {n})
        found = (new, opened + pool[n].length * pool[n].width)
        if found < best[0]:
            best = (found, (n, *rest))
    return best


def _best_fit_first(
    again: list[NoLonger], pool: tuple[Leftover, ...], fits: list[list[int]]
) -> tuple[Leftover | None, ...]:
    used: set[int] = set()
    picks: list[Leftover | None] = [None] * len(again)
    for place in sorted(range(len(again)), key=lambda k: -again[k].size[0] * again[k].size[1]):
        free = [n for n in fits[place] if n not in used]
        if free:
            n = min(free, key=lambda k: (pool[k].length * pool[k].width, k))
            used.add(n)
            picks[place] = pool[n]
    return tuple(picks)
