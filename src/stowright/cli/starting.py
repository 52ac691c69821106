"""The command ``new``: a commented starter job."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stowright.app.files import write_file
from stowright.app.loading import starter, starter_answers, starter_kinds
from stowright.errors import FileConflictError, JobError, Mistake

if TYPE_CHECKING:
    from stowright.units import Unit

__all__ = ["run_new"]

_HEIGHTS = ("rail", "clear_height")


def run_new(
    *,
    kind: str | None,
    title: str | None,
    units: Unit | None,
    length: str | None,
    width: str | None,
    height: str | None,
    answers: tuple[str, ...],
    target: str | None,
    force: bool,
) -> None:
    """Print a starter job or write it to a file; ask for what is missing on a terminal."""
    asking = sys.stdin.isatty() and sys.stderr.isatty()
    chosen = kind or _asked_kind(asking=asking)
    known = starter_answers(chosen)
    upright = next((name for name in _HEIGHTS if name in known), "height")
    given = {"title": title, "length": length, "width": width, upright: height}
    said = {name: value for name, value in given.items() if value is not None}
    said |= _pairs(answers)
    unit: Unit = units or (_asked_unit() if asking else "mm")
    if asking and not answers:
        said |= _asked({name: said.get(name) for name in known}, unit)
    text = starter(chosen, units=unit, answers=said)
    if target is None:
        click.echo(text, nl=False)
        return
    _write(Path(target), text, force=force)


def _write(path: Path, text: str, *, force: bool) -> None:
    if path.exists() and not force:
        raise FileConflictError(str(path))
    write_file(path, text.encode())
    click.echo(f"The starter is {path}; put your own readings in, then: stowright plan {path}")


def _pairs(answers: tuple[str, ...]) -> dict[str, str]:
    wrong = [answer for answer in answers if "=" not in answer]
    if wrong:
        allowed = "name=value: arch_height=228"
        raise JobError(
            tuple(Mistake(field="--answer", found=answer, allowed=allowed) for answer in wrong)
        )
    pairs = [answer.partition("=") for answer in answers]
    return {name.strip(): value.strip() for name, _, value in pairs}


def _asked_kind(*, asking: bool) -> str:
    kinds = starter_kinds()
    if not asking:
        allowed = ", ".join(kinds)
        raise JobError((Mistake(field="KIND", found="nothing", allowed=allowed),))
    kind: str = click.prompt("Kind of bay", type=click.Choice(kinds), err=True)
    return kind


def _asked_unit() -> Unit:
    unit: Unit = click.prompt("Unit", type=click.Choice(["mm", "in"]), default="mm", err=True)
    return unit


def _asked(known: dict[str, str | None], unit: Unit) -> dict[str, str]:
    """Ask for what was not given; an empty answer leaves the starter's invented reading."""
    click.echo("Press enter where you have no reading yet.", err=True)
    answers: dict[str, str] = {}
    for name, value in known.items():
        if value is None:
            what = name.replace("_", " ")
            unit_note = "" if name in {"title", "client"} else f" ({unit})"
            answer = click.prompt(f"{what}{unit_note}", default="", show_default=False, err=True)
            if answer.strip():
                answers[name] = answer.strip()
    return answers
