"""Where loose pieces stand, each from two datums: on the load floor, and under and beside the deck.

Seen from above, the tail below. Places along run from the inner face of the shut tailgate, places
across from the bay's centre line, to the left positive. A piece's own size is on its drawing; here
its edges towards the tail and its ends are given, and middles of anchors.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stowright.drawings.bay_lines import Note, anchor_marks, plan_marks
from stowright.drawings.dimensioning import running
from stowright.drawings.extent import Bounds, bounds, framed
from stowright.drawings.hold_down_plan import hold_down_figure, is_crowded
from stowright.drawings.lettering import wrapped
from stowright.drawings.ortho import silhouette
from stowright.drawings.part_notes import Tip, led_note
from stowright.drawings.placing_ground import FROM_ABOVE, bay_outline, from_above, module_outlines
from stowright.drawings.scales import ALL_SCALES, scale_text
from stowright.drawings.scene import Item, Line, Polyline, Region, Running, Scene, Text
from stowright.drawings.space import Space
from stowright.errors import OutOfRangeError
from stowright.model.design import Design
from stowright.model.geometry import Point2, Point3
from stowright.model.part import PlacedPart
from stowright.units import Unit, format_length

__all__ = ["LOOSE_ROLES", "extent", "placing_figures"]

_LARGEST = 0.1
_MARGIN = 1.0
_LINE, _AROUND = 6.0, 30.0
_LEAST_WIDE = 110.0  # for the words over a plan
_NOTE = 2.5
#: A piece whose lowest point is no higher than this stands on the floor. [mm]
_ON_FLOOR = 1.0
_FLOOR_ROLES = frozenset({"packer", "floor-bearer", "side-packing", "bearer", "wing-leg", "infill"})
_TOP_ROLES = frozenset(
    {"deck", "bearer", "joint-strip", "wing-cleat", "wing", "wing-lid", "wing-leg", "infill"}
)
#: Where a piece's mark may be led to, as shares of its length and width: its middle first.
_SPOTS = ((0.5, 0.5), (0.5, 0.2), (0.5, 0.8), (0.5, 0.35), (0.5, 0.65), (0.2, 0.5), (0.8, 0.5))
#: Drawn as what they lie on or under: outlines only.
_SHEETS = frozenset({"deck", "wing", "wing-lid"})
#: Pieces whose place no joint gives: each is in one of the plans.
LOOSE_ROLES = _FLOOR_ROLES | _TOP_ROLES
_DATUMS = (
    "0 is the inner face of the shut tailgate or tail doors, and the bay's centre line; "
    "left is plus."
)
_ANCHORS = "Left and below: pieces and modules. Right and above: middles of anchors."
_NO_ANCHORS = "Left and below: pieces and modules. The hold-downs have a plan of their own."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What one placing plan shows: pieces on the floor or above it, with anchors or without."""

    name: str
    title: str
    pieces: tuple[PlacedPart, ...]
    floor: bool
    anchors: bool = False


def placing_figures(design: Design, *, units: Unit, room: tuple[float, float]) -> tuple[Scene, ...]:
    """Return the plan of the load floor, and that under the deck where there is one.

    Where the floor's hold-downs are many they have a plan of their own, with a table.

    Args:
        design: The design.
        units: Unit of print.
        room: Width and height that each may take. [mm]

    Raises:
        OutOfRangeError: If one does not fit the room even at 1:100.
    """
    floor, *others = _plans(design)
    found = [_fitted(design, floor, units, room)]
    if not floor.anchors:
        found.append(hold_down_figure(design, pieces=floor.pieces, units=units, room=room))
    return (*found, *(_fitted(design, plan, units, room) for plan in others))


