"""Use case: one number of a job changed along a range, and where a proof flips.

A field is a path of the job file (``build.front_gap``, ``carry[2].mass``, ``build.runner``,
``build.measured_thickness.birch-15``). ``bay.width`` and ``bay.length`` move every station that
was read along with them. A value is a number or a text; lists, tables, true and false are texts as
TOML writes them.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from stowright.app.exploring import first_cut
from stowright.errors import JobError, Mistake, StoppedError
from stowright.units import parse_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stowright.explore.judging import Judge, Judged
    from stowright.explore.measures import Measures
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["Flip", "Point", "WhatIf", "what_if", "with_value"]

#: A flip is looked for by halving so many times.
HALVINGS = 7
#: At most so many flips are narrowed down.
MOST_FLIPS = 8
_MOST_VALUES = 200
#: How a value begins that is read as TOML and not as it stands.
_TOML = ("[", "{", '"', "'")


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """What comes out with one value.

    Attributes:
        value: The value, in the job file's own unit.
        measures: The design's numbers; None when none can be made.
        failing: Ids of what fails, what has no place; why no design can be made.
        told: The same in words, in the same order.
    """

    value: float | str
    measures: Measures | None
    failing: tuple[str, ...]
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flip:
    """A proof that flips between two values.

    Attributes:
        proof: Its id.
        told: What it looks at, in words with its id.
        holds: The last value found with which it does not fail.
        fails: The nearest value found with which it fails.
    """

    proof: str
    told: str
    holds: float | str
    fails: float | str


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """A curve: points in the order of the values, and where proofs flip."""

    field: str
    points: tuple[Point, ...]
    flips: tuple[Flip, ...]


def what_if(
    job: Job,
    field: str,
    values: Sequence[float | str],
    *,
    catalogue: Catalogue | None = None,
    progress: Callable[[float], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> WhatIf:
    """Return what a job comes to with each of some values of one field.

    Args:
        job: The job as it stands.
        field: Path of the field in the job file, list places counted from 1.
        values: Its values in the job file's unit, or texts.
        catalogue: The shelf; None for the shipped one.
        progress: Told the share of the values done, 0 to 1.
        should_stop: Asked between values; True ends the work.

    Raises:
        JobError: If the field cannot take a value.
        UnknownNameError: If there is no such field.
        StoppedError: If ``should_stop`` said so.
    """
    if not 0 < len(values) <= _MOST_VALUES:
        raise _refused(field, f"{len(values)} values", f"1 to {_MOST_VALUES}")
    trial = _Trial(job, field, catalogue)
    points = []
    for k, value in enumerate(values):
        if should_stop is not None and should_stop():
            raise StoppedError(f"stopped at {field} = {value}")
        points.append(trial.point(value))
        if progress is not None:
            progress((k + 1) / len(values))
    return WhatIf(field=field, points=tuple(points), flips=_flips(trial, points))


class _Trial:
    """Judges the job with one value after another; a value seen before is not judged again."""

    def __init__(self, job: Job, field: str, catalogue: Catalogue | None) -> None:
        from stowright.app.loading import load_catalogue
        from stowright.explore.arrangement import Space
        from stowright.explore.judging import Judge

        shelf = catalogue or load_catalogue()
        self.job, self.field, self.shelf = job, field, shelf
        self.judge: Judge = Judge(
            space=Space(job=job, questions=()), catalogue=shelf, cut=first_cut, cut_all=True
        )
        self.seen: dict[float | str, Point] = {}

    def point(self, value: float | str) -> Point:
        from stowright.explore.judging import judge_job

        value = float(value) if isinstance(value, int) else value
        if value not in self.seen:
            job = with_value(self.job, self.field, value, catalogue=self.shelf)
            row: Judged = judge_job(self.judge, job, stage="shown")
            self.seen[value] = Point(
                value=value,
                measures=row.measures,
                failing=tuple(each.what for each in row.wrong),
                told=tuple(each.told for each in row.wrong),
            )
        return self.seen[value]


def with_value(
    job: Job, field: str, value: float | str, *, catalogue: Catalogue | None = None
) -> Job:
    """Return a job with one field changed.

    Raises:
        JobError: If the field cannot take the value.
        UnknownNameError: If there is no such field.
    """
    if field in {"bay.width", "bay.length"}:
        return _stretched(job, field, parse_length(value, units=job.units))
    from stowright.app.edits import edited
    from stowright.app.loading import load_job
    from stowright.jobfile import dump_job

    plain = _plain(value, field)
    path = field
    if field.startswith("build.measured_thickness."):
        material = field.removeprefix("build.measured_thickness.").strip('"')
        readings = plain if isinstance(plain, list) else [plain]
        path, plain = f'build.measured_thickness."{material}"', readings
    try:
        changed = load_job(edited(dump_job(job), {path: plain}), catalogue=catalogue)
    except JobError as error:  # its lines are those of a text that nobody has
        told = (replace(mistake, line=0, column=0) for mistake in error.mistakes)
        raise JobError(tuple(told)) from error
    return replace(changed, assumed=job.assumed)


def _plain(value: float | str, field: str) -> object:
    """Return a value as the job file holds it.

    Raises:
        JobError: If it begins as a list, a table or a quoted text and is none.
    """
    from stowright.app.edits import typed

    if not isinstance(value, str):
        return int(value) if value.is_integer() else value
    text = value.strip()
    if text in {"true", "false"}:
        return text == "true"
    if not text.startswith(_TOML):
        return typed(text)
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError as error:
        raise _refused(field, text, "a value as TOML writes it") from error


def _stretched(job: Job, field: str, size: float) -> Job:
    """Return a job whose bay is wider or longer: every station moves with it."""
    bay = job.bay
    if not size > 0.0:
        raise _refused(field, f"{size:g}", "a length above 0")
    if field == "bay.length":
        more = size - bay.length
        lengths = tuple(replace(s, length=s.length + more) for s in bay.lengths)
        return replace(job, bay=replace(bay, length=size, lengths=lengths))
    more = size - bay.width
    widths = tuple(
        replace(s, left=s.left + more / 2.0, right=s.right + more / 2.0) for s in bay.widths
    )
    between = tuple(replace(s, width=s.width + more) for s in bay.between)
    return replace(job, bay=replace(bay, width=size, widths=widths, between=between))


def _flips(trial: _Trial, points: Sequence[Point]) -> tuple[Flip, ...]:
    """Return where proofs flip between neighbouring values, narrowed down by halving."""
    found: list[Flip] = []
    for one, two in pairwise(points):
        changed = set(_proofs(one)) ^ set(_proofs(two))
        for proof in sorted(changed):
            holds, fails = (two, one) if proof in _proofs(one) else (one, two)
            if len(found) < MOST_FLIPS:
                holds, fails = _halved(trial, proof, holds, fails)
            told = _proofs(fails)[proof]
            found.append(Flip(proof=proof, told=told, holds=holds.value, fails=fails.value))
    return tuple(found)


def _halved(trial: _Trial, proof: str, holds: Point, fails: Point) -> tuple[Point, Point]:
    for _ in range(HALVINGS):
        low, high = holds.value, fails.value
        if isinstance(low, str) or isinstance(high, str):
            break
        middle = _between(trial, low, high)
        if middle is None:
            break
        if proof in _proofs(middle):
            fails = middle
        else:
            holds = middle
    return holds, fails


def _between(trial: _Trial, low: float, high: float) -> Point | None:
    """Return what comes out halfway; whole where the field takes no other; None without a value."""
    half = (low + high) / 2.0
    for value in (round(half, 4), float(round(half))):
        if min(low, high) < value < max(low, high):
            try:
                return trial.point(value)
            except JobError:
                continue
    return None


def _proofs(point: Point) -> dict[str, str]:
    """Return what fails, ids with their words; no design at all counts as one thing."""
    if point.measures is None:
        return {"no design can be made": "no design can be made"}
    return dict(zip(point.failing, point.told, strict=True))


def _refused(field: str, found: str, allowed: str) -> JobError:
    return JobError((Mistake(field=field, found=found, allowed=allowed),))
