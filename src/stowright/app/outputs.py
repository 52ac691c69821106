"""A plan as files: data, book, cutting list, model, drawings, layouts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from stowright.app.cutting_csv import cutting_csv
from stowright.app.files import write_files
from stowright.app.plain import json_text, plain
from stowright.app.plan_dict import plan_to_dict

if TYPE_CHECKING:
    from stowright.model.layout import CuttingPlan
    from stowright.model.plan import Plan

__all__ = [
    "OutputOptions",
    "cutting_data",
    "rendered",
    "write_book",
    "write_outputs",
    "write_plan",
]

type Paper = Literal["a4", "letter"]
type Projection = Literal["first", "third"]
type Ink = Literal["colour", "black"]
type DrawingSheets = Literal["page", "large"]
#: What can be printed by itself, besides the whole.
type Print = Literal["book", "labels", "survey", "cards", "rods", "packing"]
#: Called with what is being done now, in words.
type Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutputOptions:
    """How files are written.

    Attributes:
        paper: Size of the book's pages.
        projection: First or third angle, for drawings with several views.
        ink: Whether drawings may use colour.
        force: Whether files that are not ours are overwritten.
        drawings: ``large`` sets the book's general arrangement on A3 (11 × 17 in with Letter).
        revision: Printed on every page and in title blocks when given.
        date: The same; nothing here knows the date.
        labels: Grid of the labels by name (``a4-21``), or a size (``60x30``, mm); empty for the
            page's usual one.
        cards: Whether the steps are also set as cards for a telephone.
    """

    paper: Paper = "a4"
    projection: Projection = "first"
    ink: Ink = "colour"
    force: bool = False
    drawings: DrawingSheets = "page"
    revision: str = ""
    date: str = ""
    labels: str = ""
    cards: bool = False


def write_outputs(
    plan: Plan,
    folder: str | Path,
    options: OutputOptions | None = None,
    *,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write everything that a plan gives into a folder and return the files.

    Files of an earlier run (listed in ``.stowright``) are replaced, or taken away when this plan
    has none of that name. Nothing is written when any file cannot be made.

    Raises:
        FileConflictError: If a file stands in the way that no earlier run wrote.
        BookError: If the plan book is incomplete or does not typeset.
        OSError: If the folder cannot be written.
    """
    chosen = options or OutputOptions()
    return write_files(Path(folder), rendered(plan, chosen, progress), force=chosen.force)


def write_plan(plan: Plan, folder: Path, *, force: bool = False) -> tuple[Path, ...]:
    """Write ``plan.json`` alone; other files of earlier runs stay.

    Raises:
        FileConflictError: If the file stands there and no earlier run wrote it.
        OSError: If the folder cannot be written.
    """
    return write_files(folder, {"plan.json": _plan_json(plan)}, force=force, whole=False)


def write_book(plan: Plan, folder: Path, options: OutputOptions, what: Print = "book") -> Path:
    """Write one print alone (``book.pdf``, ``labels.pdf`` …) and return the file.

    Other files of earlier runs stay.

    Raises:
        BookError: If the plan book is incomplete, or a print does not typeset.
        FileConflictError: If the file stands there and no earlier run wrote it.
        OSError: If the folder cannot be written.
    """
    made = {f"{what}.pdf": _PRINTS[what](plan, options)}
    return write_files(folder, made, force=options.force, whole=False)[0]


def cutting_data(cutting: CuttingPlan) -> dict[str, Any]:
    """Return a cutting plan as the data of ``cutting.json`` and of the plan's ``cutting``."""
    from stowright.cutting import cutting_to_dict

    data: dict[str, Any] = plain(cutting_to_dict(cutting))
    return data


def rendered(
    plan: Plan, options: OutputOptions, progress: Progress | None = None
) -> dict[str, bytes]:
    """Return every file of a plan by its path within the folder."""
    from stowright.app.drawing_files import drawing_files
    from stowright.drawings.glb import to_glb

    say = progress or _quiet
    files = {
        "plan.json": _plan_json(plan),
        "cutting.csv": cutting_csv(plan.design.parts).encode(),
        "unit.glb": to_glb(plan.design),
    }
    say("drawing parts, views and layouts")
    files |= drawing_files(
        plan,
        paper=options.paper,
        ink=options.ink,
        projection=options.projection,
        revision=options.revision,
        date=options.date,
    )
    say("setting the book")
    prints: tuple[Print, ...] = (
        "book",
        "labels",
        "survey",
        "rods",
        *(("cards",) if options.cards else ()),
        *(("packing",) if plan.design.packed and plan.design.packed.things else ()),
    )
    return files | {f"{what}.pdf": _PRINTS[what](plan, options) for what in prints}


def _quiet(_: str) -> None:
    """Say nothing."""


def _book(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book import make_book

    return make_book(
        plan,
        paper=options.paper,
        ink=options.ink,
        projection=options.projection,
        drawings=options.drawings,
        revision=options.revision,
        date=options.date,
    )


def _labels(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book import grid_named, make_labels

    return make_labels(
        plan,
        paper=options.paper,
        grid=grid_named(options.paper, options.labels),
        revision=options.revision,
        date=options.date,
    )


def _survey(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book import make_survey

    return make_survey(
        plan.job.bay.kind, paper=options.paper, units=plan.job.units, ink=options.ink
    )


def _rods(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book import make_full_size

    return make_full_size(plan, paper=options.paper, ink=options.ink)


def _cards(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book import make_cards

    return make_cards(plan, ink=options.ink, revision=options.revision, date=options.date)


def _packing(plan: Plan, options: OutputOptions) -> bytes:
    from stowright.book.packing_sheet import make_packing_sheet

    return make_packing_sheet(
        plan, paper=options.paper, ink=options.ink, revision=options.revision, date=options.date
    )


_PRINTS: dict[Print, Callable[[Plan, OutputOptions], bytes]] = {
    "book": _book,
    "labels": _labels,
    "survey": _survey,
    "cards": _cards,
    "rods": _rods,
    "packing": _packing,
}


def _plan_json(plan: Plan) -> bytes:
    return json_text(plan_to_dict(plan)).encode()
