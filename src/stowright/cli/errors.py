"""Mistakes told to a person: a line each on stderr, exit 2."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path

import click

from stowright.errors import DesignError, JobError, StowrightError

__all__ = ["INPUT_WRONG", "JOB_TEXT", "PROOF_FAILED", "telling_mistakes"]

#: Exit codes of the contract; 0 is done.
PROOF_FAILED = 1
INPUT_WRONG = 2
#: As shells count a command that was stopped by Ctrl-C, and one whose reader went away.
_STOPPED = 130
_NOBODY_READS = 141
#: Where a command that reads a job keeps its text, to say in which line a refusal starts.
JOB_TEXT = "stowright.job_text"


def telling_mistakes[**P, R](command: Callable[P, R]) -> Callable[P, R]:
    """Wrap a command so that what is wrong with its input is told without a traceback."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            made = command(*args, **kwargs)
            sys.stdout.flush()  # what cannot be printed is told here, not when Python ends
        except KeyboardInterrupt:
            click.echo("stopped", err=True)
            sys.exit(_STOPPED)
        except BrokenPipeError:
            _print_no_more()
            sys.exit(_NOBODY_READS)
        except DesignError as error:
            click.echo(f"{_line_of(error)}{error}", err=True)
            for odd in error.odd:
                click.echo(f"note: {odd}", err=True)
        except JobError as error:
            click.echo(_with_lines(error), err=True)
        except StowrightError as error:
            click.echo(str(error), err=True)
        except OSError as error:
            where = f"{error.filename}: " if error.filename else ""
            click.echo(f"{where}{(error.strerror or str(error)).lower()}", err=True)
            _print_no_more()
        else:
            return made
        sys.exit(INPUT_WRONG)

    return run


def _print_no_more() -> None:
    """Let what cannot be printed go nowhere: Python would try again when it ends."""
    with contextlib.suppress(OSError):
        sys.stdout.flush()
        return
    with contextlib.suppress(OSError), Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), sys.stdout.fileno())


def _job_text() -> bytes | None:
    context = click.get_current_context(silent=True)
    text: bytes | None = context.meta.get(JOB_TEXT) if context is not None else None
    return text


def _with_lines(error: JobError) -> str:
    """Return mistakes that show only when the job is planned, with their lines in its file."""
    text = _job_text()
    if text is None:
        return str(error)
    from stowright.app.loading import placed

    return str(JobError(placed(error.mistakes, text)))


def _line_of(error: DesignError) -> str:
    text = _job_text()
    if text is None:
        return ""
    from stowright.app.loading import line_of

    line = line_of(error.about, text)
    return f"line {line}: " if line else ""
