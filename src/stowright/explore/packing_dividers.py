"""Boards across a drawer between what is packed in it."""

from __future__ import annotations

from dataclasses import replace

from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Box, Span
from stowright.model.packed import Divider, PackedLoad, PackedThing
from stowright.units import snap_down

__all__ = ["with_dividers"]

DIVIDED = frozenset({"drawer", "tray"})
#: A gap that things would slide over gets a board (common practice). [mm]
LEAST_GAP = 30.0
#: A board stands as high as this share of what it holds, between these heights. [mm]
SHARE, LEAST_HEIGHT, BELOW_TOP = 0.6, 60.0, 15.0
NEAR = 0.05


def with_dividers(design: Design, load: PackedLoad) -> PackedLoad:
    """Return the load with boards where a line across a drawer parts it, things moved to suit.

    A board needs its own thickness: things behind it are moved back by that, as far as there is
    room; boards that find none are left out.
    """
    things: list[PackedThing] = []
    boards: list[Divider] = []
    for block in design.blocks:
        for opening in block.openings:
            mine = [t for t in load.things if t.opening == opening.name]
            if opening.fill in DIVIDED and mine:
                depth_axis = 0 if block.face == "tail" else 1
                ahead = max(block.axes[1], key=abs)
                mine, found = _divided(design, opening, mine, depth_axis=depth_axis, ahead=ahead)
                boards += found
            things += mine
    return replace(load, things=tuple(things), dividers=tuple(boards))


def _divided(
    design: Design,
    opening: OpeningDesign,
    things: list[PackedThing],
    *,
    depth_axis: int,
    ahead: float,
) -> tuple[list[PackedThing], list[Divider]]:
    material = opening.build.drawer
    thick = next((row.t for row in design.thicknesses if row.material == material), 12.0)
    x, y, z = opening.usable.size
    depth = (x, y)[depth_axis]
    groups = _groups(things)
    slack = depth - max(t.at[1] + t.size[1] for t in things)
    room, moved, boards, shift = z, [], [], 0.0
    grid = design.job.cut_grid
    for number, group in enumerate(groups):
        moved += [_shifted(t, shift, axis=depth_axis, ahead=ahead) for t in group]
        end = max(t.at[1] + t.size[1] for t in group) + shift
        last = number == len(groups) - 1
        gap = depth - end if last else slack
        if gap < (LEAST_GAP if last else thick):
            continue
        height = _height(group if last else [*group, *groups[number + 1]], room, grid)
        if height > 0.0:
            boards.append(
                Divider(opening=opening.name, depth=round(end, 4), height=height, material=material)
            )
            if not last:
                shift += thick
                slack -= thick
    return moved, boards


def _groups(things: list[PackedThing]) -> list[list[PackedThing]]:
    """Return things parted by every line across that cuts none of them, from the face back."""
    groups: list[list[PackedThing]] = []
    end = -1.0
    for thing in sorted(things, key=lambda t: (t.at[1], t.at[0], t.at[2])):
        if groups and thing.at[1] < end - NEAR:
            groups[-1].append(thing)
        else:
            groups.append([thing])
        end = max(end, thing.at[1] + thing.size[1])
    return groups


def _height(things: list[PackedThing], room: float, grid: float) -> float:
    top = max(t.at[2] + t.size[2] for t in things)
    height = min(max(SHARE * top, LEAST_HEIGHT), room - BELOW_TOP)
    return snap_down(height, grid) if height >= LEAST_HEIGHT else 0.0


def _shifted(thing: PackedThing, by: float, *, axis: int, ahead: float) -> PackedThing:
    """Return a thing moved back by some length. [mm]."""
    if by == 0.0:
        return thing
    step = by if ahead > 0.0 else -by
    spans = [thing.box.x, thing.box.y]
    spans[axis] = Span(low=spans[axis].low + step, high=spans[axis].high + step)
    return replace(
        thing,
        at=(thing.at[0], round(thing.at[1] + by, 4), thing.at[2]),
        box=Box(x=spans[0], y=spans[1], z=thing.box.z),
    )
