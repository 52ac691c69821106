"""What the checks of cut parts share: whose parts are meant, what they were, what mends one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from stowright.explore.build_record import stem_of
from stowright.model.design import Design, OpeningDesign
from stowright.model.part import Part, PlacedPart
from stowright.model.refit import FrozenPart, NoLonger

__all__ = ["BOTTOMS", "ENDS", "mend", "name_of", "own_of", "planned_of", "use_of"]

ENDS = frozenset({"drawer-inner-front", "drawer-inner-back", "tray-rail"})
BOTTOMS = frozenset({"drawer-bottom", "tray-base"})


def own_of(
    design: Design, opening: OpeningDesign, cut: Mapping[str, FrozenPart], roles: Collection[str]
) -> list[tuple[str, FrozenPart]]:
    """Return an opening's cut parts of some roles, with their roles, a row each piece."""
    return [
        (p.role, cut[p.id])
        for p in design.placed
        if p.opening == opening.name and p.id in cut and p.role in roles
    ]


def planned_of(design: Design, mark: str) -> Part:
    """Return the part of a mark as planned, also of one that was told apart since."""
    known = {part.mark: part for part in design.parts}
    return known[stem_of(mark, known)]


def name_of(design: Design, mark: str) -> str:
    """Return what a part is called."""
    return planned_of(design, mark).name


def use_of(pieces: Iterable[PlacedPart]) -> str:
    """Return the openings or modules that pieces go into, in words; empty when there is none."""
    return " and ".join(sorted({piece.opening or piece.module for piece in pieces} - {""}))


def mend(row: FrozenPart, name: str, size: tuple[float, float], why: str, way: str) -> NoLonger:
    """Return a cut part that no longer serves: cut down to a size, or cut new in it."""
    area = size[0] * size[1]
    said = f"{size[0]:g} x {size[1]:g} mm"
    if way == "trim":
        words = f"{row.mark} {name} no longer serves: {why}; cut it down to {said}, no new part"
        return NoLonger(
            mark=row.mark, pieces=row.pieces, name=name, why=why, way="trim", size=size,
            source=row.mark, new_parts=0, new_area=0.0, words=words,
        )  # fmt: skip
    words = f"{row.mark} {name} no longer serves: {why}; cut it new, {said}"
    return NoLonger(
        mark=row.mark, pieces=row.pieces, name=name, why=why, way="recut", size=size,
        source="", new_parts=len(row.pieces), new_area=area * len(row.pieces), words=words,
    )  # fmt: skip
