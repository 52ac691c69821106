"""Parts, their features, where each piece stands, and the fixings that hold them. Millimetres.

Part frame: the good face is up (w = thickness), the origin lies at the corner that is nearest the
block's face and lowest (for parts of the vehicle's top and bottom: nearest the face and leftmost
as you look at it); u runs along ``length``, v along ``width``. ``mirrored`` parts are seen from
their good face with u running to the left: a left and a right side share all coordinates and
differ in hand only.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stowright.model.geometry import Axes3, Point2, Point3
from stowright.model.quick_made import quick_made

__all__ = [
    "EDGES",
    "TAB_SLOT",
    "Edge",
    "Feature",
    "FeatureFace",
    "FeatureKind",
    "Joint",
    "Part",
    "PlacedFixing",
    "PlacedPart",
    "Relief",
    "Tab",
    "is_tab_slot",
]

type FeatureKind = Literal[
    "hole", "slot", "groove", "rebate", "notch", "hand-hole", "pilot", "cut-out", "vent"
]
#: ``u0``/``u1``: the edges at u = 0 and u = length; ``v0``/``v1``: at v = 0 and v = width.
type FeatureFace = Literal["good", "back", "u0", "u1", "v0", "v1"]
type Hand = Literal["", "left", "right"]
type Release = Literal["A", "B"]
type Edge = Literal["u0", "u1", "v0", "v1"]

EDGES: tuple[Edge, ...] = ("u0", "u1", "v0", "v1")


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """Something made in a part.

    Attributes:
        kind: What it is.
        face: The face it is made from.
        at: On a face: (u, v) of a hole's centre or of a rectangle's lower corner. On an edge:
            (distance along the edge from its origin end, distance up from the back face).
        size: (diameter,) of a round hole, also on an edge; (along u, along v) of a rectangle.
        depth: Depth from the face; the thickness (or more) is through.
        through: True when it goes right through.
        radius: Corner radius of a rectangle, 0 for square.
        purpose: What it is for, in words; holes of one purpose are noted together.
        fixing: Id of the fixing it serves, or empty.
        starts: In an edge with tabs: how far behind the tabs' ends the wood begins that it is made
            in (the shoulder); ``depth`` counts from there.
    """

    kind: FeatureKind
    face: FeatureFace
    at: Point2
    size: tuple[float, ...]
    depth: float
    through: bool
    purpose: str
    radius: float = 0.0
    fixing: str = ""
    starts: float = 0.0


#: How the purpose of every slot for a tab begins.
TAB_SLOT = "slot for a tab of the "


def is_tab_slot(feature: Feature) -> bool:
    """Return whether a feature is a slot for a tab of another part."""
    return feature.kind == "slot" and feature.purpose.startswith(TAB_SLOT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tab:
    """A tongue of the part's own wood that goes into a slot of another part.

    Attributes:
        edge: The edge it stands out from.
        start, end: Where it lies along that edge.
        reach: How far it stands out from the shoulder.
    """

    edge: Edge
    start: float
    end: float
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """A round cut that clears an inside corner, so that a square corner seats in it.

    Attributes:
        corner: The inside corner, which the cut's rim passes through.
        centre: Of the cut.
        diameter: Of the cut: the cutter's.
        face, depth, through: As of the feature whose corner it is; through at the outline.
    """

    corner: Point2
    centre: Point2
    diameter: float
    face: Literal["good", "back"] = "good"
    depth: float = 0.0
    through: bool = True


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One different part, however many copies.

    Attributes:
        mark: Short and unique: ``A1``.
        name: In trade words: ``side, left``.
        role: Stable word for programs: ``carcass-side``, ``drawer-side``, ``drawer-front`` …
        block: Block (or deck) it belongs to.
        module: Module within the block, empty when it spans them.
        material: Catalogue name.
        length: Along the grain where there is one.
        width: Across it.
        thickness: The thickness the design was made with.
        outline: Contour after notches and shaping, counter-clockwise, in (u, v). A plain
            rectangle when nothing is cut away.
        quantity: Copies.
        grain: ``long`` (along length) or ``free``.
        hand: ``left``, ``right`` or empty.
        mirrored: True when u runs to the left as seen from the good face.
        release: ``A`` (cut now) or ``B`` (cut after a reading).
        waits_for: What a release B part waits for.
        edges: Edges to seal or band (visible or exposed).
        front_edge: Which edge is nearest the block's face, empty when none.
        features: Everything made in it.
        mass_kg: Mass of one copy, openings taken off.
        origin_note: Where its origin lies, in words, as stated on the drawing.
        tabs: Tongues along its edges; ``length`` and ``width`` include them.
        reliefs: Inside corners that the design had relieved for its cutter.
    """

    mark: str
    name: str
    role: str
    block: str
    module: str
    material: str
    length: float
    width: float
    thickness: float
    outline: tuple[Point2, ...]
    quantity: int
    grain: Literal["long", "free"]
    hand: Hand
    mirrored: bool
    release: Release
    waits_for: str
    edges: tuple[Edge, ...]
    front_edge: Edge | Literal[""]
    features: tuple[Feature, ...]
    mass_kg: float
    origin_note: str
    tabs: tuple[Tab, ...] = ()
    reliefs: tuple[Relief, ...] = ()


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPart:
    """One piece standing in the bay.

    Attributes:
        id: Unique, readable: ``drawers/1/side-left``.
        mark, copy: Which part, and which copy of it (from 1).
        body: ``fixed`` or the name of the opening whose drawer, tray, lid or door moves it.
        origin: Where the part frame's origin lies.
        axes: Where u, v, w point. A mirrored part's axes are left-handed.
        length, width, thickness: As the part's, for convenience.
        shoulders: How far the part's shoulders lie inside its u0, u1, v0 and v1 ends: what its
            tabs stand out there.
    """

    id: str
    mark: str
    copy: int
    body: str
    block: str
    module: str
    opening: str
    role: str
    origin: Point3
    axes: Axes3
    length: float
    width: float
    thickness: float
    shoulders: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)

    def without_tabs(self) -> PlacedPart:
        """Return the piece from shoulder to shoulder: what spans, and what meets its neighbours."""
        u0, u1, v0, v1 = self.shoulders
        if not any(self.shoulders):
            return self
        return replace(
            self,
            origin=self.point(u0, v0, 0.0),
            length=self.length - u0 - u1,
            width=self.width - v0 - v1,
            shoulders=(0.0, 0.0, 0.0, 0.0),
        )

    def point(self, u: float, v: float, w: float) -> Point3:
        """Return the bay coordinates of a point of the part frame."""
        (ux, uy, uz), (vx, vy, vz), (wx, wy, wz) = self.axes
        ox, oy, oz = self.origin
        return (
            ox + u * ux + v * vx + w * wx,
            oy + u * uy + v * vy + w * wy,
            oz + u * uz + v * vz + w * wz,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two parts joined.

    Attributes:
        kind: ``butt``, ``rebate``, ``housing``, ``tab-and-slot``, ``groove``, ``planted``,
            ``bolted``, ``cleat``, ``runner``, ``hinge``.
        parts: Ids of the placed parts, the one that receives the other's edge first.
        glued: Whether it is glued.
        fixing: Fixing type, empty for glue alone.
        count: How many fixings.
        note: What the handbook's rules do not cover here, or how it is made; may be empty.
    """

    id: str
    kind: str
    parts: tuple[str, str]
    glued: bool
    fixing: str
    count: int
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedFixing:
    """One fixing in its place.

    Attributes:
        id: Unique: ``f0012``.
        type: Catalogue name.
        kind: ``screw``, ``bolt``, ``nut``, ``washer``, ``plate``, ``insert``.
        length: Its length (0 for nuts and washers).
        joins: Ids of the placed parts it goes through, head first; ``vehicle`` or a runner id
            may stand in the row.
        at: Where its head sits, in the bay.
        direction: Unit vector, head to point.
        pilot: Pilot or clearance diameter, 0 for none.
        step: Stage it is fitted in: ``carcass``, ``runners``, ``drawer``, ``install`` …
        joint: Id of the joint it serves.
        set: Nuts, washers and plates carry the id of their bolt here.
    """

    id: str
    type: str
    kind: str
    length: float
    joins: tuple[str, ...]
    at: Point3
    direction: Point3
    pilot: float
    step: str
    joint: str
    set: str = ""
