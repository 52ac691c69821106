"""Reading what people give: a job file and a shop's own catalogue."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from stowright.errors import JobError, Mistake

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stowright.jobfile import KnownNames
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job
    from stowright.units import Unit

__all__ = [
    "MOST_BYTES",
    "bare_starter",
    "job_schema",
    "line_of",
    "load_catalogue",
    "load_job",
    "placed",
    "read_text",
    "starter",
    "starter_answers",
    "starter_kinds",
]

#: Far above any file that a person writes; larger ones are refused before they are parsed.
MOST_BYTES = 2_000_000
_HOLDS_SHUT = ("latch", "lock")


def load_job(source: str | bytes | Path, *, catalogue: Catalogue | None = None) -> Job:
    """Return the job in a file or in a text.

    Args:
        source: Path of a job file, or the job's own text: bytes, or a ``str`` that holds a line
            break or an equals sign, are the text itself.
        catalogue: The shelf whose names the job may use; None for the shipped one.

    Raises:
        JobError: With every mistake in the file, each with its line.
    """
    from stowright import jobfile

    names = _known_names(catalogue or load_catalogue())
    if isinstance(source, bytes) or (isinstance(source, str) and ("\n" in source or "=" in source)):
        return jobfile.read_job(source, catalogue_names=names)
    return jobfile.load_job(source, catalogue_names=names)


def line_of(about: str, text: str | bytes) -> int:
    """Return the line of a job file that a refusal of the design is about; 0 for none."""
    from stowright.jobfile.places import line_of as line

    return line(about, text)


def placed(mistakes: tuple[Mistake, ...], text: bytes) -> tuple[Mistake, ...]:
    """Return mistakes with the line and column of their field in a job file."""
    from stowright.jobfile.places import with_lines

    return with_lines(mistakes, text)


def load_catalogue(path: str | Path | None = None) -> Catalogue:
    """Return the shelf: the shipped rows, with a shop's own file laid over them.

    Args:
        path: The shop's file, or None for the shipped rows alone.

    Raises:
        JobError: With every mistake in the shop's file.
    """
    from stowright.catalogue import load_catalogue as load_shelf

    return load_shelf(None if path is None else read_text(Path(path)))


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of the job file."""
    from stowright.jobfile import job_schema as schema

    return schema()


def starter_kinds() -> tuple[str, ...]:
    """Return the kinds of bay that have a starter job."""
    from stowright.jobfile import STARTER_KINDS

    return STARTER_KINDS


def starter_answers(kind: str) -> tuple[str, ...]:
    """Return what a starter of a kind can be told, the most telling first.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    from stowright.jobfile import starter_answers as answers

    return answers(kind)


def starter(kind: str, *, units: Unit, answers: Mapping[str, str]) -> str:
    """Return a commented starter job.

    Raises:
        UnknownNameError: If there is no such kind, or an answer has no place in it.
        JobError: If an answer is no length, or the answers make an impossible bay.
    """
    from stowright.jobfile import starter as started

    return started(kind, units=units, answers=answers)


def bare_starter(kind: str, *, units: Unit, title: str) -> str:
    """Return a job of a bay that nobody has measured yet.

    Raises:
        UnknownNameError: If there is no such kind.
    """
    from stowright.jobfile import bare_starter as bare

    return bare(kind, units=units, title=title)


def read_text(path: Path) -> str:
    """Return the text of a file that a person wrote; a byte-order mark is taken off.

    Raises:
        JobError: If it cannot be read, is not text in UTF-8, or is too large.
    """
    try:
        if path.is_file() and path.stat().st_size > MOST_BYTES:
            raise _refusal(path, f"{path.stat().st_size} bytes", f"at most {MOST_BYTES} bytes")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"a byte at {error.start} that is not UTF-8 text"
        raise _refusal(path, found, "text in UTF-8") from error
    except (OSError, ValueError) as error:
        if isinstance(error, JobError):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise _refusal(path, reason.lower(), "a file that can be read") from error


def _known_names(shelf: Catalogue) -> KnownNames:
    from stowright.jobfile import KEPT_RULES, KnownNames

    return KnownNames(
        materials=tuple(row.name for row in shelf.materials),
        thicknesses=tuple((row.name, row.thickness) for row in shelf.materials),
        runners=tuple(row.name for row in shelf.runners),
        saws=tuple(row.name for row in shelf.saws),
        finishes=tuple(row.name for row in shelf.finishes),
        rules=KEPT_RULES,
        latches=tuple(row.name for row in shelf.hardware if row.kind in _HOLDS_SHUT),
        straps=tuple(row.name for row in shelf.hardware if row.kind == "strap"),
        things=shelf.things,
    )


def _refusal(path: Path, found: str, allowed: str) -> JobError:
    return JobError((Mistake(field=str(path), found=found, allowed=allowed),))
