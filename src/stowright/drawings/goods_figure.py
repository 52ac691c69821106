"""Where stops, their blocks and hooks of nets stand in an opening, from two datums.

Seen from the face: from the left upright, and up from what is under the opening. What does not
stand on the back is shown along the left upright too, from its face edge.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from stowright.drawings.dimensioning import running
from stowright.drawings.extent import Bounds, bounds, moved
from stowright.drawings.lettering import wrapped
from stowright.drawings.linetypes import Fill
from stowright.drawings.scales import SCALES, scale_text
from stowright.drawings.scene import Item, Line, Region, Running, Scene, Text, View
from stowright.errors import OutOfRangeError
from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.model.goods_place import GoodsPlace
from stowright.units import Unit, format_length

__all__ = ["GoodsGroup", "goods_figure", "goods_groups", "unfitted"]

_MARGIN = 0.5
_GAP = 9.0
_RUN = 6.0
_NOTE = 2.5
_STEP = 4.2
_ARM = 1.4
_LARGEST = 0.2
#: Rounding of a place. [mm]
_NEAR = 0.06
_WHERE = {
    "back": "on the back",
    "upright": "on the uprights",
    "floor": "on what is under the opening",
    "top": "on what is above it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsGroup:
    """Openings in which the same stands at the same places: their names, the first, its places."""

    names: tuple[str, ...]
    opening: OpeningDesign
    places: tuple[GoodsPlace, ...]

    @property
    def title(self) -> str:
        """What the figure shows, in words."""
        what = "Hooks of the net" if self.places[0].is_hook else "Stops"
        return f"{what} in {', '.join(self.names)}"


def goods_groups(design: Design) -> tuple[GoodsGroup, ...]:
    """Return what is fitted to places without pilot holes, alike openings together."""
    found: dict[tuple[object, ...], GoodsGroup] = {}
    for block in design.blocks:
        for opening in block.openings:
            places = tuple(p for p in design.goods_places if p.opening == opening.name)
            if not places:
                continue
            alike = (
                opening.width,
                opening.height,
                opening.depth,
                *(replace(p, opening="") for p in places),
            )
            group = GoodsGroup(names=(), opening=opening, places=places)
            group = found.setdefault(alike, group)
            found[alike] = replace(group, names=(*group.names, opening.name))
    return tuple(found.values())


def goods_figure(group: GoodsGroup, *, units: Unit, room: Point2, name: str) -> Scene:
    """Return the figure of a group at the largest recommended scale that fits, at most 1:5.

    Args:
        group: What stands where.
        units: Unit of print.
        room: Width and height it may take. [mm]
        name: File name without its ending.

    Raises:
        OutOfRangeError: If it does not fit even at 1:100.
    """
    for scale in (s for s in SCALES if s <= _LARGEST):
        views = [("face", _face_view(group, scale, units))]
        if any(p.on != "back" for p in group.places):
            views.append(("side", _side_view(group, scale, units)))
        for beside in (True, False):
            scene = _composed(group, views, scale, units, room[0], beside=beside, name=name)
            if scene.width <= room[0] and scene.height <= room[1]:
                return scene
    raise OutOfRangeError("room", room[0], "large enough for the places at 1:100")


def unfitted(design: Design, scenes: Iterable[Scene]) -> list[str]:
    """Return what stands without a place on a drawing, a line each.

    An outside look at finished figures: it reads their running dimensions, not how they were made.

    Args:
        design: The design.
        scenes: The figures of such places; a figure's title names its openings.
    """
    drawn = {scene.title: scene for scene in scenes}
    missing = []
    for group in goods_groups(design):
        scene = drawn.get(group.title)
        given = {} if scene is None else {view.name: _given(view) for view in scene.views}
        for place in group.places:
            wanted = [("face", "y", place.up)]
            if place.kind != "block":
                wanted.append(("face", "x", place.across))
            if _set_in(place):
                wanted.append(("side", "x", place.inwards))
            missing += [
                f"{place.what} in {', '.join(group.names)}: {value:g} is on no drawing"
                for view, axis, value in wanted
                if not any(
                    abs(value - v) <= _NEAR for v in (0.0, *given.get(view, {}).get(axis, ()))
                )
            ]
    return missing


def _given(view: View) -> dict[str, tuple[float, ...]]:
    return {item.axis: item.values for item in view.items if isinstance(item, Running)}


def _set_in(place: GoodsPlace) -> bool:
    """Return whether a place has to be measured from the face: what a stop stands on, or a hook."""
    return place.on != "back" and place.kind != "stop"


# Views --------------------------------------------------------------------------------------------


def _face_view(group: GoodsGroup, s: float, units: Unit) -> tuple[Item, ...]:
    width, height = group.opening.width * s, group.opening.height * s
    items: list[Item] = [Region(outer=_box(0.0, 0.0, width, height), fill="paper", pen="visible")]
    for place in _back_to_front(group.places):
        items += _shape(place, (place.across * s, place.up * s), place.size[0] * s, s)
    across = [((p.across * s, p.up * s), p.across) for p in group.places if p.kind != "block"]
    items += _runs(across, group.places, s, units, at=[p.across for p in group.places])
    return (*_words("seen from the face", s, bounds(items)), *items)


def _side_view(group: GoodsGroup, s: float, units: Unit) -> tuple[Item, ...]:
    depth, height = group.opening.depth * s, group.opening.height * s
    items: list[Item] = [Region(outer=_box(0.0, 0.0, depth, height), fill="wood", pen="visible")]
    here = [p for p in group.places if p.across < group.opening.width / 2.0]
    for place in _back_to_front(here):
        middle = (place.inwards + place.size[1] / 2.0) * s
        items += _shape(place, (middle, place.up * s), place.size[1] * s, s)
    along = [((p.inwards * s, p.up * s), p.inwards) for p in here if _set_in(p)]
    items += _runs(along, here, s, units, at=[p.inwards for p in here])
    return (*_words("along the left upright", s, bounds(items)), *items)


def _runs(
    along: Sequence[tuple[Point2, float]],
    places: Sequence[GoodsPlace],
    s: float,
    units: Unit,
    *,
    at: Sequence[float],
) -> Iterator[Item]:
    ups = [((x * s, p.up * s), p.up) for p, x in zip(places, at, strict=True)]
    for run in (
        running((0.0, 0.0), along, axis="x", line_at=-_RUN, units=units, side=-1),
        running((0.0, 0.0), ups, axis="y", line_at=-_RUN, units=units, side=-1),
    ):
        if run is not None:
            yield run


def _back_to_front(places: Iterable[GoodsPlace]) -> list[GoodsPlace]:
    return sorted(places, key=lambda p: p.kind != "block")


def _shape(place: GoodsPlace, at: Point2, wide: float, s: float) -> Iterator[Item]:
    """Yield a stop or a block as it stands, a hook as a cross."""
    x, y = at
    if place.is_hook:
        yield Line(start=(x - _ARM, y), end=(x + _ARM, y), pen="edge")
        yield Line(start=(x, y - _ARM), end=(x, y + _ARM), pen="edge")
        return
    half, high = wide / 2.0, place.size[2] * s / 2.0
    fill: Fill = "wood-dark" if place.kind == "block" else "metal"
    box = _box(x - half, y - high, x + half, y + high)
    yield Region(outer=box, fill=fill, pen="outline", about=place.what)


def _box(x0: float, y0: float, x1: float, y1: float) -> tuple[Point2, ...]:
    return Bounds(left=x0, bottom=y0, right=x1, top=y1).corners


def _words(what: str, scale: float, box: Bounds) -> Iterator[Text]:
    words = f"{what} · {scale_text(scale)}"
    yield Text(text=words, at=(box.left, box.top + 2.4), height=_NOTE)


# The whole ----------------------------------------------------------------------------------------


def _composed(
    group: GoodsGroup,
    views: Sequence[tuple[str, tuple[Item, ...]]],
    scale: float,
    units: Unit,
    wide: float,
    *,
    beside: bool,
    name: str,
) -> Scene:
    """Set the heading and under it the views, beside or below one another."""
    head = _heading(group, units, wide - 2.0 * _MARGIN)
    boxes = [bounds(items) for _, items in views]
    head_box = bounds(head)
    if beside:
        inner = (
            sum(b.width for b in boxes) + _GAP * (len(boxes) - 1),
            max(b.height for b in boxes),
        )
    else:
        inner = (
            max(b.width for b in boxes),
            sum(b.height for b in boxes) + _GAP * (len(boxes) - 1),
        )
    width = max(inner[0], head_box.width) + 2.0 * _MARGIN
    height = head_box.height + _GAP / 2.0 + inner[1] + 2.0 * _MARGIN
    at = (_MARGIN - head_box.left, height - _MARGIN - head_box.top)
    found = [View(name="heading", items=moved(head, x=at[0], y=at[1]), at=at)]
    x, y = _MARGIN, height - _MARGIN - head_box.height - _GAP / 2.0
    for (view, items), box in zip(views, boxes, strict=True):
        at = (x - box.left, y - box.top)
        found.append(View(name=view, items=moved(items, x=at[0], y=at[1]), scale=scale, at=at))
        if beside:
            x += box.width + _GAP
        else:
            y -= box.height + _GAP
    return Scene(
        name=name, title=group.title, width=width, height=height, views=tuple(found), scale=scale
    )


def _heading(group: GoodsGroup, units: Unit, wide: float) -> tuple[Item, ...]:
    items: list[Item] = []
    y = 0.0
    for line in wrapped(group.title, width=wide, height=3.5, weight="bold"):
        items.append(Text(text=line, at=(0.0, y), height=3.5, rise="top", weight="bold"))
        y -= 5.6
    for note in _notes(group, units):
        for line in wrapped(note, width=wide, height=_NOTE):
            items.append(Text(text=line, at=(0.0, y), height=_NOTE, rise="top"))
            y -= _STEP
    return tuple(items)


def _notes(group: GoodsGroup, units: Unit) -> Iterator[str]:
    """Yield where zero is, and what each thing is, how large and on what."""
    yield "0 is the inside of the left upright and what is under the opening; middles are given."
    if any(p.on != "back" for p in group.places):
        yield "Along the upright 0 is its face edge; a block's face end or a hook is given."
    told = Counter(replace(p, across=0.0, inwards=0.0, up=0.0) for p in group.places)
    for place, many in told.items():
        blocked = place.kind == "stop" and any(p.kind == "block" for p in group.places)
        where = "on the blocks" if blocked else _WHERE[place.on]
        if place.is_hook:
            yield f"{many} hooks {where}."
            continue
        wide, deep, high = (format_length(v, units) for v in place.size)
        pile = f", {place.count} one on the other, together" if place.count != 1 else ""
        count = many * place.count
        yield f"{count} × {place.what} {where}{pile}: {wide} wide, {high} high, {deep} deep."
