"""A set-out rod at full size, cut into pages that are laid end on end.

Each page repeats the last stretch of the one before between two pairs of register marks, and
carries a bar of 100 mm to check the print by.
"""

from __future__ import annotations

from math import pi

from stowright.drawings.dimensioning import spread
from stowright.drawings.end_to_end import FOOT, Stretch, register_marks, stretches
from stowright.drawings.extent import moved
from stowright.drawings.figures import arrowhead
from stowright.drawings.rod_figure import RodFrame, rod_stretch
from stowright.drawings.rods import Rod, RodAxis, rod_of
from stowright.drawings.scene import Circle, Item, Line, Polyline, Scene, Text, View
from stowright.drawings.sheet_frame import Paper, check_bar
from stowright.model.design import Design
from stowright.units import Unit, format_length

__all__ = ["set_out_pages"]

_SIDE = 58.0  # from the sheet's left edge to the rod
_HEAD = 14.0  # from the sheet's left edge to the heading
_RUN = 8.0  # from the rod to the dimension line
_TEXT = 14.0  # from the dimension line to its texts
_PITCH = 3.75
_HEIGHT = 2.5


def set_out_pages(
    design: Design, opening: str, *, units: Unit, paper: Paper, axis: RodAxis = "up"
) -> tuple[Scene, ...]:
    """Return a rod at full size as pages to lay end on end.

    Args:
        design: The design.
        opening: The opening's name.
        units: Unit of print.
        paper: The sheet; the rod runs along its height.
        axis: Which rod.
    """
    rod = rod_of(design, opening, axis)
    return tuple(_page(rod, paper, part, units) for part in stretches(rod.length, paper))


def _page(rod: Rod, paper: Paper, stretch: Stretch, units: Unit) -> Scene:
    frame = RodFrame(upright=True, scale=1.0, low=stretch.low, high=stretch.high, start=FOOT)
    items: list[Item] = list(moved(rod_stretch(rod, frame, units), x=_SIDE))
    items += _running(rod, stretch, units)
    items += register_marks(paper, stretch)
    items += _words(rod, paper, stretch, units)
    name = rod.title.replace(": ", "-").replace(" ", "-")
    return Scene(
        name=f"set-out-{name}-{stretch.number}",
        title=f"{rod.title}, full size, {stretch.page}",
        width=paper.width,
        height=paper.height,
        views=(
            View(name="rod", items=tuple(items), at=(_SIDE, stretch.y(0.0))),
            View(name="check bar", items=check_bar((_SIDE, 7.0))),
        ),
    )


def _running(rod: Rod, stretch: Stretch, units: Unit) -> list[Item]:
    """Return the running dimensions of a page; their zero is on the first page only.

    Their line runs on to the page's end as long as another place follows.
    """
    places = [p for p in rod.places if stretch.holds(p)]
    if stretch.number == 1:
        places = [0.0, *places]
    goes_on = any(p > stretch.high for p in rod.places)
    if not places and not goes_on:
        return []
    line = _SIDE - _RUN
    texts_at = spread([stretch.y(p) for p in places], gap=_PITCH)
    items: list[Item] = []
    for place, text_at in zip(places, texts_at, strict=True):
        y = stretch.y(place)
        points = ((_SIDE, y), (line - 2.0, y), (line - _TEXT + 1.0, text_at))
        items.append(Polyline(points=points, pen="dimension"))
        text = format_length(place, units)
        at = (line - _TEXT, text_at)
        items.append(Text(text=text, at=at, anchor="end", rise="middle", pen="dimension"))
    start = stretch.y(max(stretch.low, 0.0))
    end = stretch.y(stretch.high if goes_on else places[-1])
    items.append(Line(start=(line, start), end=(line, end), pen="dimension"))
    if stretch.number == 1:
        items.append(Circle(centre=(line, start), radius=0.9, pen="dimension", fill="paper"))
    return items + _heads(places, stretch, line)


def _heads(places: list[float], stretch: Stretch, line: float) -> list[Item]:
    items: list[Item] = []
    before = stretch.low
    for place in places:
        if place <= 0.0:
            continue
        if place - before > 3.1:
            items.append(arrowhead((line, stretch.y(place)), angle=pi / 2.0))
        else:
            items.append(
                Circle(centre=(line, stretch.y(place)), radius=0.4, pen="dimension", fill="ink")
            )
        before = place
    return items


def _words(rod: Rod, paper: Paper, stretch: Stretch, units: Unit) -> list[Item]:
    head = f"{rod.title[0].upper()}{rod.title[1:]} · full size · {stretch.page}"
    top = paper.height - 7.5
    datum = f"0 is the {rod.datum}. Sizes in {units}; print at 100 %, not fitted to the page."
    return [
        Text(text=head, at=(_HEAD, top), height=3.5, weight="bold"),
        Text(text=datum, at=(_HEAD, top - 4.6), height=_HEIGHT),
    ]
