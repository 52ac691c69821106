"""Read a job: parse, find every mistake, fill every gap, say what is odd."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path as FilePath
from typing import Literal

from stowright.catalogue import load_catalogue as shipped_catalogue
from stowright.errors import JobError, Mistake
from stowright.jobfile.check_bay import check_bay
from stowright.jobfile.check_build import check_build
from stowright.jobfile.check_names import check_likes, check_names
from stowright.jobfile.check_rest import check_rest
from stowright.jobfile.convert_bay import bay_of
from stowright.jobfile.convert_blocks import blocks_from, decks_from
from stowright.jobfile.convert_build import build_of
from stowright.jobfile.convert_rest import (
    carry_from,
    contacts_from,
    done_from,
    readings_from,
    sheets_from,
    spoiled_from,
    vehicle_of,
)
from stowright.jobfile.flaws import Flaws, found_text, shaped, too_many
from stowright.jobfile.known import KnownNames
from stowright.jobfile.naming import Names, names_of
from stowright.jobfile.oddities import odd_things
from stowright.jobfile.shape_bay import BayShape
from stowright.jobfile.shape_build import BuildShape
from stowright.jobfile.shape_job import JobFile, JobShape
from stowright.jobfile.source import MOST_BYTES, read_source
from stowright.jobfile.taking import NOT_SAID, Taker
from stowright.model.catalogue import Thing
from stowright.model.job import Job
from stowright.units import Unit

__all__ = ["FORMAT", "load_job", "read_job"]

#: The format that this program reads and writes.
FORMAT = 1


def load_job(path: str | os.PathLike[str], *, catalogue_names: KnownNames | None = None) -> Job:
    """Read a job from a file.

    Args:
        path: The job file.
        catalogue_names: Names that the shop has; see ``read_job``.

    Raises:
        JobError: With every mistake found, or one when the file cannot be read.
    """
    try:
        with FilePath(path).open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        reason = error.strerror or "cannot be read"
        mistake = Mistake(field="file", found=reason.lower(), allowed=f"a job file at {path}")
        raise JobError((mistake,)) from error
    return read_job(data, catalogue_names=catalogue_names)


def read_job(text: str | bytes, *, catalogue_names: KnownNames | None = None) -> Job:
    """Read a job from the text of a job file.

    Args:
        text: The file's text or bytes (TOML 1.0, UTF-8); a byte-order mark is accepted.
        catalogue_names: Names that the shop has. Without it materials, runners, saws and
            finishes are not checked, and rules only against the names that every release keeps.

    Returns:
        The job in millimetres and kilograms, every gap filled, each default under ``assumed`` and
        what is odd under ``warnings``.

    Raises:
        JobError: With every mistake found, in the order of the file.
    """
    source = read_source(text)
    flaws = Flaws()
    _check_format(source.tables, flaws)
    flaws.raise_any(source.positions)
    units = _units(source.tables)
    shape = shaped(source.tables, units, flaws)
    if too_many(shape, flaws):
        flaws.raise_any(source.positions)
    names = names_of(shape)
    if shape.bay is not None:
        check_bay(shape.bay, units, flaws)
    known = catalogue_names or KnownNames()
    things = known.things or shipped_catalogue().things
    check_names(shape, names, known, flaws)
    check_likes(shape, tuple(thing.name for thing in things), flaws)
    check_build(shape, known, flaws)
    check_rest(shape, units, flaws)
    flaws.raise_any(source.positions)
    return _job(shape, names, units, things)


def _check_format(tables: Mapping[str, object], flaws: Flaws) -> None:
    """A file of another format is refused before its keys are looked at."""
    given = tables.get("format", FORMAT)
    if isinstance(given, bool) or not isinstance(given, int) or given < 1:
        flaws.add(("format",), found_text(given), f"format = {FORMAT}")
    elif given > FORMAT:
        found = f"{found_text(given)}, from a newer release"
        flaws.add(("format",), found, f"format = {FORMAT}: this release reads no newer one")


def _units(tables: Mapping[str, object]) -> Unit:
    """Return the unit of bare numbers; anything else than inches is read as millimetres."""
    job = tables.get("job")
    return "in" if isinstance(job, Mapping) and job.get("units") == "in" else "mm"


def _job(shape: JobFile, names: Names, units: Unit, things: tuple[Thing, ...]) -> Job:
    taker = Taker(units)
    head = shape.job or JobShape()
    if shape.format is None:
        taker.take(("format",), None, FORMAT, NOT_SAID)
    title, client = head.title or "", head.client or ""
    taker.take(("job", "units"), head.units, "mm", NOT_SAID)
    envelope = "a cautious envelope for light vehicles (engineering choice)"
    rules = taker.take(("job", "rules"), head.rules, "light-envelope", envelope)
    road: Literal["sealed", "rough"] = taker.take(("job", "road"), head.road, "sealed", NOT_SAID)
    usual_tape = "the class of most steel tapes (common practice)"
    tape: Literal["I", "II", "III"] = taker.take(("job", "tape"), head.tape, "II", usual_tape)
    saw = "what a saw can be set to (common practice)"
    cut_grid = taker.length(("job", "cut_grid"), head.cut_grid, 0.5, saw)
    bay = bay_of(shape.bay or BayShape(), taker)
    roofed = bay.kind in {"van", "wagon"} or bay.clear_height is not None
    damp: Literal[1, 2, 3] = taker.take(
        ("job", "service_class"),
        head.service_class,
        2 if roofed else 3,
        "a roof over the bay, or none (judgement)",
    )
    build = build_of(shape.build or BuildShape(), taker)
    readings = (shape.build.measured_thickness if shape.build else None) or {}
    return Job(
        title=title,
        client=client,
        units=units,
        rules=rules,
        road=road,
        cut_grid=cut_grid,
        bay=bay,
        vehicle=vehicle_of(shape.vehicle, taker),
        carry=carry_from(shape, taker, things),
        blocks=blocks_from(shape, names, bay, build, taker),
        decks=decks_from(shape, names, bay, build, taker),
        build=build,
        measured_thickness=tuple(readings.items()),
        sheets=sheets_from(shape, taker),
        done=done_from(shape),
        spoiled=spoiled_from(shape),
        readings=readings_from(shape),
        assumed=taker.assumed,
        warnings=odd_things(shape, names, units),
        tape=tape,
        service_class=damp,
        contacts=contacts_from(shape),
    )
