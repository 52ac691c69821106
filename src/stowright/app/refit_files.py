"""What a refit writes: the plan, what changed, and drawings of what changed alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from stowright.app.changes import changes_data
from stowright.app.files import write_files
from stowright.app.plain import json_text
from stowright.app.plan_dict import plan_to_dict
from stowright.app.states import State, keep_state

if TYPE_CHECKING:
    from stowright.app.outputs import OutputOptions
    from stowright.app.refitting import Refitted

__all__ = ["refit_files", "write_refit"]


def write_refit(
    made: Refitted, folder: Path, options: OutputOptions, *, job: bytes
) -> tuple[tuple[Path, ...], State]:
    """Write what a refit gives into a folder, keep the state, and return files and state.

    Files of earlier runs that are not replaced stay: pages that did not change are still good.

    Raises:
        FileConflictError: If a file stands in the way that no earlier run wrote.
        BookError: If the sheet of changes does not typeset.
        OSError: If the folder cannot be written.
    """
    files = refit_files(made, options)
    paths = write_files(folder, files, force=options.force, whole=False)
    kept = {name: files[name] for name in ("plan.json", "changes.json")}
    words = [f"{row.mark} {row.name}: {', '.join(row.what)}" for row in made.changes]
    words = words or (list(made.refit.reasons) if made.refit else [])
    state = keep_state(folder, job, kept, "\n".join(words) or "no part changes")
    return paths, state


def refit_files(made: Refitted, options: OutputOptions) -> dict[str, bytes]:
    """Return every file of a refit by its path within the folder."""
    from stowright.book import changed_drawings, make_changes
    from stowright.drawings.dxf import to_dxf
    from stowright.drawings.layout_drawing import layout_pages
    from stowright.drawings.sheet_frame import PAPERS, drawing_room
    from stowright.drawings.svg import to_svg

    plan, units = made.plan, made.plan.job.units
    files = {
        "plan.json": json_text(plan_to_dict(plan)).encode(),
        "changes.json": json_text(changes_data(made)).encode(),
        "changes.pdf": make_changes(
            plan.design,
            made.refit,
            made.changes,
            paper=options.paper,
            ink=options.ink,
            revision=options.revision,
            date=options.date,
        ),
    }
    for scene in changed_drawings(plan.design, made.changes, paper=options.paper):
        files[f"drawings/{scene.name}.svg"] = to_svg(scene, ink=options.ink).encode()
        files[f"drawings/{scene.name}.dxf"] = to_dxf(scene, units=units)
    room = drawing_room(PAPERS["A4" if options.paper == "a4" else "ANSI A"])
    releases = {part.mark: part.release for part in plan.design.parts}
    for layout in plan.cutting.layouts:
        stock = next(
            use
            for use in plan.cutting.stock
            if (use.sheet, use.material) == (layout.sheet, layout.material)
        )
        pages = layout_pages(layout, stock=stock, units=units, room=room, releases=releases)
        for k, drawn in enumerate(pages):
            name = f"{layout.number}-cuts-{k}" if k else f"{layout.number}"
            files[f"layouts-left/{name}.svg"] = to_svg(drawn, ink=options.ink).encode()
    return files
