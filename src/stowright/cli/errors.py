"""Mistakes told to a person: a line each on stderr, exit 2."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps

import click

from stowright.errors import DesignError, StowrightError

__all__ = ["INPUT_WRONG", "PROOF_FAILED", "telling_mistakes"]

#: Exit codes of the contract; 0 is done.
PROOF_FAILED = 1
INPUT_WRONG = 2


def telling_mistakes[**P, R](command: Callable[P, R]) -> Callable[P, R]:
    """Wrap a command so that what is wrong with its input is told without a traceback."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            return command(*args, **kwargs)
        except BrokenPipeError:
            raise
        except StowrightError as error:
            click.echo(str(error), err=True)
            for odd in error.odd if isinstance(error, DesignError) else ():
                click.echo(f"note: {odd}", err=True)
        except OSError as error:
            where = f"{error.filename}: " if error.filename else ""
            click.echo(f"{where}{(error.strerror or str(error)).lower()}", err=True)
        sys.exit(INPUT_WRONG)

    return run
