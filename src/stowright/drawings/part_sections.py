"""Sections through grooves, rebates and housings: one for each different profile.

A section shows the part's edge (or a length round the groove when it lies far from any edge), its
thickness, and the width and depth of what is cut in. The good face is up.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from stowright.drawings.board import Board, rectangle_of
from stowright.drawings.dimensioning import linear
from stowright.drawings.extent import Bounds, bounds
from stowright.drawings.lettering import wrapped
from stowright.drawings.part_dimensions import shows_in_section
from stowright.drawings.scales import scale_text
from stowright.drawings.scene import Hatch, Item, Line, Polyline, Symbol, Text
from stowright.drawings.space import Space
from stowright.model.geometry import Point2
from stowright.model.part import Feature
from stowright.units import Unit

__all__ = ["Profile", "cutting_plane", "profiles", "section_items"]

_SHOWN = 14.0  # of the part beyond the groove [mm of the part]
_FAR = 45.0  # a groove further from its edge is shown without that edge
_LINE = 6.0
_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A groove as its section shows it.

    Attributes:
        letter: ``A`` for section A–A.
        feature: The feature that stands for all of this profile.
        count: How many there are.
        along: ``u`` when the groove runs along u.
        low, high: Its sides, across its run, in the part's frame. [mm]
        size: The part's size across its run. [mm]
        depth: Of the groove. [mm]
        face: The face it is cut from.
    """

    letter: str
    feature: Feature
    count: int
    along: Literal["u", "v"]
    low: float
    high: float
    size: float
    depth: float
    face: str


def profiles(board: Board) -> tuple[Profile, ...]:
    """Return the different profiles of a part, lettered."""
    found: dict[tuple[object, ...], list[Feature]] = {}
    for f in board.part.features:
        if shows_in_section(f, board):
            low, high, size, along = _across(board, f)
            edge = min(low, size - high)
            key = (f.kind, f.face, round(high - low, 3), f.depth, round(edge, 3), along, f.purpose)
            found.setdefault(key, []).append(f)
    made = []
    for k, rows in enumerate(found.values()):
        low, high, size, along = _across(board, rows[0])
        made.append(
            Profile(
                letter=chr(ord("A") + k),
                feature=rows[0],
                count=len(rows),
                along=along,
                low=low,
                high=high,
                size=size,
                depth=rows[0].depth,
                face=rows[0].face,
            )
        )
    return tuple(made)


def _across(board: Board, f: Feature) -> tuple[float, float, float, Literal["u", "v"]]:
    r = rectangle_of(f)
    if f.size[0] >= f.size[1]:
        return max(r.v0, 0.0), min(r.v1, board.part.width), board.part.width, "u"
    return max(r.u0, 0.0), min(r.u1, board.part.length), board.part.length, "v"


# The section -------------------------------------------------------------------------------------


def section_items(profile: Profile, board: Board, units: Unit) -> tuple[Item, ...]:
    """Return a section at full size (thick parts included), its lower left corner near (0, 0)."""
    part = board.part
    low, high = _window(profile)
    flip = profile.along == "v" and part.mirrored

    def at(d: float, w: float) -> Point2:
        return (high - d, w) if flip else (d - low, w)

    t = part.thickness
    ring = _ring(profile, low, high, t)
    shape = tuple(at(d, w) for d, w in ring)
    items: list[Item] = [Hatch(outer=shape), *_edges(profile, shape, at, low, high)]
    items += _section_dimensions(profile, at, (low, high), t, units)
    box = bounds(items)
    return (*items, *_caption(profile, box))


def _window(profile: Profile) -> tuple[float, float]:
    """Return the stretch of the part that is shown."""
    low, high = profile.low - _SHOWN, profile.high + _SHOWN
    if profile.low <= _FAR:
        low = 0.0
    if profile.size - profile.high <= _FAR:
        high = profile.size
    return max(low, 0.0), min(high, profile.size)


def _ring(profile: Profile, low: float, high: float, t: float) -> tuple[Point2, ...]:
    """Return the cut shape, counter-clockwise; a groove at an edge makes a rebate."""
    a, b, deep = profile.low, profile.high, profile.depth
    if profile.face == "back":
        bottom: tuple[Point2, ...] = ((low, 0.0), (a, 0.0), (a, deep), (b, deep), (b, 0.0))
        ring: tuple[Point2, ...] = (*bottom, (high, 0.0), (high, t), (low, t))
    else:
        top: tuple[Point2, ...] = ((b, t), (b, t - deep), (a, t - deep), (a, t))
        ring = ((low, 0.0), (high, 0.0), (high, t), *top, (low, t))
    return tuple(p for k, p in enumerate(ring) if p != ring[k - 1] and not _stub(ring, k))


def _stub(ring: tuple[Point2, ...], k: int) -> bool:
    """Return whether a point only doubles back, as at a rebate's open side."""
    (x0, _), (x1, _), (x2, _) = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
    return abs(x0 - x1) < _NEAR and abs(x1 - x2) < _NEAR


