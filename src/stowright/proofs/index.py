"""A design looked up quickly: parts and joints by piece, boxes, what a drawer is made of."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stowright.design.deck_spans import DeckSpan, box_of
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet, rule_set
from stowright.model.catalogue import Catalogue, Material
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Box
from stowright.model.part import Joint, Part, PlacedFixing, PlacedPart

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["NO_CARRY", "G", "Index", "box_of", "fixed_index", "index_of"]

G = GRAVITY_M_S2
NO_CARRY = "carry: what goes in, with its mass"


@dataclass(frozen=True, slots=True, kw_only=True)
class Index:
    """A design, the shelf it is built from, and the ways to look things up in it.

    Attributes:
        rules: The rule set of the job.
        service_class: Dampness that the wood lives in, EN 1995-1-1.
        parts: Part by mark.
        pieces: Placed piece by id.
        boxes: The box that a piece fills in the bay, by id.
        joints: Joints that a piece is in, by its id.
        fixings: Placed fixings of a joint, by the joint's id.
        moving: Pieces that move with an opening's drawer, tray, lid or door.
        deck_spans: Spans of a sheet that lies flat, by its id, kept once worked out.
        tops_near: Fixed pieces whose tops lie near a level, by that level, kept likewise: box, and
            whether they stand on edge.
        flats: Flat pieces right under a sheet, by its id, kept likewise.
    """

    design: Design
    catalogue: Catalogue
    rules: RuleSet
    service_class: int
    parts: dict[str, Part]
    pieces: dict[str, PlacedPart]
    boxes: dict[str, Box]
    joints: dict[str, list[Joint]]
    fixings: dict[str, list[PlacedFixing]]
    moving: dict[str, list[PlacedPart]]
    materials: dict[str, Material]
    deck_spans: dict[str, list[DeckSpan]] = field(default_factory=dict)
    tops_near: dict[float, list[tuple[PlacedPart, Box, bool]]] = field(default_factory=dict)
    flats: dict[str, list[PlacedPart]] = field(default_factory=dict)

    @property
    def placed(self) -> Sequence[PlacedPart]:
        """Every placed piece, in the design's order."""
        return self.design.placed

    def part(self, piece: PlacedPart) -> Part:
        """Return the part that a piece is a copy of."""
        return self.parts[piece.mark]

    def material(self, piece: PlacedPart) -> Material:
        """Return the sheet that a piece is cut from."""
        return self.materials[self.parts[piece.mark].material]

    def of_role(self, *roles: str) -> list[PlacedPart]:
        """Return the placed pieces of some roles, in the design's order."""
        return [piece for piece in self.design.placed if piece.role in roles]

    def in_drawer(self, opening: OpeningDesign, *roles: str) -> list[PlacedPart]:
        """Return the moving pieces of an opening that have one of the roles."""
        return [piece for piece in self.moving.get(opening.name, []) if piece.role in roles]

    def openings(self) -> list[tuple[BlockDesign, OpeningDesign]]:
        """Return every opening with its block."""
        return [(block, opening) for block in self.design.blocks for opening in block.openings]

    def joint_between(self, one: str, other: str) -> Joint | None:
        """Return the joint of two pieces, or None."""
        return next((joint for joint in self.joints.get(one, []) if other in joint.parts), None)


def fixed_index(design: Design, catalogue: Catalogue) -> Index:
    """Return an index that knows where fixed pieces and decks lie and no more, for a quick look."""
    fixed = {p.id: p for p in design.placed if p.body == "fixed" or p.role == "deck"}
    return Index(
        design=design,
        catalogue=catalogue,
        rules=rule_set(design.job.rules),
        service_class=design.job.service_class,
        parts={},
        pieces=fixed,
        boxes={name: box_of(piece) for name, piece in fixed.items()},
        joints={},
        fixings={},
        moving={},
        materials={},
    )


def index_of(design: Design, catalogue: Catalogue) -> Index:
    """Return a design with everything looked up once."""
    joints: dict[str, list[Joint]] = defaultdict(list)
    for joint in design.joints:
        for name in joint.parts:
            joints[name].append(joint)
    fixings: dict[str, list[PlacedFixing]] = defaultdict(list)
    for fixing in design.fixings:
        if fixing.joint:
            fixings[fixing.joint].append(fixing)
    moving: dict[str, list[PlacedPart]] = defaultdict(list)
    for piece in design.placed:
        if piece.body != "fixed":
            moving[piece.body].append(piece)
    used = {part.material for part in design.parts}
    return Index(
        design=design,
        catalogue=catalogue,
        rules=rule_set(design.job.rules),
        service_class=design.job.service_class,
        parts={part.mark: part for part in design.parts},
        pieces={piece.id: piece for piece in design.placed},
        boxes={piece.id: box_of(piece) for piece in design.placed},
        joints=joints,
        fixings=fixings,
        moving=moving,
        materials={row.name: row for row in catalogue.materials if row.name in used},
    )
