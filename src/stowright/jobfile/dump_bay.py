"""The tables of ``[bay]`` of a full job file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from stowright.jobfile.dump_text import Length, Table
from stowright.model.bay import Anchor, Bay, BeltAnchorage, NoDrill, Opening, WidthStation

__all__ = ["bay_tables"]


def bay_tables(bay: Bay) -> Iterator[tuple[str, Table]]:
    """Return the tables of a bay, each with its header."""
    return _Bay(bay).tables()


class _Bay:
    """One bay on its way to the file: heights go back to what they were measured from."""

    def __init__(self, bay: Bay) -> None:
        self.bay = bay
        valley = bay.height_from == "valley" and bay.floor is not None
        self.lift = bay.floor.rib_depth if valley and bay.floor is not None else 0.0

    def tables(self) -> Iterator[tuple[str, Table]]:
        bay = self.bay
        yield "[bay]", self.plain()
        yield from (("[[bay.opening]]", self.opening(each)) for each in bay.openings)
        if bay.tailgate is not None:
            yield (
                "[bay.tailgate]",
                {
                    "hinge": bay.tailgate.hinge,
                    "length": Length(bay.tailgate.length),
                    "open_top": self.height(bay.tailgate.open_top),
                },
            )
        if bay.people_space is not None:
            yield "[bay.people_space]", {"barrier": bay.people_space.barrier}

    def height(self, z: float) -> Length:
        return Length(round(z + self.lift, 9))

    def maybe(self, z: float | None) -> Length | None:
        return None if z is None else self.height(z)

    def plain(self) -> Table:
        bay = self.bay
        return {
            "kind": bay.kind,
            "length": Length(bay.length),
            "width": Length(bay.width),
            "rail": self.maybe(bay.rail),
            "clear_height": self.maybe(bay.clear_height),
            "height_from": bay.height_from,
            "reading_error": Length(bay.reading_error),
            "widths": [self.width(each) for each in bay.widths],
            "between": [
                {"at": Length(s.at), "height": self.height(s.height), "width": Length(s.width)}
                for s in bay.between
            ],
            "lengths": [
                {"height": self.height(s.height), "y": Length(s.y), "length": Length(s.length)}
                for s in bay.lengths
            ],
            "tail_lean": [
                {"height": self.height(s.height), "x": Length(s.x)} for s in bay.tail_lean
            ],
            "arches": [
                {
                    "side": arch.side,
                    "start": Length(arch.start),
                    "end": Length(arch.end),
                    "height": self.height(arch.height),
                    "reach": Length(arch.reach),
                }
                for arch in bay.arches
            ],
            "cove": Length(bay.cove),
            "diagonals": _lengths(bay.diagonals) if bay.diagonals else None,
            "keep_out": [
                {
                    "what": each.what,
                    "x": _lengths((each.box.x.low, each.box.x.high)),
                    "y": _lengths((each.box.y.low, each.box.y.high)),
                    "z": [self.height(each.box.z.low), self.height(each.box.z.high)],
                }
                for each in bay.keep_out
            ],
            "no_drill": [self.no_drill(each) for each in bay.no_drill],
            "anchors": [self.anchor(each) for each in bay.anchors],
            "belts": [
                {"what": each.what, **self.point(each), "used": each.used} for each in bay.belts
            ],
            "access": [
                {
                    "what": each.what,
                    "x": _lengths(each.x),
                    "y": _lengths(each.y),
                    "lift_out": each.lift_out,
                }
                for each in bay.access
            ],
            "floor": self.floor(),
            "seals": [
                {
                    "what": each.what,
                    "length": Length(each.length),
                    "free": Length(each.free),
                    "squashed": Length(each.squashed),
                    "panel_error": None if each.panel_error is None else Length(each.panel_error),
                }
                for each in bay.seals
            ],
        }

    def width(self, station: WidthStation) -> Mapping[str, Any]:
        where = {"at": Length(station.at), "height": self.height(station.height)}
        if station.centred:
            return {**where, "width": Length(station.width)}
        return {**where, "left": Length(station.left), "right": Length(station.right)}

    def no_drill(self, area: NoDrill) -> Mapping[str, Any]:
        axes = {"cab": ("y", "z"), "left": ("x", "z"), "right": ("x", "z")}
        first, second = axes.get(area.surface, ("x", "y"))
        b = [self.height(end) for end in area.b] if second == "z" else _lengths(area.b)
        return {
            "what": area.what,
            "surface": area.surface,
            first: _lengths(area.a),
            second: b,
        }

    def point(self, point: Anchor | BeltAnchorage) -> Mapping[str, Any]:
        """A point on the floor has z = 0 and needs no height."""
        on_floor = point.surface == "floor" and point.z == 0.0
        return {
            "surface": point.surface,
            "x": Length(point.x),
            "y": Length(point.y),
            "z": None if on_floor else self.height(point.z),
        }

    def anchor(self, anchor: Anchor) -> Mapping[str, Any]:
        return {
            "what": anchor.what,
            **self.point(anchor),
            "thread": anchor.thread,
            "tension": "unknown" if anchor.tension is None else anchor.tension,
            "shear": "unknown" if anchor.shear is None else anchor.shear,
        }

    def floor(self) -> Mapping[str, Any] | None:
        floor = self.bay.floor
        if floor is None:
            return None
        return {
            "material": floor.material,
            "thickness": Length(floor.thickness),
            "rib_depth": Length(floor.rib_depth),
            "rib_pitch": Length(floor.rib_pitch),
            "ribs_run": floor.ribs_run,
        }

    def opening(self, door: Opening) -> Table:
        return {
            "face": door.face,
            "width": Length(door.width),
            "height": None if door.height is None else Length(door.height),
            "sill_rise": self.height(door.sill_rise),
            "above_ground": None if door.above_ground is None else Length(door.above_ground),
            "at": None if door.at is None else Length(door.at),
            "opens_inside": door.opens_inside,
        }


def _lengths(values: Sequence[float]) -> list[Length]:
    return [Length(value) for value in values]
