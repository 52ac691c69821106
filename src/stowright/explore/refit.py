"""Refit: what the work so far changes in what is still to be cut, and why.

One design as planned now is compared with what is cut and what was read. Cut parts keep their
sizes; parts that wait for a reading get the term that the reading adds to their sum; parts that are
cut and no longer serve are told with the least that mends it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from stowright.design.box_limits import plain_mm
from stowright.design.build import design
from stowright.explore.as_built import as_built, latest, three, where_least
from stowright.explore.frozen import DRAWER_SIDES, INNER, cut_blocks, frozen_parts
from stowright.explore.recut import Leftover, no_longer
from stowright.explore.shimming import shims_of
from stowright.explore.wing_readings import wing_refits
from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.refit import AsBuilt, Change, FrozenPart, OpeningRefit, Refit
from stowright.units import format_length, snap_down

__all__ = ["Asked", "as_planned", "find_refit"]

type Size = tuple[float, float, float]
type Three = tuple[float, float, float]

#: Least gap round an inset front: closer than this it rubs (common practice). [mm]
LEAST_FRONT_GAP = 1.0
#: A reading further than this from the plan is told to be looked at again. [mm]
FAR_OFF = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is known beside the job.

    Attributes:
        sizes: Size of each mark in the plan that the parts were cut from.
        marks: Mark of each piece by id in that plan; empty takes those of the job planned now.
        leftovers: Pieces of sheet that are left over, to cut parts from again.
    """

    sizes: Mapping[str, Size]
    marks: Mapping[str, str]
    leftovers: tuple[Leftover, ...] = ()


def as_planned(job: Job) -> Job:
    """Return a job as it was before anything was cut or read."""
    return replace(job, done=(), spoiled=(), readings=())


def find_refit(base: Design, job: Job, catalogue: Catalogue, asked: Asked) -> Refit | None:
    """Return what the work so far changes; None when there is nothing to take into account.

    Args:
        base: The design of the job as planned, before anything was cut or read.
        job: The job with its record of the build.
        catalogue: The shelf.
        asked: What is known beside it.
    """
    if not (job.done or job.spoiled or job.readings):
        return None
    marks = asked.marks or {piece.id: piece.mark for piece in base.placed}
    told = replace(base, job=job)
    frozen = frozen_parts(told, marks, asked.sizes)
    blocks = cut_blocks(told, frozen)
    cut = {name: row for row in frozen for name in row.pieces}
    widths = _widths(base, {row.block: row.clears for row in blocks})
    rows: list[_Found] = []
    for block in base.blocks:
        for opening in block.openings:
            built = as_built(told, block, opening)
            rows.append(_opening(told, block, opening, built, cut, widths[opening.name]))
    wings = wing_refits(told, cut)
    refit = Refit(
        marks=tuple(marks.items()),
        frozen=frozen,
        as_built=tuple(row.built for row in rows if row.built is not None),
        openings=tuple(row.change for row in rows if row.change is not None),
        blocks=blocks,
        wings=wings.rows,
        reasons=(*(line for row in rows for line in row.reasons), *wings.reasons),
        open=(*(line for row in rows for line in row.open), *wings.open),
    )
    return _mended(told, catalogue, refit, asked)


def refitted(job: Job, catalogue: Catalogue, given: Given, asked: Asked) -> tuple[Design, Given]:
    """Return the design of a job with everything that was cut and read, and what made it so.

    Args:
        job: The job with its record of the build.
        catalogue: The shelf.
        given: What searches have settled for the job as planned.
        asked: What is known beside the job.

    Raises:
        DesignError: If no geometry can serve the job.
    """
    base = design(as_planned(job), catalogue, given)
    refit = find_refit(base, job, catalogue, asked)
    if refit is None:
        return base, given
    with_refit = replace(given, refit=refit)
    return design(job, catalogue, with_refit), with_refit


