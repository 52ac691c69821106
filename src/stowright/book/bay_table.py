"""Every reading of the bay as rows: number on the survey drawing, field, what, read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stowright.book.tables import Length, Rows
from stowright.drawings.survey_fields import field_number, survey_fields
from stowright.model.bay import Bay

__all__ = ["bay_rows"]

type _Row = tuple[str, str, str]

#: What has no number on the drawing stands after what has.
_LAST = 99


def bay_rows(bay: Bay, length: Length) -> Rows:
    """Return every reading of the bay that the plan was made with."""
    rows = (
        *_whole(bay, length),
        *_stations(bay, length),
        *_walls(bay, length),
        *_doors(bay, length),
        *_floor(bay, length),
    )
    numbers = {field.field: str(field.number) for field in survey_fields(bay.kind)}
    found = [[_number(field, what, numbers), field, what, read] for field, what, read in rows]
    return sorted(found, key=lambda row: int(row[0]) if row[0] else _LAST)


def _number(field: str, what: str, numbers: Mapping[str, str]) -> str:
    """Return a reading's number on the survey drawing; sides and doorways have one each."""
    plain = field.split("[", maxsplit=1)[0]
    place = what.split(" ", maxsplit=1)[0]
    if plain == "bay.opening":
        place = "tail" if what.startswith("doorway at the tail") else "side"
    return numbers.get(f"{plain}, {place}") or field_number(field)


def _whole(bay: Bay, length: Length) -> Iterator[_Row]:
    yield "bay.length", "length on the floor", length(bay.length)
    yield "bay.width", "width on the floor", length(bay.width)
    if bay.rail is not None:
        yield "bay.rail", "floor to the top of the side rail", length(bay.rail)
    if bay.clear_height is not None:
        yield "bay.clear_height", "floor to roof or canopy", length(bay.clear_height)
    if bay.diagonals is not None:
        one, two = bay.diagonals
        yield "bay.diagonals", "corner to corner", f"{length(one)}, {length(two)}"
    if bay.cove:
        yield "bay.cove", "fillet between floor and wall", length(bay.cove)


def _stations(bay: Bay, length: Length) -> Iterator[_Row]:
    for i, w in enumerate(bay.widths, start=1):
        where = f"width {length(w.at)} from the tail, {length(w.height)} up"
        read = length(w.width) if w.centred else f"left {length(w.left)}, right {length(w.right)}"
        yield f"bay.widths[{i}]", where, read
    for i, b in enumerate(bay.between, start=1):
        what = f"between the arches, {length(b.at)} from the tail"
        yield f"bay.between[{i}]", what, length(b.width)
    for i, s in enumerate(bay.lengths, start=1):
        where = f"length {length(s.height)} up, {_side(s.y, length)}"
        yield f"bay.lengths[{i}]", where, length(s.length)


def _walls(bay: Bay, length: Length) -> Iterator[_Row]:
    for i, lean in enumerate(bay.tail_lean, start=1):
        what = f"shut tail stands in, {length(lean.height)} up"
        yield f"bay.tail_lean[{i}]", what, length(lean.x)
    for i, a in enumerate(bay.arches, start=1):
        read = f"{length(a.start)}, {length(a.end)}, {length(a.height)}, {length(a.reach)}"
        yield f"bay.arches[{i}]", f"{a.side} arch: start, end, height, reach", read
    for i, keep in enumerate(bay.keep_out, start=1):
        spans = ", ".join(
            f"{name} {length(span.low)} to {length(span.high)}"
            for name, span in (("x", keep.box.x), ("y", keep.box.y), ("z", keep.box.z))
        )
        yield f"bay.keep_out[{i}]", keep.what, spans


def _doors(bay: Bay, length: Length) -> Iterator[_Row]:
    for o in bay.openings:
        high = f" × {length(o.height)}" if o.height is not None else ", open above"
        more = [f"starts {length(o.at)} from the tail"] if o.at is not None else []
        more += [f"sill {length(o.sill_rise)} over the floor"] if o.sill_rise else []
        if o.above_ground is not None:
            more.append(f"{length(o.above_ground)} above the ground")
        what = "; ".join((f"doorway at the {o.face}", *more))
        yield "bay.opening", what, length(o.width) + high
    gate = bay.tailgate
    if gate is not None:
        read = f"{length(gate.length)}, {length(gate.open_top)}"
        yield "bay.tailgate", f"hinged {gate.hinge}: length, top when open", read


def _floor(bay: Bay, length: Length) -> Iterator[_Row]:
    floor = bay.floor
    if floor is not None:
        read = f"{length(floor.thickness)}, {length(floor.rib_depth)}, {length(floor.rib_pitch)}"
        yield "bay.floor", f"{floor.material}: sheet, rib depth, rib pitch", read
    for i, a in enumerate(bay.anchors, start=1):
        thread = f"{a.thread}, " if a.thread else ""
        what = f"{a.what}: {thread}on the {a.surface}"
        yield f"bay.anchors[{i}]", what, f"x {length(a.x)}, y {length(a.y)}"


def _side(y: float, length: Length) -> str:
    if abs(y) < 0.05:
        return "on the centre line"
    return f"{length(abs(y))} to the {'left' if y > 0.0 else 'right'}"