def _edges(
    profile: Profile,
    shape: tuple[Point2, ...],
    at: Callable[[float, float], Point2],
    low: float,
    high: float,
) -> list[Item]:
    """Return the cut outline, its broken-off ends in a thin line."""
    broken = {
        at(d, 0.0)[0] for d, is_end in ((low, low > 0.0), (high, high < profile.size)) if is_end
    }
    items: list[Item] = []
    for a, b in zip(shape, (*shape[1:], shape[0]), strict=True):
        level = abs(a[0] - b[0]) < _NEAR
        if level and any(abs(a[0] - x) < _NEAR for x in broken):
            items.append(_break(a, b))
        else:
            items.append(Line(start=a, end=b, pen="visible"))
    return items


def _break(a: Point2, b: Point2) -> Polyline:
    """Return a break line: thin, with a kink in its middle, a little longer than the cut."""
    x = a[0]
    low, high = min(a[1], b[1]) - 1.0, max(a[1], b[1]) + 1.0
    middle = (low + high) / 2.0
    points = ((x, low), (x, middle - 1.2), (x - 1.0, middle - 0.4), (x + 1.0, middle + 0.4))
    return Polyline(points=(*points, (x, middle + 1.2), (x, high)), pen="dimension")


def _section_dimensions(
    profile: Profile,
    at: Callable[[float, float], Point2],
    window: tuple[float, float],
    t: float,
    units: Unit,
) -> list[Item]:
    low, high = window
    good = profile.face != "back"
    mouth, floor = (t, t - profile.depth) if good else (0.0, profile.depth)
    across = t + _LINE if good else -_LINE - 2.0
    width = profile.high - profile.low
    items: list[Item] = [
        linear(
            at(profile.low, mouth),
            at(profile.high, mouth),
            axis="x",
            line_at=across,
            value=width,
            units=units,
        )
    ]
    left, right = sorted((at(low, 0.0)[0], at(high, 0.0)[0]))
    solid_left = at(profile.low, 0.0)[0] > left + _NEAR and at(profile.high, 0.0)[0] > left + _NEAR
    groove = sorted((at(profile.low, 0.0)[0], at(profile.high, 0.0)[0]))
    depth_right = groove[1] > (left + right) / 2.0 or not solid_left
    depth_x, thick_x = (right, left) if depth_right else (left, right)
    edge_of_groove = groove[1] if depth_right else groove[0]
    items.append(
        linear(
            (edge_of_groove, floor),
            (max(depth_x, edge_of_groove) if depth_right else depth_x, mouth),
            axis="y",
            line_at=depth_x + (_LINE if depth_right else -_LINE),
            value=profile.depth,
            units=units,
        )
    )
    items.append(
        linear(
            (thick_x, 0.0),
            (thick_x, t),
            axis="y",
            line_at=thick_x + (-_LINE if depth_right else _LINE),
            value=t,
            units=units,
        )
    )
    return items


def _caption(profile: Profile, box: Bounds) -> tuple[Item, ...]:
    head = f"{profile.letter}–{profile.letter} · {scale_text(1.0)}"
    if profile.count > 1:
        head += f" · {profile.count} alike"
    words = wrapped(profile.feature.purpose, width=60.0, height=2.5)
    side = "cut from the back" if profile.face == "back" else "cut from the good face"
    lines = (*words, side)
    y = box.bottom - 5.0
    texts: list[Item] = [Text(text=head, at=(box.left, y), height=3.5, weight="bold", rise="top")]
    for k, line in enumerate(lines):
        texts.append(Text(text=line, at=(box.left, y - 6.0 - 4.2 * k), height=2.5, rise="top"))
    return tuple(texts)


# The cutting plane -------------------------------------------------------------------------------


def cutting_plane(profile: Profile, board: Board, space: Space) -> tuple[Item, ...]:
    """Return the marks of the cutting plane on the main view, where its letters are free."""
    trial: tuple[Item, ...] = ()
    for share in (0.88, 0.8, 0.72, 0.62, 0.5, 0.38, 0.28, 0.2, 0.12, 0.94, 0.06):
        trial = _plane(profile, board, share)
        if space.free_for(trial):
            break
    space.take(trial)
    return trial


def _plane(profile: Profile, board: Board, share: float) -> tuple[Item, ...]:
    r = rectangle_of(profile.feature)
    reach = 3.0 / board.scale
    if profile.along == "u":
        u = r.u0 + share * (r.u1 - r.u0)
        a, b = board.at(u, profile.low - reach), board.at(u, profile.high + reach)
        turn = 90.0
    else:
        v = r.v0 + share * (r.v1 - r.v0)
        a, b = board.at(profile.low - reach, v), board.at(profile.high + reach, v)
        turn = 0.0
    return (
        Line(start=a, end=b, pen="cutting"),
        Symbol(kind="section-arrow", at=a, size=3.6, turn=turn, text=profile.letter),
        Symbol(kind="section-arrow", at=b, size=3.6, turn=turn, text=profile.letter),
    )
