"""Cut parts that no longer go into an opening as it reads: its front, too high or long a box."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stowright.design.context import FINEST_GRID
from stowright.design.gaps import LEAST_FRONT_GAP, LEAST_VERTICAL_GAP
from stowright.explore.as_built import latest, three
from stowright.explore.frozen import DRAWER_SIDES, cut_face
from stowright.explore.recut_parts import BOTTOMS, ENDS, mend, name_of, own_of
from stowright.model.design import Design, OpeningDesign
from stowright.model.refit import FrozenPart, NoLonger, Refit
from stowright.units import snap_down

__all__ = ["front_rows", "room_rows"]

#: A front whose gap is wider than planned by this looks wrong and is made again (judgement). [mm]
GAP_TOO_WIDE = 3.0
_FRONTS = frozenset({"drawer-front", "door"})
_SAME = 1.0e-9


def front_rows(
    design: Design, opening: OpeningDesign, refit: Refit, cut: Mapping[str, FrozenPart]
) -> Iterator[NoLonger]:
    """Yield a cut front that rubs, or whose gaps are far too wide, across or up."""
    found = cut_face(design, opening.name, cut, _FRONTS)
    wide = latest(design.job.readings, "width", opening=opening.name)
    high = latest(design.job.readings, "height", opening=opening.name)
    if found is None or opening.build.front != "inset":
        return
    row, across, up = found
    built = refit.built(opening.name)
    beside, over = opening.build.front_gap, opening.build.front_gap
    new_across, new_up = across, up
    if wide:
        beside = (wide[0] - across) / 2.0 - (built.lean if built else 0.0) / 2.0
        new_across = _between(design, opening, wide[0])
    if high:
        over = high[0] - opening.build.front_gap - up
        new_up = _between(design, opening, high[0])
    gap, where = min((beside, "beside"), (over, "over"))
    most = opening.build.front_gap + GAP_TOO_WIDE
    if gap < LEAST_FRONT_GAP - _SAME:
        size = (min(across, new_across), min(up, new_up))
        why = f"{max(gap, 0.0):.1f} mm of gap {where} it, {LEAST_FRONT_GAP:g} mm needed"
        yield mend(row, name_of(design, row.mark), _as_cut(row, across, size), why, "trim")
    elif max(beside, over) > most:
        gap, where = max((beside, "beside"), (over, "over"))
        size = (new_across, new_up)
        why = f"{gap:.1f} mm of gap {where} it"
        yield mend(row, name_of(design, row.mark), _as_cut(row, across, size), why, "recut")


def _between(design: Design, opening: OpeningDesign, read: float) -> float:
    grid = design.job.cut_grid or FINEST_GRID
    return snap_down(read - 2.0 * opening.build.front_gap, grid)


def _as_cut(row: FrozenPart, across: float, size: tuple[float, float]) -> tuple[float, float]:
    """Return a size across and up as length and width of the part."""
    return size if abs(row.length - across) < _SAME else (size[1], size[0])


def room_rows(
    design: Design, opening: OpeningDesign, cut: Mapping[str, FrozenPart]
) -> Iterator[NoLonger]:
    """Yield parts of a cut box that is too high or too long for its opening as it reads."""
    if opening.box is None or opening.runner is None:
        return
    high = latest(design.job.readings, "height", opening=opening.name)
    deep = latest(design.job.readings, "depth", opening=opening.name)
    fitted = latest(design.job.readings, "between-runners", opening=opening.name)
    rows = {row.mark: row for _, row in own_of(design, opening, cut, DRAWER_SIDES | ENDS)}
    long = list(_too_long(design, opening, cut, min(deep))) if deep and not fitted else []
    yield from long
    if high:
        known = {row.mark for row in long}
        left = (row for mark, row in rows.items() if mark not in known)
        yield from _too_high(design, opening, left, min(three(high)))


def _too_high(
    design: Design, opening: OpeningDesign, rows: Iterator[FrozenPart], read: float
) -> Iterator[NoLonger]:
    build = opening.build
    planted = 0.0
    if build.bottom_fit == "planted":
        planted = design.thickness(build.drawer_bottom).t
    room = read - build.under_gap - planted
    new = snap_down(room - build.over_gap, design.job.cut_grid or FINEST_GRID)
    for row in rows:
        over = room - row.width
        if over < LEAST_VERTICAL_GAP - _SAME:
            why = f"{max(over, 0.0):.1f} mm over it, {LEAST_VERTICAL_GAP:g} mm needed"
            way = "recut" if row.stage == "fitted" else "trim"
            yield mend(row, name_of(design, row.mark), (row.length, new), why, way)


def _too_long(
    design: Design, opening: OpeningDesign, cut: Mapping[str, FrozenPart], read: float
) -> Iterator[NoLonger]:
    """Yield sides and bottom that touch the back; how short they become the runner says."""
    runner = opening.runner
    sides = {row.mark: row for _, row in own_of(design, opening, cut, DRAWER_SIDES)}
    if runner is None or not sides:
        return
    longest = max(row.length for row in sides.values())
    short = runner.set_back + longest - read
    if short <= _SAME:
        return
    why = f"it reaches {runner.set_back + longest:.1f} mm back, the opening reads {read:.1f} deep"
    for row in sides.values():
        way = "recut" if row.stage == "fitted" else "trim"
        size = (round(row.length - short, 6), row.width)
        yield mend(row, name_of(design, row.mark), size, why, way)
    planned = {p.id: p for p in design.placed}
    for row in {r.mark: r for _, r in own_of(design, opening, cut, BOTTOMS)}.values():
        along = planned[row.pieces[0]]
        block = next(b for b in design.blocks if b.name == along.block)
        deep = abs(sum(a * b for a, b in zip(along.axes[0], block.axes[1], strict=True))) > 0.5
        less = (round(row.length - short, 6), row.width)
        other = (row.length, round(row.width - short, 6))
        yield mend(row, name_of(design, row.mark), less if deep else other, why, "trim")
