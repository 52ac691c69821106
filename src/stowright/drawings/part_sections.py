"""Sections through grooves, rebates and housings: one for each different profile.

A section shows the part's edge (or a length round the groove when it lies far from any edge), its
thickness, and the width and depth of what is cut in. The good face is up.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product
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

__all__ = ["Profile", "cutting_planes", "profiles", "section_items"]

_SHOWN = 14.0  # of the part beyond the groove [mm of the part]
_FAR = 45.0  # a groove further from its edge is shown without that edge
_LINE = 6.0
_CLEAR = 6.5  # further out, where figures beside two lines would meet
_NEAR = 1e-6
_ARROW = 3.6
#: How far beyond the groove a plane runs on its two sides, the nearest first. [mm on paper]
_BEYOND = (3.0, 4.2, 5.5, 7.0, 8.5)
_REACHES = tuple(sorted(product(_BEYOND, _BEYOND), key=lambda r: (r[0] + r[1], r)))
#: Where along a groove its cutting plane is tried, the far part first.
_SHARES = tuple(0.02 * k for k in (*range(44, 5, -3), *range(43, 2, -3), *range(48, 2, -3)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A groove as its section shows it.

    Attributes:
        letter: ``A`` for section A–A.
        features: All features of this profile; the first stands for all.
        along: ``u`` when the groove runs along u.
        low, high: Its sides, across its run, in the part's frame. [mm]
        size: The part's size across its run. [mm]
        depth: Of the groove. [mm]
        face: The face it is cut from.
    """

    letter: str
    features: tuple[Feature, ...]
    along: Literal["u", "v"]
    low: float
    high: float
    size: float
    depth: float
    face: str

    @property
    def feature(self) -> Feature:
        """The feature that the section is drawn through."""
        return self.features[0]


def profiles(board: Board) -> tuple[Profile, ...]:
    """Return the different profiles of a part, lettered; alike ones share one section."""
    found: dict[tuple[object, ...], list[Feature]] = {}
    for f in board.part.features:
        if shows_in_section(f, board):
            low, high, size, _ = _across(board, f)
            # a groove far from any edge is shown without one: how far off does not matter
            edge = round(min(low, size - high, _FAR + 1.0), 3)
            found.setdefault((f.face, round(high - low, 3), f.depth, edge), []).append(f)
    return tuple(
        _profile(board, chr(ord("A") + k), tuple(rows)) for k, rows in enumerate(found.values())
    )


def _profile(board: Board, letter: str, features: tuple[Feature, ...]) -> Profile:
    first = features[0]
    low, high, size, along = _across(board, first)
    return Profile(
        letter=letter,
        features=features,
        along=along,
        low=low,
        high=high,
        size=size,
        depth=first.depth,
        face=first.face,
    )


def _across(board: Board, f: Feature) -> tuple[float, float, float, Literal["u", "v"]]:
    r = rectangle_of(f)
    if f.size[0] >= f.size[1]:
        return max(r.v0, 0.0), min(r.v1, board.part.width), board.part.width, "u"
    return max(r.u0, 0.0), min(r.u1, board.part.length), board.part.length, "v"


# The section -------------------------------------------------------------------------------------


def section_items(
    profile: Profile, board: Board, units: Unit, *, scale: float = 1.0
) -> tuple[Item, ...]:
    """Return a section, full size or reduced, its lower left corner near (0, 0)."""
    part = board.part
    low, high = _window(profile)
    flip = profile.along == "v" and part.mirrored

    def at(d: float, w: float) -> Point2:
        return ((high - d if flip else d - low) * scale, w * scale)

    t = part.thickness
    ring = _ring(profile, low, high, t)
    shape = tuple(at(d, w) for d, w in ring)
    items: list[Item] = [Hatch(outer=shape), *_edges(profile, shape, at, low, high)]
    items += _section_dimensions(profile, at, (low, high), t, units)
    return (*items, *_caption(profile, bounds(items), scale))


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
    across = at(0.0, t)[1] + _LINE if good else -_LINE - 2.0
    width = profile.high - profile.low
    mouths = (at(profile.low, mouth), at(profile.high, mouth))
    wide = linear(*mouths, axis="x", line_at=across, value=width, units=units)
    if wide.text_at is not None:  # beside its line: out of the way of the depth's figure
        further = across + _CLEAR if good else across - _CLEAR
        wide = replace(wide, line_at=further)
    items: list[Item] = [wide]
    left, right = sorted((at(low, 0.0)[0], at(high, 0.0)[0]))
    groove = sorted((at(profile.low, 0.0)[0], at(profile.high, 0.0)[0]))
    # The depth stands on the groove's open side, or on the nearer one; the thickness opposite.
    depth_right = groove[1] > (left + right) / 2.0 or groove[0] <= left + _NEAR
    depth_x, thick_x = (right, left) if depth_right else (left, right)
    wall = groove[1] if depth_right else groove[0]
    for start, end, x, value in (
        ((wall, at(0.0, floor)[1]), (depth_x, at(0.0, mouth)[1]), depth_x, profile.depth),
        ((thick_x, 0.0), (thick_x, at(0.0, t)[1]), thick_x, t),
    ):
        outward = _LINE if x == right else -_LINE
        items.append(linear(start, end, axis="y", line_at=x + outward, value=value, units=units))
    return items


