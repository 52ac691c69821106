"""Sums of tab-and-slot joints: blanks over their tabs, widths of slots; what is told of them.

The width of a slot is a sum like any other fitted size, so that a new caliper reading can be seen
to change it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.design.context import Context
from stowright.design.pieces import JointDraft, Piece
from stowright.design.sums import line, stated
from stowright.design.tab_joints import FIT_ALLOWANCE, allowance_of, builds_with_tabs
from stowright.design.tab_shapes import reaches
from stowright.model.design import Sum, SumLine
from stowright.model.job import Assumption, Build, Job
from stowright.units import in_job_unit

__all__ = ["tab_assumed", "tab_sums", "tab_warnings"]


def tab_sums(context: Context, pieces: Iterable[Piece]) -> tuple[Sum, ...]:
    """Return the sums of pieces with tabs, from shoulder to shoulder as they still are."""
    found: dict[str, Sum] = {}
    for piece in pieces:
        for row in _of(context, piece) if piece.tabs else ():
            found.setdefault(row.size_of, row)
    return tuple(found.values())


def _of(context: Context, piece: Piece) -> Iterator[Sum]:
    where = piece.opening or f"{piece.block} {piece.module}".strip()
    u0, u1, v0, v1 = reaches(piece.tabs)
    for word, size, ends in (("length", piece.length, (u0, u1)), ("width", piece.width, (v0, v1))):
        if any(ends):
            yield stated(
                f"{where}: {piece.name}, {word} over its tabs",
                line("between the shoulders", size),
                *(line("tabs", end) for end in ends if end),
            )
    sheet = context.thickness(piece.material)
    allowance = allowance_of(_build_of(context.job, piece))
    yield stated(
        f"{where}: slot for {piece.material}, width",
        line("thickness", piece.thickness),
        *_over(max(sheet.t_max - piece.thickness, 0.0), measured=sheet.source != "catalogue"),
        line("fit allowance", allowance),
    )


def _over(by: float, *, measured: bool) -> Iterator[SumLine]:
    if by > 0.0:
        what = "thickest reading over it" if measured else "most that EN 315 allows over it"
        yield line(what, by)


def _build_of(job: Job, piece: Piece) -> Build:
    """Return the materials and methods that a piece was made with."""
    for block in job.blocks:
        if block.name == piece.block:
            for column in block.columns:
                for fill in column.stack:
                    if fill.name == piece.opening:
                        return fill.build
            return block.build
    return job.build


def tab_assumed(job: Job) -> tuple[Assumption, ...]:
    """Return the defaults that tab-and-slot joints took; none in a job without them."""
    asked = builds_with_tabs(job)
    if not asked:
        return ()
    found = []
    if any(build.slots is None for build in asked):
        why = "a through slot can be looked into and glued from outside (common practice)"
        found.append(Assumption(field="build.slots", value="through", why=why))
    if any(build.fit_allowance is None for build in asked):
        why = "a tab that is tapped home by hand, over the thickest reading (judgement)"
        value = in_job_unit(f"{FIT_ALLOWANCE:g} mm", job.units)
        found.append(Assumption(field="build.fit_allowance", value=value, why=why))
    return tuple(found)


def tab_warnings(drafts: Iterable[JointDraft]) -> tuple[str, ...]:
    """Return a line for each thing that keeps joints from having tabs, with how many it keeps."""
    rows: dict[str, list[str]] = {}
    for draft in drafts:
        if draft.note:
            rows.setdefault(draft.note, []).append(draft.purpose)
    return tuple(
        f"tab-and-slot: {why}, so {_listed(where)} is a butt joint, glued and screwed"
        for why, where in rows.items()
    )


def _listed(where: list[str]) -> str:
    names = list(dict.fromkeys(where))
    others = f" (and {len(where) - 1} more like it)" if len(where) > 1 else ""
    return f"{names[0]}{others}"
