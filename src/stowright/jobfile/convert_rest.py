"""From the shape of vehicle, carry, stock and the record of the build to the model."""

from __future__ import annotations

from collections.abc import Mapping

from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_job import (
    CarryShape,
    JobFile,
    LashShape,
    SheetShape,
    VehicleShape,
    WeighedShape,
)
from stowright.jobfile.taking import NOT_SAID, Taker
from stowright.model.bay import (
    Person,
    PlacedMass,
    TowBall,
    Vehicle,
    VehicleLimits,
    Weighed,
)
from stowright.model.catalogue import Thing
from stowright.model.job import (
    CarryItem,
    DonePart,
    DoneStage,
    Lashed,
    Reading,
    SheetInHand,
    Spoiled,
    TouchingPair,
)

__all__ = [
    "carry_from",
    "contacts_from",
    "done_from",
    "readings_from",
    "sheets_from",
    "spoiled_from",
    "vehicle_of",
]

#: What deck cargo is tied down with where the job does not say.
USUAL_STRAP = "cam-strap-25"


def vehicle_of(shape: VehicleShape | None, taker: Taker) -> Vehicle | None:
    """Return the vehicle, if the job speaks of one."""
    if shape is None:
        return None
    limits, ball = shape.limits, shape.tow_ball
    path = ("vehicle", "people_in_weighed")
    return Vehicle(
        wheelbase=shape.wheelbase,
        rear_axle_x=shape.rear_axle_x,
        weighed=_weighed(shape.weighed),
        weighed_after=_weighed(shape.weighed_after),
        limits=VehicleLimits(
            front_axle=limits.front_axle if limits else None,
            rear_axle=limits.rear_axle if limits else None,
            total=limits.total if limits else None,
        ),
        people=tuple(Person(mass=p.mass or 0.0, x=p.x or 0.0) for p in shape.people or ()),
        people_in_weighed=taker.take(path, shape.people_in_weighed, default=False, why=NOT_SAID),
        also=tuple(
            PlacedMass(what=each.what or "", mass=each.mass or 0.0, x=each.x or 0.0)
            for each in shape.also or ()
        ),
        tow_ball=TowBall(mass=ball.mass or 0.0, x=ball.x or 0.0) if ball else None,
        centre_height=shape.centre_height,
    )


def _weighed(shape: WeighedShape | None) -> Weighed | None:
    if shape is None:
        return None
    return Weighed(
        front_axle=shape.front_axle or 0.0,
        rear_axle=shape.rear_axle or 0.0,
        includes=shape.includes or (),
        note=shape.note or "",
        loaded=shape.loaded or False,
        people=shape.people or 0,
    )


def contacts_from(job: JobFile) -> tuple[TouchingPair, ...]:
    """Return the pairs that touch; a pair with other than two names is told as a mistake before."""
    return tuple(
        TouchingPair(
            between=(shape.between[0], shape.between[1]),
            lies=shape.lies or "none",
            gap=shape.gap or 0.0,
        )
        for shape in job.contact or ()
        if shape.between is not None and len(shape.between) == 2
    )


def carry_from(job: JobFile, taker: Taker, things: tuple[Thing, ...]) -> tuple[CarryItem, ...]:
    """Return what has to go in; what is like a generic thing takes from it what is not given."""
    shelf = {row.name: row for row in things}
    return tuple(
        _item(("carry", place), _filled(("carry", place), shape, shelf, taker), taker)
        for place, shape in enumerate(job.carry or ())
    )


