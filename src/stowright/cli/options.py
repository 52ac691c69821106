"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

__all__ = [
    "catalogue_option",
    "job_argument",
    "json_option",
    "out_options",
    "paper_options",
    "strict_option",
]

type Wrap = Callable[[Callable[..., Any]], Callable[..., Any]]

job_argument: Wrap = click.argument("job", metavar="JOB")
json_option: Wrap = click.option(
    "--json", "as_json", is_flag=True, help="Print data for programs instead of a summary."
)
strict_option: Wrap = click.option("--strict", is_flag=True, help="Exit 1 when a proof fails.")
catalogue_option: Wrap = click.option(
    "--catalogue",
    "catalogue_file",
    metavar="FILE",
    help="The shop's own catalogue; else catalogue.toml beside the job, if there is one.",
)

_OUT: tuple[Wrap, ...] = (
    click.option("--out", "out", metavar="DIR", help="Write files into this folder."),
    click.option("--force", is_flag=True, help="Overwrite files that are not ours."),
)
_PAPER: tuple[Wrap, ...] = (
    click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True),
    click.option(
        "--projection", type=click.Choice(["first", "third"]), default="first", show_default=True
    ),
    click.option(
        "--ink", type=click.Choice(["colour", "black"]), default="colour", show_default=True
    ),
)


def out_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--out`` and ``--force``."""
    return _all_of(_OUT, command)


def paper_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add what the book and the drawings are made for."""
    return _all_of(_PAPER, command)


def _all_of(options: tuple[Wrap, ...], command: Callable[..., Any]) -> Callable[..., Any]:
    for option in reversed(options):
        command = option(command)
    return command
