"""Mistakes between the keys of one table: two heights for one deck, a range outside the bay."""

from __future__ import annotations

from stowright.jobfile.check_bay import floor_width_at
from stowright.jobfile.flaws import Flaws, found_text
from stowright.jobfile.keys import walk
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import BayShape, SealShape
from stowright.jobfile.shape_blocks import BlockShape, ColumnShape, DeckShape, FillShape
from stowright.jobfile.shape_job import (
    CarryShape,
    ContactShape,
    DonePartShape,
    JobFile,
    SheetShape,
    SpoiledShape,
)
from stowright.units import Unit, format_length

__all__ = ["MOST_THINGS", "check_rest"]

#: Things of a carry list, each copy counted.
MOST_THINGS = 1000


def check_rest(job: JobFile, units: Unit, flaws: Flaws) -> None:
    """Note what contradicts itself within one table."""
    if job.job is not None and job.job.title is not None and not job.job.title.strip():
        flaws.add(("job", "title"), found_text(job.job.title), "a title")
    _check_how_many(job, flaws)
    for path, table in walk(job):
        if isinstance(table, FillShape | ColumnShape):
            _check_share(table, path, flaws)
        elif isinstance(table, BlockShape) and job.bay is not None:
            _check_ranges(table, job.bay, path, units, flaws)
        elif isinstance(table, SheetShape):
            _check_sheet(table, path, units, flaws)
        elif isinstance(table, DeckShape):
            _check_deck(table, job.bay, path, units, flaws)
        elif isinstance(table, DonePartShape | SpoiledShape):
            _check_mark(table, path, flaws)
        elif isinstance(table, ContactShape | CarryShape):
            _check_thing(table, path, flaws)
        elif isinstance(table, SealShape):
            _check_seal(table, path, units, flaws)


def _check_how_many(job: JobFile, flaws: Flaws) -> None:
    """More things than this are never packed in good time, nor ever lie in one vehicle singly."""
    things = sum(1 if row.quantity is None else row.quantity for row in job.carry or ())
    if things > MOST_THINGS:
        allowed = f"at most {MOST_THINGS}, quantities counted: small things by the box they lie in"
        flaws.add(("carry",), f"{things} things", allowed)


def _check_thing(table: ContactShape | CarryShape, path: Path, flaws: Flaws) -> None:
    if isinstance(table, CarryShape):
        _check_carry(table, path, flaws)
    else:
        _check_contact(table, path, flaws)


def _check_contact(table: ContactShape, path: Path, flaws: Flaws) -> None:
    if table.between is not None and len(table.between) != 2:
        found = f"{len(table.between)} names"
        flaws.add((*path, "between"), found, "the two things that touch")


def _check_carry(table: CarryShape, path: Path, flaws: Flaws) -> None:
    """A thing lives in an opening or rides on a deck; a place and a strap belong to a deck."""
    if table.on and table.goes_in:
        flaws.add((*path, "on"), "on and goes_in", "one of the two: a deck, or an opening")
    if not table.on and not flaws.is_left_out((*path, "on")):
        for key in ("at", "lash"):
            if getattr(table, key) is not None:
                flaws.add((*path, key), f"{key} without a deck", 'on = "the name of a deck" too')


def _check_seal(table: SealShape, path: Path, units: Unit, flaws: Flaws) -> None:
    if table.free is not None and table.squashed is not None and table.squashed >= table.free:
        shown = [format_length(mm, units, with_unit=True) for mm in (table.squashed, table.free)]
        flaws.add((*path, "squashed"), shown[0], f"less than its free height, {shown[1]}")


def _check_share(table: FillShape | ColumnShape, path: Path, flaws: Flaws) -> None:
    """A least size above the fixed one can never be met."""
    size = table.height if isinstance(table, FillShape) else table.width
    if isinstance(size, float) and table.least is not None and table.least > size:
        flaws.add((*path, "least"), "a least size above the fixed one", "no more than the size")


def _check_deck(
    deck: DeckShape, bay: BayShape | None, path: Path, units: Unit, flaws: Flaws
) -> None:
    if deck.top is not None and deck.below_rail is not None:
        flaws.add((*path, "top"), "top and below_rail", "one of the two")
    no_rail = bay is not None and bay.rail is None and not flaws.is_left_out(("bay", "rail"))
    if deck.below_rail is not None and no_rail:
        flaws.add((*path, "below_rail"), "no rail in the bay", "top = its height, instead")
    limits = ("below_rail", bay.rail if bay else None), ("top", bay.clear_height if bay else None)
    for key, limit in limits:
        given = getattr(deck, key)
        if given is not None and limit is not None and given >= limit:
            shown = [format_length(mm, units, with_unit=True) for mm in (given, limit)]
            flaws.add((*path, key), shown[0], f"less than the height of the bay, {shown[1]}")


def _check_mark(part: DonePartShape | SpoiledShape, path: Path, flaws: Flaws) -> None:
    if part.mark is not None and not part.mark.strip():
        flaws.add((*path, "mark"), found_text(part.mark), "the mark of a part")


def _check_ranges(block: BlockShape, bay: BayShape, path: Path, units: Unit, flaws: Flaws) -> None:
    """A range wholly outside the bay holds no block."""
    width = floor_width_at(bay, 0.0)
    widths = [each.width for each in bay.widths or () if each.width is not None]
    half = max([width or 0.0, *widths]) / 2.0 if width is not None else None
    lengths = [each.length for each in bay.lengths or () if each.length is not None]
    length = None if bay.length is None else max([bay.length, *lengths])
    ends = {
        "x": (0.0, length),
        "y": (None if half is None else -half, half),
        "z": (0.0, bay.clear_height),
    }
    for axis, (low, high) in ends.items():
        for where, table in ((path, block), ((*path, "place"), block.place)):
            span = getattr(table, axis, None)
            if span is None or low is None or high is None:
                continue
            if span[0] >= high or span[1] <= low:
                shown = [format_length(end, units, with_unit=True) for end in (low, high)]
                allowed = f"a range that meets the bay: {shown[0]} to {shown[1]}"
                flaws.add((*where, axis), found_text(_in(units, span)), allowed)


def _in(units: Unit, lengths: tuple[float, ...]) -> list[float]:
    return [round(each if units == "mm" else each / 25.4, 4) for each in lengths]


def _check_sheet(sheet: SheetShape, path: Path, units: Unit, flaws: Flaws) -> None:
    if sheet.size is None:
        return
    for place, (x, y, along, across) in enumerate(sheet.defects or ()):
        outside = x + along > sheet.size[0] or y + across > sheet.size[1]
        if outside or not (along > 0.0 and across > 0.0):
            allowed = "x, y, along, across of a place on the sheet"
            found = found_text(_in(units, (x, y, along, across)))
            flaws.add((*path, "defects", place), found, allowed)