def _filled(path: Path, shape: CarryShape, shelf: Mapping[str, Thing], taker: Taker) -> CarryShape:
    """Return a thing with what it takes from the catalogue, each value noted."""
    row = shelf.get(shape.like or "")
    if row is None:
        return shape
    why = f"generic {row.kind} {row.name!r} ({row.origin.standing}): measure yours"
    found: dict[str, object] = {}
    shown = {
        "what": row.what,
        "size": " x ".join(taker.shown(mm) for mm in row.size),
        "mass": f"{row.mass:g} kg",
        "keep_upright": "true" if row.keep_upright else "false",
        "hazard": row.hazard or "none",
    }
    for key, text in shown.items():
        if getattr(shape, key) is None:
            found[key] = getattr(row, key)
            taker.note((*path, key), text, why)
    return shape.model_copy(update=found)


def _item(path: Path, shape: CarryShape, taker: Taker) -> CarryItem:
    take = taker.take
    return CarryItem(
        what=shape.what or "",
        size=shape.size or (0.0, 0.0, 0.0),
        mass=shape.mass or 0.0,
        quantity=take((*path, "quantity"), shape.quantity, 1, NOT_SAID),
        keep_upright=take((*path, "keep_upright"), shape.keep_upright, default=False, why=NOT_SAID),
        goes_in=shape.goes_in or "",
        clear_above=taker.length((*path, "clear_above"), shape.clear_above, 0.0, NOT_SAID),
        hazard=take((*path, "hazard"), shape.hazard, "", NOT_SAID),
        used=take((*path, "used"), shape.used, "trip", NOT_SAID),
        goes_with=shape.goes_with or (),
        never_with=shape.never_with or (),
        on=shape.on or "",
        at=shape.at,
        lash=_lash((*path, "lash"), shape.lash, taker) if shape.lash is not None else None,
    )


def _lash(path: Path, shape: LashShape, taker: Taker) -> Lashed:
    strap = taker.take((*path, "strap"), shape.strap, USUAL_STRAP, "a usual strap (assumed)")
    return Lashed(strap=strap, count=shape.count or 0, to=shape.to or ())


def sheets_from(job: JobFile, taker: Taker) -> tuple[SheetInHand, ...]:
    """Return the sheets in hand; one without a name is numbered past the names that are given."""
    shapes = job.sheet or ()
    given = {shape.id for shape in shapes if shape.id}
    made_up = (f"S{n}" for n in range(1, len(given) + len(shapes) + 1) if f"S{n}" not in given)
    return tuple(
        _sheet(("sheet", place), shape, shape.id or next(made_up), taker)
        for place, shape in enumerate(shapes)
    )


def _sheet(path: Path, shape: SheetShape, name: str, taker: Taker) -> SheetInHand:
    take = taker.take
    if not shape.id:
        taker.note((*path, "id"), name, NOT_SAID)
    length, width = shape.size or (0.0, 0.0)
    return SheetInHand(
        id=name,
        material=shape.material or "",
        length=length,
        width=width,
        thickness=shape.thickness or (),
        defects=tuple(shape.defects or ()),
        count=take((*path, "count"), shape.count, 1, NOT_SAID),
        price=shape.price,
        offcut=take((*path, "offcut"), shape.offcut, default=False, why=NOT_SAID),
        only_in_hand=take((*path, "only_in_hand"), shape.only_in_hand, default=False, why=NOT_SAID),
    )


def done_from(job: JobFile) -> tuple[DoneStage, ...]:
    """Return what can no longer change."""
    return tuple(
        DoneStage(
            stage=shape.stage or "cut",
            parts=tuple(DonePart(mark=p.mark or "", size=p.size) for p in shape.parts or ()),
        )
        for shape in job.done or ()
    )


def spoiled_from(job: JobFile) -> tuple[Spoiled, ...]:
    """Return what has to be cut again."""
    return tuple(Spoiled(mark=shape.mark or "", size=shape.size) for shape in job.spoiled or ())


def readings_from(job: JobFile) -> tuple[Reading, ...]:
    """Return the readings taken while building."""
    return tuple(
        Reading(
            opening=shape.of.opening or "",
            block=shape.of.block or "",
            what=shape.of.what or "",
            values=shape.values or (),
        )
        for shape in job.reading or ()
        if shape.of is not None
    )
