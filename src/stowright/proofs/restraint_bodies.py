"""The bodies that have to stay put: each carcass on the load floor with what rests on it.

A carcass carries its own pieces, its runners and contents, and its share of what spans several:
decks, wings, packers, by the area above it, or the nearest carcass where nothing overlaps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from stowright.design.deck_cargo import cargo_lumps
from stowright.design.masses import Lump, centre_of, contents_lumps, part_lumps, runner_lumps
from stowright.model.design import AnchorPoint, BlockDesign, Design, ModuleDesign
from stowright.model.geometry import Box, Point3, Span
from stowright.model.part import Part, PlacedPart

__all__ = ["StandingBody", "Survey", "Weight", "survey_of"]

#: How far above its packers a carcass may stand and still stand on the load floor. [mm]
_ON_FLOOR = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A mass and where its centre is. [kg, mm]."""

    mass: float
    centre: Point3


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingBody:
    """One carcass with all that it carries.

    Attributes:
        x, y: The outer edges that it can turn about: its own bottom, cut back to its packers. [mm]
        pivot_z: Height of these edges. [mm]
        own: The carcass itself with its drawers and runners, nothing shared, no contents.
        empty, loaded: Mass and centre with its share of decks and wings, without and with contents.
        anchors: What holds it to the vehicle.
        on_floor: Whether it stands on the load floor.
    """

    block: BlockDesign
    module: ModuleDesign
    x: Span
    y: Span
    pivot_z: float
    own: Weight
    empty: Weight
    loaded: Weight
    anchors: tuple[AnchorPoint, ...]
    on_floor: bool

    @property
    def id(self) -> str:
        """Short id: ``drawers/1``."""
        return f"{self.block.name}/{self.module.name}"

    @property
    def name(self) -> str:
        """Block and module in words."""
        if len(self.block.modules) == 1:
            return self.block.name
        return f"{self.block.name}, module {self.module.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """A design looked through once: its bodies, parts and pieces by name.

    Attributes:
        of: The design.
        bodies: Every carcass.
        parts: Parts by mark.
        pieces: Placed pieces by id.
    """

    of: Design
    bodies: tuple[StandingBody, ...]
    parts: dict[str, Part]
    pieces: dict[str, PlacedPart]


def survey_of(design: Design) -> Survey:
    """Return a design looked through once."""
    modules = [(block, module) for block in design.blocks for module in block.modules]
    lumps = _shared_out(design, modules)
    contents: dict[tuple[str, str], list[Lump]] = {}
    openings = tuple(o for block in design.blocks for o in block.openings)
    for lump in contents_lumps(openings, design.packed):
        contents.setdefault(lump.module, []).append(lump)
    for key, lump in _riding(design, modules):
        contents.setdefault(key, []).append(lump)
    bodies = tuple(
        _body(design, block, module, lumps[block.name, module.name], contents)
        for block, module in modules
    )
    return Survey(
        of=design,
        bodies=bodies,
        parts={part.mark: part for part in design.parts},
        pieces={piece.id: piece for piece in design.placed},
    )


def _body(
    design: Design,
    block: BlockDesign,
    module: ModuleDesign,
    lumps: list[Lump],
    contents: dict[tuple[str, str], list[Lump]],
) -> StandingBody:
    key = (block.name, module.name)
    own_kg, own_centre = centre_of(lump for lump in lumps if lump.module == key)
    empty_kg, centre_empty = centre_of(lumps)
    loaded_kg, centre = centre_of([*lumps, *contents.get(key, [])])
    x, y = _edges(design, block, module)
    pivot = module.box.z.low - block.packer_height
    return StandingBody(
        block=block,
        module=module,
        x=x,
        y=y,
        pivot_z=pivot,
        own=Weight(mass=own_kg, centre=own_centre),
        empty=Weight(mass=empty_kg, centre=centre_empty),
        loaded=Weight(mass=loaded_kg, centre=centre),
        anchors=tuple(
            a for a in design.anchors if (a.block, a.module) == (block.name, module.name)
        ),
        on_floor=abs(pivot) <= _ON_FLOOR,
    )


def _edges(design: Design, block: BlockDesign, module: ModuleDesign) -> tuple[Span, Span]:
    """Return the outer edges of what stands under a carcass, no further out than it is itself."""
    box = module.box
    under = [
        piece_box(p)
        for p in design.placed
        if p.role == "packer" and p.block == block.name and _above(piece_box(p), box) > 0.0
    ]
    if not under:
        return box.x, box.y
    return (
        Span(
            low=max(box.x.low, min(b.x.low for b in under)),
            high=min(box.x.high, max(b.x.high for b in under)),
        ),
        Span(
            low=max(box.y.low, min(b.y.low for b in under)),
            high=min(box.y.high, max(b.y.high for b in under)),
        ),
    )


def piece_box(piece: PlacedPart) -> Box:
    """Return the axis-aligned box that a placed piece fills. [mm]."""
    one = piece.origin
    two = piece.point(piece.length, piece.width, piece.thickness)
    x, y, z = (Span(low=min(a, b), high=max(a, b)) for a, b in zip(one, two, strict=True))
    return Box(x=x, y=y, z=z)


def _above(one: Box, two: Box) -> float:
    """Return the area that two boxes share as seen from above. [mm2]."""
    x, y = one.x.overlap(two.x), one.y.overlap(two.y)
    return x * y if x > 0.0 and y > 0.0 else 0.0


def _shared_out(
    design: Design, modules: list[tuple[BlockDesign, ModuleDesign]]
) -> dict[tuple[str, str], list[Lump]]:
    """Return what each carcass carries, contents not included."""
    found: dict[tuple[str, str], list[Lump]] = {(b.name, m.name): [] for b, m in modules}
    for lump, piece in zip(part_lumps(design.parts, design.placed), design.placed, strict=True):
        if lump.module in found:
            found[lump.module].append(lump)
            continue
        for key, share in _shares(piece, modules):
            found[key].append(share_of(lump, share))
    for lump in runner_lumps(o for block in design.blocks for o in block.openings):
        found[lump.module].append(lump)
    return found


def _riding(
    design: Design, modules: list[tuple[BlockDesign, ModuleDesign]]
) -> Iterator[tuple[tuple[str, str], Lump]]:
    """Yield what rides on decks and is tied to the unit, shared out among what carries it."""
    for row in design.deck_cargo:
        if row.on_unit and modules:
            (lump,) = cargo_lumps((row,))
            for key, share in _box_shares(row.box, modules):
                yield key, share_of(lump, share)


def share_of(lump: Lump, share: tuple[float, Point3]) -> Lump:
    """Return a share of a mass, at a point of its own."""
    part, at = share
    return Lump(mass=lump.mass * part, at=at, body=lump.body, module=lump.module)


def _shares(
    piece: PlacedPart, modules: list[tuple[BlockDesign, ModuleDesign]]
) -> Iterator[tuple[tuple[str, str], tuple[float, Point3]]]:
    """Yield which carcasses carry a piece that belongs to none, with their parts and where."""
    own = [(b, m) for b, m in modules if b.name == piece.block] or modules
    yield from _box_shares(piece_box(piece), own)


def _box_shares(
    box: Box, own: list[tuple[BlockDesign, ModuleDesign]]
) -> Iterator[tuple[tuple[str, str], tuple[float, Point3]]]:
    """Yield which carcasses carry what fills a box, by the area over each, else the nearest."""
    areas = [(b, m, _above(box, m.box)) for b, m in own]
    total = sum(area for _, _, area in areas)
    if total > 0.0:
        for block, module, area in areas:
            if area > 0.0:
                yield (
                    (block.name, module.name),
                    (area / total, _middle(box, module.box)),
                )
        return
    block, module, _ = min(areas, key=lambda row: _apart(box, row[1].box))
    yield (block.name, module.name), (1.0, box.centre)


def _middle(box: Box, under: Box) -> Point3:
    """Return the middle of the part of a box that lies over another."""
    x = (max(box.x.low, under.x.low) + min(box.x.high, under.x.high)) / 2.0
    y = (max(box.y.low, under.y.low) + min(box.y.high, under.y.high)) / 2.0
    return x, y, box.z.middle


def _apart(one: Box, two: Box) -> float:
    return max(0.0, -one.x.overlap(two.x)) + max(0.0, -one.y.overlap(two.y))


def total_of(weights: Iterable[Weight]) -> Weight:
    """Return several masses as one. [kg, mm]."""
    rows = tuple(weights)
    mass = sum(w.mass for w in rows)
    if not mass > 0.0:
        return Weight(mass=0.0, centre=(0.0, 0.0, 0.0))
    x, y, z = (sum(w.mass * w.centre[k] for w in rows) / mass for k in range(3))
    return Weight(mass=mass, centre=(x, y, z))
