"""Which sheets a part may be made of: the family that the job names, thinner and thicker."""

from __future__ import annotations

from stowright.model.catalogue import Catalogue
from stowright.model.job import Build

__all__ = ["SHEETS", "sheet_questions", "thicker"]

#: Parts whose sheet is chosen, and the nominal thicknesses that are looked at (common practice).
SHEETS: tuple[tuple[str, tuple[int, ...]], ...] = (
    ("carcass", (12, 15, 18)),
    ("drawer", (9, 12, 15)),
    ("drawer_bottom", (6, 9, 12, 15)),
    ("front_sheet", (12, 15, 18)),
    ("deck_sheet", (15, 18, 21, 24)),
)


def sheet_questions(build: Build, catalogue: Catalogue) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the sheets to choose from for each part; what the job names comes first."""
    known = {row.name for row in catalogue.materials}
    found = []
    for key, thick in SHEETS:
        asked = getattr(build, key)
        family = asked.rpartition("-")[0]
        others = [f"{family}-{t}" for t in thick if f"{family}-{t}" in known]
        found.append((key, tuple(dict.fromkeys((asked, *others)))))
    return tuple(found)


def thicker(names: tuple[str, ...], now: str, catalogue: Catalogue) -> str | None:
    """Return the next thicker sheet of a list, or None."""
    mine = catalogue.material(now).thickness
    more = [(catalogue.material(n).thickness, n) for n in names]
    above = sorted(pair for pair in more if pair[0] > mine)
    return above[0][1] if above else None
