"""What a reading changes, for a screen: parts old and new, shims, what is frozen, changed pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stowright.errors import StowrightError

if TYPE_CHECKING:
    from stowright.app.planning import Progress
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["ChangedPart", "RefitView", "refit_view"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedPart:
    """A part that differs from the plan before, its sizes as they are printed."""

    mark: str
    name: str
    old: str
    new: str
    what: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RefitView:
    """A refit as it is shown.

    Attributes:
        parts: What differs from the plan before.
        shims: Opening, side, from which to which screw as told, and what is laid there.
        frozen: Mark and stage of each part that keeps its size, and whether the plan alone would
            now give it another.
        mended: Cut parts that no longer serve, and the least that mends each.
        open: What could not be mended.
        reasons: Why things changed, a line each.
        pictures: Drawing of each changed part, SVG by mark.
        sheet: The changed pages of the book, PDF; empty when none changed.
        trouble: Why there is no refit, in words; empty when there is.
    """

    parts: tuple[ChangedPart, ...] = ()
    shims: tuple[tuple[str, str, str, str], ...] = ()
    frozen: tuple[tuple[str, str, bool], ...] = ()
    mended: tuple[str, ...] = ()
    open: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    pictures: Mapping[str, str] = field(default_factory=dict)
    sheet: bytes = b""
    trouble: str = ""


def refit_view(job: Job, shelf: Catalogue, progress: Progress) -> RefitView:
    """Return what the record of the build changes; what stands in its way is in the value."""
    try:
        return _view(job, shelf, progress)
    except StowrightError as error:
        return RefitView(trouble=str(error))


def _view(job: Job, shelf: Catalogue, progress: Progress) -> RefitView:
    from stowright.app.changes import changes_since
    from stowright.app.refitting import refit_design
    from stowright.book import changed_drawings, make_changes
    from stowright.book.changes import changes_content
    from stowright.drawings.svg import to_svg

    progress("fitting what is still to be cut")
    design, refit, old = refit_design(job, shelf)
    changes = changes_since(old.parts, design, refit)
    progress("drawing what changed")
    told = changes_content(job, refit, changes)
    scenes = changed_drawings(design, changes)
    marks = [part.mark for part in design.parts if part.mark in {c.mark for c in changes if c.new}]
    return RefitView(
        parts=tuple(
            ChangedPart(mark=mark, name=name, old=was, new=now, what=what, why=why)
            for mark, name, was, now, what, why in told["rows"]
        ),
        shims=tuple((row[0], row[1], row[2], row[3]) for row in told["shims"]),
        frozen=tuple((row.mark, row.stage, row.differs) for row in refit.frozen) if refit else (),
        mended=tuple(row.words for row in refit.no_longer) if refit else (),
        open=tuple(told["open"]),
        reasons=tuple(told["reasons"]),
        pictures={mark: to_svg(scene) for mark, scene in zip(marks, scenes, strict=True)},
        sheet=make_changes(design, refit, changes) if changes or told["shims"] else b"",
    )
