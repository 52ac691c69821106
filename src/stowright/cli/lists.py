"""The commands ``schema`` and ``catalogue``."""

from __future__ import annotations

import click

from stowright.app.loading import job_schema, load_catalogue
from stowright.app.plain import json_text, plain
from stowright.app.plan_schema import plan_schema
from stowright.app.shelf import row_summary, tables_of
from stowright.cli.show import show_table
from stowright.errors import UnknownNameError

__all__ = ["run_catalogue", "run_schema"]


def run_schema(*, subject: str) -> None:
    """Print the JSON Schema of the job file or of the plan."""
    if subject == "plan":
        click.echo(json_text(plan_schema()), nl=False)
        return
    click.echo(json_text(job_schema()), nl=False)


def run_catalogue(*, table: str | None, as_json: bool, catalogue_file: str | None) -> None:
    """Print what is on the shelf."""
    tables = tables_of(load_catalogue(catalogue_file))
    if table is not None and table not in tables:
        raise UnknownNameError("table of the catalogue", table, tuple(tables))
    chosen = tables if table is None else {table: tables[table]}
    if as_json:
        click.echo(json_text(plain(chosen)), nl=False)
    elif table is None:
        rows = [(name, str(len(found))) for name, found in chosen.items()]
        show_table("Catalogue", ("table", ">rows"), rows)
    else:
        heads = ("name", "what it is", "standing", "source")
        show_table(table, heads, [row_summary(row) for row in chosen[table]])
