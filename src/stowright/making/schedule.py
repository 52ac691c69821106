"""The hardware schedule: what the placed fixings count, plus stated spares, in packs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from stowright.model.catalogue import Bolt, Catalogue, Hardware, Nut, Screw, Washer
from stowright.model.design import Design
from stowright.model.making import ScheduleRow
from stowright.model.part import PlacedFixing
from stowright.model.part_area import face_area_mm2

__all__ = ["SPARE_SHARE", "hardware_schedule"]

#: One in ten screws is lost or stripped (common practice); bolts and nuts get one each kind.
SPARE_SHARE = 0.1

type _Row = Screw | Bolt | Nut | Washer


def hardware_schedule(design: Design, catalogue: Catalogue) -> tuple[ScheduleRow, ...]:
    """Return every thing to buy but sheets; quantities equal what is placed."""
    return (
        *_fixing_rows(design, catalogue),
        *_runner_rows(design),
        *_item_rows(design, catalogue),
        *_wet_rows(design, catalogue),
    )


def _rows_by_name(catalogue: Catalogue) -> dict[str, _Row]:
    rows: tuple[_Row, ...] = (
        *catalogue.screws,
        *catalogue.bolts,
        *catalogue.nuts,
        *catalogue.washers,
    )
    return {row.name: row for row in rows}


def _fixing_rows(design: Design, catalogue: Catalogue) -> Iterator[ScheduleRow]:
    known = _rows_by_name(catalogue)
    by_type: dict[str, list[PlacedFixing]] = {}
    for fixing in design.fixings:
        by_type.setdefault(fixing.type, []).append(fixing)
    for name in sorted(by_type, key=lambda n: (by_type[n][0].kind, n)):
        members = by_type[name]
        yield _fixing_row(name, members, known.get(name))


def _fixing_row(name: str, members: list[PlacedFixing], row: _Row | None) -> ScheduleRow:
    count = len(members)
    screwed = members[0].kind == "screw"
    spare = ceil(count * SPARE_SHARE) if screwed else 1
    pack = row.pack if isinstance(row, Screw) else 0
    packs = (ceil((count + spare) / pack), pack) if pack else (0, 0)
    price = None
    if row is not None and row.price is not None:
        price = round(row.price * (packs[0] or count + spare), 2)
    used = Counter(f.step for f in members)
    mass = row.mass * count if row is not None and row.mass else None
    return ScheduleRow(
        kind=f"{members[0].kind}s",
        name=name,
        quantity=float(count),
        spare=float(spare),
        unit="piece",
        packs=packs,
        used_for=tuple(f"{step}: {n}" for step, n in sorted(used.items())),
        price=price,
        mass_kg=None if mass is None else round(mass, 4),
    )


def _runner_rows(design: Design) -> Iterator[ScheduleRow]:
    pairs: dict[str, list[str]] = {}
    sizes = {}
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                name = f"{opening.runner.runner.name}, {opening.runner.size.length:g} long"
                pairs.setdefault(name, []).append(opening.name)
                sizes[name] = opening.runner.size
    for name, openings in pairs.items():
        size = sizes[name]
        yield ScheduleRow(
            kind="runners",
            name=name,
            quantity=float(len(openings)),
            spare=0.0,
            unit="pair",
            packs=(0, 0),
            used_for=tuple(openings),
            price=None if size.price is None else round(size.price * len(openings), 2),
            mass_kg=round(size.mass * len(openings), 3),
        )


def _item_rows(design: Design, catalogue: Catalogue) -> Iterator[ScheduleRow]:
    known: dict[str, Hardware] = {row.name: row for row in catalogue.hardware}
    counts: dict[str, int] = {}
    used: dict[str, list[str]] = {}
    for name, count, where in design.hardware:
        counts[name] = counts.get(name, 0) + count
        used.setdefault(name, []).append(where)
    for name in sorted(counts):
        row = known.get(name)
        yield ScheduleRow(
            kind=row.kind if row else "hardware",
            name=name,
            quantity=float(counts[name]),
            spare=0.0,
            unit="piece",
            packs=(0, 0),
            used_for=tuple(used[name]),
            price=None if row is None or row.price is None else round(row.price * counts[name], 2),
            mass_kg=None if row is None else round(row.mass * counts[name], 3),
        )


def _wet_rows(design: Design, catalogue: Catalogue) -> Iterator[ScheduleRow]:
    faces = sum(2.0 * face_area_mm2(part) * part.quantity for part in design.parts) / 1.0e6
    edges = sum(
        2.0 * (part.length + part.width) * part.thickness * part.quantity for part in design.parts
    )
    area = faces + edges / 1.0e6
    finish = catalogue.finish(design.job.build.finish)
    if finish.coats:
        litres = area * finish.coats / finish.coverage
        yield ScheduleRow(
            kind="finish",
            name=finish.name,
            quantity=round(litres, 2),
            spare=round(litres * SPARE_SHARE, 2),
            unit="litre",
            packs=(0, 0),
            used_for=(f"{area:.1f} m2 of faces and edges, {finish.coats} coats",),
            price=None,
            mass_kg=None,
        )
    glued = _glued_m2(design)
    if glued and catalogue.adhesives:
        glue = catalogue.adhesives[0]
        yield ScheduleRow(
            kind="glue",
            name=glue.name,
            quantity=round(glued * glue.coverage / 1000.0, 3),
            spare=round(glued * glue.coverage / 1000.0, 3),
            unit="kg",
            packs=(0, 0),
            used_for=(f"{glued:.2f} m2 of joints",),
            price=None,
            mass_kg=None,
        )


def _glued_m2(design: Design) -> float:
    """Return the area of all glued joints. [m2]: the shared faces of the joined pieces."""
    by_id = {piece.id: piece for piece in design.placed}
    total = 0.0
    for joint in design.joints:
        if joint.glued and all(p in by_id for p in joint.parts):
            piece = by_id[joint.parts[1]]
            total += max(piece.length, piece.width) * piece.thickness
    return round(total / 1.0e6, 4)
