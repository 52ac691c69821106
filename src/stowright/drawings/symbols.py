"""Symbols of drawing practice as marks. Sizes in millimetres on paper.

The projection symbols are those of ISO 5456-2 (from memory): a truncated cone lies with its small
end to the left; the view from the left stands on the right in first angle, on the left in third.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin

from stowright.drawings.linetypes import Pen
from stowright.drawings.scene import Circle, Line, Mark, Polyline, Region, Symbol, SymbolKind, Text
from stowright.model.geometry import Point2

__all__ = ["symbol_marks"]

type _Place = Callable[[float, float], Point2]


def symbol_marks(symbol: Symbol) -> tuple[Mark, ...]:
    """Return the marks of a symbol, about its own centre."""
    c, s = cos(radians(symbol.turn)), sin(radians(symbol.turn))
    x, y = symbol.at
    k = symbol.size

    def place(u: float, v: float) -> Point2:
        return (x + k * (c * u - s * v), y + k * (s * u + c * v))

    return _DRAW[symbol.kind](symbol, place, k)


def _lines(place: _Place, pen: Pen, *pairs: tuple[Point2, Point2]) -> tuple[Mark, ...]:
    return tuple(Line(start=place(*a), end=place(*b), pen=pen) for a, b in pairs)


def _cone(place: _Place, k: float, *, side: float, end: float) -> tuple[Mark, ...]:
    """Draw the cone lying with its small end to the left, and its end view from that side."""
    corners = ((-0.5, -0.25), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.25))
    outline = tuple(place(side + u, v) for u, v in corners)
    rings = tuple(Circle(centre=place(end, 0.0), radius=k * r, pen="outline") for r in (0.25, 0.5))
    centres = _lines(
        place,
        "centre",
        ((side - 0.65, 0.0), (side + 0.65, 0.0)),
        ((end - 0.65, 0.0), (end + 0.65, 0.0)),
        ((end, -0.65), (end, 0.65)),
    )
    return (Polyline(points=outline, closed=True, pen="outline"), *rings, *centres)


def _first_angle(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    # Seen from the left, drawn on the right.
    return _cone(place, k, side=-0.75, end=0.75)


def _third_angle(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    # Seen from the left, drawn on the left.
    return _cone(place, k, side=0.75, end=-0.75)


def _anchor(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a ring with a cross through it: an anchor that the vehicle has."""
    ring = Circle(centre=place(0.0, 0.0), radius=0.35 * k, pen="outline", fill="paper")
    arms = (((-0.5, 0.0), (0.5, 0.0)), ((0.0, -0.5), (0.0, 0.5)))
    return (ring, *_lines(place, "outline", *arms))


def _anchor_new(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a filled ring with a cross through it: a hole that is to be made."""
    spot = Circle(centre=place(0.0, 0.0), radius=0.25 * k, pen="outline", fill="ink")
    ring = Circle(centre=place(0.0, 0.0), radius=0.38 * k, pen="outline")
    arms = (((-0.5, 0.0), (0.5, 0.0)), ((0.0, -0.5), (0.0, 0.5)))
    return (ring, spot, *_lines(place, "outline", *arms))


def _belt(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a triangle: a belt or seat anchorage, kept clear."""
    corners = ((-0.6, -0.42), (0.6, -0.42), (0.0, 0.62))
    outer = tuple(place(u, v) for u, v in corners)
    return (
        Region(outer=outer, fill="warning", pen="warning"),
        Text(text="!", at=place(0.0, -0.24), height=0.4 * k, anchor="middle", pen="warning"),
    )


def _register(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a ring and cross hairs: pages are laid mark on mark."""
    ring = Circle(centre=place(0.0, 0.0), radius=0.3 * k, pen="dimension")
    arms = (((-0.5, 0.0), (0.5, 0.0)), ((0.0, -0.5), (0.0, 0.5)))
    return (ring, *_lines(place, "dimension", *arms))


def _datum(symbol: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a filled triangle whose point stands on the datum, with its letter beyond."""
    corners = ((0.0, 0.0), (-0.35, 0.6), (0.35, 0.6))
    return (
        Region(outer=tuple(place(u, v) for u, v in corners), fill="ink"),
        Text(text=symbol.text, at=place(0.0, 1.0), height=0.7 * k, anchor="middle", rise="middle"),
    )


def _section_arrow(symbol: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw the end of a cutting plane: a wide stroke, an arrow the way one looks, a letter."""
    head = ((0.0, 1.0), (-0.18, 0.5), (0.18, 0.5))
    return (
        *_lines(place, "visible", ((0.0, 0.0), (0.0, 0.55))),
        Region(outer=tuple(place(u, v) for u, v in head), fill="ink"),
        Text(
            text=symbol.text,
            at=place(0.0, 1.55),
            height=0.7 * k,
            anchor="middle",
            rise="middle",
            weight="bold",
        ),
    )


def _centroid(_: Symbol, place: _Place, k: float) -> tuple[Mark, ...]:
    """Draw a quartered disc: the centre of gravity."""
    steps = [radians(a) for a in range(0, 91, 15)]
    one = ((0.0, 0.0), *((0.4 * cos(a), 0.4 * sin(a)) for a in steps))
    quarters = (one, tuple((-u, -v) for u, v in one))
    return (
        Circle(centre=place(0.0, 0.0), radius=0.4 * k, pen="outline", fill="paper"),
        *(Region(outer=tuple(place(u, v) for u, v in quarter), fill="ink") for quarter in quarters),
    )


_DRAW: dict[SymbolKind, Callable[[Symbol, _Place, float], tuple[Mark, ...]]] = {
    "first-angle": _first_angle,
    "third-angle": _third_angle,
    "anchor": _anchor,
    "anchor-new": _anchor_new,
    "belt": _belt,
    "register": _register,
    "datum": _datum,
    "section-arrow": _section_arrow,
    "centroid": _centroid,
}