def _plans(design: Design) -> Iterator[_Plan]:
    low = tuple(p for p in design.placed if p.role in _FLOOR_ROLES and extent(p)[2][0] <= _ON_FLOOR)
    sides = tuple(p for p in design.placed if p.role == "side-packing" and p not in low)
    yield _Plan(
        name="placing-floor",
        title="Places on the load floor",
        pieces=(*low, *sides),
        floor=True,
        anchors=not is_crowded(design),
    )
    high = tuple(p for p in design.placed if p.role in _TOP_ROLES)
    if high:
        words = "Places of deck, bearers and wings"
        yield _Plan(name="placing-deck", title=words, pieces=high, floor=False)


def _fitted(design: Design, plan: _Plan, units: Unit, room: tuple[float, float]) -> Scene:
    """Return a plan at the largest scale that fits; crowded by modules' edges, without those."""
    scales = [s for s in ALL_SCALES if s <= _LARGEST]
    for modules, scale in ((modules, scale) for modules in (True, False) for scale in scales):
        board = _Board(design=design, plan=plan, units=units, scale=scale, modules=modules)
        items = board.items()
        scene = framed(
            items, name=plan.name, title=plan.title, view="placing", scale=scale, margin=_MARGIN,
            room=room,
        )  # fmt: skip
        if scene is not None:
            return scene
    raise OutOfRangeError("room", room[0], "large enough for the plan at 1:100")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """A plan at one scale, in paper millimetres about the bay's origin.

    Attributes:
        modules: Whether the edges of modules are dimensioned too.
    """

    design: Design
    plan: _Plan
    units: Unit
    scale: float
    modules: bool

    def items(self) -> tuple[Item, ...]:
        """Return everything: bay, pieces, dimensions, names, title."""
        areas, notes = plan_marks(self.design, self.flat) if self.plan.floor else ([], [])
        signs, _ = anchor_marks(self.design, self.flat) if self.plan.anchors else ([], [])
        ground = (bay_outline(self.design, self.scale), module_outlines(self.design, self.scale))
        items: list[Item] = [*ground[0], *areas, *ground[1], *self._shapes(), *signs]
        box = bounds(items)
        low, high = (0.0, box.bottom - 2.0), (0.0, box.top + 2.0)
        items.append(Line(start=low, end=high, pen="centre"))
        runs = self._dimensions(bounds(items))
        items += runs
        rim = bounds(items)
        space = Space(
            Bounds(
                left=rim.left - _AROUND,
                right=rim.right + _AROUND,
                bottom=rim.bottom,
                top=rim.top + _AROUND,
            )
        )
        space.take(items)
        for note in (*self._names(), *notes):
            tips = [Tip(at, 0.0) for at in (note.at, *note.others)]
            leader = replace(led_note(note.lines, tips, space), head="dot")
            space.take((leader,))
            items.append(leader)
        return (*items, *self._title(bounds(items)))

    def flat(self, point: Point3) -> Point2:
        """Return a point of the bay on paper. [mm]."""
        return from_above(point, self.scale)

    def _shapes(self) -> Iterator[Item]:
        """Yield the pieces: sheets as outlines, all else filled, the highest last."""
        order = sorted(self.plan.pieces, key=lambda p: (p.role in _SHEETS, extent(p)[2], p.id))
        for piece in order:
            part = self.design.part(piece.mark)
            shape = silhouette(piece, part, FROM_ABOVE).shape
            ring = tuple(
                (float(x) * self.scale, float(y) * self.scale)
                for x, y in shape.exterior.coords[:-1]
            )
            if piece.role in _SHEETS:
                yield Polyline(points=ring, closed=True, pen="outline")
            else:
                yield Region(outer=ring, fill="wood", pen="outline", about=piece.mark)

    def _dimensions(self, box: Bounds) -> list[Running]:
        """Return pieces at the left and below, anchors at the right and above."""
        along, across = self._places()
        floor = (
            [a for a in self.design.anchors if a.surface == "floor"] if self.plan.anchors else []
        )
        spots = [(self.flat((a.x, a.y, 0.0)), a.x, a.y) for a in floor]
        zero = (0.0, 0.0)
        found = [
            running(
                (box.left, 0.0),
                along,
                axis="y",
                line_at=box.left - _LINE,
                units=self.units,
                side=-1,
            ),
            running(
                (0.0, box.bottom),
                across,
                axis="x",
                line_at=box.bottom - _LINE,
                units=self.units,
                side=-1,
            ),
            running(
                (box.right, zero[1]),
                [(at, x) for at, x, _ in spots],
                axis="y",
                line_at=box.right + _LINE,
                units=self.units,
                side=1,
            ),
            running(
                (zero[0], box.top),
                [(at, y) for at, _, y in spots],
                axis="x",
                line_at=box.top + _LINE,
                units=self.units,
                side=1,
            ),
        ]
        return [run for run in found if run is not None]

    def _places(self) -> tuple[list[tuple[Point2, float]], list[tuple[Point2, float]]]:
        """Return the places along and across that pieces and modules start or end at."""
        along: list[tuple[Point2, float]] = []
        across: list[tuple[Point2, float]] = []
        boxes = [(extent(p), p.role in _SHEETS) for p in self.plan.pieces]
        if self.plan.floor and self.modules:
            modules = (m.box for b in self.design.blocks for m in b.modules)
            boxes += [
                (((m.x.low, m.x.high), (m.y.low, m.y.high), (0.0, 0.0)), True) for m in modules
            ]
        for ((x0, x1), (y0, y1), _), both in boxes:
            along += [(self.flat((x, y1, 0.0)), x) for x in ((x0, x1) if both else (x0,))]
            across += [(self.flat((x0, y, 0.0)), y) for y in (y0, y1)]
        return along, across

    def _names(self) -> Iterator[Note]:
        """Yield each piece's mark and each anchor's name, and what it names."""
        for piece in self.plan.pieces:
            (x0, x1), (y0, y1), _ = extent(piece)
            spots = [self.flat((x0 + a * (x1 - x0), y0 + b * (y1 - y0), 0.0)) for a, b in _SPOTS]
            yield Note(at=spots[0], lines=(piece.mark,), others=tuple(spots[1:]))
        if self.plan.anchors:
            for anchor in self.design.anchors:
                if anchor.surface == "floor":
                    yield Note(at=self.flat((anchor.x, anchor.y, 0.0)), lines=(anchor.id,))

    def _heights(self) -> str:
        """Return how high the pieces lie that do not stand on the floor, alike ones together."""
        rows: dict[str, list[str]] = {}
        for piece in self.plan.pieces:
            low, high = extent(piece)[2]
            sheet = piece.role in _SHEETS
            if sheet or low > _ON_FLOOR:
                what = "upper face" if sheet else "underside"
                said = f"{what} {format_length(high if sheet else low, self.units)} up"
                rows.setdefault(said, []).append(piece.mark)
        return "; ".join(f"{', '.join(dict.fromkeys(m))}: {said}" for said, m in rows.items())

    def _title(self, box: Bounds) -> Iterator[Text]:
        heights = wrapped(self._heights(), width=max(box.width, _LEAST_WIDE), height=_NOTE)
        rows = (
            (f"{self.plan.title} · {scale_text(self.scale)}", 3.5),
            (_DATUMS, _NOTE),
            *(
                ((_ANCHORS if self.plan.anchors else _NO_ANCHORS, _NOTE),)
                if self.plan.floor
                else ()
            ),
            *((line, _NOTE) for line in heights if line),
        )
        for k, (words, height) in enumerate(rows):
            yield Text(
                text=words,
                at=(box.left, box.top + 3.5 + 4.6 * (len(rows) - 1 - k)),
                height=height,
                weight="bold" if k == 0 else "regular",
            )


def extent(
    placed: PlacedPart,
) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """Return the lowest and highest place of a piece on each axis of the bay. [mm]."""
    ends = (
        placed.point(0.0, 0.0, 0.0),
        placed.point(placed.length, placed.width, placed.thickness),
    )
    x, y, z = ((min(a, b), max(a, b)) for a, b in zip(*ends, strict=True))
    return x, y, z
