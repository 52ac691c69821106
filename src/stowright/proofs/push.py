"""Which way a drawer is thrown: accelerations along and across its runners, where its mass is."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.formulas.restraint import RuleSet
from stowright.model.bay import Face
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.geometry import Point3
from stowright.proofs.index import Index

__all__ = ["Pushes", "depth_of", "mass_centre", "moving_kg", "pushes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushes:
    """Accelerations on what a drawer holds, as fractions of g.

    Attributes:
        opening: Towards its opening side.
        shutting: Towards its back.
        across: Across its runners, the greater way.
        names: What each of the three is on the road.
    """

    opening: float
    shutting: float
    across: float
    names: tuple[str, str, str]


def pushes(rules: RuleSet, face: Face) -> Pushes:
    """Return the accelerations on a drawer that opens to a face."""
    if face == "tail":
        return Pushes(
            opening=rules.rear,
            shutting=rules.forward,
            across=rules.side,
            names=("pulling away", "braking", "cornering"),
        )
    return Pushes(
        opening=rules.side,
        shutting=rules.side,
        across=max(rules.forward, rules.rear),
        names=("cornering", "cornering", "braking"),
    )


def depth_of(block: BlockDesign, point: Point3) -> float:
    """Return how far into a block a point lies, from the bay's origin along the block's depth."""
    return sum(a * b for a, b in zip(point, block.axes[1], strict=True))


def moving_kg(opening: OpeningDesign) -> float:
    """Return what moves with a drawer, contents apart. [kg]."""
    return max(0.0, opening.gross_kg - opening.contents_kg)


def mass_centre(index: Index, block: BlockDesign, opening: OpeningDesign) -> float:
    """Return how deep in the block the gross mass of a shut drawer has its centre. [mm].

    Moving parts where they are, what is carried where it is packed, or in the middle of what can
    be filled where nothing has been packed.
    """
    lumps = [
        (index.part(piece).mass_kg, depth_of(block, index.boxes[piece.id].centre))
        for piece in index.moving.get(opening.name, [])
    ]
    packed = index.design.packed
    things = [
        (thing.mass_kg, depth_of(block, thing.box.centre))
        for thing in (packed.things if packed else ())
        if thing.opening == opening.name
    ]
    lumps += things or [(opening.contents_kg, depth_of(block, opening.usable.centre))]
    if opening.runner is not None:
        lumps.append((opening.runner.size.mass / 2.0, depth_of(block, opening.clear.centre)))
    whole = sum(mass for mass, _ in lumps)
    if not whole > 0.0:
        return depth_of(block, opening.usable.centre)
    return sum(mass * at for mass, at in lumps) / whole
