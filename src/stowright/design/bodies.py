"""Sizes and bodies only: a design without fixings, features of fixings or sums, for trying many.

What it gives is what ``build.design`` gives for the same job before anything is fixed: the same
blocks, openings, parts and masses. Hardware, anchors, joints and wall sums are left out.
"""

from __future__ import annotations

from dataclasses import replace

from stowright.design.bearers import bearers_of
from stowright.design.block import make_block, rooms_of
from stowright.design.build import standing_blocks
from stowright.design.context import Context
from stowright.design.marks import mark_pieces
from stowright.design.masses import (
    centre_of,
    contents_lumps,
    part_lumps,
    runner_lumps,
    with_masses,
)
from stowright.design.packers import packers_of
from stowright.design.platform import platform_of
from stowright.design.routed import routed
from stowright.design.skew import skew_of
from stowright.design.stowing import stow
from stowright.design.tab_shapes import finished
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.job import Job
from stowright.units import tidy

__all__ = ["bodies"]


def bodies(job: Job, catalogue: Catalogue) -> Design:
    """Return the bodies of a job's design: blocks, openings, parts and masses.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from.

    Raises:
        DesignError: When something asked for cannot be made to fit.
        UnknownNameError: When the job names what the shelf does not have.
    """
    context = replace(Context.of(job, catalogue), bodies_only=True)
    skew = skew_of(job.bay)
    standing = standing_blocks(context, job, skew)
    stowing = stow(job.carry, tuple(room for s in standing for room in rooms_of(s)))
    made = tuple(make_block(context, s, stowing) for s in standing)
    carcasses = tuple(p for m in made for p in m.pieces)
    platform = platform_of(context, skew, standing, carcasses)
    pieces = (
        *carcasses,
        *platform.pieces,
        *packers_of(context, standing, carcasses).pieces,
        *bearers_of(context, skew, standing, carcasses).pieces,
    )
    names = tuple(block.name for block in job.blocks)
    parts, placed = mark_pieces(
        routed(finished(pieces), context.cutter), names, density=context.density
    )
    openings = tuple(o for m in made for o in m.design.openings)
    lumps = (*part_lumps(parts, placed), *runner_lumps(openings))
    blocks = tuple(with_masses(m.design, lumps) for m in made)
    openings = tuple(o for block in blocks for o in block.openings)
    empty_kg, centre_empty = centre_of(lumps)
    gross_kg, centre = centre_of((*lumps, *contents_lumps(openings)))
    return Design(
        job=job,
        thicknesses=context.thicknesses,
        skew=skew,
        blocks=blocks,
        wings=tuple(platform.wings),
        parts=parts,
        placed=placed,
        fixings=(),
        joints=(),
        anchors=(),
        gaps=(),
        motions=(*(x for m in made for x in m.motions), *platform.motions),
        loose=(),
        sums=(),
        assumed=(),
        warnings=(),
        hardware=(),
        empty_kg=empty_kg,
        contents_kg=tidy(gross_kg - empty_kg),
        centre=centre,
        centre_empty=centre_empty,
    )
