"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from stowright.app.cut_list import SHEET_WORDS
from stowright.explore.budget import KEEP, Budget

__all__ = [
    "catalogue_option",
    "explore_options",
    "job_argument",
    "json_option",
    "list_options",
    "out_options",
    "paper_options",
    "print_options",
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
_LIST: tuple[Wrap, ...] = (
    click.option(
        "--sheet",
        "sheets",
        multiple=True,
        metavar=SHEET_WORDS,
        help="For a parts list: a size of sheet in mm, what one costs and how many there are where "
        "that is limited; give it again for more sizes. The cheapest mix is looked for, by price "
        "when every size has one, else by area.  [default: 2440x1220]",
    ),
    click.option(
        "--kerf", type=float, help="For a parts list: mm lost to the blade.  [default: 3]"
    ),
    click.option("--trim", type=float, help="For a parts list: mm off each edge.  [default: 10]"),
    click.option(
        "--method",
        type=click.Choice(["hand", "panel", "cnc"]),
        help="For a parts list: hand-held saw, panel saw (rips first, three stages) or router.",
    ),
    click.option(
        "--effort",
        type=click.Choice(["quick", "normal", "long"]),
        help="For a parts list: how long to search, counted in steps, not in seconds.",
    ),
    click.option(
        "--time-limit",
        "time_limit_s",
        type=float,
        metavar="SECONDS",
        help="For a parts list: stop early; the layouts then depend on the machine.",
    ),
)
_PAPER: tuple[Wrap, ...] = (
    click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True),
    click.option(
        "--projection", type=click.Choice(["first", "third"]), default="first", show_default=True
    ),
    click.option(
        "--ink", type=click.Choice(["colour", "black"]), default="colour", show_default=True
    ),
    click.option(
        "--drawings",
        type=click.Choice(["page", "large"]),
        default="page",
        show_default=True,
        help="General arrangement in the book: by views, or on A3 (11 x 17 in with letter) too.",
    ),
    click.option("--revision", default="", help="Printed on every page and in title blocks."),
    click.option("--date", default="", help="The same; no date is printed unless it is given."),
    click.option(
        "--label-grid",
        "label_grid",
        default="",
        metavar="NAME|WxH",
        help="Labels: a4-21, a4-14, a4-24, a4-8, letter-14, letter-10, letter-30, letter-6, or a "
        "size in mm.",
    ),
)
_PRINTS: tuple[Wrap, ...] = (
    click.option("--labels", "what", flag_value="labels", help="Only labels.pdf."),
    click.option("--survey", "what", flag_value="survey", help="Only survey.pdf: the blank form."),
    click.option(
        "--rods", "what", flag_value="rods", help="Only rods.pdf: set-out rods at full size."
    ),
    click.option("--cards", "what", flag_value="cards", help="Only cards.pdf: steps for a phone."),
    click.option(
        "--packing", "what", flag_value="packing", help="Only packing.pdf: what lies where, labels."
    ),
)

_EXPLORE: tuple[Wrap, ...] = (
    click.option("--seed", type=click.IntRange(0), default=0, show_default=True),
    click.option(
        "--keep",
        type=click.IntRange(1, 30),
        default=KEEP,
        show_default=True,
        help="How many designs are shown at most.",
    ),
    click.option(
        "--quick",
        type=click.IntRange(1, 1_000_000),
        default=Budget().quick,
        show_default=True,
        help="How many arrangements are judged by their bodies.",
    ),
    click.option(
        "--whole",
        type=click.IntRange(0, 100_000),
        default=Budget().whole,
        show_default=True,
        help="How many of them are proved and cut.",
    ),
    click.option(
        "--time",
        "time_limit_s",
        type=click.FloatRange(0.0, min_open=True),
        metavar="SECONDS",
        help="Stop then with the best so far; what is found then depends on the machine.",
    ),
    click.option(
        "--workers",
        type=click.IntRange(1, 512),
        help="Processes on this machine; the result is the same.  [default: one a core]",
    ),
    click.option(
        "--cluster",
        metavar="ADDRESS",
        help="A Dask scheduler that hands the work out, instead of processes here.",
    ),
    click.option(
        "--what-if",
        "change",
        metavar="FIELD=VALUES",
        help="Keep the job and change one number: bay.width=1380..1420:5, "
        "carry[1].mass=10,20,40, build.runner=auto,heavy-80-lock. Lengths in the job's unit.",
    ),
)


def out_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--out`` and ``--force``."""
    return _all_of(_OUT, command)


def list_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add what only a list of parts needs: stock, saw and effort."""
    return _all_of(_LIST, command)


def explore_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add how long designs are looked for, by whom, and what is changed."""
    return _all_of(_EXPLORE, command)


def paper_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add what the book and the drawings are made for."""
    return _all_of(_PAPER, command)


def print_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add what is printed by itself in place of the whole book."""
    return _all_of(_PRINTS, command)


def _all_of(options: tuple[Wrap, ...], command: Callable[..., Any]) -> Callable[..., Any]:
    for option in reversed(options):
        command = option(command)
    return command
