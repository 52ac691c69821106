"""From a job to its design: the one way through the design room."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stowright.design.arch_offer import offers_of
from stowright.design.as_cut import as_cut, cut_pieces
from stowright.design.as_drilled import as_drilled
from stowright.design.back_stops import ScrewShelf, back_stops, stop_places
from stowright.design.bay_solid import bay_solid, shorthand_only
from stowright.design.bearers import bearers_of
from stowright.design.block import BlockPieces, StandingBlock, make_block, rooms_of, stand
from stowright.design.brackets import LEG_HELD
from stowright.design.carrying import carried_in, carry_order, further_in, inside_warnings
from stowright.design.context import Context
from stowright.design.deck_cargo import cargo_holds, cargo_lumps, deck_cargo
from stowright.design.dividers import dividers_of
from stowright.design.doorway import doorway_check
from stowright.design.fixings import FixingResult, all_fixings
from stowright.design.hold_down_ask import ask_of
from stowright.design.marks import mark_pieces
from stowright.design.masses import (
    Lump,
    centre_of,
    contents_lumps,
    part_lumps,
    runner_lumps,
    with_masses,
)
from stowright.design.nets import hook_places
from stowright.design.packers import packers_of
from stowright.design.pieces import JointDraft, Piece, with_features
from stowright.design.plates import PLACED_KINDS
from stowright.design.platform import platform_of
from stowright.design.ring_bolts import with_ring_bolts
from stowright.design.routed import routed
from stowright.design.side_packing import side_packing_of
from stowright.design.skew import skew_of
from stowright.design.stowing import Room, Stowing, as_packed, stow
from stowright.design.tab_shapes import finished
from stowright.design.tab_sums import tab_assumed, tab_sums, tab_warnings
from stowright.design.tied_down import held_things
from stowright.design.travel import barred_warnings
from stowright.errors import DesignError
from stowright.model.catalogue import Catalogue
from stowright.model.design import (
    BlockDesign,
    Design,
    ModuleDesign,
    Motion,
    OpeningDesign,
    Skew,
    ThicknessInUse,
)
from stowright.model.given import Given
from stowright.model.job import Assumption, Job
from stowright.units import in_job_unit, snap_down

__all__ = ["design", "finished_block", "standing_blocks"]


def design(job: Job, catalogue: Catalogue, given: Given | None = None) -> Design:
    """Return the design of a job: the same job and shelf give the same design.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from.
        given: What searches have settled; None leaves everything to the usual rules.

    Raises:
        DesignError: When something asked for cannot be made to fit; it says what and by how much.
        UnknownNameError: When the job names what the shelf does not have.
    """
    try:
        made = _design(job, catalogue, given or Given())
    except DesignError as error:
        told = (in_job_unit(text, job.units) for text in (error.reason, error.advice))
        raise DesignError(error.about, *told, odd=job.warnings) from error
    if job.units == "mm":
        return made
    return replace(made, warnings=tuple(in_job_unit(text, job.units) for text in made.warnings))


def _design(job: Job, catalogue: Catalogue, settled: Given) -> Design:
    context = Context.of(job, catalogue, settled.refit)
    skew = skew_of(job.bay)
    standing = standing_blocks(context, job, skew)
    rooms = tuple(room for s in standing for room in rooms_of(s))
    stowing = _stowing(job, rooms, settled)
    made = tuple(
        as_cut(make_block(context, s, stowing), settled.refit, context.t) for s in standing
    )
    offers = offers_of(context, skew, standing, made, stowing)
    carcasses = tuple(p for m in made for p in m.pieces)
    platform = platform_of(context, skew, standing, carcasses)
    packers = packers_of(context, standing, carcasses)
    bearers = bearers_of(context, skew, standing, carcasses)
    dividers = dividers_of(context, (m.design for m in made), carcasses, settled.packed)
    pieces = (*carcasses, *platform.pieces, *packers.pieces, *bearers.pieces, *dividers.pieces)
    pieces = cut_pieces(pieces, settled.refit)
    drafts = (
        *(d for m in made for d in m.drafts),
        *platform.drafts,
        *packers.drafts,
        *bearers.drafts,
        *dividers.drafts,
    )
    openings = tuple(o for m in made for o in m.design.openings)
    slotted = tab_sums(context, pieces)
    fixed = _fixings(context, pieces, drafts, made, openings, settled)
    added = tuple(_trimmed(piece, context.grid) for piece in fixed.pieces)
    added = cut_pieces(added, settled.refit)
    packing = side_packing_of(context, standing, carcasses, fixed.fixings)
    made_up = finished(with_features((*pieces, *added), fixed.features))
    drilled, refit = as_drilled(routed(made_up, context.cutter), settled.refit)
    pieces = (*drilled, *packing.pieces)
    names = tuple(block.name for block in job.blocks)
    known = dict(settled.refit.marks) if settled.refit else None
    parts, placed = mark_pieces(pieces, names, density=context.density, known=known)
    lumps = (*part_lumps(parts, placed), *runner_lumps(openings))
    first_in = carried_in(tuple(x for m in made for x in m.design.modules))
    blocks = tuple(offers.told(finished_block(job, m, lumps, first_in)) for m in made)
    openings = tuple(o for block in blocks for o in block.openings)
    contents = contents_lumps(openings, settled.packed)
    empty_kg, centre_empty = centre_of(lumps)
    cargo = deck_cargo(job, placed)
    gross_kg, centre = centre_of((*lumps, *contents, *cargo_lumps(cargo)))
    things, straps = held_things(job, catalogue, stowing, openings)
    tied, lashings = cargo_holds(cargo)
    return Design(
        job=job,
        thicknesses=context.thicknesses,
        skew=skew,
        blocks=blocks,
        wings=tuple(platform.wings),
        parts=parts,
        placed=placed,
        fixings=packing.fixings,
        joints=(*fixed.joints, *packing.joints),
        anchors=fixed.anchors,
        gaps=(*(g for m in made for g in m.gaps), *platform.gaps, *packing.gaps),
        motions=_hung((*(x for m in made for x in m.motions), *platform.motions), fixed),
        loose=(*platform.loose, *things, *tied),
        sums=(
            *(s for m in made for s in m.sums),
            *platform.sums,
            *packing.sums,
            *dividers.sums,
            *slotted,
        ),
        assumed=(
            *_thickness_assumed(context.thicknesses),
            *_upper_assumed(job),
            *tab_assumed(job),
            *(() if settled.packed else _stowing_assumed(job)),
        ),
        warnings=(
            *job.warnings,
            *(w for s in standing for w in s.usable.warnings),
            *_left_over(stowing, settled),
            *platform.warnings,
            *bearers.warnings,
            *packing.warnings,
            *tab_warnings(drafts),
            *offers.warnings,
            *inside_warnings(blocks),
            *barred_warnings(context, blocks, (x for m in made for x in m.motions)),
            *fixed.warnings,
        ),
        hardware=_not_placed(
            catalogue,
            fixed,
            (
                *(h for m in made for h in m.hardware),
                *platform.hardware,
                *with_ring_bolts((*straps, *lashings), pieces, catalogue),
                *back_stops(
                    openings,
                    pieces,
                    (g for m in made for g in m.gaps),
                    shelf=_shelf(catalogue, fixed),
                    thinnest={row.material: row.t_min for row in context.thicknesses},
                ),
            ),
        ),
        empty_kg=empty_kg,
        contents_kg=round(gross_kg - empty_kg, 6),
        centre=centre,
        centre_empty=centre_empty,
        notes=(*fixed.notes, *carry_order(first_in)),
        packed=settled.packed,
        refit=refit,
        deck_cargo=cargo,
        goods_places=(
            *stop_places(
                openings,
                pieces,
                (g for m in made for g in m.gaps),
                thinnest={row.material: row.t_min for row in context.thicknesses},
            ),
            *hook_places(job, catalogue, openings),
        ),
    )


def standing_blocks(context: Context, job: Job, skew: Skew) -> tuple[StandingBlock, ...]:
    """Stand the blocks up in order; one that stands beside another waits for it.

    Bodies over the arches come after the others: a lower one may stand between the arches.
    """
    done: dict[str, StandingBlock] = {}
    waiting = sorted(job.blocks, key=lambda block: block.over_arches == "yes")
    while waiting:
        ready = next((b for b in waiting if not b.place.beside or b.place.beside in done), None)
        if ready is None:
            names = ", ".join(b.name for b in waiting)
            raise DesignError(names, "they stand beside one another in a circle", "place one first")
        done[ready.name] = stand(context, ready, skew, tuple(done.values()))
        waiting.remove(ready)
    return tuple(done[block.name] for block in job.blocks)


def _fixings(
    context: Context,
    pieces: tuple[Piece, ...],
    drafts: tuple[JointDraft, ...],
    made: tuple[BlockPieces, ...],
    openings: tuple[OpeningDesign, ...],
    given: Given,
) -> FixingResult:
    return all_fixings(
        pieces,
        drafts,
        openings=openings,
        blocks=tuple(m.design for m in made),
        job=context.job,
        catalogue=context.catalogue,
        thickness_of={row.material: row for row in context.thicknesses},
        hold=ask_of(given.anchors),
    )


def _trimmed(piece: Piece, grid: float) -> Piece:
    """Return an added packer cut back to the grid at its far ends; its holes stay put."""
    return replace(piece, length=snap_down(piece.length, grid), width=snap_down(piece.width, grid))


def finished_block(
    job: Job, made: BlockPieces, lumps: tuple[Lump, ...], first_in: tuple[ModuleDesign, ...]
) -> BlockDesign:
    """Return a block with its masses, and by which way each carcass gets to its place."""
    block = with_masses(made.design, lumps)
    return replace(
        block,
        modules=tuple(
            replace(
                module,
                doorway=doorway_check(
                    bay=job.bay,
                    block=block.name,
                    module=module.name,
                    face=block.face,
                    module_box=module.box,
                    standing=further_in(module, first_in),
                ),
            )
            for module in block.modules
        ),
    )


def _stowing(job: Job, rooms: tuple[Room, ...], settled: Given) -> Stowing:
    if settled.packed is None:
        return stow(job.carry, rooms)
    return as_packed(job.carry, rooms, settled.packed)


def _left_over(stowing: Stowing, settled: Given) -> tuple[str, ...]:
    if settled.packed is not None:
        return tuple(
            f"carry: {left.copies} x {left.what} found no place: {left.why}"
            for left in settled.packed.left_out
        )
    return tuple(
        f"carry: {count} x {item.what} ({item.size[0]:g} x {item.size[1]:g} x {item.size[2]:g} mm) "
        "found no opening with room for it"
        for item, count in stowing.left_over
    )


def _thickness_assumed(rows: tuple[ThicknessInUse, ...]) -> tuple[Assumption, ...]:
    return tuple(
        Assumption(
            field=f"build.measured_thickness.{row.material}",
            value=f"{row.t:g} mm",
            why="mean of the catalogue, not measured: caliper the sheets before cutting",
        )
        for row in rows
        if row.source == "catalogue"
    )


def _upper_assumed(job: Job) -> tuple[Assumption, ...]:
    """A bay known by one length and one width is taken as upright all round."""
    if not job.blocks or not shorthand_only(bay_solid(job.bay)):
        return ()
    why = "nothing was read higher up: walls and headboard often lean; read one station at the top"
    return tuple(
        Assumption(field=field, value="at every height as at the floor", why=why)
        for field in ("bay.widths", "bay.lengths")
    )


def _stowing_assumed(job: Job) -> tuple[Assumption, ...]:
    free = [item.what for item in job.carry if not item.goes_in and not item.on]
    if not free:
        return ()
    return (
        Assumption(
            field="carry.goes_in",
            value=", ".join(free),
            why="shared out by size, biggest first, into openings they fit (common practice)",
        ),
    )


def _hung(motions: Iterable[Motion], fixed: FixingResult) -> tuple[Motion, ...]:
    """Return the motions, each hinged body turning about the hinge that it hangs on."""
    pivots = dict(fixed.pivots)
    return tuple(
        replace(motion, pivot=pivots[motion.body])
        if motion.kind == "swing" and motion.body in pivots
        else motion
        for motion in motions
    )


def _shelf(catalogue: Catalogue, fixed: FixingResult) -> ScrewShelf:
    used = frozenset(fixing.type for fixing in fixed.fixings)
    return ScrewShelf(screws=catalogue.screws, used=used)


def _not_placed(
    catalogue: Catalogue, fixed: FixingResult, rows: Iterable[tuple[str, int, str]]
) -> tuple[tuple[str, int, str], ...]:
    """Return what is bought without a place of its own; the rest counts among the fixings."""
    placed = {row.name for row in catalogue.hardware if row.kind in PLACED_KINDS}
    legs = {f.type for f in fixed.fixings if f.kind == "bracket"}
    return tuple(
        row for row in rows if row[0] not in placed and not (row[0] in legs and LEG_HELD in row[2])
    )
