"""An exploration as files: the comparison sheet, and a job file for each design kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from stowright.app.files import write_files
from stowright.app.plain import json_text, plain

if TYPE_CHECKING:
    from stowright.explore.exploring import Candidate, Exploration
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["exploration_data", "write_exploration"]


def write_exploration(
    found: Exploration,
    job: Job,
    catalogue: Catalogue,
    folder: str | Path,
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
    force: bool = False,
) -> tuple[Path, ...]:
    """Write ``comparison.pdf``, ``comparison.html``, ``explore.json`` and ``candidates/*.toml``.

    Args:
        found: What was explored.
        job: The job that it was explored for.
        catalogue: The shelf.
        folder: Where to.
        paper: The page.
        ink: Colour or plain black.
        force: Overwrite other people's files too.

    Raises:
        FileConflictError: If a file stands in the way that no earlier run wrote.
        BookError: If the sheet does not typeset.
        OSError: If the folder cannot be written.
    """
    from stowright.book.comparison import comparison_html, comparison_pdf, pictures
    from stowright.explore.settle import settled
    from stowright.jobfile import dump_job

    designs = {str(k): settled(c.job, catalogue) for k, c in enumerate(found.kept, start=1)}
    figures = pictures(designs, ink=ink)
    contents = {
        "comparison.pdf": comparison_pdf(found, job, figures, paper=paper, ink=ink),
        "comparison.html": comparison_html(found, job, figures).encode(),
        "explore.json": json_text(exploration_data(found)).encode(),
    }
    for k, candidate in enumerate(found.kept, start=1):
        contents[f"candidates/{k}.toml"] = dump_job(candidate.job).encode()
    return write_files(Path(folder), contents, force=force)


def exploration_data(found: Exploration) -> dict[str, Any]:
    """Return an exploration as plain data, for programs."""
    return {
        "criteria": [plain(each) for each in found.criteria],
        "kept": [
            {"file": f"candidates/{k}.toml", **_candidate(c)}
            for k, c in enumerate(found.kept, start=1)
        ],
        "asked": None if found.asked is None else _candidate(found.asked),
        "front": [plain(row.measures) for row in found.front],
        "judged": {"quick": found.quick, "whole": found.whole, "serving": found.serving},
        "refused": [[each.code, each.count] for each in found.refused],
        "arrangements": found.size,
        "stopped": found.stopped,
    }


def _candidate(candidate: Candidate) -> dict[str, Any]:
    return {
        "name": candidate.name,
        "measures": plain(candidate.measures),
        "best_at": list(candidate.best_at),
        "gives_up": list(candidate.gives_up),
        "serves": candidate.judged.serves,
        "wrong": [each.what for each in candidate.judged.wrong],
        "wrong_told": [each.told for each in candidate.judged.wrong],
        "warnings": candidate.judged.warnings,
        "not_proved": candidate.judged.not_proved,
    }