def _mended(design: Design, catalogue: Catalogue, refit: Refit, asked: Asked) -> Refit:
    """Return a refit with shims, and what is to be done about parts that no longer serve."""
    shims = shims_of(design, catalogue, refit)
    useless = no_longer(design, refit, asked.leftovers)
    return replace(
        refit,
        shims=shims.packs,
        no_longer=useless,
        reasons=(*refit.reasons, *shims.reasons, *(row.words for row in useless)),
        open=(*refit.open, *shims.open),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    built: AsBuilt | None = None
    change: OpeningRefit | None = None
    reasons: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def _widths(base: Design, clears: Mapping[str, tuple[float | None, ...]]) -> dict[str, float]:
    """Return the clear width of every opening, cut panels allowed for."""
    found = {}
    for block in base.blocks:
        settled = clears.get(block.name, ())
        for opening in block.openings:
            own = settled[opening.column - 1] if settled else None
            found[opening.name] = opening.width if own is None else own
    return found


def _opening(
    design: Design,
    block: BlockDesign,
    opening: OpeningDesign,
    built: AsBuilt | None,
    cut: Mapping[str, FrozenPart],
    clear: float,
) -> _Found:
    """Return what changes in one opening."""
    own = {p.id: p for p in design.placed if p.opening == opening.name}
    sides = [cut[i] for i, p in own.items() if i in cut and p.role in DRAWER_SIDES]
    inner = [cut[i] for i, p in own.items() if i in cut and p.role in INNER]
    shown = _shown(design.job)
    change = OpeningRefit(opening=opening.name)
    differing = [side for side in sides if side.differs]
    if differing:
        first = differing[0]
        change = replace(change, length=first.length, side_height=first.width, t=first.thickness)
    lines: list[str] = []
    if opening.box is not None:
        change = _box(design, opening, built, change, inner, clear, shown, lines)
    change = _front(design, opening, change, own, cut, clear, built, shown, lines)
    if not sides:
        change = _height_and_depth(design, opening, change, shown, lines)
    open_ = tuple(_far_off(opening, built, clear, shown))
    same = OpeningRefit(opening=opening.name)
    return _Found(
        built=built,
        change=None if change == same else change,
        reasons=tuple(lines),
        open=open_,
    )


def _shown(job: Job) -> Callable[[float], str]:
    if job.units == "in":
        return lambda mm: format_length(mm, "in", with_unit=True)
    return plain_mm


def _exact(design: Design, size_of: str) -> float | None:
    return next((row.exact for row in design.sums if row.size_of == size_of), None)


def _box(
    design: Design,
    opening: OpeningDesign,
    built: AsBuilt | None,
    change: OpeningRefit,
    inner: list[FrozenPart],
    clear: float,
    shown: Callable[[float], str],
    lines: list[str],
) -> OpeningRefit:
    """Return the change of a box's inner width: as it is cut, else as its opening reads."""
    name = opening.name
    planned = _exact(design, f"{name}: inner front and back")
    if planned is None:
        return change
    t_now = design.thickness(opening.build.drawer).t
    thicker = 0.0 if change.t is None else change.t - t_now
    exact = planned + (clear - opening.width) - 2.0 * thicker
    grid = design.job.cut_grid or 0.1
    before = snap_down(planned, grid)
    roomier = max(0.0, min(built.room) - clear) if built and built.room else 0.0
    if inner:
        marks = " and ".join(dict.fromkeys(row.mark for row in inner))
        grown = min(row.length for row in inner) - _inner_length(design, opening)
        by = before + grown - exact
        if abs(by) < grid and abs(snap_down(exact, grid) - before - grown) <= 1.0e-9:
            return replace(change, roomier=roomier)
        return replace(change, box_across=Change(by=by, why=f"{marks} is cut"), roomier=roomier)
    by, why = _by_reading(opening, built, clear, shown)
    if by:
        after = snap_down(exact + by, grid)
        if abs(after - before) > 1.0e-9:
            word = "narrower" if after < before else "wider"
            lines.append(
                f"{name}: inner front and back {shown(abs(after - before))} {word}: {why}"
            )
        change = replace(change, box_across=Change(by=by, why=why))
    elif abs(snap_down(exact, grid) - before) > 1.0e-9:
        less = snap_down(exact, grid) - before
        word = "narrower" if less < 0.0 else "wider"
        lines.append(
            f"{name}: inner front and back {shown(abs(less))} {word}: "
            f"the opening is {shown(clear)} as its parts are cut"
        )
    return replace(change, roomier=roomier)


def _inner_length(design: Design, opening: OpeningDesign) -> float:
    return next(p.length for p in design.placed if p.opening == opening.name and p.role in INNER)


def _by_reading(
    opening: OpeningDesign, built: AsBuilt | None, clear: float, shown: Callable[[float], str]
) -> tuple[float, str]:
    """Return what a box gains by what was read of its opening and runners, with the reason."""
    if built is None or opening.runner is None:
        return 0.0, ""
    by, words = 0.0, []
    if built.room is not None:
        by += min(built.room) - clear
        words.append(f"opening reads {shown(min(built.room))}{where_least(built.room)}")
    if built.runner is not None:
        by -= 2.0 * (built.runner - opening.runner.runner.thickness)
        words.append(f"runner reads {built.runner:g} thick")
    return (0.0 if abs(by) < 1.0e-9 else by), ", ".join(words)


def _front(
    design: Design,
    opening: OpeningDesign,
    change: OpeningRefit,
    own: Mapping[str, object],
    cut: Mapping[str, FrozenPart],
    clear: float,
    built: AsBuilt | None,
    shown: Callable[[float], str],
    lines: list[str],
) -> OpeningRefit:
    """Return the change of a front's width, as its opening reads at the face."""
    name = opening.name
    front = next((i for i in own if i.rsplit("/", 1)[-1] in {"front", "door"}), None)
    planned = _exact(design, f"{name}: front width")
    if front is None or front in cut or planned is None or opening.build.lever == "narrow":
        return change
    read = latest(design.job.readings, "width", opening=name)
    grid = design.job.cut_grid or 0.1
    before = snap_down(planned, grid)
    exact = planned + clear - opening.width
    by, why = 0.0, ""
    if read:
        at_face = three(read)[0]
        by, why = at_face - clear, f"opening reads {shown(at_face)} at the face"
    if built and built.lean and opening.build.front == "inset":
        short = LEAST_FRONT_GAP + built.lean / 2.0 - opening.build.front_gap
        if short > 0.0:
            by -= 2.0 * short
            said = f"its face leans {shown(round(built.lean, 1))} by the diagonals"
            why = f"{why}, {said}" if why else said
    if abs(by) > 1.0e-9:
        after = snap_down(exact + by, grid)
        if abs(after - before) > 1.0e-9:
            word = "narrower" if after < before else "wider"
            lines.append(f"{name}: front {shown(abs(after - before))} {word}: {why}")
        return replace(change, front_across=Change(by=by, why=why))
    return change


def _height_and_depth(
    design: Design,
    opening: OpeningDesign,
    change: OpeningRefit,
    shown: Callable[[float], str],
    lines: list[str],
) -> OpeningRefit:
    """Return the change of heights and depth, as the opening reads."""
    name, rows = opening.name, design.job.readings
    height = latest(rows, "height", opening=name)
    if height and abs(min(height) - opening.height) > 1.0e-9:
        values = three(height)
        by = min(values) - opening.height
        word = "lower" if by < 0.0 else "higher"
        why = f"opening reads {shown(min(values))} high{where_least(values)}"
        lines.append(f"{name}: box and front up to {shown(abs(by))} {word}: {why}")
        at_face = values[0] - opening.height
        change = replace(
            change,
            box_up=Change(by=by, why=why) if opening.box else None,
            front_up=Change(by=at_face, why=f"opening reads {shown(values[0])} high at the face")
            if opening.front and at_face
            else None,
        )
    depth = latest(rows, "depth", opening=name)
    fitted = latest(rows, "between-runners", opening=name)
    if depth and not fitted and opening.runner and abs(min(depth) - opening.depth) > 1.0e-9:
        why = f"opening reads {shown(min(depth))} deep"
        change = replace(change, depth=Change(by=min(depth) - opening.depth, why=why))
    return change


def _far_off(
    opening: OpeningDesign,
    built: AsBuilt | None,
    clear: float,
    shown: Callable[[float], str],
) -> list[str]:
    if built is None or built.room is None:
        return []
    worst = max(built.room, key=lambda value: abs(value - clear))
    if abs(worst - clear) <= FAR_OFF:
        return []
    return [
        f"{opening.name}: opening reads {shown(worst)}, {shown(abs(worst - clear))} off its plan: "
        "read it again before anything is cut to it"
    ]
