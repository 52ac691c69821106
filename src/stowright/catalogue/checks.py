"""What must hold between the cells of a row and between tables."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final

from stowright.catalogue.cells import nearest
from stowright.catalogue.overlay import Shelf
from stowright.catalogue.rows import Notes, Row

__all__ = ["check_shelf"]

#: Plies are written to 0.01 mm; their sum may differ from the mean thickness by this. [mm]
_LAYUP_PLAY: Final = 0.05


def check_shelf(shelf: Shelf, rows: Iterable[Row], notes: Notes) -> None:
    """Note what does not hold in the given rows, which are complete rows of the shelf."""
    for row in rows:
        check = _CHECKS.get(row.table.key)
        if check is not None:
            check(row, shelf, notes)


def _check_material(row: Row, _: Shelf, notes: Notes) -> None:
    cells = row.cells
    least, most = cells["nominal"] - cells["thinner"], cells["nominal"] + cells["thicker"]
    if not least > 0.0:
        notes.add(f"{row.path}.thinner", f"{cells['thinner']:g}", "less than nominal")
    elif not least <= cells["thickness"] <= most:
        notes.add(
            f"{row.path}.thickness",
            f"{cells['thickness']:g}",
            f"within the tolerance, {least:g} to {most:g}",
        )
    layup = cells.get("layup", ())
    if not layup:
        return
    if len(layup) != cells["plies"]:
        notes.add(f"{row.path}.layup", f"{len(layup)} plies", f"{cells['plies']} as in plies")
    if not abs(sum(layup) - cells["thickness"]) <= _LAYUP_PLAY:
        notes.add(
            f"{row.path}.layup",
            f"plies that sum to {sum(layup):g}",
            f"the thickness, {cells['thickness']:g}",
        )


def _check_stock_size(row: Row, shelf: Shelf, notes: Notes) -> None:
    materials = shelf.get("materials", {})
    known = (*dict.fromkeys(m.cells.get("family", "") for m in materials.values()), *materials)
    _check_known(row, "material", known, "a family or a material of the catalogue", notes)


def _check_runner(row: Row, shelf: Shelf, notes: Notes) -> None:
    _check_known(row, "screw", tuple(shelf.get("screws", {})), "a screw of the catalogue", notes)
    space: dict[str, Any] = row.cells["side_space"]
    if not row.cells["thickness"] <= space["least"] <= space["aim"] <= space["most"]:
        found = ", ".join(f"{key} {space[key]:g}" for key in ("least", "aim", "most"))
        notes.add(f"{row.path}.side_space", found, "thickness <= least <= aim <= most")


def _check_screw(row: Row, _: Shelf, notes: Notes) -> None:
    for column, limit in (("root", "diameter"), ("thread", "length")):
        if not row.cells[column] <= row.cells[limit]:
            notes.add(
                f"{row.path}.{column}",
                f"{row.cells[column]:g}",
                f"at most the {limit}, {row.cells[limit]:g}",
            )


def _check_nut(row: Row, _: Shelf, notes: Notes) -> None:
    grip = row.cells.get("grip")
    if row.cells["kind"] == "rivet" and grip is None:
        notes.add(f"{row.path}.grip", "nothing", "least and greatest grip of the rivet nut")
    elif grip is not None and not grip[0] < grip[1]:
        notes.add(f"{row.path}.grip", f"{grip[0]:g}, {grip[1]:g}", "the least grip first")


def _check_washer(row: Row, _: Shelf, notes: Notes) -> None:
    if not row.cells["hole"] < row.cells["outside"]:
        notes.add(f"{row.path}.hole", f"{row.cells['hole']:g}", "less than the outside")


def _check_known(row: Row, column: str, known: tuple[str, ...], what: str, notes: Notes) -> None:
    name = row.cells[column]
    if name not in known:
        notes.add(f"{row.path}.{column}", repr(name), what, near=nearest(name, known))


_CHECKS: Final[dict[str, Callable[[Row, Shelf, Notes], None]]] = {
    "materials": _check_material,
    "stock_sizes": _check_stock_size,
    "runners": _check_runner,
    "screws": _check_screw,
    "nuts": _check_nut,
    "washers": _check_washer,
}
