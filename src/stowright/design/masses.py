"""Masses and centres of gravity of a design, runners and contents included."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from stowright.model.design import BlockDesign, ModuleDesign, OpeningDesign
from stowright.model.geometry import Point2, Point3
from stowright.model.packed import PackedLoad
from stowright.model.part import Part, PlacedPart
from stowright.units import tidy

__all__ = ["Lump", "centre_of", "contents_lumps", "part_lumps", "runner_lumps", "with_masses"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lump:
    """A mass at a point, and what it belongs to."""

    mass: float
    at: Point3
    body: str
    module: tuple[str, str]


def part_lumps(parts: Iterable[Part], placed: Iterable[PlacedPart]) -> tuple[Lump, ...]:
    """Return each piece as a mass at its centroid."""
    by_mark = {part.mark: (part, *_centroid(part.outline)) for part in parts}
    found = []
    for piece in placed:
        part, u, v = by_mark[piece.mark]
        found.append(
            Lump(
                mass=part.mass_kg,
                at=piece.point(u, v, part.thickness / 2.0),
                body=piece.body,
                module=(piece.block, piece.module),
            )
        )
    return tuple(found)


def _centroid(outline: tuple[Point2, ...]) -> Point2:
    area = cu = cv = 0.0
    for (u0, v0), (u1, v1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = u0 * v1 - u1 * v0
        area += cross
        cu += (u0 + u1) * cross
        cv += (v0 + v1) * cross
    return cu / (3.0 * area), cv / (3.0 * area)


def runner_lumps(openings: Iterable[OpeningDesign]) -> tuple[Lump, ...]:
    """Return each pair of runners as two halves: one moves, one stays."""
    found = []
    for opening in openings:
        if opening.runner is None:
            continue
        half = opening.runner.size.mass / 2.0
        found += [
            Lump(
                mass=half,
                at=opening.clear.centre,
                body=body,
                module=(opening.block, opening.module),
            )
            for body in (opening.name, "fixed")
        ]
    return tuple(found)


def contents_lumps(
    openings: Iterable[OpeningDesign], packed: PackedLoad | None = None
) -> tuple[Lump, ...]:
    """Return what the openings carry: each thing where it is packed.

    Without a packing, what an opening carries is one mass in the middle of what can be filled.
    """
    if packed is not None:
        homes = {o.name: (o.block, o.module) for o in openings}
        return tuple(
            Lump(
                mass=thing.mass_kg,
                at=thing.box.centre,
                body=thing.opening,
                module=homes[thing.opening],
            )
            for thing in packed.things
        )
    return tuple(
        Lump(mass=o.contents_kg, at=o.usable.centre, body=o.name, module=(o.block, o.module))
        for o in openings
        if o.contents_kg > 0.0
    )


def centre_of(lumps: Iterable[Lump]) -> tuple[float, Point3]:
    """Return total mass and centre of gravity; the origin when there is no mass."""
    total = 0.0
    moments = [0.0, 0.0, 0.0]
    for lump in lumps:
        total += lump.mass
        for k in range(3):
            moments[k] += lump.mass * lump.at[k]
    if not total > 0.0:
        return 0.0, (0.0, 0.0, 0.0)
    x, y, z = (tidy(m / total) for m in moments)
    return tidy(total), (x, y, z)


def with_masses(block: BlockDesign, lumps: tuple[Lump, ...]) -> BlockDesign:
    """Return the block with module masses and gross masses of what moves."""
    moving: dict[str, float] = {}
    modules: dict[str, float] = {}
    for lump in lumps:
        moving[lump.body] = moving.get(lump.body, 0.0) + lump.mass
        if lump.module[0] == block.name:
            modules[lump.module[1]] = modules.get(lump.module[1], 0.0) + lump.mass
    return replace(
        block,
        openings=tuple(_gross(o, moving) for o in block.openings),
        modules=tuple(_weighed(m, modules) for m in block.modules),
    )


def _gross(opening: OpeningDesign, moving: Mapping[str, float]) -> OpeningDesign:
    return replace(opening, gross_kg=tidy(moving.get(opening.name, 0.0) + opening.contents_kg))


def _weighed(module: ModuleDesign, modules: Mapping[str, float]) -> ModuleDesign:
    return replace(module, mass_kg=tidy(modules.get(module.name, 0.0)))
