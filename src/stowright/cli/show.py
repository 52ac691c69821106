"""Plans as short plain tables for a terminal."""

from __future__ import annotations

import sys
from collections import Counter
from textwrap import wrap
from typing import TYPE_CHECKING

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from stowright.app.proof_sheet import count_lines, proof_sheet
from stowright.units import Unit, format_length, format_mass, in_job_unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stowright.model.design import Design, OpeningDesign
    from stowright.model.finding import Finding
    from stowright.model.layout import CuttingPlan

__all__ = [
    "say",
    "show_cutting",
    "show_design",
    "show_findings",
    "show_parts",
    "show_ranked",
    "show_sheet",
    "show_table",
    "show_warnings",
]

#: Width of the tables where the output is no terminal. [characters]
_WIDTH = 120
#: Width of the labels of a calculation sheet. [characters]
_LABEL = 18


def show_table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Print a plain table; columns whose head starts with ``>`` are set to the right."""
    table = Table(title=title, box=SIMPLE_HEAD, title_justify="left", title_style="bold")
    for head in heads:
        table.add_column(
            head.lstrip(">"),
            justify="right" if head.startswith(">") else "left",
            no_wrap=head.startswith(">"),
            overflow="fold",
        )
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    _console().print(table)


def show_design(design: Design) -> None:
    """Print the openings and what each drawer comes to."""
    units = design.job.units
    openings = [opening for block in design.blocks for opening in block.openings]
    heads = ("opening", "fill", f">clear ({units})", f">box ({units})", "runner", ">litres", ">kg")
    show_table(design.job.title, heads, [_opening_row(opening, units) for opening in openings])
    mass = f"{format_mass(design.empty_kg)} empty, {format_mass(design.contents_kg)} of contents"
    pieces = sum(part.quantity for part in design.parts)
    say(f"{len(design.parts)} different parts, {pieces} pieces; {mass}.")


def _opening_row(opening: OpeningDesign, units: Unit) -> tuple[str, ...]:
    box = opening.box
    runner = opening.runner
    return (
        opening.name,
        opening.fill,
        _sizes((opening.width, opening.height, opening.depth), units),
        "" if box is None else _sizes((box.width, box.height, box.length), units),
        "" if runner is None else f"{runner.runner.name} {format_length(runner.size.length)}",
        f"{opening.usable.litres:.0f}",
        f"{opening.gross_kg:.1f}",
    )


def _sizes(sizes: Iterable[float], units: Unit) -> str:
    return " × ".join(format_length(size, units) for size in sizes)


def show_parts(design: Design) -> None:
    """Print the parts to cut."""
    units = design.job.units
    rows = [
        (
            part.mark,
            part.name,
            part.block,
            part.material,
            format_length(part.length, units),
            format_length(part.width, units),
            str(part.quantity),
            part.release,
        )
        for part in design.parts
    ]
    heads = ("mark", "part", "block", "material", f">length ({units})", f">width ({units})")
    show_table("Parts", (*heads, ">pieces", "release"), rows)


def show_findings(findings: Sequence[Finding]) -> None:
    """Print how many proofs stand how, and each that does not pass."""
    counts = Counter(found.status for found in findings)
    words = ", ".join(f"{counts[s]} {s}" for s in ("pass", "warn", "fail", "not proved"))
    shown = [found for found in findings if found.status != "pass"]
    if shown:
        heads = ("proof", "about", "status", ">demand", ">capacity", "")
        show_table("Proofs", heads, [_finding_row(found) for found in shown])
    say(f"Proofs: {words}.")


def show_ranked(findings: Sequence[Finding]) -> None:
    """Print every proof by its id, worst first, and how many there are of each kind."""
    rows = [
        (
            str(number),
            found.id,
            found.shown,
            "" if found.utilisation is None else f"{found.utilisation:.2f}",
            _mend(found) or found.title,
        )
        for number, found in enumerate(findings, start=1)
    ]
    heads = (">no.", "proof", "status", ">used", "what it is, or what would mend it")
    show_table("Proofs, worst first", heads, rows)
    by_status, by_standing = count_lines(findings)
    say(f"{len(findings)} proofs: {by_status}.")
    say(f"By the weakest input: {by_standing}.")
    say("One proof with its full working: --why with its id.")


def show_sheet(finding: Finding, design: Design) -> None:
    """Print one proof as a calculation sheet."""
    for label, lines in proof_sheet(finding, design):
        for number, line in enumerate(lines):
            wrapped = wrap(line, _WIDTH - _LABEL) or [""]
            for part, text in enumerate(wrapped):
                head = label if number == part == 0 else ""
                say(f"{head:<{_LABEL}}{text}")
    say("")


def _finding_row(found: Finding) -> tuple[str, ...]:
    figures = [
        "" if value is None else f"{value:.4g} {found.unit}"
        for value in (found.demand, found.capacity)
    ]
    return (found.title, found.about, found.shown, *figures, _mend(found))


def _mend(found: Finding) -> str:
    """Return what a proof lacks, else its first advice."""
    needs = f"needs {', '.join(found.needs)}" if found.needs else ""
    return needs or next(iter(found.advice), "")


def show_cutting(cutting: CuttingPlan, units: Unit = "mm") -> None:
    """Print which sheets are cut and how good the layout is, lengths in the job's unit."""
    rows = [
        (
            use.material,
            use.name or use.sheet,
            _sizes((use.length, use.width), units),
            str(use.used),
            use.origin,
        )
        for use in cutting.stock
    ]
    show_table("Sheets", ("material", "sheet", f">size ({units})", ">sheets", "from"), rows)
    sheets = f"{cutting.sheets} sheet{'' if cutting.sheets == 1 else 's'}{_to_buy(cutting)}"
    if cutting.method == "cnc":
        say(f"{sheets}, routed.")
    else:
        lines = f"{cutting.saw_lines} saw lines at {cutting.settings} settings"
        metres = f"{cutting.cut_metres:.1f} m of cut"
        trims = f"; {cutting.trim_metres:.1f} m of edges trimmed" if cutting.trim_metres else ""
        say(f"{sheets}, {lines}, {metres}{trims}.")
    for line in cutting.bound_reason.splitlines():
        say(in_job_unit(line, units))
    for result in cutting.materials:
        if result.release_b:
            say(result.release_b)
        if result.stopped:
            say(f"{result.material}: the search was ended early; more time may find better")
    say(_where_it_went(cutting))
    say(_offcuts(cutting, units))


