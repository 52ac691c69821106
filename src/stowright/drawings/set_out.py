"""The set-out strip: heights, widths and depths at one opening as rods, each from one datum.

This is the reduced figure; ``set_out_pages`` prints the same rods at full size.
"""

from __future__ import annotations

from stowright.drawings.dimensioning import running
from stowright.drawings.extent import bounds, moved
from stowright.drawings.rod_figure import RodFrame, rod_stretch
from stowright.drawings.rods import Rod, RodAxis, rod_of
from stowright.drawings.scales import SCALES, scale_text
from stowright.drawings.scene import Item, Scene, Text, View
from stowright.errors import OutOfRangeError
from stowright.model.design import Design
from stowright.units import Unit

__all__ = ["set_out_strip"]

_GAP = 8.0
_MARGIN = 1.0
_TALLEST = (120.0, 75.0, 40.0)  # heights tried for an upright rod [mm on paper]


def set_out_strip(
    design: Design,
    opening: str,
    *,
    units: Unit,
    room: tuple[float, float] = (176.0, 237.0),
    axes: tuple[RodAxis, ...] = ("up", "across"),
) -> Scene:
    """Return rods of an opening as one reduced figure, without a frame.

    Heights stand upright, widths and depths lie. Each rod is drawn at the largest recommended scale
    that its length allows.

    Args:
        design: The design.
        opening: The opening's name.
        units: Unit of print.
        room: Width and height that it may take. [mm]
        axes: Which rods.

    Raises:
        OutOfRangeError: If they do not fit the room.
    """
    rods = [rod_of(design, opening, axis) for axis in axes]
    for tallest in _TALLEST:
        blocks = [
            _rod_block(rod, units, (room[0] - 2 * _MARGIN, tallest), upright=axis == "up")
            for rod, axis in zip(rods, axes, strict=True)
        ]
        scene = _composed(opening, rods, blocks)
        if scene.height <= room[1]:
            return scene
    raise OutOfRangeError("room", room[1], "higher, or the rods drawn one at a time")


def _composed(opening: str, rods: list[Rod], blocks: list[tuple[float, tuple[Item, ...]]]) -> Scene:
    """Set rods one below the other."""
    boxes = [bounds(items) for _, items in blocks]
    height = sum(box.height for box in boxes) + _GAP * (len(boxes) - 1) + 2 * _MARGIN
    views = []
    top = height - _MARGIN
    for rod, (scale, items), box in zip(rods, blocks, boxes, strict=True):
        x, y = _MARGIN - box.left, top - box.top
        views.append(View(name=rod.title, items=moved(items, x=x, y=y), scale=scale, at=(x, y)))
        top -= box.height + _GAP
    return Scene(
        name=f"set-out-{opening.replace(' ', '-')}",
        title=f"Set-out of {opening}",
        width=max(box.width for box in boxes) + 2 * _MARGIN,
        height=height,
        views=tuple(views),
        scale=blocks[0][0],
    )


def _rod_block(
    rod: Rod, units: Unit, room: tuple[float, float], *, upright: bool
) -> tuple[float, tuple[Item, ...]]:
    """Return a rod at the largest recommended scale that the room holds, and that scale."""
    for scale in (s for s in SCALES if s <= 0.5):
        if rod.length * scale <= (room[1] if upright else room[0]):
            items = _rod_items(rod, scale, units, upright=upright)
            if bounds(items).width <= room[0]:
                return scale, items
    raise OutOfRangeError("rod.length", rod.length, f"drawable {room[0]:g} wide at 1:100")


def _rod_items(rod: Rod, scale: float, units: Unit, *, upright: bool) -> tuple[Item, ...]:
    frame = RodFrame(upright=upright, scale=scale, low=0.0, high=rod.length)
    items: list[Item] = list(rod_stretch(rod, frame, units))
    run = running(
        (0.0, 0.0),
        [(frame.at(frame.along(place), 0.0), place) for place in rod.places],
        axis="y" if upright else "x",
        line_at=-6.0,
        units=units,
        side=-1,
    )
    items += [run] if run else []
    box = bounds(items)
    head = f"{rod.title[0].upper()}{rod.title[1:]} · {scale_text(scale)}"
    datum = f"0 is the {rod.datum}. Sizes in {units}."
    return (
        Text(text=head, at=(box.left, box.top + 7.5), height=3.5, weight="bold"),
        Text(text=datum, at=(box.left, box.top + 3.0), height=2.5),
        *items,
    )
