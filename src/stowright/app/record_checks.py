"""What the record of a build cannot mean: unknown marks, sizes and readings far off their plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from difflib import get_close_matches
from typing import TYPE_CHECKING

from stowright.app.plan_before import size_of
from stowright.errors import DesignError, JobError, Mistake
from stowright.units import MM_PER_INCH, format_length

if TYPE_CHECKING:
    from stowright.app.plan_before import Before
    from stowright.model.design import BlockDesign, Design, OpeningDesign
    from stowright.model.job import Job, Reading

__all__ = [
    "refused_by_reading",
    "require_marks",
    "require_plausible",
    "unused_readings",
    "whole_sheets",
]

type Size = tuple[float, float, float]

#: A reading or a cut size further off its plan than the greater of these is a slip of the pen, or
#: of something else; a unit that is meant to be so is planned anew (judgement). [mm, -]
_FAR_MM = 100.0
_FAR_SHARE = 0.25
#: The same for the thickness of a sheet (judgement). [mm]
_FAR_THICK_MM = 4.0
#: The same for that of a runner: of light and heavy runners one may stand for another. [mm]
_FAR_RUNNER_MM = 10.0
#: How like the name of a begun sheet another is that is the same misspelt: a letter or two. [-]
_MISSPELT = 0.88


def require_marks(job: Job, old: Before, *, told: bool) -> None:
    """Refuse marks that the plan does not have, and cut parts whose size nobody knows.

    Args:
        job: The job with its record of the build.
        old: The plan before.
        told: Whether that plan was given, so that it tells sizes.

    Raises:
        JobError: With a line for each.
    """
    from stowright.explore.build_record import stem_of
    from stowright.jobfile.keys import nearest_name

    known = {str(part["mark"]) for part in old.parts}
    mistakes: list[Mistake] = []
    unsized: list[tuple[str, str]] = []
    for field, mark, sized in _marks(job):
        if mark not in known and stem_of(mark, known) == mark:
            near = nearest_name(mark, sorted(known))
            allowed = "the mark of a part of the plan"
            mistakes.append(
                Mistake(field=f"{field}.mark", found=repr(mark), allowed=allowed, nearest=near)
            )
        elif not sized and not told:
            unsized.append((field, mark))
    if unsized:
        marks = ", ".join(dict.fromkeys(mark for _, mark in unsized))
        allowed = "size = [...] as cut, or the plan it was cut from (--from plan.json)"
        field = f"{unsized[0][0]}.size"
        mistakes.append(Mistake(field=field, found=f"no size for {marks}", allowed=allowed))
    mistakes += _unclear(job, old)
    mistakes += _not_begun(job, old) if told else ()
    if mistakes:
        raise JobError(tuple(mistakes))


def _unclear(job: Job, old: Before) -> Iterator[Mistake]:
    """Yield spoiled parts of which nobody can tell which of several copies is meant."""
    from stowright.explore.build_record import unclear_copies

    for one in unclear_copies(job, old.known()):
        row = job.spoiled[one.place]
        sizes = " or ".join(f"[{', '.join(_bare(job, size))}]" for size in one.sizes)
        field = f"spoiled[{one.place + 1}]"
        if row.size is None:
            found = f"{row.mark!r}, whose copies were cut to {len(one.sizes)} sizes"
            allowed = f"size = {sizes} beside the mark: which of them it was"
            yield Mistake(field=f"{field}.mark", found=found, allowed=allowed)
        else:
            found = f"[{', '.join(_bare(job, row.size))}]"
            yield Mistake(field=f"{field}.size", found=found, allowed=f"as it was cut: {sizes}")


def _not_begun(job: Job, old: Before) -> Iterator[Mistake]:
    """Yield sheets that are called like a begun one, and are none: their damage would be lost."""
    from stowright.app.left_over import begun_sheets, called_begun
    from stowright.jobfile.keys import nearest_name

    rows = begun_sheets(job, old)
    begun, whole = [row.id for row in rows], [row.sheet for row in rows]
    for n, sheet in enumerate(job.sheets, start=1):
        # what is nearer to the name of the sheet that was begun, as a long one is, is one more
        near = get_close_matches(sheet.id, (*whole, *begun), 1, _MISSPELT)
        meant = called_begun(sheet.id) or any(name in begun for name in near)
        if meant and sheet.id not in begun:
            allowed = (
                f"a sheet that is begun ({'; '.join(begun)})" if begun else "no sheet is begun"
            )
            yield Mistake(
                field=f"sheet[{n}].id",
                found=repr(sheet.id),
                allowed=f"{allowed}, or another name for a sheet of its own",
                nearest=nearest_name(sheet.id, begun),
            )


def whole_sheets(job: Job) -> tuple[str, ...]:
    """Return a line for each sheet that is called like a begun one where no plan tells of any."""
    from stowright.app.left_over import called_begun

    return tuple(
        f"{sheet.id} counts as a whole sheet: only the plan that was cut from tells what is left"
        for sheet in job.sheets
        if called_begun(sheet.id)
    )


def _bare(job: Job, size: Size) -> tuple[str, ...]:
    return tuple(f"{mm if job.units == 'mm' else mm / MM_PER_INCH:.6g}" for mm in size)


def _marks(job: Job) -> Iterator[tuple[str, str, bool]]:
    for n, stage in enumerate(job.done, start=1):
        for k, part in enumerate(stage.parts, start=1):
            yield f"done[{n}].parts[{k}]", part.mark, part.size is not None
    for n, row in enumerate(job.spoiled, start=1):
        yield f"spoiled[{n}]", row.mark, True


def require_plausible(job: Job, base: Design, old: Before) -> None:
    """Refuse readings and cut sizes that are so far off their plan that they must be a slip.

    Of readings of one thing only the last counts.

    Args:
        job: The job with its record of the build.
        base: The design as planned.
        old: The plan that the parts were cut from.

    Raises:
        JobError: With a line for each.
    """
    mistakes = [*_far_sizes(job, old), *_far_readings(job, base)]
    if mistakes:
        raise JobError(tuple(mistakes))


def _far_sizes(job: Job, old: Before) -> Iterator[Mistake]:
    planned, then = old.sizes(), {str(row["mark"]): size_of(row) for row in old.so_far.parts}
    for n, stage in enumerate(job.done, start=1):
        for k, part in enumerate(stage.parts, start=1):
            plan = planned.get(part.mark)
            if part.size is None or plan is None:
                continue
            if _far_from(part.size, plan) and _far_from(part.size, then.get(part.mark, plan)):
                yield Mistake(
                    field=f"done[{n}].parts[{k}].size",
                    found=_shown(job, part.size),
                    allowed=f"about {_shown(job, plan)}, as planned: length, width, thickness; "
                    "a part that came out quite otherwise is spoiled",
                )


def _far_from(size: Size, plan: Size) -> bool:
    limits = (_limit(plan[0]), _limit(plan[1]), _FAR_THICK_MM)
    return any(abs(a - b) > most for a, b, most in zip(size, plan, limits, strict=True))


def _limit(planned: float) -> float:
    return max(_FAR_MM, _FAR_SHARE * planned)


def _shown(job: Job, sizes: tuple[float, ...]) -> str:
    return " × ".join(format_length(value, job.units, with_unit=False) for value in sizes)


def _far_readings(job: Job, base: Design) -> Iterator[Mistake]:
    last = {(row.opening, row.block, row.what): n for n, row in enumerate(job.readings, start=1)}
    for n in sorted(last.values()):
        row = job.readings[n - 1]
        ways = _planned(base, row)
        if not ways:
            continue
        far = [
            v for v in row.values if all(abs(v - way) > _most_off(row.what, way) for way in ways)
        ]
        if row.what.endswith("diagonals") and max(row.values) - min(row.values) > _FAR_MM:
            far = far or list(row.values)  # of one plane they are near each other
        if far:
            planned = min(ways, key=lambda way: abs(far[0] - way))
            limit = _most_off(row.what, planned)
            plan, most = (format_length(v, job.units, with_unit=True) for v in (planned, limit))
            yield Mistake(
                field=f"reading[{n}].values",
                found=", ".join(format_length(v, job.units, with_unit=True) for v in far),
                allowed=f"within {most} of the {plan} planned{_alike(row)}: read it again, or "
                "change the plan",
            )


def _alike(row: Reading) -> str:
    return ", two that are near each other" if row.what.endswith("diagonals") else ""


def _most_off(what: str, planned: float) -> float:
    return _FAR_RUNNER_MM if what == "runner-thickness" else _limit(planned)


def _planned(base: Design, row: Reading) -> tuple[float, ...]:
    """Return what a reading may be by the plan: diagonals in any plane, none if unknown. [mm]."""
    for block in base.blocks:
        if not row.opening and block.name == row.block:
            return _of_block(block, row.what)
        for opening in block.openings:
            if opening.name == row.opening:
                return _of_opening(opening, row.what)
    return ()


def _of_block(block: BlockDesign, what: str) -> tuple[float, ...]:
    x, y, z = block.box.x.size, block.box.y.size, block.box.z.size
    if what == "diagonals":
        return _diagonals(x, y, z)
    return ((y if block.face == "tail" else x),) if what == "width" else ()


def _of_opening(opening: OpeningDesign, what: str) -> tuple[float, ...]:
    sizes = {
        "width": (opening.width,),
        "height": (opening.height,),
        "depth": (opening.depth,),
        "diagonals": _diagonals(opening.width, opening.height, opening.depth),
    }
    if opening.runner is not None:
        thick = opening.runner.runner.thickness
        sizes["runner-thickness"] = (thick,)
        both = 2.0 * (thick + opening.build.lining.carcass)
        sizes["between-runners"] = (opening.width - both,)
    box = opening.box
    if box is not None:
        sizes["box-width"] = (box.width,)
        sizes["box-diagonals"] = _diagonals(box.width, box.height, box.length)
    return sizes.get(what, ())


def _diagonals(one: float, two: float, three: float) -> tuple[float, ...]:
    """Return the diagonals of the sides of a box: nobody says in which plane they were read."""
    return (math.hypot(one, two), math.hypot(one, three), math.hypot(two, three))


def unused_readings(base: Design) -> Iterator[str]:
    """Yield a line for each reading of a drawer where there is none: it is kept, nothing waits."""
    rows = {(row.opening, row.what): row for row in base.job.readings if row.opening}
    openings = {o.name: o for block in base.blocks for o in block.openings}
    for name, what in rows:
        if name in openings and not _of_opening(openings[name], what):
            yield f"{name}: {what} is kept; nothing in it slides, so nothing waits for it"


def refused_by_reading(error: DesignError, job: Job) -> JobError | None:
    """Return a refusal of the design as one of the reading that it comes from; None for another.

    Args:
        error: What the design said of an opening.
        job: The job with what was read of it.
    """
    rows = [n for n, row in enumerate(job.readings, start=1) if row.opening == error.about]
    if not rows:
        return None
    values = job.readings[rows[-1] - 1].values
    found = ", ".join(format_length(value, job.units, with_unit=True) for value in values)
    allowed = f"what {error.about} can be built with; {error.reason}: read it again"
    return JobError((Mistake(field=f"reading[{rows[-1]}].values", found=found, allowed=allowed),))