def _to_buy(cutting: CuttingPlan) -> str:
    """Say what the sheets to buy cost together; nothing where no price is known."""
    bought = [use for use in cutting.stock if use.origin == "buy"]
    known = [use.price * use.used for use in bought if use.price is not None]
    if not known:
        return ""
    others = sum(use.used for use in bought if use.price is None)
    without = f", {others} without a price" if others else ""
    return f" ({sum(known):.2f} to buy{without})"


def _where_it_went(cutting: CuttingPlan) -> str:
    """Say where the area of the sheets went."""
    areas = {
        "parts": cutting.part_area,
        "kerf": cutting.kerf_area,
        "trim": cutting.trim_area,
        "offcuts": cutting.offcut_area,
        "scrap": cutting.scrap_area,
    }
    whole = sum(areas.values())
    shares = [f"{name} {area:.2f} ({area / whole:.1%})" for name, area in areas.items()]
    return f"Of {whole:.2f} m2: {', '.join(shares)}."


def _offcuts(cutting: CuttingPlan, units: Unit) -> str:
    """Name the offcuts worth keeping, largest first."""
    kept = [(layout, o) for layout in cutting.layouts for o in layout.offcuts if o.keep]
    kept.sort(key=lambda entry: -entry[1].along * entry[1].across)
    names = [
        f"{offcut.name} {_sizes((offcut.along, offcut.across), units)} {units}"
        + (f" ({layout.copies} of them)" if layout.copies > 1 else "")
        for layout, offcut in kept
    ]
    return f"Offcuts to keep: {', '.join(names)}." if names else "No offcut is worth keeping."


def show_warnings(warnings: Iterable[str]) -> None:
    """Print what is odd, on stderr, a line each."""
    console = _console(stderr=True)
    for warning in dict.fromkeys(warnings):
        console.print(Text(f"note: {warning}"), soft_wrap=True)


def say(line: str) -> None:
    """Print a line as it is."""
    _console().print(Text(line), soft_wrap=True)


class _Plain(Console):
    """A console that leaves it to the command what a reader who went away means."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError


def _console(*, stderr: bool = False) -> Console:
    stream = sys.stderr if stderr else sys.stdout
    width = None if stream.isatty() else _WIDTH
    return _Plain(file=stream, width=width, highlight=False)
