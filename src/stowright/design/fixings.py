"""Everything that holds the unit together and to the vehicle, placed in one pass.

What has a fixed place comes first (openings cut, runner holes), then what has little choice
(hold-down and joining bolts), then the joints' screws, which can move along their lines. Each sees
what stands there already, so that nothing meets anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from stowright.design.bolting import note_motion, place_joining_bolts
from stowright.design.brackets import place_brackets
from stowright.design.cut_outs import place_cut_outs
from stowright.design.fixing_ledger import FixingResult, Ledger
from stowright.design.hinges import place_door_hinges, place_lid_hinges
from stowright.design.hold_down import HoldDownAsk, place_hold_downs
from stowright.design.holds import place_holds
from stowright.design.pieces import JointDraft, Piece
from stowright.design.runner_holes import place_runners
from stowright.design.screw_joints import screw_joints
from stowright.design.stays import place_stays
from stowright.design.tie_rails import place_tie_rails
from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, OpeningDesign, ThicknessInUse
from stowright.model.job import Fill, Job

__all__ = ["FixingResult", "HoldDownAsk", "all_fixings", "fix_joints"]


def fix_joints(
    pieces: Iterable[Piece],
    drafts: Iterable[JointDraft],
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
) -> FixingResult:
    """Return screws and holes of joints alone, on pieces where nothing else stands yet.

    Args:
        pieces: Every piece in the bay.
        drafts: What is to be joined, and how.
        catalogue: The shop's shelf.
        thickness_of: Thickness in use, by material.
    """
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    screw_joints(ledger, drafts)
    return ledger.result()


def all_fixings(
    pieces: Iterable[Piece],
    drafts: Iterable[JointDraft],
    *,
    openings: Iterable[OpeningDesign],
    blocks: Iterable[BlockDesign],
    job: Job,
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
    hold: HoldDownAsk | None = None,
) -> FixingResult:
    """Return every fixing of a unit, with the holes it needs and what it leaves open.

    Args:
        pieces: Every piece in the bay, with the features that its maker gave it.
        drafts: What is to be joined, and how.
        openings: Every opening; what the job asks of each fill is looked up by its name.
        blocks: The blocks with their openings.
        job: For the bay, and for what the job asks of each fill.
        catalogue: The shop's shelf.
        thickness_of: Thickness in use, by material.
        hold: Hold-down positions that a plan has fixed; without it the usual four.
    """
    drafts, blocks = tuple(drafts), tuple(blocks)
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    fills = _fills(job, openings)
    note_motion(ledger, blocks)
    place_cut_outs(ledger, blocks, fills)
    place_runners(ledger, blocks)
    place_door_hinges(ledger, blocks, fills)
    place_lid_hinges(ledger)
    place_stays(ledger, blocks, fills)
    place_holds(ledger)
    place_brackets(ledger)
    place_tie_rails(ledger, job)
    place_hold_downs(ledger, blocks, job.bay, hold or HoldDownAsk())
    place_joining_bolts(ledger, drafts)
    screw_joints(ledger, drafts)
    return ledger.result()


def _fills(job: Job, openings: Iterable[OpeningDesign]) -> dict[str, Fill]:
    names = {opening.name for opening in openings}
    return {
        fill.name: fill
        for block in job.blocks
        for column in block.columns
        for fill in column.stack
        if fill.name in names
    }
