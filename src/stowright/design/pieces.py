"""Drafts inside the design room: pieces that stand in the bay before they have marks.

Every maker (carcass, drawer, deck, wings, packers) returns ``Piece`` and ``JointDraft`` values;
``fixings`` turns the joint drafts into placed fixings and features; ``marks`` groups equal pieces
into parts. A piece is a flat panel whose length, width and thickness lie along the bay's axes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from stowright.model.geometry import Axes3, Box, Point2, Point3, Span
from stowright.model.part import Edge, Feature, Release, Relief, Tab
from stowright.model.quick_made import quick_made

__all__ = [
    "LOOSE",
    "JointDraft",
    "Piece",
    "box_of",
    "ends_of",
    "mass_kg_of",
    "rectangle",
    "touching",
    "with_features",
]

#: Panels this close are joined: the cut grid leaves no more than its own step between them. [mm]
LOOSE = 1.0

type JointKind = Literal[
    "butt",  # an edge of the second part against a face of the first: screwed through the first
    "rebate",
    "housing",
    "tab-and-slot",  # like butt, with tabs of the second part in slots of the first
    "groove",  # a bottom held in grooves: no fixing
    "planted",  # face on face, screwed through the first into the second
    "lamination",  # face on face, like planted, where the second's good face must stay whole
    "bolted",  # two uprights side by side, bolted through
    "rest",  # stands on it: packer under a floor, deck on a rail
]


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One panel in the bay.

    Attributes:
        id: Unique and readable: ``drawers/1/side-left``, ``meters/box-side-left``.
        name: Trade words: ``side, left``.
        role: Stable word: ``carcass-side``, ``carcass-floor``, ``carcass-rail``, ``carcass-top``,
            ``carcass-back``, ``floor-rail``, ``back-rail``, ``partition``, ``shelf``,
            ``stack-rail``, ``drawer-side``, ``drawer-inner-front``, ``drawer-inner-back``,
            ``drawer-bottom``, ``drawer-front``, ``tray-cheek``, ``tray-base``, ``tray-rail``,
            ``door``, ``blank``, ``deck``, ``joint-strip``, ``bearer``, ``wing``, ``wing-lid``,
            ``wing-cleat``, ``wing-leg``, ``infill``, ``packer``, ``floor-bearer``,
            ``side-packing``, ``divider``.
        origin, axes: Where the part frame stands (see ``model.part``).
        length, width, thickness: Along u, v, w.
        outline: Contour in (u, v) when it is not the plain rectangle.
        lined: Thickness of lining on faces, for the sums only.
        tabs: Tongues that it gets along its edges. Until ``tab_shapes.finished`` the piece ends
            at its shoulders: length, outline and features know nothing of its tabs.
        reliefs: Inside corners of slots and tabs that are relieved for the cutter.
    """

    id: str
    name: str
    role: str
    block: str
    module: str
    opening: str
    body: str
    material: str
    origin: Point3
    axes: Axes3
    length: float
    width: float
    thickness: float
    outline: tuple[Point2, ...] = ()
    grain: Literal["long", "free"] = "long"
    hand: Literal["", "left", "right"] = ""
    release: Release = "A"
    waits_for: str = ""
    edges: tuple[Edge, ...] = ()
    front_edge: Edge | Literal[""] = ""
    features: tuple[Feature, ...] = ()
    origin_note: str = "face-side lower corner, good face up"
    exposed: bool = field(default=False)
    tabs: tuple[Tab, ...] = ()
    reliefs: tuple[Relief, ...] = ()
    _box: Box | None = field(default=None, init=False, repr=False, compare=False)

    @property
    def contour(self) -> tuple[Point2, ...]:
        """The contour in (u, v), counter-clockwise; the plain rectangle unless shaped."""
        return self.outline or rectangle(length=self.length, width=self.width)

    @property
    def box(self) -> Box:
        """The axis-aligned box it fills in the bay. [mm].

        Kept: each piece is asked for its box many times while its neighbours are made.
        """
        if self._box is None:
            box = box_of(self.origin, self.axes, (self.length, self.width, self.thickness))
            object.__setattr__(self, "_box", box)
            return box
        return self._box

    def with_added(self, features: tuple[Feature, ...]) -> Piece:
        """Return the piece with more features; written out, which takes half of ``replace``."""
        return Piece(
            id=self.id,
            name=self.name,
            role=self.role,
            block=self.block,
            module=self.module,
            opening=self.opening,
            body=self.body,
            material=self.material,
            origin=self.origin,
            axes=self.axes,
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            outline=self.outline,
            grain=self.grain,
            hand=self.hand,
            release=self.release,
            waits_for=self.waits_for,
            edges=self.edges,
            front_edge=self.front_edge,
            features=(*self.features, *features) if self.features else features,
            origin_note=self.origin_note,
            exposed=self.exposed,
            tabs=self.tabs,
            reliefs=self.reliefs,
        )

    def to_local(self, point: Point3) -> Point3:
        """Return (u, v, w) of a point of the bay."""
        (x, y, z), (ox, oy, oz) = point, self.origin
        dx, dy, dz = x - ox, y - oy, z - oz
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = self.axes
        return (
            0.0 + dx * ax + dy * ay + dz * az,  # 0.0: no minus zero in print
            0.0 + dx * bx + dy * by + dz * bz,
            0.0 + dx * cx + dy * cy + dz * cz,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class JointDraft:
    """Two pieces that are to be joined.

    Attributes:
        receiver: Id of the piece the fixing goes through (its face meets the other).
        entering: Id of the piece whose edge (or face) it bites into.
        kind: How.
        glued: Whether glue is used.
        step: Stage it is made in: ``carcass``, ``drawer``, ``front``, ``modules``, ``deck``,
            ``wings``, ``packers``.
        purpose: In words: "side to floor".
        removable: True when it must come apart again (bolts or screws without glue).
        note: Why it is not made as the job asks; may be empty.
    """

    receiver: str
    entering: str
    kind: JointKind
    glued: bool
    step: str
    purpose: str
    removable: bool = False
    note: str = ""


def rectangle(*, length: float, width: float) -> tuple[Point2, ...]:
    """Return the contour of a plain rectangle, counter-clockwise from the origin."""
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def box_of(origin: Point3, axes: Axes3, size: Point3) -> Box:
    """Return the axis-aligned box of a panel whose axes lie along the bay's."""
    (x0, y0, z0), (x1, y1, z1) = ends_of(origin, axes, size)
    return Box(x=Span(low=x0, high=x1), y=Span(low=y0, high=y1), z=Span(low=z0, high=z1))


def ends_of(origin: Point3, axes: Axes3, size: Point3) -> tuple[Point3, Point3]:
    """Return the lowest and the highest corner of a panel whose axes lie along the bay's."""
    (ux, uy, uz), (vx, vy, vz), (wx, wy, wz) = axes
    u, v, w = size
    x, y, z = origin
    dx, dy, dz = ux * u + vx * v + wx * w, uy * u + vy * v + wy * w, uz * u + vz * v + wz * w
    return (
        (x + min(0.0, dx), y + min(0.0, dy), z + min(0.0, dz)),
        (x + max(0.0, dx), y + max(0.0, dy), z + max(0.0, dz)),
    )


def touching(one: Box, two: Box) -> bool:
    """Whether two boxes share a face of some area, the cut grid's slack allowed for."""
    x, y, z = one.x.overlap(two.x), one.y.overlap(two.y), one.z.overlap(two.z)
    return abs(min(x, y, z)) < LOOSE and sorted((x, y, z))[1] > 1.0


def mass_kg_of(*, volume_mm3: float, density_kg_m3: float) -> float:
    """Return mass from volume. [kg]."""
    return volume_mm3 * 1.0e-9 * density_kg_m3


def with_features(
    pieces: Iterable[Piece], added: Iterable[tuple[str, Feature]]
) -> tuple[Piece, ...]:
    """Return the pieces with features added by piece id, in the order given."""
    by_id: dict[str, list[Feature]] = {}
    for piece_id, feature in added:
        by_id.setdefault(piece_id, []).append(feature)
    return tuple(
        piece.with_added(tuple(by_id[piece.id])) if piece.id in by_id else piece for piece in pieces
    )
