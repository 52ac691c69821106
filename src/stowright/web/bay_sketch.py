"""The bay as a sketch with numbered arrows, from above and from the tail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.web.markup import Markup, h

if TYPE_CHECKING:
    from stowright.model.bay import Arch, Bay

__all__ = ["anchor_sketch", "bay_sketch"]

_MARGIN = 0.16
_TOP = 1.25


def bay_sketch(bay: Bay) -> Markup:
    """Return the bay from above and from the tail; numbers match the fields."""
    return h(
        "div.sketches",
        h("figure", _plan(bay), h("figcaption", "From above, the tail at the left")),
        h("figure", _section(bay), h("figcaption", _CAPTIONS[bay.kind])),
        tabindex="0",
        role="region",
        aria_label="The bay drawn from its readings",
    )


_CAPTIONS = {
    "tub": "From the tail, into the tub",
    "van": "From the tail doors",
    "wagon": "From the tailgate",
    "tray": "From the tail, onto the tray",
}


def _plan(bay: Bay, more: list[Markup] | None = None, *, numbered: bool = True) -> Markup:
    half = max([bay.width / 2.0, *(max(s.left, s.right) for s in bay.widths)])
    pad = bay.length * _MARGIN
    left, right = _edges(bay)
    ring = [*left, *reversed(right)]
    unit = max(bay.length, 2.0 * half) / 100.0
    things = [
        _ring([(x, -y) for x, y in ring], "wall"),
        [_arch_above(bay, arch) for arch in bay.arches],
        [_area(box.x, box.y, "closed") for box in (k.box for k in bay.keep_out)],
        [
            h("rect.no-drill", x=no.a[0], y=-no.b[1], width=no.a[1] - no.a[0],
              height=no.b[1] - no.b[0])
            for no in bay.no_drill
            if no.surface == "floor"
        ],
        [h("circle.anchor", cx=a.x, cy=-a.y, r=unit * 1.6) for a in bay.anchors
         if a.surface == "floor"],
        [_door(bay)],
    ]  # fmt: skip
    arrows = [
        _arrow(1, (0.0, half + pad * 0.55), (bay.length, half + pad * 0.55), unit),
        _arrow(2, (-pad * 0.5, -bay.width / 2.0), (-pad * 0.5, bay.width / 2.0), unit),
        _arrow(6, (unit, -bay.width / 2.0 + unit), (bay.length * 0.3, -bay.width * 0.2), unit),
        _arrow(7, (unit, bay.width / 2.0 - unit), (bay.length * 0.3, bay.width * 0.2), unit),
    ]
    arrows += _stations(bay, unit)
    arrows += _arch_arrows(bay, unit)
    box = f"{-pad:.0f} {-half - pad:.0f} {bay.length + 2 * pad:.0f} {2 * (half + pad):.0f}"
    words = f"Bay from above, {bay.length:.0f} long and {bay.width:.0f} wide in millimetres"
    shown = arrows if numbered else []
    return h("svg.sketch", things, shown, more or [], viewBox=box, role="img", aria_label=words)


def anchor_sketch(bay: Bay, marks: tuple[tuple[float, float, str], ...]) -> Markup:
    """Return the bay from above with the anchors that are planned, each at x, y with its name."""
    drawn = [_planned(bay, x, y, name) for x, y, name in marks]
    return h(
        "div.sketches",
        h(
            "figure",
            _plan(bay, drawn, numbered=False),
            h("figcaption", "From above, the tail at the left; filled: where it is bolted"),
        ),
        tabindex="0",
        role="region",
        aria_label="Where the unit is bolted",
    )


def _planned(bay: Bay, x: float, y: float, name: str) -> Markup:
    """Return an anchor with its name beside it, clear of the walls at the cab and at the left."""
    length, size = bay.length, bay.length / 26.0
    away = -1.0 if x > 0.9 * length else 1.0
    lower = size + length / 45.0 if y > 0.43 * bay.width else -length / 60.0
    return h(
        "g",
        h("circle.planned", cx=f"{x:.1f}", cy=f"{-y:.1f}", r=f"{length / 70.0:.1f}"),
        h("text.planned-name", name, x=f"{x + away * length / 45.0:.1f}",
          y=f"{-y + lower:.1f}", font_size=f"{size:.1f}",
          text_anchor="end" if away < 0.0 else "start"),
    )  # fmt: skip


def _section(bay: Bay) -> Markup:
    half = bay.width / 2.0
    top = bay.rail or bay.clear_height or 500.0
    high = max(top, bay.clear_height or 0.0)
    pad = max(bay.width, high) * _MARGIN
    unit = max(bay.width, high) / 100.0
    things = [_profile(bay, half, top, high)]
    for arch in bay.arches:
        sign = -1.0 if arch.side == "left" else 1.0
        x = sign * half if sign < 0 else half - arch.reach
        things.append(h("rect.arch", x=x, y=-arch.height, width=arch.reach, height=arch.height))
    arrows: list[Markup] = []
    if bay.rail is not None:
        arrows.append(_arrow(3, (half + pad * 0.4, 0.0), (half + pad * 0.4, -bay.rail), unit))
    if bay.clear_height is not None:
        at = -half * 0.45
        arrows.append(_arrow(4, (at, 0.0), (at, -bay.clear_height), unit))
    if bay.between:
        clear = bay.between[0].width / 2.0
        arrows.append(_arrow(9, (-clear, -unit * 8), (clear, -unit * 8), unit))
    if bay.cove:
        arrows.append(_badge(5, half - bay.cove, -bay.cove - unit * 3, unit))
    arrows.append(_arrow(2, (-half, pad * 0.5), (half, pad * 0.5), unit))
    box = f"{-half - pad:.0f} {-high - pad:.0f} {2 * (half + pad):.0f} {high + 2 * pad:.0f}"
    words = f"Bay from the tail, {bay.width:.0f} wide and {top:.0f} high in millimetres"
    return h("svg.sketch", things, arrows, viewBox=box, role="img", aria_label=words)


def _profile(bay: Bay, half: float, top: float, high: float) -> Markup:
    """The outline from the tail: open above, under a canopy, or closed by a roof."""
    walls = h("path.wall", d=f"M{-half} {-top} V0 H{half} V{-top}", fill="none")
    if bay.kind in {"van", "wagon"} or bay.clear_height is None:
        roof = high if bay.clear_height is not None else 0.0
        bend = half * (0.82 if bay.kind == "wagon" else 0.94)
        closed = f"M{-half} {-top * 0.75} L{-bend} {-roof} H{bend} L{half} {-top * 0.75}"
        return h("g", walls, h("path.thin", d=closed, fill="none") if roof else None)
    canopy = f"M{-half} {-top} L{-half * 0.86} {-high} H{half * 0.86} L{half} {-top}"
    return h("g", walls, h("path.thin", d=canopy, fill="none"))


def _edges(bay: Bay) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    level = min(station.height for station in bay.widths)
    rows = sorted((s for s in bay.widths if s.height == level), key=lambda s: s.at)
    stations = [(0.0, rows[0]), *((s.at, s) for s in rows), (bay.length, rows[-1])]
    left = [(x, s.left) for x, s in stations]
    right = [(x, -s.right) for x, s in stations]
    return left, right


def _arch_above(bay: Bay, arch: Arch) -> Markup:
    wall = bay.width / 2.0
    y = -wall if arch.side == "left" else wall - arch.reach
    return h("rect.arch", x=arch.start, y=y, width=arch.end - arch.start, height=arch.reach)


def _area(x: object, y: object, name: str) -> Markup:
    low_x, size_x = getattr(x, "low", 0.0), getattr(x, "size", 0.0)
    high_y, size_y = getattr(y, "high", 0.0), getattr(y, "size", 0.0)
    return h(f"rect.{name}", x=low_x, y=-high_y, width=size_x, height=size_y)


def _door(bay: Bay) -> Markup | None:
    door = bay.opening("tail")
    if door is None:
        return None
    return h("line.door", x1=0, x2=0, y1=-door.width / 2.0, y2=door.width / 2.0)


def _stations(bay: Bay, unit: float) -> list[Markup]:
    level = min(station.height for station in bay.widths)
    found = [
        h("line.station", x1=s.at, x2=s.at, y1=-s.left, y2=s.right)
        for s in bay.widths
        if s.height == level
    ]
    between = [
        h("line.station", x1=s.at, x2=s.at, y1=-s.width / 2.0, y2=s.width / 2.0)
        for s in bay.between
    ]
    badges = [_badge(8, s.at, s.right * 0.62, unit) for s in bay.widths[:1]]
    badges += [_badge(9, s.at, -s.width * 0.1, unit) for s in bay.between[:1]]
    return [*found, *between, *badges]


def _arch_arrows(bay: Bay, unit: float) -> list[Markup]:
    return [
        _badge(10, (a.start + a.end) / 2.0,
               (-1.0 if a.side == "left" else 1.0) * (bay.width / 2.0 - a.reach / 2.0), unit)
        for a in bay.arches
    ]  # fmt: skip


def _ring(points: list[tuple[float, float]], name: str) -> Markup:
    path = " L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return h(f"path.{name}", d=f"M{path} Z")


def _arrow(
    number: int, start: tuple[float, float], end: tuple[float, float], unit: float
) -> Markup:
    (x1, y1), (x2, y2) = start, end
    middle = ((x1 + x2) / 2.0, (y1 + y2) / 2.0)
    return h(
        "g.arrow-line",
        h("line", x1=x1, y1=y1, x2=x2, y2=y2),
        h("circle.end", cx=x1, cy=y1, r=unit * 0.7),
        h("circle.end", cx=x2, cy=y2, r=unit * 0.7),
        _badge(number, *middle, unit),
    )


def _badge(number: int, x: float, y: float, unit: float) -> Markup:
    return h(
        "g.badge",
        h("circle", cx=f"{x:.1f}", cy=f"{y:.1f}", r=f"{unit * 3.1:.1f}"),
        h("text", str(number), x=f"{x:.1f}", y=f"{y + unit * 1.25:.1f}",
          font_size=f"{unit * 3.7:.1f}", text_anchor="middle"),
        class_=f"n{number}",
    )  # fmt: skip
