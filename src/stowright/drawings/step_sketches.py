"""Sketches of steps that no piece of the unit shows: sheets under the caliper, axles on a scale."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.scene import (
    Arrow,
    Circle,
    Item,
    Line,
    Polyline,
    Region,
    Scene,
    Text,
    View,
)
from stowright.model.geometry import Point2

__all__ = ["caliper_sketch", "weighing_sketch"]

_SHEET = (96.0, 48.0)
_IN = 4.5
_TEXT = 2.8
# The side view of a pattern vehicle. [mm on paper]
_WHEEL, _BASE, _GROUND = 6.5, 62.0, 14.0
_BODY = (
    (4.0, 19.0), (4.0, 31.0), (46.0, 31.0), (51.0, 45.0), (74.0, 45.0),
    (81.0, 33.0), (98.0, 30.0), (99.0, 19.0),
)  # fmt: skip
_ROOFED = (
    (4.0, 19.0), (4.0, 46.0), (77.0, 46.0), (86.0, 33.0), (98.0, 30.0), (99.0, 19.0),
)  # fmt: skip
_REAR = 22.0


def caliper_sketch(*, name: str, title: str, inches: bool) -> Scene:
    """Return a sheet with the eight places where its thickness is read.

    Args:
        name: File name without its ending.
        title: In words.
        inches: Whether lengths are said in inches.
    """
    return _scene(name, title, tuple(_sheet(inches=inches)), (_SHEET[0] + 12.0, _SHEET[1] + 20.0))


def _sheet(*, inches: bool) -> Iterator[Item]:
    wide, high = _SHEET
    x, y = 6.0, 6.0
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    yield Region(outer=corners, fill="wood", pen="outline")
    across = (x + _IN, x + wide / 2.0, x + wide - _IN)
    along = (y + _IN, y + high / 2.0, y + high - _IN)
    places = [(px, py) for py in along for px in across if (px, py) != (across[1], along[1])]
    for number, at in enumerate(places, start=1):
        yield Circle(centre=at, radius=0.9, pen="edge", fill="ink")
        side = -1.0 if at[0] > across[1] else 1.0
        yield Text(
            text=str(number),
            at=(at[0] + 2.4 * side, at[1]),
            height=_TEXT,
            anchor="end" if side < 0.0 else "start",
            rise="middle",
            weight="bold",
        )
    words = ("mean of the eight readings:", "write it here, on the sheet")
    for row, text in enumerate(words):
        yield Text(
            text=text,
            at=(x + wide / 2.0, y + high / 2.0 + 2.5 - 5.0 * row),
            height=_TEXT,
            anchor="middle",
            rise="middle",
        )
    far = "2 in" if inches else "50 mm"
    yield Text(
        text=f"each about {far} from the edge",
        at=(x + wide / 2.0, y + high + 6.0),
        height=_TEXT,
        anchor="middle",
    )


def weighing_sketch(*, name: str, title: str, roofed: bool) -> Scene:
    """Return a vehicle whose axles stand on the scale one after the other.

    Args:
        name: File name without its ending.
        title: In words.
        roofed: Whether the load area has the vehicle's own roof over it, as in a van.
    """
    return _scene(name, title, tuple(_vehicle(roofed=roofed)), (104.0, 52.0))


def _vehicle(*, roofed: bool) -> Iterator[Item]:
    front = _REAR + _BASE
    top = 46.0 if roofed else 31.0
    yield Line(start=(0.5, _GROUND - _WHEEL), end=(103.5, _GROUND - _WHEEL), pen="outline")
    yield Polyline(points=_ROOFED if roofed else _BODY, closed=True, pen="edge")
    yield Line(start=(46.0, top), end=(46.0, 19.0), pen="light")
    for x, words in ((_REAR, "1 rear axle"), (front, "2 front axle")):
        yield Circle(centre=(x, _GROUND), radius=_WHEEL, pen="outline", fill="paper")
        yield Circle(centre=(x, _GROUND), radius=0.5, pen="edge", fill="ink")
        level = _GROUND - _WHEEL
        plate: tuple[Point2, ...] = (
            (x - 11.0, level - 2.2), (x + 11.0, level - 2.2), (x + 11.0, level), (x - 11.0, level),
        )  # fmt: skip
        yield Region(outer=plate, fill="new", pen="edge")
        yield Text(text=words, at=(x, 1.2), height=_TEXT, anchor="middle")
    yield Arrow(tail=(25.0, 30.0), tip=(25.0, 22.5), style="block", size=3.2, pen="edge")
    yield Text(text="the load area", at=(25.0, 34.0), height=_TEXT, anchor="middle")


def _scene(name: str, title: str, items: tuple[Item, ...], size: tuple[float, float]) -> Scene:
    view = View(name="sketch", items=items)
    return Scene(name=name, title=title, width=size[0], height=size[1], views=(view,))
