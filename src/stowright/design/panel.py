"""Making a panel from its place in the block's frame."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypedDict, Unpack

from stowright.design.frame import BlockFrame
from stowright.design.pieces import Piece
from stowright.model.geometry import Axes3, Point2, Point3, Span
from stowright.model.part import Edge, Feature, Release
from stowright.units import snap_down, tidy

__all__ = ["Lie", "PanelWords", "Place3", "on_grid", "panel"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place3:
    """A box in the block's frame: across, depth, up. [mm]."""

    across: Span
    depth: Span
    up: Span


@dataclass(frozen=True, slots=True)
class Lie:
    """How a panel lies: where u, v and the good face point, as signed letters.

    ``a`` across, ``d`` depth, ``h`` up: ``Lie("+d", "+h", "+a")`` is an upright seen from its
    right, its length running into the block.
    """

    u: str
    v: str
    w: str


def on_grid(place: Place3, lie: Lie, *, grid: float) -> Place3:
    """Return the place with the panel's length and width snapped down to the cut grid.

    What is left over lies on both sides across the block, behind, and above: panels keep to the
    face and stand on what is under them.
    """
    spans = {"a": place.across, "d": place.depth, "h": place.up}
    for letter in (lie.u[1], lie.v[1]):
        span = spans[letter]
        exact = span.high - span.low
        size = snap_down(tidy(exact), grid)
        if size == exact and tidy(span.low) == span.low and tidy(span.high) == span.high:
            continue
        low = span.low + (span.size - size) / 2.0 if letter == "a" else span.low
        spans[letter] = Span(low=tidy(low), high=tidy(low + size))
    return Place3(across=spans["a"], depth=spans["d"], up=spans["h"])


class PanelWords(TypedDict, total=False):
    """The describing words of a panel; see ``Piece``."""

    outline: tuple[Point2, ...]
    grain: Literal["long", "free"]
    hand: Literal["", "left", "right"]
    release: Release
    waits_for: str
    edges: tuple[Edge, ...]
    front_edge: Edge | Literal[""]
    features: tuple[Feature, ...]
    origin_note: str
    exposed: bool
    module: str
    opening: str


_LETTERS = {"a": 0, "d": 1, "h": 2}


@lru_cache(maxsize=128)
def _lying(axes: Axes3, lie: Lie) -> tuple[Axes3, tuple[int, int, int], tuple[bool, bool, bool]]:
    """Return how a panel lies in a frame; there are a few such ways.

    That is: where its axes point, along which of across, depth and up each lies, and at which of
    these it begins at the far end.
    """
    signs = (lie.u, lie.v, lie.w)
    one, two, three = (_LETTERS[sign[1]] for sign in signs)
    far = {sign[1] for sign in signs if sign[0] == "-"}
    return (
        (_vector(axes, lie.u), _vector(axes, lie.v), _vector(axes, lie.w)),
        (one, two, three),
        ("a" in far, "d" in far, "h" in far),
    )


def _vector(axes: Axes3, sign: str) -> Point3:
    factor = 1.0 if sign[0] == "+" else -1.0
    x, y, z = axes[_LETTERS[sign[1]]]
    return (factor * x + 0.0, factor * y + 0.0, factor * z + 0.0)


def panel(
    frame: BlockFrame,
    place: Place3,
    lie: Lie,
    *,
    piece_id: str,
    name: str,
    role: str,
    block: str,
    body: str,
    material: str,
    **words: Unpack[PanelWords],
) -> Piece:
    """Return a panel that fills ``place`` and lies as ``lie`` says.

    The part frame's origin is the corner from which u, v and w all run into the panel.
    """
    across, depth, up = spans = (place.across, place.depth, place.up)
    axes, (u, v, w), far = _lying(frame.axes, lie)
    full: PanelWords = {"module": "", "opening": "", **words}
    return Piece(
        id=piece_id,
        name=name,
        role=role,
        block=block,
        body=body,
        material=material,
        origin=frame.point(
            across=across.high if far[0] else across.low,
            depth=depth.high if far[1] else depth.low,
            up=up.high if far[2] else up.low,
        ),
        axes=axes,
        length=tidy(spans[u].size),
        width=tidy(spans[v].size),
        thickness=tidy(spans[w].size),
        **full,
    )
