"""Mistakes told to a person: a line each on stderr, exit 2."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps

import click

from stowright.errors import DesignError, StowrightError

__all__ = ["INPUT_WRONG", "JOB_TEXT", "PROOF_FAILED", "telling_mistakes"]

#: Exit codes of the contract; 0 is done.
PROOF_FAILED = 1
INPUT_WRONG = 2
#: Where a command that reads a job keeps its text, to say in which line a refusal starts.
JOB_TEXT = "stowright.job_text"


def telling_mistakes[**P, R](command: Callable[P, R]) -> Callable[P, R]:
    """Wrap a command so that what is wrong with its input is told without a traceback."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            return command(*args, **kwargs)
        except BrokenPipeError:
            raise
        except DesignError as error:
            click.echo(f"{_line_of(error)}{error}", err=True)
            for odd in error.odd:
                click.echo(f"note: {odd}", err=True)
        except StowrightError as error:
            click.echo(str(error), err=True)
        except OSError as error:
            where = f"{error.filename}: " if error.filename else ""
            click.echo(f"{where}{(error.strerror or str(error)).lower()}", err=True)
        sys.exit(INPUT_WRONG)

    return run


def _line_of(error: DesignError) -> str:
    context = click.get_current_context(silent=True)
    text = context.meta.get(JOB_TEXT) if context is not None else None
    if text is None:
        return ""
    from stowright.app.loading import line_of

    line = line_of(error.about, text)
    return f"line {line}: " if line else ""
