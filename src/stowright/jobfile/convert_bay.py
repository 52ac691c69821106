"""From the shape of ``[bay]`` to the model: half widths, heights above the rib tops, defaults."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from stowright.jobfile.check_bay import floor_width_at
from stowright.jobfile.convert_doors import openings_of, tailgate_of
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import (
    AnchorShape,
    BayShape,
    BeltShape,
    FloorShape,
    KeepOutShape,
    LengthShape,
    NoDrillShape,
    SealShape,
    WidthShape,
    ribs_of,
)
from stowright.jobfile.taking import NOT_SAID, USUAL, Taker
from stowright.model.bay import (
    Access,
    Anchor,
    Arch,
    Bay,
    BayKind,
    BeltAnchorage,
    BetweenStation,
    Floor,
    KeepOut,
    LengthStation,
    NoDrill,
    PeopleSpace,
    Seal,
    TailLean,
    WidthStation,
)
from stowright.model.geometry import Box, Span

__all__ = ["bay_of"]

type HeightFrom = Literal["rib-top", "valley"]

_BAY: Path = ("bay",)
_ON_FLOOR = 1.0  # a station this close to the floor is a floor station. [mm]
_NO_ROOF = 2000.0  # how high an open load area is taken to reach for a keep-out. [mm]
_WHOLE = "no range is given: all of it, the cautious reading (assumed)"


def bay_of(shape: BayShape, taker: Taker) -> Bay:
    """Return the bay of a job without mistakes, every gap filled."""
    return _Bay(shape, taker).bay()


class _Bay:
    """One bay on its way to the model."""

    def __init__(self, shape: BayShape, taker: Taker) -> None:
        self.shape, self.taker = shape, taker
        self.length = shape.length or 0.0
        self.width = shape.width or 0.0
        self.drop = ribs_of(shape) if shape.height_from == "valley" else 0.0

    def bay(self) -> Bay:
        shape, take = self.shape, self.taker.take
        usual_kind: BayKind = "van" if shape.rail is None else "tub"
        kind: BayKind = take((*_BAY, "kind"), shape.kind, usual_kind)
        height_from: HeightFrom = take(
            (*_BAY, "height_from"), shape.height_from, "rib-top", NOT_SAID
        )
        if self.drop:
            self.taker.note(
                (*_BAY, "height_from"),
                f"{self.taker.shown(self.drop)} taken off every height of the bay",
                "measured from the valleys; the plan counts from the rib tops (as the job says)",
            )
        return Bay(
            kind=kind,
            length=self.length,
            width=self.width,
            rail=None if shape.rail is None else self.above(shape.rail),
            clear_height=None if shape.clear_height is None else self.above(shape.clear_height),
            height_from=height_from,
            reading_error=self.taker.length((*_BAY, "reading_error"), shape.reading_error, 2.0),
            widths=self.widths(),
            between=self.between(),
            lengths=self.lengths(),
            tail_lean=tuple(
                TailLean(height=self.above(each.height or 0.0), x=each.x or 0.0)
                for each in shape.tail_lean or ()
            ),
            arches=self.arches(),
            cove=self.taker.length((*_BAY, "cove"), shape.cove, 0.0, NOT_SAID),
            diagonals=shape.diagonals,
            keep_out=tuple(self.keep_out(*each) for each in enumerate(shape.keep_out or ())),
            no_drill=tuple(self.no_drill(*each) for each in enumerate(shape.no_drill or ())),
            anchors=tuple(self.anchor(*each) for each in enumerate(shape.anchors or ())),
            belts=tuple(self.belt(*each) for each in enumerate(shape.belts or ())),
            access=self.access(),
            floor=_floor(shape.floor, self.taker, ribs=self.drop),
            openings=openings_of(shape, self.drop, self.taker),
            tailgate=tailgate_of(shape, kind, self.drop, self.taker),
            people_space=self.people_space(),
            seals=tuple(self.seal(each) for each in shape.seals or ()),
        )

    def above(self, height: float) -> float:
        """Return a measured height as one above the rib tops. [mm]."""
        return round(height - self.drop, 9)

    def height(self, path: Path, given: float | None) -> float:
        """Return the height of a reading, on the floor when the job does not say. [mm]."""
        return self.above(self.taker.length((*path, "height"), given, 0.0, NOT_SAID))

    def widths(self) -> tuple[WidthStation, ...]:
        given = [self.width_station(*each) for each in enumerate(self.shape.widths or ())]
        if not any(abs(each.height + self.drop) <= _ON_FLOOR for each in given):
            half = self.width / 2.0
            floor = self.above(0.0)
            given.insert(0, WidthStation(at=0.0, height=floor, left=half, right=half, centred=True))
        return _least((each.at, each.height, each.width, each) for each in given)

    def width_station(self, place: int, station: WidthShape) -> WidthStation:
        height = self.height((*_BAY, "widths", place), station.height)
        left, right, whole = station.left, station.right, station.width or 0.0
        centred = left is None and right is None
        if left is None:
            left = whole / 2.0 if right is None else round(whole - right, 9)
        if right is None:
            right = round(whole - left, 9)
        return WidthStation(
            at=station.at or 0.0, height=height, left=left, right=right, centred=centred
        )

    def between(self) -> tuple[BetweenStation, ...]:
        given = [
            BetweenStation(
                at=each.at or 0.0,
                height=self.height((*_BAY, "between", place), each.height),
                width=each.width or 0.0,
            )
            for place, each in enumerate(self.shape.between or ())
        ]
        return _least((each.at, each.height, each.width, each) for each in given)

    def lengths(self) -> tuple[LengthStation, ...]:
        given = [self.length_station(*each) for each in enumerate(self.shape.lengths or ())]
        if not any(abs(each.height + self.drop) <= _ON_FLOOR for each in given):
            floor = self.above(0.0)
            given.insert(0, LengthStation(height=floor, y=0.0, length=self.length))
        return _least((each.height, each.y, each.length, each) for each in given)

    def length_station(self, place: int, station: LengthShape) -> LengthStation:
        path = (*_BAY, "lengths", place)
        return LengthStation(
            height=self.height(path, station.height),
            y=self.taker.length((*path, "y"), station.y, 0.0, NOT_SAID),
            length=station.length or 0.0,
        )

    def arches(self) -> tuple[Arch, ...]:
        return tuple(
            Arch(
                side=each.side or "left",
                start=each.start or 0.0,
                end=each.end or 0.0,
                height=self.above(each.height or 0.0),
                reach=each.reach or 0.0,
            )
            for each in self.shape.arches or ()
        )

    def whole(self, axis: str) -> tuple[float, float]:
        """Return the whole extent of the bay on an axis, heights above the rib tops. [mm]."""
        if axis == "x":
            return (0.0, self.length)
        if axis == "y":
            return (-self.width / 2.0, self.width / 2.0)
        top = self.shape.clear_height or max(self.shape.rail or 0.0, _NO_ROOF)
        return (self.above(0.0), self.above(top))

    def span(
        self, path: Path, axis: str, table: KeepOutShape | NoDrillShape
    ) -> tuple[float, float]:
        """Return a range on an axis; without one, the whole bay. [mm]."""
        given: tuple[float, float] | None = getattr(table, axis)
        if given is None:
            self.taker.note((*path, axis), "the whole bay", _WHOLE)
            return self.whole(axis)
        return (self.above(given[0]), self.above(given[1])) if axis == "z" else given

    def keep_out(self, place: int, table: KeepOutShape) -> KeepOut:
        path = (*_BAY, "keep_out", place)
        x, y, z = (self.span(path, axis, table) for axis in ("x", "y", "z"))
        box = Box(
            x=Span(low=x[0], high=x[1]), y=Span(low=y[0], high=y[1]), z=Span(low=z[0], high=z[1])
        )
        return KeepOut(what=self.taker.take((*path, "what"), table.what, "keep-out"), box=box)

    def no_drill(self, place: int, table: NoDrillShape) -> NoDrill:
        path = (*_BAY, "no_drill", place)
        surface = table.surface or "floor"
        axes = {"cab": ("y", "z"), "left": ("x", "z"), "right": ("x", "z")}
        first, second = axes.get(surface, ("x", "y"))
        return NoDrill(
            what=self.taker.take((*path, "what"), table.what, "do not drill"),
            surface=surface,
            a=self.span(path, first, table),
            b=self.span(path, second, table),
        )

    def anchor(self, place: int, table: AnchorShape) -> Anchor:
        path = (*_BAY, "anchors", place)
        x, y, z = self.point(path, table)
        return Anchor(
            what=self.taker.take((*path, "what"), table.what, "factory anchor", NOT_SAID),
            surface=self.taker.take((*path, "surface"), table.surface, "floor", NOT_SAID),
            x=x,
            y=y,
            z=z,
            thread=table.thread or "",
            tension=table.tension,
            shear=table.shear,
        )

    def belt(self, place: int, table: BeltShape) -> BeltAnchorage:
        path = (*_BAY, "belts", place)
        x, y, z = self.point(path, table)
        return BeltAnchorage(
            what=self.taker.take((*path, "what"), table.what, "belt anchorage", NOT_SAID),
            surface=self.taker.take((*path, "surface"), table.surface, "floor", NOT_SAID),
            x=x,
            y=y,
            z=z,
            used=table.used or False,
        )

    def seal(self, table: SealShape) -> Seal:
        return Seal(
            what=table.what or "",
            length=table.length or 0.0,
            free=table.free or 0.0,
            squashed=table.squashed or 0.0,
            panel_error=table.panel_error,
        )

    def point(self, path: Path, table: AnchorShape | BeltShape) -> tuple[float, float, float]:
        """Return a point on a surface; what the surface itself tells is filled in. [mm]."""
        surface, length = table.surface or "floor", self.taker.length
        x = table.x
        if x is None:
            x = length((*path, "x"), None, self.length, "it stands on the cab wall (assumed)")
        y = table.y
        if y is None:
            half = (floor_width_at(self.shape, x) or self.width) / 2.0
            wall = half if surface == "left" else -half
            y = length((*path, "y"), None, wall, "it stands on the wall (assumed)")
        if table.z is not None:
            return x, y, self.above(table.z)
        if surface == "floor":
            return x, y, 0.0
        on_roof = surface == "roof" and self.shape.clear_height is not None
        z = self.above(self.shape.clear_height or 0.0) if on_roof else 0.0
        why = "it stands on the roof (assumed)" if on_roof else "no height is given (assumed)"
        return x, y, length((*path, "z"), None, z, why)

    def access(self) -> tuple[Access, ...]:
        return tuple(
            Access(
                what=self.taker.take((*_BAY, "access", place, "what"), each.what, "access"),
                x=each.x or (0.0, 0.0),
                y=each.y or (0.0, 0.0),
                lift_out=self.taker.take(
                    (*_BAY, "access", place, "lift_out"), each.lift_out, default=False
                ),
            )
            for place, each in enumerate(self.shape.access or ())
        )

    def people_space(self) -> PeopleSpace | None:
        if self.shape.people_space is None:
            return None
        path = (*_BAY, "people_space", "barrier")
        given = self.shape.people_space.barrier
        return PeopleSpace(barrier=self.taker.take(path, given, "none", NOT_SAID))


def _least[T](stations: Iterable[tuple[float, float, float, T]]) -> tuple[T, ...]:
    """Keep one station at a place: where it was read twice, the lesser reading governs."""
    kept: dict[tuple[float, float], tuple[float, T]] = {}
    for one, other, size, station in stations:
        if (one, other) not in kept or size < kept[one, other][0]:
            kept[one, other] = (size, station)
    return tuple(station for _, station in kept.values())


def _floor(shape: FloorShape | None, taker: Taker, *, ribs: float) -> Floor | None:
    """Return the load floor; a sheet without a thickness is taken thin.

    Heights read from its valleys stand on ribs, whether they were read or not.
    """
    if shape is None and not ribs:
        return None
    shape = shape or FloorShape()
    path = (*_BAY, "floor")
    why = "heights were read from the valleys: deep ribs (judgement), read yours" if ribs else ""
    rib_depth = taker.length((*path, "rib_depth"), shape.rib_depth, ribs, why or NOT_SAID)
    thin = "the thin end of the usual 0.7 to 1.2 mm (from memory)"
    return Floor(
        material=taker.take((*path, "material"), shape.material, "steel", USUAL),
        thickness=taker.length((*path, "thickness"), shape.thickness, 0.7, thin),
        rib_depth=rib_depth,
        rib_pitch=taker.length((*path, "rib_pitch"), shape.rib_pitch, 0.0, NOT_SAID),
        ribs_run=taker.take(
            (*path, "ribs_run"), shape.ribs_run, "lengthwise" if rib_depth else "none", NOT_SAID
        ),
    )
