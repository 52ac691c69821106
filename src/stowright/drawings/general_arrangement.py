"""The general arrangement: plan, elevation and section of the unit in its vehicle.

Views stand as first or third angle asks. The vehicle is drawn thin, the unit full, drawers and
tailgate in their open position with double-dotted lines, places to keep off hatched.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product
from typing import Literal

from stowright.drawings.arrangement import Arrangement, ViewName
from stowright.drawings.arrangement_dimensions import drawn_extent
from stowright.drawings.arrangement_key import arrangement_key
from stowright.drawings.arrangement_views import arrangement_view
from stowright.drawings.extent import Bounds, bounds, moved
from stowright.drawings.hold_down_plan import is_crowded
from stowright.drawings.scales import ALL_SCALES, scale_text
from stowright.drawings.scene import Item, Scene, Text, View
from stowright.drawings.space import Space
from stowright.errors import OutOfRangeError, UnknownNameError
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.units import Unit

__all__ = ["arrangement_figure", "general_arrangement", "title_of"]

type Projection = Literal["first", "third"]

_GAP = 7.0
_MARGIN = 1.0
_LARGEST = 0.1
_TITLES: dict[ViewName, str] = {
    "plan": "Plan",
    "elevation": "Elevation at the face",
    "section": "Section A–A",
    "cross": "Section B–B",
}

_ORDER: tuple[ViewName, ...] = ("elevation", "plan", "section", "cross")


def general_arrangement(
    design: Design,
    *,
    projection: Projection,
    units: Unit,
    block: str = "",
    room: tuple[float, float] = (380.0, 231.0),
) -> Scene:
    """Return plan, elevation and section arranged on one sheet, without a frame.

    Args:
        design: The design.
        projection: First angle (plan below, section from the right at the left) or third.
        units: Unit of print.
        block: The block whose face is looked at; the first one when empty.
        room: Width and height it may take; the default fits a framed A3 sheet and keeps clear of
            its centring marks. [mm]

    Raises:
        OutOfRangeError: If it does not fit the room even at 1:100.
        UnknownNameError: If there is no such block.
    """
    chosen = _block(design, block)
    brief = (True,) if is_crowded(design) else (False, True)
    keys = [arrangement_key(design, units, brief=short) for short in brief]
    for scale in (s for s in ALL_SCALES if s <= _LARGEST):
        arrangement = Arrangement(
            design=design, block=chosen, opening=_opening(chosen), scale=scale, units=units
        )
        if not _may_fit(arrangement, room):
            continue
        bare = replace(arrangement, bare=True)
        least = {name: arrangement_view(bare, name) for name in _TITLES}
        rows = [
            (key, aside)
            for key, aside in product(keys, (False, True))
            if _fits(_arranged(least, key, scale, projection, "", aside=aside), room)
        ]
        if not rows:
            continue
        views = {
            name: _titled(
                arrangement_view(arrangement, name), title_of(design, name, block=chosen), scale
            )
            for name in _TITLES
        }
        for key, aside in rows:
            scene = _arranged(views, key, scale, projection, chosen.name, aside=aside)
            if _fits(scene, room):
                return scene
    raise OutOfRangeError("room", room[0], "large enough for the arrangement at 1:100")


def arrangement_figure(
    design: Design,
    view: ViewName,
    *,
    units: Unit,
    block: str = "",
    room: tuple[float, float] = (176.0, 237.0),
) -> Scene:
    """Return one view of the general arrangement as a figure of its own.

    Args:
        design: The design.
        view: Which view.
        units: Unit of print.
        block: The block whose face is looked at; the first one when empty.
        room: Width and height it may take. [mm]

    Raises:
        OutOfRangeError: If it does not fit the room even at 1:100.
        UnknownNameError: If there is no such block.
    """
    chosen = _block(design, block)
    for scale in (s for s in ALL_SCALES if s <= _LARGEST):
        arrangement = Arrangement(
            design=design, block=chosen, opening=_opening(chosen), scale=scale, units=units
        )
        least = bounds(arrangement_view(replace(arrangement, bare=True), view))
        if least.width + 2 * _MARGIN > room[0] or least.height + 2 * _MARGIN > room[1]:
            continue
        title = title_of(design, view, block=chosen)
        items = _titled(arrangement_view(arrangement, view), title, scale)
        box = bounds(items)
        width, height = box.width + 2 * _MARGIN, box.height + 2 * _MARGIN
        if width <= room[0] and height <= room[1]:
            x, y = _MARGIN - box.left, _MARGIN - box.bottom
            shown = View(name=view, items=moved(items, x=x, y=y), scale=scale, at=(x, y))
            return Scene(
                name=f"{view}-{chosen.name}".replace(" ", "-"),
                title=f"{title}, {chosen.name}",
                width=width,
                height=height,
                views=(shown,),
                scale=scale,
            )
    raise OutOfRangeError("room", room[0], "large enough for the view at 1:100")


def _block(design: Design, name: str) -> BlockDesign:
    if not name:
        return design.blocks[0]
    for block in design.blocks:
        if block.name == name:
            return block
    raise UnknownNameError("block", name, tuple(b.name for b in design.blocks))


def _opening(block: BlockDesign) -> OpeningDesign | None:
    """Return the first opening that slides, else the first one."""
    slides = (o for o in block.openings if o.runner is not None)
    return next(slides, next(iter(block.openings), None))


def _may_fit(arrangement: Arrangement, room: tuple[float, float]) -> bool:
    """Return whether bare views leave some room for dimensions; spares useless trials."""
    (left, right), (front, back), top = drawn_extent(arrangement)
    wide, deep = (right - left) * arrangement.scale, (back - front) * arrangement.scale
    high = top * arrangement.scale
    return wide + deep + 50.0 <= room[0] and deep + high + 45.0 <= room[1]


def _fits(scene: Scene, room: tuple[float, float]) -> bool:
    return scene.width <= room[0] and scene.height <= room[1]


# Arranged ----------------------------------------------------------------------------------------


def title_of(design: Design, view: ViewName, *, block: BlockDesign | None = None) -> str:
    """Return a view's title: what a plan leaves out, and what a block's section runs through.

    Args:
        design: The design.
        view: The view.
        block: The block that is looked at; None leaves out what is true of one block alone.
    """
    if view == "plan":
        roles = {part.role for part in design.placed}
        covers = (*(["deck"] if "deck" in roles else []), *(["wings"] if design.wings else []))
        return f"{_TITLES[view]}, {' and '.join(covers)} taken off" if covers else _TITLES[view]
    if block is not None and view == "section":
        return f"{_TITLES[view]}, {_along(_opening(block))}"
    if block is not None and view == "cross":
        return f"{_TITLES[view]}, across the block"
    return _TITLES[view]


#: What a fill is called where a section runs through it.
_CALLED = {"open": "compartment", "through": "passage", "blank": "blank"}


def _along(opening: OpeningDesign | None) -> str:
    if opening is None:
        return "along the block"
    what = _CALLED.get(opening.fill, opening.fill)
    return f"along {opening.name}" if what in opening.name else f"along the {what} {opening.name}"


def _titled(items: tuple[Item, ...], words: str, scale: float) -> tuple[Item, ...]:
    """Return a view with its title over it, in its upper left corner where that is free."""
    box = bounds(items)
    title, _, more = words.partition(", ")
    lines = [(f"{title} · {scale_text(scale)}", 3.5), *([(more, 2.5)] if more else [])]
    space = Space(box)
    space.take(items)
    for top in (box.top - 0.8, box.top + 3.0 + 5.0 * len(lines)):
        texts = tuple(
            Text(
                text=line,
                at=(box.left + 0.8, top - 5.2 * k),
                height=height,
                rise="top",
                weight="bold" if k == 0 else "regular",
            )
            for k, (line, height) in enumerate(lines)
        )
        if top > box.top or space.free(bounds(texts)):
            return (*items, *texts)
    return items


def _arranged(
    views: Mapping[ViewName, tuple[Item, ...]],
    legend: tuple[Item, ...],
    scale: float,
    projection: Projection,
    name: str,
    *,
    aside: bool,
) -> Scene:
    """Set the views so that plan and elevation share their widths, elevation and section heights.

    Third angle: the plan over the elevation, the view from the right at its right. First angle:
    the plan under it, the view from the right at its left. The cross section, which has its letter,
    stands in the section's column, and the key in what that leaves free, or aside of everything.
    """
    boxes = {view: bounds(items) for view, items in views.items()}
    elevation, plan, section = boxes["elevation"], boxes["plan"], boxes["section"]
    cross = boxes["cross"]
    if projection == "third":
        places: dict[ViewName, Point2] = {
            "elevation": (0.0, 0.0),
            "plan": (0.0, elevation.top + _GAP - plan.bottom),
            "section": (max(elevation.right, plan.right) + _GAP - section.left, 0.0),
        }
        left = places["section"][0] + section.left
        places["cross"] = (left - cross.left, section.top + _GAP - cross.bottom)
    else:
        places = {
            "elevation": (0.0, 0.0),
            "plan": (0.0, elevation.bottom - _GAP - plan.top),
            "section": (min(elevation.left, plan.left) - _GAP - section.right, 0.0),
        }
        right = places["section"][0] + section.right
        places["cross"] = (right - cross.right, section.bottom - _GAP - cross.top)
    every = [_moved_box(boxes[view], places[view]) for view in _ORDER]
    key = _key_aside(every, legend) if aside else _key_block(every, legend, projection)
    every.append(_moved_box(bounds(legend), key))
    left, bottom = min(b.left for b in every) - _MARGIN, min(b.bottom for b in every) - _MARGIN
    right, top = max(b.right for b in every) + _MARGIN, max(b.top for b in every) + _MARGIN
    shown = [
        View(
            name=view,
            items=moved(items, x=places[view][0] - left, y=places[view][1] - bottom),
            scale=scale,
            at=(places[view][0] - left, places[view][1] - bottom),
        )
        for view, items in views.items()
    ]
    x, y = key[0] - left, key[1] - bottom
    shown.append(View(name="key", items=moved(legend, x=x, y=y), at=(x, y)))
    return Scene(
        name=f"general-arrangement-{name}".replace(" ", "-"),
        title=f"General arrangement, {name}",
        width=right - left,
        height=top - bottom,
        views=tuple(shown),
        scale=scale,
        projection=projection,
    )


def _key_block(
    boxes: list[Bounds], legend: tuple[Item, ...], projection: Projection
) -> tuple[float, float]:
    """Return where the key goes: in the corner that the views leave free."""
    _, plan, section, cross = boxes
    box = bounds(legend)
    if projection == "third":
        return section.left - box.left, max(plan.top, cross.top + _GAP + box.height) - box.top
    left = min(section.left, cross.left, plan.left - _GAP - box.width)
    lowest = min(plan.bottom, cross.bottom - _GAP - box.height)
    return left - box.left, lowest - box.bottom


def _key_aside(boxes: list[Bounds], legend: tuple[Item, ...]) -> tuple[float, float]:
    """Return where the key goes at the right of all views."""
    box = bounds(legend)
    right, top = max(b.right for b in boxes), max(b.top for b in boxes)
    return right + _GAP - box.left, top - box.top


def _moved_box(box: Bounds, by: tuple[float, float]) -> Bounds:
    x, y = by
    return Bounds(left=box.left + x, bottom=box.bottom + y, right=box.right + x, top=box.top + y)
