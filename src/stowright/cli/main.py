"""``stowright``: the commands. What a command needs loads when it runs, so that help is instant."""

from __future__ import annotations

import os
import sys
from typing import Any

import click

from stowright.cli.errors import telling_mistakes
from stowright.cli.options import (
    catalogue_option,
    job_argument,
    json_option,
    out_options,
    paper_options,
    strict_option,
)

__all__ = ["cli", "main"]


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="stowright", message="stowright %(version)s")
def cli() -> None:
    """From a measured load area to a plan book for plywood drawers, deck and wings.

    A JOB is a job file, or - for one on standard input. Exits 0 when done, 1 when a proof fails and
    --strict was given, 2 when the input is wrong.
    """


@cli.command()
@click.argument("kind", type=click.Choice(["tub", "van", "wagon", "tray"]), required=False)
@click.option("--title", help="What the job is called.")
@click.option("--units", type=click.Choice(["mm", "in"]), help="Unit of bare numbers and of print.")
@click.option("--length", help="Length of the load floor: 1494, or '58 7/8 in'.")
@click.option("--width", help="Width of the load floor.")
@click.option("--height", help="Floor to side rail (tub, tray) or to the roof (van, wagon).")
@click.option("--answer", "answers", multiple=True, metavar="NAME=VALUE", help="Any other reading.")
@click.option("--to", "target", metavar="FILE", help="Write to this file; else it is printed.")
@click.option("--force", is_flag=True, help="Overwrite the file.")
@telling_mistakes
def new(**options: Any) -> None:
    """Write a commented starter job.

    KIND is the kind of bay. On a terminal it asks for what is not given.
    """
    from stowright.cli.starting import run_new

    run_new(**options)


@cli.command()
@job_argument
@json_option
@out_options
@paper_options
@strict_option
@catalogue_option
@telling_mistakes
def plan(**options: Any) -> None:
    """Work out the whole plan of JOB.

    Parts that fit, proofs, sheets, steps of the work.

    With --out it writes plan.json, book.pdf, cutting.csv, unit.glb, drawings and sheet layouts.
    """
    from stowright.cli.planning import run_plan

    run_plan(**options)


@cli.command()
@job_argument
@json_option
@out_options
@strict_option
@catalogue_option
@telling_mistakes
def prove(**options: Any) -> None:
    """Show what is proved about JOB, with its working."""
    from stowright.cli.planning import run_prove

    run_prove(**options)


@cli.command()
@click.argument("job", metavar="JOB|PARTS.CSV")
@json_option
@out_options
@click.option("--sheet", "sheets", multiple=True, metavar="LxW", help="For a parts list: a sheet.")
@click.option("--kerf", type=float, help="For a parts list: width lost to the blade, mm.")
@click.option("--trim", type=float, help="For a parts list: taken off each sheet edge, mm.")
@catalogue_option
@telling_mistakes
def cut(**options: Any) -> None:
    """Lay out the parts of JOB, or of a list, on sheets.

    A parts list has the columns mark, length, width, quantity, grain (sizes in mm).
    """
    from stowright.cli.cutting import run_cut

    run_cut(**options)


@cli.command()
@job_argument
@out_options
@paper_options
@catalogue_option
@telling_mistakes
def book(**options: Any) -> None:
    """Write the plan book of JOB.

    The file is book.pdf, in this folder without --out.
    """
    from stowright.cli.planning import run_book

    run_book(**options)


@cli.command()
@click.option("--of", "subject", type=click.Choice(["job", "plan"]), default="job")
@telling_mistakes
def schema(**options: Any) -> None:
    """Print the JSON Schema of the job file, or of plan.json."""
    from stowright.cli.lists import run_schema

    run_schema(**options)


@cli.command()
@click.argument("table", required=False)
@json_option
@catalogue_option
@telling_mistakes
def catalogue(**options: Any) -> None:
    """List what is on the shelf.

    Without TABLE its tables; with one its rows and where each comes from.
    """
    from stowright.cli.lists import run_catalogue

    run_catalogue(**options)


def main() -> None:
    """Run the command line."""
    _keep_stdout_ours()
    cli(prog_name="stowright")


def _keep_stdout_ours() -> None:
    """Let only Python write to standard output.

    Compiled libraries greet on it (a solver prints its name), which would spoil ``--json``.
    """
    sys.stdout.flush()
    encoding, errors = sys.stdout.encoding, sys.stdout.errors
    sys.stdout = os.fdopen(os.dup(1), "w", encoding=encoding, errors=errors, closefd=True)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.close(nowhere)
