"""Refit: what the work so far changes in what is still to be cut, and why.

One design as planned now is compared with what is cut and what was read. Cut parts keep their
sizes; parts that wait for a reading get the term that the reading adds to their sum; parts that are
cut and no longer serve are told with the least that mends it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from stowright.design.build import design, standing_blocks
from stowright.design.context import Context
from stowright.design.skew import skew_of
from stowright.explore.as_built import as_built
from stowright.explore.build_record import Known, copies_of, stem_of
from stowright.explore.frozen import (
    Shape,
    cut_blocks,
    frozen_parts,
    uneven_panels,
)
from stowright.explore.recut import Leftover, cannot_get, no_longer
from stowright.explore.recut_parts import use_of
from stowright.explore.refit_opening import OpeningAsk, refit_opening
from stowright.explore.shimming import shims_of
from stowright.explore.unit_readings import unit_refits
from stowright.explore.wing_readings import wing_refits
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.part import PlacedPart
from stowright.model.refit import BlockRefit, FrozenPart, Refit
from stowright.units import Unit, in_job_unit

__all__ = ["Asked", "as_planned", "find_refit", "refitted"]

type Size = tuple[float, float, float]

_SAME = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is known beside the job.

    Attributes:
        sizes: Size of each mark in the plan that the parts were cut from.
        marks: Mark of each piece by id in that plan; empty takes those of the job planned now.
        leftovers: Pieces of sheet that are left over, to cut parts from again.
        shapes: Holes and contour of each mark in the plan that the parts were cut from.
        lost: What cut pieces would have to have and cannot get any more, by id, in words.
        cut: Size that marks had when they were cut, where the plan has another since.
        covers: How often a mark was done and spoiled before its copies were told apart.
    """

    sizes: Mapping[str, Size]
    marks: Mapping[str, str]
    leftovers: tuple[Leftover, ...] = ()
    shapes: Mapping[str, Shape] = field(default_factory=dict)
    lost: Mapping[str, str] = field(default_factory=dict)
    cut: Mapping[str, Size] = field(default_factory=dict)
    covers: Mapping[str, tuple[int, int]] = field(default_factory=dict)


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
    marks = dict(asked.marks) or {piece.id: piece.mark for piece in base.placed}
    told = _as_marked(replace(base, job=job), marks)
    sizes = {**asked.sizes, **asked.cut}
    frozen = frozen_parts(told, marks, sizes, asked.shapes, asked.covers)
    first = _found(told, catalogue, asked, marks, frozen)
    first = replace(first, reasons=(*first.reasons, *_again(told, asked.covers)))
    if asked.lost:
        gone = cannot_get(told, first, asked.leftovers, asked.lost)
        first = replace(first, no_longer=(*first.no_longer, *gone))
    useless = {name for row in first.no_longer if row.way != "shim" for name in row.pieces}
    if not useless:
        return _in_unit(first, job.units)
    kept = tuple(row for row in (_without(row, useless) for row in frozen) if row.pieces)
    second = _found(told, catalogue, asked, marks, kept)
    made = replace(
        second,
        no_longer=first.no_longer,
        reasons=(
            *second.reasons,
            *_again(told, asked.covers),
            *(row.words for row in first.no_longer),
        ),
    )
    return _in_unit(made, job.units)


def _without(row: FrozenPart, useless: Collection[str]) -> FrozenPart:
    return replace(row, pieces=tuple(name for name in row.pieces if name not in useless))


def _as_marked(base: Design, marks: Mapping[str, str]) -> Design:
    """Return a design as planned now under the marks that its pieces had when they were cut.

    Another batch may make parts alike that were not, or tell apart what was alike; all marks behind
    them would be others.
    """
    taken = set(marks.values())
    own = {p.id: marks.get(p.id) or (p.id if p.mark in taken else p.mark) for p in base.placed}
    if all(own[p.id] == p.mark for p in base.placed):
        return base
    placed = tuple(replace(p, mark=own[p.id]) for p in base.placed)
    copies = Counter(p.mark for p in placed)
    parts = {own[p.id]: base.part(p.mark) for p in reversed(base.placed)}
    return replace(
        base,
        placed=placed,
        parts=tuple(
            replace(parts[mark], mark=mark, quantity=count) for mark, count in copies.items()
        ),
    )


