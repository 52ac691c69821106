"""``stowright``: the commands. What a command needs loads when it runs, so that help is instant."""

from __future__ import annotations

import os
import sys
from typing import Any

import click

from stowright.cli.errors import telling_mistakes
from stowright.cli.options import (
    catalogue_option,
    explore_options,
    job_argument,
    json_option,
    list_options,
    out_options,
    paper_options,
    print_options,
    strict_option,
)
from stowright.cli.shop_group import shop

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
@click.option("--cards", is_flag=True, help="Also cards.pdf: the steps for a phone.")
@strict_option
@catalogue_option
@telling_mistakes
def plan(**options: Any) -> None:
    """Work out the whole plan of JOB.

    Parts that fit, proofs, sheets, steps of the work.

    With --out it writes plan.json, book.pdf, labels.pdf, survey.pdf, rods.pdf, cutting.csv,
    unit.glb, drawings and sheet layouts.
    """
    from stowright.cli.planning import run_plan

    run_plan(**options)


@cli.command()
@job_argument
@json_option
@click.option(
    "--why",
    multiple=True,
    metavar="ID",
    help="Show the full working of this proof, or of all with this code; give it again for more.",
)
@out_options
@strict_option
@catalogue_option
@telling_mistakes
def prove(**options: Any) -> None:
    """List what is proved about JOB, worst first; --why shows one with its full working."""
    from stowright.cli.planning import run_prove

    run_prove(**options)


#: Lines that are printed as they stand.
_CUT_EXAMPLES = """\b
stowright cut parts.csv --sheet 2440x1220 --kerf 3 --trim 10 --out cut
stowright cut parts.csv --sheet 2440x1220:price=58 --sheet 1250x800:price=0:count=2
"""


@cli.command(epilog=_CUT_EXAMPLES)
@click.argument("job", metavar="JOB|PARTS.CSV")
@json_option
@out_options
@list_options
@catalogue_option
@telling_mistakes
def cut(**options: Any) -> None:
    """Lay out the parts of JOB, or of a list, on sheets.

    A parts list has the columns mark, length, width, quantity, grain: sizes in mm, grain yes or
    no; with yes the length runs along the sheet's length.
    """
    from stowright.cli.cutting import run_cut

    run_cut(**options)


@cli.command()
@job_argument
@out_options
@paper_options
@print_options
@catalogue_option
@telling_mistakes
def book(**options: Any) -> None:
    """Write the plan book of JOB, or one print of it alone.

    The file is book.pdf (or labels.pdf, survey.pdf, rods.pdf, cards.pdf), in this folder without
    --out.
    """
    from stowright.cli.planning import run_book

    run_book(**options)


@cli.command()
@job_argument
@click.option(
    "--from",
    "from_plan",
    metavar="PLAN.JSON",
    help="The plan that was cut from: sizes of parts ticked off without one, and what is left of "
    "each sheet.",
)
@click.option(
    "--back",
    type=int,
    metavar="N",
    help="Put JOB back to state N of --out first (-1: the state before the last).",
)
@click.option("--states", is_flag=True, help="List the states kept in --out.")
@click.option(
    "--for",
    "other",
    metavar="OTHER.TOML",
    help="Copy JOB to the next vehicle: bay and vehicle of OTHER, every choice of JOB.",
)
@click.option("--mirror", is_flag=True, help="Mirror JOB left for right.")
@click.option(
    "--to", "target", metavar="FILE", help="With --for or --mirror: the new job file; else printed."
)
@json_option
@out_options
@paper_options
@strict_option
@catalogue_option
@telling_mistakes
def refit(**options: Any) -> None:
    """Fit what is still to be cut to what was cut and read.

    JOB says so with [[reading]], [[done]], [[sheet]] and [[spoiled]]. What is cut stays as it is.
    Prints old and new sizes side by side and why; with --out it writes plan.json, changes.json,
    changes.pdf, the drawings that changed and the layouts of what is left, and keeps the state.
    """
    from stowright.cli.refitting import run_refit

    run_refit(**options)


@cli.command()
@job_argument
@json_option
@out_options
@explore_options
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--ink", type=click.Choice(["colour", "black"]), default="colour", show_default=True)
@catalogue_option
@telling_mistakes
def explore(**options: Any) -> None:
    """Compare designs for the bay, vehicle and carry list of JOB; or change one number of it.

    Its blocks and decks are only shown beside what is found. With --out it writes comparison.pdf,
    comparison.html, explore.json and candidates/*.toml: each a job that plan accepts as it is.

    The same job, seed and numbers of designs give the same result on any number of processes.
    """
    from stowright.cli.exploring import run_explore

    run_explore(**options)


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


@cli.command("open")
@click.argument("job", required=False)
@click.option("--folder", metavar="DIR", help="Where the jobs are kept; else this folder.")
@click.option("--port", type=click.IntRange(1, 65535), help="Port on this machine.")
@click.option("--share", is_flag=True, help="Let one phone in the network in, with a code.")
@click.option("--show/--no-show", default=True, help="Open a browser.")
@telling_mistakes
def open_app(**options: Any) -> None:
    """Open the web app on this machine.

    JOB is a job file to begin with. Only this machine can see it, until something is shared.
    """
    from stowright.cli.opening import run_open

    run_open(**options)


cli.add_command(shop)


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
