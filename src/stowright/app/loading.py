"""Reading what people give: a job file and a shop's own catalogue."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from stowright.errors import JobError, Mistake

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["MOST_BYTES", "job_schema", "load_catalogue", "load_job", "read_text"]

#: Far above any file that a person writes; larger ones are refused before they are parsed.
MOST_BYTES = 2_000_000


def load_job(source: str | Path, *, catalogue: Catalogue | None = None) -> Job:
    """Return the job in a file or in a text.

    Args:
        source: Path of a job file, or the job's own text: a ``str`` that holds a line break or an
            equals sign is a text.
        catalogue: The shelf whose names the job may use; None for the shipped one.

    Raises:
        JobError: With every mistake in the file, each with its line.
    """
    from stowright.catalogue import known_names
    from stowright.catalogue import load_catalogue as load_shelf
    from stowright.jobfile import read_job

    shelf = catalogue or load_shelf()
    return read_job(_text(source), catalogue_names=known_names(shelf))


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


def _text(source: str | Path) -> str:
    if isinstance(source, str) and ("\n" in source or "=" in source):
        if len(source) > MOST_BYTES:
            raise _refusal(Path("text"), f"{len(source)} characters", f"at most {MOST_BYTES}")
        return source.removeprefix("\ufeff")
    return read_text(Path(source))


def _refusal(path: Path, found: str, allowed: str) -> JobError:
    return JobError((Mistake(field=str(path), found=found, allowed=allowed),))