def _caption(profile: Profile, box: Bounds, scale: float) -> tuple[Item, ...]:
    head = f"{profile.letter}–{profile.letter} · {scale_text(scale)}"
    if len(profile.features) > 1:
        head += f" · {len(profile.features)} alike"
    purposes = tuple(dict.fromkeys(_purpose(f) for f in profile.features))
    words = "; ".join(purposes) + (", cut from the back" if profile.face == "back" else "")
    lines = wrapped(words, width=max(box.width, 48.0), height=2.5)
    y = box.bottom - 4.0
    texts: list[Item] = [Text(text=head, at=(box.left, y), height=3.5, weight="bold", rise="top")]
    for k, line in enumerate(lines):
        texts.append(Text(text=line, at=(box.left, y - 5.6 - 4.2 * k), height=2.5, rise="top"))
    return tuple(texts)


def _purpose(feature: Feature) -> str:
    kind = "housing" if feature.kind == "slot" else feature.kind
    return feature.purpose if feature.purpose.startswith(kind) else f"{kind} {feature.purpose}"


# The cutting plane -------------------------------------------------------------------------------


def cutting_planes(profile: Profile, board: Board, space: Space) -> tuple[Item, ...]:
    """Return the marks of the cutting planes on the main view, where their letters are free.

    Profiles that lie at different edges are each marked with the same letter, where there is room:
    the caption says how many are alike.
    """
    items: list[Item] = []
    marked: set[tuple[object, ...]] = set()
    for feature in profile.features:
        low, high, _, along = _across(board, feature)
        if (along, low, high) not in marked:
            marked.add((along, low, high))
            one = _profile(board, profile.letter, (feature,))
            items += _cutting_plane(one, board, space)
    if not items:
        items += _plane(profile, board, _SHARES[0])
        space.take(items)
    return tuple(items)


def _cutting_plane(profile: Profile, board: Board, space: Space) -> tuple[Item, ...]:
    for reach in _REACHES:
        for share in _SHARES:
            trial = _plane(profile, board, share, reach)
            if space.free_for(trial):
                space.take(trial)
                return trial
    return ()


def _plane(
    profile: Profile, board: Board, share: float, reach: tuple[float, float] = _REACHES[0]
) -> tuple[Item, ...]:
    r = rectangle_of(profile.feature)
    low, high = _plane_ends(profile, board.scale, reach)
    if profile.along == "u":
        u = r.u0 + share * (r.u1 - r.u0)
        a, b = board.at(u, low), board.at(u, high)
        turn = 90.0
    else:
        v = r.v0 + share * (r.v1 - r.v0)
        a, b = board.at(low, v), board.at(high, v)
        turn = 0.0
    return (
        Line(start=a, end=b, pen="cutting"),
        Symbol(kind="section-arrow", at=a, size=_ARROW, turn=turn, text=profile.letter),
        Symbol(kind="section-arrow", at=b, size=_ARROW, turn=turn, text=profile.letter),
    )


def _plane_ends(profile: Profile, scale: float, beyond: tuple[float, float]) -> tuple[float, float]:
    """Return where a cutting plane ends, in the part's frame; never with a letter on an edge."""
    outside = 3.5 / scale
    low, high = profile.low - beyond[0] / scale, profile.high + beyond[1] / scale
    if low < outside:
        low = -outside
    if high > profile.size - outside:
        high = profile.size + outside
    return low, high
