"""Write a job as a full job file: every value stands in it, no default is left to be taken.

``read_job(dump_job(job))`` gives the same job, its ``assumed`` and ``warnings`` apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from stowright.jobfile.convert_build import LENGTH_KEYS, PLAIN_KEYS
from stowright.jobfile.dump_bay import bay_tables
from stowright.jobfile.dump_text import Length, Table, table_text
from stowright.model.bay import Vehicle, Weighed
from stowright.model.job import (
    Block,
    Build,
    CarryItem,
    Column,
    Deck,
    DeckRail,
    DonePart,
    Fill,
    Job,
    Lashed,
    RunnerStated,
    SheetInHand,
    Spoiled,
)

__all__ = ["dump_job"]


def dump_job(job: Job) -> str:
    """Return a canonical job file for a job."""
    parts = [table_text("", {"format": 1}, job.units)]
    parts.extend(table_text(*each, job.units) for each in _tables(job))
    return "\n".join(parts)


def _tables(job: Job) -> Iterator[tuple[str, Table]]:
    yield (
        "[job]",
        {
            "title": job.title,
            "client": job.client,
            "units": job.units,
            "rules": job.rules,
            "road": job.road,
            "tape": job.tape,
            "service_class": job.service_class,
            "cut_grid": Length(job.cut_grid),
        },
    )
    yield from bay_tables(job.bay)
    if job.vehicle is not None:
        yield "[vehicle]", _vehicle(job.vehicle)
    yield from (("[[carry]]", _carry(item)) for item in job.carry)
    for pair in job.contacts:
        told = {"between": list(pair.between), "lies": pair.lies, "gap": Length(pair.gap)}
        yield "[[contact]]", told
    yield from (("[[block]]", _block(block, job.build)) for block in job.blocks)
    yield from (("[[deck]]", _deck(deck, job.build)) for deck in job.decks)
    readings = {name: [Length(r) for r in given] for name, given in job.measured_thickness}
    yield "[build]", {**_build(job.build, None), "measured_thickness": readings}
    yield from (("[[sheet]]", _sheet(sheet)) for sheet in job.sheets)
    for stage in job.done:
        yield "[[done]]", {"stage": stage.stage, "parts": [_cut(part) for part in stage.parts]}
    yield from (("[[spoiled]]", _cut(each)) for each in job.spoiled)
    for reading in job.readings:
        about = {"opening": reading.opening} if reading.opening else {"block": reading.block}
        of = {**about, "what": reading.what}
        yield "[[reading]]", {"of": of, "values": _lengths(reading.values)}


def _cut(part: DonePart | Spoiled) -> dict[str, Any]:
    return {"mark": part.mark} | ({"size": _lengths(part.size)} if part.size else {})


def _lengths(values: Sequence[float]) -> list[Length]:
    return [Length(value) for value in values]


def _span(values: tuple[float, float] | None) -> list[Length] | None:
    return None if values is None else _lengths(values)


def _maybe(value: float | None) -> Length | None:
    return None if value is None else Length(value)


def _build(build: Build, parent: Build | None) -> dict[str, Any]:
    """Return the keys in which a Build differs from the one it was laid over; all for the first."""
    found: dict[str, Any] = {}
    for key in PLAIN_KEYS:
        value = getattr(build, key)
        if value is not None and (parent is None or value != getattr(parent, key)):
            found[key] = Length(value) if key in LENGTH_KEYS else value
    if parent is None or build.packers != parent.packers:
        found["packers"] = {"how": build.packers.how, "sheet": build.packers.sheet}
    if parent is None or build.lining != parent.lining:
        found["lining"] = {
            key: Length(getattr(build.lining, key)) for key in ("drawer", "carcass", "bay")
        }
    if parent is None or build.runner_factors != parent.runner_factors:
        found["runner_factors"] = {
            key: getattr(build.runner_factors, key)
            for key in ("vehicle", "flat", "width", "length")
        }
    if build.runner_stated != (RunnerStated() if parent is None else parent.runner_stated):
        found["runner_stated"] = {
            key: getattr(build.runner_stated, key) for key in ("lateral", "stop", "lock")
        }
    if parent is None or build.handle_projection != parent.handle_projection:
        found["handle"] = {"projection": Length(build.handle_projection)}
    return found


def _weighed(weighed: Weighed | None) -> Mapping[str, Any] | None:
    if weighed is None:
        return None
    return {
        "front_axle": weighed.front_axle,
        "rear_axle": weighed.rear_axle,
        "includes": list(weighed.includes),
        "note": weighed.note,
        "loaded": weighed.loaded,
        "people": weighed.people or None,
    }


def _vehicle(vehicle: Vehicle) -> Table:
    limits, ball = vehicle.limits, vehicle.tow_ball
    return {
        "wheelbase": _maybe(vehicle.wheelbase),
        "rear_axle_x": _maybe(vehicle.rear_axle_x),
        "weighed": _weighed(vehicle.weighed),
        "weighed_after": _weighed(vehicle.weighed_after),
        "limits": {
            "front_axle": limits.front_axle,
            "rear_axle": limits.rear_axle,
            "total": limits.total,
        },
        "people": [{"mass": each.mass, "x": Length(each.x)} for each in vehicle.people],
        "people_in_weighed": vehicle.people_in_weighed,
        "also": [
            {"what": each.what, "mass": each.mass, "x": Length(each.x)} for each in vehicle.also
        ],
        "tow_ball": None if ball is None else {"mass": ball.mass, "x": Length(ball.x)},
        "centre_height": _maybe(vehicle.centre_height),
    }


def _carry(item: CarryItem) -> Table:
    return {
        "what": item.what,
        "size": _lengths(item.size),
        "mass": item.mass,
        "quantity": item.quantity,
        "keep_upright": item.keep_upright,
        "goes_in": item.goes_in,
        "clear_above": Length(item.clear_above),
        "hazard": item.hazard,
        "used": item.used,
        "goes_with": list(item.goes_with),
        "never_with": list(item.never_with),
        "on": item.on or None,
        "at": _span(item.at),
        "lash": _lash(item.lash),
    }


def _lash(lash: Lashed | None) -> Mapping[str, Any] | None:
    return None if lash is None else {"strap": lash.strap, "count": lash.count, "to": list(lash.to)}


def _block(block: Block, parent: Build) -> Table:
    place = block.place
    return {
        "name": block.name,
        "face": block.face,
        "place": place.word,
        "beside": place.beside or None,
        "x": _span(place.x),
        "y": _span(place.y),
        "z": _span(place.z),
        "modules": block.modules,
        "over_arches": block.over_arches,
        "clear_at_face": Length(block.clear_at_face),
        "wings": {"left": block.wings.left, "right": block.wings.right},
        **_build(block.build, parent),
        "columns": [_column(column, block.build) for column in block.columns],
    }


def _column(column: Column, parent: Build) -> Mapping[str, Any]:
    return {
        "width": "share" if column.width is None else Length(column.width),
        "weight": column.weight if column.width is None or column.weight != 1.0 else None,
        "least": _maybe(column.least),
        **_build(column.build, parent),
        "stack": [_fill(fill, column.build) for fill in column.stack],
    }


def _fill(fill: Fill, parent: Build) -> Mapping[str, Any]:
    return {
        "fill": fill.fill,
        "name": fill.name,
        "height": "share" if fill.height is None else Length(fill.height),
        "weight": fill.weight if fill.height is None or fill.weight != 1.0 else None,
        "least": _maybe(fill.least),
        "door": fill.door or None,
        "lock": fill.lock or None,
        "latch": fill.latch or None,
        "net": fill.net or None,
        "sides": Length(fill.sides) if fill.fill == "tray" or fill.sides else None,
        "cable_way": Length(fill.cable_way) if fill.cable_way else None,
        "vent": fill.vent or None,
        **_build(fill.build, parent),
    }


def _deck(deck: Deck, parent: Build) -> Table:
    own = {
        key: getattr(deck.build, key)
        for key in ("deck_sheet", "grain", "finish")
        if getattr(deck.build, key) != getattr(parent, key)
    }
    return {
        "name": deck.name,
        "over": list(deck.over),
        "kind": deck.kind,
        "below_rail": Length(deck.below_rail) if deck.top is None else None,
        "top": _maybe(deck.top),
        "back": deck.back,
        "overhang": Length(deck.overhang),
        "sleeper": Length(deck.sleeper),
        "rails": [_rail(rail) for rail in deck.rails] or None,
        **own,
    }


def _rail(rail: DeckRail) -> Table:
    return {
        "side": rail.side,
        "name": rail.name,
        "rating": rail.rating_n,
        "inset": Length(rail.inset),
        "pitch": Length(rail.pitch),
    }


def _sheet(sheet: SheetInHand) -> Table:
    return {
        "id": sheet.id,
        "material": sheet.material,
        "size": _lengths((sheet.length, sheet.width)),
        "thickness": _lengths(sheet.thickness) or None,
        "defects": [_lengths(each) for each in sheet.defects],
        "count": sheet.count,
        "price": sheet.price,
        "offcut": sheet.offcut,
        "only_in_hand": sheet.only_in_hand,
    }
