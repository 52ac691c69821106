"""Proposals for a job: a few arrangements that no other beats, with a picture and numbers each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stowright.app.edits import Edits, tables_of

if TYPE_CHECKING:
    from stowright.explore.exploring import Candidate, Exploration
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["TIME_LIMIT_S", "Proposal", "Proposals", "propose"]

#: A person waits no longer than this; the best so far is shown then.
TIME_LIMIT_S = 90.0
_OPEN_BY = 0.35


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """One arrangement.

    Attributes:
        name: In words.
        best_at: What it is best at among those shown.
        gives_up: What it gives up for it.
        numbers: What it is compared by, as printed.
        picture: The unit, drawers a little open, as SVG.
        edits: What is written into the job file to take it.
    """

    name: str
    best_at: tuple[str, ...]
    gives_up: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    picture: str
    edits: Edits


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposals:
    """What came out of a look at many arrangements.

    Attributes:
        rows: Those shown.
        told: How many were looked at, and what their sheets are of, a sentence each.
        refused: Why others do not serve, the most frequent first.
    """

    rows: tuple[Proposal, ...]
    told: str
    refused: tuple[str, ...]


def propose(
    job: Job,
    catalogue: Catalogue,
    *,
    progress: Callable[[str], None],
    should_stop: Callable[[], bool],
    time_limit_s: float = TIME_LIMIT_S,
) -> Proposals:
    """Look at many arrangements for a job's bay and load and return a few.

    Args:
        job: Its bay, vehicle, carry list and build count.
        catalogue: The shelf.
        progress: Told how far it is, in words.
        should_stop: Asked now and then; True ends it with the best so far.
        time_limit_s: When it ends at the latest. [s]
    """
    from stowright.app.exploring import explore_job
    from stowright.explore.wording import FIRST_LAYOUT

    progress("looking at a first set")
    found = explore_job(
        job,
        catalogue=catalogue,
        workers=1,
        time_limit_s=time_limit_s,
        should_stop=should_stop,
        progress=lambda told: progress(
            f"{told.quick} looked at, {told.whole} proved, {100.0 * told.share:.0f} %"
        ),
    )
    progress("drawing the proposals")
    rows = tuple(_proposal(job, each, found, catalogue) for each in found.kept)
    told = f"{found.quick} arrangements looked at, {found.whole} proved, {found.serving} serve"
    ended = "; ended before its time with the best so far" if found.stopped else ""
    refused = tuple(each.told for each in found.refused[:5])
    return Proposals(rows=rows, told=f"{told}{ended}. {FIRST_LAYOUT}", refused=refused)


def _proposal(job: Job, candidate: Candidate, found: Exploration, catalogue: Catalogue) -> Proposal:
    from stowright.explore.wording import shown

    numbers = tuple(
        (each.title, shown(each, getattr(candidate.measures, each.name), job.units))
        for each in found.criteria
    )
    return Proposal(
        name=candidate.name,
        best_at=candidate.best_at,
        gives_up=candidate.gives_up,
        numbers=numbers,
        picture=_picture(candidate.job, catalogue),
        edits=_edits(job, candidate.job),
    )


def _picture(job: Job, catalogue: Catalogue) -> str:
    from stowright.app.planning import design_job
    from stowright.drawings.isometric import assembled
    from stowright.drawings.svg import to_svg

    design = design_job(job, catalogue=catalogue, settle=False)
    return to_svg(assembled(design, open_by=_OPEN_BY, bay=True, width_mm=120.0, height_mm=90.0))


def _edits(job: Job, proposed: Job) -> Edits:
    """Blocks and decks of a proposal; where things go and materials as far as they differ."""
    before, after = _written(job), _written(replace(proposed, title=job.title))
    edits: dict[str, Any] = {
        "block": after.get("block"),
        "deck": after.get("deck"),
    }
    homes = [row.get("goes_in", "") for row in before.get("carry", ())]
    for place, row in enumerate(after.get("carry", ()), start=1):
        if row.get("goes_in", "") != homes[place - 1]:
            edits[f"carry[{place}].goes_in"] = row.get("goes_in") or None
    build, old = after.get("build", {}), before.get("build", {})
    edits |= {f"build.{key}": value for key, value in build.items() if value != old.get(key)}
    return edits


def _written(job: Job) -> Any:
    from stowright.jobfile import dump_job

    return tables_of(dump_job(job))