def _again(told: Design, covers: Mapping[str, tuple[int, int]]) -> Iterator[str]:
    """Yield what was cut and spoiled, and so is laid out once more: of several copies, for what.

    Args:
        told: As planned now, under the marks that pieces had when they were cut.
        covers: As in `Known`.
    """
    pieces: dict[str, list[PlacedPart]] = {}
    for piece in told.placed:
        pieces.setdefault(piece.mark, []).append(piece)
    copies = {mark: len(members) for mark, members in pieces.items()}
    slots = copies_of(told.job, Known(copies=copies, covers=covers))
    uncut = {
        mark: [p for entry, p in zip(slots[mark], members, strict=True) if entry is None]
        for mark, members in pieces.items()
    }
    for mark, times in Counter(stem_of(row.mark, pieces) for row in told.job.spoiled).items():
        # what was spoiled before copies were told apart may be called otherwise now
        family = [m for m in pieces if uncut[m] and stem_of(m, {mark}) == mark]
        own = mark if mark in family else next(iter(family), "")
        if own:
            again = uncut[own][-times:]
            yield f"{own} {told.part(own).name}: {_spoiled(again, copies[own])}"


def _spoiled(again: Sequence[PlacedPart], copies: int) -> str:
    """Return what is cut again, and of several copies where the new ones go."""
    if copies == 1:
        return "spoiled, cut again from what is left"
    where = use_of(again)
    for_ = f"; the {'one' if len(again) == 1 else 'ones'} for {where}"
    many = f"{len(again)} of {copies} copies spoiled, cut again from what is left"
    return many + (for_ if where else "")


def _in_unit(refit: Refit, units: Unit) -> Refit:
    """Return a refit whose words name the job's unit."""
    if units == "mm":
        return refit
    return replace(
        refit,
        reasons=tuple(in_job_unit(line, units) for line in refit.reasons),
        open=tuple(in_job_unit(line, units) for line in refit.open),
        no_longer=tuple(
            replace(row, why=in_job_unit(row.why, units), words=in_job_unit(row.words, units))
            for row in refit.no_longer
        ),
    )


def _found(
    told: Design,
    catalogue: Catalogue,
    asked: Asked,
    marks: Mapping[str, str],
    frozen: tuple[FrozenPart, ...],
) -> Refit:
    """Return what follows when some parts keep their sizes."""
    blocks = cut_blocks(told, frozen)
    cut = {name: row for row in frozen for name in row.pieces}
    widths = _widths(told, catalogue, frozen, blocks)
    old = {
        p.id: asked.sizes.get(marks.get(p.id, p.mark), (p.length, p.width))[:2] for p in told.placed
    }
    rows = [
        refit_opening(
            OpeningAsk(
                design=told,
                opening=opening,
                built=as_built(told, block, opening),
                cut=cut,
                clear=widths[opening.name],
                old=old,
            )
        )
        for block in told.blocks
        for opening in block.openings
    ]
    wings, units = wing_refits(told, cut), unit_refits(told, cut)
    refit = Refit(
        marks=tuple(marks.items()),
        frozen=frozen,
        as_built=tuple(row.built for row in rows if row.built is not None),
        openings=tuple(row.change for row in rows if row.change is not None),
        blocks=blocks,
        wings=wings.rows,
        decks=units.rows,
        reasons=(*(x for row in rows for x in row.reasons), *wings.reasons, *units.reasons),
        open=(
            *uneven_panels(told, frozen),
            *(x for row in rows for x in row.open),
            *wings.open,
            *units.open,
        ),
    )
    shims = shims_of(told, catalogue, refit, widths)
    return replace(
        refit,
        shims=shims.packs,
        no_longer=no_longer(told, refit, asked.leftovers, widths),
        reasons=(*refit.reasons, *shims.reasons),
        open=(*refit.open, *shims.open),
    )


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


def _widths(
    base: Design,
    catalogue: Catalogue,
    frozen: tuple[FrozenPart, ...],
    blocks: tuple[BlockRefit, ...],
) -> dict[str, float]:
    """Return the clear width of every opening, cut panels allowed for.

    Where uprights are cut from another batch the design tells how that is shared out.
    """
    thick = {row.block: row.t for row in blocks if row.t is not None}
    sheets = {b.name: base.thickness(b.openings[0].build.carcass).t for b in base.blocks}
    shared: dict[str, float] = {}
    if any(abs(t - sheets[name]) > _SAME for name, t in thick.items()):
        refit = Refit(frozen=frozen, blocks=blocks)
        context = Context.of(base.job, catalogue, refit)
        shared = {
            opening.fill.name: opening.across.size
            for stand in standing_blocks(context, base.job, skew_of(base.job.bay))
            for module in stand.plan.modules
            for column in module.columns
            for opening in column.openings
        }
    clears = {row.block: row.clears for row in blocks}
    found = {}
    for block in base.blocks:
        settled = clears.get(block.name, ())
        for opening in block.openings:
            own = settled[opening.column - 1] if settled else None
            width = shared.get(opening.name, opening.width)
            found[opening.name] = width if own is None else own
    return found
