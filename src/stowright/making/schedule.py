"""The hardware schedule: what the placed fixings count, plus stated spares, in packs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from stowright.making.goods import runner_name
from stowright.model.catalogue import Bolt, Catalogue, Hardware, Nut, Screw, Washer
from stowright.model.design import Design
from stowright.model.geometry import Point3
from stowright.model.making import ScheduleRow
from stowright.model.part import PlacedPart
from stowright.model.part_area import face_area_mm2

__all__ = ["SPARE_SHARE", "hardware_schedule"]

#: One in ten screws is lost or stripped (common practice); bolts and nuts get one each kind.
SPARE_SHARE = 0.1

#: Kinds that go in by the dozen or by the bolt; a hinge or a latch is bought as it is counted.
_LOST = {"screw", "bolt", "nut", "washer", "plate", "insert"}
#: Glue that squeezes out and dries in the pot (common practice: as much again).
_GLUE_SPARE = 1.0

type _Row = Screw | Bolt | Nut | Washer | Hardware


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
        *catalogue.hardware,
    )
    return {row.name: row for row in rows}


def _fixing_rows(design: Design, catalogue: Catalogue) -> Iterator[ScheduleRow]:
    """Yield what is placed by the drawings, and screws and bolts of what is fitted by words alone."""
    known = _rows_by_name(catalogue)
    openings = {piece.id: piece.opening or piece.block for piece in design.placed}
    used: dict[tuple[str, str], Counter[str]] = {}
    for fixing in design.fixings:
        own = fixing.kind in _LOST or not fixing.joins
        word = fixing.step if own else openings.get(fixing.joins[0], fixing.step)
        used.setdefault((fixing.kind, fixing.type), Counter())[word] += 1
    kinds = {name: kind for kind, name in used}
    for name, count, where in design.hardware:
        if _is_fastener(known.get(name)):
            kind = kinds.setdefault(name, _kind_of(known[name]))
            used.setdefault((kind, name), Counter())[where.partition(": ")[0]] += count
    for kind, name in sorted(used):
        yield _fixing_row(name, kind, known.get(name), used[kind, name])


def _is_fastener(row: _Row | None) -> bool:
    """Whether a row of the shelf is a screw or a bolt, or goes on one."""
    return isinstance(row, Screw | Bolt | Nut | Washer)


def _kind_of(row: _Row) -> str:
    if isinstance(row, Washer):
        return "plate" if row.shape == "square" else "washer"
    return type(row).__name__.lower()


def _spare(kind: str, count: int) -> int:
    if kind == "screw":
        return ceil(count * SPARE_SHARE)
    return 1 if kind in _LOST else 0


def _plural(kind: str) -> str:
    return f"{kind}es" if kind.endswith(("ch", "sh", "s")) else f"{kind}s"


def _fixing_row(name: str, kind: str, row: _Row | None, used: Counter[str]) -> ScheduleRow:
    count = used.total()
    spare = _spare(kind, count)
    pack = row.pack if isinstance(row, Screw) else 0
    packs = (ceil((count + spare) / pack), pack) if pack else (0, 0)
    price = None
    if row is not None and row.price is not None:
        price = round(row.price * (packs[0] or count + spare), 2)
    mass = row.mass * count if row is not None and row.mass else None
    return ScheduleRow(
        kind=_plural(kind),
        name=name,
        quantity=float(count),
        spare=float(spare),
        unit="piece",
        packs=packs,
        used_for=tuple(f"{where}: {n}" for where, n in sorted(used.items())),
        price=price,
        mass_kg=None if mass is None else round(mass, 4),
    )


def _runner_rows(design: Design) -> Iterator[ScheduleRow]:
    pairs: dict[str, list[str]] = {}
    sizes = {}
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                name = runner_name(opening.runner)
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
    shelf = _rows_by_name(catalogue)
    counts: dict[str, int] = {}
    used: dict[str, list[str]] = {}
    for name, count, where in design.hardware:
        if _is_fastener(shelf.get(name)):
            continue
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
            price=None
            if finish.price is None
            else round(finish.price * (round(litres, 2) + round(litres * SPARE_SHARE, 2)), 2),
            mass_kg=None,
        )
    glued = _glued_m2(design)
    if glued and catalogue.adhesives:
        glue = catalogue.adhesives[0]
        wanted = round(glued * glue.coverage / 1000.0, 3)
        spare = round(wanted * _GLUE_SPARE, 3)
        yield ScheduleRow(
            kind="glue",
            name=glue.name,
            quantity=wanted,
            spare=spare,
            unit="kg",
            packs=(0, 0),
            used_for=(f"{glued:.2f} m2 of joints",),
            price=None if glue.price is None else round(glue.price * (wanted + spare), 2),
            mass_kg=None,
        )


def _glued_m2(design: Design) -> float:
    """Return the area of all glued joints, both faces of their tabs with it. [m2]."""
    by_id = {piece.id: piece.without_tabs() for piece in design.placed}
    total = sum(
        2.0 * (tab.end - tab.start) * tab.reach * part.quantity
        for part in design.parts
        for tab in part.tabs
    )
    for joint in design.joints:
        if joint.glued and all(p in by_id for p in joint.parts):
            total += _shared_mm2(by_id[joint.parts[0]], by_id[joint.parts[1]])
    return round(total / 1.0e6, 4)


def _shared_mm2(one: PlacedPart, two: PlacedPart) -> float:
    """Return the area where two pieces meet: their shared rectangle, and a recess's two cheeks.

    A gap that the cut grid leaves counts as closed. [mm2]
    """
    (low1, high1), (low2, high2) = _ends(one), _ends(two)
    overlaps = sorted(min(high1[k], high2[k]) - max(low1[k], low2[k]) for k in range(3))
    deep, wide, long = (max(overlap, 0.0) for overlap in overlaps)
    return long * wide + 2.0 * long * deep


def _ends(piece: PlacedPart) -> tuple[Point3, Point3]:
    a, b = piece.point(0.0, 0.0, 0.0), piece.point(piece.length, piece.width, piece.thickness)
    return (
        (min(a[0], b[0]), min(a[1], b[1]), min(a[2], b[2])),
        (max(a[0], b[0]), max(a[1], b[1]), max(a[2], b[2])),
    )
