"""A set-out rod at full size, cut into pages that are laid end on end.

Each page repeats the last stretch of the one before between two pairs of register marks, and
carries a bar of 100 mm to check the print by.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi

from stowright.drawings.dimensioning import spread
from stowright.drawings.extent import moved
from stowright.drawings.figures import arrowhead
from stowright.drawings.rod_figure import RodFrame, rod_stretch
from stowright.drawings.rods import Rod, RodAxis, rod_of
from stowright.drawings.scene import Circle, Item, Line, Polyline, Scene, Symbol, Text, View
from stowright.drawings.sheet_frame import Paper, check_bar
from stowright.model.design import Design
from stowright.units import Unit, format_length

__all__ = ["set_out_pages"]

_END = 28.0  # from the sheet's ends to the rod's: printers leave a margin
_LAP = 15.0  # repeated on the next page
_SIDE = 58.0  # from the sheet's left edge to the rod
_HEAD = 14.0  # from the sheet's left edge to the heading
_RUN = 8.0  # from the rod to the dimension line
_TEXT = 14.0  # from the dimension line to its texts
_PITCH = 3.75
_HEIGHT = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stretch:
    """What of a rod a page shows, and where. [mm].

    Attributes:
        number, count: Page number from 1, and how many.
        low, high: The stretch of the rod.
    """

    number: int
    count: int
    low: float
    high: float

    def y(self, value: float) -> float:
        """Return the paper height of a place on the rod."""
        return _END + value - self.low


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
    step = paper.height - 2.0 * _END - _LAP
    count = max(1, ceil((rod.length - _LAP) / step))
    stretches = (
        _Stretch(number=k + 1, count=count, low=k * step, high=(k + 1) * step + _LAP)
        for k in range(count)
    )
    return tuple(_page(rod, paper, stretch, units) for stretch in stretches)


def _page(rod: Rod, paper: Paper, stretch: _Stretch, units: Unit) -> Scene:
    frame = RodFrame(upright=True, scale=1.0, low=stretch.low, high=stretch.high, start=_END)
    items: list[Item] = list(moved(rod_stretch(rod, frame, units), x=_SIDE))
    items += _running(rod, stretch, units)
    items += _register(paper, stretch)
    items += _words(rod, paper, stretch, units)
    name = rod.title.replace(": ", "-").replace(" ", "-")
    return Scene(
        name=f"set-out-{name}-{stretch.number}",
        title=f"{rod.title}, full size, page {stretch.number} of {stretch.count}",
        width=paper.width,
        height=paper.height,
        views=(
            View(name="rod", items=tuple(items), at=(_SIDE, stretch.y(0.0))),
            View(name="check bar", items=check_bar((_SIDE, 7.0))),
        ),
    )


def _running(rod: Rod, stretch: _Stretch, units: Unit) -> list[Item]:
    """Return the running dimensions of a page; their zero is on the first page only.

    Their line runs on to the page's end as long as another place follows.
    """
    places = [p for p in rod.places if stretch.low <= p <= stretch.high]
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


def _heads(places: list[float], stretch: _Stretch, line: float) -> list[Item]:
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


def _register(paper: Paper, stretch: _Stretch) -> list[Item]:
    """Return register marks at both ends of what neighbouring pages share, with their numbers."""
    sides = (14.0, paper.width - 14.0)
    items: list[Item] = []
    shared = []
    if stretch.number > 1:
        shared.append((stretch.low, stretch.number - 1))
    if stretch.number < stretch.count:
        shared.append((stretch.high - _LAP, stretch.number + 1))
    for low, other in shared:
        for x in sides:
            items += [
                Symbol(kind="register", at=(x, stretch.y(value)), size=7.0)
                for value in (low, low + _LAP)
            ]
        items.append(
            Text(
                text=f"page {other}",
                at=(sides[0], stretch.y(low + _LAP / 2.0)),
                height=1.8,
                anchor="middle",
                rise="middle",
            )
        )
    return items


def _words(rod: Rod, paper: Paper, stretch: _Stretch, units: Unit) -> list[Item]:
    page = f"page {stretch.number} of {stretch.count}"
    head = f"{rod.title[0].upper()}{rod.title[1:]} · full size · {page}"
    top = paper.height - 7.5
    datum = f"0 is the {rod.datum}. Sizes in {units}; print at 100 %, not fitted to the page."
    return [
        Text(text=head, at=(_HEAD, top), height=3.5, weight="bold"),
        Text(text=datum, at=(_HEAD, top - 4.6), height=_HEIGHT),
    ]
