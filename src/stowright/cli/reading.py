"""What the commands are given: job, shelf, progress on stderr."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stowright.app.loading import MOST_BYTES, load_catalogue, load_job, read_text
from stowright.cli.errors import JOB_TEXT

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["STDIN", "catalogue_for", "given_job", "given_text", "tell"]

STDIN = "-"
_SHOP_FILE = "catalogue.toml"
_MOST_STDIN = MOST_BYTES + 1


def given_text(path: str) -> str:
    """Return the text of a file, or of standard input for ``-``."""
    if path == STDIN:
        return sys.stdin.buffer.read(_MOST_STDIN).decode("utf-8-sig", errors="replace")
    return read_text(Path(path))


def given_job(path: str, catalogue_file: str | None) -> tuple[Job, Catalogue]:
    """Return the job, and the shelf it is built from."""
    shelf = catalogue_for(path, catalogue_file)
    source = sys.stdin.buffer.read(_MOST_STDIN) if path == STDIN else Path(path)
    job = load_job(source, catalogue=shelf)
    context = click.get_current_context(silent=True)
    if context is not None:
        context.meta[JOB_TEXT] = source if isinstance(source, bytes) else source.read_bytes()
    return job, shelf


def catalogue_for(job_path: str, catalogue_file: str | None) -> Catalogue:
    """Return the shelf: the file that was named, else ``catalogue.toml`` beside the job."""
    if catalogue_file is None and job_path != STDIN:
        beside = Path(job_path).parent / _SHOP_FILE
        catalogue_file = str(beside) if beside.is_file() else None
    return load_catalogue(catalogue_file)


def tell(what: str) -> None:
    """Say on stderr what is being done, when a person is looking."""
    if sys.stderr.isatty():
        click.echo(f"… {what}", err=True)
