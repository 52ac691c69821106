"""``stowright shop``: rack, prices, hours and quotes of a folder of jobs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from stowright.app.cut_list import SHEET_WORDS
from stowright.cli.errors import telling_mistakes
from stowright.cli.options import catalogue_option, job_argument, json_option

__all__ = ["shop"]

folder_option: Callable[..., Any] = click.option(
    "--folder",
    metavar="DIR",
    help="Where the shop's jobs and records are kept.  [default: the job's folder, else this one]",
)


@click.group()
def shop() -> None:
    """Keep the shop's rack, prices, hours and quotes.

    They lie beside the jobs, in the file that the web app uses too; rates and terms stand in
    shop.toml.
    """


@shop.command()
@folder_option
@click.option("--force", is_flag=True, help="Overwrite the file.")
@telling_mistakes
def figures(**options: Any) -> None:
    """Write shop.toml to fill in; where there is one, check and show it."""
    from stowright.cli.shop_runs import run_figures

    run_figures(**options)


@shop.command()
@folder_option
@json_option
@telling_mistakes
def rack(**options: Any) -> None:
    """List the sheets and offcuts on the rack."""
    from stowright.cli.shop_runs import run_rack

    run_rack(**options)


@shop.command()
@click.argument("material")
@click.argument("sheet", metavar=SHEET_WORDS)
@click.option("--offcut", is_flag=True, help="It is an offcut.")
@folder_option
@catalogue_option
@telling_mistakes
def put(**options: Any) -> None:
    """Put sheets on the rack.

    MATERIAL as in the catalogue; size in mm, along the face grain first, with what one is worth and
    how many there are: 2440x1220:price=58:count=3.
    """
    from stowright.cli.shop_runs import run_put

    run_put(**options)


@shop.command()
@click.argument("sheet", metavar="ID")
@click.option("--count", type=int, default=1, show_default=True, help="How many.")
@folder_option
@telling_mistakes
def take(**options: Any) -> None:
    """Take sheets off the rack."""
    from stowright.cli.shop_runs import run_take

    run_take(**options)


@shop.command()
@job_argument
@click.option("--done", is_flag=True, help="It is cut: take the sheets off, put the offcuts on.")
@json_option
@folder_option
@catalogue_option
@telling_mistakes
def draw(**options: Any) -> None:
    """Lay JOB out on the rack first: what it takes, what is bought, which offcuts come back."""
    from stowright.cli.shop_runs import run_draw

    run_draw(**options)


@shop.command()
@click.argument("name", required=False)
@click.argument("amount", required=False, type=float)
@click.option("--own", is_flag=True, help="An article of the shop's own, that no list names.")
@click.option("--forget", is_flag=True, help="Take the price away.")
@folder_option
@json_option
@catalogue_option
@telling_mistakes
def price(**options: Any) -> None:
    """List the shop's own prices, or keep AMOUNT for one of NAME, as the list to buy names it."""
    from stowright.cli.shop_runs import run_price

    run_price(**options)


@shop.command()
@job_argument
@click.argument("task", required=False)
@click.argument("took", required=False, type=float, metavar="HOURS")
@folder_option
@json_option
@catalogue_option
@telling_mistakes
def hours(**options: Any) -> None:
    """Show expected and tracked hours of JOB, or keep what TASK took.

    Later quotes use the shop's own hours of the tasks that were tracked.
    """
    from stowright.cli.shop_runs import run_hours

    run_hours(**options)


@shop.command()
@job_argument
@click.option("--customer", default="", help="Who it is for; else the job's client.")
@click.option("--vehicle", default="", help="Which vehicle, with its plate.")
@click.option(
    "--option",
    "others",
    multiple=True,
    metavar="OTHER.TOML",
    help="Another form of the job, offered beside it; give it again for more.",
)
@click.option(
    "--since", type=int, metavar="N", help="Price the change since quote N in place of a quote."
)
@click.option("--keep", is_flag=True, help="It goes out: number it and keep it.")
@click.option("--to", "target", metavar="FILE.PDF", help="Write the page to sign.")
@click.option("--force", is_flag=True, help="Overwrite the file.")
@click.option("--date", default="", help="Printed on the page; no date is printed without.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--ink", type=click.Choice(["colour", "black"]), default="colour", show_default=True)
@folder_option
@json_option
@catalogue_option
@telling_mistakes
def quote(**options: Any) -> None:
    """Quote JOB at a fixed price: goods, hours by task, shares and terms of shop.toml."""
    from stowright.cli.shop_runs import run_quote

    run_quote(**options)


@shop.command()
@folder_option
@json_option
@telling_mistakes
def jobs(**options: Any) -> None:
    """List the jobs with quotes or tracked hours."""
    from stowright.cli.shop_runs import run_jobs

    run_jobs(**options)
