"""What is known of one piece of the unit: its size, mark and the sums that it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.units import format_length

if TYPE_CHECKING:
    from stowright.model.design import Design, Sum
    from stowright.model.part import PlacedPart

__all__ = ["PartFacts", "SumFacts", "part_facts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SumFacts:
    """A wall sum as it is printed: its lines, the last one what comes out."""

    size_of: str
    lines: tuple[tuple[str, str], ...]
    result: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFacts:
    """A piece, as it is printed."""

    mark: str
    name: str
    rows: tuple[tuple[str, str], ...]
    sums: tuple[SumFacts, ...]


def part_facts(design: Design, piece: str) -> PartFacts | None:
    """Return what is known of a placed piece; None when there is none of that name."""
    placed = next((each for each in design.placed if each.id == piece), None)
    if placed is None:
        return None
    part, units = design.part(placed.mark), design.job.units

    def shown(mm: float) -> str:
        return format_length(mm, units, with_unit=True)

    grain = "along the length" if part.grain == "long" else "free"
    rows = (
        ("Size", f"{shown(part.length)} × {shown(part.width)} × {shown(part.thickness)}"),
        ("Material", part.material),
        ("Grain", grain),
        ("Pieces", str(part.quantity)),
        ("Mass", f"{part.mass_kg:.2f} kg"),
        ("Where", ", ".join(filter(None, (placed.block, placed.module, placed.opening)))),
    )
    sums = tuple(_sum(each, shown) for each in design.sums if _speaks_of(each, placed))
    return PartFacts(mark=part.mark, name=part.name, rows=rows, sums=sums)


def _speaks_of(each: Sum, placed: PlacedPart) -> bool:
    about = each.size_of.partition(":")[0]
    names = {placed.opening, f"{placed.block} {placed.module}"} - {""}
    if placed.role in {"deck", "wing", "wing-lid"}:
        names |= {placed.id.partition("/")[0], placed.block, f"{placed.block} wing"}
    return about in names or (about.startswith(f"{placed.block} wing, ") and "wing" in placed.role)


def _sum(each: Sum, shown: object) -> SumFacts:
    return SumFacts(
        size_of=each.size_of,
        lines=tuple((line.what, _said(shown, line.value)) for line in each.lines),
        result=_said(shown, each.result),
    )


def _said(shown: object, value: float) -> str:
    return str(shown(value)) if callable(shown) else str(value)
